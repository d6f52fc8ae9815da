//! A job without a fault, and what is told once one thing in it is written otherwise.

use super::{changed, file, pithward, refused};

/// A job without a fault.
pub(crate) const SOUND: &str = r#"site = "a yard"
date = "in May"

[mill]
name = "a mill"
kerf = "0.1 in"
step = "1/16 in"
largest_diameter = "32 in"
longest = "20 ft"
shortest = "4 ft"
widest_cut = "26 in"
deepest_above = "14 in"
lowest_blade = "1 in"
toe_board = "8 ft"

[sawing]
sizes = "full"
trim = "2 in"
lengths = "8/10/12"
tolerance = "1/16 in"
methods = ["two-sided", "boxed"]

[bucking]
chain_kerf = "3/8 in"
log_lengths = "8 / 10 / 12"
shortest = "6 ft"
longest = "16 ft"

[worth]
unit = "dollars"
board_foot = 0.60
hour = 45
pass_seconds = 60
turn_seconds = 90

[[logs]]
id = "oak 1"
species = "white oak"
small_end = ["14 in", "15 in"]
butt = "16 1/2 in"
length = "12 ft 4 in"
bark = "5/8 in"
over_bark = false
notes = "from the lane"

[[logs]]
id = "pine 2"
species = "eastern white pine"
small_end = "12 in"
butt = "13 in"
length = "12 ft 4 in"
count = 2

[[logs]]
id = "maple 3"
species = "hard maple"
small_end = ["17 in", "18 in"]
long_axis = "2:30"
butt = ["20 in", "19 in"]
long_axis_butt = "3 o'clock"
length = "11 ft 4 in"
sweep = { depth = "2 1/4 in", toward = "6 o'clock", at = "7 ft" }
crook = "3/4 in toward 9 at 4 ft"
pith_small = { off = "1 1/8 in", toward = "4 o'clock" }
pith_butt = "1 1/4 in toward 5"
flare = "4 1/2 in over 18 1/2 in"
flaws = [
    { kind = "rot", radius = "2 1/2 in", from = "butt", length = "3 ft" },
    { kind = "metal", toward = "8 o'clock", depth = "3 1/2 in", wide = "6 1/2 in", from = "butt", to = "5 ft" },
    "shake inner 3 in outer 4 in",
]

[[stems]]
id = "stem 4"
small_end = "11 in"
butt = "19 1/2 in"
length = "40 ft"
cut_out = ["24 ft to 26 ft"]

[[wants]]
size = "2x8x12"
count = 6
heart = "boxed"
centred = "7/8 in"
tolerates = ["stain", "split"]
wane = "1/2 in"
species = ["white oak", "eastern white pine"]
worth = "9.50 each"
extra = "welcome"

[[wants]]
size = "1x6"
blocking = false
"#;

/// One fault: `from` of the sound job is written as `to`. It is told on the line of `to`, at the column at
/// which `at` begins there; `said` is all else that must stand in the message.
#[track_caller]
pub(crate) fn check(name: &str, from: &str, to: &str, at: &str, said: &[&str]) {
    let (text, line, column) = changed(SOUND, from, to, at);
    let path = file(&format!("job-{name}.toml"), text.as_bytes());
    let place = format!("job-{name}.toml:{line}:{column}");
    for command in ["check", "plan"] {
        let said = [said, &[place.as_str(), "help: "]].concat();
        let stderr = refused(&pithward(&[command, &path]), &said);
        assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
        // The line itself stands there as well, so that nobody has to open the file to see it.
        let mut lines = text.lines().skip(line - 1);
        assert!(lines.next().is_some_and(|line| stderr.contains(line)), "{stderr}");
    }
}

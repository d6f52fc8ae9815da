//! Faults of a job file: each is told with its file, line and column, its field, what was written and
//! what would be right; the command ends with 2 and plans nothing.

mod common;

use common::{changed, file, pithward, printed, refused};

/// A job without a fault.
const SOUND: &str = r#"site = "a yard"
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
fn check(name: &str, from: &str, to: &str, at: &str, said: &[&str]) {
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

#[test]
fn the_sound_job_is_sound() {
    let path = file("job-sound.toml", SOUND.as_bytes());
    let said = printed(&pithward(&["check", &path]));
    assert!(said.contains("white oak") && said.contains("2x8x12"), "{said}");
}

#[test]
fn fields_that_are_none() {
    check(
        "site",
        "site =",
        "sit =",
        "sit",
        &["\"sit\" is no field of a job file", "perhaps site?"],
    );
    check("section", "[sawing]", "[sawings]", "sawings", &["is no field", "perhaps sawing?"]);
    // What is missing is told as well: the slip may be elsewhere.
    let text = SOUND.replace("kerf =", "kurf =");
    let output = pithward(&["check", &file("job-kerf-name.toml", text.as_bytes())]);
    refused(
        &output,
        &[
            "\"kurf\" is no field of [mill]; perhaps kerf?",
            "toml:6:1",
            "kerf: missing from [mill]",
            "toml:4:1",
        ],
    );
    check("log-field", "notes = \"from", "note = \"from", "note", &["perhaps notes?"]);
    check("want-field", "extra =", "extras =", "extras", &["perhaps extra?"]);
    check("worth-field", "hour =", "hours =", "hours", &["perhaps hour?"]);
    check("sawing-field", "trim =", "trimm =", "trimm", &["perhaps trim?"]);
}

#[test]
fn lengths_that_are_none() {
    check(
        "bare",
        "small_end = \"12 in\"",
        "small_end = 12",
        "12",
        &["small_end", "no unit", "\"12 in\""],
    );
    check(
        "bare-text",
        "butt = \"13 in\"",
        "butt = \"13\"",
        "\"13\"",
        &["butt", "\"13\" has no unit"],
    );
    check("unit", "bark = \"5/8 in\"", "bark = \"5/8 fot\"", "fot", &["bark", "is no unit"]);
    check(
        "comma",
        "trim = \"2 in\"",
        "trim = \"2,5 in\"",
        ",",
        &["trim", "comma", "decimal point"],
    );
    check("empty", "butt = \"16 1/2 in\"", "butt = \"\"", "\"\"", &["butt", "is missing"]);
    check("list", "butt = \"16 1/2 in\"", "butt = { a = 1 }", "{", &["butt", "must be"]);
    check(
        "date",
        "butt = \"13 in\"",
        "butt = 1979-05-27",
        "-05-27",
        &["butt", "\"1979-05-27\" is not a length"],
    );
    check("escape", "bark = \"5/8 in\"", "bark = \"5/8 f\\u006Ft\"", "\"", &["bark", "5/8 fot"]);
}

#[test]
fn lengths_that_no_log_has() {
    let sizes = &["small_end", "must be between 1 in and 120 in", "\"900 in\""];
    check("thick", "small_end = \"12 in\"", "small_end = \"900 in\"", "\"900", sizes);
    check(
        "thin",
        "butt = \"13 in\"",
        "butt = \"-1 in\"",
        "\"-1",
        &["butt", "between", "\"-1 in\""],
    );
    let swapped = &["the butt, \"11 in\", is smaller than the small end, \"12 in\"", "swap"];
    check("swapped", "butt = \"13 in\"", "butt = \"11 in\"", "\"11 in\"", swapped);
    let three = "small_end = [\"14 in\", \"15 in\", \"14 in\"]";
    let twice = &["small_end", "3 diameters", "once or twice"];
    check("three", "small_end = [\"14 in\", \"15 in\"]", three, "[", twice);
    check("none", "small_end = [\"14 in\", \"15 in\"]", "small_end = []", "[", &["small_end"]);
    check(
        "second",
        "[\"14 in\", \"15 in\"]",
        "[\"14 in\", \"15 fot\"]",
        "fot",
        &["small_end", "\"fot\""],
    );
    check(
        "bark-range",
        "bark = \"5/8 in\"",
        "bark = \"9 in\"",
        "\"9 in\"",
        &["bark", "between 0 in and 4 in"],
    );
    check(
        "short",
        "shortest = \"4 ft\"",
        "shortest = \"30 ft\"",
        "\"30",
        &["shortest", "longest", "20 ft", "30 ft"],
    );
}

#[test]
fn shapes_that_no_log_has() {
    let check_one = |name: &str, from: &str, to: &str, at: &str, said: &[&str]| {
        check(&format!("shape-{name}"), from, to, at, said);
    };
    check_one(
        "clock",
        "\"2:30\"",
        "\"2:75\"",
        "\"2:75",
        &["long_axis", "\"2:75\" is no direction"],
    );
    let one = "small_end = \"17 in\"";
    let text = SOUND.replace("small_end = [\"17 in\", \"18 in\"]", one);
    let text = text.replace("butt = [\"20 in\", \"19 in\"]", "butt = \"20 in\"");
    let output = pithward(&["check", &file("job-shape-axis.toml", text.as_bytes())]);
    refused(&output, &["neither end has two", "the butt has only one", "2 faults"]);
    check_one(
        "bow",
        "\"2 1/4 in\"",
        "\"30 in\"",
        "\"30 in",
        &["depth", "between 0 in and 17 1/2 in"],
    );
    check_one("bow-part", "at = \"7 ft\"", "att = \"7 ft\"", "att", &["is no field of a sweep"]);
    check_one(
        "bow-place",
        "\"7 ft\"",
        "\"17 ft\"",
        "\"17 ft",
        &["at must be between 0 in and 136 in"],
    );
    check_one("bend", "9 at 4 ft", "9 at 4 fot", "fot", &["crook", "\"fot\" is no unit"]);
    check_one(
        "pith",
        "\"1 1/8 in\"",
        "\"9 in\"",
        "\"9 in",
        &["off must be between 0 in and 8 3/8 in"],
    );
    check_one(
        "pith-toward",
        "\"1 1/4 in toward 5\"",
        "\"1 1/4 in\"",
        "\"1 1/4 in",
        &["pith_butt has no toward"],
    );
    check_one("flare", "18 1/2 in", "18", "18", &["flare: \"18\" has no unit"]);
    check_one("kind", "kind = \"rot\"", "kind = \"rott\"", "\"rott", &["perhaps rot?"]);
    check_one("radius", "\"2 1/2 in\"", "\"20 in\"", "\"20 in", &["radius must be between"]);
    let stretch = "{ kind = \"rot\", radius = \"2 1/2 in\", from = \"butt\", length = \"3 ft\" }";
    check_one(
        "stretch",
        stretch,
        "{ kind = \"rot\", radius = \"2 1/2 in\", from = \"butt\" }",
        "{",
        &["flaws has no to"],
    );
    check_one(
        "far",
        "to = \"5 ft\"",
        "to = \"15 ft\"",
        "\"15 ft",
        &["to must be between 0 in and 136 in"],
    );
    check_one("wide", "\"6 1/2 in\"", "\"half\"", "half", &["wide", "\"half\" is no number"]);
    check_one(
        "stray",
        "outer 4 in",
        "outer 4 in depth 2 in",
        "2 in",
        &["depth says nothing of a shake"],
    );
    check_one(
        "both",
        "\"shake inner",
        "\"shake radius 5 in inner",
        "\"shake",
        &["both radius and inner"],
    );
    check_one(
        "cut",
        "24 ft to 26 ft",
        "24 ft to 46 ft",
        "46 ft",
        &["cut_out must be between 0 in and 40 ft"],
    );
    check_one(
        "stem",
        "\"19 1/2 in\"",
        "\"9 1/2 in\"",
        "\"9 1/2",
        &["smaller than the small end", "\"11 in\""],
    );
    check_one(
        "chain",
        "chain_kerf = \"3/8 in\"",
        "chain_kerf = \"3 in\"",
        "\"3 in",
        &["chain_kerf must be between"],
    );
    check_one(
        "bucked",
        "log_lengths = \"8 / 10 / 12\"",
        "log_lengths = \"8/18\"",
        "\"8/18",
        &["log_lengths must be between"],
    );
    check_one(
        "longest",
        "shortest = \"6 ft\"",
        "shortest = \"18 ft\"",
        "\"18 ft",
        &["shortest must not be more than longest"],
    );
    check_one(
        "toe",
        "toe_board = \"8 ft\"",
        "toe_board = \"28 ft\"",
        "\"28 ft",
        &["toe_board must not be more than longest"],
    );
    check_one(
        "heart",
        "heart = \"boxed\"",
        "heart = \"boxd\"",
        "\"boxd",
        &["rule on the heart", "perhaps boxed?"],
    );
    let free = "heart = \"free\"\ncentred = \"7/8 in\"";
    check_one(
        "free",
        "heart = \"boxed\"\ncentred = \"7/8 in\"",
        free,
        "\"7/8 in",
        &["centred is only for boxed heart"],
    );
    check_one(
        "tolerates",
        "[\"stain\", \"split\"]",
        "[\"stain\", \"metal\"]",
        "metal",
        &["is tolerated in no piece"],
    );
}

#[test]
fn what_logs_are_called_and_are() {
    // The two pines are called pine 2-1 and pine 2-2.
    let same = &["id", "\"pine 2-1\" is called the same as the log on line 37", "job-same.toml"];
    let text = SOUND.replace("\"oak 1\"", "\"pine 2-1\"");
    let output = pithward(&["check", &file("job-same.toml", text.as_bytes())]);
    refused(&output, &[&same[..], &["job-same.toml:47:6", "help: "]].concat());
    check(
        "long-id",
        "\"pine 2\"",
        "\"a log with a long name\"",
        "\"a log",
        &["id", "12 characters"],
    );
    check("empty-id", "\"pine 2\"", "\"\"", "\"\"", &["id", "1 to"]);
    check("control-id", "\"pine 2\"", "\"a\\u001b[31m\"", "\"a", &["id", "12 characters"]);
    let species = &["species", "no species is named \"eastern whit pin\"", "Pine, eastern white"];
    check(
        "species",
        "species = \"eastern white pine\"",
        "species = \"eastern whit pin\"",
        "\"eastern",
        species,
    );
    check(
        "number-species",
        "species = \"eastern white pine\"",
        "species = 7",
        "7",
        &["species", "must be"],
    );
    check(
        "flag",
        "over_bark = false",
        "over_bark = \"no\"",
        "\"no\"",
        &["over_bark", "true or false", "\"no\""],
    );
    check("count-0", "count = 2", "count = 0", "0", &["count", "whole number", "\"0\""]);
    check(
        "count-text",
        "count = 2",
        "count = \"two\"",
        "\"two\"",
        &["count", "whole number", "two"],
    );
    check("count-half", "count = 2", "count = 2.5", "2.5", &["count", "whole number", "2.5"]);
    check("notes", "\"from the lane\"", "\"\\u0007\"", "\"", &["notes", "cannot be printed"]);
    // What is not there is told of the heading that it should be under.
    let text = SOUND.replace("length = \"12 ft 4 in\"\nbark", "bark");
    let output = pithward(&["check", &file("job-missing.toml", text.as_bytes())]);
    refused(&output, &["length is missing", "job-missing.toml:36:1", "[[logs]]", "help: "]);
}

#[test]
fn wants_that_are_none() {
    check("size", "\"2x8x12\"", "\"2x\"", "2x", &["size", "no width"]);
    check("size-unit", "\"1x6\"", "\"1x6 fot\"", "fot", &["size", "\"fot\" is no unit"]);
    check("size-number", "\"1x6\"", "6", "6", &["size", "must be"]);
    check("size-count", "\"1x6\"", "\"1x6=4\"", "=", &["size", "count"]);
    check(
        "count-many",
        "count = 6",
        "count = 1000000",
        "1000000",
        &["count", "between 1 and 10000"],
    );
    check("wane", "\"1/2 in\"", "\"2/3\"", "2/3", &["wane", "under half"]);
    check(
        "wane-none",
        "\"1/2 in\"",
        "\"some\"",
        "some",
        &["wane", "\"some\" is no number", "1/2 in", "1/3"],
    );
    check(
        "wood",
        "\"white oak\", \"eastern",
        "\"wite ok\", \"eastern",
        "\"wite ok\"",
        &["species", "\"wite ok\""],
    );
    check(
        "lengths",
        "count = 6",
        "count = 6\nlengths = \"8/10\"",
        "\"8/10\"",
        &["lengths", "has its length already"],
    );
    check("blocking", "blocking = false", "blocking = 0", "0", &["blocking", "true or false"]);
}

#[test]
fn worth_that_is_none() {
    check(
        "worth",
        "\"9.50 each\"",
        "\"9.50\"",
        "\"9.50\"",
        &["worth", "\"9.50\" does not say", "each"],
    );
    check(
        "worth-comma",
        "\"9.50 each\"",
        "\"9,50 each\"",
        "9,50",
        &["worth", "\"9,50\" is no amount"],
    );
    check("worth-below", "\"9.50 each\"", "\"-1 each\"", "-1", &["worth", "between"]);
    check(
        "worth-much",
        "\"9.50 each\"",
        "\"9999999999999999999 each\"",
        "9999",
        &["worth", "between"],
    );
    check(
        "extra",
        "\"welcome\"",
        "\"perhaps\"",
        "\"perhaps\"",
        &["extra", "\"perhaps\"", "welcome"],
    );
    check("extra-more", "\"welcome\"", "\"99 each\"", "\"99 each\"", &["extra", "99", "9.5"]);
    check(
        "extra-alone",
        "blocking = false",
        "extra = \"welcome\"",
        "\"welcome",
        &["extra", "has no count"],
    );
    let text = SOUND.replace("board_foot = 0.60\n", "");
    let output = pithward(&["check", &file("job-unpriced.toml", text.as_bytes())]);
    refused(&output, &["nothing says what", "1x6", "job-unpriced.toml:", "help: "]);
    check("hour", "hour = 45", "hour = \"much\"", "\"much\"", &["hour", "\"much\" is no amount"]);
    check("hour-below", "hour = 45", "hour = -45", "-45", &["hour", "between"]);
    check(
        "seconds",
        "pass_seconds = 60",
        "pass_seconds = -60",
        "-60",
        &["pass_seconds", "whole number"],
    );
    check(
        "seconds-many",
        "turn_seconds = 90",
        "turn_seconds = 90000",
        "90000",
        &["turn_seconds", "between"],
    );
    check("unit-name", "\"dollars\"", "\"\"", "\"\"", &["unit", "1 to"]);
}

#[test]
fn sawing_that_cannot_be() {
    check(
        "policy",
        "\"full\"",
        "\"nominal\"",
        "\"nominal\"",
        &["sizes", "\"nominal\" is no size policy", "dressed"],
    );
    check(
        "method",
        "\"boxed\"]",
        "\"quarter\"]",
        "\"quarter\"",
        &["methods", "\"quarter\" is no method"],
    );
    check("near-method", "\"boxed\"]", "\"boxd\"]", "\"boxd\"", &["methods", "perhaps boxed?"]);
    check(
        "tolerance",
        "tolerance = \"1/16 in\"",
        "tolerance = \"1/64 in\"",
        "\"1/64",
        &["tolerance", "between 1/16 in and 1/2 in"],
    );
    check("sawing-lengths", "\"8/10/12\"", "\"8/10/\"", "\"8/10/\"", &["lengths", "8/10/12"]);
    check(
        "trim-range",
        "trim = \"2 in\"",
        "trim = \"3 ft\"",
        "\"3 ft\"",
        &["trim", "between 0 in and 24 in"],
    );
    check(
        "finished",
        "trim = \"2 in\"",
        "planing = \"1/8 in\"",
        "\"1/8",
        &["planing", "only for finished sizes"],
    );
    check(
        "kerf",
        "\"0.1 in\"",
        "\"-3.2 mm\"",
        "\"-3.2",
        &["kerf must be between 0.5 mm and 20 mm"],
    );
    check("kerf-bare", "\"0.1 in\"", "0.1", "0.1", &["kerf", "no unit"]);
    check(
        "step",
        "step = \"1/16 in\"",
        "step = \"1/10 in\"",
        "\"1/10",
        &["step", "1/8, 1/16, 1/32"],
    );
}

#[test]
fn files_that_are_no_job() {
    let refused_file = |path: &str, said: &[&str]| {
        for command in ["check", "plan"] {
            let stderr = refused(&pithward(&[command, path]), &[said, &["help: "]].concat());
            assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
        }
    };
    refused_file(
        "no-such-job.toml",
        &["JOB: there is no file \"no-such-job.toml\"", "pithward new"],
    );
    refused_file(env!("CARGO_TARGET_TMPDIR"), &["is a directory, not a file"]);
    refused_file(&file("job-empty.toml", b" \n"), &["is empty", "pithward new"]);
    refused_file(
        &file("job-latin.toml", b"site = \"B\xe4r\"\n"),
        &["is not UTF-8", "0xe4 on line 1"],
    );
    refused_file(&file("job-picture.json", &[0x89, b'P', b'N', b'G', 0, 0xff]), &["is not UTF-8"]);
    refused_file(
        &file("job-half.json", b"{ \"site\": \"m\", \"logs\""),
        &["this is not JSON", ":1:"],
    );
    refused_file(&file("job-list.json", b"[1, 2]"), &["this is not JSON"]);
    refused_file(
        &file("job-half.toml", b"site = \"m\"\ndate = \"0.1"),
        &["this is not TOML", ":2:"],
    );
    refused_file(&file("job-huge.toml", &vec![b'#'; 9_000_000]), &["is larger than"]);
    let deep = format!("logs = {}{}", "[".repeat(5000), "]".repeat(5000));
    refused_file(&file("job-deep.toml", deep.as_bytes()), &["this is not TOML"]);
    let deep = format!("{{\"logs\": {}{}}}", "[".repeat(5000), "]".repeat(5000));
    let stderr = refused(
        &pithward(&["check", &file("job-deep.json", deep.as_bytes())]),
        &["logs must be a list, each log below its own [[logs]]", "wants is missing"],
    );
    assert!(stderr.len() < 3000, "{}", stderr.len());
}

//! Hours and blades against published figures: `data/published/sawing_times.csv` has each with its source.
//!
//! None of the sources tells all that the model asks for: diameters, feeds or helpers are missing. What is missing is taken
//! from the middle of what sawyers tell of such mills, and said beside each case. So a figure is held within a spread, and
//! where ours lies outside it is said, and why.

use std::collections::BTreeMap;
use std::path::Path;

use pithward_day::hours::{LogHours, PlannedHours};
use pithward_day::money::Done;
use pithward_job::{PileJob, PlanCounts, parse_job};
use pithward_optimizer::{LogFate, plan_pile};

/// A day's sawing of logs that are alike.
struct Sawn {
    job: PileJob,
    planned: PlannedHours,
    board_feet: f64,
}

impl Sawn {
    fn of(logs: &str, want: &str, more: &str) -> Self {
        let text = format!("[[logs]]\nid = \"L\"\n{logs}\n[[wants]]\n{want}\n{more}\n");
        let parsed = parse_job(text.as_bytes(), "job.toml", "JOB", Path::new(""));
        let job = parsed.unwrap_or_else(|faults| panic!("{faults:#?}"));
        let plan = plan_pile(&job.pile(), &()).unwrap();
        let planned = PlannedHours::of(&job, &plan, Some(480));
        let done = Done::planned(&job, &plan, &planned);
        assert_eq!(done.board_feet(), plan.board_feet);
        assert_eq!(planned.order.len(), job.logs.len());
        #[allow(clippy::cast_precision_loss, reason = "a few thousand board feet")]
        let board_feet = done.board_feet() as f64 / 1e6;
        Self { job, planned, board_feet }
    }

    fn logs(&self) -> f64 {
        f64::from(u32::try_from(self.planned.logs.len()).unwrap())
    }

    /// Board feet for each hour at the logs and changing blades.
    fn board_feet_an_hour(&self) -> f64 {
        self.board_feet * 60.0 / self.planned.hours.at_the_saw()
    }

    /// Steps of the first log without edging.
    fn minutes_without_edging(&self) -> f64 {
        let plan = plan_pile(&self.job.pile(), &()).unwrap();
        let LogFate::Sawn(sawn) = &plan.logs[0] else { panic!("not sawn") };
        let log = &self.job.logs[0];
        let counts = PlanCounts::of(&log.log, log.species, &sawn.order, &sawn.replayed);
        let plain = PlanCounts { of_edging: Vec::new(), batches: 0, ..counts };
        LogHours::of(&plain, &self.job.pace, &self.job.yard).steps.minutes()
    }

    fn minutes_a_log(&self) -> f64 {
        self.planned.hours.at_the_saw() / self.logs()
    }

    /// Cubic metres of logs for each hour at the logs and changing blades.
    fn logs_an_hour(&self) -> f64 {
        let volume: f64 = self.job.logs.iter().map(|log| log.log.volume()).sum();
        volume * 0.0254_f64.powi(3) * 60.0 / self.planned.hours.at_the_saw()
    }
}

fn round(small: i64, butt: i64, feet: i64, count: u32) -> String {
    format!(
        "small_end = \"{small} in\"\nbutt = \"{butt} in\"\nlength = \"{feet} ft\"\ncount = {count}"
    )
}

/// A mill that is fed and turned by hand: the middle of what sawyers tell, common practice, no source.
const BY_HAND: &str = "name = \"by hand\"\nkerf = \"0.1 in\"\nstep = \"1/16 in\"\nlargest_diameter = \"32 in\"\n\
    longest = \"20 ft\"\nshortest = \"4 ft\"\nwidest_cut = \"26 in\"\ndeepest_above = \"14 in\"\nlowest_blade = \"1 in\"\n\
    [mill.pace]\nload = \"6.5 min\"\nlevel = \"2 min\"\nturn = \"2.5 min\"\nsoftwood_feed = \"22 ft/min at 10 in\"\n\
    hardwood_feed = \"15 ft/min at 10 in\"\nfastest_feed = \"30 ft/min\"\nreturn = \"60 ft/min\"\nset = \"10 s\"\n\
    edging_batch = \"2 min\"\n";

/// The same with the fast end of all that they tell.
const BY_HAND_FAST: [(&str, &str); 9] = [
    ("6.5 min", "3 min"),
    ("level = \"2 min\"", "level = \"1 min\""),
    ("2.5 min", "1 min"),
    ("22 ft/min", "30 ft/min"),
    ("15 ft/min", "20 ft/min"),
    ("return = \"60 ft/min\"", "return = \"90 ft/min\""),
    ("10 s", "5 s"),
    ("edging_batch = \"2 min\"", "edging_batch = \"1 min\""),
    ("[mill.pace]", "[mill.pace]\ntake_away_alone = \"15 s\"\nutilisation = 90"),
];

/// The published figures by their keys.
fn table() -> BTreeMap<String, (f64, f64)> {
    let text = include_str!("../../../../data/published/sawing_times.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let rows = reader.records().map(|row| {
        let row = row.unwrap();
        let number = |cell: usize| row[cell].parse::<f64>().unwrap();
        assert!(["read", "weak", "memory"].contains(&&row[5]) && !row[6].is_empty());
        (row[0].to_owned(), (number(2), number(3)))
    });
    rows.collect()
}

/// A figure lies between the lowest and the highest of ours.
#[track_caller]
fn spans(key: &str, ours: &[f64]) {
    let (low, high) = table()[key];
    let least = ours.iter().copied().fold(f64::INFINITY, f64::min);
    let most = ours.iter().copied().fold(0.0, f64::max);
    assert!(least <= low && high <= most, "{key} {low} to {high}: {ours:.2?}");
}

/// Ours lies between the ends of what is told, or so many per cent beyond them.
#[track_caller]
fn within(key: &str, ours: f64, beyond: f64) {
    let (low, high) = table()[key];
    let (low, high) = (low * (1.0 - beyond / 100.0), high * (1.0 + beyond / 100.0));
    assert!((low..=high).contains(&ours), "{key}: {ours:.2} is not in {low:.2} to {high:.2}");
}

fn pine(small: i64, feet: i64, count: u32) -> String {
    format!("species = \"eastern white pine\"\n{}", round(small, small + 2, feet, count))
}

const BOARDS: &str = "size = \"4/4x4up\"";
const FOUR_SIDED: &str = "[sawing]\nmethods = \"four-sided\"\n";

#[test]
fn every_figure_is_read() {
    assert_eq!(table().len(), 17);
}

/// Neither diameters nor the feed are told, and boards seem to be left unedged. Logs of 14 to 24 in and 12 ft at the default
/// pace, the time between steps left out, give 1.2 to 2.3 m3/h with edging and more without: the figure lies between. Fed by
/// hand at the speeds that sawyers tell ours stays below it, edged or not: that mill must have been fed faster.
#[test]
fn a_small_band_mill_in_beech() {
    let (mut edged, mut unedged, mut by_hand, mut shares) = (vec![], vec![], vec![], vec![]);
    for small in [14, 18, 24] {
        let logs = format!("species = \"american beech\"\n{}", round(small, small + 1, 12, 1));
        for (mill, fed_by_hand) in [(String::new(), false), (format!("[mill]\n{BY_HAND}"), true)] {
            let more = format!("[sawing]\nmethods = \"through-turned\"\n{mill}");
            let sawn = Sawn::of(&logs, "size = \"50 mm x 100 mm up\"", &more);
            let steps = sawn.planned.logs[0].steps;
            let volume = sawn.job.logs[0].log.volume() * 0.0254_f64.powi(3);
            shares.push(steps.sawing / steps.minutes());
            let without = sawn.minutes_without_edging();
            if fed_by_hand {
                by_hand.push(volume * 60.0 / without);
            } else {
                edged.push(volume * 60.0 / steps.minutes());
                unedged.push(volume * 60.0 / without);
            }
        }
    }
    let (told, _) = table()["small_band_mill"];
    spans("small_band_mill", &[edged[1], unedged[1]]);
    assert!(by_hand.iter().all(|ours| *ours < told), "{by_hand:.2?}");
    spans("small_band_mill_share", &shares);
}

/// Roundwood by the hour at the default pace, boards of an inch and planks of two, small logs and large.
#[test]
fn a_portable_circular_mill() {
    for (small, want) in
        [(10, BOARDS), (10, "size = \"2x4up\""), (20, BOARDS), (20, "size = \"2x4up\"")]
    {
        within("portable_circular", Sawn::of(&pine(small, 12, 3), want, "").logs_an_hour(), 0.0);
    }
}

/// The log is not told; of one of 14 in and 10 ft ours saves 28 %.
#[test]
fn a_cant_left_in_the_log_saves_a_third() {
    let logs = format!("species = \"red oak\"\n{}", round(14, 15, 10, 1));
    let boards = Sawn::of(&logs, BOARDS, "");
    let cant = Sawn::of(&logs, "size = \"7x9x10\"\ncount = 1\n[[wants]]\nsize = \"4/4x4up\"", "");
    let saved = 100.0 * (1.0 - cant.planned.logs[0].minutes / boards.planned.logs[0].minutes);
    let (told, _) = table()["cant_for_boards"];
    assert!((saved - told).abs() <= 7.0, "{saved:.1} %");
}

/// Logs of 18 in and 14 ft give 2,240 bf by nine, as that job gave 2,040. With the middle of what sawyers tell of mills that
/// are worked by hand ours takes half as long again, with the fast end less: the figure lies between. Blades last
/// longer there, 680 bf, than the 400 to 600 of clean softwood that others tell and ours keep to.
#[test]
fn one_man_with_a_mill_worked_by_hand() {
    let fast = BY_HAND_FAST.iter().fold(BY_HAND.to_owned(), |mill, (from, to)| {
        assert!(mill.contains(from), "{from}");
        mill.replace(from, to)
    });
    let day = |mill: &str| {
        let more =
            format!("{FOUR_SIDED}[mill]\n{mill}helpers = 0\n[yard]\nstacking = \"customer\"\n");
        Sawn::of(&pine(18, 14, 9), BOARDS, &more)
    };
    let (middle, fast) = (day(BY_HAND), day(&fast));
    assert!((1900.0..2400.0).contains(&middle.board_feet));
    spans("one_man_pine", &[fast.minutes_a_log(), middle.minutes_a_log()]);
    spans("one_man_pine_output", &[middle.board_feet_an_hour(), fast.board_feet_an_hour()]);
    for day in [middle, fast] {
        let blade = day.board_feet / f64::from(day.planned.hours.blades());
        within("blade_softwood", blade, 0.0);
        assert!(blade < table()["one_man_pine_blades"].0);
    }
}

/// From setting up to packing up, as hours are billed. How large is not told: 18 to 24 in and 16 ft.
#[test]
fn large_pine_in_thick_stock() {
    let ours = [18, 24].map(|small| {
        let sawn =
            Sawn::of(&pine(small, 16, 10), "size = \"2.5 in x4up\"", "[yard]\nhelpers = 2\n");
        sawn.planned.hours.on_site() / sawn.logs()
    });
    spans("large_pine", &ours);
    let middle = Sawn::of(&pine(20, 16, 10), "size = \"2.5 in x4up\"", "[yard]\nhelpers = 2\n");
    within("large_pine", middle.planned.hours.on_site() / 10.0, 10.0);
}

/// Logs of 12 in from a pile, by hand, stacked by the sawyer: within a quarter, though ours has no sharpening in it.
#[test]
fn alone_with_everything_included() {
    let more = format!(
        "{FOUR_SIDED}[mill]\n{BY_HAND}helpers = 0\n[yard]\nstacking = \"sawyer\"\nlogs = \"piled\"\n"
    );
    let sawn = Sawn::of(&pine(12, 10, 6), BOARDS, &more);
    within("solo_all_in", sawn.board_feet * 60.0 / sawn.planned.hours.on_site(), 25.0);
}

/// What sawyers tell of custom work by the hour. Outside by an eighth are a pine of 12 in, 131 for 150 at least, and logs of
/// 16 in in thick stock, 258 for 300: there the plan that makes most of a log edges many flitches of widths of their own.
#[test]
fn output_as_sawyers_tell_it() {
    let oak = |small| format!("species = \"red oak\"\n{}", round(small, small + 1, 10, 6));
    let messy = "[yard]\nlogs = \"piled\"\nbark = \"dirty\"\nhelpers = 0\n";
    for (small, beyond) in [(10, 10.0), (12, 0.0), (14, 0.0)] {
        let ours = Sawn::of(&oak(small), BOARDS, messy).board_feet_an_hour();
        within("small_or_messy", ours, beyond);
    }
    for small in [12, 14, 16, 20] {
        for logs in [oak(small), pine(small, 10, 6)] {
            within("ordinary", Sawn::of(&logs, BOARDS, "").board_feet_an_hour(), 13.0);
        }
    }
    for (small, beyond) in [(16, 15.0), (20, 0.0), (24, 0.0)] {
        for logs in [oak(small), pine(small, 10, 6)] {
            let sawn = Sawn::of(&logs, "size = \"2x4up\"", "[yard]\nhelpers = 2\n");
            within("staged_large", sawn.board_feet_an_hour(), beyond);
        }
    }
}

/// A blade's board feet in boards of an inch, over a pile that wears out several.
#[test]
fn blades_as_sawyers_tell_them() {
    let worn =
        |sawn: &Sawn| sawn.board_feet / sawn.planned.logs.iter().map(|log| log.wear).sum::<f64>();
    for small in [12, 16, 20] {
        within("blade_softwood", worn(&Sawn::of(&pine(small, 10, 6), BOARDS, "")), 0.0);
        let oak = format!("species = \"red oak\"\n{}", round(small, small + 1, 10, 6));
        within("blade_hardwood", worn(&Sawn::of(&oak, BOARDS, "")), 0.0);
        let dirty = "[yard]\nbark = \"dirty\"\n";
        within("blade_hardwood", worn(&Sawn::of(&pine(small, 10, 6), BOARDS, dirty)), 0.0);
    }
}

/// The time of a log rises with its diameter, and minutes for a thousand board feet fall: Rast, USFS NE-304, 1974, of fixed
/// mills. Ours do from end to end, not at each step: the plan that makes most of a log of 16 in has more passes than that of
/// one of 20.
#[test]
fn a_larger_log_takes_longer_and_gives_more_by_the_hour() {
    for want in [BOARDS, "size = \"2x4up\""] {
        let logs = [8, 12, 16, 20, 24].map(|small| Sawn::of(&pine(small, 10, 2), want, ""));
        let minutes = logs.each_ref().map(|sawn| sawn.planned.logs[0].minutes);
        let rises = minutes.windows(2).filter(|two| two[0] < two[1]).count();
        assert!(rises >= 3 && minutes[4] > 3.0 * minutes[0], "{minutes:.1?}");
        let a_thousand = logs.each_ref().map(|sawn| 2000.0 * minutes_of(sawn) / sawn.board_feet);
        assert!(a_thousand[4] < 0.5 * a_thousand[0], "{a_thousand:.0?}");
    }
}

fn minutes_of(sawn: &Sawn) -> f64 {
    sawn.planned.logs[0].minutes
}

/// Outside: one tells at least twice the time of plain sawing, ours takes half as long again at 18 in and hardly longer at 22.
/// The plain plan that makes most of a log edges nearly every flitch at a width of its own, which takes as long as turning
/// and parting a quarter.
#[test]
fn quarter_sawing_takes_longer() {
    let logs = format!("species = \"white oak\"\n{}", round(18, 19, 10, 1));
    let [quarter, plain] = ["quarter", "through"].map(|method| {
        let sawn = Sawn::of(&logs, BOARDS, &format!("[sawing]\nmethods = \"{method}\"\n"));
        minutes_of(&sawn) / sawn.board_feet
    });
    let (told, _) = table()["quarter_sawing"];
    let ours = quarter / plain;
    assert!(ours > 1.3 && ours < told, "{ours:.2}");
}

#[test]
fn setting_up_as_told() {
    within("set_up", Sawn::of(&pine(12, 10, 1), BOARDS, "").planned.hours.set_up, 0.0);
}

//! From a tally to its bill: every form of charge worked by hand, to the cent.

use std::path::Path;

use pithward_day::money::{Bill, Charge, Way};
use pithward_day::so_far::{Carried, is_over, worked};
use pithward_job::{PileJob, parse_job};
use pithward_measure::{Money, Size};
use pithward_tally::{
    BladeEnd, Doing, Entry, NoPlan, Off, Record, Recorded, Said, SizeCount, SoFar,
};

/// Two invented logs: 16 in and 12 ft, 12 in and 6 ft, each with 2 in of trim; and a list that wants the 2x8s alone.
const JOB: &str = r#"
[[logs]]
id = "A"
species = "white oak"
small_end = "16 in"
butt = "18 in"
length = "12 ft 2 in"
[[logs]]
id = "B"
species = "white oak"
small_end = "12 in"
butt = "13 in"
length = "6 ft 2 in"
[[wants]]
size = "2x8x12"
count = 6
[sawing]
trim = "2 in"
[yard]
drive = "10 mi"
moves = 1
[mill]
name = "invented"
kerf = "0.1 in"
step = "1/16 in"
largest_diameter = "32 in"
longest = "20 ft"
shortest = "4 ft"
widest_cut = "26 in"
deepest_above = "14 in"
lowest_blade = "1 in"
[mill.charges]
"#;

fn job(charges: &str) -> PileJob {
    parse_job(format!("{JOB}{charges}").as_bytes(), "job.toml", "JOB", Path::new("")).unwrap()
}

/// A tally of what was said when, on one invented day where no time of the day says more.
fn record(said: &[(&str, Said)]) -> Record {
    let one = |(n, (at, said)): (usize, &(&str, Said))| {
        let at = match at.len() {
            5 => format!("2026-05-02T{at}:00-04:00[America/New_York]"),
            _ => (*at).to_owned(),
        };
        let number = n as u64 + 1;
        let entry = Entry { number, at: at.parse().unwrap(), late: false, said: said.clone() };
        Recorded { line: n + 2, entry, undone_by: None }
    };
    Record { entries: said.iter().enumerate().map(one).collect(), warnings: Vec::new() }
}

fn so_far(job: &PileJob, said: &[(&str, Said)]) -> SoFar {
    let record = record(said);
    let now = record.entries.last().unwrap().entry.at.clone();
    SoFar::of(&record, job, &NoPlan, &now)
}

fn on(log: &str) -> Said {
    Said::On { log: log.to_owned() }
}

fn off(pieces: &[(u32, &str)]) -> Said {
    let one = |(count, size): &(u32, &str)| SizeCount {
        count: *count,
        typed: (*size).to_owned(),
        size: Size::parse(size).unwrap(),
        note: None,
    };
    Said::Off(Off { log: None, planned: false, pieces: pieces.iter().map(one).collect() })
}

fn blade(end: BladeEnd) -> Said {
    Said::Blade { end, why: Some("a fence staple".to_owned()) }
}

/// Setting up 30 min, A 110 + 10 min round a pause of 40, B 60 min, moving logs 30 min, packing up 20 min.
/// At the saw 180 min, on site 30 + 180 + 20 = 230 min.
fn day() -> Vec<(&'static str, Said)> {
    vec![
        ("08:00", Said::Begin(Doing::SettingUp)),
        ("08:30", on("A")),
        // 2 x 8 x 12 / 12 = 16 bf each, 96 bf.
        ("10:00", off(&[(6, "2x8x12")])),
        ("10:10", blade(BladeEnd::Struck)),
        ("10:20", Said::Pause { why: Some("lunch".to_owned()) }),
        ("11:00", Said::Begin(Doing::Sawing)),
        ("11:10", on("B")),
        // 1 x 6 x 6 / 12 = 3 bf each, 30 bf; 6 x 6 x 6 / 12 = 18 bf. Nobody wanted either.
        ("11:40", off(&[(10, "1x6x6"), (1, "6x6x6")])),
        ("12:00", blade(BladeEnd::Ruined)),
        ("12:10", Said::Begin(Doing::MovingLogs)),
        ("12:40", Said::Begin(Doing::PackingUp)),
        ("13:00", Said::Stop),
    ]
}

fn usd(text: &str) -> Money {
    Money::parse(&format!("{text} USD")).unwrap()
}

/// The bill of the day by some charges: its lines by charge and amount, and the total.
#[track_caller]
fn check(charges: &str, way: Way, lines: &[(Charge, &str)], total: &str) -> Bill {
    let job = job(charges);
    let done = worked(&job, None, &so_far(&job, &day()));
    let bill = Bill::of(&done, &job.charges, way).unwrap();
    let got: Vec<(Charge, Money)> =
        bill.lines.iter().map(|line| (line.charge, line.amount)).collect();
    let expected: Vec<(Charge, Money)> =
        lines.iter().map(|(charge, amount)| (*charge, usd(amount))).collect();
    assert_eq!(got, expected);
    assert_eq!(bill.total, usd(total));
    bill
}

const FEET: Charge = Charge::BoardFeet { class: None };

#[test]
fn what_the_day_was() {
    let job = job("hour = \"80 USD/h\"\n");
    let so_far = so_far(&job, &day());
    let done = worked(&job, None, &so_far);
    assert_eq!((done.at_the_saw, done.on_site, done.moving), (180 * 60, 230 * 60, 30 * 60));
    assert_eq!((done.strikes, done.blades, done.relocations), (1, 1, 1));
    assert_eq!(done.board_feet(), 144_000_000);
    assert_eq!(done.logs.len(), 2);
    assert!(is_over(None, &so_far));
    let carried = Carried::of(&job, None, &so_far);
    let lines: Vec<(String, u32, u32)> = carried
        .lines
        .iter()
        .map(|line| (line.size.to_string(), line.count, line.unwanted))
        .collect();
    let line = |size: &str, count, unwanted| (size.to_owned(), count, unwanted);
    assert_eq!(lines, [line("1x6x6", 10, 10), line("2x8x12", 6, 0), line("6x6x6", 1, 1)]);
    assert_eq!((carried.count(), carried.board_feet()), (17, 144_000_000));
    // White oak is told to weigh 62 to 64 lb a cubic foot green; 2 x 8 in x 146 in are 1.352 cubic feet.
    let each = carried.lines[1].each.lb_f64();
    assert!((80.0..90.0).contains(&each), "{each}");
}

#[test]
fn by_the_hour() {
    // On site 230 min: 80 x 230 / 60 = 306.67. Moving logs has no rate of its own: 80 x 30 / 60 = 40.
    let hours = [(Charge::Hours, "306.67"), (Charge::Moving, "40.00")];
    check("hour = \"80 USD/h\"\n", Way::Hour, &hours, "346.67");
    // At the saw 180 min: 80 x 3 = 240.
    let saw = "hour = \"80 USD/h\"\nbilled = \"at the saw\"\n";
    let hours = [(Charge::Hours, "240.00"), (Charge::Moving, "40.00")];
    check(saw, Way::Hour, &hours, "280.00");
    // 230 min up to quarters of an hour is 4 h: 320. Moving at a rate of its own: 60 x 30 / 60 = 30.
    let quarters = "hour = \"80 USD/h\"\nround_hours = \"15 min up\"\nmoving_hour = \"60 USD/h\"\n";
    let hours = [(Charge::Hours, "320.00"), (Charge::Moving, "30.00")];
    check(quarters, Way::Hour, &hours, "350.00");
}

#[test]
fn odd_work_is_the_share_of_its_log() {
    // Of log B 18 of 48 bf are a timber: 3/8 of its 60 min, 22 min 30 s, to the minute 23.
    // 80 x (180 - 23) / 60 = 209.33; 110 x 23 / 60 = 42.17.
    let odd = "hour = \"80 USD/h\"\nbilled = \"at the saw\"\nodd_hour = \"110 USD/h\"\nodd_work = \"beams\"\n";
    let lines = [(Charge::Hours, "209.33"), (Charge::OddHours, "42.17"), (Charge::Moving, "40.00")];
    check(odd, Way::Hour, &lines, "291.50");
    // Over 1 1/2 in: all of A's 120 min with it, 142 min 30 s, to the minute 143.
    // 80 x 37 / 60 = 49.33; 110 x 143 / 60 = 262.17.
    let thick = odd.replace("beams", "thick");
    let lines = [(Charge::Hours, "49.33"), (Charge::OddHours, "262.17"), (Charge::Moving, "40.00")];
    check(&thick, Way::Hour, &lines, "351.50");
}

#[test]
fn by_the_board_foot() {
    // 96 + 30 + 18 = 144 bf at 0.50. Moving logs costs nothing where no rate is stated.
    for basis in ["", "basis = \"named\"\n", "basis = \"sawn\"\n"] {
        check(
            &format!("board_foot = \"0.50 USD/bf\"\n{basis}"),
            Way::BoardFoot,
            &[(FEET, "72.00")],
            "72.00",
        );
    }
    // By International 1/4 in: 16 in 12 ft 130 bf; 12 in 6 ft billed as 8 ft, 45 bf. 175 x 0.40 = 70.
    let scale = "board_foot = \"0.40 USD/bf\"\nbasis = \"international\"\nshort_log = \"8 ft\"\nmoving_hour = \"60 USD/h\"\n";
    let lines = [(FEET, "70.00"), (Charge::Moving, "30.00")];
    check(scale, Way::BoardFoot, &lines, "100.00");
    // The 2x8s count as 2 1/2 in: 96 x 2.5 / 2 = 120 bf, 60.00; 1 in stays, 30 bf, 15.00; 6 in is above all, 18 bf, 9.00.
    let classes = "board_foot = \"0.50 USD/bf\"\nthickness_classes = [\"1 in\", \"2 1/2 in\"]\n";
    let job = job(classes);
    let class = |text: &str| Charge::BoardFeet {
        class: Some(pithward_measure::Length::parse(text, pithward_measure::Unit::Inch).unwrap()),
    };
    assert_eq!(job.charges.classes.len(), 2);
    let lines = [(class("1 in"), "15.00"), (class("2 1/2 in"), "60.00"), (class("6 in"), "9.00")];
    check(classes, Way::BoardFoot, &lines, "84.00");
    // The sizes of a short log count as if it were 8 ft: those of B 48 x 8 / 6 = 64 bf. 96 + 64 = 160 bf.
    let short = "board_foot = \"0.50 USD/bf\"\nshort_log = \"8 ft\"\n";
    let bill = check(short, Way::BoardFoot, &[(FEET, "80.00")], "80.00");
    assert_eq!(bill.for_short_logs, 16_000_000);
}

#[test]
fn by_the_board() {
    // Six 2x8x12 and ten 1x6x6 at 3.00, the 6x6x6 at 8.00. Moving logs costs nothing where no rate is stated.
    let boards = "board = [\"3 USD up to 2x8x12\", \"8 USD\"]\n";
    let up_to = Charge::Boards { up_to: Some(Size::parse("2x8x12").unwrap()) };
    let larger = Charge::Boards { up_to: None };
    check(boards, Way::Board, &[(up_to, "48.00"), (larger, "8.00")], "56.00");
}

#[test]
fn in_lumber() {
    let bill = |charges: &str| {
        let job = job(charges);
        let done = worked(&job, None, &so_far(&job, &day()));
        Bill::of(&done, &job.charges, Way::Share).unwrap()
    };
    // Half of 144 bf are 72. Three planks and five boards are 48 + 15 bf; of one timber none is his, and 9 bf are made up.
    let half = bill("share = \"half\"\n").in_lumber.unwrap();
    assert_eq!((half.shared, half.board_feet, half.rest), (144_000_000, 72_000_000, 9_000_000));
    let sizes: Vec<(String, u32, u32)> =
        half.sizes.iter().map(|it| (it.size.to_string(), it.count, it.sawyers)).collect();
    let size = |text: &str, count, sawyers| (text.to_owned(), count, sawyers);
    assert_eq!(sizes, [size("6x6x6", 1, 0), size("2x8x12", 6, 3), size("1x6x6", 10, 5)]);
    assert_eq!(half.worth, None);
    // A third of the planks alone, two of six; the way and the blades are paid in money.
    let planks =
        "share = \"1/3\"\nshared = \"2x8\"\ndrive = \"1 USD/mile\"\nruined_blade = \"30 USD\"\n";
    let bill = bill(planks);
    let lumber = bill.in_lumber.unwrap();
    assert_eq!((lumber.shared, lumber.board_feet, lumber.rest), (96_000_000, 32_000_000, 0));
    assert_eq!((lumber.sizes[0].sawyers, bill.total), (2, usd("40")));
}

#[test]
fn what_comes_on_top() {
    // Setting up is charged, so the hours are those at the saw. One day of 10 miles at 1.50; one move as agreed; a strike; a
    // ruined blade. 240 + 40 + 25 + 15 + 40 + 12 + 30 = 402.
    let more = "hour = \"80 USD/h\"\nset_up = \"25 USD\"\ndrive = \"1.50 USD/mile\"\nrelocation = \"40 USD\"\n\
        metal_strike = \"12 USD\"\nruined_blade = \"30 USD\"\n";
    let lines = [
        (Charge::Hours, "240.00"),
        (Charge::Moving, "40.00"),
        (Charge::SetUp, "25.00"),
        (Charge::Drive, "15.00"),
        (Charge::Relocation, "40.00"),
        (Charge::Strike, "12.00"),
        (Charge::Blade, "30.00"),
    ];
    check(more, Way::Hour, &lines, "402.00");
}

/// The mill moved twice between the logs, 25 and 35 min, though one move was agreed. At the saw 60 + 60 min, on site an hour
/// more; moves are billed as they were told: at the saw 2 h at 80 and 2 x 40 = 240, on site 3 h at 80 and 80 = 320.
#[test]
fn moves_are_billed_as_they_are_told() {
    let said = vec![
        ("08:00", on("A")),
        ("09:00", off(&[(6, "2x8x12")])),
        ("09:00", Said::Begin(Doing::MovingMill)),
        ("09:25", on("B")),
        ("09:55", Said::Begin(Doing::MovingMill)),
        ("10:30", on("B")),
        ("11:00", Said::Stop),
    ];
    for (billed, hours, total) in
        [("at the saw", "160.00", "240.00"), ("on site", "240.00", "320.00")]
    {
        let job =
            job(&format!("hour = \"80 USD/h\"\nbilled = \"{billed}\"\nrelocation = \"40 USD\"\n"));
        let bill = Bill::of(&worked(&job, None, &so_far(&job, &said)), &job.charges, Way::Hour);
        let bill = bill.unwrap();
        let got: Vec<(Charge, Money)> =
            bill.lines.iter().map(|line| (line.charge, line.amount)).collect();
        assert_eq!(got, [(Charge::Hours, usd(hours)), (Charge::Relocation, usd("80.00"))]);
        assert_eq!(bill.total, usd(total));
    }
}

#[test]
fn the_least_that_is_billed() {
    // 4 h less 230 min are 10 min: 80 x 10 / 60 = 13.33.
    let hours = "hour = \"80 USD/h\"\nminimum = \"4 h\"\n";
    let lines =
        [(Charge::Hours, "306.67"), (Charge::LeastHours, "13.33"), (Charge::Moving, "40.00")];
    check(hours, Way::Hour, &lines, "360.00");
    // 200 less 144 bf are 56: 28.
    let feet = "board_foot = \"0.50 USD/bf\"\nminimum = \"200 bf\"\n";
    let lines = [(FEET, "72.00"), (Charge::LeastBoardFeet, "28.00")];
    check(feet, Way::BoardFoot, &lines, "100.00");
    // 500 less 346.67.
    let sum = "hour = \"80 USD/h\"\nminimum = \"500 USD\"\n";
    let lines =
        [(Charge::Hours, "306.67"), (Charge::Moving, "40.00"), (Charge::LeastSum, "153.33")];
    check(sum, Way::Hour, &lines, "500.00");
}

#[test]
fn discount_tax_rounding_and_deposit() {
    let all = "hour = \"80 USD/h\"\nmetal_strike = \"12 USD\"\ndiscount = \"5 %\"\ntax = 6.25\ntaxed = \"sawing/blades\"\n\
        round_total = \"1 USD\"\ndeposit = \"20 %\"\n";
    let lines = [(Charge::Hours, "306.67"), (Charge::Moving, "40.00"), (Charge::Strike, "12.00")];
    let bill = check(all, Way::Hour, &lines, "360.00");
    // 5 % of 358.67 is 17.93.
    assert_eq!((bill.sum, bill.discount), (usd("358.67"), usd("17.93")));
    // Taxed are 306.67 + 12; of the discount 17.93 x 318.67 / 358.67 = 15.93 is theirs. 302.74 x 6.25 % = 18.92.
    assert_eq!((bill.taxable, bill.tax), (usd("302.74"), usd("18.92")));
    // 358.67 - 17.93 + 18.92 = 359.66, to the dollar 360. 20 % of it were paid.
    assert_eq!((bill.rounding, bill.deposit, bill.due), (usd("0.34"), usd("72"), usd("288")));
}

#[test]
fn hours_across_midnight_and_where_the_clock_changes() {
    let job = job("hour = \"80 USD/h\"\nbilled = \"at the saw\"\n");
    for (from, to, hours, amount) in [
        // From half past ten to half past twelve at night.
        ("2026-03-06T22:30:00-05:00", "2026-03-07T00:30:00-05:00", 2, "160.00"),
        // Two o'clock does not come: from half past one to half past three is one hour.
        ("2026-03-08T01:30:00-05:00", "2026-03-08T03:30:00-04:00", 1, "80.00"),
        // One o'clock comes twice: from half past twelve to half past two are three hours.
        ("2026-11-01T00:30:00-04:00", "2026-11-01T02:30:00-05:00", 3, "240.00"),
        // Half past one, and half past one again.
        ("2026-11-01T01:30:00-04:00", "2026-11-01T01:30:00-05:00", 1, "80.00"),
    ] {
        let [from, to] = [from, to].map(|at| format!("{at}[America/New_York]"));
        let said = [(from.as_str(), Said::Begin(Doing::Sawing)), (to.as_str(), Said::Stop)];
        let done = worked(&job, None, &so_far(&job, &said));
        assert_eq!(done.at_the_saw, hours * 3600, "{from}");
        let bill = Bill::of(&done, &job.charges, Way::Hour).unwrap();
        assert_eq!(bill.total, usd(amount), "{from}");
    }
}

#[test]
fn a_day_that_goes_on_is_not_over() {
    let job = job("hour = \"80 USD/h\"\n");
    let mut said = day();
    said.pop();
    assert!(!is_over(None, &so_far(&job, &said)));
    assert!(!is_over(None, &SoFar::default()));
}

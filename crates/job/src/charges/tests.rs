use std::time::Duration;

use super::{
    BilledHours, Charges, FootBasis, HourStep, Item, LumberWork, OddWork, Part, Percent, Portion,
    RoundWay, Share, Shared, text,
};
use crate::fault::Fault;
use crate::mill_file::parse_outfit;
use pithward_measure::{Length, Money, Size};
use pithward_trade::{Grade, LogRule};
use proptest::prelude::*;

const GENERIC: &str = include_str!("../../../../data/mills/generic.toml");

fn read(charges: &str) -> Result<Charges, Vec<Fault>> {
    let text = format!("{GENERIC}[charges]\n{charges}");
    parse_outfit(text.as_bytes(), "mill.toml", "--mill").map(|outfit| outfit.charges)
}

fn money(text: &str) -> Money {
    Money::parse(text).unwrap()
}

/// Each fault of some charges begins as expected, and there is no other.
#[track_caller]
fn refused(charges: &str, expected: &[&str]) {
    let said: Vec<String> = read(charges).unwrap_err().iter().map(Fault::to_string).collect();
    assert_eq!(said.len(), expected.len(), "{said:#?}");
    for (said, expected) in said.iter().zip(expected) {
        assert!(said.starts_with(expected), "{said} is not {expected}");
    }
}

#[test]
fn the_generic_mill_shows_every_field_and_charges_nothing() {
    let plain = parse_outfit(GENERIC.as_bytes(), "mill.toml", "--mill").unwrap().charges;
    assert_eq!(plain, Charges::default());
    assert_eq!(plain.currency(), None);
    let (_, shown) = GENERIC.split_once("# [charges]\n").unwrap();
    let shown = shown.split("\n\n").next().unwrap();
    let shown: String = shown.lines().map(|line| format!("{}\n", &line[2..])).collect();
    assert_eq!(shown.lines().count(), 27);
    let charges = read(&shown).unwrap();
    let usd = |text: &str| Some(money(&format!("{text} USD")));
    assert_eq!(
        (charges.hour, charges.odd_hour, charges.moving_hour),
        (usd("75"), usd("95"), usd("50"))
    );
    assert_eq!(charges.odd, OddWork { thin: true, quarter: true, ..OddWork::default() });
    assert_eq!(charges.billed(), BilledHours::AtTheSaw);
    let step = HourStep { to: Duration::from_secs(900), way: RoundWay::Up };
    assert_eq!(charges.hour_step, step);
    let scale = FootBasis::Scale(LogRule::International);
    assert_eq!((charges.board_foot, charges.basis), (usd("0.45"), scale));
    assert_eq!((charges.stacked_foot, charges.delivered_foot), (usd("0.60"), usd("0.80")));
    assert_eq!(charges.classes, [1, 2, 3, 4].map(Length::inches));
    assert_eq!(charges.short_log, Some(Length::feet(8)));
    assert_eq!(charges.thin_log, Some(Length::inches(12)));
    let boards = charges.boards.iter().map(|board| (Some(board.price), board.up_to));
    let size = |text: &str| Some(Size::parse(text).unwrap());
    let lines = [(usd("4"), size("2x8x12")), (usd("7"), size("4x8x20")), (usd("12"), None)];
    assert_eq!(boards.collect::<Vec<_>>(), lines);
    let share = charges.share.as_ref().unwrap();
    assert_eq!(share.portion, Portion::new(1, 2).unwrap());
    assert_eq!(share.of, [Shared::Graded, Shared::Size(Size::parse("8/4").unwrap())]);
    assert_eq!((charges.set_up, charges.relocation), (usd("40"), usd("60")));
    assert_eq!((charges.strike, charges.blade), (usd("12"), usd("30")));
    let drive = charges.drive.unwrap();
    assert_eq!((Some(drive.price), drive.per), (usd("1.20"), text::MILE));
    let least = charges.least;
    assert_eq!(least.hours, Some(Duration::from_secs(3 * 3600)));
    assert_eq!((least.board_feet, least.sum), (Some(300_000_000), usd("200")));
    assert_eq!(charges.discount, Some(Part::Share(Percent::millionths(5_000_000))));
    assert_eq!(charges.tax, Some(Percent::millionths(6_250_000)));
    assert!(charges.taxes(Item::Sawing) && charges.taxes(Item::Blades));
    assert!(!charges.taxes(Item::Drive));
    assert_eq!((charges.total_step, charges.deposit), (usd("1"), usd("100").map(Part::Sum)));
}

#[test]
fn a_board_is_billed_by_the_first_line_that_takes_it() {
    // The larger side may be called either; a length is a limit only where it is stated.
    let charges =
        read("board = [\"4 GBP up to 4x8x20\", \"5 GBP each up to 6x8\", \"9 GBP above\"]\n")
            .unwrap();
    let cost = |thickness, width, feet| {
        let size = [Length::inches(thickness), Length::inches(width), Length::feet(feet)];
        charges.board(size).map(|board| board.price.to_string())
    };
    let some = |text: &str| Some(text.to_owned());
    assert_eq!(cost(4, 8, 20), some("4.00 GBP"));
    assert_eq!(cost(8, 4, 20), some("4.00 GBP"));
    assert_eq!(cost(4, 8, 21), some("5.00 GBP"));
    assert_eq!(cost(6, 8, 40), some("5.00 GBP"));
    assert_eq!(cost(6, 9, 8), some("9.00 GBP"));
    let limited = read("board = \"4 EUR/board up to 100x200x6000 mm\"\n").unwrap();
    let size = |width| [Length::mm(100), Length::mm(width), Length::mm(6000)];
    assert!(limited.board(size(200)).is_some() && limited.board(size(201)).is_none());
    assert_eq!(limited.currency(), money("1 EUR").currency().into());
}

#[test]
fn board_feet_by_what_is_done_with_them() {
    // One price page asks 0.35 USD milled, 0.80 stacked, 1.00 delivered.
    let all = "board_foot = \"0.35 USD/bf\"\nstacked_foot = \"0.80 USD/bf\"\ndelivered_foot = \"1 USD/bf\"\n";
    let charges = read(all).unwrap();
    let works = [LumberWork::Sawn, LumberWork::Stacked, LumberWork::Delivered];
    let foot = |charges: &Charges| works.map(|work| charges.foot(work).unwrap().to_string());
    assert_eq!(foot(&charges), ["0.35 USD", "0.80 USD", "1.00 USD"]);
    let stacked = Charges { delivered_foot: None, ..charges };
    assert_eq!(foot(&stacked), ["0.35 USD", "0.80 USD", "0.80 USD"]);
    let plain = Charges { stacked_foot: None, ..stacked };
    assert_eq!(foot(&plain), ["0.35 USD"; 3]);
}

#[test]
fn shares_as_people_write_them() {
    let share = |text: &str| read(&format!("share = {text}\n")).unwrap().share.unwrap();
    for (text, parts, said) in [
        ("\"half\"", (1, 2), "half"),
        ("\"50 %\"", (1, 2), "half"),
        ("\" A  Third\"", (1, 3), "a third"),
        ("\"2/6\"", (1, 3), "a third"),
        ("\"2/5\"", (2, 5), "2/5"),
        ("\"40 %\"", (2, 5), "2/5"),
        ("\"33.5%\"", (67, 200), "33.5 %"),
    ] {
        let Share { portion, of } = share(text);
        assert_eq!((portion.parts(), portion.to_string().as_str()), (parts, said));
        assert!(of.is_empty());
    }
    let half = Portion::new(1, 2).unwrap();
    assert_eq!([7, 0, -3, i64::MAX].map(|all| half.of(all)), [3, 0, 0, i64::MAX / 2]);
    let of = |text: &str| {
        read(&format!("share = \"half\"\nshared = {text}\n")).unwrap().share.unwrap().of
    };
    assert_eq!(of("\"all\""), []);
    assert_eq!(
        of("[\"No. 1 Common\", \"2x6\"]"),
        [Shared::Grade(Grade::No1Common), Shared::Size(Size::parse("2x6").unwrap())]
    );
    // Nobody knows the want of a board that nobody wanted: it is shared by its size alone.
    let shared = Share { portion: half, of: of("[\"graded\", \"2x6\", \"8/4\"]") };
    let takes = |quarters: i64, width, feet| {
        let size =
            [Length::sixty_fourths(16 * quarters), Length::inches(width), Length::feet(feet)];
        shared.takes(None, size)
    };
    assert!(takes(8, 6, 12) && takes(8, 4, 8) && !takes(8, 3, 8) && !takes(4, 6, 12));
    assert!(Share { of: Vec::new(), ..shared }.takes(None, [Length::ZERO; 3]));
}

#[test]
fn what_is_wrong_with_boards_and_shares() {
    refused(
        "board = [\"4 USD up to 4x8upx20\", \"x USD\", \"5 USD up to 4x8\", \"3 USD up to 2x6x12\", \"6 EUR\", \"7 USD\"]\n",
        &[
            "board: \"4 USD up to 4x8upx20\" does not say up to which size",
            "board: \"x usd\" is no amount of money",
            "board: \"3 USD up to 2x6x12\" is never billed",
            "board is in EUR, and board in USD",
            "board: \"7 USD\" is never billed",
        ],
    );
    refused(
        "share = \"all\"\nshared = [\"gradd\", \"2x6\", \"2x6\", \"all\"]\n",
        &[
            "share: \"all\" is no part of the lumber",
            "shared: \"gradd\" is no kind of lumber to share; perhaps graded?",
            "shared: \"2x6\" is said twice",
            "shared says all and something else",
        ],
    );
    refused(
        "shared = \"all\"\nstacked_foot = \"1 USD/bf\"\n",
        &["shared says nothing without share", "stacked_foot says nothing without board_foot"],
    );
    for text in ["0 %", "100 %", "1/1", "3/2", "0/2", "1/0", "-1/2", "1", "", "1/2000"] {
        let faults = read(&format!("share = \"{text}\"\n")).unwrap_err();
        assert_eq!(faults.len(), 1, "{text}");
    }
}

#[test]
fn what_is_left_out_has_its_rule() {
    let charges = read("hour = \"75 USD/h\"\ntax = \"5 %\"\n").unwrap();
    assert_eq!(charges.billed(), BilledHours::OnSite);
    assert!(Item::ALL.into_iter().all(|item| charges.taxes(item)));
    assert_eq!(charges.class(Length::inches(2)), Length::inches(2));
    assert_eq!(charges.cost(90.0), Some(money("112.5 USD")));
    assert_eq!(
        (charges.cost(f64::NAN), charges.cost(-1.0), charges.cost(1e300)),
        (None, None, None)
    );
    assert!(!Charges::default().taxes(Item::Sawing));
    let set_up = read("hour = \"75 USD/h\"\nset_up = \"25 USD\"\n").unwrap();
    assert_eq!(set_up.billed(), BilledHours::AtTheSaw);
    let stated = "hour = \"75 USD/h\"\nset_up = \"25 USD\"\nbilled = \"on  Site\"\n";
    assert_eq!(read(stated).unwrap().billed(), BilledHours::OnSite);
    let scale = read("board_foot = \"0.35 USD per bf\"\nbasis = \"International\"\n").unwrap();
    assert_eq!(scale.basis, FootBasis::Scale(LogRule::International));
    let classes =
        read("board_foot = \"1 EUR/bf\"\nthickness_classes = [\"1 in\", \"2 in\"]\n").unwrap();
    for (thickness, billed) in [(48, 64), (64, 64), (65, 128), (128, 128), (160, 160)] {
        let [thickness, billed] = [thickness, billed].map(Length::sixty_fourths);
        assert_eq!(classes.class(thickness), billed);
    }
}

#[test]
fn odd_work_by_named_sizes() {
    let all = OddWork { thin: true, thick: true, quarter: true, beams: true };
    let beams = OddWork { beams: true, ..OddWork::default() };
    let quarter = OddWork { quarter: true, ..OddWork::default() };
    let inches = Length::inches;
    assert!(all.is(Length::sixty_fourths(48), inches(6), false));
    assert!(
        !all.is(inches(1), inches(6), false)
            && !all.is(Length::sixty_fourths(96), inches(6), false)
    );
    assert!(all.is(inches(2), inches(6), false) && !beams.is(inches(2), inches(6), false));
    assert!(beams.is(inches(6), inches(8), false) && !beams.is(inches(4), inches(8), false));
    assert!(quarter.is(inches(1), inches(6), true) && !quarter.is(inches(1), inches(6), false));
    assert!(OddWork::default().is_nothing() && !beams.is_nothing());
}

#[test]
fn every_fault_of_charges_at_once() {
    refused(
        "hour = \"75\"\nodd_hour = \"-95 USD/h\"\nodd_work = \"thin/beems\"\nbilled = \"sometimes\"\n\
         round_hours = \"quarter\"\nboard_foot = \"0.45 USD/h\"\nbasis = \"doile\"\n\
         thickness_classes = [\"2 in\", \"1 in\"]\nshort_log = \"8\"\nset_up = \"25\"\n\
         drive = \"1.20 USD\"\nmetal_strike = \"12 EUR\"\nminimum = [\"3 h\", \"4 h\", \"some\"]\n\
         discount = \"105 %\"\ntax = -1\ntaxed = \"sawing/sawing\"\ndeposit = 100\nwage = \"1 USD/h\"\n",
        &[
            "hour: \"75\" is no price by the hour",
            "odd_hour must not be less than nothing",
            "odd_work: \"beems\" is no odd work; perhaps beams?",
            "billed: \"sometimes\" is no way to count hours",
            "round_hours: \"quarter\" does not say what hours are rounded to",
            "board_foot: \"0.45 USD/h\" is no price by the board foot",
            "basis: \"doile\" is no way to count board feet; perhaps doyle?",
            "thickness_classes must rise from one to the next, got \"1 in\"",
            "short_log: \"8\" has no unit",
            "set_up: \"25\" is no amount of money",
            "drive: \"1.20 USD\" is no price by the mile",
            "minimum: \"4 h\" is said twice",
            "minimum: \"some\" is no minimum",
            "discount must be between 0 % and 100 %, got \"105 %\"",
            "tax must be between 0 % and 100 %, got \"-1\"",
            "taxed: \"sawing\" is said twice",
            "deposit must be a text in quotes, got \"100\"",
            "\"wage\" is no field of [charges]",
        ],
    );
    refused(
        "hour = \"75 USD/h\"\nset_up = \"25 CAD\"\nminimum = \"200 EUR\"\nodd_work = [\"thin\", 3]\n",
        &[
            "set_up is in CAD, and hour in USD",
            "minimum is in EUR, and hour in USD",
            "odd_work must be a text in quotes, or a list of them, got \"3\"",
        ],
    );
    refused(
        "set_up = \"25 USD\"\nodd_hour = \"95 USD/h\"\nbasis = \"named\"\ntaxed = \"sawing\"\n",
        &[
            "odd_hour says nothing without hour",
            "odd_hour says nothing without odd_work",
            "basis says nothing without board_foot",
            "taxed says nothing without tax",
        ],
    );
    refused(
        "board_foot = \"0.45 USD/bf\"\nthin_log = \"12 in\"\nbasis = \"sawn\"\n",
        &["thin_log says nothing without basis"],
    );
}

#[test]
fn a_percentage_is_exact() {
    for (text, millionths) in
        [("7.25", 7_250_000), ("6.875 %", 6_875_000), ("0", 0), ("100%", 100_000_000)]
    {
        assert_eq!(text::percent(text, 100).unwrap(), Percent::millionths(millionths), "{text}");
    }
    for text in ["", "%", "7,25", "101", "-1", "1e1", "nan"] {
        assert!(text::percent(text, 100).is_err(), "{text}");
    }
    let sum = money("199.99 USD");
    assert_eq!(Part::Share(Percent::millionths(5_000_000)).of(sum), Some(money("10 USD")));
    assert_eq!(Part::Sum(money("50 USD")).of(sum), Some(money("50 USD")));
    assert_eq!(Part::Sum(money("50 EUR")).of(sum), None);
}

proptest! {
    #[test]
    fn prop_no_text_panics(text in prop_oneof![
        any::<String>(),
        "[0-9.-]{0,9} ?(USD/h|USD/bf|USD/mile|EUR/km|h|bf|USD|min up|%)?",
    ]) {
        let _ = (text::hour(&text), text::foot(&text), text::drive(&text), text::money(&text));
        let _ = (text::hour_step(&text), text::part(&text), text::percent(&text, 100));
        let _ = text::least(&text, &mut super::Least::default());
        let _ = (text::basis(&text), text::odd(&text, &mut OddWork::default()));
    }
}

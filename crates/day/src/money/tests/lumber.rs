//! Paid by what is done with the lumber, by the board, and in lumber.

use super::*;

#[test]
fn milled_stacked_delivered() {
    // One price page asks 0.35 USD a board foot milled, 0.80 stacked, 1.00 delivered.
    let charges = Charges {
        board_foot: some("0.35"),
        stacked_foot: some("0.80"),
        delivered_foot: some("1.00"),
        ..Charges::default()
    };
    for (lumber_work, amount) in [
        (LumberWork::Sawn, "350.00"),
        (LumberWork::Stacked, "800.00"),
        (LumberWork::Delivered, "1000.00"),
    ] {
        let bill = by_foot(&Done { lumber_work, ..day() }, &charges);
        check(&bill, &[(FEET, amount)], amount);
    }
}

#[test]
fn by_the_board_up_to_a_size() {
    // The form is that of sawyers in Britain: a fixed sum for each board up to 4x8 in by 6 m, more above. The sums are ours.
    let size = Size::parse("100x200x6000 mm").unwrap();
    let limit = |text: &str| BoardPrice { price: usd(text), up_to: Some(size) };
    let boards = vec![limit("4"), BoardPrice { price: usd("6.50"), up_to: None }];
    let charges = Charges { boards, set_up: some("25"), ..Charges::default() };
    let lumber = vec![
        counted(31, "50x150x4800 mm", false, None),
        counted(2, "100x200x6000 mm", false, None),
        // Too long, and too thick either way.
        counted(3, "50x150x6300 mm", false, None),
        counted(1, "150x150x3000 mm", false, None),
    ];
    let done = Done { lumber, ..Done::default() };
    let bill = Bill::of(&done, &charges, Way::Board).unwrap();
    let up_to = Charge::Boards { up_to: Some(size) };
    let above = Charge::Boards { up_to: None };
    // 33 at 4.00, 4 at 6.50.
    let lines = [(up_to, "132.00"), (above, "26.00"), (Charge::SetUp, "25.00")];
    check(&bill, &lines, "183.00");
    assert_eq!(bill.lines[0].quantity, Quantity::Count(33));
    // Where no line takes them they have no price, each size told once, and nobody guesses.
    let limited = Charges { boards: vec![limit("4")], ..charges.clone() };
    let faults = Bill::of(&done, &limited, Way::Board).unwrap_err();
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    let no_price =
        |size: &str| format!("boards of {size} have no price: none is stated for any so large");
    assert_eq!(said, [no_price("50x150x6300 mm"), no_price("150x150x3000 mm")]);
    let uncounted = Bill::of(&day(), &charges, Way::Board);
    assert_eq!(uncounted, Err(vec![BillFault::NotCounted]));
}

pub(super) fn shared(part: i64, whole: i64) -> Charges {
    let share = Share { portion: Portion::new(part, whole).unwrap(), of: Vec::new() };
    Charges { share: Some(share), ..Charges::default() }
}

#[test]
fn half_of_the_grade_lumber() {
    // A hardwood mill's price list has half of the grade lumber as a form. The boards are ours: 2x8x12 are 16 bf, 1x6x8 4 bf.
    let lumber = vec![
        counted(7, "2x8x12", true, Some("1.50")),
        counted(10, "1x6x8", true, Some("0.80")),
        // Not shared: the customer's.
        counted(20, "1x4x8", false, Some("0.50")),
    ];
    let done = Done { lumber, at_the_saw: HOUR, ..Done::default() };
    let bill = Bill::of(&done, &shared(1, 2), Way::Share).unwrap();
    let share = bill.in_lumber.as_ref().unwrap();
    // 112 + 40 = 152 bf, of which 76 are his: three planks and five boards are 68, and 8 are made up.
    assert_eq!((share.shared, share.board_feet, share.rest), (152 * FOOT, 76 * FOOT, 8 * FOOT));
    let size = |size: &str, count, sawyers, feet| {
        let size = Size::parse(size).unwrap();
        SizeShare { size, count, sawyers, board_feet: feet * FOOT }
    };
    assert_eq!(share.sizes, [size("2x8x12", 7, 3, 112), size("1x6x8", 10, 5, 40)]);
    // Half of 112 x 1.50 + 40 x 0.80 = 200.
    assert_eq!(share.worth, Some(100_000_000));
    // No money at all, of no currency; and nothing that an hour or a board foot came to.
    assert_eq!((bill.total.to_string().as_str(), bill.lines.len()), ("0.00 XXX", 0));
    assert_eq!((bill.an_hour, bill.a_board_foot), (None, None));
    // Where some of it has no price nobody guesses one.
    let unpriced = vec![counted(7, "2x8x12", true, Some("1.50")), counted(1, "1x6x8", true, None)];
    let bill = Bill::of(&Done { lumber: unpriced, ..done }, &shared(1, 2), Way::Share).unwrap();
    assert_eq!(bill.in_lumber.unwrap().worth, None);
}

#[test]
fn a_third_of_all_of_it() {
    // Coming, the way and a ruined blade are paid in money, with tax; a least sum is none beside lumber.
    let charges = Charges {
        set_up: some("25"),
        drive: a_mile("1.50"),
        blade: some("40"),
        hour: some("80"),
        tax: Some(percent(10_000_000)),
        least: Least { sum: some("300"), ..Least::default() },
        ..shared(1, 3)
    };
    let lumber = vec![counted(10, "1x6x8", true, None), counted(1, "8x8x10", true, None)];
    let done = Done { lumber, drive: miles(20_000), blades: 1, ..day() };
    let bill = Bill::of(&done, &charges, Way::Share).unwrap();
    let lines = [(Charge::SetUp, "25.00"), (Charge::Drive, "30.00"), (Charge::Blade, "40.00")];
    check(&bill, &lines, "104.50");
    // 40 + 53 1/3 bf, a third of it 31 1/9; of ten boards three, 12 bf, of one timber none.
    let share = bill.in_lumber.unwrap();
    assert_eq!((share.shared, share.board_feet), (93_333_333, 31_111_111));
    let sawyers: Vec<u32> = share.sizes.iter().map(|size| size.sawyers).collect();
    assert_eq!((sawyers, share.rest), (vec![0, 3], 19_111_111));
    // Nothing of it is shared.
    let none = Done { lumber: vec![counted(3, "2x4x8", false, None)], ..Done::default() };
    let share = Bill::of(&none, &charges, Way::Share).unwrap().in_lumber.unwrap();
    assert_eq!((share.board_feet, share.sizes.len(), share.worth), (0, 0, None));
}

#[test]
fn fewer_boards_where_less_comes() {
    let lumber = vec![counted(5, "1x6x8", false, None), counted(5, "1x4x8", false, None)];
    let log = DoneLog { lumber, ..DoneLog::default() };
    let all: i64 = log.lumber.iter().map(|lumber| lumber.named).sum();
    for tenths in 0..=10 {
        let less = log.less(all * tenths / 10);
        let boards: u32 = less.lumber.iter().map(|it| it.boards.unwrap().count).sum();
        assert_eq!(i64::from(boards), tenths);
    }
}

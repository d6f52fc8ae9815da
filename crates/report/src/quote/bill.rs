//! What it costs, as a table; and both ways side by side.

use pithward_day::money::{Bill, BillFault, Charge, Line, Price, Quantity};
use pithward_measure::Length;

use super::words;
use crate::names::{self, tenths};
use crate::paper::{Paper, Side, Table};
use crate::terms::Terms;

/// The lines of a bill with their sum.
pub(crate) fn bill(paper: &mut Paper, job: &impl Terms, bill: &Bill) {
    let mut table = Table::new(&[
        ("what", Side::Left),
        ("how much", Side::Right),
        ("at", Side::Right),
        ("amount", Side::Right),
    ]);
    for line in &bill.lines {
        table.row([
            charge(job, line.charge),
            quantity(line),
            if line.quantity == Quantity::Sum { String::new() } else { line.price.to_string() },
            line.amount.to_string(),
        ]);
    }
    let mut more = |what: &str, amount: pithward_measure::Money| {
        if amount.as_ten_thousandths() != 0 {
            table.row([what.to_owned(), String::new(), String::new(), amount.to_string()]);
        }
    };
    more("discount, taken off", bill.discount);
    more("tax", bill.tax);
    more("rounding", bill.rounding);
    table.sum(["in all".to_owned(), String::new(), String::new(), bill.total.to_string()]);
    paper.table(table);
    if bill.deposit.as_ten_thousandths() != 0 {
        paper.say(format!("Before the day: {}. The rest: {}.", bill.deposit, bill.due));
    }
}

/// One sentence or two that compare both ways, where both have a price.
pub(super) fn both(price: &Price) -> Option<String> {
    let (hour, foot) = match (&price.by_hour, &price.by_board_foot) {
        (Some(Ok(hour)), Some(Ok(foot))) => (hour, foot),
        _ => return None,
    };
    let less = if hour.total.as_ten_thousandths() <= foot.total.as_ten_thousandths() {
        "By the hour is less"
    } else {
        "By the board foot is less"
    };
    Some(format!(
        "{less}, if the day goes as reckoned: {} by the hour, {} by the board foot. By the hour a slow day costs you \
         more and a quick one less; by the board foot it costs the same.",
        hour.total, foot.total
    ))
}

/// What an hour buys.
pub(super) fn an_hour(price: &Price) -> Option<String> {
    let board_feet = words::whole_feet(price.board_feet_an_hour?);
    let each = match &price.by_hour {
        Some(Ok(bill)) => bill.a_board_foot.map(|each| format!(", and a board foot costs {each}")),
        _ => None,
    };
    Some(format!("An hour makes about {board_feet} board feet{}.", each.unwrap_or_default()))
}

/// Why a bill cannot be told.
pub(crate) fn faults(faults: &[BillFault]) -> String {
    let all: Vec<String> = faults.iter().map(ToString::to_string).collect();
    format!("No price can be told: {}.", all.join("; "))
}

fn charge(job: &impl Terms, charge: Charge) -> String {
    match charge {
        Charge::Hours => "sawing".to_owned(),
        Charge::OddHours => "odd work".to_owned(),
        Charge::LeastHours => "up to the least hours".to_owned(),
        Charge::BoardFeet { class: None } => "sawing".to_owned(),
        Charge::BoardFeet { class: Some(class) } => {
            format!("sawing, up to {} thick", names::exact(job, class))
        }
        Charge::LeastBoardFeet => "up to the least board feet".to_owned(),
        Charge::Moving => "moving and cleaning logs".to_owned(),
        Charge::SetUp => "coming and setting up".to_owned(),
        Charge::Drive => "the way there and back".to_owned(),
        Charge::Relocation => "moving the mill on site".to_owned(),
        Charge::Strike => "blades sharpened after metal".to_owned(),
        Charge::Blade => "blades ruined by metal".to_owned(),
        Charge::LeastSum => "up to the least sum".to_owned(),
    }
}

fn quantity(line: &Line) -> String {
    match line.quantity {
        Quantity::Seconds(seconds) => {
            words::time(f64::from(i32::try_from(seconds / 60).unwrap_or(i32::MAX)))
        }
        Quantity::BoardFeet(board_feet) => format!("{} bf", tenths(board_feet)),
        Quantity::Way { way, per } => {
            let unit = if per == Length::mm(1_000_000) { "km" } else { "miles" };
            format!("{:.1} {unit}", way.inches_f64() / per.inches_f64())
        }
        Quantity::Count(count) => count.to_string(),
        Quantity::Sum => String::new(),
    }
}

//! What it costs, as a table; and all ways side by side.

use pithward_day::money::{Bill, BillFault, Charge, InLumber, Line, Price, Quantity, Way};
use pithward_job::PileJob;
use pithward_measure::Length;

use super::words;
use crate::names::{self, tenths};
use crate::paper::{Paper, Side, Table};

/// How sawing is paid: `by the hour`.
pub(crate) fn way(way: Way) -> &'static str {
    match way {
        Way::Hour => "by the hour",
        Way::BoardFoot => "by the board foot",
        Way::Board => "by the board",
        Way::Share => "in lumber",
    }
}

/// What has no price where the mill states none.
pub(crate) const NO_PRICE: &str =
    "The mill file states no price (hour, board_foot, board or share, below [charges]).";

/// The lines of a bill with their sum, and what is paid in lumber.
pub(crate) fn bill(paper: &mut Paper, job: &PileJob, bill: &Bill) {
    if let Some(lumber) = &bill.in_lumber {
        in_lumber(paper, job, lumber);
        if bill.lines.is_empty() {
            return;
        }
        paper.say("And in money:");
    }
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

/// The bill in every way that the mill states, side by side.
pub(super) fn ways(paper: &mut Paper, quoted: &super::Quoted<'_>) {
    for (of, own) in quoted.promise.price.ways() {
        match own {
            Ok(own) => {
                paper.say(format!("{}:", names::capital(way(of))));
                bill(paper, quoted.job, own);
            }
            Err(of_it) => {
                paper.say(format!("{}: {}", names::capital(way(of)), faults(of_it)));
            }
        }
    }
}

/// What the sawyer is paid in lumber: his boards by size, and what is made up beside them.
fn in_lumber(paper: &mut Paper, job: &PileJob, lumber: &InLumber) {
    let InLumber { portion, shared, board_feet, sizes, rest, worth } = lumber;
    if sizes.is_empty() {
        paper.say("None of what comes out is among what is shared: the sawyer is paid no lumber.");
        return;
    }
    let mut table = Table::new(&[
        ("what is shared", Side::Left),
        ("in all", Side::Right),
        ("the sawyer's", Side::Right),
        ("the customer's", Side::Right),
    ]);
    for size in sizes {
        let customers = size.count.saturating_sub(size.sawyers);
        table.row([
            size.size.to_string(),
            size.count.to_string(),
            size.sawyers.to_string(),
            customers.to_string(),
        ]);
    }
    let metres = metres_a_foot(job, lumber);
    let feet = |millionths: i64| match metres {
        None => format!("{} bf", tenths(millionths)),
        Some(each) => format!("{:.3} m3", f64_of(millionths) * each),
    };
    table.sum([
        "by named size".to_owned(),
        feet(*shared),
        feet(*board_feet),
        feet(shared.saturating_sub(*board_feet)),
    ]);
    paper.table(table);
    let mut said = vec![format!(
        "The sawyer's part is {portion} of what is shared; what is not shared is the customer's."
    )];
    if *rest > 0 {
        said.push(format!(
            "Of each size he has as many whole boards as his part gives, rounded down; of his part {} are left, and made \
             up in boards that both agree on.",
            feet(*rest)
        ));
    }
    said.push("Who chooses the boards, and when, is agreed in the terms.".to_owned());
    said.push(match worth {
        Some(worth) => format!(
            "By the prices of the list his part is worth {} {}.",
            names::figure((*worth + 5_000).div_euclid(10_000) * 10_000),
            job.worth.unit
        ),
        None => "What it is worth is not told: the list has no prices for all that is shared."
            .to_owned(),
    });
    paper.items(said);
}

/// Cubic metres by named size for each millionth of a board foot of what is shared; `None` of a job that is not in
/// millimetres.
fn metres_a_foot(job: &PileJob, lumber: &InLumber) -> Option<f64> {
    let metres = lumber.sizes.iter().map(|of| {
        let sides = [of.size.thickness, of.size.width.least(), of.size.length.unwrap_or_default()];
        sides.iter().map(|side| side.mm_f64() / 1000.0).product::<f64>() * f64::from(of.count)
    });
    let metres: f64 = metres.sum();
    (job.scale.is_metric() && lumber.shared > 0).then(|| metres / f64_of(lumber.shared))
}

#[allow(clippy::cast_precision_loss, reason = "far below 2^53 millionths of a board foot")]
fn f64_of(millionths: i64) -> f64 {
    millionths as f64
}

/// All ways that have a price in money, the least first, and what each leaves open.
pub(super) fn side_by_side(price: &Price) -> Option<String> {
    let mut all: Vec<(Way, &Bill)> = price
        .ways()
        .filter(|(way, _)| *way != Way::Share)
        .filter_map(|(way, bill)| Some((way, bill.as_ref().ok()?)))
        .collect();
    all.sort_by_key(|(_, bill)| bill.total.as_ten_thousandths());
    let ((least, _), [_, _, ..]) = (all.first()?, all.as_slice()) else { return None };
    let totals: Vec<String> =
        all.iter().map(|(of, bill)| format!("{} {}", bill.total, way(*of))).collect();
    let same = match (price.by_board_foot.is_some(), price.by_board.is_some()) {
        (true, true) => "by the foot or the board",
        (false, true) => "by the board",
        _ => "by the board foot",
    };
    let open = match price.by_hour {
        Some(_) => format!(
            " By the hour a slow day costs more and a quick one less; {same} it costs the same."
        ),
        None => String::new(),
    };
    Some(format!(
        "{} is least, if the day goes as reckoned: {}.{open}",
        names::capital(way(*least)),
        names::list(&totals)
    ))
}

/// What an hour buys.
pub(super) fn an_hour(quoted: &super::Quoted<'_>) -> Option<String> {
    let price = &quoted.promise.price;
    let made = quoted.lumber_of(price.board_feet_an_hour?);
    let each = match &price.by_hour {
        Some(Ok(bill)) => quoted.unit_price(bill.total.currency(), bill.a_board_foot),
        _ => None,
    };
    let each = each.map(|each| format!(", and {each}")).unwrap_or_default();
    Some(format!("An hour makes about {made}{each}."))
}

/// Why a bill cannot be told.
pub(crate) fn faults(faults: &[BillFault]) -> String {
    let all: Vec<String> = faults.iter().map(ToString::to_string).collect();
    format!("No price can be told: {}.", all.join("; "))
}

fn charge(job: &PileJob, charge: Charge) -> String {
    match charge {
        Charge::Hours => "sawing".to_owned(),
        Charge::OddHours => "odd work".to_owned(),
        Charge::LeastHours => "up to the least hours".to_owned(),
        Charge::BoardFeet { class: None } => "sawing".to_owned(),
        Charge::BoardFeet { class: Some(class) } => {
            format!("sawing, up to {} thick", names::exact(job, class))
        }
        Charge::LeastBoardFeet => "up to the least board feet".to_owned(),
        Charge::Boards { up_to: Some(size) } => format!("sawing, each board up to {size}"),
        Charge::Boards { up_to: None } => "sawing, each larger board".to_owned(),
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
        Quantity::Seconds(seconds) => words::billed(seconds),
        Quantity::BoardFeet(board_feet) => format!("{} bf", tenths(board_feet)),
        Quantity::Way { way, per } => {
            let unit = if per == Length::mm(1_000_000) { "km" } else { "miles" };
            format!("{:.1} {unit}", way.inches_f64() / per.inches_f64())
        }
        Quantity::Count(count) => count.to_string(),
        Quantity::Sum => String::new(),
    }
}

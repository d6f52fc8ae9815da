//! The lines of a bill.

use pithward_job::{BilledHours, Charges, FootBasis};
use pithward_measure::{Length, Money};
use pithward_trade::{DiameterRounding, scale};

use super::BillFault;
use super::bill::{Charge, Line, Quantity, Way};
use super::done::{Done, DoneLog, rounded};
use super::lumber::Lumber;

/// Millionths.
const MILLION: i64 = 1_000_000;
const HOUR: i64 = 3600;

/// The seconds that are billed, rounded as the mill says.
pub(super) fn billed_seconds(done: &Done, charges: &Charges) -> i64 {
    let worked = match charges.billed() {
        BilledHours::OnSite => done.on_site,
        BilledHours::AtTheSaw => done.at_the_saw,
    };
    to_step(worked, charges)
}

fn to_step(seconds: i64, charges: &Charges) -> i64 {
    let step = i64::try_from(charges.hour_step.to.as_secs()).unwrap_or(HOUR);
    rounded(seconds, step, charges.hour_step.way)
}

/// Board feet that are billed, millionths.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct BilledFeet {
    /// By the thickness that is billed; all in one where no classes are told.
    by_class: Vec<(Option<Length>, i64)>,
    /// What is billed for short and thin logs beyond their own.
    pub(super) for_short_logs: i64,
}

/// All lines but those of the least that is billed.
#[derive(Debug)]
pub(super) struct Lines<'a> {
    charges: &'a Charges,
    pub(super) lines: Vec<Line>,
    too_much: bool,
}

impl<'a> Lines<'a> {
    pub(super) fn of(
        done: &Done,
        charges: &'a Charges,
        way: Way,
        feet: &BilledFeet,
    ) -> Result<Self, Vec<BillFault>> {
        let mut lines = Self { charges, lines: Vec::new(), too_much: false };
        match way {
            Way::Hour => lines.hours(done),
            Way::BoardFoot => lines.board_feet(feet, charges.foot(done.lumber_work)),
            Way::Board => lines.boards(done)?,
            Way::Share => {}
        }
        let moving = to_step(done.moving, charges);
        let moving = Quantity::Seconds(moving);
        lines.push(Charge::Moving, moving, charges.moving_hour.or(charges.hour));
        lines.push(Charge::SetUp, Quantity::Count(1), charges.set_up);
        if let Some(drive) = charges.drive {
            let way = Quantity::Way { way: done.drive, per: drive.per };
            lines.push(Charge::Drive, way, Some(drive.price));
        }
        let count = Quantity::Count;
        lines.push(Charge::Relocation, count(done.relocations), charges.relocation);
        lines.push(Charge::Strike, count(done.strikes), charges.strike);
        lines.push(Charge::Blade, count(done.blades), charges.blade);
        if lines.too_much { Err(vec![BillFault::TooMuch]) } else { Ok(lines) }
    }

    fn hours(&mut self, done: &Done) {
        let charges = self.charges;
        let all = billed_seconds(done, charges);
        let odd = charges.odd_hour.map_or(0, |_| to_step(done.odd, charges).min(all));
        self.push(Charge::Hours, Quantity::Seconds(all - odd), charges.hour);
        self.push(Charge::OddHours, Quantity::Seconds(odd), charges.odd_hour);
        let least = charges.least.hours.map_or(0, |least| least.as_secs());
        let missing = i64::try_from(least).unwrap_or(i64::MAX) - all;
        self.push(Charge::LeastHours, Quantity::Seconds(missing.max(0)), charges.hour);
    }

    fn board_feet(&mut self, feet: &BilledFeet, price: Option<Money>) {
        for (class, feet) in &feet.by_class {
            self.push(Charge::BoardFeet { class: *class }, Quantity::BoardFeet(*feet), price);
        }
        let all = feet.by_class.iter().fold(0_i64, |sum, (_, feet)| sum.saturating_add(*feet));
        let missing = self.charges.least.board_feet.unwrap_or(0) - all;
        self.push(Charge::LeastBoardFeet, Quantity::BoardFeet(missing.max(0)), price);
    }

    /// Every board by the first price that takes its size, in the order of the prices.
    fn boards(&mut self, done: &Done) -> Result<(), Vec<BillFault>> {
        let prices = &self.charges.boards;
        let mut counts = vec![0_u32; prices.len()];
        let mut faults = Vec::new();
        for lumber in done.all_lumber() {
            let Some(boards) = lumber.boards else {
                faults.push(BillFault::NotCounted);
                continue;
            };
            match prices.iter().position(|price| price.takes(boards.sides())) {
                Some(place) => counts[place] = counts[place].saturating_add(boards.count),
                None if boards.count > 0 => {
                    faults.push(BillFault::NoBoardPrice { size: boards.size });
                }
                None => {}
            }
        }
        // Each fault once, though many logs give such boards.
        let mut told: Vec<BillFault> = Vec::new();
        for fault in faults {
            if !told.contains(&fault) {
                told.push(fault);
            }
        }
        if !told.is_empty() {
            return Err(told);
        }
        for (price, count) in prices.iter().zip(counts) {
            let charge = Charge::Boards { up_to: price.up_to };
            self.push(charge, Quantity::Count(count), Some(price.price));
        }
        Ok(())
    }

    /// A line, unless there is nothing of it or it costs nothing.
    fn push(&mut self, charge: Charge, quantity: Quantity, price: Option<Money>) {
        let Some(price) = price.filter(|price| price.as_ten_thousandths() != 0) else { return };
        let (of, per) = match quantity {
            Quantity::Seconds(seconds) => (seconds, HOUR),
            Quantity::BoardFeet(millionths) => (millionths, MILLION),
            Quantity::Way { way, per } => (way.as_nm(), per.as_nm()),
            Quantity::Count(count) => (i64::from(count), 1),
            Quantity::Sum => (1, 1),
        };
        if of == 0 {
            return;
        }
        match price.share_to(of, per, Money::CENT) {
            Some(amount) => self.add(Line { charge, quantity, price, amount, taxed: false }),
            None => self.too_much = true,
        }
    }

    fn add(&mut self, line: Line) {
        let taxed = self.charges.taxes(line.charge.item());
        self.lines.push(Line { taxed, ..line });
    }

    /// Fills a sum up to the least that is billed.
    pub(super) fn fill_up(&mut self, sum: Money) -> Option<Money> {
        let Some(least) = self.charges.least.sum else { return Some(sum) };
        let missing = least.minus(sum)?;
        if missing.as_ten_thousandths() <= 0 {
            return Some(sum);
        }
        let (charge, quantity) = (Charge::LeastSum, Quantity::Sum);
        self.add(Line { charge, quantity, price: missing, amount: missing, taxed: false });
        Some(least)
    }
}

impl BilledFeet {
    /// The board feet of what was done, as the mill counts them.
    pub(super) fn of(done: &Done, charges: &Charges) -> Result<Self, Vec<BillFault>> {
        let mut feet = Self::default();
        let mut faults = Vec::new();
        for (n, log) in done.logs.iter().enumerate() {
            match charges.basis {
                FootBasis::Scale(rule) => {
                    let scaled = |(small_end, length)| {
                        scale(rule, small_end, length, DiameterRounding::Nearest)
                            .map(|scale| scale.board_feet.saturating_mul(MILLION))
                    };
                    let own = (log.small_end, log.length);
                    let small_end = charges.thin_log.map_or(own.0, |thin| thin.max(own.0));
                    let billed = (small_end, billed_length(log, charges));
                    match scaled(billed) {
                        Ok(feet_billed) => {
                            feet.add(None, feet_billed);
                            if billed != own {
                                feet.short(feet_billed - scaled(own).unwrap_or(0));
                            }
                        }
                        Err(fault) => faults.push(BillFault::NoScale {
                            log: n,
                            id: match log.id.as_str() {
                                "" => (n + 1).to_string(),
                                id => id.to_owned(),
                            },
                            fault,
                        }),
                    }
                }
                FootBasis::Named | FootBasis::Sawn => {
                    let (billed, own) = (billed_length(log, charges), log.length);
                    for lumber in &log.lumber {
                        feet.lumber(lumber, charges, (billed.as_nm(), own.as_nm()));
                    }
                }
            }
        }
        let of_a_scale = matches!(charges.basis, FootBasis::Scale(_));
        if of_a_scale && !done.lumber.is_empty() {
            faults.push(BillFault::NoLog);
        }
        for lumber in done.lumber.iter().filter(|_| !of_a_scale) {
            feet.lumber(lumber, charges, (1, 1));
        }
        feet.by_class.sort_unstable();
        if faults.is_empty() { Ok(feet) } else { Err(faults) }
    }

    /// Lumber of a log that is billed as if it were longer, by `(billed, own)`.
    fn lumber(&mut self, lumber: &Lumber, charges: &Charges, (billed, own): (i64, i64)) {
        let (thickness, feet) = match charges.basis {
            FootBasis::Sawn => (lumber.sawn_thickness, lumber.sawn),
            FootBasis::Named | FootBasis::Scale(_) => (lumber.thickness, lumber.named),
        };
        let class = (!charges.classes.is_empty()).then(|| charges.class(thickness));
        // What is under an inch counts as an inch already.
        let inch = Length::inches(1);
        let thick = class.unwrap_or(thickness).max(inch).as_nm();
        let of_class = part(feet, thick, thickness.max(inch).as_nm());
        let all = if own > 0 { part(of_class, billed, own) } else { of_class };
        self.short(all.saturating_sub(of_class));
        self.add(class, all);
    }

    fn add(&mut self, class: Option<Length>, feet: i64) {
        match self.by_class.iter_mut().find(|(known, _)| *known == class) {
            Some((_, sum)) => *sum = sum.saturating_add(feet),
            None => self.by_class.push((class, feet)),
        }
    }

    fn short(&mut self, feet: i64) {
        self.for_short_logs = self.for_short_logs.saturating_add(feet);
    }
}

/// The length that a log is billed at.
fn billed_length(log: &DoneLog, charges: &Charges) -> Length {
    charges.short_log.map_or(log.length, |short| short.max(log.length))
}

/// `of x numerator / denominator`, to the nearest; as it is over nothing.
fn part(of: i64, numerator: i64, denominator: i64) -> i64 {
    if numerator == denominator || denominator <= 0 {
        return of;
    }
    // A length has at most 63 bits and board feet as many, so neither product nor its double overflows 127 bits by much.
    let Some(product) = i128::from(of).checked_mul(i128::from(numerator)) else { return i64::MAX };
    let over = i128::from(denominator);
    let nearest = (product + over / 2).div_euclid(over);
    i64::try_from(nearest).unwrap_or(i64::MAX)
}

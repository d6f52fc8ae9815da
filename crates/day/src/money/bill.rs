//! A bill: its lines, its sums, and what an hour and a board foot came to.

use pithward_job::{Charges, Item};
use pithward_measure::{Currency, Length, Money, Size};

use super::in_lumber::InLumber;
use super::lines::{BilledFeet, Lines, billed_seconds};
use super::{BillFault, Done};

/// The letters that ISO 4217 has for no currency.
const NO_CURRENCY: &str = "XXX";

/// How sawing is paid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// By the hour.
    Hour,
    /// By the board foot.
    BoardFoot,
    /// By the board.
    Board,
    /// In lumber.
    Share,
}

impl Way {
    /// All of them, in the order in which they are told.
    pub const ALL: [Self; 4] = [Self::Hour, Self::BoardFoot, Self::Board, Self::Share];

    /// Whether a mill states what that costs.
    pub fn is_stated(self, charges: &Charges) -> bool {
        match self {
            Self::Hour => charges.hour.is_some(),
            Self::BoardFoot => charges.board_foot.is_some(),
            Self::Board => !charges.boards.is_empty(),
            Self::Share => charges.share.is_some(),
        }
    }

    /// The first way that a mill states: what is taken where nobody agreed on one.
    pub fn first(charges: &Charges) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.is_stated(charges))
    }

    /// Its place in [`Way::ALL`].
    pub fn place(self) -> usize {
        Self::ALL.iter().position(|way| *way == self).unwrap_or_default()
    }
}

/// A bill. Where nothing is paid in money its amounts are nothing, of the currency `XXX`, which ISO 4217 has for none.
#[derive(Clone, Debug, PartialEq)]
pub struct Bill {
    /// How sawing is paid.
    pub way: Way,
    /// What is paid for, in the order of [`Item::ALL`], and last what fills it up to the least that is billed. What there is
    /// nothing of has no line.
    pub lines: Vec<Line>,
    /// All lines together.
    pub sum: Money,
    /// What is taken off.
    pub discount: Money,
    /// What is taxed, less its share of the discount.
    pub taxable: Money,
    /// The tax.
    pub tax: Money,
    /// What rounding the total adds or takes off.
    pub rounding: Money,
    /// What is to be paid.
    pub total: Money,
    /// What is paid before the day.
    pub deposit: Money,
    /// What is left to pay; less than nothing where the deposit was more.
    pub due: Money,
    /// Seconds that are billed, or would be.
    pub seconds: i64,
    /// Board feet that were billed for short and thin logs beyond their own, millionths.
    pub for_short_logs: i64,
    /// What is paid in lumber; `None` where nothing is.
    pub in_lumber: Option<InLumber>,
    /// What an hour came to before tax, of the seconds; `None` without any, and where lumber is paid.
    pub an_hour: Option<Money>,
    /// What a board foot by named sizes came to before tax; `None` without any, and where lumber is paid.
    pub a_board_foot: Option<Money>,
}

/// One line of a bill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// What is paid for.
    pub charge: Charge,
    /// How much of it.
    pub quantity: Quantity,
    /// What one costs: an hour, a board foot, a mile or a kilometre, or one of what is counted.
    pub price: Money,
    /// Both together, to the hundredth.
    pub amount: Money,
    /// It is taxed.
    pub taxed: bool,
}

/// What is paid for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Charge {
    /// Hours of sawing.
    Hours,
    /// Hours of odd work.
    OddHours,
    /// Up to the least hours.
    LeastHours,
    /// Board feet; of a thickness, where thicknesses are billed by classes.
    BoardFeet {
        /// The thickness that is billed.
        class: Option<Length>,
    },
    /// Up to the least board feet.
    LeastBoardFeet,
    /// Boards; up to a size, or larger than all that have one.
    Boards {
        /// The size.
        up_to: Option<Size>,
    },
    /// Moving and cleaning logs.
    Moving,
    /// Coming and setting up.
    SetUp,
    /// The way there and back.
    Drive,
    /// Moving the mill on site.
    Relocation,
    /// Blades that met metal and are set and sharpened again.
    Strike,
    /// Blades that metal ruined.
    Blade,
    /// Up to the least sum.
    LeastSum,
}

/// How much of something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Seconds, of which 3600 have the price.
    Seconds(i64),
    /// Millionths of a board foot.
    BoardFeet(i64),
    /// A way, and what of it has the price.
    Way {
        /// The way.
        way: Length,
        /// A mile or a kilometre.
        per: Length,
    },
    /// A count.
    Count(u32),
    /// An amount in itself.
    Sum,
}

impl Charge {
    /// The item of the bill that it belongs to, by which it is taxed.
    pub fn item(self) -> Item {
        match self {
            Self::Hours | Self::OddHours | Self::LeastHours => Item::Sawing,
            Self::BoardFeet { .. } | Self::LeastBoardFeet | Self::LeastSum => Item::Sawing,
            Self::Boards { .. } => Item::Sawing,
            Self::Moving => Item::Moving,
            Self::SetUp => Item::SetUp,
            Self::Drive => Item::Drive,
            Self::Relocation => Item::Relocation,
            Self::Strike | Self::Blade => Item::Blades,
        }
    }
}

impl Bill {
    /// What is to be paid for what was done, sawing paid one way. A price that the mill does not state costs nothing.
    ///
    /// # Errors
    /// Every log without a scale where scale is paid; every size of board without a price where boards are; lumber whose
    /// boards nobody counted where they are paid or shared; an amount that is more than can be held.
    pub fn of(done: &Done, charges: &Charges, way: Way) -> Result<Self, Vec<BillFault>> {
        let too_much = || vec![BillFault::TooMuch];
        let feet = match way {
            Way::BoardFoot => BilledFeet::of(done, charges)?,
            Way::Hour | Way::Board | Way::Share => BilledFeet::default(),
        };
        let in_lumber = match (way, &charges.share) {
            (Way::Share, Some(share)) => Some(InLumber::of(done, share)?),
            _ => None,
        };
        let lines = Lines::of(done, charges, way, &feet)?;
        let currency = charges.currency().or_else(|| Currency::parse(NO_CURRENCY));
        let currency = currency.ok_or_else(too_much)?;
        let seconds = billed_seconds(done, charges);
        let bill = Self::sums(lines, charges, way, currency).ok_or_else(too_much)?;
        let net = bill.sum.minus(bill.discount).ok_or_else(too_much)?;
        let board_feet = done.board_feet();
        let in_money = in_lumber.is_none();
        Ok(Self {
            seconds,
            for_short_logs: feet.for_short_logs,
            an_hour: (seconds > 0 && in_money).then(|| net.share(3600, seconds)).flatten(),
            a_board_foot: (board_feet > 0 && in_money)
                .then(|| net.share(1_000_000, board_feet))
                .flatten(),
            in_lumber,
            ..bill
        })
    }

    /// The sums of some lines.
    fn sums(mut lines: Lines<'_>, charges: &Charges, way: Way, currency: Currency) -> Option<Self> {
        let none = Money::none(currency);
        let amounts = |lines: &Lines<'_>, of: fn(&Line) -> bool| {
            let mut amounts = lines.lines.iter().filter(|line| of(line)).map(|line| line.amount);
            amounts.try_fold(none, Money::plus)
        };
        let own = amounts(&lines, |_| true)?;
        // Who is paid in lumber is paid no least sum on top of it.
        let sum = if way == Way::Share { own } else { lines.fill_up(own)? };
        let discount = charges.discount.map_or(Some(none), |part| part.of(sum))?.min(sum);
        let taxed = amounts(&lines, |line| line.taxed)?;
        let off = match sum.as_ten_thousandths() {
            0 => none,
            all => discount.share_to(taxed.as_ten_thousandths(), all, Money::CENT)?,
        };
        let taxable = taxed.minus(off)?;
        let tax = match charges.tax {
            Some(tax) => pithward_job::Part::Share(tax).of(taxable)?,
            None => none,
        };
        let exact = sum.minus(discount)?.plus(tax)?;
        let step = charges.total_step.map_or(1, Money::as_ten_thousandths).max(1);
        let total = exact.share_to(1, 1, step)?;
        let deposit = charges.deposit.map_or(Some(none), |part| part.of(total))?;
        Some(Self {
            way,
            lines: lines.lines,
            sum,
            discount,
            taxable,
            tax,
            rounding: total.minus(exact)?,
            total,
            deposit,
            due: total.minus(deposit)?,
            seconds: 0,
            for_short_logs: 0,
            in_lumber: None,
            an_hour: None,
            a_board_foot: None,
        })
    }
}

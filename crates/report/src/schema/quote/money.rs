//! The form of bills and charges.

use schemars::JsonSchema;
use serde::Serialize;

/// An amount of money.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct MoneyForm {
    /// In units of the currency, decimal text with two places or four; no part of it is rounded.
    #[schemars(regex(pattern = r"^-?[0-9]+\.([0-9]{2}|[0-9]{4})$"))]
    pub(crate) amount: String,
    /// The three letters of the currency.
    #[schemars(regex(pattern = r"^[A-Z]{3}$"))]
    pub(crate) currency: String,
}

/// What it costs, in every way that the mill states.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PriceForm {
    /// By the hour; null where the mill states no price of one.
    pub(crate) by_hour: Option<PricedForm>,
    /// By the board foot; null where the mill states no price of one.
    pub(crate) by_board_foot: Option<PricedForm>,
    /// By the board; null where the mill states no price of one.
    pub(crate) by_board: Option<PricedForm>,
    /// In lumber; null where the mill states no share of it.
    pub(crate) by_share: Option<PricedForm>,
    /// Board feet that an hour makes, of those hours that would be billed; null where there are none.
    pub(crate) board_feet_an_hour: Option<i64>,
}

/// A bill, or why there is none.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum PricedForm {
    /// The bill.
    Bill(Box<BillForm>),
    /// Why no price can be told.
    Faults(Vec<BillFaultForm>),
}

/// Why something has no price.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BillFaultForm {
    /// The log that it is about, a place in `logs`; null where it is about none.
    pub(crate) log: Option<usize>,
    /// What is wrong.
    pub(crate) says: String,
}

/// A part of a whole, in lowest terms.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PortionForm {
    /// So many parts.
    pub(crate) part: i64,
    /// Of so many.
    pub(crate) whole: i64,
}

impl From<(i64, i64)> for PortionForm {
    fn from((part, whole): (i64, i64)) -> Self {
        Self { part, whole }
    }
}

/// What the sawyer is paid in lumber.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct InLumberForm {
    /// The sawyer's part of what is shared.
    pub(crate) portion: PortionForm,
    /// Board feet that are shared, by named sizes.
    pub(crate) shared: i64,
    /// The sawyer's part of them, rounded down.
    pub(crate) board_feet: i64,
    /// Every size that is shared.
    pub(crate) sizes: Vec<SizeShareForm>,
    /// Board feet that the sawyer's whole boards leave of his part: made up in whichever boards both agree on.
    pub(crate) rest: i64,
    /// What the sawyer's part is worth by the prices of the list, millionths of the job's unit of worth; null where some of
    /// what is shared has none.
    pub(crate) worth: Option<i64>,
}

/// Boards of one size that are shared.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct SizeShareForm {
    /// The size with its length, as it is named.
    pub(crate) size: String,
    /// How many there are.
    pub(crate) count: u32,
    /// How many of them are the sawyer's at least.
    pub(crate) sawyers: u32,
    /// Board feet of all of them.
    pub(crate) board_feet: i64,
}

/// A bill. Where nothing is paid in money all amounts are nothing, of the currency `XXX`, which ISO 4217 has for none. `sum` is that of all `lines`; `total` is the sum less the discount, with the tax and the rounding; `due` is the
/// total less the deposit.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BillForm {
    /// What is paid for; what there is nothing of has no line.
    pub(crate) lines: Vec<LineForm>,
    /// All lines together.
    pub(crate) sum: MoneyForm,
    /// What is taken off.
    pub(crate) discount: MoneyForm,
    /// What is taxed, less its share of the discount.
    pub(crate) taxable: MoneyForm,
    /// The tax.
    pub(crate) tax: MoneyForm,
    /// What rounding the total adds or takes off.
    pub(crate) rounding: MoneyForm,
    /// What is to be paid.
    pub(crate) total: MoneyForm,
    /// What is paid before the day.
    pub(crate) deposit: MoneyForm,
    /// What is left to pay; less than nothing where the deposit was more.
    pub(crate) due: MoneyForm,
    /// The time that is billed, or would be.
    pub(crate) time: i64,
    /// Board feet that are billed for short and thin logs beyond their own.
    pub(crate) for_short_logs: i64,
    /// What the sawyer is paid in lumber; null where nothing is.
    pub(crate) in_lumber: Option<InLumberForm>,
    /// What an hour comes to before tax; null without any.
    pub(crate) an_hour: Option<MoneyForm>,
    /// What a board foot by named sizes comes to before tax; null without any.
    pub(crate) a_board_foot: Option<MoneyForm>,
}

/// One line of a bill.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LineForm {
    /// What is paid for.
    pub(crate) charge: ChargeForm,
    /// The thickness that is billed, of board feet where thicknesses are billed by classes; else null.
    pub(crate) class: Option<i64>,
    /// The size, of boards up to one; null of boards that are larger than all that have one, and of all else.
    pub(crate) up_to: Option<String>,
    /// How much of it.
    pub(crate) quantity: QuantityForm,
    /// What one costs: an hour, a board foot, `per` of a way, or one of what is counted.
    pub(crate) price: MoneyForm,
    /// Both together, to the hundredth.
    pub(crate) amount: MoneyForm,
    /// It is taxed.
    pub(crate) taxed: bool,
}

/// What is paid for.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ChargeForm {
    /// Hours of sawing.
    Hours,
    /// Hours of odd work.
    OddHours,
    /// Up to the least hours.
    LeastHours,
    /// Board feet.
    BoardFeet,
    /// Up to the least board feet.
    LeastBoardFeet,
    /// Boards, by their size.
    Boards,
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
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum QuantityForm {
    /// So long; whole seconds.
    Time(i64),
    /// Board feet.
    BoardFeet(i64),
    /// A way.
    Way {
        /// How far.
        length: i64,
        /// What of it has the price: a mile or a kilometre.
        per: i64,
    },
    /// A count.
    Count(u32),
    /// An amount in itself.
    Sum,
}

/// What the mill charges; what it does not state is null.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ChargesForm {
    /// An hour of sawing.
    pub(crate) hour: Option<MoneyForm>,
    /// An hour of odd work; as any other where it is null.
    pub(crate) odd_hour: Option<MoneyForm>,
    /// An hour of moving and cleaning logs; as sawing where it is null.
    pub(crate) moving_hour: Option<MoneyForm>,
    /// Which hours are billed.
    pub(crate) billed: BilledForm,
    /// A board foot.
    pub(crate) board_foot: Option<MoneyForm>,
    /// A board foot where the sawyer stacks the lumber; as any other where it is null.
    pub(crate) stacked_foot: Option<MoneyForm>,
    /// A board foot where the sawyer delivers the lumber; as one that he stacks where it is null.
    pub(crate) delivered_foot: Option<MoneyForm>,
    /// Board feet of what.
    pub(crate) basis: FootBasisForm,
    /// The log rule, where the scale of the logs is what is paid; else null.
    pub(crate) rule: Option<String>,
    /// Thicknesses that are billed, each board as the next of them; none where it is billed as it is.
    pub(crate) classes: Vec<i64>,
    /// A shorter log is billed as if it were so long.
    pub(crate) short_log: Option<i64>,
    /// Where the scale of the logs is paid, a thinner log is billed as if its small end were so thick.
    pub(crate) thin_log: Option<i64>,
    /// What each board costs: the first line that takes its size counts.
    pub(crate) boards: Vec<BoardPriceForm>,
    /// What the sawyer is paid in lumber.
    pub(crate) share: Option<ShareForm>,
    /// Coming and setting up.
    pub(crate) set_up: Option<MoneyForm>,
    /// The way there and back.
    pub(crate) drive: Option<DriveForm>,
    /// Moving the mill to another place of the yard, each time.
    pub(crate) relocation: Option<MoneyForm>,
    /// A blade that met metal and is set and sharpened again, each time.
    pub(crate) strike: Option<MoneyForm>,
    /// A blade that metal ruined.
    pub(crate) blade: Option<MoneyForm>,
    /// The least time that is billed.
    pub(crate) least_time: Option<i64>,
    /// The least board feet that are billed.
    pub(crate) least_board_feet: Option<i64>,
    /// The least sum that is billed.
    pub(crate) least_sum: Option<MoneyForm>,
}

/// What a board costs.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BoardPriceForm {
    /// Of one.
    pub(crate) price: MoneyForm,
    /// Up to this size; null for all that are larger.
    pub(crate) up_to: Option<String>,
}

/// What the sawyer is paid in lumber.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ShareForm {
    /// His part of what is shared.
    pub(crate) portion: PortionForm,
    /// What is shared, in words; all where the list is empty.
    pub(crate) of: Vec<String>,
}

/// A price by the mile or the kilometre.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct DriveForm {
    /// What it costs.
    pub(crate) price: MoneyForm,
    /// For so far.
    pub(crate) per: i64,
}

/// Which hours are billed.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum BilledForm {
    /// From setting up to packing up, without the breaks.
    OnSite,
    /// Work at the logs and changes of blades.
    AtTheSaw,
}

/// Board feet of what.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum FootBasisForm {
    /// What was sawn, by named sizes.
    Named,
    /// What was sawn, by the sizes that it was sawn to.
    Sawn,
    /// The scale of the logs by a rule.
    Scale,
}

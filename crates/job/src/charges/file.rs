//! The charges of a mill in its file, `[charges]`.

use schemars::JsonSchema;
use serde::Serialize;

use pithward_measure::{Excerpt, Length, Money, Unit};
use pithward_trade::nearest_word;

use super::boards::{BoardPrice, board};
use super::share::{Share, portion, shared};
use super::text::{
    self, basis, drive, foot, hour, hour_step, item, least, money, odd, part, percent,
};
use super::{BilledHours, Charges, FootBasis, Least, OddWork, Part};
use crate::fault::{ChargeFault, Fault, FaultKind, Misread};
use crate::file::{Fields, Form, Right};
use crate::pace::PercentForm;
use crate::typed::{Asked, Typed};

/// What a mill charges. Amounts have the three letters of their currency, and all are in the same one. What is left out is
/// not charged.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ChargesForm {
    /// What an hour of sawing costs: `75 USD/h`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hour: Option<String>,
    /// An hour of odd work; as any other where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub odd_hour: Option<String>,
    /// What is odd work: `thin` (under 1 in), `thick` (over 1 1/2 in), `quarter`, `beams` (5 in and more both ways).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub odd_work: Option<WordsForm>,
    /// An hour of moving and cleaning logs; as sawing where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moving_hour: Option<String>,
    /// Which hours are billed: `on site`, from setting up to packing up without breaks, or `at the saw`; where it is left
    /// out at the saw if `set_up` is charged, else on site.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["on site", "at the saw"]))]
    pub billed: Option<String>,
    /// What the sum of hours is rounded to: `15 min up`; to the nearest minute where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub round_hours: Option<String>,
    /// What a board foot costs: `0.45 USD/bf`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board_foot: Option<String>,
    /// What a board foot costs where the sawyer stacks the lumber; as `board_foot` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stacked_foot: Option<String>,
    /// What a board foot costs where the sawyer delivers the lumber; as `stacked_foot` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivered_foot: Option<String>,
    /// Board feet of what: `named` sizes, `sawn` sizes, or the scale of the logs by `international`, `scribner` or `doyle`;
    /// `named` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["named", "sawn", "international", "scribner", "doyle"]))]
    pub basis: Option<String>,
    /// Thicknesses that are billed: a board counts as the next that is not below its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickness_classes: Option<WordsForm>,
    /// A shorter log is billed as if it were so long.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short_log: Option<String>,
    /// Where the scale of the logs is paid, a thinner log is billed as if its small end were so thick.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thin_log: Option<String>,
    /// What each board costs up to a size, by its named size, the smaller first, and what a larger one does:
    /// `["4 GBP up to 4x8x20", "6 GBP"]`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board: Option<WordsForm>,
    /// The sawyer is paid in lumber, and this part of it is his: `half`, `1/3` or `40 %`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub share: Option<String>,
    /// What is shared: `all`, `graded` (boards that are wanted by grade), a grade and what is better, or sizes; `all` where it
    /// is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shared: Option<WordsForm>,
    /// Coming and setting up: `25 USD`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_up: Option<String>,
    /// The way there and back: `1.50 USD/mile` or `0.90 EUR/km`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drive: Option<String>,
    /// Moving the mill to another place of the yard, each time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub relocation: Option<String>,
    /// A blade that met metal and is set and sharpened again, each time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub metal_strike: Option<String>,
    /// A blade that metal ruined.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ruined_blade: Option<String>,
    /// The least that is billed: hours, board feet or a sum, or a list with one of each.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub minimum: Option<WordsForm>,
    /// What is taken off before tax: `5 %` or `50 USD`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub discount: Option<String>,
    /// Tax in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tax: Option<PercentForm>,
    /// What is taxed: `sawing`, `moving`, `set_up`, `drive`, `relocation`, `blades`; all where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taxed: Option<WordsForm>,
    /// What the total is rounded to; to the hundredth where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub round_total: Option<String>,
    /// What is paid before the day: `20 %` or `100 USD`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub deposit: Option<String>,
}

/// One text, or a list of them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum WordsForm {
    /// One.
    One(String),
    /// A list.
    List(Vec<String>),
}

const FORM: Form = Form {
    of: "[charges]",
    fields: &[
        "hour",
        "odd_hour",
        "odd_work",
        "moving_hour",
        "billed",
        "round_hours",
        "board_foot",
        "stacked_foot",
        "delivered_foot",
        "basis",
        "thickness_classes",
        "short_log",
        "thin_log",
        "board",
        "share",
        "shared",
        "set_up",
        "drive",
        "relocation",
        "metal_strike",
        "ruined_blade",
        "minimum",
        "discount",
        "tax",
        "taxed",
        "round_total",
        "deposit",
    ],
};

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [charges], as in hour = \"75 USD/h\"",
    bare: false,
};
const TEXT: Right = Right {
    what: "a text in quotes",
    help: "write an amount in quotes, as in \"75 USD/h\", \"0.45 USD/bf\" or \"25 USD\"",
    bare: false,
};
const WORDS: Right = Right {
    what: "a text in quotes, or a list of them",
    help: "write the words in quotes, as in \"thin/quarter\"",
    bare: false,
};
const LIST: Right =
    Right { what: "a text in quotes, or a list of them", help: text::BOARD_HELP, bare: false };
const TEXT_OF_SHARE: Right =
    Right { what: "a text in quotes", help: text::PORTION_HELP, bare: false };
const WORDS_SHARED: Right =
    Right { what: "a text in quotes, or a list of them", help: text::SHARED_HELP, bare: false };
const PERCENT: Right = Right { what: "a percentage", help: text::PERCENT_HELP, bare: true };
const CLASS: Asked = Asked {
    help: "write the thicknesses that are billed, thinnest first, as in [\"1 in\", \"2 in\", \"3 in\", \"4 in\"]",
    bare: Unit::Inch,
};
const SHORT: Asked = Asked {
    help: "write the length that a shorter log is billed at, as in \"8 ft\"",
    bare: Unit::Foot,
};
const THIN: Asked = Asked {
    help: "write the diameter of the small end that a thinner log is billed at, as in \"12 in\"",
    bare: Unit::Inch,
};
const BILLED_HELP: &str =
    "write \"on site\" (from setting up to packing up, without breaks) or \"at the saw\"";
const CURRENCY_HELP: &str = "state all amounts in one currency";

/// The charges that a mill's fields say; every fault goes to the others.
pub(crate) fn charges(mill: &Fields<'_>, faults: &mut Vec<Fault>) -> Charges {
    let mut charges = Charges::default();
    let Some(table) = mill.table("charges", TABLE, faults) else { return charges };
    let before = faults.len();
    let fields = Fields::of(mill.file, table, &FORM, faults);
    let mut amounts = Amounts { fields, first: None };
    charges.hour = amounts.read("hour", faults, hour, |money| money);
    charges.odd_hour = amounts.read("odd_hour", faults, hour, |money| money);
    charges.moving_hour = amounts.read("moving_hour", faults, hour, |money| money);
    for (name, figure) in [
        ("board_foot", &mut charges.board_foot),
        ("stacked_foot", &mut charges.stacked_foot),
        ("delivered_foot", &mut charges.delivered_foot),
    ] {
        *figure = amounts.read(name, faults, foot, |money| money);
    }
    charges.boards = amounts.boards(faults);
    charges.drive = amounts.read("drive", faults, drive, |drive| drive.price);
    for (name, figure) in [
        ("set_up", &mut charges.set_up),
        ("relocation", &mut charges.relocation),
        ("metal_strike", &mut charges.strike),
        ("ruined_blade", &mut charges.blade),
        ("round_total", &mut charges.total_step),
    ] {
        *figure = amounts.read(name, faults, money, |money| money);
    }
    for (name, figure) in [("discount", &mut charges.discount), ("deposit", &mut charges.deposit)] {
        *figure = amounts.read_part(name, faults);
    }
    charges.least = amounts.least(faults);
    let read = fields.typed("round_hours", TEXT, faults).read(faults, hour_step);
    charges.hour_step = read.unwrap_or_default();
    let read = fields.typed("basis", TEXT, faults).read(faults, basis);
    charges.basis = read.unwrap_or_default();
    charges.hours_of = fields.typed("billed", TEXT, faults).read(faults, billed);
    let tax = |text: &str| percent(text, 100);
    charges.tax = fields.typed("tax", PERCENT, faults).read(faults, tax);
    charges.odd = odd_work(&fields, faults);
    charges.share = share(&fields, faults);
    charges.taxed = taxed(&fields, faults);
    charges.classes = classes(&fields, faults);
    let limits = Length::feet(1)..=Length::feet(60);
    charges.short_log = fields.typed("short_log", TEXT, faults).length(faults, SHORT, limits);
    let limits = Length::inches(1)..=Length::inches(60);
    charges.thin_log = fields.typed("thin_log", TEXT, faults).length(faults, THIN, limits);
    if faults.len() == before {
        alone(&fields, &charges, faults);
    }
    charges
}

/// Rules without what they belong to.
fn alone(fields: &Fields<'_>, charges: &Charges, faults: &mut Vec<Fault>) {
    let has = |name| fields.node(name).is_some();
    let foot = ["basis", "thickness_classes", "short_log", "stacked_foot", "delivered_foot"]
        .map(|rule| (rule, "board_foot"));
    let hour = ["odd_hour", "billed", "round_hours"].map(|rule| (rule, "hour"));
    let rest =
        [("odd_work", "odd_hour"), ("odd_hour", "odd_work"), ("taxed", "tax"), ("shared", "share")];
    for (rule, needs) in foot.into_iter().chain(hour).chain(rest) {
        if let Some(at) = fields.key_at(rule).filter(|_| !has(needs)) {
            let typed = Typed::absent(rule, fields.file, at);
            let help = format!("state {needs} too, or take the line out");
            faults.push(typed.fault(ChargeFault::Alone { needs }, help));
        }
    }
    if !matches!(charges.basis, FootBasis::Scale(_))
        && let Some(at) = fields.key_at("thin_log")
    {
        let typed = Typed::absent("thin_log", fields.file, at);
        let help = "set basis to international, scribner or doyle, or take the line out";
        faults.push(typed.fault(ChargeFault::Alone { needs: "basis" }, help));
    }
    debug_assert!(charges.taxed.as_ref().is_none_or(|taxed| !taxed.is_empty()));
}

/// Amounts as they are read, and the currency of the first.
struct Amounts<'f> {
    fields: Fields<'f>,
    first: Option<(&'static str, Money)>,
}

impl Amounts<'_> {
    fn read<T: Copy>(
        &mut self,
        name: &'static str,
        faults: &mut Vec<Fault>,
        read: impl FnOnce(&str) -> Result<T, Misread>,
        money: impl FnOnce(T) -> Money,
    ) -> Option<T> {
        let typed = self.fields.typed(name, TEXT, faults);
        let amount = typed.read(faults, read)?;
        self.hold(&typed, money(amount), faults);
        Some(amount)
    }

    fn read_part(&mut self, name: &'static str, faults: &mut Vec<Fault>) -> Option<Part> {
        let typed = self.fields.typed(name, TEXT, faults);
        let read = typed.read(faults, part)?;
        if let Part::Sum(money) = read {
            self.hold(&typed, money, faults);
        }
        Some(read)
    }

    fn least(&mut self, faults: &mut Vec<Fault>) -> Least {
        let mut all = Least::default();
        for typed in self.fields.list("minimum", WORDS, faults) {
            let before = all.sum;
            let read = typed.read(faults, |text| least(text, &mut all));
            if let (Some(()), Some(sum)) = (read, all.sum.filter(|_| before.is_none())) {
                self.hold(&typed, sum, faults);
            }
        }
        all
    }

    /// What each board costs, line by line.
    fn boards(&mut self, faults: &mut Vec<Fault>) -> Vec<BoardPrice> {
        let mut all = Vec::new();
        for typed in self.fields.list("board", LIST, faults) {
            if let Some(line) = typed.read(faults, |text| board(text, &all)) {
                self.hold(&typed, line.price, faults);
                all.push(line);
            }
        }
        all
    }

    /// Holds an amount against the currency of those before it.
    fn hold(&mut self, typed: &Typed, money: Money, faults: &mut Vec<Fault>) {
        let (other, first) = *self.first.get_or_insert((typed.name, money));
        let (currency, first) = (money.currency(), first.currency());
        if currency != first {
            let kind = ChargeFault::TwoCurrencies { currency, other, first };
            faults.push(typed.fault(kind, CURRENCY_HELP));
        }
    }
}

fn billed(text: &str) -> Result<BilledHours, Misread> {
    let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    match words.join(" ").as_str() {
        "on site" => Ok(BilledHours::OnSite),
        "at the saw" => Ok(BilledHours::AtTheSaw),
        other => {
            let nearest = nearest_word(other, &["on site", "at the saw"]);
            let got = Excerpt::new(text);
            let kind = FaultKind::Unknown { what: "way to count hours", got, nearest };
            Err(Misread::new(kind, 0..0, BILLED_HELP))
        }
    }
}

fn odd_work(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> OddWork {
    let mut all = OddWork::default();
    for typed in fields.list("odd_work", WORDS, faults).iter().flat_map(text::words) {
        typed.read(faults, |text| odd(text, &mut all));
    }
    all
}

/// What the sawyer is paid in lumber.
fn share(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Option<Share> {
    let portion = fields.typed("share", TEXT_OF_SHARE, faults).read(faults, portion);
    let named = fields.list("shared", WORDS_SHARED, faults);
    let mut of = Vec::new();
    for typed in &named {
        let is_all = |text: &str| text.trim().eq_ignore_ascii_case("all");
        match typed.text.as_deref() {
            Some(text) if is_all(text) && named.len() == 1 => {}
            Some(text) if is_all(text) => {
                faults.push(typed.fault(ChargeFault::AllBeside, text::SHARED_HELP));
            }
            _ => {
                typed.read(faults, |text| shared(text, &mut of));
            }
        }
    }
    Some(Share { portion: portion?, of })
}

fn taxed(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Option<Vec<super::Item>> {
    let typed = fields.list("taxed", WORDS, faults);
    if typed.is_empty() {
        return None;
    }
    let mut items = Vec::new();
    for typed in typed.iter().flat_map(text::words) {
        typed.read(faults, |text| item(text, &mut items));
    }
    Some(items).filter(|items| !items.is_empty())
}

fn classes(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Vec<Length> {
    let limits = Length::sixty_fourths(16)..=Length::inches(24);
    let mut classes: Vec<Length> = Vec::new();
    for typed in fields.list("thickness_classes", WORDS, faults) {
        let Some(class) = typed.length(faults, CLASS, limits.clone()) else { continue };
        if classes.last().is_some_and(|last| *last >= class) {
            let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
            faults.push(typed.fault(ChargeFault::ClassesFall { got }, CLASS.help));
        }
        classes.push(class);
    }
    classes
}

//! The pace of a mill in its file, `[pace]`.

use schemars::JsonSchema;
use serde::Serialize;

use super::Pace;
use super::text::{feed, rate, speed, time};
use crate::fault::{Fault, FaultKind};
use crate::file::{Fields, Form, Right};
use crate::typed::{Typed, percentage};
use pithward_measure::Excerpt;

/// How long the steps of sawing take on a mill. Whatever is left out is as stated: the middle of what sawyers tell of
/// hydraulic trailer mills.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct PaceForm {
    /// Loading a log that lies ready; 90 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load: Option<String>,
    /// Choosing the first face, levelling the pith and clamping; 45 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub level: Option<String>,
    /// Turning onto another face, with levelling and clamping; 55 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turn: Option<String>,
    /// Feed in softwood at a width of cut; 55 ft/min at 10 in where it is left out. Width times feed stays the same.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub softwood_feed: Option<String>,
    /// The same in hardwood, and in wood that nobody named; 32 ft/min at 10 in where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hardwood_feed: Option<String>,
    /// The fastest feed, however narrow the cut; 70 ft/min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fastest_feed: Option<String>,
    /// The way back; 90 ft/min where it is left out.
    #[serde(rename = "return", skip_serializing_if = "Option::is_none")]
    pub back: Option<String>,
    /// Setting the height of one pass; 6 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<String>,
    /// Taking away what a pass frees, without a helper; 22 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub take_away_alone: Option<String>,
    /// The same with helpers; 8 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub take_away_helped: Option<String>,
    /// How many help; one where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 20))]
    pub helpers: Option<u32>,
    /// Handling one batch of flitches, without its passes; 60 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edging_batch: Option<String>,
    /// Taking a part off that goes on again later, or putting it on; 30 s where it is left out.
    #[serde(rename = "move", skip_serializing_if = "Option::is_none")]
    pub shift: Option<String>,
    /// How much of the time goes to these steps, in percent; 75 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub utilisation: Option<PercentForm>,
    /// What an hour costs: `75 USD/h`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate: Option<String>,
}

/// A percentage, as a number or as a text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum PercentForm {
    /// As a number.
    Number(serde_json::Number),
    /// As a text.
    Text(String),
}

/// The fields of `[pace]`, in the order in which they are written.
pub(super) const FIELDS: [&str; 15] = [
    "load",
    "level",
    "turn",
    "softwood_feed",
    "hardwood_feed",
    "fastest_feed",
    "return",
    "set",
    "take_away_alone",
    "take_away_helped",
    "helpers",
    "edging_batch",
    "move",
    "utilisation",
    "rate",
];

const FORM: Form = Form { of: "[pace]", fields: &FIELDS };

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [pace], as in load = \"90 s\"",
    bare: false,
};
const TEXT: Right = Right {
    what: "a text in quotes",
    help: "write a number and its unit in quotes, as in \"90 s\", \"90 ft/min\" or \"75 USD/h\"",
    bare: false,
};
const PERCENT: Right =
    Right { what: "a percentage", help: "write a number, as in 75, or \"75 %\"", bare: true };

const UTILISATION_HELP: &str =
    "write how many minutes of a hundred go to sawing and handling, from 10 to 100, as in 75";
const HELPERS_HELP: &str = "write how many help, from 0 to 20, without quotes";

/// The pace that a mill's fields say, as stated where they say nothing; every fault goes to the others.
pub(crate) fn pace(mill: &Fields<'_>, faults: &mut Vec<Fault>) -> Pace {
    let mut pace = Pace::default();
    let Some(table) = mill.table("pace", TABLE, faults) else { return pace };
    let fields = Fields::of(mill.file, table, &FORM, faults);
    for (name, figure) in [
        ("load", &mut pace.load),
        ("level", &mut pace.level),
        ("turn", &mut pace.turn),
        ("set", &mut pace.set),
        ("take_away_alone", &mut pace.take_alone),
        ("take_away_helped", &mut pace.take_helped),
        ("edging_batch", &mut pace.edging),
        ("move", &mut pace.shift),
    ] {
        let read = fields.typed(name, TEXT, faults).read(faults, time);
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure) in
        [("softwood_feed", &mut pace.softwood), ("hardwood_feed", &mut pace.hardwood)]
    {
        let read = fields.typed(name, TEXT, faults).read(faults, feed);
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure) in [("fastest_feed", &mut pace.fastest), ("return", &mut pace.back)] {
        let read = fields.typed(name, TEXT, faults).read(faults, speed);
        *figure = read.unwrap_or(*figure);
    }
    let helpers = fields.whole("helpers", 0..=20, HELPERS_HELP, faults);
    pace.helpers = helpers.unwrap_or(pace.helpers);
    let utilisation = fields.typed("utilisation", PERCENT, faults);
    pace.utilisation = share(&utilisation, faults).unwrap_or(pace.utilisation);
    pace.rate = fields.typed("rate", TEXT, faults).read(faults, rate);
    pace
}

/// A percentage in thousandths.
fn share(typed: &Typed, faults: &mut Vec<Fault>) -> Option<u32> {
    let percent = typed.read(faults, percentage(UTILISATION_HELP))?;
    if !(10.0..=100.0).contains(&percent) {
        let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
        let kind = FaultKind::Share { least: 10, greatest: 100, got };
        faults.push(typed.fault(kind, UTILISATION_HELP));
        return None;
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held against its limits just above"
    )]
    let thousandths = (percent * 10.0).round() as u32;
    Some(thousandths)
}

//! The pace of a mill in its file, `[pace]`.

use std::ops::RangeInclusive;
use std::time::Duration;

use schemars::JsonSchema;
use serde::Serialize;

use super::text::{area, feed, long, speed, time};
use super::{Pace, Stated};
use crate::fault::{Fault, PaceFault};
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
    /// Loading a log from a pile that does not lie ready; 330 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load_piled: Option<String>,
    /// Loading a log that must be dragged, with a winch; 330 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load_dragged: Option<String>,
    /// How fast one goes for a log and comes back with it; 60 ft/min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub haul: Option<String>,
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
    /// Carrying one piece to the stack and stacking it; 20 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stack: Option<String>,
    /// Handling one batch of flitches, without its passes; 60 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edging_batch: Option<String>,
    /// Taking a part off that goes on again later, or putting it on; 30 s where it is left out.
    #[serde(rename = "move", skip_serializing_if = "Option::is_none")]
    pub shift: Option<String>,
    /// How much of the time goes to these steps, in percent; 75 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub utilisation: Option<PercentForm>,
    /// Setting up where the mill comes to stand; 20 min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_up: Option<String>,
    /// What soft or sloping ground adds to it; 15 min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub block_up: Option<String>,
    /// Packing up; 20 min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack_up: Option<String>,
    /// Covering up in the evening, uncovering and greasing next morning; 15 min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overnight: Option<String>,
    /// Laying out and emptying a tarp for sawdust and slabs, each day; 15 min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tidy: Option<String>,
    /// The longest day on site, breaks and all; 8 h where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    /// One break; 15 min where it is left out.
    #[serde(rename = "break", skip_serializing_if = "Option::is_none")]
    pub rest: Option<String>,
    /// So much work between breaks; 2 h where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub break_every: Option<String>,
    /// Changing a blade; 270 s where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blade_change: Option<String>,
    /// Time in the wood after which a blade is changed; 105 min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blade_hours: Option<String>,
    /// Sawn area after which it is changed in clean softwood; 700 ft2 where it is left out. What comes first counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub softwood_blade: Option<String>,
    /// The same in hardwood, and in wood that nobody named; 450 ft2 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hardwood_blade: Option<String>,
    /// How much of that is left where the bark is dirty, in percent; 65 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dirty_blade: Option<PercentForm>,
    /// How much of it is left in frozen wood, in percent; 50 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frozen_blade: Option<PercentForm>,
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
pub(super) const FIELDS: [&str; 32] = [
    "load",
    "load_piled",
    "load_dragged",
    "haul",
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
    "stack",
    "edging_batch",
    "move",
    "utilisation",
    "set_up",
    "block_up",
    "pack_up",
    "overnight",
    "tidy",
    "day",
    "break",
    "break_every",
    "blade_change",
    "blade_hours",
    "softwood_blade",
    "hardwood_blade",
    "dirty_blade",
    "frozen_blade",
];

const FORM: Form = Form { of: "[pace]", fields: &FIELDS };

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [pace], as in load = \"90 s\"",
    bare: false,
};
const TEXT: Right = Right {
    what: "a text in quotes",
    help: "write a number and its unit in quotes, as in \"90 s\", \"90 ft/min\" or \"600 ft2\"",
    bare: false,
};
const PERCENT: Right =
    Right { what: "a percentage", help: "write a number, as in 75, or \"75 %\"", bare: true };

const UTILISATION_HELP: &str =
    "write how many minutes of a hundred go to sawing and handling, from 10 to 100, as in 75";
const LEFT_HELP: &str =
    "write how much of a blade's life is left, in percent, from 10 to 100, as in 50";
const HELPERS_HELP: &str = "write how many help, from 0 to 20, without quotes";
const LONG_HELP: &str = "write a number with its unit, as in \"20 min\" or \"2 h\"";
const MOVED_HELP: &str = "what an hour costs stands in [charges] now, as in hour = \"75 USD/h\"";

/// From so many minutes to so many.
const fn minutes(least: u64, greatest: u64) -> RangeInclusive<Duration> {
    Duration::from_secs(60 * least)..=Duration::from_secs(60 * greatest)
}

/// The pace that a mill's fields say, as stated where they say nothing; every fault goes to the others.
pub(crate) fn pace(mill: &Fields<'_>, faults: &mut Vec<Fault>) -> Pace {
    let mut pace = Pace::default();
    let Some(table) = mill.table("pace", TABLE, faults) else { return pace };
    let before = faults.len();
    let fields = Fields::of(mill.file, table, &FORM, faults);
    for fault in &mut faults[before..] {
        if fault.field == "\"rate\"" {
            fault.help = MOVED_HELP.into();
        }
    }
    let given = FIELDS.into_iter().filter(|field| fields.node(field).is_some());
    pace.stated = given.fold(pace.stated, Stated::with);
    let day = &mut pace.day;
    for (name, figure) in [
        ("load", &mut pace.load),
        ("load_piled", &mut day.load_piled),
        ("load_dragged", &mut day.load_dragged),
        ("level", &mut pace.level),
        ("turn", &mut pace.turn),
        ("set", &mut pace.set),
        ("take_away_alone", &mut pace.take_alone),
        ("take_away_helped", &mut pace.take_helped),
        ("stack", &mut day.stack),
        ("edging_batch", &mut pace.edging),
        ("move", &mut pace.shift),
        ("blade_change", &mut pace.blade.change),
    ] {
        let read = fields.typed(name, TEXT, faults).read(faults, time);
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure, limits) in [
        ("set_up", &mut day.set_up, minutes(0, 480)),
        ("block_up", &mut day.block_up, minutes(0, 480)),
        ("pack_up", &mut day.pack_up, minutes(0, 480)),
        ("overnight", &mut day.overnight, minutes(0, 120)),
        ("tidy", &mut day.tidy, minutes(0, 240)),
        ("day", &mut day.length, minutes(60, 1440)),
        ("break", &mut day.rest, minutes(0, 120)),
        ("break_every", &mut day.rest_every, minutes(15, 1440)),
        ("blade_hours", &mut pace.blade.hours, minutes(10, 2880)),
    ] {
        let read = fields.typed(name, TEXT, faults).read(faults, long(limits, LONG_HELP));
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure) in
        [("softwood_feed", &mut pace.softwood), ("hardwood_feed", &mut pace.hardwood)]
    {
        let read = fields.typed(name, TEXT, faults).read(faults, feed);
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure) in
        [("haul", &mut day.haul), ("fastest_feed", &mut pace.fastest), ("return", &mut pace.back)]
    {
        let read = fields.typed(name, TEXT, faults).read(faults, speed);
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure) in
        [("softwood_blade", &mut pace.blade.softwood), ("hardwood_blade", &mut pace.blade.hardwood)]
    {
        let read = fields.typed(name, TEXT, faults).read(faults, area);
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure, help) in [
        ("utilisation", &mut pace.utilisation, UTILISATION_HELP),
        ("dirty_blade", &mut pace.blade.dirty, LEFT_HELP),
        ("frozen_blade", &mut pace.blade.frozen, LEFT_HELP),
    ] {
        let read = share(&fields.typed(name, PERCENT, faults), help, faults);
        *figure = read.unwrap_or(*figure);
    }
    let helpers = fields.whole("helpers", 0..=20, HELPERS_HELP, faults);
    pace.helpers = helpers.unwrap_or(pace.helpers);
    pace
}

/// A percentage in thousandths.
fn share(typed: &Typed, help: &'static str, faults: &mut Vec<Fault>) -> Option<u32> {
    let percent = typed.read(faults, percentage(help))?;
    if !(10.0..=100.0).contains(&percent) {
        let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
        let kind = PaceFault::Share { least: 10, greatest: 100, got };
        faults.push(typed.fault(kind, help));
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

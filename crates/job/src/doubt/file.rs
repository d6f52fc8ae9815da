//! `[doubt]` of a job file.

use schemars::JsonSchema;
use serde::Serialize;

use super::{Doubt, Measured};
use crate::fault::{DoubtFault, Fault, FaultKind, Misread};
use crate::file::{Fields, Form, Right};
use crate::job_file::NumberOrText;
use crate::pace::time;
use crate::typed::Asked;
use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::nearest_word;
use std::collections::BTreeMap;

/// How far what is said of the pile may be off. Whatever is left out is as stated: common practice, no source. Lengths
/// are one standard deviation: two logs in three are within it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct DoubtForm {
    /// How the logs were measured: `tape`, `eye` (the sawyer's) or `told` (by the owner); `tape` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["tape", "eye", "told"]))]
    pub measured: Option<String>,
    /// Logs that were taped where most were not, by their ids.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default, length(min = 1))]
    pub tape: Vec<String>,
    /// Logs that were measured by eye where most were not.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default, length(min = 1))]
    pub eye: Vec<String>,
    /// Logs that are as their owner told where most are not.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default, length(min = 1))]
    pub told: Vec<String>,
    /// Of a diameter, every log by itself, 0 to 6 in; 1/4 in taped, 3/4 in by eye, 1 in told where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter: Option<String>,
    /// Of a diameter, all logs alike, 0 to 6 in: who reads full reads full all day; 1/8 in taped, 1/2 in by eye, 3/4 in told
    /// where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter_shared: Option<String>,
    /// Of the difference of the two ends, 0 to 6 in; 1/4 in taped, 1/2 in by eye, 3/4 in told where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taper: Option<String>,
    /// Of the length, 0 to 36 in; 1/2 in taped, 2 in by eye, 3 in told where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
    /// How often a log has rot that does not show, from 0 to 1; 0.03 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rot: Option<NumberOrText>,
    /// How far from the pith such rot goes at the butt, as a share of the radius, from 0 to 1; 0.4 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rot_radius: Option<NumberOrText>,
    /// How far up from the butt it goes, up to 100 ft; 3 ft where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rot_length: Option<String>,
    /// How often a log has metal that nobody knows of, from 0 to 1; 0.02 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub metal: Option<NumberOrText>,
    /// The stretch that is lost with it, up to 100 ft; 12 in where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub metal_stretch: Option<String>,
    /// What changing the blade and getting it out takes, an hour at most; 10 min where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub metal_time: Option<String>,
    /// How much faster or slower a day goes than the pace, from 0 to 1; 0.1 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pace_day: Option<NumberOrText>,
    /// The same of a single log; 0.2 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pace_log: Option<NumberOrText>,
}

/// The fields of `[doubt]`, in the order in which they are written.
const FIELDS: [&str; 16] = [
    "measured",
    "tape",
    "eye",
    "told",
    "diameter",
    "diameter_shared",
    "taper",
    "length",
    "rot",
    "rot_radius",
    "rot_length",
    "metal",
    "metal_stretch",
    "metal_time",
    "pace_day",
    "pace_log",
];

const FORM: Form = Form { of: "[doubt]", fields: &FIELDS };

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [doubt], as in diameter = \"1/4 in\"",
    bare: false,
};
const WORD: Right = Right { what: "a word in quotes", help: MEASURED_HELP, bare: false };
const IDS: Right = Right {
    what: "names of logs in quotes",
    help: "write what stands on their ends, as in told = [\"4\", \"5\"]",
    bare: true,
};
const LENGTH: Right = Right {
    what: "a length in quotes",
    help: "write a number and its unit in quotes, as in \"1/4 in\" or \"6 mm\"",
    bare: true,
};
const TIME: Right =
    Right { what: "a time in quotes", help: "write a time, as in \"10 min\"", bare: false };
const SHARE: Right = Right { what: "a number from 0 to 1", help: SHARE_HELP, bare: true };

pub(crate) const MEASURED_HELP: &str =
    "write tape, eye (the sawyer's own) or told (by the owner), as in measured = \"tape\"";
const SHARE_HELP: &str =
    "write a number from 0 to 1, as in 0.03 for three of a hundred, or \"3 %\"";
const IDS_HELP: &str = "name a log as the job does";
const TWICE_HELP: &str = "name the log in one of the lists";
const OWN_HELP: &str = "leave it out here, or change what its own line says of it";

const DIAMETER: Asked = Asked {
    help: "write how far a diameter may be off, 0 to 6 in, as in 1/4 in or 6 mm",
    bare: Unit::Inch,
};
const ALONG: Asked =
    Asked { help: "write how far the length may be off, 0 to 36 in, as in 1 in", bare: Unit::Inch };
const STRETCH: Asked =
    Asked { help: "write a stretch of the log, up to 100 ft, as in 3 ft", bare: Unit::Foot };

/// No diameter is off by more, one standard deviation.
const MOST_DIAMETER: Length = Length::inches(6);
/// No length is.
const MOST_LENGTH: Length = Length::inches(36);
/// No stretch of a log is longer.
const MOST_STRETCH: Length = Length::feet(100);

/// What a job's fields say of doubt, as stated where they say nothing; every fault goes to the others. `ids` are what its
/// logs are called, `own` says how those were measured that say it themselves.
pub(crate) fn doubt(
    job: &Fields<'_>,
    ids: &[&str],
    own: &BTreeMap<String, Measured>,
    faults: &mut Vec<Fault>,
) -> Doubt {
    let mut doubt = Doubt { otherwise: own.clone(), ..Doubt::default() };
    let Some(table) = job.table("doubt", TABLE, faults) else { return doubt };
    let fields = Fields::of(job.file, table, &FORM, faults);
    doubt.stated = FIELDS.into_iter().filter(|name| fields.node(name).is_some()).collect();
    let word = fields.typed("measured", WORD, faults);
    doubt.measured = word.read(faults, measured).unwrap_or_default();
    doubt.spread = doubt.measured.usual();
    let mut listed: BTreeMap<String, Measured> = BTreeMap::new();
    for (name, of) in ["tape", "eye", "told"].into_iter().zip(Measured::ALL) {
        for typed in fields.list(name, IDS, faults) {
            let Some(id) = typed.read(faults, |text| called(text, ids)) else { continue };
            let says_otherwise = own.get(&id).is_some_and(|own| *own != of);
            if listed.insert(id, of).is_some() || says_otherwise {
                let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
                let help = if says_otherwise { OWN_HELP } else { TWICE_HELP };
                faults.push(typed.fault(DoubtFault::Twice { got }, help));
            }
        }
    }
    doubt.otherwise.extend(listed);
    let spread = &mut doubt.spread;
    for (name, figure, asked, most) in [
        ("diameter", &mut spread.diameter, DIAMETER, MOST_DIAMETER),
        ("diameter_shared", &mut spread.shared, DIAMETER, MOST_DIAMETER),
        ("taper", &mut spread.taper, DIAMETER, MOST_DIAMETER),
        ("length", &mut spread.length, ALONG, MOST_LENGTH),
        ("rot_length", &mut doubt.rot.length, STRETCH, MOST_STRETCH),
        ("metal_stretch", &mut doubt.metal.stretch, STRETCH, MOST_STRETCH),
    ] {
        let read = fields.typed(name, LENGTH, faults).length(faults, asked, Length::ZERO..=most);
        *figure = read.unwrap_or(*figure);
    }
    for (name, figure) in [
        ("rot", &mut doubt.rot.share),
        ("rot_radius", &mut doubt.rot.radius),
        ("metal", &mut doubt.metal.share),
        ("pace_day", &mut doubt.pace_day),
        ("pace_log", &mut doubt.pace_log),
    ] {
        *figure = fields.typed(name, SHARE, faults).read(faults, share).unwrap_or(*figure);
    }
    let read = fields.typed("metal_time", TIME, faults).read(faults, time);
    doubt.metal.time = read.unwrap_or(doubt.metal.time);
    doubt
}

fn measured(text: &str) -> Result<Measured, Misread> {
    let word = text.trim().to_lowercase();
    Measured::ALL.into_iter().find(|measured| measured.word() == word).ok_or_else(|| unknown(text))
}

/// Reads how one log was measured, by the words that people write: `taped`, `by eye`, `told by the customer`.
pub(crate) fn measured_by(text: &str) -> Result<Measured, Misread> {
    let lower = text.to_lowercase();
    match lower.split_whitespace().collect::<Vec<_>>().join(" ").as_str() {
        "tape" | "taped" | "by tape" | "calliper" | "calipers" | "callipers" => Ok(Measured::Tape),
        "eye" | "by eye" | "eyed" | "guessed" => Ok(Measured::Eye),
        "told"
        | "owner"
        | "customer"
        | "told by the customer"
        | "told by the owner"
        | "by the customer"
        | "by the owner" => Ok(Measured::Told),
        _ => Err(unknown(text)),
    }
}

fn unknown(text: &str) -> Misread {
    let words = Measured::ALL.map(Measured::word);
    let word = text.trim().to_lowercase();
    let kind = FaultKind::Unknown {
        what: "way of measuring",
        got: Excerpt::new(text),
        nearest: nearest_word(&word, &words),
    };
    Misread::new(kind, 0..0, MEASURED_HELP)
}

/// A log by what it is called.
fn called(text: &str, ids: &[&str]) -> Result<String, Misread> {
    let id = text.trim();
    if ids.contains(&id) {
        return Ok(id.to_owned());
    }
    let got = Excerpt::new(text);
    let kind = FaultKind::Unknown { what: "log of the job", got, nearest: None };
    Err(Misread::new(kind, 0..0, IDS_HELP))
}

/// A number from 0 to 1, in plain digits.
pub(crate) fn share(text: &str) -> Result<f64, Misread> {
    let (number, of) = match text.trim().strip_suffix('%') {
        Some(percent) => (percent.trim_end(), 100.0),
        None => (text.trim(), 1.0),
    };
    let plain =
        number.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b'+'));
    let got = || Excerpt::new(text);
    match number.parse::<f64>().map(|number| number / of) {
        Ok(share) if plain && (0.0..=1.0).contains(&share) => Ok(share.abs()),
        Ok(share) if plain && share.is_finite() => {
            Err(Misread::new(DoubtFault::Share { got: got() }, 0..0, SHARE_HELP))
        }
        _ => Err(Misread::new(DoubtFault::NoShare { got: got() }, 0..0, SHARE_HELP)),
    }
}

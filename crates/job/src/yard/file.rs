//! The yard in a job file, `[yard]`.

use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::nearest_word;
use schemars::JsonSchema;
use serde::Serialize;

use super::text::{tarp, time_of_day, way};
use super::{Ground, Heard, LogsLie, Moved, Residue, Stacking, Yard};
use crate::fault::{Fault, FaultKind, Misread, YardFault};
use crate::file::{Fields, Form, Right};
use crate::pace::Pace;
use crate::typed::{Asked, Typed};

/// The yard that the mill comes to. What is left out is as if all were ready.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct YardForm {
    /// How the logs lie: `staged` (ready beside the mill), `piled` or `scattered`; `staged` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["staged", "piled", "scattered"]))]
    pub logs: Option<String>,
    /// How a log comes to the mill: `rolled`, `dragged` with a winch, or by a `machine` of the customer; `rolled` where it is
    /// left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["rolled", "dragged", "machine"]))]
    pub moved: Option<String>,
    /// How far the logs lie from the mill.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance: Option<String>,
    /// Their bark: `clean` or `dirty`; `clean` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["clean", "dirty"]))]
    pub bark: Option<String>,
    /// Their wood is frozen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frozen: Option<bool>,
    /// What the mill stands on: `firm`, `soft` or `sloping` ground; `firm` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["firm", "soft", "sloping"]))]
    pub ground: Option<String>,
    /// Times that the mill is moved to another place of the yard.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 20))]
    pub moves: Option<u32>,
    /// There is water for the blade.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water: Option<bool>,
    /// How a truck and its trailer come in, as free text on one line.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(max = 100))]
    pub access: Option<String>,
    /// There is room to turn them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turning_room: Option<bool>,
    /// Who lives within hearing, as free text on one line.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(max = 100))]
    pub neighbours: Option<String>,
    /// From when the mill may be heard: `8:00`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub noise_from: Option<String>,
    /// Until when: `17:00` or `5 pm`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub noise_to: Option<String>,
    /// What becomes of sawdust and slabs: `leave` (they stay where they fall), `pile` (the slabs are piled) or `tarp` (which
    /// catches the sawdust too); `leave` where it is left out, but `tarp` beside the size of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["leave", "pile", "tarp"]))]
    pub residue: Option<String>,
    /// The size of the tarp: `20 ft x 30 ft`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tarp: Option<String>,
    /// How many help; as the mill file says where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 20))]
    pub helpers: Option<u32>,
    /// Who stacks: `helpers` while the saw goes on, the `sawyer` while it stands, or the `customer` in his own time; helpers
    /// where there are any and it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["helpers", "sawyer", "customer"]))]
    pub stacking: Option<String>,
    /// The sawyer delivers the lumber; what a board foot then costs is `delivered_foot` of the mill file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivered: Option<bool>,
    /// The way there and back: `48 mi` or `77 km`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drive: Option<String>,
}

const FORM: Form = Form {
    of: "[yard]",
    fields: &[
        "logs",
        "moved",
        "distance",
        "bark",
        "frozen",
        "ground",
        "moves",
        "water",
        "access",
        "turning_room",
        "neighbours",
        "noise_from",
        "noise_to",
        "residue",
        "tarp",
        "helpers",
        "stacking",
        "delivered",
        "drive",
    ],
};

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [yard], as in ground = \"soft\"",
    bare: false,
};
const WORD: Right =
    Right { what: "a word in quotes", help: "write the word in quotes", bare: false };
const TEXT: Right = Right { what: "a text in quotes", help: "write a text in quotes", bare: false };
const TIME: Right = Right {
    what: "a time of the day",
    help: "write a time of the day in quotes, as in \"8:00\"",
    bare: true,
};
const DISTANCE: Asked =
    Asked { help: "write how far the logs lie from the mill, as in \"60 ft\"", bare: Unit::Foot };
/// Farther off a winch or a person does not go.
const FARTHEST: Length = Length::feet(2000);
const HELPERS_HELP: &str = "write how many help, from 0 to 20, without quotes";
const MOVES_HELP: &str = "write how often the mill is moved on site, from 0 to 20, without quotes";

const LIE: [(&str, LogsLie); 3] =
    [("staged", LogsLie::Staged), ("piled", LogsLie::Piled), ("scattered", LogsLie::Scattered)];
const MOVED: [(&str, Moved); 3] =
    [("rolled", Moved::Rolled), ("dragged", Moved::Dragged), ("machine", Moved::Machine)];
const BARK: [(&str, bool); 2] = [("clean", false), ("dirty", true)];
const GROUND: [(&str, Ground); 3] =
    [("firm", Ground::Firm), ("soft", Ground::Soft), ("sloping", Ground::Sloping)];
const RESIDUE: [(&str, Residue); 3] =
    [("leave", Residue::Leave), ("pile", Residue::Pile), ("tarp", Residue::Tarp)];
const STACKING: [(&str, Stacking); 3] = [
    ("helpers", Stacking::Helpers),
    ("sawyer", Stacking::Sawyer),
    ("customer", Stacking::Customer),
];

/// The yard that a job's fields say, as if all were ready where they say nothing; every fault goes to the others. `pace` says
/// how many help where the yard does not, `free_text` reads a line of free text.
pub(crate) fn yard(
    job: &Fields<'_>,
    pace: Option<&Pace>,
    free_text: impl Fn(&str) -> Result<String, Misread>,
    faults: &mut Vec<Fault>,
) -> Yard {
    let Some(table) = job.table("yard", TABLE, faults) else { return Yard::default() };
    let fields = Fields::of(job.file, table, &FORM, faults);
    let flag = |name, faults: &mut Vec<Fault>| {
        let (_, on) = fields.flag(name, faults);
        fields.node(name).map(|_| on)
    };
    let frozen = flag("frozen", faults).unwrap_or_default();
    let water = flag("water", faults);
    let turning_room = flag("turning_room", faults);
    let delivered = flag("delivered", faults).unwrap_or_default();
    let line = |name, faults: &mut Vec<Fault>| {
        fields.typed(name, TEXT, faults).read(faults, &free_text).unwrap_or_default()
    };
    let distance = fields.typed("distance", TEXT, faults);
    let distance = distance.length(faults, DISTANCE, Length::ZERO..=FARTHEST);
    let (residue, tarp) = residue(&fields, faults);
    let helpers = fields.whole("helpers", 0..=20, HELPERS_HELP, faults);
    let stacks = fields.typed("stacking", WORD, faults);
    let stacking = word(&stacks, "answer to who stacks", &STACKING, faults);
    let help = helpers.or(pace.map(|pace| pace.helpers));
    if stacking == Some(Stacking::Helpers) && help == Some(0) {
        faults.push(stacks.fault(
            YardFault::NobodyHelps,
            "write sawyer or customer, or say how many help, as in helpers = 1",
        ));
    }
    let one_of = |name, faults: &mut Vec<Fault>| fields.typed(name, WORD, faults);
    Yard {
        told: FORM.fields.iter().copied().filter(|field| fields.node(field).is_some()).collect(),
        logs: word(&one_of("logs", faults), "way for logs to lie", &LIE, faults)
            .unwrap_or_default(),
        moved: word(&one_of("moved", faults), "way to bring a log", &MOVED, faults)
            .unwrap_or_default(),
        distance: distance.unwrap_or_default(),
        dirty: word(&one_of("bark", faults), "state of bark", &BARK, faults).unwrap_or_default(),
        frozen,
        ground: word(&one_of("ground", faults), "kind of ground", &GROUND, faults)
            .unwrap_or_default(),
        moves: fields.whole("moves", 0..=20, MOVES_HELP, faults).unwrap_or_default(),
        water,
        access: line("access", faults),
        turning_room,
        neighbours: line("neighbours", faults),
        noise: noise(&fields, faults),
        residue,
        tarp,
        helpers,
        stacking,
        delivered,
        drive: fields.typed("drive", TEXT, faults).read(faults, way),
    }
}

/// One of some words.
fn word<T: Copy>(
    typed: &Typed,
    what: &'static str,
    words: &[(&'static str, T)],
    faults: &mut Vec<Fault>,
) -> Option<T> {
    let known: Vec<&'static str> = words.iter().map(|(word, _)| *word).collect();
    typed.read(faults, |text| {
        let lower = text.trim().to_lowercase();
        words.iter().find(|(word, _)| *word == lower).map(|(_, value)| *value).ok_or_else(|| {
            let nearest = nearest_word(&lower, &known);
            let kind = FaultKind::Unknown { what, got: Excerpt::new(text), nearest };
            Misread::new(kind, 0..0, format!("write {}", alternatives(&known)))
        })
    })
}

/// `staged, piled or scattered`.
fn alternatives(words: &[&str]) -> String {
    match words {
        [rest @ .., last] if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => words.join(", "),
    }
}

fn noise(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Option<Heard> {
    let [from, to] = ["noise_from", "noise_to"].map(|name| fields.typed(name, TIME, faults));
    let ends = [(&from, &to), (&to, &from)];
    for (given, missing) in ends {
        if given.is_given() && !missing.is_given() {
            let help = format!("state {} too", missing.name);
            faults.push(given.fault(YardFault::HalfATime { needs: missing.name }, help));
        }
    }
    let (begin, end) = (from.read(faults, time_of_day), to.read(faults, time_of_day));
    let hours = Heard { from: begin?, to: end? };
    if hours.to < hours.from + 60 {
        let got = Excerpt::new(to.text.as_deref().unwrap_or_default());
        faults
            .push(to.fault(YardFault::NoHours { got }, "a mill that may not be heard cannot saw"));
        return None;
    }
    Some(hours)
}

fn residue(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> (Residue, Option<(Length, Length)>) {
    let size = fields.typed("tarp", TEXT, faults);
    let told = fields.typed("residue", WORD, faults);
    let residue = word(&told, "way to leave sawdust and slabs", &RESIDUE, faults);
    let size_read = size.read(faults, tarp);
    match residue {
        Some(Residue::Leave | Residue::Pile) if size.is_given() => {
            let word = if residue == Some(Residue::Pile) { "pile" } else { "leave" };
            faults.push(size.fault(
                YardFault::TarpBeside { word },
                "write residue = \"tarp\", or leave the size out",
            ));
            (residue.unwrap_or_default(), None)
        }
        Some(residue) => (residue, size_read),
        None if size.is_given() => (Residue::Tarp, size_read),
        None => (Residue::Leave, None),
    }
}

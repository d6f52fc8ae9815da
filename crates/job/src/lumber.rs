//! What becomes of the lumber: how it is stacked, and what the hauler carries. `[lumber]` of the job file.
//!
//! Whatever is left out is common practice, without a source; what the hauler carries is then unknown, and no load is held
//! against it.

use pithward_measure::{Length, Unit, Weight};
use schemars::JsonSchema;
use serde::Serialize;
use std::ops::RangeInclusive;

use crate::basis::Figure;
use crate::fault::Fault;
use crate::file::{Fields, Form, Right};
use crate::stores::weight;
use crate::typed::Asked;

/// What becomes of the lumber.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct LumberForm {
    /// What the hauler's truck or trailer carries, its payload: `3000 lb`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub payload: Option<String>,
    /// Width of a stack; 4 ft where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stack_width: Option<String>,
    /// Greatest height of a stack over its blocking; 4 ft where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stack_height: Option<String>,
    /// Thickness of the stickers; 3/4 in where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sticker: Option<String>,
    /// From one sticker to the next; where it is left out 16 in under boards that are thinner than 1 1/2 in, else 24 in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sticker_spacing: Option<String>,
}

/// How lumber is stacked, and what the hauler carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lumber {
    /// What the hauler carries at once; `None` where nobody said.
    pub payload: Option<Weight>,
    /// Width of a stack.
    pub stack_width: Length,
    /// Greatest height of a stack over its blocking.
    pub stack_height: Length,
    /// Thickness of the stickers.
    pub sticker: Length,
    /// From one sticker to the next, where it was stated.
    pub sticker_spacing: Option<Length>,
    /// Which of the figures the job states itself, in the order of the fields.
    pub stated: [bool; FIELDS.len()],
}

impl Lumber {
    /// How much a figure is, by its field; `None` where there is no such field, and where nobody states one figure for all.
    pub fn figure(&self, field: &str) -> Option<Figure> {
        match field {
            "payload" => self.payload.map(Figure::Weight),
            "stack_width" => Some(Figure::Length(self.stack_width)),
            "stack_height" => Some(Figure::Length(self.stack_height)),
            "sticker" => Some(Figure::Length(self.sticker)),
            "sticker_spacing" => self.sticker_spacing.map(Figure::Length),
            _ => None,
        }
    }
}

/// Boards that are thinner sag between stickers that lie far apart. Common practice, no source.
const THIN: Length = Length::sixty_fourths(96);
/// From sticker to sticker under thin boards, and under others: 16 to 24 in is common practice.
const SPACINGS: (Length, Length) = (Length::inches(16), Length::inches(24));

impl Default for Lumber {
    fn default() -> Self {
        Self {
            payload: None,
            stack_width: Length::feet(4),
            stack_height: Length::feet(4),
            sticker: Length::sixty_fourths(48),
            sticker_spacing: None,
            stated: [false; FIELDS.len()],
        }
    }
}

impl Lumber {
    /// The fields of `[lumber]`, in the order in which they are written.
    pub fn fields() -> impl Iterator<Item = &'static str> {
        FIELDS.into_iter()
    }

    /// From one sticker to the next under boards of a thickness.
    pub fn spacing(&self, thickness: Length) -> Length {
        let usual = if thickness < THIN { SPACINGS.0 } else { SPACINGS.1 };
        self.sticker_spacing.unwrap_or(usual)
    }
}

const FIELDS: [&str; 5] = ["payload", "stack_width", "stack_height", "sticker", "sticker_spacing"];
const FORM: Form = Form { of: "[lumber]", fields: &FIELDS };

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [lumber], as in payload = \"3000 lb\"",
    bare: false,
};
const WEIGHT: Right = Right {
    what: "a weight in quotes",
    help: "write a number and its unit in quotes, as in \"3000 lb\" or \"1.5 t\"",
    bare: false,
};
const LENGTH: Right = Right {
    what: "a length in quotes",
    help: "write a number and its unit in quotes, for instance \"4 ft\" or \"20 mm\"",
    bare: true,
};
const ASKED: Asked = Asked { help: LENGTH.help, bare: Unit::Inch };

/// What a job's fields say of its lumber; every fault goes to the others.
pub(crate) fn lumber(job: &Fields<'_>, faults: &mut Vec<Fault>) -> Lumber {
    let mut lumber = Lumber::default();
    let Some(table) = job.table("lumber", TABLE, faults) else { return lumber };
    let fields = Fields::of(job.file, table, &FORM, faults);
    lumber.payload = fields.typed("payload", WEIGHT, faults).read(faults, weight);
    let between = |least, greatest| -> RangeInclusive<Length> {
        RangeInclusive::new(Length::sixty_fourths(least), Length::sixty_fourths(greatest))
    };
    let inch = 64;
    for (name, figure, limits) in [
        ("stack_width", &mut lumber.stack_width, between(12 * inch, 240 * inch)),
        ("stack_height", &mut lumber.stack_height, between(6 * inch, 180 * inch)),
        ("sticker", &mut lumber.sticker, between(16, 4 * inch)),
    ] {
        let read = fields.typed(name, LENGTH, faults).length(faults, ASKED, limits);
        *figure = read.unwrap_or(*figure);
    }
    let spacing = fields.typed("sticker_spacing", LENGTH, faults);
    lumber.sticker_spacing = spacing.length(faults, ASKED, between(6 * inch, 96 * inch));
    lumber.stated = FIELDS.map(|field| fields.node(field).is_some());
    lumber
}

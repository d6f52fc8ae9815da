//! The kinds of things that are seen on a log, and the parts of each.

use crate::fault::Fault;
use crate::file::{Fields, Form, Right, Value};
use crate::parts::{Parts, PartsForm};
use crate::typed::Typed;

use super::words;

/// A kind of thing that is seen on a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Knot,
    Bump,
    Seam,
    Scar,
    Hole,
    Shell,
    Quality,
}

/// The quarters by the hour in their middle.
pub(super) const HOURS: [&str; 4] = ["12", "3", "6", "9"];

const ALSO: &[(&str, &str)] = &[("across", "size"), ("over", "grown_over"), ("deep", "depth")];

const KNOT: PartsForm = PartsForm {
    form: Form { of: "a knot", fields: &["clock", "at", "size", "grown_over", "rise"] },
    head: "clock",
    also: ALSO,
    right: Right {
        what: "a list of knots",
        help: "write each in braces, as in knots = [{ clock = \"2:30\", at = \"3 ft 2 in\", size = \"2 in\" }]",
        bare: false,
    },
};
const BUMP: PartsForm = PartsForm {
    form: Form { of: "a bump", fields: &["clock", "at", "size", "grown_over", "rise"] },
    right: Right {
        what: "a list of bumps",
        help: "write each in braces, as in bumps = [{ clock = \"4\", at = \"5 ft\", size = \"3 in\" }]",
        bare: false,
    },
    ..KNOT
};
const SEAM: PartsForm = PartsForm {
    form: Form { of: "a seam", fields: &["clock", "from", "to", "length", "depth"] },
    right: Right {
        what: "a list of seams",
        help: "write each in braces, as in seams = [{ clock = \"12\", from = \"butt\", to = \"6 ft\" }]",
        bare: false,
    },
    ..KNOT
};
const SCAR: PartsForm = PartsForm {
    form: Form { of: "a scar", fields: &["clock", "from", "to", "length", "wide", "depth"] },
    right: Right {
        what: "a list of scars",
        help: "write each in braces, as in scars = [{ clock = \"9\", from = \"2 ft\", to = \"5 ft\", wide = \"4 in\", depth = \"1 in\" }]",
        bare: false,
    },
    ..KNOT
};
const HOLE: PartsForm = PartsForm {
    form: Form { of: "a hole", fields: &["clock", "at", "size", "depth"] },
    right: Right {
        what: "a list of holes",
        help: "write each in braces, as in holes = [{ clock = \"7\", at = \"4 ft\", size = \"1 in\" }]",
        bare: false,
    },
    ..KNOT
};
const SHELL: PartsForm = PartsForm {
    form: Form { of: "a clear shell", fields: &HOURS },
    head: HOURS[0],
    also: &[],
    right: Right {
        what: "a length in quotes, or a table of the quarters",
        help: "for instance clear_shell = \"3 in\", or { \"12\" = \"3 in\", \"3\" = \"2 in\", \"6\" = \"3 in\", \"9\" = \"2 in\" }",
        bare: false,
    },
};
const QUALITY: PartsForm = PartsForm {
    form: Form { of: "the quality of the quarters", fields: &HOURS },
    right: Right {
        what: "a table of the quarters",
        help: "for instance quality = { \"12\" = \"clear\", \"3\" = \"few\", \"6\" = \"knotty\", \"9\" = \"few\" }",
        bare: false,
    },
    ..SHELL
};

impl Kind {
    /// All of them, in the order of their fields.
    pub(super) const ALL: [Self; 7] =
        [Self::Knot, Self::Bump, Self::Seam, Self::Scar, Self::Hole, Self::Shell, Self::Quality];

    /// Their words, in that order.
    pub(super) const WORDS: [&str; 7] =
        ["knot", "bump", "seam", "scar", "hole", "shell", "quality"];

    /// Its word.
    pub(super) fn word(self) -> &'static str {
        let place = Self::ALL.into_iter().position(|kind| kind == self);
        place.map_or("", |place| Self::WORDS[place])
    }

    pub(super) fn form(self) -> &'static PartsForm {
        match self {
            Self::Knot => &KNOT,
            Self::Bump => &BUMP,
            Self::Seam => &SEAM,
            Self::Scar => &SCAR,
            Self::Hole => &HOLE,
            Self::Shell => &SHELL,
            Self::Quality => &QUALITY,
        }
    }

    /// The parts that values without a word are, in order.
    pub(super) fn first(self) -> &'static [&'static str] {
        match self {
            Self::Knot | Self::Bump | Self::Hole => &["clock", "at", "size"],
            Self::Seam | Self::Scar => &["clock", "from", "to"],
            Self::Shell | Self::Quality => &HOURS,
        }
    }

    /// It is said of all quarters, and only once.
    pub(super) fn is_of_quarters(self) -> bool {
        matches!(self, Self::Shell | Self::Quality)
    }

    /// Whatever its field in a table says.
    pub(super) fn field(self, fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Vec<(Self, Parts)> {
        let name = match self {
            Self::Knot => "knots",
            Self::Bump => "bumps",
            Self::Seam => "seams",
            Self::Scar => "scars",
            Self::Hole => "holes",
            Self::Shell => "clear_shell",
            Self::Quality => "quality",
        };
        let Some(node) = fields.node(name) else { return Vec::new() };
        let nodes = match &node.value {
            Value::List(nodes) if !self.is_of_quarters() => &nodes[..],
            _ if self.is_of_quarters() => std::slice::from_ref(node),
            _ => {
                fields.refuse(name, node, self.form().right, faults);
                return Vec::new();
            }
        };
        let mut all = Vec::new();
        for node in nodes {
            match &node.value {
                Value::Table(table) => {
                    let whole = Typed::judged(name, fields.file, node.at.clone());
                    let of = Fields::of(fields.file, table, &self.form().form, faults);
                    all.push((self, Parts::of_table(&of, whole, self.form(), faults)));
                }
                Value::Text(_) => {
                    let typed = fields.item(name, node, self.form().right, faults);
                    all.push((self, words::parts(self, &typed, 0, faults)));
                }
                _ => fields.refuse(name, node, self.form().right, faults),
            }
        }
        all
    }
}

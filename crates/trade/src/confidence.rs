//! How far a published figure is to be trusted, carried beside the figure as data.

use std::fmt;

/// Where a figure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// Seen in a text of the source.
    Read,
    /// Computed from a formula of the source.
    Derived,
    /// General knowledge, not seen in print: a hint, never a gate.
    Memory,
    /// One operator's or one trade page's word.
    Weak,
}

impl Confidence {
    /// The mark as the tables write it: `read`, `derived`, `memory` or `weak`.
    pub(crate) fn parse(mark: &str) -> Option<Self> {
        match mark {
            "read" => Some(Self::Read),
            "derived" => Some(Self::Derived),
            "memory" => Some(Self::Memory),
            "weak" => Some(Self::Weak),
            _ => None,
        }
    }
}

impl fmt::Display for Confidence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Read => "read",
            Self::Derived => "derived",
            Self::Memory => "memory",
            Self::Weak => "weak",
        })
    }
}

/// A published number and how far it is to be trusted; its unit is that of the field it stands in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The number.
    pub value: f64,
    /// Where it comes from.
    pub confidence: Confidence,
}

#[cfg(test)]
mod tests {
    use super::Confidence;

    #[test]
    fn marks_read_back_as_they_print() {
        for mark in ["read", "derived", "memory", "weak"] {
            assert_eq!(Confidence::parse(mark).unwrap().to_string(), mark);
        }
        assert_eq!(Confidence::parse("hearsay"), None);
    }
}

//! The grades and their names.

use std::fmt;

/// A hardwood factory grade, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// First and seconds.
    Fas,
    /// FAS on the better face.
    FasOneFace,
    /// FAS on the better face, smaller boards.
    Selects,
    /// Number 1 Common.
    No1Common,
    /// Number 2A Common.
    No2ACommon,
    /// Number 3A Common.
    No3ACommon,
    /// Number 3B Common.
    No3BCommon,
}

impl Grade {
    /// All of them, the best first.
    pub const ALL: [Self; 7] = [
        Self::Fas,
        Self::FasOneFace,
        Self::Selects,
        Self::No1Common,
        Self::No2ACommon,
        Self::No3ACommon,
        Self::No3BCommon,
    ];

    /// Its name in the trade.
    pub fn name(self) -> &'static str {
        match self {
            Self::Fas => "FAS",
            Self::FasOneFace => "F1F",
            Self::Selects => "Selects",
            Self::No1Common => "No. 1 Common",
            Self::No2ACommon => "No. 2A Common",
            Self::No3ACommon => "No. 3A Common",
            Self::No3BCommon => "No. 3B Common",
        }
    }

    /// The grade of this name.
    pub fn parse(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|grade| grade.name() == name)
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

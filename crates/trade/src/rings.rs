//! Flat, rift and quarter: classes of boards by the angle of the growth rings to the wide face.
//!
//! There are at least three conventions, and no angle is a class without saying which ([`RingConvention`]). A
//! class begins at its lower bound: 60 degrees is quarter sawn under [`RingConvention::Thirds`]. Whether a
//! board is judged at mid-width or by a share of its width is for whoever measures the angle to say.
//!
//! # Source
//! `data/published/ring_classes.csv`, each row with its own. The two classes of [`RingConvention::Halves`] are
//! from memory: a hint.

use crate::Confidence;
use crate::published::{self, TableFault};
use std::fmt;
use std::sync::LazyLock;

const CLASSES: &str = include_str!("../../../data/published/ring_classes.csv");

static TABLE: LazyLock<Vec<RingRange>> = LazyLock::new(|| {
    parse().expect("the table is embedded, and `the_embedded_table_parses` proves it sound")
});

/// How the rings lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RingClass {
    /// Flat or plain sawn: the rings lie in the face.
    Flat,
    /// Rift sawn: between.
    Rift,
    /// Quarter sawn: the rings stand on the face.
    Quarter,
}

impl RingClass {
    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Rift => "rift",
            Self::Quarter => "quarter",
        }
    }

    fn parse(word: &str) -> Option<Self> {
        [Self::Flat, Self::Rift, Self::Quarter].into_iter().find(|class| class.name() == word)
    }
}

impl fmt::Display for RingClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Where the classes begin and end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RingConvention {
    /// 0, 30, 60 and 90 degrees.
    #[default]
    Thirds,
    /// 0, 45 and 90 degrees, without a rift.
    Halves,
    /// 0, 45, 75 and 90 degrees, of the hardwood trade.
    Hardwood,
}

impl RingConvention {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Thirds, Self::Halves, Self::Hardwood];

    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Thirds => "thirds",
            Self::Halves => "halves",
            Self::Hardwood => "hardwood",
        }
    }

    /// The convention of this word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|convention| convention.name() == word)
    }

    /// The class of an angle in thousandths of a degree; `None` outside of 0 to 90 degrees.
    pub fn class(self, millidegrees: i32) -> Option<RingClass> {
        self.ranges().find(|range| range.holds(millidegrees)).map(|range| range.class)
    }

    /// Its classes, from flat to quarter.
    pub fn ranges(self) -> impl Iterator<Item = &'static RingRange> {
        TABLE.iter().filter(move |range| range.convention == self)
    }
}

/// What a convention calls a class.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct RingRange {
    /// The convention.
    pub convention: RingConvention,
    /// The class.
    pub class: RingClass,
    /// Where it begins, degrees.
    pub from: i32,
    /// Where the next one begins, degrees; 90 belongs to the last.
    pub to: i32,
    /// How far it is to be trusted.
    pub confidence: Confidence,
    /// Who says so.
    pub source: String,
}

impl RingRange {
    fn holds(&self, millidegrees: i32) -> bool {
        let (from, to) = (self.from * 1000, self.to * 1000);
        (from..to).contains(&millidegrees) || (millidegrees == to && self.to == 90)
    }
}

fn parse() -> Result<Vec<RingRange>, TableFault> {
    let degrees = |cell: &str| cell.parse().ok().filter(|degrees| (0..=90).contains(degrees));
    published::read(CLASSES, |row| {
        Ok(RingRange {
            convention: row.cell("convention", "a convention", RingConvention::parse)?,
            class: row.cell("class", "a class", RingClass::parse)?,
            from: row.cell("from_degrees", "degrees", degrees)?,
            to: row.cell("to_degrees", "degrees", degrees)?,
            confidence: row.confidence("confidence")?,
            source: row.text("source")?.to_owned(),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::{RingClass, RingConvention, parse};
    use crate::Confidence;

    #[test]
    fn the_embedded_table_parses() {
        assert_eq!(parse().unwrap().len(), 8);
        for convention in RingConvention::ALL {
            let ranges: Vec<_> = convention.ranges().collect();
            assert_eq!((ranges[0].from, ranges[ranges.len() - 1].to), (0, 90));
            assert!(ranges.windows(2).all(|two| two[0].to == two[1].from));
            assert_eq!(RingConvention::parse(convention.name()), Some(convention));
        }
        assert!(RingConvention::Halves.ranges().all(|r| r.confidence == Confidence::Memory));
    }

    #[test]
    fn a_class_begins_at_its_lower_bound() {
        use RingClass::{Flat, Quarter, Rift};
        for (convention, bounds) in [
            (RingConvention::Thirds, &[(0, Flat), (30, Rift), (60, Quarter)][..]),
            (RingConvention::Halves, &[(0, Flat), (45, Quarter)]),
            (RingConvention::Hardwood, &[(0, Flat), (45, Rift), (75, Quarter)]),
        ] {
            for (n, (degrees, class)) in bounds.iter().enumerate() {
                assert_eq!(convention.class(degrees * 1000), Some(*class));
                let below = n.checked_sub(1).map(|n| bounds[n].1);
                assert_eq!(convention.class(degrees * 1000 - 1), below);
            }
            assert_eq!(convention.class(90_000), Some(Quarter));
            assert_eq!(convention.class(90_001), None);
        }
    }
}

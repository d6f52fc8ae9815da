//! The log as a solid.
//!
//! # Model
//! A log that is round, straight and clean is a frustum of a cone: the wood's radius at station `z` is
//! `r(z) = r_s + (r_b - r_s) z / L`, and the bark lies on it with its own thickness at either end. Every other
//! log is a row of [`Section`]s: oval or bowed ones follow from a tape's figures ([`Taped`]), measured ones from
//! a scanner's. Either may hold [`Flaw`]s.
//!
//! The axis of the log frame is the straight line through the pith at both ends. Between them the pith goes
//! its own way where the log is bowed.
//!
//! Whatever kind it is, the same is asked of it through [`Body`](crate::Body) and [`View`](crate::View): where
//! on a line the wood is sound, and how far the bark reaches. Nothing outside this crate knows the kind.

mod flaw;
mod looks;
mod measured;
pub(crate) mod section;
mod taped;

pub use flaw::{Flaw, FlawFault, FlawKind, FlawKinds, Region};
pub use looks::{Across, Bow, Looks};
pub use section::Section;
pub use taped::{Crook, End, Flare, Sweep, Taped};

use pithward_measure::Length;
use std::sync::Arc;
use thiserror::Error;

/// A log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Log {
    small_end: Length,
    butt: Length,
    length: Length,
    bark_small: Length,
    bark_butt: Length,
    shape: Shape,
    flaws: Arc<[Flaw]>,
}

/// What bounds the wood between the ends.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Shape {
    /// A frustum.
    Round,
    /// Sections from the small end to the butt.
    Sections(Arc<[Section]>),
}

/// Why four measurements are not a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum LogFault {
    /// Nothing there, or more than any tree has.
    #[error("the small end must be between {} and {} inches across, got {:.4}", Log::LEAST_DIAMETER.inches_f64(), Log::GREATEST_DIAMETER.inches_f64(), .0.inches_f64())]
    SmallEnd(Length),
    /// More than any tree has.
    #[error("the butt must be at most {} inches across, got {:.4}", Log::GREATEST_DIAMETER.inches_f64(), .0.inches_f64())]
    Butt(Length),
    /// The ends were swapped, or one was misread.
    #[error("the butt ({:.4} in) is smaller than the small end ({:.4} in): measure again, or swap the two", .butt.inches_f64(), .small_end.inches_f64())]
    ButtBelowSmallEnd {
        /// Diameter at the small end.
        small_end: Length,
        /// Diameter at the butt.
        butt: Length,
    },
    /// Nothing there, or longer than any tree.
    #[error("the length must be between {} and {} feet, got {:.4}", Log::LEAST_LENGTH.feet_f64(), Log::GREATEST_LENGTH.feet_f64(), .0.feet_f64())]
    Length(Length),
    /// Two diameters at right angles that no end can have.
    #[error("the {end} is {:.4} in by {:.4} in: the longer diameter comes first, and no end is more than twice as long as wide", .longer.inches_f64(), .shorter.inches_f64())]
    Oval {
        /// Which end.
        end: &'static str,
        /// The one given as the longer.
        longer: Length,
        /// The other.
        shorter: Length,
    },
    /// The pith is not in the wood.
    #[error("the pith is {:.4} in off the middle of the {end}, which is only {:.4} in from its middle to its nearest side", .off.inches_f64(), .radius.inches_f64())]
    Pith {
        /// Which end.
        end: &'static str,
        /// How far off.
        off: Length,
        /// Half of the shorter diameter.
        radius: Length,
    },
    /// A bow or a bend that is deeper than the log is thick, or is none.
    #[error("the {what} must be between 0 and the log's thickness, {:.4} in, got {:.4} in: buck the log shorter, or measure again", .most.inches_f64(), .depth.inches_f64())]
    Bow {
        /// `sweep` or `crook`.
        what: &'static str,
        /// How deep.
        depth: Length,
        /// The diameter at the small end.
        most: Length,
    },
    /// A bow or a bend that is greatest outside the log, or at its very end.
    #[error("the {what} is said to be greatest {:.4} ft from the small end: that must lie between the ends of a log of {:.4} ft", .at.feet_f64(), .length.feet_f64())]
    BowPlace {
        /// `sweep` or `crook`.
        what: &'static str,
        /// Where.
        at: Length,
        /// The log's length.
        length: Length,
    },
    /// A flare that no butt has.
    #[error("the flare must be shorter than the log and add between 0 in and {:.4} in, got {:.4} in over {:.4} in", .most.inches_f64(), .extra.inches_f64(), .long.inches_f64())]
    Flare {
        /// What it adds.
        extra: Length,
        /// Over which length.
        long: Length,
        /// Most that it may add: the diameter above it.
        most: Length,
    },
    /// A bark that no tree has.
    #[error("the bark must be between 0 and {} inches thick, got {:.4}", Log::GREATEST_BARK.inches_f64(), .0.inches_f64())]
    Bark(Length),
}

impl LogFault {
    /// Which measurement is at fault: `small end`, `butt`, `length`, `bark`, `sweep`, `crook`, `flare` or `pith`.
    pub fn field(&self) -> &'static str {
        match self {
            Self::Oval { end, .. } => end,
            Self::Pith { .. } => "pith",
            Self::Bow { what, .. } | Self::BowPlace { what, .. } => what,
            Self::Flare { .. } => "flare",
            Self::SmallEnd(_) => "small end",
            Self::Butt(_) | Self::ButtBelowSmallEnd { .. } => "butt",
            Self::Length(_) => "length",
            Self::Bark(_) => "bark",
        }
    }
}

impl Log {
    /// Below this there is no board in it.
    pub const LEAST_DIAMETER: Length = Length::inches(1);
    /// No tree that a mill meets is thicker; a larger figure is a slip of the unit.
    pub const GREATEST_DIAMETER: Length = Length::inches(120);
    /// Shorter is firewood.
    pub const LEAST_LENGTH: Length = Length::feet(1);
    /// No log is longer; a larger figure is a slip of the unit.
    pub const GREATEST_LENGTH: Length = Length::feet(100);
    /// No bark is thicker.
    pub const GREATEST_BARK: Length = Length::inches(4);

    /// A log from its diameters inside the bark, its length and the bark's thickness at either end.
    ///
    /// # Errors
    /// The first measurement that no log can have.
    pub fn new(
        small_end: Length,
        butt: Length,
        length: Length,
        bark_small: Length,
        bark_butt: Length,
    ) -> Result<Self, LogFault> {
        if !(Self::LEAST_DIAMETER..=Self::GREATEST_DIAMETER).contains(&small_end) {
            return Err(LogFault::SmallEnd(small_end));
        }
        if butt < small_end {
            return Err(LogFault::ButtBelowSmallEnd { small_end, butt });
        }
        if butt > Self::GREATEST_DIAMETER {
            return Err(LogFault::Butt(butt));
        }
        if !(Self::LEAST_LENGTH..=Self::GREATEST_LENGTH).contains(&length) {
            return Err(LogFault::Length(length));
        }
        for bark in [bark_small, bark_butt] {
            if !(Length::ZERO..=Self::GREATEST_BARK).contains(&bark) {
                return Err(LogFault::Bark(bark));
            }
        }
        let (shape, flaws) = (Shape::Round, Arc::from([]));
        Ok(Self { small_end, butt, length, bark_small, bark_butt, shape, flaws })
    }

    /// The same log with flaws in it.
    #[must_use]
    pub fn with_flaws(self, flaws: Vec<Flaw>) -> Self {
        Self { flaws: flaws.into(), ..self }
    }

    /// What is wrong with the wood, and where.
    pub fn flaws(&self) -> &[Flaw] {
        &self.flaws
    }

    /// Its sections from the small end to the butt; `None` where it is round and straight, so that its ends say all.
    pub fn sections(&self) -> Option<&[Section]> {
        match &self.shape {
            Shape::Round => None,
            Shape::Sections(sections) => Some(sections),
        }
    }

    /// Whether it is round, straight and without flaws: then it is the same whichever side is up.
    pub fn is_round(&self) -> bool {
        self.sections().is_none() && self.flaws.is_empty()
    }

    /// Diameter inside the bark at the small end.
    pub fn small_end(&self) -> Length {
        self.small_end
    }

    /// Diameter inside the bark at the butt.
    pub fn butt(&self) -> Length {
        self.butt
    }

    /// Length from end to end.
    pub fn length(&self) -> Length {
        self.length
    }

    /// Thickness of the bark at the small end.
    pub fn bark_small(&self) -> Length {
        self.bark_small
    }

    /// Thickness of the bark at the butt.
    pub fn bark_butt(&self) -> Length {
        self.bark_butt
    }

    /// Diameter over the bark at the butt: what the mill must swallow.
    pub fn butt_over_bark(&self) -> Length {
        self.butt + self.bark_butt * 2
    }

    /// Diameter over the bark at the small end.
    pub fn small_end_over_bark(&self) -> Length {
        self.small_end + self.bark_small * 2
    }

    /// How far the small end must be raised for the pith to lie level while the butt rests on its
    /// bark: half the difference of the diameters over the bark, rounded down to the nanometre.
    pub fn lift_to_level_pith(&self) -> Length {
        (self.butt_over_bark() - self.small_end_over_bark()).half()
    }

    /// The greatest width over the bark of any section in any direction: what the mill must swallow.
    pub fn widest_over_bark(&self) -> Length {
        match &self.shape {
            Shape::Round => self.butt_over_bark(),
            Shape::Sections(sections) => {
                let widest = sections.iter().map(|section| section::widest(&section.bark));
                Length::from_inches_f64(widest.fold(0.0, f64::max))
            }
        }
    }

    /// The section at a station, clamped to the log's ends; a round one as a polygon on its circle.
    pub fn section_at(&self, z: f64) -> Section {
        match &self.shape {
            Shape::Round => Section::round(z, self.wood_radius(z), self.bark_radius(z)),
            Shape::Sections(sections) => {
                let after = sections.partition_point(|section| section.z <= z);
                let (before, after) = (after.saturating_sub(1), after.min(sections.len() - 1));
                let share = z.clamp(sections[before].z, sections[after].z);
                sections[before].toward(&sections[after], share)
            }
        }
    }

    /// Radius of the wood at a station: the mean one where the ends are not round, without any flare.
    ///
    /// # Units
    /// Inches, both.
    pub fn wood_radius(&self, z: f64) -> f64 {
        let (small, butt) = (self.small_end.inches_f64() / 2.0, self.butt.inches_f64() / 2.0);
        small + (butt - small) * (z / self.length.inches_f64())
    }

    /// Radius over the bark at a station.
    ///
    /// # Units
    /// Inches, both.
    pub fn bark_radius(&self, z: f64) -> f64 {
        let (small, butt) = (self.bark_small.inches_f64(), self.bark_butt.inches_f64());
        self.wood_radius(z) + small + (butt - small) * (z / self.length.inches_f64())
    }

    /// A radius that no piece reaches beyond over a length: that of the wood at the small end of the stretch that is
    /// reckoned from the butt; where the log is not round, half the greatest width of the thinnest section of the log.
    /// `None` when the log is shorter than that.
    ///
    /// # Units
    /// Inches.
    pub fn radius_over_length(&self, length: Length) -> Option<f64> {
        let radius = || match &self.shape {
            Shape::Round => self.wood_radius((self.length - length).inches_f64()),
            Shape::Sections(sections) => {
                // Anywhere along the log: the thinnest of the thickest stretch is at most the thickest of all.
                let widest = |section: &Section| section::widest(&section.wood) / 2.0;
                let mut widths: Vec<f64> = sections.iter().map(widest).collect();
                widths.sort_by(f64::total_cmp);
                let share = 1.0 - (length / self.length).clamp(0.0, 1.0);
                let place = (share * (widths.len() - 1) as f64).floor();
                widths.get(section::whole(place)).copied().unwrap_or(0.0)
            }
        };
        (length <= self.length).then(radius)
    }

    /// Volume of the wood, exact for the frustum, `L (A_s + sqrt(A_s A_b) + A_b) / 3`, and for the ruled solid between
    /// sections: there the area is a quadratic of the station, for which Newton's formula
    /// `L (A_s + 4 A_m + A_b) / 6` is exact.
    ///
    /// # Units
    /// Cubic inches.
    pub fn volume(&self) -> f64 {
        match &self.shape {
            Shape::Round => {
                let (s, b) = (self.small_end.inches_f64() / 2.0, self.butt.inches_f64() / 2.0);
                std::f64::consts::PI * self.length.inches_f64() * (s * s + s * b + b * b) / 3.0
            }
            Shape::Sections(sections) => sections
                .windows(2)
                .map(|pair| {
                    let middle = pair[0].toward(&pair[1], f64::midpoint(pair[0].z, pair[1].z));
                    let areas =
                        [&pair[0], &middle, &pair[1]].map(|section| section::area(&section.wood));
                    (pair[1].z - pair[0].z) * (areas[0] + 4.0 * areas[1] + areas[2]) / 6.0
                })
                .sum(),
        }
    }

    /// The same log with both ends thicker (or thinner) by one amount in diameter.
    ///
    /// # Errors
    /// When that is no log any more.
    pub fn thicker(&self, by: Length) -> Result<Self, LogFault> {
        let (small_end, butt) = (self.small_end + by, self.butt + by);
        let round = Self::new(small_end, butt, self.length, self.bark_small, self.bark_butt)?;
        let half = by.inches_f64() / 2.0;
        let thicker = |section: &Section| Section {
            wood: section::outward(&section.wood, half),
            bark: section::outward(&section.bark, half),
            ..section.clone()
        };
        Ok(self.like(round, thicker))
    }

    /// The same log drawn out to be longer by some length.
    ///
    /// # Errors
    /// When that is no log any more.
    pub fn longer(&self, by: Length) -> Result<Self, LogFault> {
        let length = self.length + by;
        let round = Self::new(self.small_end, self.butt, length, self.bark_small, self.bark_butt)?;
        let factor = length / self.length;
        Ok(self.like(round, |section| Section { z: section.z * factor, ..section.clone() }))
    }

    /// A log of the same kind as this, with changed sections and the same flaws.
    fn like(&self, round: Self, change: impl Fn(&Section) -> Section) -> Self {
        let shape = match &self.shape {
            Shape::Round => Shape::Round,
            Shape::Sections(sections) => Shape::Sections(sections.iter().map(change).collect()),
        };
        Self { shape, flaws: Arc::clone(&self.flaws), ..round }
    }

    /// A log of sections from the small end to the butt, which begin at station 0; the diameters are what a tape would
    /// say. The log's axis is drawn through the pith at both ends.
    ///
    /// # Errors
    /// Diameters, length or bark that no log can have.
    pub(crate) fn of_sections(
        (small_end, butt): (Length, Length),
        length: Length,
        (bark_small, bark_butt): (Length, Length),
        sections: Vec<Section>,
    ) -> Result<Self, LogFault> {
        let round = Self::new(small_end, butt.max(small_end), length, bark_small, bark_butt)?;
        let (Some(first), Some(last)) = (sections.first(), sections.last()) else {
            return Ok(round);
        };
        let (from, to, long) = (first.pith, last.pith, last.z - first.z);
        let onto_axis = |section: &Section| {
            let share = if long > 0.0 { (section.z - first.z) / long } else { 0.0 };
            let off = [0, 1].map(|n| from[n] + share * (to[n] - from[n]));
            section.moved([-off[0], -off[1]])
        };
        let sections: Vec<Section> = sections.iter().map(onto_axis).collect();
        Ok(Self { butt, shape: Shape::Sections(sections.into()), ..round })
    }

    /// The part of the log between two stations as a log of its own, with the flaws that lie in it.
    ///
    /// # Errors
    /// When that is no log any more.
    pub fn bucked(&self, from: Length, to: Length) -> Result<Self, LogFault> {
        let length = to - from;
        let (low, high) = (from.inches_f64(), to.inches_f64());
        let bark = |z: f64| Length::from_inches_f64(self.bark_radius(z) - self.wood_radius(z));
        let barks = (bark(low).max(Length::ZERO), bark(high).max(Length::ZERO));
        let part = match &self.shape {
            Shape::Round => {
                let diameter = |z: f64| Length::from_inches_f64_down(2.0 * self.wood_radius(z));
                Self::new(diameter(low), diameter(high), length, barks.0, barks.1)?
            }
            Shape::Sections(sections) => {
                let inside = sections.iter().filter(|s| s.z > low && s.z < high).cloned();
                let ends = (self.section_at(low), self.section_at(high));
                let diameter = |section: &Section| {
                    let area = section::area(&section.wood);
                    Length::from_inches_f64_down(2.0 * (area / std::f64::consts::PI).sqrt())
                };
                let diameters = (diameter(&ends.0), diameter(&ends.1));
                let all = std::iter::once(ends.0).chain(inside).chain([ends.1]);
                let all = all.map(|section| Section { z: section.z - low, ..section }).collect();
                Self::of_sections(diameters, length, barks, all)?
            }
        };
        let within = |flaw: &Flaw| {
            let (first, last) = (flaw.from.max(from), flaw.to.min(to));
            (first < last).then(|| Flaw { from: first - from, to: last - from, ..*flaw })
        };
        Ok(part.with_flaws(self.flaws.iter().filter_map(within).collect()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(n: i64) -> Length {
        Length::inches(n)
    }

    #[test]
    fn a_16_ft_log_of_12_in_with_2_in_of_taper_holds_14_78_cubic_feet() {
        // "Exact geometric facts for round logs", taper example: 14.78 ft3 against a 12-in cylinder's 12.57.
        let log =
            Log::new(inches(12), inches(14), Length::feet(16), Length::ZERO, Length::ZERO).unwrap();
        assert!((log.volume() / 1728.0 - 14.78).abs() < 0.005);
        let cylinder =
            Log::new(inches(12), inches(12), Length::feet(16), Length::ZERO, Length::ZERO).unwrap();
        assert!((cylinder.volume() / 1728.0 - 12.57).abs() < 0.005);
    }

    #[test]
    fn levelling_the_pith_takes_half_the_difference_of_the_diameters() {
        // Operator's manuals of small band mills: lift of the small end = (DL - DS) / 2.
        let log =
            Log::new(inches(20), inches(23), Length::feet(12), Length::ZERO, Length::ZERO).unwrap();
        assert_eq!(log.lift_to_level_pith(), Length::sixty_fourths(96));
    }

    #[test]
    fn faults_name_the_field() {
        let fault = Log::new(inches(20), inches(19), Length::feet(12), Length::ZERO, Length::ZERO)
            .unwrap_err();
        assert_eq!(fault.field(), "butt");
        assert!(fault.to_string().contains("swap"));
        assert!(
            Log::new(Length::ZERO, inches(19), Length::feet(12), Length::ZERO, Length::ZERO)
                .is_err()
        );
        assert!(
            Log::new(inches(20), inches(500), Length::feet(12), Length::ZERO, Length::ZERO)
                .is_err()
        );
        assert!(
            Log::new(inches(20), inches(21), Length::feet(-12), Length::ZERO, Length::ZERO)
                .is_err()
        );
        assert!(
            Log::new(inches(20), inches(21), Length::feet(12), inches(-1), Length::ZERO).is_err()
        );
    }
}

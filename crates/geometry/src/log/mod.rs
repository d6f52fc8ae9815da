//! The log as a solid.
//!
//! # Model
//! A log that is round, straight and clean is a frustum of a cone: the wood's radius at station `z` is
//! `r(z) = r_s + (r_b - r_s) z / L`, and the bark lies on it with its own thickness at either end. Every other
//! log is a row of [`Section`]s: oval or bowed ones follow from a tape's figures ([`Taped`]), measured ones from
//! a scanner's. Either may hold [`Flaw`]s, which forbid wood, and [`Defect`]s, which only lower what it is worth.
//!
//! The axis of the log frame is the straight line through the pith at both ends. Between them the pith goes
//! its own way where the log is bowed.
//!
//! Whatever kind it is, the same is asked of it through [`Body`](crate::Body) and [`View`](crate::View): where
//! on a line the wood is sound, and how far the bark reaches. Nothing outside this crate knows the kind.

mod fault;
mod flaw;
mod looks;
mod measured;
mod part;
pub(crate) mod section;
mod taped;

pub use fault::LogFault;
pub(crate) use flaw::surface;
pub use flaw::{Flaw, FlawFault, FlawKind, FlawKinds, Region};
pub use looks::{Across, Bow, Looks};
pub use section::Section;
pub use taped::{Crook, End, Flare, Sweep, Taped};

use crate::Angle;
use crate::defect::{Defect, wood_toward};
use pithward_measure::Length;
use std::sync::Arc;

/// A log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Log {
    small_end: Length,
    butt: Length,
    length: Length,
    bark_small: Length,
    bark_butt: Length,
    shape: Shape,
    /// Whether the diameters go evenly from the small end to the butt, save in a flare: a tape tells no more.
    even: bool,
    flaws: Arc<[Flaw]>,
    defects: Arc<[Defect]>,
}

/// What bounds the wood between the ends.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Shape {
    /// A frustum.
    Round,
    /// Sections from the small end to the butt.
    Sections(Arc<[Section]>),
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
        let (shape, even) = (Shape::Round, false);
        let (flaws, defects) = (Arc::from([]), Arc::from([]));
        Ok(Self { small_end, butt, length, bark_small, bark_butt, shape, even, flaws, defects })
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

    /// The same log with defects in it; whether they can be, [`Defect::faults`] says.
    #[must_use]
    pub fn with_defects(self, defects: Vec<Defect>) -> Self {
        Self { defects: defects.into(), ..self }
    }

    /// What its bark and its ends tell of its inside: it forbids no wood, and lowers what a face is worth.
    pub fn defects(&self) -> &[Defect] {
        &self.defects
    }

    /// How far the wood reaches from the pith at a station, or at the end that is nearest to it, in a direction.
    pub fn wood_toward(&self, station: Length, clock: Angle) -> Length {
        Length::from_inches_f64(wood_toward(self, station.inches_f64(), clock))
    }

    /// Its sections from the small end to the butt; `None` where it is round and straight, so that its ends say all.
    pub fn sections(&self) -> Option<&[Section]> {
        match &self.shape {
            Shape::Round => None,
            Shape::Sections(sections) => Some(sections),
        }
    }

    /// Whether it is round, straight and without flaws: then it gives the same boards whichever side is up. It may have
    /// defects, and then the boards need not be as good.
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

    /// Diameter over the bark at the butt, the mean one above any flare; [`Log::widest_over_bark`] is what the mill must
    /// swallow.
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

    /// The greatest width over the bark of any section in any direction, a flare included: what the mill must swallow,
    /// but for the bow. Of a taped log it is what the tape says, to a thousandth of an inch.
    pub fn widest_over_bark(&self) -> Length {
        let Shape::Sections(sections) = &self.shape else { return self.butt_over_bark() };
        let widest = |most: f64, section: &Section| {
            if !section::may_be_wider(&section.bark, most) {
                return most;
            }
            // A tape's bark lies within the outline, which touches it half-way between its points.
            most.max(if self.even {
                section::widest(&section::middles(&section.bark))
            } else {
                section::widest(&section.bark)
            })
        };
        // From the butt on, where it is widest in most logs.
        Length::from_inches_f64(sections.iter().rev().fold(0.0, widest))
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

    /// A radius that no piece of a length reaches beyond, reckoned from its own middle. In round wood it is that of the
    /// stretch at the butt; in any other, half the greatest width of the thinnest section of the thickest stretch.
    /// `None` when the log is shorter than that.
    ///
    /// # Units
    /// Inches.
    pub fn radius_over_length(&self, length: Length) -> Option<f64> {
        let radius = || match &self.shape {
            Shape::Round => self.wood_radius((self.length - length).inches_f64()),
            Shape::Sections(sections) => {
                let width = |section: &Section| (section.z, section::widest(&section.wood));
                let widths: Vec<(f64, f64)> = sections.iter().map(width).collect();
                let stretch = length.inches_f64();
                // A stretch that begins between two sections holds all from the second on, up to its length from the first.
                let begun = |n: usize| {
                    let (before, ..) = widths[n.saturating_sub(1)];
                    let inside = widths[n..].iter().take_while(|(z, _)| *z <= before + stretch);
                    let thinnest = inside.map(|(_, width)| *width).reduce(f64::min);
                    // Shorter than from section to section: it may lie next to the thicker.
                    thinnest.unwrap_or_else(|| widths[n].1.max(widths[n.saturating_sub(1)].1))
                };
                let last = self.length.inches_f64() - stretch;
                let beginnings =
                    (0..widths.len()).take_while(|n| *n == 0 || widths[*n - 1].0 <= last);
                beginnings.map(begun).fold(0.0, f64::max) / 2.0
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

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
mod measured;
mod section;
mod taped;

pub use flaw::{Flaw, FlawKind, FlawKinds, Region};
pub use section::Section;
pub(crate) use section::{area, centroid};
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
    /// A bark that no tree has.
    #[error("the bark must be between 0 and {} inches thick, got {:.4}", Log::GREATEST_BARK.inches_f64(), .0.inches_f64())]
    Bark(Length),
}

impl LogFault {
    /// Which measurement is at fault: `small end`, `butt`, `length` or `bark`.
    pub fn field(&self) -> &'static str {
        match self {
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

    /// Radius of the wood at a station.
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

    /// The radius within which the wood is sound over a length reckoned from the butt. `None` when
    /// the log is shorter than that.
    ///
    /// # Units
    /// Inches.
    pub fn radius_over_length(&self, length: Length) -> Option<f64> {
        (length <= self.length).then(|| self.wood_radius((self.length - length).inches_f64()))
    }

    /// Volume of the wood, exact for the frustum: `L (A_s + sqrt(A_s A_b) + A_b) / 3`.
    ///
    /// # Units
    /// Cubic inches.
    pub fn volume(&self) -> f64 {
        let (s, b) = (self.small_end.inches_f64() / 2.0, self.butt.inches_f64() / 2.0);
        std::f64::consts::PI * self.length.inches_f64() * (s * s + s * b + b * b) / 3.0
    }

    /// The same log with both ends thicker (or thinner) by one amount in diameter.
    ///
    /// # Errors
    /// When that is no log any more.
    pub fn thicker(&self, by: Length) -> Result<Self, LogFault> {
        Self::new(self.small_end + by, self.butt + by, self.length, self.bark_small, self.bark_butt)
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

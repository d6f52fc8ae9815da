//! The defects of a log that was cut from another.

use super::Defect;
use pithward_measure::Length;

impl Defect {
    /// What of it lies between two stations, reckoned from the first; `None` where nothing does. One that goes along the
    /// log is cut there. A knot or a hole is kept whole where any of it may lie within, so that its own station may be a
    /// little beyond.
    pub fn within(&self, from: Length, to: Length) -> Option<Self> {
        let (low, high) = self.extent();
        if high <= from || low >= to {
            return None;
        }
        let is_long = matches!(self, Self::Seam { .. } | Self::Scar { .. } | Self::Core { .. });
        let cut = |at: Length| if is_long { at.clamp(from, to) } else { at };
        Some(self.with_stations(|at| cut(at) - from))
    }

    /// The same with every station changed.
    #[must_use]
    pub fn with_stations(&self, change: impl Fn(Length) -> Length) -> Self {
        let mut changed = *self;
        match &mut changed {
            Self::Knot { at, .. } | Self::Hole { at, .. } => *at = change(*at),
            Self::Seam { from, to, .. }
            | Self::Scar { from, to, .. }
            | Self::Core { from, to, .. } => (*from, *to) = (change(*from), change(*to)),
        }
        changed
    }

    /// Stations between which all of it lies; rounded outward.
    fn extent(&self) -> (Length, Length) {
        match *self {
            // Half of it on either side of its end, which is the most that a cone has anywhere, and its tip.
            Self::Knot { at, across, rise, .. } => {
                let half = across - across.half();
                ((at - half).min(at + rise), (at + half).max(at + rise))
            }
            Self::Hole { at, across, .. } => {
                let half = across - across.half();
                (at - half, at + half)
            }
            Self::Seam { from, to, .. }
            | Self::Scar { from, to, .. }
            | Self::Core { from, to, .. } => (from, to),
        }
    }
}

//! Sizes as the trade writes them: `2x6`, `2x6x12`, `1x4up`, `4/4`, `50x150x3000 mm`.

use crate::Length;

/// A size as it was named: what the customer said, before any policy turns it into what is sawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    /// Named thickness, the smaller of the two when both are fixed.
    pub thickness: Length,
    /// Named width, or the least one for random width.
    pub width: Width,
    /// Named length; `None` where the list leaves it open.
    pub length: Option<Length>,
    /// How it was written, so that it is printed the same way.
    pub writing: Writing,
}

/// The width of a [`Size`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Width {
    /// One width.
    Exactly(Length),
    /// Random width: this wide or wider.
    AtLeast(Length),
}

/// How a [`Size`] was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Writing {
    /// Inches and feet: `2x6x12`.
    Imperial,
    /// Quarters of an inch, the hardwood way: `4/4`, `5/4x6x8`.
    Quarters,
    /// Millimetres: `50x150x3000 mm`.
    Metric,
}

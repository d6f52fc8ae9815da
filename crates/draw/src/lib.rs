//! Pictures of a plan, as SVG: what a sawyer looks at instead of reading.
//!
//! Every picture is drawn from the replayed sawing order alone: outlines come from
//! [`parting`](pithward_geometry::parting()), which carries the section through every pass, and boxes from the pieces'
//! claims. This crate knows no want, no money and no file; how a size, a height or a length is written is handed in as
//! [`Words`].
//!
//! | picture | see |
//! |---|---|
//! | the small end with every cut and every piece | [`end_view`] |
//! | how the log lies for one stage, and its cuts | [`rest_view`] |
//! | the log from the side: taper, lift, what carries it | [`side_view`] |
//! | a flitch on edge, as it is edged | [`flitch_view`] |
//! | the same flat, from above: edging and trimming | [`flat_view`] |
//! | what is on the mill after each turn | [`strip`] |
//! | the end of a log without words, for a pile | [`thumbnail`] |
//! | a range as an interval | [`interval`] |
//! | any of them as a file of its own | [`stand_alone`] |
//!
//! # Look
//! Black on paper. Sawdust is black, slabs and edgings are hatched, pieces are plain with their size on them; bark is
//! dotted. Tint only repeats what hatching says, so nothing is lost in black and white or to an eye that tells few colours
//! apart. The classes and the hatching are in [`style`] and [`hatching`]: once on a page.
//!
//! # Units
//! Coordinates are hundredths of an inch, y downward. A piece is a `polygon` of class `piece` whose `data-piece` is its number in the
//! order, from 1.

mod alone;
mod edge;
mod end;
mod flat;
mod interval;
mod paint;
mod rest;
mod side;
mod style;
mod turns;

pub use alone::stand_alone;
pub use edge::flitch_view;
pub use end::{end_view, thumbnail};
pub use flat::flat_view;
pub use interval::{Interval, interval};
pub use rest::rest_view;
pub use side::side_view;
pub use style::{hatching, style};
pub use turns::{Turn, strip};

use maud::Markup;
use pithward_geometry::{Laid, Log, Mill, Parting, Place, ReplayFault, laid, parting};
use pithward_measure::Length;
use pithward_optimizer::LogPlan;

/// How things are written in a picture.
#[derive(Clone, Copy)]
pub struct Words<'a> {
    /// What a piece is called, by its place in the plan.
    pub piece: &'a dyn Fn(usize) -> String,
    /// A height on the mill's scale.
    pub height: &'a dyn Fn(Length) -> String,
    /// A length along the log.
    pub long: &'a dyn Fn(Length) -> String,
}

impl std::fmt::Debug for Words<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Words").finish_non_exhaustive()
    }
}

/// A plan of one log, ready to be drawn.
#[derive(Clone, Debug)]
pub struct Drawn<'a> {
    pub(crate) log: &'a Log,
    pub(crate) plan: &'a LogPlan,
    /// The small end.
    pub(crate) small: Parting,
    /// All that lies on the mill, one after another.
    pub(crate) laid: Vec<Laid<'a>>,
}

impl<'a> Drawn<'a> {
    /// A plan that replays.
    ///
    /// # Errors
    /// What cannot be gone through, in an order that does not replay.
    pub fn of(log: &'a Log, mill: &'a Mill, plan: &'a LogPlan) -> Result<Self, ReplayFault> {
        let small = parting(log, mill.kerf, &plan.order, 0.0)?;
        let laid = laid(log, mill.kerf, &plan.order)?;
        Ok(Self { log, plan, small, laid })
    }

    /// What lies on the mill in a stage.
    pub(crate) fn laid_in(&self, place: Place) -> Option<&Laid<'a>> {
        self.laid.iter().find(|laid| laid.place == place)
    }

    /// What the blade makes of the small end.
    pub fn small_end(&self) -> &Parting {
        &self.small
    }
}

/// A picture, and the words for whoever cannot see it.
pub type Picture = Markup;

//! Quarter sawing: the log is parted, and its parts are put back on the mill, so that the faces of the boards meet the
//! growth rings steeply.
//!
//! # Ways
//! * [`sectors`]: the log is parted at the pith into halves, each half into quarters, and each quarter is sawn from its
//!   two flats in turn, a quarter turn for each board.
//! * [`pack`]: a pack of boards about the pith is sawn through; the two segments beyond it are turned a quarter, the upper
//!   one put back, and sawn through about the pith line.
//!
//! The better of the two is taken. Common practice, no source; that the two flats are sawn in turn keeps a quarter from
//! bowing as its stress is let go.
//!
//! # Rings
//! Nothing here aims at an angle: a want that asks for one has no strips where its rings would lie otherwise
//! ([`crate::want::Want::rings`]), so the boards about the pith line are worth what they are.
//!
//! # Grid, cost, exactness
//! Each way says its own. Both part the log at the pith, a kerf about it, and nowhere else. Neither carries counts: where
//! counts are carried exactly, a search without them bounds this method ([`super::Search::best_guided`]).

pub(crate) mod pack;
pub(crate) mod sectors;

use super::{Board, Found, Method, Search, Shape};
use crate::flitch::Bounds;
use crate::site::{Lie, Site};
use pack::Pack;
use pithward_geometry::Quarter;
use sectors::Sectors;

/// Where the planes of a quartered log lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum QuarterShape {
    Sectors(Sectors),
    Pack(Pack),
}

/// What a pattern asks for beside the passes that free its boards and edge them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Handling {
    /// Passes that part the log or open a face.
    pub(crate) openings: i64,
    /// Turns on the mill.
    pub(crate) turns: i64,
    /// Moves off the mill, and back on.
    pub(crate) moves: i64,
}

impl QuarterShape {
    /// Every board, in no order that matters.
    pub(crate) fn boards(&self) -> Vec<&Board> {
        match self {
            Self::Sectors(sectors) => sectors.quarters.iter().flatten().collect(),
            Self::Pack(pack) => {
                let lines = [&pack.line, &pack.above, &pack.below];
                lines.into_iter().flat_map(|line| &line.boards).collect()
            }
        }
    }

    pub(crate) fn handling(&self) -> Handling {
        match self {
            Self::Sectors(sectors) => sectors.handling(),
            Self::Pack(pack) => pack.handling(),
        }
    }
}

/// A direction of the frame, by quarter turns clockwise from its `h`: what is up in a rest, or where a flat faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Toward {
    Up,
    Right,
    Down,
    Left,
}

impl Toward {
    /// How far the frame is turned to have it up, degrees.
    pub(crate) fn degrees(self) -> i32 {
        match self {
            Self::Up => 0,
            Self::Right => 90,
            Self::Down => 180,
            Self::Left => 270,
        }
    }

    pub(crate) fn opposite(self) -> Self {
        match self {
            Self::Up => Self::Down,
            Self::Right => Self::Left,
            Self::Down => Self::Up,
            Self::Left => Self::Right,
        }
    }

    /// Its unit vector.
    pub(crate) fn of(self, site: &Site<'_>) -> [f64; 3] {
        let basis = site.view.basis();
        match self {
            Self::Up => basis.h,
            Self::Right => basis.u,
            Self::Down => basis.h.map(|c| -c),
            Self::Left => basis.u.map(|c| -c),
        }
    }

    fn quarter(self) -> Quarter {
        match self {
            Self::Up | Self::Down => Quarter::First,
            Self::Right | Self::Left => Quarter::Second,
        }
    }

    /// The planes of a board whose outer face is so far out in this direction.
    pub(crate) fn planes(self, face: i64, thickness: i64) -> (i64, i64) {
        match self {
            Self::Up | Self::Right => (face - thickness, face),
            Self::Down | Self::Left => (-face, thickness - face),
        }
    }

    /// How a board lies whose planes are square to this direction, and whose inner edge is a flat that faces toward
    /// `other`, so far out.
    pub(crate) fn lie(self, other: Self, flat: i64) -> Lie {
        let bounds = match other {
            Self::Up | Self::Left => Bounds { low: flat, ..Bounds::ROUND },
            Self::Down | Self::Right => Bounds { up: flat, ..Bounds::ROUND },
        };
        Lie { quarter: self.quarter(), bounds }
    }
}

/// How far the bark reaches in a direction, nanometres, rounded outward.
fn bark(site: &Site<'_>, toward: Toward) -> i64 {
    let up = matches!(toward, Toward::Up | Toward::Right);
    crate::column::floor(site.view.bark_reach(toward.quarter(), up).max(0.0).ceil())
}

/// Whether what lies beyond a plane clears the head when a pass is made there.
fn clears(site: &Site<'_>, toward: Toward, plane: i64) -> bool {
    bark(site, toward) - plane <= site.mill.deepest_above.as_nm()
}

/// The underside of a kerf about the pith, across and upward: how far it is from where the site's planes begin.
fn parting(site: &Site<'_>) -> [i64; 2] {
    site.pith().map(|pith| pith - site.kerf / 2)
}

/// The best pattern; `None` where the mill cannot part the log, or nothing comes of it.
pub(crate) fn best(search: &mut Search<'_>) -> Option<Found> {
    let found = |(value, shape): (i64, QuarterShape)| Found {
        method: Method::Quarter,
        value,
        shape: Shape::Quarter(shape),
        edged: Vec::new(),
    };
    let sectors = sectors::best(search).map(|(value, way)| (value, QuarterShape::Sectors(way)));
    let pack = pack::best(search).map(|(value, way)| (value, QuarterShape::Pack(way)));
    let ways = [pack, sectors].into_iter().flatten();
    ways.filter(|(value, _)| *value > 0).max_by_key(|(value, _)| *value).map(found)
}

/// What the best pattern is worth, roughly: sectors alone.
pub(crate) fn roughly(search: &mut Search<'_>) -> Option<i64> {
    sectors::best(search).map(|(value, _)| value)
}

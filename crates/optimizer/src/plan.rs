//! The answer for one log: what to saw, what comes out, and how good it is proven to be.

use crate::family::Method;
use crate::looks::Look;
use crate::metal::Later;
use crate::want::{CutId, Want, WantId};
use pithward_geometry::{Frame, Mill, PartId, Replayed, SawingOrder};
use pithward_measure::Length;
use pithward_trade::Wane;
use thiserror::Error;

/// What came of planning one log.
#[derive(Clone, Debug)]
pub enum Answer {
    /// A plan, replayed, with its proof.
    Planned(Box<Planned>),
    /// No method gives a single piece; why, and what would help.
    Impossible(Vec<Obstacle>),
}

/// A plan, what it is measured against, and what the other methods would give.
#[derive(Clone, Debug)]
pub struct Planned {
    /// The best plan found.
    pub plan: LogPlan,
    /// How good it is proven to be.
    pub proof: Proof,
    /// The best plan of each method that was searched, in the order of [`Method::ALL`].
    pub methods: Vec<MethodResult>,
    /// What the mill's limits or the log kept from being sawn.
    pub obstacles: Vec<Obstacle>,
}

/// The sawing of one log.
#[derive(Clone, Debug)]
pub struct LogPlan {
    /// How it is sawn.
    pub method: Method,
    /// Every step.
    pub order: SawingOrder,
    /// What each piece of `order.pieces` is, in the same order.
    pub products: Vec<Product>,
    /// How each piece looks, in the same order.
    pub looks: Vec<Look>,
    /// What becomes of every part of the log, in the order in which they fall.
    pub parts: Vec<Part>,
    /// For every want, in order.
    pub tally: Vec<Tally>,
    /// Millionths of the unit in which the wants' worth is stated.
    pub worth: i64,
    /// Millionths of a board foot, by named sizes.
    pub board_feet: i64,
    /// Volume of the pieces as sawn over the volume of the wood.
    pub share_of_solid: f64,
    /// What replay found at the exact heights.
    pub replayed: Replayed,
    /// The rests that were searched before this one was chosen.
    pub rests: Rests,
    /// What came near metal less often or later among the plans that were compared, where one did.
    pub later: Option<Later>,
}

/// The rests in which a log was searched, and what the choice among them is worth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Rests {
    /// Frames that were searched.
    pub tried: u32,
    /// Frames that a bound ruled out without a search of their own.
    pub ruled_out: u32,
    /// What the best pattern that was found so in any of them is worth, millionths: what `worst` is measured against.
    pub best: Option<i64>,
    /// The poorest of those searched, and what the best pattern in it is worth, roughly, millionths: no more than that,
    /// for a search that cannot come near the best is stopped. `None` where one frame is as good as any other, as on a
    /// log that is round and straight.
    pub worst: Option<(Frame, i64)>,
}

/// One finished piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Product {
    /// The size that it serves.
    pub cut: CutId,
    /// Beyond the want's count.
    pub extra: bool,
    /// What it is worth less than its size may be, for its expected grade, millionths.
    pub loss: i64,
}

impl Product {
    /// What it is worth within its want's count and beyond it, as it looks, millionths.
    pub(crate) fn worths(&self, wants: &[Want]) -> (i64, i64) {
        let cut = &wants[self.cut.want.0].cuts[self.cut.cut];
        ((cut.worth - self.loss).max(0), (cut.extra - self.loss).max(0))
    }
}

/// What becomes of a part of the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// The part.
    pub id: PartId,
    /// What it is.
    pub fate: Fate,
}

/// What a part of the log is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fate {
    /// No wanted piece comes from it.
    Slab,
    /// It is set aside, and put back on the mill as this one of [`SawingOrder::resaws`], from 1.
    PutBack(u32),
    /// Pieces, as places in [`LogPlan::products`]: its edges are square already, it is only cut to length.
    Square(Vec<usize>),
    /// A flitch or plank that goes to this edging batch, and its pieces.
    Flitch {
        /// Number of the batch, from 1.
        batch: u32,
        /// Places in [`LogPlan::products`].
        pieces: Vec<usize>,
    },
}

/// The count of one want.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Asked for; `None` for as many as come.
    pub wanted: Option<u32>,
    /// Given within the count.
    pub given: u32,
    /// Given beyond it.
    pub extra: u32,
}

impl Tally {
    /// Still missing.
    pub fn short(&self) -> u32 {
        self.wanted.map_or(0, |wanted| wanted - self.given.min(wanted))
    }
}

/// How good a plan is proven to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// The families searched: the proof speaks for these alone.
    pub methods: Vec<Method>,
    /// No plan of these methods is worth more, millionths.
    pub worth_bound: i64,
    /// No plan of these methods gives more of the accepted sizes, millionths of a board foot.
    pub board_feet_bound: i64,
    /// Linear programs solved.
    pub programs: u32,
    /// States that the searches made, a count of work.
    pub states: u64,
}

/// The best of one method.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MethodResult {
    /// The method.
    pub method: Method,
    /// For every want, in order.
    pub tally: Vec<Tally>,
    /// Millionths.
    pub worth: i64,
    /// Millionths of a board foot.
    pub board_feet: i64,
    /// Passes, edging included.
    pub passes: usize,
    /// Turns of the log.
    pub turns: usize,
}

/// Something that keeps the log, a method or a want from being sawn, and what would make it possible.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Obstacle {
    /// The butt does not go on the mill.
    #[error("the butt is {:.2} in over the bark, the mill takes {:.2} in", .butt.inches_f64(), .limit.inches_f64())]
    TooThick {
        /// Over the bark.
        butt: Length,
        /// The mill's limit.
        limit: Length,
        /// Reckoned from the small end, the length over which it would go on; `None` when not even the
        /// small end does.
        length_that_fits: Option<Length>,
    },
    /// Longer than the mill.
    #[error("the log is {:.2} ft long, the mill takes {:.2} ft", .length.feet_f64(), .limit.feet_f64())]
    TooLong {
        /// The log's.
        length: Length,
        /// The mill's.
        limit: Length,
    },
    /// Too short to be held.
    #[error("the log is {:.2} ft long, the mill holds none under {:.2} ft", .length.feet_f64(), .limit.feet_f64())]
    TooShort {
        /// The log's.
        length: Length,
        /// The mill's.
        limit: Length,
    },
    /// The round does not pass between the guides; only methods that slab it first can take it.
    #[error("the round is {:.2} in wide with its bark, the guides let {:.2} in through", .width.inches_f64(), .limit.inches_f64())]
    Guides {
        /// Methods that this rules out.
        method: Method,
        /// Of the round, with bark.
        width: Length,
        /// The mill's limit.
        limit: Length,
    },
    /// A want of which the log cannot hold one piece.
    #[error("no piece of want {} is in this log", .want.0 + 1)]
    NoPiece {
        /// The want.
        want: WantId,
        /// Why.
        why: WhyNone,
    },
    /// No want of the list accepts the log's wood.
    #[error("no want accepts this wood")]
    NoWant,
    /// A method whose best pattern the mill cannot saw.
    #[error("{}: {fault}", .method.name())]
    Unsawable {
        /// The method.
        method: Method,
        /// What the mill cannot do.
        fault: pithward_geometry::ReplayFault,
    },
}

/// Why a want gets nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyNone {
    /// The log is shorter than the shortest length that is accepted.
    TooShort {
        /// What the shortest takes, with its trim.
        takes: Length,
    },
    /// The section does not fit in the small end, nor over the shortest length from the butt.
    TooThin {
        /// Least diameter inside the bark, over the shortest length, for one piece.
        diameter: Length,
        /// What the log has there.
        has: Length,
    },
    /// It would fit, but other wants are worth more or the mill's limits are in the way.
    Outbid,
}

/// Settings of a search that are neither the log's, nor the mill's, nor the wants'.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// Methods to search.
    pub methods: Vec<Method>,
    /// How far a thickness or a width may be off once the blade is set on the mill's scale; at least one
    /// step of the scale.
    pub tolerance: Length,
    /// How a round log may lie for its taper.
    pub taper: Taper,
}

/// How a round, sound log may lie for its taper. One that is not is searched in all of these ways whatever is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Taper {
    /// The pith level: what all searches of round logs are exact for.
    #[default]
    Level,
    /// Level, or one side or two parallel to the bark (full taper), whichever is worth more.
    Searched,
}

impl Settings {
    /// The usual methods, and a tolerance of one step of the mill's scale.
    pub fn all(mill: &Mill) -> Self {
        Self { methods: Method::USUAL.to_vec(), tolerance: mill.step, taper: Taper::Level }
    }

    /// The same with the methods by which a pile is planned where nobody says which.
    pub fn of_a_pile(mill: &Mill) -> Self {
        Self { methods: Method::OF_A_PILE.to_vec(), ..Self::all(mill) }
    }
}

/// Why no answer could be given at all: settings that contradict each other, or a fault of this program.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PlanFault {
    /// The blade cannot be set closer than the scale shows.
    #[error("the tolerance ({:.4} in) must be at least one step of the mill's scale ({:.4} in)", .tolerance.inches_f64(), .step.inches_f64())]
    Tolerance {
        /// Asked for.
        tolerance: Length,
        /// The mill's.
        step: Length,
    },
    /// No methods to search.
    #[error("there must be at least one method")]
    NoMethods,
    /// Replay does not agree with the plan. Never advice: a fault of this program.
    #[error("internal error, please report it: replay does not confirm the plan: {0}")]
    Replay(pithward_geometry::ReplayFault),
    /// The linear program found no answer. A fault of this program.
    #[error("internal error, please report it: the linear program over patterns has no answer")]
    Program,
}

/// What a little more would have bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NearMiss {
    /// The want that would gain.
    pub want: WantId,
    /// Pieces of it now.
    pub now: u32,
    /// Pieces of it then.
    pub then: u32,
    /// What would do it.
    pub little: Little,
}

/// A little more of something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Little {
    /// This much wane, over what the want allows, on the want's pieces.
    Wane {
        /// The legs that would have to be allowed.
        legs: Wane,
    },
    /// A log thicker by this in diameter, at both ends.
    Diameter(Length),
    /// A log longer by this.
    Length(Length),
}

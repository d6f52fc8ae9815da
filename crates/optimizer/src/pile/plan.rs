//! The answer for a pile: what every log becomes, in which order, and how good that is proven to be.

use crate::family::Method;
use crate::plan::{LogPlan, Obstacle, Tally};
use crate::want::WantId;
use pithward_measure::Length;
use std::sync::Arc;

/// The sawing of a pile.
#[derive(Clone, Debug)]
pub struct PilePlan {
    /// What becomes of every log, in the order of the pile.
    pub logs: Vec<LogFate>,
    /// The order in which to saw them, alike together. Every log that is sawn is in exactly one lot.
    pub order: Vec<Lot>,
    /// For every want, over the whole pile.
    pub tally: Vec<Tally>,
    /// The wants that stay short, in the order of the list.
    pub shortages: Vec<Shortage>,
    /// What the pieces are worth, without what only puts the list first, millionths of the unit of worth.
    pub worth: i64,
    /// Millionths of a board foot, by named sizes.
    pub board_feet: i64,
    /// Volume of the pieces as sawn over the volume of the wood of the logs that are sawn.
    pub share_of_solid: f64,
    /// How good the plan is proven to be.
    pub proof: PileProof,
    /// The search was told to stop: this is the best plan so far.
    pub stopped: bool,
}

/// What becomes of one log.
#[derive(Clone, Debug)]
pub enum LogFate {
    /// It is sawn. Logs that are alike and sawn alike share one plan, save for which of their pieces are beyond a
    /// count. Its tally says what it gives, and that nothing is wanted: what is wanted is wanted from the pile.
    Sawn(Arc<LogPlan>),
    /// It can be sawn, but nothing from it is worth the sawing: the list is filled, or the pieces that it gives are
    /// not worth the passes.
    LeftWhole,
    /// Not a single piece can come from it; why, and what would help.
    Impossible(Vec<Obstacle>),
    /// The search was stopped before this log had a plan.
    Unplanned,
}

/// Logs that are sawn one after the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lot {
    /// Why they stand together, and where they stand.
    pub reason: LotReason,
    /// Places in [`PilePlan::logs`], in the order of sawing.
    pub logs: Vec<usize>,
}

/// Why logs are sawn together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LotReason {
    /// They give the blocking that all else is stacked on; the poorest first.
    Blocking,
    /// No other logs of the pile, but for those sawn before, can give this want, so that its count is known while others
    /// still stand.
    Only(WantId),
    /// The same wood and the same way of sawing, the higher cants first.
    Alike {
        /// How they are sawn.
        method: Method,
        /// The cant's height between its two faces, where it is the same for all.
        cant: Option<Length>,
    },
}

/// A want of which the pile gives fewer than were asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shortage {
    /// The want.
    pub want: WantId,
    /// How many are missing.
    pub missing: u32,
    /// Why.
    pub why: WhyShort,
    /// Logs that would be enough, where there is such a log.
    pub cure: Option<Cure>,
}

/// Why a want stays short.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WhyShort {
    /// No log of a wood that it accepts goes on the mill.
    NoLog,
    /// No log is long enough.
    TooShort {
        /// What the shortest accepted length takes, with its trim.
        takes: Length,
        /// The longest log that it accepts.
        longest: Length,
    },
    /// The section is in no log that is long enough.
    TooThin {
        /// Least diameter inside the bark, over the shortest accepted length, for one piece.
        diameter: Length,
        /// The most that a log has there.
        thickest: Length,
    },
    /// The logs together hold no more than this, even if nothing else were sawn from them.
    TooFew {
        /// The most pieces of the want, over all logs.
        most: u32,
    },
    /// The search was stopped before it was known.
    NotSought,
    /// The logs could give it, but wants before it in the list, or worth more, use them up.
    UsedUp {
        /// Wants that get pieces from logs that could have given this one, in the order of the list.
        by: Vec<WantId>,
    },
}

/// Logs that would be enough to fill a shortage, were nothing else sawn from them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cure {
    /// How many.
    pub logs: u32,
    /// Pieces of the want in each.
    pub each: u32,
    /// Inside the bark, at the small end.
    pub small_end: Length,
    /// Whole length.
    pub length: Length,
    /// The wood: a place in [`Pile::menus`](super::Pile::menus).
    pub menu: usize,
}

/// How good the plan of a pile is proven to be.
///
/// Values count everything that the program weighs: the worth of the pieces, what puts the list first
/// ([`Demand::first`](super::Demand::first)), less the work of sawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PileProof {
    /// The families searched: the proof speaks for these alone.
    pub methods: Vec<Method>,
    /// The plan's own, millionths.
    pub value: i64,
    /// No plan of these methods has more, millionths; `None` when the search was stopped before it was known.
    pub bound: Option<i64>,
    /// What is proven of plans that fill the list as far as this one and no further, where it stays short.
    pub as_far: Option<AsFar>,
    /// How much of `value` is there only because the list comes first, millionths.
    pub first: i64,
    /// It is proven that no plan of these methods gives more pieces of any want that is short: each has all that the
    /// pile can give of it, even if nothing else were sawn.
    pub list_is_proven: bool,
    /// Classes of logs that are alike.
    pub classes: usize,
    /// Patterns in the program at the end.
    pub patterns: usize,
    /// Linear programs solved.
    pub programs: u32,
    /// Searches of one log for its best pattern under some prices.
    pub searches: u64,
    /// States that the searches made, a count of work.
    pub states: u64,
    /// Patterns that the mill's limits or the replay refused, and that others took the place of.
    pub refused: u32,
}

/// What is proven of plans that give as many pieces of every want that is short as the plan does, as if no more had been
/// asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AsFar {
    /// The plan's own value, millionths.
    pub value: i64,
    /// No such plan of these methods has more, millionths.
    pub bound: i64,
}

impl Shortage {
    /// Whether no plan could give more of the want: it has all that the pile holds.
    pub(crate) fn is_all(&self, tally: &Tally) -> bool {
        match self.why {
            WhyShort::NoLog | WhyShort::TooShort { .. } | WhyShort::TooThin { .. } => true,
            WhyShort::TooFew { most } => tally.given >= most,
            WhyShort::UsedUp { .. } | WhyShort::NotSought => false,
        }
    }
}

impl PilePlan {
    /// By how much any plan that fills the list as far as this one, and no further, can be worth more, as a share of this one's worth
    /// less its work, rounded up to the millionth. `None` without a bound, or when the plan is worth nothing.
    pub fn gap_millionths(&self) -> Option<i64> {
        let PileProof { value, bound, first, as_far, .. } = self.proof;
        let AsFar { value: reached, bound } =
            as_far.or_else(|| Some(AsFar { value, bound: bound? }))?;
        let (gap, own) = (i128::from(bound) - i128::from(reached), i128::from(value - first));
        if own <= 0 {
            return None;
        }
        i64::try_from((gap.max(0) * 1_000_000 + own - 1) / own).ok()
    }
}

/// Whoever waits for a plan: is told how far it is, and may stop it.
pub trait Watch: Sync {
    /// How far it is.
    fn tell(&self, progress: Progress);
    /// Whether to stop and give the best plan so far.
    fn stopped(&self) -> bool;
}

/// Nobody waits.
impl Watch for () {
    fn tell(&self, _: Progress) {}

    fn stopped(&self) -> bool {
        false
    }
}

/// How far a search is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// What it does at the moment.
    pub stage: Stage,
    /// Share of the whole work that is done, as far as can be estimated, from 0 to 1; it never falls.
    pub share: f64,
    /// By how much a better plan can be worth more, as a share, once that is known.
    pub gap: Option<f64>,
}

/// What a search does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Finding prices at which the logs together fill the list.
    Prices,
    /// Choosing a pattern for every log.
    Choosing,
    /// Sawing and replaying every log.
    Replaying,
}

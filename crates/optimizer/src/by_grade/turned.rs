//! A pattern of a log with defects, turned about the pith to where its pieces are worth most.
//!
//! On round wood the same pattern fits in every turn, and a piece turns with it; what it looks like changes. Turns are
//! looked at [`COARSE`] apart first and then ever closer about the best ([`CLOSER`]). Patterns of methods that are akin are
//! much alike ([`kin`]), so once one of them was turned all the way the next are looked at in its [`BEST_TURNS`] alone.

use crate::family::Method;
use crate::looks::{Given, Giver, Giving, Looking};
use crate::sawing::Sawn;
use crate::want::{CutId, Want};
use pithward_geometry::{Angle, Claim, Frame, Log, Piece};

/// Distance of the turns that are looked at first, degrees.
const COARSE: i32 = 12;

/// The same where a pattern is only weighed against others.
const ROUGH: i32 = 60;

/// Turns in which what is found later is looked at: those in which the first pattern of its method is worth most.
const BEST_TURNS: usize = 6;

/// Distances of the turns that are looked at about the best, degrees, one after the other.
const CLOSER: [i32; 3] = [5, 2, 1];

/// A turn, degrees, and what a pattern is worth in it.
pub(super) type Turned = (i32, i64);

/// The first of the methods whose patterns lie in a log much as those of a method: lines across it are such, and cants.
pub(super) fn kin(method: Method) -> Method {
    match method {
        Method::Through | Method::ThroughTurned => Method::Through,
        Method::TwoSidedCant | Method::FourSidedCant => Method::TwoSidedCant,
        Method::BoxedHeart | Method::Around | Method::Quarter => method,
    }
}

/// Of methods that are akin the turns in which their first pattern is worth most.
#[derive(Clone, Debug, Default)]
pub(crate) struct Turns {
    of_kin: Vec<(Method, Vec<i32>)>,
    how: How,
}

/// How closely turns are looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum How {
    #[default]
    Closely,
    /// A rough look is enough.
    Roughly,
    /// The log lies as it is to be sawn.
    Never,
}

impl Turns {
    /// Nothing is known, and a rough look is enough.
    pub(crate) fn roughly() -> Self {
        Self { how: How::Roughly, ..Self::default() }
    }

    /// Nothing is turned.
    pub(super) fn never() -> Self {
        Self { how: How::Never, ..Self::default() }
    }

    /// Looks at a pattern of a method in the turns that matter, degrees: all that were looked at, with what it is worth in
    /// each.
    pub(super) fn look(
        &self,
        log: &Log,
        method: Method,
        worth: impl Fn(i32) -> i64,
    ) -> Vec<Turned> {
        let turns = self.of(log, method);
        let mut seen: Vec<Turned> = turns.iter().map(|turn| (*turn, worth(*turn))).collect();
        if turns.len() > 1 && self.how == How::Closely {
            for by in CLOSER {
                let (at, _) = most(&seen);
                seen.extend([at - by, at + by].map(|turn| (turn, worth(turn))));
            }
        }
        seen
    }

    /// The turn in which a pattern of a method is worth most, degrees.
    pub(crate) fn best(&self, log: &Log, method: Method, worth: impl Fn(i32) -> i64) -> i32 {
        most(&self.look(log, method, worth)).0
    }

    /// Whether a pattern of this method or of one akin was turned all the way.
    pub(super) fn know(&self, method: Method) -> bool {
        self.of_kin.iter().any(|(known, _)| *known == kin(method))
    }

    /// Keeps the turns in which the first pattern of a method or one akin is worth most.
    pub(super) fn learn(&mut self, method: Method, mut seen: Vec<Turned>) {
        if !self.know(method) {
            seen.sort_by_key(|(turn, worth)| (-worth, *turn));
            seen.truncate(BEST_TURNS);
            self.of_kin.push((kin(method), seen.into_iter().map(|(turn, _)| turn).collect()));
        }
    }

    fn of(&self, log: &Log, method: Method) -> Vec<i32> {
        if !log.is_round() || log.defects().is_empty() || self.how == How::Never {
            return vec![0];
        }
        match self.of_kin.iter().find(|(known, _)| *known == kin(method)) {
            Some((_, best)) => best.clone(),
            None => {
                let apart = if self.how == How::Roughly { ROUGH } else { COARSE };
                (0..360 / apart).map(|n| n * apart).collect()
            }
        }
    }
}

/// The first of the best.
pub(super) fn most(seen: &[Turned]) -> Turned {
    seen.iter()
        .copied()
        .reduce(|best, next| if next.1 > best.1 { next } else { best })
        .unwrap_or((0, 0))
}

/// Of every piece of a pattern that was sawn in a frame and is turned by so many degrees, what it was cut for, and the want
/// that it is given to as it looks there.
pub(crate) fn given(
    looking: &Looking<'_>,
    (wants, giving): (&[Want], &Giving),
    (frame, sawn): (Frame, &Sawn),
    turn: i32,
) -> Vec<(CutId, Option<Given>)> {
    let turn = Angle::degrees(turn);
    let frame = frame.turned_by(turn);
    let mut giver = Giver::new(wants, giving);
    let look = |(piece, id): (&Piece, &CutId)| {
        let claim = Claim { turn: piece.claim.turn.turned_by(turn), ..piece.claim };
        (*id, giver.give(*id, || looking.expected(&claim, &frame).grade))
    };
    sawn.order.pieces.iter().zip(&sawn.cuts).map(look).collect()
}

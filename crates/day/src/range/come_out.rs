//! Planned pieces that do not come out, by chance.
//!
//! Every piece of a simulated pile comes out with the chance that the mill's [`Recovery`] says of its wood, off by the same for
//! the whole pile as that is unsure. Pieces of one log share their fate as far as they are lost together: with `q` the
//! correlation of any two, each follows that of its log with the chance `sqrt(q)`, else its own. Pieces beyond a count are
//! lost first: nobody who needs forty and has forty-one notices one. Worth goes with the board feet.
//!
//! The numbers are drawn from a stream of their own, so that all else that is drawn stays what it is.

use super::draw::Draw;
use super::{Outcome, SimulatedPile};
use pithward_job::{PileJob, Recovery};
use pithward_optimizer::{CutId, Pile};
use pithward_trade::species::Kind;

/// Whoever loses pieces.
#[derive(Debug)]
pub(super) struct ComeOut<'a> {
    pile: &'a Pile,
    recovery: Recovery,
    woods: Vec<Option<Kind>>,
    seed: u64,
}

/// Streams of this seed on are those of what comes out.
const STREAM: u64 = 1 << 63;

impl<'a> ComeOut<'a> {
    /// Of a job and its pile; `None` where every planned piece comes out.
    pub(super) fn of(job: &PileJob, pile: &'a Pile, seed: u64) -> Option<Self> {
        let recovery = job.recovery;
        let woods = job.logs.iter().map(|log| log.species.map(|species| species.kind)).collect();
        (!recovery.is_whole()).then_some(Self { pile, recovery, woods, seed })
    }

    /// Takes away what is lost in the n-th pile. `cuts` are all pieces of its logs, in their order.
    pub(super) fn lose<T>(
        &self,
        n: u64,
        sawn: &mut SimulatedPile<T>,
        cuts: &[Vec<CutId>],
        outcome: &mut Outcome,
    ) {
        let mut draw = Draw::new(self.seed, STREAM | n);
        let off = self.recovery.unsure * draw.normal();
        let follows = self.recovery.together.sqrt();
        let mut lost = 0_i64;
        for (log, cuts) in sawn.logs.iter_mut().zip(cuts) {
            let wood = self.woods.get(log.log).copied().flatten();
            let chance = (self.recovery.of(wood) + off).clamp(0.0, 1.0);
            let of_log = draw.uniform();
            let came = cuts.iter().filter(|_| {
                let [own, follow] = [draw.uniform(), draw.uniform()];
                (if follow < follows { of_log } else { own }) < chance
            });
            let came: Vec<CutId> = came.copied().collect();
            if came.len() == cuts.len() {
                continue;
            }
            let (all, left) = (self.feet(log.log, cuts), self.feet(log.log, &came));
            lost = lost.saturating_add(all - left);
            log.board_feet = log.board_feet.saturating_sub(all - left).max(0);
            for (want, tally) in outcome.pieces.iter_mut().enumerate() {
                let of = |cuts: &[CutId]| cuts.iter().filter(|cut| cut.want.0 == want).count();
                let gone = u32::try_from(of(cuts) - of(&came)).unwrap_or(u32::MAX);
                let beyond = gone.min(tally.extra);
                tally.extra -= beyond;
                tally.given = tally.given.saturating_sub(gone - beyond);
            }
            log.cuts = Some(came);
        }
        let all = outcome.board_feet.max(1);
        let worth = i128::from(outcome.worth) * i128::from((all - lost).max(0));
        outcome.worth = i64::try_from(worth / i128::from(all)).unwrap_or(outcome.worth);
        outcome.board_feet = outcome.board_feet.saturating_sub(lost).max(0);
    }

    /// Millionths of a board foot of some pieces of a log.
    fn feet(&self, log: usize, cuts: &[CutId]) -> i64 {
        let menu = self.pile.logs.get(log).and_then(|of| self.pile.menus.get(of.menu));
        let of = |cut: &CutId| Some(menu?.get(cut.want.0)?.cuts.get(cut.cut)?.board_feet);
        cuts.iter().filter_map(of).fold(0, i64::saturating_add)
    }
}

//! What the work is made of: weights, loads, stacks, residue, fuel and blades.
//!
//! # The road
//! ```text
//! job, plan ─material of every sawn log─> pieces, slabs, edgings, ends, sawdust ─green densities─> weights
//!           ─lines of lumber─> loads, stacks          hours, from whoever reckons them ─stores─> supplies
//! ```
//! Volumes are those of the replayed sawing ([`material`]), each part measured by itself; so the weights add up to those of
//! the logs, and [`Goods::off`] says by how much they do not.
//!
//! # How sure
//! Weights follow from averages of the species, whole stems; one tree differs by 5 to 10 percent, and [`Lift`] leaves room
//! for that. Wood that nobody named, or of which nothing is published, is taken as heavy as the heaviest, so that no load
//! is told too light; [`LogWeight::density`] says which it is.

mod loads;
mod logs;
mod lumber;
mod matter;
mod residue;
mod stacks;
mod supplies;

pub use loads::{Load, Loads};
pub use logs::{HEAVIER, Lift, LogWeight};
pub use lumber::LumberLine;
pub use matter::Matter;
pub use residue::Residue;
pub use stacks::{BLOCKING, Board, GAP, Stack, Stacks};
pub use supplies::{Supplies, Work};

use lumber::Lines;
use pithward_geometry::{Material, ReplayFault, material};
use pithward_job::PileJob;
use pithward_measure::Weight;
use pithward_optimizer::{LogFate, LogPlan, PilePlan};
use std::sync::Arc;

/// What the plan of a pile is made of.
#[derive(Clone, Debug)]
pub struct Goods {
    /// What every log weighs, in the order of the pile.
    pub logs: Vec<LogWeight>,
    /// The place of the heaviest log; `None` where there is none.
    pub heaviest: Option<usize>,
    /// What every sawn log is turned into, in the order of the pile; `None` where it is not sawn. Logs that are alike and
    /// sawn alike share one.
    pub material: Vec<Option<Arc<Material>>>,
    /// The lumber, by wood and size, in the order of the list.
    pub lumber: Vec<LumberLine>,
    /// Its loads.
    pub loads: Loads,
    /// Its stacks.
    pub stacks: Stacks,
    /// What is left lying there of the logs that are sawn.
    pub residue: Residue,
    /// The logs that are not sawn.
    pub unsawn: Matter,
}

impl Goods {
    /// What a plan of a job's pile is made of. The plan must be of this job, stems bucked.
    ///
    /// # Errors
    /// A sawing order that cannot be gone through, as no confirmed plan has.
    pub fn of(job: &PileJob, plan: &PilePlan) -> Result<Self, ReplayFault> {
        let lifts = job.stores.lifts;
        let mut logs = Vec::with_capacity(job.logs.len());
        let mut found: Vec<Option<Arc<Material>>> = Vec::with_capacity(job.logs.len());
        let mut known: Vec<(usize, &Arc<LogPlan>, Arc<Material>)> = Vec::new();
        let mut lines = Lines::new(job);
        let chute = f64::from(job.stores.chute) / 1000.0;
        let mut residue = Residue { chute, ..Residue::default() };
        let mut unsawn = Matter::default();
        for (place, log) in job.logs.iter().enumerate() {
            let Some(LogFate::Sawn(sawn)) = plan.logs.get(place) else {
                let weight = LogWeight::of(&log.log, log.species, lifts);
                unsawn = unsawn.plus(weight.whole);
                logs.push(weight);
                found.push(None);
                continue;
            };
            let same = |(other, shared, _): &&(usize, &Arc<LogPlan>, Arc<Material>)| {
                Arc::ptr_eq(shared, sawn) && job.logs[*other].log == log.log
            };
            let turned = match known.iter().find(same) {
                Some((.., turned)) => Arc::clone(turned),
                None => {
                    let turned = Arc::new(material(&log.log, &job.mill, &sawn.order)?);
                    known.push((place, sawn, Arc::clone(&turned)));
                    turned
                }
            };
            let density = pithward_trade::GreenDensity::of(log.species);
            logs.push(LogWeight::measured(turned.log, density, lifts));
            let matter = |solid| Matter::of(solid, density);
            residue = residue.plus(Residue {
                slabs: matter(turned.slab()),
                edgings: matter(turned.edging()),
                ends: matter(turned.end()),
                sawdust: matter(turned.sawdust()),
                chute,
                of_logs: matter(turned.log),
            });
            lines.take(place, sawn, &turned, density);
            found.push(Some(turned));
        }
        let (lumber, pieces) = lines.into_lumber();
        let heavy: Vec<(usize, Weight)> =
            pieces.iter().map(|(line, b)| (*line, b.weight)).collect();
        let boards: Vec<Board> = pieces.into_iter().map(|(_, board)| board).collect();
        let heaviest = (0..logs.len()).rev().max_by_key(|log: &usize| logs[*log].whole.weight);
        Ok(Self {
            heaviest,
            loads: Loads::of(&heavy, job.lumber.payload),
            stacks: Stacks::of(&boards, &job.lumber),
            logs,
            material: found,
            lumber,
            residue,
            unsawn,
        })
    }

    /// The logs that the loader does not lift, by their places in the pile.
    pub fn too_heavy(&self) -> impl Iterator<Item = usize> {
        let heavy = |(_, log): &(usize, &LogWeight)| matches!(log.lift, Lift::TooHeavy { .. });
        self.logs.iter().enumerate().filter(heavy).map(|(place, _)| place)
    }

    /// All the lumber together.
    pub fn all_lumber(&self) -> Matter {
        self.lumber.iter().map(|line| line.matter).sum()
    }

    /// How much more all that came of the sawn logs weighs than they did: nothing, but for what the measuring is off.
    pub fn off(&self) -> Weight {
        self.all_lumber().weight + self.residue.all().weight - self.residue.of_logs.weight
    }

    /// Area that the blade saws, crosscuts left out: of the logs that `of` is true for.
    ///
    /// # Units
    /// Square feet.
    pub fn sawn_area(&self, of: impl Fn(usize) -> bool) -> f64 {
        let sawn = self.material.iter().enumerate().filter(|(place, _)| of(*place));
        sawn.filter_map(|(_, turned)| turned.as_ref()).map(|turned| turned.sawn_area()).sum::<f64>()
            / 144.0
    }
}

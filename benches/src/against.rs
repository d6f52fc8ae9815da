//! The program and the rules of thumb on the same pile, by how thick the logs are.

use crate::thumb;
use pithward_geometry::ReplayFault;
use pithward_optimizer::{Cut, CutId, LogFate, Pile, PilePlan};
use std::fmt;

/// What some logs give.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Gives {
    /// Pieces within the counts of the list.
    pub listed: u32,
    /// Worth of all pieces, without what puts the list first, millionths.
    pub worth: i64,
    /// What puts the list first, millionths: the more of it, the more of the list is filled, and the more
    /// important lines.
    pub first: i64,
    /// Logs that are sawn.
    pub sawn: u32,
}

/// Small ends of these many whole inches on, up to the next.
pub const FROM_INCHES: [i64; 5] = [8, 11, 14, 17, 20];

/// Both on one pile.
#[derive(Clone, Copy, Debug, Default)]
pub struct Against {
    /// By how thick the logs are: how many there are, what the rules of thumb give, what the program gives.
    pub by_inches: [(u32, Gives, Gives); FROM_INCHES.len()],
}

impl Against {
    /// Saws a pile by rules of thumb and holds a plan of it against that.
    ///
    /// # Errors
    /// What replay does not confirm of the rules of thumb.
    pub fn new(pile: &Pile, plan: &PilePlan) -> Result<Self, ReplayFault> {
        let by_thumb = thumb::saw(pile)?;
        let mut against = Self::default();
        for ((log, by_thumb), fate) in pile.logs.iter().zip(&by_thumb.logs).zip(&plan.logs) {
            let inches = log.log.small_end().div_floor(pithward_measure::Length::inches(1));
            let class = FROM_INCHES.iter().rposition(|from| *from <= inches).unwrap_or(0);
            let (logs, thumbed, planned) = &mut against.by_inches[class];
            *logs += 1;
            let menu = &pile.menus[log.menu];
            let add = |gives: &mut Gives, id: CutId, extra: bool| {
                let cut: &Cut = &menu[id.want.0].cuts[id.cut];
                let demand = pile.demands[id.want.0];
                gives.worth += if extra { cut.extra } else { cut.worth - demand.first };
                if demand.count.is_some() && !extra {
                    gives.listed += 1;
                    gives.first += demand.first;
                }
            };
            if let Some((_, cuts)) = by_thumb {
                thumbed.sawn += 1;
                cuts.iter().for_each(|id| add(thumbed, *id, false));
            }
            if let LogFate::Sawn(plan) = fate {
                planned.sawn += 1;
                plan.products.iter().for_each(|product| add(planned, product.cut, product.extra));
            }
        }
        Ok(against)
    }

    /// The rules of thumb and the program over all logs.
    pub fn whole(&self) -> (Gives, Gives) {
        let sum = |mut all: Gives, one: &Gives| {
            all.listed += one.listed;
            all.worth += one.worth;
            all.first += one.first;
            all.sawn += one.sawn;
            all
        };
        let thumb =
            self.by_inches.iter().fold(Gives::default(), |all, (_, thumb, _)| sum(all, thumb));
        let plan = self.by_inches.iter().fold(Gives::default(), |all, (_, _, plan)| sum(all, plan));
        (thumb, plan)
    }
}

impl fmt::Display for Against {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "small end      logs  listed by thumb  planned    worth by thumb     planned     more"
        )?;
        let mut row = |name: &str, logs: u32, thumb: &Gives, plan: &Gives| {
            let (by_thumb, planned) = (thumb.worth as f64 / 1e6, plan.worth as f64 / 1e6);
            let more = if thumb.worth > 0 { 100.0 * (planned / by_thumb - 1.0) } else { 0.0 };
            writeln!(
                f,
                "{name:<12} {logs:>6}  {:>15}  {:>7}  {by_thumb:>16.0}  {planned:>10.0}  {more:>+6.1}%",
                thumb.listed, plan.listed
            )
        };
        for (from, (logs, thumb, plan)) in FROM_INCHES.iter().zip(&self.by_inches) {
            row(&format!("{from} in on"), *logs, thumb, plan)?;
        }
        let (thumb, plan) = self.whole();
        row("all", self.by_inches.iter().map(|(logs, ..)| logs).sum(), &thumb, &plan)
    }
}

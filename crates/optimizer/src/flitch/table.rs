//! The best strips of boards by where they lie.

use super::Strip;
use crate::allowance::Allowances;
use crate::column::Lengths;
use crate::looks::Eyes;
use crate::site::{Lie, Site, planes};
use crate::stack::{Kind, Step};
use std::ops::Range;

/// The best strips of one thickness by place of the outer plane, for every allowance.
#[derive(Clone, Debug, Default)]
pub(crate) struct Table {
    /// For each allowance the steps from the outermost in, as [`crate::stack`] takes them.
    pub(crate) steps: Vec<Vec<Step>>,
    /// The strips of each step, from `-u` to `+u`, as a range of `all`.
    pub(super) strips: Vec<Vec<Range<usize>>>,
    pub(super) all: Vec<Strip>,
}

impl Table {
    /// The same where each board is worth what it looks like: at planes a grid apart.
    pub(super) fn seen(
        &self,
        eyes: &Eyes<'_>,
        site: &Site<'_>,
        lengths: &[Lengths],
        (lie, up, thickness): (Lie, bool, i64),
    ) -> Self {
        let mut all = Self { all: self.all.clone(), ..Self::default() };
        for (steps, strips) in self.steps.iter().zip(&self.strips) {
            let (mut seen, mut ranges) = (Vec::with_capacity(steps.len()), Vec::new());
            for (n, step) in steps.iter().enumerate() {
                let inner = steps.get(n + 1).map_or((thickness + 1) / 2 - 1, |next| next.at);
                let range = strips[n].clone();
                let mut plane = step.at;
                while plane > inner {
                    let loss = if step.value > 0 {
                        let planes = planes(up, plane, thickness);
                        eyes.loss(site, lengths, &self.all[range.clone()], lie, planes)
                    } else {
                        0
                    };
                    seen.push(Step { at: plane, value: (step.value - loss).max(0) });
                    ranges.push(range.clone());
                    if step.value <= 0 {
                        break;
                    }
                    plane -= SEEN_APART;
                }
            }
            all.steps.push(seen);
            all.strips.push(ranges);
        }
        all
    }

    pub(crate) fn strips(&self, allowance: usize, step: usize) -> &[Strip] {
        &self.all[self.strips[allowance][step].clone()]
    }

    /// The kinds of board that the table offers a stack of this thickness: an allowance that adds nothing
    /// to a smaller one is left out.
    pub(crate) fn kinds<'t>(&'t self, thickness: i64, allowances: &Allowances) -> Vec<Kind<'t>> {
        let adds = |(uses, steps): &(usize, &Vec<Step>)| {
            let known = |less: usize| {
                allowances.minus(*uses, less).is_some() && self.steps[less] == **steps
            };
            !steps.is_empty() && !(0..*uses).any(known)
        };
        let all = self.steps.iter().enumerate().filter(adds);
        all.map(|(uses, steps)| Kind { size: thickness, uses, steps }).collect()
    }
}

/// How far apart the planes are at which boards are looked at, nanometres: half an inch. Half of it finds
/// little more in twice the time.
const SEEN_APART: i64 = 12_700_000;

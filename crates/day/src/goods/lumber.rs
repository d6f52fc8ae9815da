//! The lumber by wood and size: how many pieces, how much they measure and weigh.

use super::{Board, Matter};
use pithward_geometry::{Claim, Material};
use pithward_job::{LogJob, PileJob};
use pithward_measure::{Length, Size, Weight};
use pithward_optimizer::{CutId, LogPlan};
use pithward_trade::{GreenDensity, Species};

/// Pieces of one size from one wood.
#[derive(Clone, Debug, PartialEq)]
pub struct LumberLine {
    /// The want that they serve, by its place in the list.
    pub want: usize,
    /// Their size as it is named, with its length; `None` where the job does not know it.
    pub size: Option<Size>,
    /// Smaller dimension as sawn, green.
    pub thickness: Length,
    /// Larger dimension as sawn, green.
    pub width: Length,
    /// As cut, trim included.
    pub length: Length,
    /// Their wood, where it was named.
    pub species: Option<&'static Species>,
    /// How many.
    pub count: u32,
    /// So many of them are beyond the want's count.
    pub extra: u32,
    /// Board feet by the named size, millionths.
    pub board_feet: i64,
    /// All of them as sawn, green.
    pub matter: Matter,
    /// The heaviest of them.
    pub heaviest: Weight,
}

impl LumberLine {
    /// What one of them weighs, the mean.
    pub fn each(&self) -> Weight {
        Weight::from_lb_f64(self.matter.weight.lb_f64() / f64::from(self.count.max(1)))
    }
}

/// What lumber is gathered into.
pub(super) struct Lines<'j> {
    job: &'j PileJob,
    lines: Vec<(Key, LumberLine)>,
    /// A log of each wood, for the names of its sizes.
    woods: Vec<(Option<&'static str>, LogJob)>,
    /// Every piece with the place of its line.
    pieces: Vec<(usize, Board)>,
}

/// What makes pieces one line.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Key {
    cut: CutId,
    wood: usize,
}

impl<'j> Lines<'j> {
    pub(super) fn new(job: &'j PileJob) -> Self {
        Self { job, lines: Vec::new(), woods: Vec::new(), pieces: Vec::new() }
    }

    /// Takes the pieces of one log.
    pub(super) fn take(
        &mut self,
        log: usize,
        plan: &LogPlan,
        turned: &Material,
        density: GreenDensity,
    ) {
        let species = self.job.logs[log].species;
        let name = species.map(|species| species.name.as_str());
        let wood = self.woods.iter().position(|(other, _)| *other == name).unwrap_or_else(|| {
            self.woods.push((name, self.job.log_job(log)));
            self.woods.len() - 1
        });
        let pieces = plan.order.pieces.iter().zip(&plan.products).zip(&turned.pieces);
        for ((piece, product), solid) in pieces {
            let key = Key { cut: product.cut, wood };
            let matter = Matter::of(*solid, density);
            let place = self.lines.iter().position(|(other, _)| *other == key);
            let place = place.unwrap_or_else(|| {
                let of_wood = &self.woods[wood].1;
                let size = of_wood.named_size(product.cut);
                self.lines.push((key, LumberLine::none(&piece.claim, product.cut, size, species)));
                self.lines.len() - 1
            });
            let (_, line) = &mut self.lines[place];
            line.count += 1;
            line.extra += u32::from(product.extra);
            line.board_feet += line.size.map_or(0, |size| board_feet(&size));
            line.matter = line.matter.plus(matter);
            line.heaviest = line.heaviest.max(matter.weight);
            let (thickness, width, length) = (line.thickness, line.width, line.length);
            self.pieces.push((place, Board { thickness, width, length, weight: matter.weight }));
        }
    }

    /// The lines in the order of the list, woods in that of the pile, the shorter first; and every piece with its line.
    pub(super) fn into_lumber(self) -> (Vec<LumberLine>, Vec<(usize, Board)>) {
        let Self { lines, mut pieces, .. } = self;
        let mut order: Vec<usize> = (0..lines.len()).collect();
        order.sort_by_key(|place| (lines[*place].0.cut, lines[*place].0.wood));
        let mut at = vec![0; order.len()];
        for (place, old) in order.iter().enumerate() {
            at[*old] = place;
        }
        for (line, _) in &mut pieces {
            *line = at[*line];
        }
        let lumber = order.into_iter().map(|place| lines[place].1.clone()).collect();
        (lumber, pieces)
    }
}

impl LumberLine {
    /// A line without a piece yet.
    fn none(
        claim: &Claim,
        cut: CutId,
        size: Option<Size>,
        species: Option<&'static Species>,
    ) -> Self {
        let (u, h) = (claim.u.size(), claim.h.size());
        Self {
            want: cut.want.0,
            size,
            thickness: u.min(h),
            width: u.max(h),
            length: claim.z.size(),
            species,
            count: 0,
            extra: 0,
            board_feet: 0,
            matter: Matter::default(),
            heaviest: Weight::ZERO,
        }
    }
}

fn board_feet(size: &Size) -> i64 {
    let length = size.length.unwrap_or_default();
    pithward_measure::board_feet_micro(size.thickness, size.width.least(), length)
}

//! The lumber that came off the saw: by wood and size, and what the hauler gets to carry.
//!
//! Weights are those of green wood as sawn, with the trim that boards still have, by the average of their species; wood that
//! nobody named counts as heavy as the heaviest.

use pithward_job::PileJob;
use pithward_measure::{Size, Weight, board_feet_micro};
use pithward_tally::{Piece, SoFar};
use pithward_trade::{GreenDensity, Species, target};

use super::worked::wood;
use crate::goods::Loads;
use crate::kept::Kept;

/// Pieces of one size from one wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CarriedLine {
    /// Their size as it was told, with its length.
    pub size: Size,
    /// Their wood, where it is known.
    pub species: Option<&'static Species>,
    /// How many.
    pub count: u32,
    /// So many of them are for no line of the customer's list.
    pub unwanted: u32,
    /// Millionths of a board foot by named sizes, of all of them.
    pub board_feet: i64,
    /// What each weighs, green.
    pub each: Weight,
}

/// All the lumber that came off the saw.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Carried {
    /// By size, and within a size by wood.
    pub lines: Vec<CarriedLine>,
    /// What it weighs, and the loads that it makes.
    pub loads: Loads,
}

impl Carried {
    /// The lumber of a tally.
    pub fn of(job: &PileJob, kept: Option<&Kept>, so_far: &SoFar) -> Self {
        let mut lines: Vec<CarriedLine> = Vec::new();
        for log in &so_far.logs {
            let species = wood(job, kept, log);
            log.pieces.iter().for_each(|piece| take(&mut lines, job, species, piece));
        }
        so_far.loose.iter().for_each(|piece| take(&mut lines, job, None, piece));
        let name = |line: &CarriedLine| line.species.map(|species| species.name.as_str());
        lines.sort_by(|one, two| {
            let key = |line: &CarriedLine| {
                (line.size.thickness, line.size.width.least(), line.size.length)
            };
            key(one).cmp(&key(two)).then_with(|| name(one).cmp(&name(two)))
        });
        let pieces: Vec<(usize, Weight)> = lines
            .iter()
            .enumerate()
            .flat_map(|(n, line)| std::iter::repeat_n((n, line.each), line.count as usize))
            .collect();
        Self { loads: Loads::of(&pieces, job.lumber.payload), lines }
    }

    /// Millionths of a board foot of all of it, by named sizes.
    pub fn board_feet(&self) -> i64 {
        self.lines.iter().fold(0, |sum: i64, line| sum.saturating_add(line.board_feet))
    }

    /// How many pieces there are.
    pub fn count(&self) -> u32 {
        self.lines.iter().fold(0, |sum: u32, line| sum.saturating_add(line.count))
    }
}

fn take(
    lines: &mut Vec<CarriedLine>,
    job: &PileJob,
    species: Option<&'static Species>,
    piece: &Piece,
) {
    let what = &piece.what;
    let size = what.size;
    let to: u32 = piece.to.iter().map(|(_, count)| *count).sum();
    let same = |line: &CarriedLine| {
        (line.size, line.species.map(|it| &it.name)) == (size, species.map(|it| &it.name))
    };
    let line = match lines.iter().position(same) {
        Some(known) => &mut lines[known],
        None => {
            lines.push(CarriedLine {
                size,
                species,
                count: 0,
                unwanted: 0,
                board_feet: 0,
                each: each(job, species, size),
            });
            let last = lines.len() - 1;
            &mut lines[last]
        }
    };
    line.count = line.count.saturating_add(what.count);
    line.unwanted = line.unwanted.saturating_add(what.count.saturating_sub(to));
    let length = what.length();
    let feet = board_feet_micro(size.thickness, size.width.least(), length);
    line.board_feet = line.board_feet.saturating_add(feet.saturating_mul(i64::from(what.count)));
}

fn each(job: &PileJob, species: Option<&Species>, size: Size) -> Weight {
    let (thickness, width) = match target(job.policy, &size, species) {
        Ok(target) => (target.thickness, target.width),
        Err(_) => (size.thickness, size.width.least()),
    };
    let length = size.length.unwrap_or_default() + job.trim;
    let feet = thickness.inches_f64() * width.inches_f64() * length.inches_f64() / 1728.0;
    Weight::from_lb_f64(feet * GreenDensity::of(species).wood)
}

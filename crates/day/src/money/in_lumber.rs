//! The sawyer's pay in lumber: board feet, boards by size, and what they are worth where the customer's list has prices.
//!
//! # Whole boards
//! A part of a count is seldom whole. Of every size the sawyer is told the boards that are his at least, rounded down; what they
//! leave of his board feet is made up in whichever boards both agree on. Who chooses is a matter of the terms.

use pithward_job::{Portion, Share};
use pithward_measure::Size;

use super::BillFault;
use super::done::Done;
use super::lumber::Boards;

/// What is paid in lumber.
#[derive(Clone, Debug, PartialEq)]
pub struct InLumber {
    /// The sawyer's part of what is shared.
    pub portion: Portion,
    /// What is shared, millionths of a board foot by named sizes.
    pub shared: i64,
    /// The sawyer's part of it, rounded down.
    pub board_feet: i64,
    /// Every size that is shared, the thickest, widest and longest first.
    pub sizes: Vec<SizeShare>,
    /// What the sawyer's boards of each size leave of his part: millionths of a board foot to be made up.
    pub rest: i64,
    /// What the sawyer's part is worth by the prices of the customer's list, millionths of the job's unit; `None` where some of
    /// what is shared has none.
    pub worth: Option<i64>,
}

/// Boards of one size that are shared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SizeShare {
    /// The size as it is named, with its length.
    pub size: Size,
    /// How many there are.
    pub count: u32,
    /// How many of them are the sawyer's at least.
    pub sawyers: u32,
    /// Millionths of a board foot of all of them.
    pub board_feet: i64,
}

impl InLumber {
    /// The sawyer's part of what was done.
    pub(super) fn of(done: &Done, share: &Share) -> Result<Self, Vec<BillFault>> {
        let mut sizes: Vec<SizeShare> = Vec::new();
        let mut worth: Option<Option<i64>> = None;
        for lumber in done.all_lumber() {
            let Some(boards) = lumber.boards else { return Err(vec![BillFault::NotCounted]) };
            let Boards { count, size, .. } = boards;
            if !boards.shared || count == 0 {
                continue;
            }
            worth = Some(match worth {
                None => boards.worth,
                Some(sum) => sum.zip(boards.worth).map(|(sum, more)| sum.saturating_add(more)),
            });
            match sizes.iter_mut().find(|known| known.size == size) {
                Some(known) => {
                    known.count = known.count.saturating_add(count);
                    known.board_feet = known.board_feet.saturating_add(lumber.named);
                }
                None => {
                    let board_feet = lumber.named;
                    sizes.push(SizeShare { size, count, sawyers: 0, board_feet });
                }
            }
        }
        sizes.sort_by_key(|one| std::cmp::Reverse(one.size));
        let portion = share.portion;
        let mut whole = 0_i64;
        for size in &mut sizes {
            size.sawyers = u32::try_from(portion.of(size.count.into())).unwrap_or(u32::MAX);
            let own = i128::from(size.board_feet) * i128::from(size.sawyers);
            let own = i64::try_from(own / i128::from(size.count.max(1))).unwrap_or(i64::MAX);
            whole = whole.saturating_add(own);
        }
        let shared = sizes.iter().fold(0_i64, |sum, size| sum.saturating_add(size.board_feet));
        let board_feet = portion.of(shared);
        Ok(Self {
            portion,
            shared,
            board_feet,
            rest: (board_feet - whole).max(0),
            worth: worth.flatten().map(|all| portion.of(all)),
            sizes,
        })
    }
}

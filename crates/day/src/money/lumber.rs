//! Lumber in the quantities that are billed: board feet, boards by their size, and what is shared.

use pithward_job::{JobWant, PieceWorth, PileJob, WorthTerms};
use pithward_measure::{Length, Size, Width, board_feet_micro};

/// Some lumber of one size, or of one thickness where nobody counted its boards.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lumber {
    /// The thickness that it is named by.
    pub thickness: Length,
    /// The thickness that it was sawn to.
    pub sawn_thickness: Length,
    /// Millionths of a board foot, by named sizes.
    pub named: i64,
    /// The same by the sizes that it was sawn to.
    pub sawn: i64,
    /// Its boards; `None` where nobody counted them.
    pub boards: Option<Boards>,
}

/// Boards of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Boards {
    /// How many.
    pub count: u32,
    /// Their size as it is named, with one width and with the length that counts.
    pub size: Size,
    /// They are among what is shared, where the sawyer is paid in lumber.
    pub shared: bool,
    /// What they are worth together by the customer's list, millionths of the job's unit; `None` where it has no prices.
    pub worth: Option<i64>,
}

impl Boards {
    /// Thickness, width and length, as named.
    pub fn sides(&self) -> [Length; 3] {
        let Size { thickness, width, length, .. } = self.size;
        [thickness, width.least(), length.unwrap_or_default()]
    }
}

impl Lumber {
    /// Pieces of one size: as it is named, with its length, and as it is sawn, thickness and width.
    pub fn pieces(count: u32, named: Size, sawn: [Length; 2]) -> Self {
        let length = named.length.unwrap_or_default();
        let size =
            Size { width: Width::Exactly(named.width.least()), length: Some(length), ..named };
        let feet = |[thickness, width]: [Length; 2]| {
            board_feet_micro(thickness, width, length).saturating_mul(i64::from(count))
        };
        Self {
            thickness: size.thickness,
            sawn_thickness: sawn[0],
            named: feet([size.thickness, size.width.least()]),
            sawn: feet(sawn),
            boards: Some(Boards { count, size, shared: false, worth: None }),
        }
    }

    /// The same as a job has it: whether it is shared, and what it is worth, for a want of its list or for none.
    #[must_use]
    pub fn for_want(self, job: &PileJob, want: Option<&JobWant>) -> Self {
        let Some(boards) = self.boards else { return self };
        let share = job.charges.share.as_ref();
        let shared = share.is_some_and(|share| share.takes(want, boards.sides()));
        let worth = want.and_then(|want| worth(job, want, boards.count, self.named));
        Self { boards: Some(Boards { shared, worth, ..boards }), ..self }
    }

    /// Whether both are boards of one size that are sawn, shared and valued alike, so that they can be told as one.
    fn is_like(&self, other: &Self) -> bool {
        let of = |lumber: &Self| {
            let boards = lumber.boards.map(|it| (it.size, it.shared, it.worth.is_some()));
            (lumber.thickness, lumber.sawn_thickness, boards)
        };
        of(self) == of(other)
    }

    /// Adds it to others, with those that are like it.
    pub(crate) fn add_to(self, all: &mut Vec<Self>) {
        let Some(known) = all.iter_mut().find(|known| known.is_like(&self)) else {
            return all.push(self);
        };
        known.named = known.named.saturating_add(self.named);
        known.sawn = known.sawn.saturating_add(self.sawn);
        if let (Some(boards), Some(more)) = (&mut known.boards, self.boards) {
            boards.count = boards.count.saturating_add(more.count);
            boards.worth =
                boards.worth.zip(more.worth).map(|(one, other)| one.saturating_add(other));
        }
    }
}

/// What some pieces are worth by a want, where the list has prices, millionths of the job's unit.
fn worth(job: &PileJob, want: &JobWant, count: u32, board_feet: i64) -> Option<i64> {
    (job.worth.unit != WorthTerms::BOARD_FEET).then(|| match want.worth {
        PieceWorth::Piece(each) => each.saturating_mul(i64::from(count)),
        by_foot @ PieceWorth::BoardFoot(_) => by_foot.of(board_feet),
    })
}

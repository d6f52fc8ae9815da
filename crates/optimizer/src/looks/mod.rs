//! How pieces of a log look: the expected grade of a board by the defects that its faces show, and its growth rings.
//!
//! A log's defects are bodies in its wood ([`pithward_geometry::Defect`]); where a piece lies is known once its log is
//! sawn. So what its faces show is geometry, and the grade that follows is [`pithward_trade::grade::expected`].
//!
//! # What is seen
//! Both wide faces, with every defect as the rectangle that holds it; the pith, boxed or showing; the wane on the edges,
//! where the piece may have any. What is as sawn is graded: green, and as long as it is cut, trim included.
//!
//! # What is not
//! Nobody sees into a log: the grade is expected from what was told of its outside, and no more. A flaw that a want
//! tolerates is not graded.

mod eyes;
mod giving;
mod put_back;
mod wane;

pub(crate) use eyes::Eyes;
pub(crate) use giving::{Given, Giver, Giving};

use crate::plan::{Fate, Part};
use crate::sawing::Sawn;
use crate::want::Want;
use pithward_geometry::{
    Angle, Claim, Defect, DefectBody, Frame, Log, PartId, PieceBox, RingAngle, SawingOrder,
    SeenBodies, Shown, Span, pith_in, ring_angle,
};
use pithward_measure::Length;
use pithward_trade::grade::{self, Area, Board, DefectKind, Grade};
use std::cell::RefCell;
use std::collections::{BTreeMap, VecDeque};
use std::rc::Rc;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// How a piece looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Its expected grade, where its want is graded.
    pub grade: Option<Expected>,
    /// How its growth rings lie; `None` where the pith is its very middle.
    pub rings: Option<RingAngle>,
}

/// An expected grade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Expected {
    /// `None` below all grades.
    pub grade: Option<Grade>,
    /// Its surface measure, square feet.
    pub measure: i64,
    /// Whether it is proven to be no better than that.
    pub proven: bool,
}

/// Radius of the pith. Common practice, no source.
const PITH: Length = Length::sixty_fourths(8);

/// The defects of a log as pieces with some directions see them.
type Along = Rc<SeenBodies>;

/// Where a piece lies: frame, turn, and its box.
type Place = (Frame, Angle, Span, Span, Span);

/// Pieces that are remembered at most.
const MOST_KNOWN: usize = 20_000;

/// Steps of a search for cuttings. Nearly all pieces take less than a tenth of it; one 17 in wide that showed 13 knots
/// took any number, and was no better for it.
const THOROUGH_WORK: u64 = 30_000;

/// The same where frames are only ranked.
const ROUGH_WORK: u64 = 300;

/// A log with its defects, and the pieces that were looked at.
#[derive(Debug)]
pub(crate) struct Looking<'a> {
    log: &'a Log,
    settings: grade::Settings,
    bodies: Vec<(DefectBody, DefectKind)>,
    /// The same as the last few directions see them.
    seen: RefCell<VecDeque<((Frame, Angle), Along)>>,
    remembered: Arc<Remembered>,
    is_rough: bool,
}

/// What was looked at before, by all that look at one log.
#[derive(Debug, Default)]
pub(crate) struct Remembered {
    thorough: Mutex<Known>,
    rough: Mutex<Known>,
}

/// What was looked at as thoroughly.
#[derive(Debug, Default)]
struct Known {
    pieces: BTreeMap<Place, Expected>,
    /// Boards that show nothing, by width and length.
    clear: BTreeMap<(Length, Length), Expected>,
}

impl<'a> Looking<'a> {
    pub(crate) fn new(log: &'a Log) -> Self {
        Self::remembering(log, &Arc::default())
    }

    /// The same, with what others who looked at this log remember.
    pub(crate) fn remembering(log: &'a Log, remembered: &Arc<Remembered>) -> Self {
        let body = |defect: &Defect| (DefectBody::new(defect, log), kind(defect));
        let bodies = log.defects().iter().map(body).collect();
        let settings = grade::Settings { most_work: THOROUGH_WORK, ..grade::Settings::default() };
        Self {
            log,
            settings,
            bodies,
            seen: RefCell::default(),
            remembered: Arc::clone(remembered),
            is_rough: false,
        }
    }

    /// The same, less thorough: a board may be held for poorer than it is.
    pub(crate) fn rough(log: &'a Log, remembered: &Arc<Remembered>) -> Self {
        let looking = Self::remembering(log, remembered);
        let settings = grade::Settings { most_work: ROUGH_WORK, ..looking.settings };
        Self { settings, is_rough: true, ..looking }
    }

    /// What was looked at as thoroughly; each entry is whole, whoever failed while it was open.
    fn known(&self) -> MutexGuard<'_, Known> {
        let Remembered { thorough, rough } = &*self.remembered;
        let known = if self.is_rough { rough } else { thorough };
        known.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The defects along the directions of a piece.
    fn along(&self, frame: &Frame, turn: Angle, piece: &PieceBox) -> Along {
        let mut seen = self.seen.borrow_mut();
        let key = (*frame, turn);
        if let Some((_, along)) = seen.iter().find(|(known, _)| *known == key) {
            return Rc::clone(along);
        }
        let bodies = self.bodies.iter().map(|(body, _)| body);
        let along: Along = Rc::new(SeenBodies::new(bodies, &piece.basis));
        // A pattern has boards along two or three directions.
        if seen.len() >= 4 {
            seen.pop_front();
        }
        seen.push_back((key, Rc::clone(&along)));
        along
    }

    /// The board that a claim is, and what it shows.
    pub(crate) fn board(&self, claim: &Claim, frame: &Frame) -> Option<Board> {
        let piece = PieceBox::of(claim, frame, self.log.length())?;
        let faces = piece.wide_faces();
        let across = if piece.u.size() >= piece.h.size() { piece.u } else { piece.h };
        let area = |shown: &Shown| {
            let from = |span: Span, at: Length| (span.from - at, span.to - at);
            Area::new(from(shown.along, piece.z.from), from(shown.across, across.from))
        };
        let mut board = Board::clear(across.size(), piece.z.size());
        let along = self.along(frame, claim.turn, &piece);
        for (face, defects) in faces.into_iter().zip(&mut board.faces) {
            let shown = along.on_face(&piece, face);
            for one in shown.chunk_by(|(body, _), (other, _)| body == other) {
                let kind = self.bodies[one[0].0].1;
                let shown = joined(one.iter().map(|(_, shown)| *shown).collect());
                defects.extend(shown.iter().map(|s| grade::Defect { kind, area: area(s) }));
            }
        }
        // The pith is told along `u`; in a piece that stands on edge its width is along `h`.
        let pith = pith_in(self.log, &piece, PITH);
        board.pith = if across == piece.u {
            pith.iter().map(area).collect()
        } else {
            let whole = (Length::ZERO, across.size());
            let along =
                |shown: &Shown| (shown.along.from - piece.z.from, shown.along.to - piece.z.from);
            pith.iter().map(|shown| Area::new(along(shown), whole)).collect()
        };
        if claim.wane_u > Length::ZERO && claim.wane_h > Length::ZERO {
            wane::add(self.log, &piece, &mut board);
        }
        Some(board)
    }

    /// The expected grade of a piece.
    pub(crate) fn expected(&self, claim: &Claim, frame: &Frame) -> Expected {
        let place = (*frame, claim.turn, claim.u, claim.h, claim.z);
        if let Some(known) = self.known().pieces.get(&place) {
            return *known;
        }
        let expected = self.looked(claim, frame);
        let pieces = &mut self.known().pieces;
        if pieces.len() >= MOST_KNOWN {
            pieces.clear();
        }
        pieces.insert(place, expected);
        expected
    }

    fn looked(&self, claim: &Claim, frame: &Frame) -> Expected {
        let board = self.board(claim, frame).unwrap_or_default();
        let is_clear = board.faces.iter().all(Vec::is_empty) && board.pith.is_empty();
        if !is_clear {
            return of(&board, self.settings);
        }
        let size = (board.width, board.length);
        *self.known().clear.entry(size).or_insert_with(|| of(&board, self.settings))
    }

    /// How a piece of a want looks.
    pub(crate) fn look(&self, want: &Want, claim: &Claim, frame: &Frame) -> Look {
        let grade = want.grading.as_ref().map(|_| self.expected(claim, frame));
        let piece = PieceBox::of(claim, frame, self.log.length());
        Look { grade, rings: piece.and_then(|piece| ring_angle(self.log, &piece)) }
    }
}

/// What one defect shows on a face, in fewer rectangles: those are joined that are as long and lie side by side or on top
/// of each other, and those left out that lie within another.
fn joined(mut shown: Vec<Shown>) -> Vec<Shown> {
    let holds = |outer: Span, inner: Span| outer.from <= inner.from && inner.to <= outer.to;
    let meet = |a: Span, b: Span| a.from <= b.to && b.from <= a.to;
    let both = |a: Span, b: Span| Span::new(a.from.min(b.from), a.to.max(b.to));
    let join = |a: &Shown, b: &Shown| {
        let held = holds(a.along, b.along) && holds(a.across, b.across);
        let beside = a.along == b.along && meet(a.across, b.across);
        let behind = a.across == b.across && meet(a.along, b.along);
        (held || beside || behind)
            .then(|| Shown { along: both(a.along, b.along), across: both(a.across, b.across) })
    };
    let mut place = 0;
    while place < shown.len() {
        let one = shown[place];
        let others = (0..shown.len()).filter(|other| *other != place);
        let met = others.into_iter().find_map(|other| Some((other, join(&one, &shown[other])?)));
        match met {
            Some((other, both)) => {
                shown[place] = both;
                shown.remove(other);
                place = 0;
            }
            None => place += 1,
        }
    }
    shown
}

/// What a board is expected to be.
fn of(board: &Board, settings: grade::Settings) -> Expected {
    let grade::Expected { grade, measure, proven, .. } = grade::expected(board, settings);
    Expected { grade, measure, proven }
}

/// What a defect of the log is on a face. That knots are sound, and that an old seam or scar holds bark, is common
/// practice, no source.
fn kind(defect: &Defect) -> DefectKind {
    match defect {
        Defect::Knot { .. } | Defect::Core { .. } => DefectKind::SoundKnot,
        Defect::Seam { .. } | Defect::Scar { .. } => DefectKind::Bark,
        Defect::Hole { .. } => DefectKind::Hole,
    }
}

/// The wants as they are worth at their best: each cut at the grade that a clear board of its size has.
///
/// What a search finds with them bounds what it would find if it knew of every defect.
pub(crate) fn at_best(wants: &[Want]) -> Vec<Want> {
    let mut wants = wants.to_vec();
    for want in &mut wants {
        let Some(grading) = want.grading else { continue };
        for cut in &mut want.cuts {
            let across = cut.width.max(cut.thickness);
            let clear = of(&Board::clear(across, cut.take), grade::Settings::default()).grade;
            if grading.admits(clear) {
                let loss = grading.loss(cut.board_feet, clear);
                (cut.worth, cut.extra) = ((cut.worth - loss).max(0), (cut.extra - loss).max(0));
            } else {
                // Not even without a defect is it as good as asked: it takes more than any log has.
                (cut.worth, cut.extra, cut.take) = (0, 0, Length::MAX);
            }
        }
    }
    wants
}

/// What was sawn, each piece as it looks and for the want that it serves so.
pub(crate) struct Judged {
    pub(crate) sawn: Sawn,
    /// What each piece is worth less than at its best, millionths.
    pub(crate) losses: Vec<i64>,
    pub(crate) looks: Vec<Look>,
}

/// What the wide faces of every piece of an order show, and its wane; `None` of a piece that is no box.
pub fn shown(log: &Log, order: &SawingOrder) -> Vec<Option<Board>> {
    let looking = Looking::new(log);
    order.pieces.iter().map(|piece| looking.board(&piece.claim, &order.frame)).collect()
}

/// Looks at every piece of a log and gives it to a want; those that serve none as they look are left out.
pub(crate) fn judge(log: &Log, wants: &[Want], sawn: Sawn, giving: &Giving) -> Judged {
    let (looking, mut giver) = (Looking::new(log), Giver::new(wants, giving));
    let Sawn { mut order, parts, cuts } = sawn;
    let mut places: Vec<Option<usize>> = Vec::with_capacity(cuts.len());
    let (mut kept, mut losses, mut looks) = (Vec::new(), Vec::new(), Vec::new());
    for (piece, id) in order.pieces.iter().zip(&cuts) {
        let look = looking.look(&wants[id.want.0], &piece.claim, &order.frame);
        let given = giver.give(*id, || look.grade.and_then(|expected| expected.grade));
        places.push(given.is_some().then_some(kept.len()));
        if let Some(Given { id, worth, .. }) = given {
            // A want that nobody grades is not told a grade.
            let graded = wants[id.want.0].grading.is_some();
            let look = Look { grade: look.grade.filter(|_| graded), ..look };
            losses.push(wants[id.want.0].cuts[id.cut].worth - worth);
            kept.push(id);
            looks.push(look);
        }
    }
    let parts = leave_out(&mut order, parts, &places);
    Judged { sawn: Sawn { order, parts, cuts: kept }, losses, looks }
}

/// Leaves those pieces of an order out that have no new place; what becomes of its parts then.
pub(crate) fn leave_out(
    order: &mut SawingOrder,
    parts: Vec<Part>,
    places: &[Option<usize>],
) -> Vec<Part> {
    let mut place = places.iter();
    order.pieces.retain(|_| place.next().is_some_and(Option::is_some));
    let parts = parts.into_iter().map(|part| Part { fate: renamed(part.fate, places), ..part });
    let parts: Vec<Part> = parts.collect();
    // What gives no piece is not edged either, and batches are counted anew.
    let edged = |id: PartId| {
        let fate = parts.iter().find(|part| part.id == id).map(|part| &part.fate);
        matches!(fate, Some(Fate::Flitch { .. }))
    };
    order.edgings.retain(|edging| edged(edging.part));
    let mut batches: Vec<u32> = order.edgings.iter().map(|edging| edging.batch).collect();
    batches.sort_unstable();
    batches.dedup();
    let number = |batch: u32| {
        u32::try_from(batches.partition_point(|other| *other < batch) + 1).unwrap_or(batch)
    };
    for edging in &mut order.edgings {
        edging.batch = number(edging.batch);
    }
    let counted = |part: Part| match part.fate {
        Fate::Flitch { batch, pieces } => {
            Part { fate: Fate::Flitch { batch: number(batch), pieces }, ..part }
        }
        _ => part,
    };
    let parts = parts.into_iter().map(counted).collect();
    put_back::leave_idle(order, parts)
}

/// What becomes of a part of which some pieces are left out, the others at their new places.
fn renamed(fate: Fate, places: &[Option<usize>]) -> Fate {
    let kept = |pieces: Vec<usize>| -> Vec<usize> {
        pieces.into_iter().filter_map(|piece| places.get(piece).copied().flatten()).collect()
    };
    match fate {
        Fate::Slab | Fate::PutBack(_) => fate,
        Fate::Square(pieces) => match kept(pieces) {
            pieces if pieces.is_empty() => Fate::Slab,
            pieces => Fate::Square(pieces),
        },
        Fate::Flitch { batch, pieces } => match kept(pieces) {
            pieces if pieces.is_empty() => Fate::Slab,
            pieces => Fate::Flitch { batch, pieces },
        },
    }
}

#[cfg(test)]
mod tests;

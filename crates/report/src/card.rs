//! The cut card: one log, face by face, as it is followed at the mill.
//!
//! The order of the sections is the order of the work: what the log is and gives, what was seen on it, how it is laid down,
//! the faces with their passes, edging, trimming; then what a person wants to know before starting or
//! after: the count, how good it is, what a little would have bought, what was assumed, and cautions.

pub(crate) mod assumed;
mod bodies;
pub(crate) mod cautions;
mod edging;
mod end_view;
mod faces;
mod hazards;
pub(crate) mod near;
mod proof;
mod rest_words;
mod resumed;
mod seen;
pub(crate) mod setup;
mod steps;
pub(crate) mod tally;
mod trim;

use crate::grade_words;
use crate::names::{self, Named};
use crate::obstacle;
use crate::page::Page;
use crate::sorting;
use pithward_geometry::{PartId, SawingOrder, Support};
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::{Fate, LogPlan, Method, NearMiss, Planned};

pub use resumed::{Going, resumed_card};
pub use steps::{Step, StepPass, steps};

/// The cut card of one log, as plain text of at most 80 columns.
pub fn card(job: &LogJob, planned: &Planned, near: &[NearMiss]) -> String {
    let sheet = Sheet::new(job, &planned.plan);
    let mut page = Page::default();
    setup::title(&mut page, &sheet);
    work(&mut page, &sheet);
    tally::tally(&mut page, &sheet);
    sorting::hint(&mut page, job, sheet.plan, &sheet.pieces);
    proof::proof(&mut page, &sheet, planned);
    near::near(&mut page, job, near);
    obstacle::limits(&mut page, job, &planned.obstacles);
    before_you_start(&mut page, &sheet, &planned.proof.methods);
    page.finish()
}

/// The work in its order: how the log is laid down, its faces, edging, trimming.
pub(crate) fn work(page: &mut Page, sheet: &Sheet<'_>) {
    seen::seen(page, sheet);
    setup::set_up(page, sheet);
    end_view::end_view(page, sheet);
    faces::faces(page, sheet);
    edging::edging(page, sheet);
    trim::trim(page, sheet);
}

/// What was assumed, and cautions.
pub(crate) fn before_you_start(page: &mut Page, sheet: &Sheet<'_>, searched: &[Method]) {
    assumed::assumed(page, sheet, searched);
    cautions::cautions(page, sheet.job, cautions::lowest(&sheet.plan.order));
    if sheet.job.wants.iter().any(|want| !want.grade.is_nothing()) {
        page.item(grade_words::EXPECTED);
    }
    cautions::parts(page, [&sheet.plan.order]);
}

/// From this on, in its smaller dimension, a piece is called a timber.
const LEAST_TIMBER: Length = Length::inches(5);

/// What every section reads: the job, the plan, and its pieces by name.
pub(crate) struct Sheet<'a> {
    pub(crate) job: &'a LogJob,
    pub(crate) plan: &'a LogPlan,
    /// In the order of `plan.order.pieces`.
    pub(crate) pieces: Vec<Option<Named>>,
    /// Passes that are made already, counted as the card counts them.
    made: u32,
    /// Parts whose pieces are finished already.
    finished: Vec<PartId>,
}

impl<'a> Sheet<'a> {
    /// A log and its plan, its pieces named.
    pub(crate) fn new(job: &'a LogJob, plan: &'a LogPlan) -> Self {
        let pieces = names::pieces(job, plan);
        Self { job, plan, pieces, made: 0, finished: Vec::new() }
    }

    /// Whether a part is cut into its pieces already.
    fn is_finished(&self, part: PartId) -> bool {
        self.finished.contains(&part)
    }

    /// The sizes of some pieces, alike together.
    fn sizes(&self, pieces: impl IntoIterator<Item = usize>) -> String {
        names::sizes(pieces.into_iter().filter_map(|n| self.pieces.get(n).copied().flatten()))
    }

    /// What becomes of a part.
    fn fate(&self, id: PartId) -> &Fate {
        self.plan.parts.iter().find(|part| part.id == id).map_or(&Fate::Slab, |part| &part.fate)
    }

    /// A part to be edged: a flitch still has its bark, a plank or timber of a cant a sawn edge.
    fn kind(&self, id: PartId) -> &'static str {
        let pieces = self.plan.order.pieces.iter().filter(|piece| piece.part == id);
        let least = pieces.map(|piece| piece.claim.u.size().min(piece.claim.h.size())).min();
        match (stands_on_sawn_edge(&self.plan.order, id), least) {
            (true, Some(least)) if least >= LEAST_TIMBER => "timber",
            (true, _) => "plank",
            (false, _) => "flitch",
        }
    }
}

/// A part to be edged that has a sawn edge already.
fn stands_on_sawn_edge(order: &SawingOrder, id: PartId) -> bool {
    let edging = order.edgings.iter().find(|edging| edging.part == id);
    let first = edging.and_then(|edging| edging.stages.first());
    first.is_some_and(|stage| stage.rest.on == Support::SawnEdge)
}

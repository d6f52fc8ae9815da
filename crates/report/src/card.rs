//! The cut card: one log, face by face, as it is followed at the mill.
//!
//! The order of the sections is the order of the work: what the log is and gives, how it is laid down,
//! the faces with their passes, edging, trimming; then what a person wants to know before starting or
//! after: the count, how good it is, what a little would have bought, what was assumed, and cautions.

mod assumed;
mod cautions;
mod edging;
mod end_view;
mod faces;
pub(crate) mod near;
mod proof;
mod setup;
mod tally;
mod trim;

use crate::names::{self, Named};
use crate::obstacle;
use crate::page::Page;
use pithward_geometry::{PartId, SawingOrder, Support};
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::{Fate, LogPlan, NearMiss, Planned};

/// The cut card of one log, as plain text of at most 80 columns.
pub fn card(job: &LogJob, planned: &Planned, near: &[NearMiss]) -> String {
    let plan = &planned.plan;
    let sheet = Sheet { job, plan, pieces: names::pieces(job, plan) };
    let mut page = Page::default();
    setup::title(&mut page, &sheet);
    setup::set_up(&mut page, &sheet);
    end_view::end_view(&mut page, &sheet);
    faces::faces(&mut page, &sheet);
    edging::edging(&mut page, &sheet);
    trim::trim(&mut page, &sheet);
    tally::tally(&mut page, &sheet);
    proof::proof(&mut page, &sheet, planned);
    near::near(&mut page, job, near);
    obstacle::limits(&mut page, job, &planned.obstacles);
    assumed::assumed(&mut page, &sheet, planned);
    cautions::cautions(&mut page, &sheet);
    page.finish()
}

/// From this on, in its smaller dimension, a piece is called a timber.
const LEAST_TIMBER: Length = Length::inches(5);

/// What every section reads: the job, the plan, and its pieces by name.
pub(crate) struct Sheet<'a> {
    pub(crate) job: &'a LogJob,
    pub(crate) plan: &'a LogPlan,
    /// In the order of `plan.order.pieces`.
    pub(crate) pieces: Vec<Option<Named>>,
}

impl Sheet<'_> {
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

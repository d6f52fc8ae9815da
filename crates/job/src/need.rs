//! How many logs of one kind a list takes: asked before trees are felled.
//!
//! The kind is one log as a person expects it. Its butt may be left out; it then follows from the small end by a stated
//! taper of 1 in in 8 ft.

use pithward_optimizer::Pile;
use pithward_trade::{RingConvention, SizePolicy};

use crate::doubt::Doubt;
use crate::fault::{Fault, FaultKind};
use crate::grade_text::{GradePrices, GradeTerms};
use crate::log_job::{LogJob, NamedWant};
use crate::log_request::{LogRequest, MeasuredLog};
use crate::lumber::Lumber;
use crate::pile_job::{JobLog, JobWant, PileJob, WorthTerms};
use crate::sawing_request::SawingRequest;
use crate::size_policy::shrinks;
use crate::stem::Bucking;
use crate::typed::{Typed, TypedList};
use crate::yard::Yard;

const COUNTS_HELP: &str = "write how many for one line at least, as in 2x8x12=40";

/// A request for how many logs of one kind a list takes.
#[derive(Clone, Debug)]
pub struct NeedRequest {
    /// The kind of log, the mill and how to search. The butt may be left out.
    pub sawing: SawingRequest,
    /// The customer's list, each line in the form of [`WantText`](crate::WantText); one at least has a count.
    pub wants: TypedList,
}

/// A kind of log and a list with counts, checked and ready to be searched.
#[derive(Clone, Debug)]
pub struct NeedJob {
    /// The job: its only log is the kind.
    pub job: PileJob,
    /// The same in the numbers that the search needs.
    pub pile: Pile,
    /// The butt was left out: it follows from the small end by a taper of 1 in in 8 ft.
    pub tapered: bool,
    /// Lines of a job's list that do not accept the wood of the kind; they are no part of `job`.
    pub left_out: Vec<JobWant>,
}

impl NeedRequest {
    /// The job.
    ///
    /// # Errors
    /// Every fault of the request and of the mill file; a list without a single count is one.
    pub fn into_job(self) -> Result<NeedJob, Vec<Fault>> {
        let mut faults = Vec::new();
        let tapered = self.sawing.log.is_tapered();
        let log = self.sawing.log.measure_or_taper(&mut faults);
        let job = self.sawing.list_job(log, &self.wants, faults)?;
        let counted = job.wants.iter().any(|want| want.count.is_some());
        if !counted {
            let typed = Typed::new(self.wants.name, self.wants.texts.first().cloned());
            return Err(vec![typed.fault(FaultKind::NoCounts, COUNTS_HELP)]);
        }
        let mut job = pile_of(job);
        let typed = |n: usize| Typed::new(self.wants.name, self.wants.texts.get(n).cloned());
        job.put_list_first().map_err(|found| {
            found.into_iter().map(|(n, misread)| typed(n).placed(misread)).collect::<Vec<_>>()
        })?;
        Ok(NeedJob { pile: job.pile(), job, tapered, left_out: Vec::new() })
    }
}

/// Every fault that a kind of log has with any job, as [`PileJob::needing`] reads it: to be told beside the faults of a
/// job that could not be read.
pub fn kind_faults(kind: &LogRequest) -> Vec<Fault> {
    let mut faults = Vec::new();
    kind.measure_or_taper(&mut faults);
    faults
}

impl PileJob {
    /// The list of this job, and a kind of log in place of its logs: how many of it does the list take? The kind's
    /// butt may be left out; its trim is the job's where it is left out. Lines that do not accept its wood are left
    /// out.
    ///
    /// # Errors
    /// Every fault of the kind; and a list of which no counted line accepts its wood.
    pub fn needing(&self, kind: &LogRequest) -> Result<NeedJob, Vec<Fault>> {
        let mut faults = Vec::new();
        let measured = kind.measure_or_taper(&mut faults);
        if matches!(self.policy, SizePolicy::Finished(_)) {
            let species = measured.as_ref().and_then(|measured| measured.species);
            shrinks(species, &kind.species, &mut faults);
        }
        if self.wants.iter().all(|want| want.count.is_none()) {
            let help = "write a count for one want at least, as in count = 40";
            faults.push(Typed::new("wants", None).fault(FaultKind::NoCounts, help));
        }
        let Some(MeasuredLog { log, species, bark, trim, two_diameters, told }) = measured else {
            return Err(faults);
        };
        let (wants, left_out): (Vec<JobWant>, Vec<JobWant>) =
            self.wants.iter().cloned().partition(|want| want.accepts(species));
        let counted = |wants: &[JobWant]| wants.iter().any(|want| want.count.is_some());
        if counted(&left_out) && !counted(&wants) {
            let help = "name a wood that the list accepts";
            faults.push(kind.species.fault(FaultKind::NoWantAccepts, help));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let log = JobLog {
            id: "1".to_owned(),
            log,
            species,
            bark,
            taped_over_bark: kind.over_bark.on,
            two_diameters,
            told,
            notes: String::new(),
        };
        let trim = if kind.trim.is_given() { trim } else { self.trim };
        let mut job =
            Self { logs: vec![log], stems: Vec::new(), cuts: None, wants, trim, ..self.clone() };
        for want in &job.wants {
            let misread = want.no_target(self.policy, &[species]);
            faults.extend(misread.map(|misread| kind.species.placed(misread)));
        }
        job.open_lengths();
        if let Err(found) = job.put_list_first() {
            faults.extend(found.into_iter().map(|(_, misread)| kind.species.placed(misread)));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        Ok(NeedJob { pile: job.pile(), job, tapered: kind.is_tapered(), left_out })
    }
}

/// The pile of a single log.
pub(crate) fn pile_of(job: LogJob) -> PileJob {
    let log = JobLog {
        id: "1".to_owned(),
        log: job.log,
        species: job.species,
        bark: job.bark,
        taped_over_bark: job.taped_over_bark,
        two_diameters: job.two_diameters,
        told: job.told,
        notes: String::new(),
    };
    PileJob {
        file: String::new(),
        inputs: Vec::new(),
        site: String::new(),
        date: String::new(),
        notes: String::new(),
        stems: Vec::new(),
        bucking: Bucking::on(&job.mill),
        cuts: None,
        mill: job.mill,
        mill_source: job.mill_source,
        pace: job.pace,
        charges: job.charges,
        yard: Yard::default(),
        stores: job.stores,
        recovery: crate::learned::Recovery::default(),
        lumber: Lumber::default(),
        scale: job.scale,
        policy: job.policy,
        trim: job.trim,
        lengths: None,
        settings: job.settings,
        methods_named: job.methods_named,
        worth: WorthTerms::default(),
        doubt: Doubt::default(),
        prices: GradePrices::default(),
        ring_convention: RingConvention::default(),
        logs: vec![log],
        wants: job.wants.into_iter().map(want_of).collect(),
        asked: job.asked,
    }
}

fn want_of(named: NamedWant) -> JobWant {
    JobWant {
        size: named.size,
        count: named.count,
        lengths: named.lengths,
        open_lengths: false,
        wane: named.wane,
        heart: named.heart,
        tolerates: named.tolerates,
        worth: named.weight.worth,
        extra: named.weight.extra.filter(|_| named.count.is_some()),
        first: 0,
        species: Vec::new(),
        grade: GradeTerms { least: named.grade.least, rings: named.grade.rings, by_grade: false },
        blocking: false,
    }
}

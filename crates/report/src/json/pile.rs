//! The plan of a pile as JSON, written log by log.

use super::asked::asked;
use super::lines::Lines;
use super::sawing::method;
use super::{day, grown, obstacle, sawing, stems, whole};
use crate::pile::Woods;
use crate::pile::short::sentence;
use crate::schema::VERSION;
use crate::schema::pile::{
    AsFarForm, CureForm, GivesForm, JobForm, LogFateForm, LogPlanForm, LotForm, LotReasonForm,
    PileForm, PileLogForm, PileResultForm, PileWantForm, ShortageForm, WhyShortForm, WoodForm,
    WoodWantForm, WorthForm,
};
use pithward_job::{JobWant, LogJob, PileJob};
use pithward_measure::{Length, Width};
use pithward_optimizer::{LogFate, LogPlan, LotReason, Pile, PilePlan, Shortage, Want, WhyShort};
use serde::{Serialize, Serializer};
use std::io::{self, BufWriter, Write};

/// Writes the whole plan of a pile as JSON, in the form of [`pile_schema`](crate::pile_schema()): a log on each line, made
/// when it is written, so that thousands of logs need no more memory than one.
///
/// # Errors
/// Where `out` cannot be written to.
pub fn pile_json(
    job: &PileJob,
    pile: &Pile,
    plan: &PilePlan,
    out: &mut dyn Write,
) -> io::Result<()> {
    let woods = Woods::of(job, pile);
    let logs = Logs { job, pile, plan, woods: &woods, numbers: numbers(plan) };
    let form = PileForm {
        schema_version: VERSION,
        units: day::units(),
        job: job_form(job),
        mill: day::mill(job),
        assumptions: day::assumptions(job, job.logs.iter().all(|log| log.log.is_round())),
        worth: worth(job, pile),
        wants: job.wants.iter().enumerate().map(|(n, named)| want(pile, n, named)).collect(),
        woods: (0..pile.menus.len()).map(|menu| wood(pile, &woods, menu)).collect(),
        tally: plan.tally.iter().map(day::tally).collect(),
        shortages: plan.shortages.iter().map(|one| shortage(job, pile, one)).collect(),
        order: order(plan),
        result: result(plan),
        bucking: stems::bucking(job),
        asked: asked(job.asked.as_deref()),
        logs,
    };
    let mut out = BufWriter::new(out);
    form.serialize(&mut serde_json::Serializer::with_formatter(
        &mut out,
        Lines::down_to(LINES_DOWN_TO),
    ))?;
    out.write_all(b"\n")?;
    out.flush()
}

/// What a job is called.
pub(super) fn job_form(job: &PileJob) -> JobForm {
    JobForm {
        file: job.file.clone(),
        site: job.site.clone(),
        date: job.date.clone(),
        notes: job.notes.clone(),
    }
}

/// A log is a line.
const LINES_DOWN_TO: usize = 2;

/// For every log its number in the order of sawing, from 1.
fn numbers(plan: &PilePlan) -> Vec<Option<usize>> {
    let mut numbers = vec![None; plan.logs.len()];
    for (n, log) in plan.order.iter().flat_map(|lot| &lot.logs).enumerate() {
        if let Some(number) = numbers.get_mut(*log) {
            *number = Some(n + 1);
        }
    }
    numbers
}

/// The logs, each made when it is written.
struct Logs<'a> {
    job: &'a PileJob,
    pile: &'a Pile,
    plan: &'a PilePlan,
    woods: &'a Woods<'a>,
    numbers: Vec<Option<usize>>,
}

impl Serialize for Logs<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let logs = 0..self.job.logs.len().min(self.plan.logs.len()).min(self.pile.logs.len());
        serializer.collect_seq(logs.map(|log| self.log(log)))
    }
}

impl Logs<'_> {
    fn log(&self, n: usize) -> PileLogForm {
        let (log, fate, of) = (&self.job.logs[n], &self.plan.logs[n], &self.pile.logs[n]);
        let (fate, plan, obstacles) = match fate {
            LogFate::Sawn(plan) => {
                (LogFateForm::Sawn, self.woods.job(n).map(|job| self.sawn(job, plan)), Vec::new())
            }
            LogFate::LeftWhole => (LogFateForm::LeftWhole, None, Vec::new()),
            LogFate::Unplanned => (LogFateForm::Unplanned, None, Vec::new()),
            LogFate::Impossible(obstacles) => {
                let job = self.job.log_job(n);
                let forms = obstacles.iter().map(|one| obstacle::form(&job, one)).collect();
                (LogFateForm::Impossible, None, forms)
            }
        };
        PileLogForm {
            id: log.id.clone(),
            log: day::log(&log.log, log.bark, log.taped_over_bark, log.species, &log.told),
            two_diameters: log.two_diameters,
            notes: log.notes.clone(),
            wood: of.menu,
            fate,
            number: self.numbers.get(n).copied().flatten(),
            plan,
            obstacles,
        }
    }

    fn sawn(&self, job: &LogJob, plan: &LogPlan) -> LogPlanForm {
        let mut gives = vec![GivesForm::default(); self.job.wants.len()];
        for product in &plan.products {
            let Some(gives) = gives.get_mut(product.cut.want.0) else { continue };
            if product.extra {
                gives.extra += 1;
            } else {
                gives.given += 1;
            }
        }
        LogPlanForm {
            sawn: sawing::sawn(job, plan),
            gives,
            board_feet: plan.board_feet,
            share_of_wood: whole(plan.share_of_solid * 1e6),
            passes: plan.order.passes(),
            turns: plan.order.turns(),
        }
    }
}

fn worth(job: &PileJob, pile: &Pile) -> WorthForm {
    let terms = &job.worth;
    WorthForm {
        unit: terms.unit.clone(),
        board_foot: terms.board_foot,
        hour: terms.hour,
        pass_seconds: terms.pass_seconds,
        turn_seconds: terms.turn_seconds,
        pass: pile.effort.pass,
        turn: pile.effort.turn,
    }
}

fn want(pile: &Pile, n: usize, named: &JobWant) -> PileWantForm {
    PileWantForm {
        size: named.size.to_string(),
        thickness: named.size.thickness.as_nm(),
        width: named.size.width.least().as_nm(),
        random_width: matches!(named.size.width, Width::AtLeast(_)),
        lengths: named.lengths.iter().map(|length| length.as_nm()).collect(),
        count: named.count,
        more_welcome: named.count.is_none() || named.extra.is_some(),
        species: named.species.iter().map(|species| species.name.as_str()).collect(),
        blocking: named.blocking,
        list_first: pile.demands.get(n).map_or(0, |demand| demand.first),
    }
}

fn wood(pile: &Pile, woods: &Woods<'_>, menu: usize) -> WoodForm {
    let job = woods.of_menu(menu);
    let want = |(n, want): (usize, &Want)| WoodWantForm {
        wane_along_thickness: want.wane.thickness.as_nm(),
        wane_along_width: want.wane.width.as_nm(),
        heart: grown::heart(want.heart),
        tolerates: grown::tolerates(want.tolerates),
        cuts: job.map_or_else(Vec::new, |job| day::cuts(job, n, want)),
    };
    WoodForm {
        species: job.and_then(|job| job.species).map(|species| species.name.as_str()),
        wants: pile.menus.get(menu).into_iter().flatten().enumerate().map(want).collect(),
    }
}

/// A want that stays short.
pub(super) fn shortage(job: &PileJob, pile: &Pile, shortage: &Shortage) -> ShortageForm {
    ShortageForm {
        want: shortage.want.0,
        missing: shortage.missing,
        why: match &shortage.why {
            WhyShort::NoLog => WhyShortForm::NoLog,
            WhyShort::TooShort { takes, longest } => {
                WhyShortForm::TooShort { takes: takes.as_nm(), longest: longest.as_nm() }
            }
            WhyShort::TooThin { diameter, thickest } => {
                WhyShortForm::TooThin { diameter: diameter.as_nm(), thickest: thickest.as_nm() }
            }
            WhyShort::TooFew { most } => WhyShortForm::TooFew { most: *most },
            WhyShort::NotSought => WhyShortForm::NotSought,
            WhyShort::UsedUp { by } => {
                WhyShortForm::UsedUp { by: by.iter().map(|want| want.0).collect() }
            }
        },
        cure: shortage.cure.map(|cure| CureForm {
            logs: cure.logs,
            each: cure.each,
            small_end: cure.small_end.as_nm(),
            length: cure.length.as_nm(),
            wood: cure.menu,
        }),
        says: sentence(job, pile, shortage),
    }
}

/// The lots in which the logs are sawn.
pub(super) fn order(plan: &PilePlan) -> Vec<LotForm> {
    let lots = plan.order.iter();
    lots.map(|lot| LotForm { reason: reason(lot.reason), logs: lot.logs.clone() }).collect()
}

fn reason(reason: LotReason) -> LotReasonForm {
    match reason {
        LotReason::Blocking => LotReasonForm::Blocking,
        LotReason::Only(want) => LotReasonForm::Only { want: want.0 },
        LotReason::Alike { method: how, cant } => {
            LotReasonForm::Alike { method: method(how), cant: cant.map(Length::as_nm) }
        }
    }
}

fn result(plan: &PilePlan) -> PileResultForm {
    let proof = &plan.proof;
    let orders = || {
        plan.logs.iter().filter_map(|fate| match fate {
            LogFate::Sawn(plan) => Some(&plan.order),
            _ => None,
        })
    };
    PileResultForm {
        worth: plan.worth,
        value: proof.value,
        bound: proof.bound,
        list_first: proof.first,
        value_gap: proof.bound.map(|bound| bound.saturating_sub(proof.value)),
        as_far: proof.as_far.map(|far| AsFarForm { value: far.value, bound: far.bound }),
        gap: plan.gap_millionths(),
        list_is_proven: proof.list_is_proven,
        stopped: plan.stopped,
        board_feet: plan.board_feet,
        share_of_wood: whole(plan.share_of_solid * 1e6),
        passes: orders().map(|order| order.passes()).sum(),
        turns: orders().map(|order| order.turns()).sum(),
        methods_searched: proof.methods.iter().copied().map(method).collect(),
        classes: proof.classes,
        patterns: proof.patterns,
        programs: proof.programs,
        searches: proof.searches,
        states: proof.states,
        refused: proof.refused,
    }
}

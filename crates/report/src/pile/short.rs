//! What stays short, why, and what would cure it.

use super::Whole;
use crate::names::{self, capital, height, list, long, number};
use crate::page::Page;
use crate::terms::Terms;
use pithward_job::PileJob;
use pithward_measure::Length;
use pithward_optimizer::{Cure, Pile, Shortage, WhyShort};

/// Every shortage; nothing when the list is filled.
pub(super) fn short(page: &mut Page, whole: &Whole<'_>) {
    if whole.plan.shortages.is_empty() {
        return;
    }
    page.heading("SHORT", "the list is not filled from this pile");
    for shortage in &whole.plan.shortages {
        page.item(&sentence(whole.job, whole.pile, shortage));
    }
}

/// One shortage: how many, why, and what would be enough.
pub(crate) fn sentence(job: &PileJob, pile: &Pile, shortage: &Shortage) -> String {
    let want = names::want(job, shortage.want);
    let cure =
        shortage.cure.map_or(String::new(), |cure| format!(" {}", self::cure(job, pile, &cure)));
    format!("{} short of {want}: {}.{cure}", shortage.missing, why(job, shortage))
}

fn why(job: &PileJob, shortage: &Shortage) -> String {
    let step = job.scale().step();
    match &shortage.why {
        WhyShort::NoLog => {
            let accepted = job.wants.get(shortage.want.0).map_or(&[][..], |want| &want.species);
            match accepted {
                [] => "no log of the pile goes on the mill".to_owned(),
                accepted => format!("no log of {} goes on the mill", names::woods(accepted)),
            }
        }
        WhyShort::TooShort { takes, longest } => {
            let trim = if job.trim == Length::ZERO { "" } else { " with its trim" };
            // What it takes is rounded up and what there is down, or they might read alike.
            format!(
                "no log is long enough; the longest is {} and it takes {}{trim}",
                long(job, longest.floor_to(step)),
                long(job, takes.ceil_to(step))
            )
        }
        WhyShort::TooThin { diameter, thickest } => format!(
            "no log that is long enough is thick enough; the thickest has {} of wood across over that length \
             and it takes {}",
            height(job, thickest.floor_to(step)),
            height(job, diameter.ceil_to(step))
        ),
        WhyShort::NotSought => "the search was stopped before the reason was sought".to_owned(),
        WhyShort::TooFew { most: 0 } => {
            "the logs hold none, even if nothing else were sawn from them".to_owned()
        }
        WhyShort::TooFew { most } => format!(
            "the logs together hold no more than {most}, even if nothing else were sawn from them"
        ),
        WhyShort::UsedUp { by } if by.is_empty() => {
            format!(
                "the logs could give it, but other pieces use them up{}",
                too_poor(job, shortage)
            )
        }
        WhyShort::UsedUp { by } => {
            let by: Vec<String> = by.iter().map(|want| names::want(job, *want)).collect();
            let takes = if by.len() == 1 { "takes" } else { "take" };
            format!(
                "the logs could give it, but {}, before it in the list or worth more, {takes} them{}",
                list(&by),
                too_poor(job, shortage)
            )
        }
    }
}

/// Where a grade is asked for: what the logs could give is reckoned as if no log had a defect.
fn too_poor(job: &PileJob, shortage: &Shortage) -> &'static str {
    let asks = job.wants.get(shortage.want.0).is_some_and(|want| want.grade.least.is_some());
    if asks { ", or what is seen on them makes their boards too poor" } else { "" }
}

/// The logs that would be enough.
fn cure(job: &PileJob, pile: &Pile, cure: &Cure) -> String {
    let step = job.scale().step();
    let wood = pile.logs.iter().position(|log| log.menu == cure.menu);
    let wood = wood.and_then(|log| job.logs.get(log)).and_then(|log| log.species);
    let wood = wood.map_or(String::new(), |wood| format!("{} ", names::species(wood)));
    let (logs, each) = match cure.logs {
        1 => ("log", String::new()),
        _ => ("logs", format!(", {} from each", cure.each)),
    };
    format!(
        "{} more {wood}{logs} of {} (small end, inside the bark) and {} would be enough{each}, were nothing \
         else sawn from {}.",
        capital(&number(cure.logs)),
        height(job, cure.small_end.ceil_to(step)),
        long(job, cure.length.ceil_to(step)),
        if cure.logs == 1 { "it" } else { "them" }
    )
}

//! What was understood of a log that is not round, straight and sound, and of what a want says of the pith and of
//! flaws.

use crate::names::{self, exact, long};
use pithward_geometry::{End, FlawKind, Taped};
use pithward_job::{HeartRule, JobLog, JobWant, PileJob, clock_words};
use pithward_measure::Length;

/// It in words, on one line; `None` of a log that is round, straight and sound.
pub(super) fn words(job: &PileJob, log: &JobLog) -> Option<String> {
    let mut said: Vec<String> = Vec::new();
    if let Some(taped) = &log.told.taped {
        shape(job, taped, &mut said);
    }
    said.extend(log.told.flaws.iter().map(|flaw| flaw.words.clone()));
    (!said.is_empty()).then(|| format!("{}: {}", log.id, said.join("; ")))
}

fn shape(job: &PileJob, taped: &Taped, said: &mut Vec<String>) {
    let ends = [(&taped.small, "small end"), (&taped.butt, "butt")];
    for (end, which) in ends {
        let End { longer, shorter, clock, .. } = end;
        if longer > shorter {
            let (longer, shorter) = (exact(job, *longer), exact(job, *shorter));
            let toward = clock_words(*clock);
            said.push(format!("{which} {longer} by {shorter}, the longer toward {toward}"));
        }
    }
    let off_butt = |at: Length| long(job, taped.length - at);
    if let Some(sweep) = taped.sweep {
        let (depth, toward) = (exact(job, sweep.depth), clock_words(sweep.clock));
        said.push(format!(
            "bowed {depth} toward {toward}, most at {} from the butt",
            off_butt(sweep.at)
        ));
    }
    if let Some(crook) = taped.crook {
        let (depth, toward) = (exact(job, crook.depth), clock_words(crook.clock));
        said.push(format!("bent {depth} toward {toward} at {} from the butt", off_butt(crook.at)));
    }
    for (end, which) in ends {
        if end.pith_off > Length::ZERO {
            let (off, toward) = (exact(job, end.pith_off), clock_words(end.pith_clock));
            said.push(format!("pith {off} toward {toward} at the {which}"));
        }
    }
    if let Some(flare) = taped.flare {
        let (extra, over) = (exact(job, flare.extra), long(job, flare.length));
        said.push(format!("flares by {extra} over {over}"));
    }
}

/// Where the pith may be in the pieces of a want, and which flaws; nothing where the want says nothing.
pub(super) fn allowed(job: &PileJob, want: &JobWant) -> Vec<String> {
    let heart = match want.heart {
        HeartRule::Any => None,
        HeartRule::Free { clear } => {
            Some(format!("free of heart, the pith {} away or more", exact(job, clear)))
        }
        HeartRule::Boxed { within: None } => Some("boxed heart".to_owned()),
        HeartRule::Boxed { within: Some(within) } => {
            Some(format!("boxed heart, the pith within {} of the middle", exact(job, within)))
        }
    };
    let kinds = FlawKind::ALL.into_iter().filter(|kind| want.tolerates.holds(*kind));
    let kinds: Vec<&str> = kinds.map(FlawKind::name).collect();
    let tolerates = (!kinds.is_empty()).then(|| format!("may hold {}", names::list(&kinds)));
    heart.into_iter().chain(tolerates).collect()
}

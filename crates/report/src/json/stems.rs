//! Stems and how they are cut, as they stand in the file.

use super::day;
use crate::schema::pile::AsFarForm;
use crate::schema::stems::{BuckingForm, PlainForm, StemForm, StemPartForm, StemPartKind};
use pithward_job::{JobStem, PileJob};
use pithward_measure::Length;
use pithward_optimizer::{BuckedStem, PartKind, Plain, PlainRule, StemPart};

/// How the stems are cut; `None` where the job has none.
pub(super) fn bucking(job: &PileJob) -> Option<BuckingForm> {
    let cuts = job.cuts.as_ref()?;
    let proof = &cuts.proof;
    Some(BuckingForm {
        chain_kerf: job.bucking.chain_kerf.as_nm(),
        shortest: job.bucking.shortest.as_nm(),
        longest: job.bucking.longest.as_nm(),
        lengths: proof.lengths.iter().map(|length| length.as_nm()).collect(),
        logs_looked_at: proof.spans,
        list_first: proof.first,
        programs: proof.programs,
        states: proof.states,
        value: proof.value,
        bound: proof.bound,
        as_far: proof.as_far.map(|far| AsFarForm { value: far.value, bound: far.bound }),
        gap: proof.gap_millionths(),
        plain: cuts.plain.iter().map(plain).collect(),
        stems: job.stems.iter().zip(&cuts.stems).map(stem).collect(),
    })
}

fn plain(plain: &Plain) -> PlainForm {
    let every = match plain.rule {
        PlainRule::Every(length) => Some(length),
        PlainRule::LongestFirst => None,
    };
    PlainForm {
        every: every.map(Length::as_nm),
        logs: plain.logs,
        worth: plain.worth,
        value: plain.value,
        board_feet: plain.board_feet,
        missing: plain.missing,
    }
}

fn stem((of, cut): (&JobStem, &BuckedStem)) -> StemForm {
    let stem = &of.stem;
    StemForm {
        id: stem.id.clone(),
        stem: day::log(&stem.log, stem.bark, stem.taped_over_bark, stem.species, &stem.told),
        parts: cut.parts.iter().map(part).collect(),
    }
}

pub(super) fn part(part: &StemPart) -> StemPartForm {
    let (what, log) = match part.what {
        PartKind::Log(log) => (StemPartKind::Log, Some(log)),
        PartKind::CutOut => (StemPartKind::CutOut, None),
        PartKind::TooShort => (StemPartKind::TooShort, None),
        PartKind::TooThick => (StemPartKind::TooThick, None),
        PartKind::LeftOver => (StemPartKind::LeftOver, None),
    };
    StemPartForm { from: part.from.as_nm(), to: part.to.as_nm(), what, log }
}

//! How to go on with a half-sawn log, as JSON.

use super::asked::asked;
use super::day::{self, tally};
use super::lines::Lines;
use super::sawing;
use crate::card::Going;
use crate::schema::resume::{FollowedForm, HowForm, ResumeForm, ResumedForm};
use pithward_optimizer::How;
use serde::Serialize;

/// The whole way on as JSON, in the form of [`resume_schema`](crate::resume_schema()).
pub fn resumed_json(going: &Going<'_>) -> String {
    let mut text = Vec::new();
    let lines = Lines::down_to(LINES_DOWN_TO);
    let mut serializer = serde_json::Serializer::with_formatter(&mut text, lines);
    // The form holds numbers, texts and lists of them: it always has a text.
    if form(going).serialize(&mut serializer).is_err() {
        return String::new();
    }
    String::from_utf8(text).unwrap_or_default() + "\n"
}

/// A pass, a piece's side or an outline is a line.
const LINES_DOWN_TO: usize = 4;

fn form(going: &Going<'_>) -> ResumeForm {
    let (job, plan) = (&going.half.job, &going.resumed.plan);
    ResumeForm {
        schema_version: ResumeForm::VERSION,
        units: day::units(),
        log: day::log(&job.log, job.bark, job.taped_over_bark, job.species, &job.told),
        mill: day::mill(job),
        assumptions: day::assumptions(job, job.log.is_round()),
        wants: day::wants(job),
        resumed: resumed(going),
        sawn: sawing::sawn(job, plan),
        tally: plan.tally.iter().map(tally).collect(),
        followed: FollowedForm {
            typed: going.half.words.0.clone(),
            sawn: sawing::sawn(job, going.plan),
        },
        asked: asked(job.asked.as_deref()),
    }
}

fn resumed(going: &Going<'_>) -> ResumedForm {
    let (half, resumed) = (going.half, going.resumed);
    let [gone, instead] = going
        .changes()
        .map(|pieces| pieces.into_iter().map(|piece| piece.size.to_string()).collect::<Vec<_>>());
    ResumedForm {
        passes_made: resumed.made,
        finished: half.begun.finished.iter().copied().map(sawing::part_id).collect(),
        how: match resumed.how {
            How::AsPlanned => HowForm::AsPlanned,
            How::SamePlanes => HowForm::SamePlanes,
            How::Anew => HowForm::Anew,
        },
        found: half.found.clone(),
        changed: half.changed.clone(),
        worth: resumed.plan.worth,
        worth_before: resumed.before,
        worth_as_it_stands: resumed.as_it_stands,
        board_feet_as_it_stands: resumed.stands_board_feet,
        board_feet: resumed.plan.board_feet,
        board_feet_before: going.plan.board_feet,
        gone,
        instead,
        states: resumed.states,
    }
}

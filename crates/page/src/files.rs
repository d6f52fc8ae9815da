//! The pictures of a plan as files of their own: SVG with names that say what is in them.

use crate::log::turn_words;
use crate::pile::{order, sawn};
use crate::text;
use pithward_draw::{
    Drawn, Picture, Words, end_view, flat_view, flitch_view, rest_view, side_view, stand_alone,
    strip,
};
use pithward_geometry::{Place, ReplayFault};
use pithward_job::{LogJob, PileJob};
use pithward_measure::Length;
use pithward_optimizer::{LogPlan, PilePlan};
use pithward_report::{Step, length_called, log_called, pieces_called, steps};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// All pictures of a pile, each with the name of its file: `03-log-7-face-B-lies.svg` is of the third log in the order.
///
/// # Errors
/// A plan that cannot be gone through, because it does not replay.
pub fn pile_pictures(job: &PileJob, plan: &PilePlan) -> Result<Vec<(String, String)>, ReplayFault> {
    let order = order(plan);
    let digits = order.len().to_string().len().max(2);
    let all: Vec<_> = order
        .par_iter()
        .enumerate()
        .filter_map(|(n, log)| {
            let (own, id) = (sawn(plan, *log)?, &job.logs.get(*log)?.id);
            let head = format!("{:0digits$}-log-{}", n + 1, plain(id));
            Some(pictures(&job.log_job(*log), own, id, &head))
        })
        .collect();
    Ok(all.into_iter().collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
}

/// All pictures of one log, each with the name of its file.
///
/// # Errors
/// A plan that cannot be gone through, because it does not replay.
pub fn log_pictures(
    job: &LogJob,
    plan: &LogPlan,
    id: &str,
) -> Result<Vec<(String, String)>, ReplayFault> {
    pictures(job, plan, id, &format!("log-{}", plain(id)))
}

/// What of a name may stand in the name of a file anywhere.
fn plain(id: &str) -> String {
    let letter = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    id.chars().map(letter).take(40).collect()
}

fn pictures(
    job: &LogJob,
    plan: &LogPlan,
    id: &str,
    head: &str,
) -> Result<Vec<(String, String)>, ReplayFault> {
    let drawn = Drawn::of(&job.log, &job.mill, plan)?;
    let names = pieces_called(job, plan);
    let piece = |n: usize| names.get(n).cloned().unwrap_or_default();
    let height = |length: Length| job.scale.bare(length).to_string();
    let long = |length: Length| length_called(job, length);
    let words = Words { piece: &piece, height: &height, long: &long };
    let log = format!("{} {id}: {}.", text::LOG, log_called(job));
    let mut files = Files { head, taken: BTreeSet::new(), all: Vec::new() };
    files.add("small-end", Some(end_view(&drawn, &words, "end", text::END)), &log);
    files.add("turns", Some(strip(&drawn, &turn_words, text::TURNS)), &log);
    for step in steps(job, plan) {
        let Some((place, rest)) = step.place.and_then(|it| Some((it, drawn.rest_of(it)?))) else {
            continue;
        };
        let desc = format!("{log} {}", said(&step));
        let name = stage_name(place);
        if matches!(place, Place::Edging { .. }) {
            files.add(&name, flitch_view(&drawn, rest, &words, text::EDGE), &desc);
        } else {
            let lies = rest_view(&drawn, rest, &words, text::LIES);
            files.add(&format!("{name}-lies"), lies, &desc);
            let side = side_view(&drawn, rest, &words, text::SIDE);
            files.add(&format!("{name}-side"), side, &desc);
        }
    }
    for (n, edging) in plan.order.edgings.iter().enumerate() {
        let name = format!("flitch-{}-flat", n + 1);
        files.add(&name, flat_view(&drawn, edging.part, &words, text::FLAT), &log);
    }
    Ok(files.all)
}

/// The files of a log.
struct Files<'a> {
    head: &'a str,
    taken: BTreeSet<String>,
    all: Vec<(String, String)>,
}

impl Files<'_> {
    fn add(&mut self, name: &str, picture: Option<Picture>, desc: &str) {
        let Some(picture) = picture else { return };
        let mut name = format!("{}-{name}", self.head);
        while !self.taken.insert(name.clone()) {
            name.push('-');
        }
        self.all.push((format!("{name}.svg"), stand_alone(&picture, desc)));
    }
}

/// What a stage is called in the name of a file.
fn stage_name(place: Place) -> String {
    match place {
        Place::Log { stage } => format!("rest-{stage}"),
        Place::Resaw { resaw, stage } => format!("part-{resaw}-rest-{stage}"),
        Place::Edging { edging, stage } => format!("flitch-{edging}-edge-{stage}"),
    }
}

/// A step in words: what it is, and each pass with its height.
fn said(step: &Step) -> String {
    let pass = |pass: &pithward_report::StepPass| {
        let number = pass.number.map_or_else(String::new, |number| format!("{number}: "));
        format!("{number}{} {}, {}.", text::AT, pass.height, pass.frees)
    };
    let passes: Vec<String> = step.passes.iter().map(pass).collect();
    format!("{}. {}", step.title, passes.join(" "))
}

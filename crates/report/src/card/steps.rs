//! The card step by step, for whoever shows it in another way than as a page of text: the same words, in the same order.

use super::bodies::At;
use super::{Sheet, cautions, edging, faces, setup, trim};
use pithward_geometry::Rest;
use pithward_geometry::replay::Place;
use pithward_job::LogJob;
use pithward_optimizer::LogPlan;

/// One step of the work at a log.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Step {
    /// What is done.
    pub title: String,
    /// What the title leaves out, a sentence or two each.
    pub says: Vec<String>,
    /// Where it is in the sawing, of a step with passes.
    pub place: Option<Place>,
    /// Its passes, from the top down.
    pub passes: Vec<StepPass>,
    /// What to know when they are made.
    pub after: Vec<String>,
}

/// One pass of a step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StepPass {
    /// Its number on the card; none in edging.
    pub number: Option<u32>,
    /// The blade's height, on the mill's scale.
    pub height: String,
    /// How far the blade goes down for it, where another pass was made before in the same rest.
    pub drop: String,
    /// What comes off.
    pub frees: String,
}

/// All steps of one log: set-up, every rest with its passes, edging, trimming, cautions.
pub fn steps(job: &LogJob, plan: &LogPlan) -> Vec<Step> {
    let sheet = Sheet::new(job, plan);
    let mut all =
        vec![Step { title: "Set up".to_owned(), says: setup::items(&sheet), ..Step::default() }];
    let mut number = 0;
    for resaw in sheet.bodies() {
        let mut own = 0;
        let mut last: Option<&Rest> = None;
        let stages = sheet.stages(resaw);
        for (n, stage) in stages.iter().enumerate() {
            let at = At { resaw, stage: n };
            let mut step = Step {
                title: faces::title(&sheet, at, last, &stage.rest),
                place: Some(Sheet::place(at)),
                passes: faces::rows(&sheet, at, stage, (&mut own, &mut number)),
                ..Step::default()
            };
            if last.is_some() || resaw.is_some() {
                step.says.push(faces::lie(&sheet, at, stage));
            }
            step.after.extend(if n + 1 < stages.len() {
                faces::cant(&sheet, stage)
            } else {
                Some(faces::left(&sheet, resaw, stage))
            });
            last = Some(&stage.rest);
            all.push(step);
        }
    }
    if let Some(step) = all.iter_mut().rev().find(|step| step.place.is_some()) {
        step.after.push(faces::STOP.to_owned());
    }
    all.extend(edging::steps(&sheet));
    let trims = trim::items(&sheet);
    all.push(Step { title: format!("Trim: {}", trim::HOW), says: trims, ..Step::default() });
    let cautions = cautions::items(job, cautions::lowest(&plan.order));
    all.push(Step { title: "Cautions".to_owned(), says: cautions, ..Step::default() });
    all
}

//! A half-sawn log: how far, what was found, what is wanted now.
//!
//! | what | as it is typed |
//! |---|---|
//! | how far | a number of passes of the card; or the heights that were sawn, rest by rest ([`cuts`]) |
//! | finished | the passes whose flitches are edged and cut, by their numbers on the card |
//! | found | a flaw in the words of [`crate::flaw_text`]; or metal by where the blade met it ([`found`]) |
//! | wanted now | `2x8x12=3`: so many of a size of the list are still wanted; or a line that is new |
//! | measured again | any figure of the tape, in its own words ([`again`]) |

mod again;
mod cuts;
mod found;
mod wants;

use crate::asked::Words;
use crate::fault::{Fault, FaultKind, ResumeFault};
use crate::flaw_text::NamedFlaw;
use crate::log_job::LogJob;
use crate::typed::{Typed, TypedList};
pub use again::AgainRequest;
use found::Finding;
pub use found::is_told_by_height;
use pithward_geometry::{Log, PartId, SawingOrder};
use pithward_measure::Excerpt;
use pithward_optimizer::{Begun, CutId, Fate, LogPlan};

/// What is said of a half-sawn log, as it was typed.
#[derive(Clone, Debug)]
pub struct ResumeRequest {
    /// How many passes of the card were made.
    pub sawn: Typed,
    /// The heights that were sawn, in place of that: each a rest and its heights.
    pub cuts: TypedList,
    /// The passes whose flitches are finished.
    pub finished: TypedList,
    /// What was found.
    pub found: TypedList,
    /// Sizes of the list, each with how many are still wanted from this log.
    pub left: TypedList,
    /// Lines that are new on the list.
    pub also: TypedList,
    /// What was measured again.
    pub again: AgainRequest,
}

/// A half-sawn log, ready to be planned from there on.
#[derive(Clone, Debug)]
pub struct ResumeJob {
    /// The log with what was found in it, and what is wanted of it now.
    pub job: LogJob,
    /// How far it is sawn.
    pub begun: Begun,
    /// Its plan is of the same measurements, so that it can be followed on.
    pub follows: bool,
    /// What was found, as it was written.
    pub found: Vec<String>,
    /// What was measured again or is wanted otherwise, each a short sentence.
    pub changed: Vec<String>,
    /// What was said of it.
    pub words: Words,
    /// What the person knows it by how far the log is sawn.
    how_far: &'static str,
    /// Finished pieces that were taken off the counts, because the log is not the one that they were planned from.
    pub taken: Vec<CutId>,
}

const SAWN_HELP: &str = "write how many passes of the card were made, as in --sawn 7; or the heights that were sawn, as in --cut \"14 1/2, 13 1/4\"";
const PASS_HELP: &str =
    "write the number of the pass that freed it, as it stands on the card, as in --finished 3";
const NOT_SO_HELP: &str = "say the heights that were really sawn, rest by rest, and measure the log again if they cannot be right";

impl ResumeRequest {
    /// The half-sawn log of a job whose plan is known.
    ///
    /// # Errors
    /// Every fault of what was said.
    pub fn into_job(self, job: LogJob, plan: &LogPlan) -> Result<ResumeJob, Vec<Fault>> {
        let words = Words::of_resume(&self);
        let mut faults = Vec::new();
        let mut job = job;
        let mut changed = Vec::new();
        let follows = !self.again.is_given();
        self.again.measure(&mut job, &mut changed, &mut faults);
        let begun = self.begun(&job, plan, &mut faults);
        let begun = begun.map(|begun| self.with_finished(begun, plan, &mut faults));
        let again = |begun: Begun| begun.measured_again(&job.log, &job.mill).unwrap_or(begun);
        let begun = if follows { begun } else { begun.map(again) };
        // Which boards came of other passes than the card's nobody has said.
        let followed = begun.iter().filter(|_| self.cuts.texts.is_empty());
        let finished: Vec<CutId> = followed.flat_map(|begun| cuts_of(plan, begun)).collect();
        let mut found = Vec::new();
        if let Some(begun) = &begun {
            let known = job.log.clone();
            for finding in self.findings(&job, &known, begun, &mut faults) {
                found.push(finding.words.clone());
                job.told.flaws.push(NamedFlaw {
                    kind: finding.kind,
                    words: finding.words,
                    flaws: finding.flaws,
                });
            }
            let flaws = job.told.flaws.iter().flat_map(|named| named.flaws.iter().copied());
            let flaws: Vec<_> = flaws.collect();
            if !flaws.is_empty() {
                job.log = job.log.clone().with_flaws(flaws);
            }
        }
        wants::change(&self, &mut job, &finished, &mut changed, &mut faults);
        let how_far = if self.cuts.texts.is_empty() { self.sawn.name } else { self.cuts.name };
        let taken = if follows { Vec::new() } else { finished };
        if !follows {
            wants::take(&mut job, &taken);
        }
        match begun {
            Some(begun) if faults.is_empty() => {
                Ok(ResumeJob { job, begun, follows, found, changed, words, how_far, taken })
            }
            _ => Err(faults),
        }
    }

    /// How far the log is sawn.
    fn begun(&self, job: &LogJob, plan: &LogPlan, faults: &mut Vec<Fault>) -> Option<Begun> {
        if self.sawn.is_given() && !self.cuts.texts.is_empty() {
            let kind = FaultKind::Both { one: self.sawn.name, other: self.cuts.name };
            faults.push(self.sawn.fault(kind, "keep one of the two"));
            return None;
        }
        if !self.cuts.texts.is_empty() {
            return cuts::read(&self.cuts, job, plan, faults);
        }
        if !self.sawn.is_given() {
            faults.push(self.sawn.fault(ResumeFault::HowFar, SAWN_HELP));
            return None;
        }
        let most = u32::try_from(passes(&plan.order)).unwrap_or(u32::MAX);
        let made = self.sawn.read(faults, |text| {
            let number = text.trim().parse::<u32>().ok().filter(|made| *made <= most);
            number.ok_or_else(|| {
                let kind =
                    FaultKind::WholeRange { least: 0, greatest: most, got: Excerpt::new(text) };
                crate::fault::Misread::new(kind, 0..0, SAWN_HELP)
            })
        })?;
        Some(Begun::of(&plan.order, usize::try_from(made).unwrap_or(usize::MAX)))
    }

    /// The parts whose pieces are finished.
    fn with_finished(&self, mut begun: Begun, plan: &LogPlan, faults: &mut Vec<Fault>) -> Begun {
        let followed = self.cuts.texts.is_empty();
        for text in &self.finished.texts {
            let whole = Typed::new(self.finished.name, Some(text.clone()));
            for (at, word) in words(text) {
                let typed = whole.part(at..at + word.len());
                let Ok(number) = word.parse::<u32>() else {
                    let kind = ResumeFault::NoPass { got: Excerpt::new(word) };
                    faults.push(typed.fault(kind, PASS_HELP));
                    continue;
                };
                let made = usize::try_from(number).is_ok_and(|n| n > 0 && n <= begun.passes());
                let part = part_of(&begun, number).filter(|_| made);
                let why = match part {
                    None => Some("is not made yet"),
                    Some(part) if followed => {
                        let fate =
                            plan.parts.iter().find(|own| own.id == part).map(|own| &own.fate);
                        let board = matches!(fate, Some(Fate::Square(_) | Fate::Flitch { .. }));
                        (!board).then_some("freed nothing that the card cuts into boards")
                    }
                    Some(_) => None,
                };
                match (part, why) {
                    (_, Some(why)) => {
                        let kind = ResumeFault::NothingToFinish { pass: number, why };
                        faults.push(typed.fault(kind, PASS_HELP));
                    }
                    (Some(part), None) if !begun.finished.contains(&part) => {
                        begun.finished.push(part);
                    }
                    _ => {}
                }
            }
        }
        begun
    }

    fn findings(
        &self,
        job: &LogJob,
        log: &Log,
        begun: &Begun,
        faults: &mut Vec<Fault>,
    ) -> Vec<Finding> {
        let typed =
            self.found.texts.iter().map(|text| Typed::new(self.found.name, Some(text.clone())));
        typed.filter_map(|typed| found::read(&typed, job, log, begun, faults)).collect()
    }
}

impl ResumeJob {
    /// The fault of passes that cannot have been made, and why.
    pub fn not_so(&self, why: String) -> Fault {
        Typed::new(self.how_far, None).fault(ResumeFault::NotSo { why }, NOT_SO_HELP)
    }
}

/// Passes of an order's bodies.
fn passes(order: &SawingOrder) -> usize {
    let bodies = order.resaws.iter().map(|resaw| &resaw.stages).chain([&order.stages]);
    bodies.flatten().map(|stage| stage.passes.len()).sum()
}

/// The part that a pass freed, by its number on the card.
fn part_of(begun: &Begun, number: u32) -> Option<PartId> {
    let count = |stages: &[pithward_geometry::Stage]| -> u32 {
        let passes = stages.iter().map(|stage| stage.passes.len()).sum::<usize>();
        u32::try_from(passes).unwrap_or(u32::MAX)
    };
    let mut left = number;
    let own = count(&begun.stages);
    if left <= own {
        return (left > 0).then_some(PartId::Freed(left));
    }
    left -= own;
    for (n, resaw) in (1..).zip(&begun.resaws) {
        let own = count(&resaw.stages);
        if left <= own {
            return Some(PartId::Freed(left).of_resaw(n));
        }
        left -= own;
    }
    None
}

/// The pieces of what is finished.
fn cuts_of(plan: &LogPlan, begun: &Begun) -> Vec<CutId> {
    let pieces = plan.order.pieces.iter().zip(&plan.products);
    let own = pieces.filter(|(piece, _)| begun.finished.contains(&piece.part));
    own.map(|(_, product)| product.cut).collect()
}

/// The words of a list, blanks and commas between them, with the byte at which each begins.
fn words(text: &str) -> Vec<(usize, &str)> {
    let mut words = Vec::new();
    let mut from = 0;
    for part in text.split([' ', ',', ';']) {
        if !part.is_empty() {
            words.push((from, part));
        }
        from += part.len() + 1;
    }
    words
}

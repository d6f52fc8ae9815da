//! What is wanted now: counts that are filled by other logs, or that the customer changed; lines that are new.

use super::ResumeRequest;
use crate::fault::{Fault, FaultKind, ResumeFault};
use crate::grade_text::WantGrade;
use crate::log_job::{LogJob, NamedWant, WantWeight};
use crate::sawing_request::{sound_target, usual_lengths};
use crate::typed::Typed;
use crate::want_text::WantText;
use pithward_measure::Excerpt;
use pithward_optimizer::CutId;

const LEFT_HELP: &str =
    "write a size of the list and how many of it are still wanted from this log, as in 2x8x12=3";
const ALSO_HELP: &str = "write it as a want, as in 4x4x8=2";

/// Changes the wants of a job; every fault goes to the others.
pub(super) fn change(
    request: &ResumeRequest,
    job: &mut LogJob,
    finished: &[CutId],
    changed: &mut Vec<String>,
    faults: &mut Vec<Fault>,
) {
    for text in &request.left.texts {
        let typed = Typed::new(request.left.name, Some(text.clone()));
        // Nothing of a size may be wanted any more; no list has such a line.
        let none = text.trim_end().strip_suffix("=0");
        let want = match WantText::parse(none.unwrap_or(text)) {
            Ok(want) => WantText { count: none.map_or(want.count, |_| Some(0)), ..want },
            Err(found) => {
                faults.extend(found.into_iter().map(|misread| typed.placed(misread)));
                continue;
            }
        };
        let Some(count) = want.count else {
            let kind = ResumeFault::NoCount { got: Excerpt::new(text) };
            faults.push(typed.fault(kind, LEFT_HELP));
            continue;
        };
        let own = |known: &NamedWant| {
            let one = match known.lengths[..] {
                [one] => Some(one),
                _ => None,
            };
            known.size.section().to_string() == want.size.section().to_string()
                && (want.size.length.is_none() || want.size.length == one)
        };
        let mut alike = job.wants.iter_mut().enumerate().filter(|(_, known)| own(known));
        let Some((place, known)) = alike.next() else {
            let kind = ResumeFault::NotWanted { got: Excerpt::new(text) };
            let list: Vec<String> = job.wants.iter().map(called).collect();
            faults.push(typed.fault(kind, format!("the list has {}", list.join(", "))));
            continue;
        };
        if alike.next().is_some() {
            let kind = FaultKind::NoLengthHere { got: Excerpt::new(text) };
            faults.push(typed.fault(kind, "name the length too, as in 2x8x12=3"));
            continue;
        }
        let done = finished.iter().filter(|cut| cut.want.0 == place).count();
        known.count = Some(count.saturating_add(u32::try_from(done).unwrap_or(u32::MAX)));
        if !known.more_welcome {
            known.weight.extra = None;
        }
        changed.push(format!("of the {} {count} are still wanted", called(known)));
    }
    for text in &request.also.texts {
        let typed = Typed::new(request.also.name, Some(text.clone()));
        match WantText::parse(text) {
            Ok(want) => {
                let target = sound_target(job.policy, &want.size, job.species, want.wane);
                let target = match target {
                    Ok(target) => target,
                    Err(misread) => {
                        faults.push(typed.placed(misread));
                        continue;
                    }
                };
                let heart = want.heart.unwrap_or_default();
                if let Some(misread) = heart.fault_on(target, text) {
                    faults.push(typed.placed(misread));
                    continue;
                }
                let named = want.size.length.map(|length| vec![length]);
                let usual = || usual_lengths(&want.size, job.log.length() - job.trim);
                let lengths = named.or_else(|| want.lengths.clone()).unwrap_or_else(usual);
                changed.push(format!("{} is wanted too", text.trim()));
                job.wants.push(NamedWant {
                    size: want.size,
                    target,
                    count: want.count,
                    more_welcome: want.more_welcome,
                    lengths,
                    wane: want.wane,
                    heart,
                    tolerates: want.tolerates.unwrap_or_default(),
                    weight: WantWeight::board_feet(want.count, want.more_welcome),
                    grade: WantGrade {
                        least: want.grade,
                        rings: want.rings.clone(),
                        ..WantGrade::default()
                    },
                    accepted: true,
                });
            }
            Err(found) => {
                let told = found.into_iter().map(|misread| typed.placed(misread));
                faults.extend(told.map(|fault| Fault { help: ALSO_HELP.into(), ..fault }));
            }
        }
    }
}

/// Takes pieces that are finished off the counts.
pub(super) fn take(job: &mut LogJob, taken: &[CutId]) {
    for cut in taken {
        if let Some(count) = job.wants.get_mut(cut.want.0).and_then(|want| want.count.as_mut()) {
            *count = count.saturating_sub(1);
        }
    }
}

/// A want by its size, with its length where it has only one.
fn called(want: &NamedWant) -> String {
    let size = match want.lengths[..] {
        [one] => pithward_measure::Size { length: Some(one), ..want.size },
        _ => want.size,
    };
    size.to_string()
}

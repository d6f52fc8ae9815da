//! The yard in words: what must be ready before the day.

use pithward_day::hours::Hours;
use pithward_job::{Ground, Heard, LogsLie, Moved, Residue, Stacking};

use super::{Quoted, words};
use crate::names::{self, capital, count};
use crate::terms::Terms;

/// What the customer has to see to, one line each.
pub(super) fn to_be_ready(quoted: &Quoted<'_>) -> Vec<String> {
    let Quoted { job, promise, .. } = *quoted;
    let yard = &job.yard;
    let mut ready = vec![
        format!(
            "A firm, drained place for the mill, about {} by {}, straight rather than level; nothing overhead. What lies \
             under the lawn (lines, septic field, irrigation) is marked.",
            words::room(job, 30, "9"),
            words::room(job, 35, "11")
        ),
        access(quoted),
    ];
    ready.push(match (yard.logs, yard.moved) {
        (_, Moved::Machine) => {
            "A machine and its driver, to bring the logs to the mill all day; its hours are yours.".to_owned()
        }
        (LogsLie::Staged, _) => {
            format!(
                "The logs off the ground on two runners about {} apart, beside the mill, sorted by wood, the \
             longest first; not piled high: they must not roll.",
                words::room(job, 6, "1.8")
            )
        }
        (LogsLie::Piled | LogsLie::Scattered, Moved::Dragged) => format!(
            "Nobody between the logs and the mill while they are dragged {}. It takes time: a machine that \
             brings them would save it.",
            far(quoted)
        ),
        (LogsLie::Piled | LogsLie::Scattered, Moved::Rolled) => format!(
            "A clear way to roll the logs {}. It takes time: logs that lie ready beside the mill save it.",
            far(quoted)
        ),
    });
    ready.push(
        "Limbs cut flush, ends square, each log as long as its boards and the trim; mud and stones off.".to_owned(),
    );
    ready.push(
        "Tell of any metal you know of: fences, hooks, swings, taps. Yard trees are gone over with a detector first."
            .to_owned(),
    );
    match yard.water {
        Some(true) => ready.push(format!(
            "A hose to the mill, or a full barrel: about {} of water for the blade.",
            words::fluid(job, promise.supplies.water)
        )),
        Some(false) => ready.push("No water on site: the sawyer brings his own.".to_owned()),
        None => ready.push(format!(
            "Water for the blade, about {} for the whole job.",
            words::fluid(job, promise.supplies.water)
        )),
    }
    ready.push(helpers(quoted));
    ready.push(stacking(quoted));
    ready.push(residue(quoted));
    ready.push("Children, dogs and cars away from the mill and the pile all day.".to_owned());
    ready.push(noise(yard.noise, &yard.neighbours, &promise.hours.hours));
    ready
}

fn access(quoted: &Quoted<'_>) -> String {
    let yard = &quoted.job.yard;
    let mut said = format!(
        "A way in for a truck and a trailer of some {}: no low limbs, no soft or steep stretch",
        words::room(quoted.job, 25, "8")
    );
    said.push_str(match yard.turning_room {
        Some(true) => ", with room to turn.",
        Some(false) => {
            "; there is no room to turn, so it must be backed in or out: somebody guides it."
        }
        None => ", and room to turn.",
    });
    if !yard.access.is_empty() {
        said.push_str(&format!(" Agreed: {}.", yard.access.trim_end_matches('.')));
    }
    match yard.ground {
        Ground::Firm => {}
        Ground::Soft => said.push_str(" The ground is soft: planks for the wheels, blocking under the mill."),
        Ground::Sloping => said.push_str(
            " The ground slopes: the mill's feet are dug in across the slope, and nobody stands below a log.",
        ),
    }
    said
}

fn far(quoted: &Quoted<'_>) -> String {
    let far = quoted.job.yard.distance;
    if far.as_nm() == 0 {
        "to it".to_owned()
    } else if quoted.job.scale().is_metric() {
        format!("{:.0} m to it", far.mm_f64() / 1000.0)
    } else {
        format!("{} to it", names::long(quoted.job, far))
    }
}

fn helpers(quoted: &Quoted<'_>) -> String {
    let helpers = quoted.job.yard.helpers(&quoted.job.pace);
    match helpers {
        0 => "No helpers are counted on. One or two would shorten the day.".to_owned(),
        n => format!(
            "{} all day, with gloves, glasses, ear protection and boots. Without, the day is longer.",
            match n {
                1 => "One helper".to_owned(),
                n => format!("{} helpers", capital(&names::number(n))),
            }
        ),
    }
}

fn stacking(quoted: &Quoted<'_>) -> String {
    let Quoted { job, promise, .. } = *quoted;
    let stacks = &promise.goods.stacks;
    let who = match job.yard.stacking(&job.pace) {
        Stacking::Helpers => "the helpers stack",
        Stacking::Sawyer => "the sawyer stacks, while the mill stands still",
        Stacking::Customer => "you stack in your own time",
    };
    let ground = if job.scale().is_metric() {
        format!("{:.0} m2", stacks.ground() * 0.092_903_04)
    } else {
        format!("{:.0} square feet", stacks.ground())
    };
    format!(
        "A level place near by for {} of lumber, {ground} in all, on bunks, with {} (dry, {} thick, {} long): {who}.",
        count(stacks.stacks.len(), "stack", "stacks"),
        count(usize::try_from(stacks.stickers).unwrap_or(usize::MAX), "sticker", "stickers"),
        words::small(job, stacks.sticker),
        names::long(job, stacks.sticker_length),
    )
}

fn residue(quoted: &Quoted<'_>) -> String {
    let Quoted { job, promise, .. } = *quoted;
    let sawdust = words::heap(job, promise.goods.residue.at_the_chute());
    match job.yard.residue {
        Residue::Leave => format!(
            "Nothing for slabs and sawdust: they stay where they fall ({sawdust} of sawdust)."
        ),
        Residue::Pile => {
            format!("A place for a pile of slabs; the sawdust, {sawdust}, stays where it falls.")
        }
        Residue::Tarp => {
            let size = job.yard.tarp.map_or_else(
                || format!("a tarp of {0} by {0} or more", words::room(job, 20, "6")),
                |(one, other)| {
                    format!("a tarp of {} by {}", names::long(job, one), names::long(job, other))
                },
            );
            format!(
                "A place for slabs, and {size} under the chute for {sawdust} of sawdust; where both go then."
            )
        }
    }
}

fn noise(noise: Option<Heard>, neighbours: &str, hours: &Hours) -> String {
    let days = count(hours.days.len(), "day", "days");
    let when = noise.map_or_else(String::new, |Heard { from, to }| {
        format!(
            " Agreed: not before {}, not after {}.",
            words::clock(from.into()),
            words::clock(to.into())
        )
    });
    let who = if neighbours.is_empty() { String::new() } else { format!(" ({neighbours})") };
    format!("Neighbours told{who}: the mill is as loud as a chain saw, for {days}.{when}")
}

//! The work order: which log when, on which day, and what comes of it.

use pithward_day::goods::Lift;

use super::{Quoted, words};
use crate::names::{self, count, diameter, long};
use crate::paper::{Paper, Side, Table};
use crate::pile::order::reason;

/// The logs in their order with the time of the day, as the plan reckons it.
pub fn work_order(quoted: &Quoted<'_>) -> Paper {
    let Quoted { job, promise, plan, .. } = *quoted;
    let whole = quoted.whole();
    let mut paper = Paper::new(quoted.title("Work order"));
    let hours = &promise.hours;
    paper.say(format!(
        "{} in {}, {} on site. Times are as the plan reckons them; the cards say how each log is opened.",
        count(hours.order.len(), "log", "logs"),
        count(hours.hours.days.len(), "day", "days"),
        words::time(hours.hours.on_site())
    ));
    let lots = plan.order.iter().map(|lot| reason(&whole, lot.reason));
    for (n, day) in hours.hours.days.iter().enumerate() {
        let begins = f64::from(day.begins.unwrap_or(0));
        let when = |minutes: f64| match day.begins {
            Some(_) => words::clock(begins + minutes),
            None => words::time(minutes),
        };
        paper.heading(match day.begins {
            Some(_) => format!("Day {}, {} to {}", n + 1, when(0.0), when(day.minutes())),
            None => format!("Day {}, {}", n + 1, words::time(day.minutes())),
        });
        let mut table = Table::new(&[
            ("no", Side::Right),
            ("log", Side::Left),
            (if day.begins.is_some() { "at" } else { "after" }, Side::Right),
            ("takes", Side::Right),
            ("small end x length", Side::Left),
            ("what it gives", Side::Left),
        ]);
        for place in day.logs.clone() {
            let (Some(log), Some(at)) = (hours.order.get(place), hours.hours.logs.get(place))
            else {
                continue;
            };
            let Some(told) = job.logs.get(*log) else { continue };
            let changes = match at.changes {
                0 => String::new(),
                changes => format!(
                    "; {} on the way",
                    count(
                        usize::try_from(changes).unwrap_or(usize::MAX),
                        "fresh blade",
                        "fresh blades"
                    )
                ),
            };
            table.row([
                (place + 1).to_string(),
                told.id.clone(),
                when(at.begins),
                words::time(at.minutes),
                format!(
                    "{} x {}",
                    diameter(job, told.log.small_end()),
                    long(job, told.log.length())
                ),
                whole.gives_words(*log) + &changes,
            ]);
        }
        paper.table(table);
        if day.overruns {
            paper.caution("One log alone takes longer than this day may be.");
        }
        if day.rests > 0.0 {
            paper.say(format!("Breaks of {} in all are in it.", words::time(day.rests)));
        }
    }
    paper.heading("Why in this order");
    let from = plan.order.iter().scan(1, |next, lot| {
        let first = *next;
        *next += lot.logs.len();
        Some((first, *next - 1))
    });
    let numbered = lots.zip(from).map(|(reason, (first, last))| match first == last {
        true => format!("{first}: {reason}."),
        false => format!("{first} to {last}: {reason}."),
    });
    paper.items(numbered.collect());
    safety(&mut paper, quoted);
    paper
}

/// What everybody at the mill is told in the morning.
fn safety(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, promise, .. } = *quoted;
    paper.heading("Before the first log");
    let mut told = vec![
        "Rolling logs kill: nobody downhill of the pile or between pile and mill, chocks in; a tall pile is taken down by \
         machine."
            .to_owned(),
        "A broken band leaves at the ends and at the open side: nobody in its plane or at the discharge, covers shut."
            .to_owned(),
        "The blade stands still before anybody reaches in. Pinched boards are wedged, and backed out slowly.".to_owned(),
        "Stops and clamps below the blade before every low pass; look after every turn.".to_owned(),
        "It is too loud to talk: agree on signs for stop, turn, take, and lift.".to_owned(),
        "Eyes, ears, boots and gloves for everybody; a dust mask in dry or spalted wood.".to_owned(),
        "Fuel away from a hot engine. Heat, frost and ice: footing and breaks.".to_owned(),
    ];
    let heaviest = promise.goods.lumber.iter().max_by_key(|line| line.heaviest);
    if let Some(line) = heaviest {
        told.push(format!(
            "The heaviest piece, {}, weighs about {}: know who lifts it, and how, before it is sawn free.",
            names::want(job, pithward_optimizer::WantId(line.want)),
            words::weight(job, line.heaviest)
        ));
    }
    paper.items(told);
    heavy(paper, quoted);
    paper.caution("The mill's manual comes first.");
}

/// Logs that are too heavy for the loader, or nearly.
pub(super) fn heavy(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, promise, .. } = *quoted;
    let named = |is: fn(&Lift) -> bool| -> Vec<String> {
        let logs = promise.goods.logs.iter().zip(&job.logs).filter(|(weight, _)| is(&weight.lift));
        logs.map(|(weight, log)| {
            format!("{} ({})", log.id, words::weight(job, weight.whole.weight))
        })
        .collect()
    };
    let heavy = named(|lift| matches!(lift, Lift::TooHeavy { .. }));
    let near = named(|lift| matches!(lift, Lift::Near { .. }));
    if let Some(lifts) = job.stores.lifts {
        let lifts = words::weight(job, lifts);
        if !heavy.is_empty() {
            paper.caution(format!(
                "Heavier than the loader lifts ({lifts}): log {}. Do not lift {} with it.",
                names::list(&heavy),
                if heavy.len() == 1 { "it" } else { "them" }
            ));
        }
        if !near.is_empty() {
            paper.caution(format!(
                "Near what the loader lifts ({lifts}); one tree may be a tenth heavier than its kind: log {}.",
                names::list(&near)
            ));
        }
    } else if let Some(weight) = promise.goods.heaviest.and_then(|log| promise.goods.logs.get(log))
    {
        paper.caution(format!(
            "The heaviest log weighs about {}. What the loader lifts was not told (lifts, in the mill file): hold one \
             against the other before it is lifted.",
            words::weight(job, weight.whole.weight)
        ));
    }
}

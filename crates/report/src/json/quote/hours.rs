//! The hours.

use super::{area, minutes, share};
use crate::schema::quote::hours::{DayForm, HoursForm, LogHoursForm, StepsForm};
use pithward_day::hours::PlannedHours;
use pithward_job::PlanTime;

pub(super) fn hours(planned: &PlannedHours) -> HoursForm {
    let all = &planned.hours;
    let days = all.days.iter().map(|day| DayForm {
        begins: day.begins.map(|begins| minutes(f64::from(begins))),
        takes: minutes(day.minutes()),
        open: minutes(day.open),
        at_logs: minutes(day.at_logs),
        changes: minutes(day.changes),
        moves: minutes(day.moves),
        close: minutes(day.close),
        rests: minutes(day.rests),
        overruns: day.overruns,
        logs: day.logs.clone().filter_map(|place| planned.order.get(place).copied()).collect(),
    });
    HoursForm {
        on_site: minutes(all.on_site()),
        rests: minutes(all.rests),
        at_the_saw: minutes(all.at_the_saw()),
        at_logs: minutes(all.at_logs),
        steps: steps(&all.steps),
        stacking: minutes(all.stacking),
        waits: minutes(all.waits),
        changes: minutes(all.changes),
        set_up: minutes(all.set_up),
        moves: minutes(all.moves),
        nights: minutes(all.nights),
        tidy: minutes(all.tidy),
        pack_up: minutes(all.pack_up),
        worn_blades: all.worn,
        sawn_area: area(all.area),
        days: days.collect(),
    }
}

/// What a log takes, by its place in the order of sawing.
pub(super) fn log(planned: &PlannedHours, place: usize) -> Option<LogHoursForm> {
    let (takes, at) = (planned.logs.get(place)?, planned.hours.logs.get(place)?);
    Some(LogHoursForm {
        day: at.day,
        begins: minutes(at.begins),
        takes: minutes(at.minutes),
        steps: steps(&takes.steps),
        stacking: minutes(takes.stacking),
        waits: minutes(takes.waits),
        waits_for_helpers: minutes(takes.waits_for_helpers),
        blade_changes: at.changes,
        wear: share(takes.wear),
        sawn_area: area(takes.area),
    })
}

fn steps(steps: &PlanTime) -> StepsForm {
    StepsForm {
        load: minutes(steps.load),
        turns: minutes(steps.turns),
        sawing: minutes(steps.sawing),
        back: minutes(steps.back),
        set: minutes(steps.set),
        take: minutes(steps.take),
        edging: minutes(steps.edging),
        shifts: minutes(steps.shifts),
    }
}

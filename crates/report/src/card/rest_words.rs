//! How the log lies, in words: which side is up, where its belly and its long axis come to lie, what is raised, and the
//! pith's height that proves it.
//!
//! Looking at the small end of a log at rest, the side stops are at its left: a quarter turn counterclockwise of up.

use super::Sheet;
use super::bodies::At;
use crate::grown::{any_side_up, is_bowed, is_oval};
use crate::names::{self, half_hour, height, long, nearest_half_hour};
use pithward_geometry::{Angle, FlawKind, Log, Region, Rest, Support, replay::Hangs};
use pithward_measure::{Length, Scale};
use pithward_optimizer::Rests;

const FULL_TURN: i32 = 360_000;
const QUARTER_TURN: i32 = 90_000;
/// A direction so near to a quarter is spoken of as that quarter: half an hour.
const ABOUT: i32 = 15_000;
/// The turn is told in degrees too where the half hour is off by more.
const ABOUT_ENOUGH: i32 = 1_000;
/// A choice that is worth less is no choice.
const LEAST_SHARE: f64 = 0.01;
/// Before a direction that is told by the clock.
const CLOCK: &str = " at ";
/// A slope of the pith that is as near as this to that of the bark was meant to follow it.
const ALONG: Length = Length::sixty_fourths(8);

/// A direction of the log in a rest: 0 is up, a quarter away from the stops.
fn lies(direction: Angle, rest: &Rest) -> Angle {
    let by = direction.as_millidegrees() - rest.turn.as_millidegrees();
    Angle::millidegrees(by.rem_euclid(FULL_TURN))
}

/// The quarter that a direction at rest is about, if any: 0 up, 1 away from the stops, 2 down, 3 toward them.
fn quarter(lies: Angle) -> Option<i32> {
    let turn = lies.as_millidegrees() + ABOUT;
    (turn.rem_euclid(QUARTER_TURN) <= 2 * ABOUT)
        .then(|| turn.div_euclid(QUARTER_TURN).rem_euclid(4))
}

/// Which side is up: `2 o'clock`, with the degrees where no half hour is it.
pub(super) fn up(rest: &Rest) -> String {
    let off = (rest.turn.as_millidegrees() - nearest_half_hour(rest.turn).as_millidegrees())
        .rem_euclid(FULL_TURN);
    let hour = half_hour(rest.turn);
    if off.min(FULL_TURN - off) <= ABOUT_ENOUGH {
        return hour;
    }
    let degrees = Angle::millidegrees(rest.turn.as_millidegrees().rem_euclid(FULL_TURN));
    format!("{hour} ({} degrees clockwise from 12)", degrees.degrees_f64())
}

/// Where the mark of 12 o'clock then points.
pub(super) fn mark(rest: &Rest) -> String {
    half_hour(lies(Angle::ZERO, rest))
}

/// The belly, the long axis and one-sided flaws, each by where it comes to lie: `belly down, the long axis lying`; empty
/// where there is none of them.
pub(super) fn lying(log: &Log, rest: &Rest) -> String {
    let mut said = Vec::new();
    if let Some(looks) = log.looks() {
        if is_bowed(&looks) {
            said.push(belly(lies(looks.bow.clock, rest)));
        }
        if is_oval(&looks.small_end) {
            said.push(axis(lies(looks.small_end.clock, rest)));
        }
    }
    for kind in [FlawKind::Metal, FlawKind::Split] {
        if let [direction] = one_sided(log, kind)[..] {
            said.push(format!("the {} {}", kind.name(), toward(lies(direction, rest))));
        }
    }
    // The log's own clock is turned by now.
    let by_clock = said.iter().any(|words| words.contains(CLOCK));
    said.join(", ") + if by_clock { " as it lies" } else { "" }
}

/// The belly alone, by where it comes to lie; empty where there is none.
pub(super) fn belly_lies(log: &Log, rest: &Rest) -> String {
    let bowed = log.looks().filter(is_bowed);
    bowed.map_or_else(String::new, |looks| {
        let words = belly(lies(looks.bow.clock, rest));
        let by_clock = words.contains(CLOCK);
        words + if by_clock { " as it lies" } else { "" }
    })
}

/// Where the belly of a bow comes to lie.
fn belly(lies: Angle) -> String {
    match quarter(lies) {
        Some(0) => "belly up".to_owned(),
        Some(2) => "belly down".to_owned(),
        Some(_) => format!("the bow flat, belly {}", toward(lies)),
        None => format!("belly {}", toward(lies)),
    }
}

/// Where the long axis of an oval comes to lie; it has no front.
fn axis(lies: Angle) -> String {
    match quarter(lies) {
        Some(0 | 2) => "the long axis upright".to_owned(),
        Some(_) => "the long axis lying".to_owned(),
        None => {
            let hour = Angle::millidegrees(lies.as_millidegrees().rem_euclid(FULL_TURN / 2));
            format!("the long axis{CLOCK}{}", half_hour(hour))
        }
    }
}

/// A direction at rest.
pub(super) fn toward(lies: Angle) -> String {
    match quarter(lies) {
        Some(0) => "up".to_owned(),
        Some(1) => "away from the stops".to_owned(),
        Some(2) => "down".to_owned(),
        Some(_) => "toward the stops".to_owned(),
        None => format!("{}{}", CLOCK.trim_start(), half_hour(lies)),
    }
}

/// The directions in which flaws of a kind lie on one side of the pith.
fn one_sided(log: &Log, kind: FlawKind) -> Vec<Angle> {
    let of = log.flaws().iter().filter(|flaw| flaw.kind == kind);
    of.filter_map(|flaw| match flaw.region {
        Region::Side { clock, .. } | Region::Radial { clock, .. } | Region::Spot { clock, .. } => {
            Some(clock)
        }
        Region::Heart { .. } | Region::Ring { .. } => None,
    })
    .collect()
}

/// Whether the belly of a bow of some depth lies down, or up, or askew: what the rest makes of it.
pub(super) fn bow_advice(sheet: &Sheet<'_>) -> Option<String> {
    let looks =
        sheet.job.log.looks().filter(|looks| looks.bow.depth >= Length::sixty_fourths(32))?;
    let stages = &sheet.plan.order.stages;
    let rest = &stages.first()?.rest;
    let next = stages.get(1).map(|stage| lies(looks.bow.clock, &stage.rest));
    // E. Wengert, on dealing with crooked logs, 2001; a card names no person.
    let by = "published advice on crooked logs";
    match quarter(lies(looks.bow.clock, rest)) {
        Some(2) => {
            let then = if next.and_then(quarter) == Some(0) { ", face B the belly" } else { "" };
            Some(format!(
                "Its horns are up: face A takes them off{then}. Boards from horns and belly bend \
                 edgeways, those from its other two sides least ({by})."
            ))
        }
        Some(_) => None,
        None => Some(format!(
            "The bow lies askew, as these planes give most; boards of a log that bows at 45 \
             degrees to the saw tend to crook ({by})."
        )),
    }
}

/// What to raise, and the pith's height that proves it.
pub(super) fn level(sheet: &Sheet<'_>, at: At, rest: &Rest) -> String {
    let face = face_up(sheet, at);
    let is_face = face.is_some();
    let reads = face.unwrap_or_else(|| reads(sheet, at, rest));
    let Some(hangs) = sheet.hangs(at) else {
        return format!("Until {reads}. Clamp.");
    };
    let says = |inches: f64| height(sheet.job, Length::from_inches_f64(inches));
    let raised = |inches: f64| says(inches) != says(0.0);
    let decides = if is_face { "the face" } else { "the pith" };
    let decides = format!("{decides} decides, not the lift. Clamp.");
    match (raised(hangs.small_end), raised(hangs.butt)) {
        (false, false) => format!("Nothing to raise: {reads}. Clamp."),
        (true, false) => format!("Raise {}, until {reads}; {decides}", small_end(sheet, &hangs)),
        (false, true) => {
            let up = says(hangs.butt);
            format!("Raise the butt {up} (at the very end), until {reads}; {decides}")
        }
        (true, true) => {
            let (small, butt) = (says(hangs.small_end), says(hangs.butt));
            let more = says(hangs.small_end.min(hangs.butt));
            format!(
                "{} carries it{} and it rocks: wedge both ends, the small end {small} and the butt \
                 {butt} off the bed, until {reads}, {more} more than if the ends alone carried it; \
                 {decides}",
                between_ends(&sheet.job.log, rest),
                where_carried(sheet, at),
            )
        }
    }
}

/// The small end, raised at its end or at the mill's toe board.
fn small_end(sheet: &Sheet<'_>, hangs: &Hangs) -> String {
    let says = |inches: f64| height(sheet.job, Length::from_inches_f64(inches));
    let end = says(hangs.small_end);
    match (sheet.job.mill.toe_board, hangs.toe_board) {
        (Some(at), Some(board)) => format!(
            "the toe board {}, {} along the bed from what carries the butt (the small end itself \
             comes up {end})",
            says(board),
            long(sheet.job, at)
        ),
        (Some(_), None) => {
            format!("the small end {end} (at the very end: the toe board lies beyond it)")
        }
        (None, _) => format!("the small end {end} (at the very end)"),
    }
}

/// What lies lowest when it is neither end.
fn between_ends(log: &Log, rest: &Rest) -> &'static str {
    let bow = log.looks().filter(is_bowed).map(|looks| lies(looks.bow.clock, rest));
    // A belly that looks anywhere down.
    let down = |lies: Angle| (QUARTER_TURN..=3 * QUARTER_TURN).contains(&lies.as_millidegrees());
    if bow.is_some_and(down) { "The belly" } else { "A swell" }
}

/// Where it touches the bed, from the butt.
fn where_carried(sheet: &Sheet<'_>, at: At) -> String {
    let Some((from, to)) = sheet.carried(at) else { return String::new() };
    let middle = Length::from_inches_f64(0.5 * (from + to));
    let step = if sheet.job.scale.is_metric() {
        Scale::Millimetres.step() * 10
    } else {
        Length::inches(1)
    };
    let off = (sheet.job.log.length() - middle).round_to(step);
    format!(", {} from the butt,", long(sheet.job, off))
}

/// How high the sawn face that is up stands over the bed, where one is.
fn face_up(sheet: &Sheet<'_>, at: At) -> Option<String> {
    let (letter, side) = sheet.side_at(at, 0)?;
    let (axis, _) = sheet.pith(at)?;
    let stands = height(sheet.job, Length::from_inches_f64(axis + side.plane));
    Some(format!("face {letter}, up, stands {stands} over the bed at both ends"))
}

/// How high the pith stands over the bed at both ends, and why where it is not to be level.
fn reads(sheet: &Sheet<'_>, at: At, rest: &Rest) -> String {
    let job = sheet.job;
    let Some((small, butt)) = sheet.pith(at) else {
        return "the pith is level".to_owned();
    };
    let [at_small, at_butt] = [small, butt].map(|pith| height(job, Length::from_inches_f64(pith)));
    if at_small == at_butt {
        return format!("the pith stands {at_small} over the bed at both ends");
    }
    let sloped = format!(
        "the pith stands {at_small} over the bed at the small end and {at_butt} at the butt"
    );
    format!("{sloped}{}", follows(sheet, at, rest, Length::from_inches_f64(small - butt)))
}

/// What a pith that is not level lets the cuts follow.
fn follows(sheet: &Sheet<'_>, at: At, rest: &Rest, falls: Length) -> String {
    let log = &sheet.job.log;
    let (sin, cos) = rest.turn.sin_cos();
    // How much further the wood reaches from the axis at the butt than at the small end, upward and downward.
    let grows = |sign: f64| {
        let reach = |z: f64| {
            let wood = log.section_at(z).wood;
            wood.iter().map(|p| sign * (sin * p[0] + cos * p[1])).fold(f64::NEG_INFINITY, f64::max)
        };
        Length::from_inches_f64(reach(log.length().inches_f64()) - reach(0.0))
    };
    let face = |turn: i32| {
        let place = sheet.plan.order.stages.iter().position(|stage| {
            (stage.rest.turn.as_millidegrees() - turn).rem_euclid(FULL_TURN) == 0
        });
        place.map_or(String::new(), |stage| {
            format!(", that of face {}", sheet.letter(At::log(stage)))
        })
    };
    let turn = rest.turn.as_millidegrees();
    if (falls - grows(1.0)).abs() <= ALONG {
        let own = sheet.letter(at);
        format!(" (on purpose: the cuts then follow the bark on top, that of face {own})")
    } else if (falls + grows(-1.0)).abs() <= ALONG {
        let other = face(turn + 2 * QUARTER_TURN);
        format!(" (on purpose: the cuts then follow the bark that lies down{other})")
    } else {
        " (on purpose)".to_owned()
    }
}

/// How a flat face carries a log: all of it, or only from the butt to somewhere.
pub(super) fn flat(sheet: &Sheet<'_>, at: At) -> String {
    let all = "It lies flat: sweep the bed, nothing to raise. Clamp.".to_owned();
    let (Some((from, to)), Some(hangs)) = (sheet.carried(at), sheet.hangs(at)) else {
        return all;
    };
    let log = sheet.job.log.length().inches_f64();
    let says = |inches: f64| height(sheet.job, Length::from_inches_f64(inches));
    if to - from > 0.5 * log || says(hangs.small_end.max(hangs.butt)) == says(0.0) {
        return all;
    }
    let (end, up) = if hangs.small_end >= hangs.butt {
        ("small end", hangs.small_end)
    } else {
        ("butt", hangs.butt)
    };
    format!(
        "It lies flat on less than half of its length: sweep the bed, and hold the {end} {} off it \
         with a wedge, so that it cannot tip. Clamp.",
        says(up)
    )
}

/// A flare that carries the butt, and what it does; nothing where none does.
pub(super) fn flare(sheet: &Sheet<'_>, at: At, rest: &Rest) -> Option<String> {
    let flare = sheet.job.told.taped?.flare.filter(|_| rest.on == Support::Bark)?;
    let (from, _) = sheet.carried(at)?;
    let begins = (sheet.job.log.length() - flare.length).inches_f64();
    let half = height(sheet.job, flare.extra.half());
    (from > begins).then(|| {
        format!(
            "The flare carries the butt: the pith lies there {half} higher than the stem alone \
             would hold it. If you trim the flare, plan again."
        )
    })
}

/// How much less the poorest way of laying a log gives at least, where that is worth a word: a search that cannot come near
/// the best is not made to the end.
fn poorest(rests: &Rests) -> Option<String> {
    let (best, (_, worst)) = (rests.best.filter(|best| *best > 0)?, rests.worst?);
    let less = best.saturating_sub(worst) as f64 / best as f64;
    (less >= LEAST_SHARE).then(|| names::percent(less))
}

/// How the log is laid, and what the choice is worth; `None` where any side may be up.
pub(super) fn choice(sheet: &Sheet<'_>) -> Option<String> {
    let plan = sheet.plan;
    let rest = &plan.order.stages.first()?.rest;
    if any_side_up(&sheet.job.log) {
        return None;
    }
    let mut words = format!("{} up", up(rest));
    let lying = lying(&sheet.job.log, rest);
    if !lying.is_empty() {
        words += &format!(", {lying}");
    }
    let rests = &plan.rests;
    if rests.tried > 1 {
        let ruled_out = match rests.ruled_out {
            0 => String::new(),
            n => format!(" and {n} more ruled out"),
        };
        words += &format!("; the best of {} ways tried{ruled_out}", rests.tried);
    }
    // With counts a worth is mostly what puts the list first, and nobody sees that in a log.
    let counted = sheet.job.wants.iter().any(|want| want.count.is_some());
    if let Some(less) = poorest(rests).filter(|_| !counted) {
        words += &format!(", by a rough search of each the poorest gives at least {less} less");
    }
    Some(words + ".")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rest(degrees: i32) -> Rest {
        let turn = Angle::degrees(degrees);
        Rest { turn, lift: Length::ZERO, on: Support::Bark, against: None }
    }

    #[test]
    fn a_turn_is_told_by_the_clock_and_by_degrees_where_that_is_too_coarse() {
        for (turn, is_up, points) in [
            (0, "12 o'clock", "12 o'clock"),
            (60, "2 o'clock", "10 o'clock"),
            (61, "2 o'clock", "10 o'clock"),
            (64, "2 o'clock (64 degrees clockwise from 12)", "10 o'clock"),
            (-75, "9:30", "2:30"),
            (359, "12 o'clock", "12 o'clock"),
            (355, "12 o'clock (355 degrees clockwise from 12)", "12 o'clock"),
        ] {
            assert_eq!((up(&rest(turn)).as_str(), mark(&rest(turn)).as_str()), (is_up, points));
        }
    }

    #[test]
    fn a_direction_of_the_log_is_told_by_where_it_comes_to_lie() {
        for (direction, turn, words) in [
            (180, 0, "belly down"),
            (180, 170, "belly up"),
            (90, 0, "the bow flat, belly away from the stops"),
            (90, 180, "the bow flat, belly toward the stops"),
            (60, 0, "belly at 2 o'clock"),
            (60, 240, "belly down"),
        ] {
            assert_eq!(belly(lies(Angle::degrees(direction), &rest(turn))), words);
        }
        assert_eq!(axis(lies(Angle::degrees(10), &rest(0))), "the long axis upright");
        assert_eq!(axis(lies(Angle::degrees(10), &rest(100))), "the long axis lying");
        assert_eq!(axis(lies(Angle::degrees(60), &rest(200))), "the long axis at 1:30");
    }
}

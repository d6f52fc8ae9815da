//! The faces in the order in which they are sawn, pass by pass.

use super::{Sheet, hazards, rest_words};
use crate::grown;
use crate::names::{height, width};
use crate::page::Page;
use pithward_geometry::replay::PassFact;
use pithward_geometry::{Angle, Face, PartId, Rest, Stage, Support};
use pithward_measure::Length;
use pithward_optimizer::Fate;

const FULL_TURN: i32 = 360_000;
const HALF_TURN: i32 = 180_000;
const QUARTER_TURN: i32 = 90_000;

/// Every stage of the log.
pub(super) fn faces(page: &mut Page, sheet: &Sheet<'_>) {
    let stages = &sheet.plan.order.stages;
    let mut number = 0;
    let mut last: Option<&Rest> = None;
    for (n, stage) in stages.iter().enumerate() {
        let side = sheet.plan.order.side(n);
        let again = side.is_some_and(|(_, again)| again);
        let title = format!("FACE {}{}", letter(side), if again { " AGAIN" } else { "" });
        page.heading(&title, &turn(sheet, last, &stage.rest));
        if last.is_some() {
            page.say(&lie(sheet, n, stage));
        }
        page.blank();
        page.line("  pass   blade at      drop      what comes off");
        passes(page, sheet, (n, again), stage, &mut number);
        if n + 1 < stages.len() {
            cant(page, sheet, stage);
        }
        last = Some(&stage.rest);
    }
    if let Some(stage) = stages.last() {
        left(page, sheet, stage);
    }
    page.blank();
    page.say(
        "If a face opens clearly narrower or wider than the card says, the log is not as it was \
         measured: stop, measure again and plan again before the next pass.",
    );
}

/// The letter of a side.
pub(super) fn letter(side: Option<(Face, bool)>) -> char {
    side.map_or('?', |(face, _)| face.letter())
}

/// How the log comes from one rest into the next.
fn turn(sheet: &Sheet<'_>, last: Option<&Rest>, rest: &Rest) -> String {
    match last {
        None if grown::any_side_up(&sheet.job.log) => "on its bark, 12 o'clock mark up".to_owned(),
        None => format!("on its bark, {} up", rest_words::up(rest)),
        Some(last) => turned(last, rest),
    }
}

fn turned(last: &Rest, rest: &Rest) -> String {
    let by = (rest.turn.as_millidegrees() - last.turn.as_millidegrees()).rem_euclid(FULL_TURN);
    let turn = match by {
        0 => "no turn".to_owned(),
        HALF_TURN => "TURN HALF ROUND (180)".to_owned(),
        by if by == QUARTER_TURN || by == FULL_TURN - QUARTER_TURN => {
            "TURN A QUARTER (90)".to_owned()
        }
        by => format!("TURN {} DEGREES", Angle::millidegrees(by).degrees_f64()),
    };
    let down = match rest.on {
        Support::Face(face) => format!("face {} down on the bed", face.letter()),
        Support::Bark => "bark down".to_owned(),
        Support::SawnEdge => "sawn edge down".to_owned(),
    };
    match rest.against {
        Some(face) if rest.on == Support::Bark => {
            format!("{turn}: face {} against the side stops, {down}", face.letter())
        }
        Some(face) => format!("{turn}: {down}, face {} against the side stops", face.letter()),
        None => format!("{turn}: {down}"),
    }
}

/// How it lies after a turn, and what proves it.
fn lie(sheet: &Sheet<'_>, n: usize, stage: &Stage) -> String {
    let rest = &stage.rest;
    let mark = if grown::any_side_up(&sheet.job.log) {
        mark(rest).to_owned()
    } else {
        let lying = rest_words::belly_lies(&sheet.job.log, rest);
        let so = if lying.is_empty() { String::new() } else { format!(": {lying}") };
        format!("The 12 o'clock mark points to {}{so}", rest_words::mark(rest))
    };
    let stops = match rest.against {
        Some(face) => format!("Press face {} flat against the stops. ", face.letter()),
        None => String::new(),
    };
    match rest.on {
        Support::Bark => {
            let level = rest_words::level(sheet, n, rest);
            let again = if level.starts_with("Nothing") { "" } else { "LEVEL THE PITH AGAIN. " };
            let flare = rest_words::flare(sheet, n, rest);
            let flare = flare.map_or(String::new(), |words| format!(" {words}"));
            format!("{mark}. {stops}{again}{level}{flare}")
        }
        Support::Face(_) | Support::SawnEdge => {
            format!("{mark}. {stops}{}", rest_words::flat(sheet, n))
        }
    }
}

/// Where the mark is, of a log that is turned by quarters from its own 12 o'clock.
fn mark(rest: &Rest) -> &'static str {
    match rest.turn.as_millidegrees().rem_euclid(FULL_TURN) {
        0 => "The 12 o'clock mark is up",
        HALF_TURN => "The 12 o'clock mark is down",
        QUARTER_TURN => "The 12 o'clock mark is at the stops",
        _ => "The 12 o'clock mark is away from the stops",
    }
}

/// The passes of a stage; of a side that is sawn again the first opens nothing.
fn passes(
    page: &mut Page,
    sheet: &Sheet<'_>,
    (n, again): (usize, bool),
    stage: &Stage,
    number: &mut u32,
) {
    let job = sheet.job;
    let facts = sheet.plan.replayed.passes.get(n);
    let mut before: Option<Length> = None;
    for (i, pass) in stage.passes.iter().enumerate() {
        *number += 1;
        let drop = before.map(|before| before - pass.printed);
        before = Some(pass.printed);
        let mut words = comes_off(sheet, PartId::Freed(*number));
        if i == 0
            && !again
            && let Some(fact) = facts.and_then(|facts| facts.first())
        {
            words += &format!("; {}", opening(sheet, fact));
        }
        if hazards::near_metal(sheet, n, i + 1) {
            words += &format!("; {}", hazards::MARK);
        }
        let at = column(&job.scale.bare(pass.printed).to_string());
        let drop = drop.map_or(String::new(), |drop| job.scale.bare(drop).to_string());
        page.hang(&row(&number.to_string(), &at, &column(&drop)), &words);
    }
}

fn row(number: &str, at: &str, drop: &str) -> String {
    format!("  {number:>4}   {at:<11}   {drop:<10}")
}

/// How thick what remains is, when it lies on a sawn face: a check with the tape.
fn cant(page: &mut Page, sheet: &Sheet<'_>, stage: &Stage) {
    if let (Support::Face(_), Some(pass)) = (stage.rest.on, stage.passes.last()) {
        let thick = height(sheet.job, pass.printed);
        page.hang(&row("", "", ""), &format!("leaves the cant {thick} thick"));
    }
}

/// What lies on the bed after the last pass.
fn left(page: &mut Page, sheet: &Sheet<'_>, stage: &Stage) {
    let words = match (stage.rest.on, stage.passes.last()) {
        (Support::Face(_), Some(pass)) => format!(
            "left on the bed, {} thick: {}",
            height(sheet.job, pass.printed),
            comes_off(sheet, PartId::Left)
        ),
        _ => format!("left on the bed: {}", comes_off(sheet, PartId::Left)),
    };
    page.hang(&row("", "", ""), &words);
}

/// What a part is, and where it goes.
fn comes_off(sheet: &Sheet<'_>, id: PartId) -> String {
    match sheet.fate(id) {
        Fate::Slab => "slab".to_owned(),
        Fate::Square(pieces) => format!("{}, square", sheet.sizes(pieces.iter().copied())),
        Fate::Flitch { batch, pieces } => {
            let kind = sheet.kind(id);
            format!("{kind} to edging batch {batch}: {}", sheet.sizes(pieces.iter().copied()))
        }
    }
}

/// The width to look for where a face opens.
fn opening(sheet: &Sheet<'_>, fact: &PassFact) -> String {
    let job = sheet.job;
    let butt = width(job, fact.opening_butt);
    if fact.opening_small_end <= 0.0 {
        return format!("opens {butt} wide at the butt, runs out before the small end");
    }
    let small = width(job, fact.opening_small_end);
    if small == butt {
        return format!("opens {small} wide from end to end");
    }
    format!("opens {small} wide at the small end, {butt} at the butt")
}

/// A figure of a column: whole numbers to the right, their fractions lined up behind them.
pub(super) fn column(figure: &str) -> String {
    let split = figure.find([' ', '.']).unwrap_or(figure.len());
    let (whole, fraction) = figure.split_at(split);
    // A fraction alone stands under the others.
    if whole.contains('/') {
        return format!("{:4} {whole}", "");
    }
    format!("{whole:>4}{fraction}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_stand_under_each_other() {
        assert_eq!(column("22 7/16"), "  22 7/16");
        assert_eq!(column("8"), "   8");
        assert_eq!(column("7/8"), "     7/8");
        assert_eq!(column("620.5"), " 620.5");
        assert_eq!(column(""), "    ");
    }

    #[test]
    fn a_turn_says_what_goes_where() {
        let rest = |degrees, on, against| Rest {
            turn: Angle::degrees(degrees),
            lift: Length::ZERO,
            on,
            against,
        };
        let first = rest(0, Support::Bark, None);
        let second = rest(180, Support::Face(Face::A), None);
        let third = rest(90, Support::Bark, Some(Face::A));
        let fourth = rest(270, Support::Face(Face::C), Some(Face::B));
        assert_eq!(turned(&first, &second), "TURN HALF ROUND (180): face A down on the bed");
        assert_eq!(
            turned(&second, &third),
            "TURN A QUARTER (90): face A against the side stops, bark down"
        );
        assert_eq!(
            turned(&third, &fourth),
            "TURN HALF ROUND (180): face C down on the bed, face B against the side stops"
        );
    }
}

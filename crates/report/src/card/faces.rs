//! The faces in the order in which they are sawn, pass by pass.

use super::bodies::At;
use super::steps::StepPass;
use super::{Sheet, hazards, rest_words};
use crate::grown;
use crate::names::{height, width};
use crate::page::Page;
use pithward_geometry::replay::PassFact;
use pithward_geometry::{Angle, PartId, Rest, Stage, Support};
use pithward_measure::Length;
use pithward_optimizer::Fate;

const FULL_TURN: i32 = 360_000;
const HALF_TURN: i32 = 180_000;
const QUARTER_TURN: i32 = 90_000;

/// Every stage of the log, and of what is put back of it.
pub(super) fn faces(page: &mut Page, sheet: &Sheet<'_>) {
    let mut number = 0;
    for resaw in sheet.bodies() {
        body(page, sheet, resaw, &mut number);
    }
    page.blank();
    page.say(STOP);
}

/// When the card no longer holds.
pub(super) const STOP: &str = "If a face opens clearly narrower or wider than the card says, the log is not as it was \
     measured: stop, measure again and plan again before the next pass.";

/// The stages of one body; `number` counts the passes through all of them.
fn body(page: &mut Page, sheet: &Sheet<'_>, resaw: Option<usize>, number: &mut u32) {
    let stages = sheet.stages(resaw);
    let mut last: Option<&Rest> = None;
    let mut own = 0;
    let mut n = 0;
    while let Some(stage) = stages.get(n) {
        let at = At { resaw, stage: n };
        let all = u32::try_from(stage.passes.len()).unwrap_or(u32::MAX);
        if *number + all <= sheet.made {
            // It is sawn already.
            own += all;
            *number += all;
            last = Some(&stage.rest);
            n += 1;
            continue;
        }
        if *number < sheet.made {
            goes_on(page, sheet, at, stage);
            passes(page, sheet, at, stage, (&mut own, number));
            if n + 1 < stages.len() {
                told(page, cant(sheet, stage));
            }
            last = Some(&stage.rest);
            n += 1;
            continue;
        }
        let run = if last.is_some() { in_turn(sheet, at) } else { 0 };
        if run > 1 {
            boards_in_turn(page, sheet, at, &stages[n..n + run], (&mut own, number));
            last = stages.get(n + run - 1).map(|stage| &stage.rest);
            n += run;
            continue;
        }
        page.heading(&heading(sheet, at), &turn(sheet, at, last, &stage.rest));
        if last.is_some() || resaw.is_some() {
            page.say(&lie(sheet, at, stage));
        }
        page.blank();
        page.line("  pass   blade at      drop      what comes off");
        passes(page, sheet, at, stage, (&mut own, number));
        if n + 1 < stages.len() {
            told(page, cant(sheet, stage));
        }
        last = Some(&stage.rest);
        n += 1;
    }
    let is_done = *number <= sheet.made && sheet.bodies().last() != Some(resaw);
    if let Some(stage) = stages.last().filter(|_| !is_done) {
        told(page, Some(left(sheet, resaw, stage)));
    }
}

/// A line under what comes off.
fn told(page: &mut Page, words: Option<String>) {
    if let Some(words) = words {
        page.hang(&row("", "", ""), &words);
    }
}

/// The rest that the body lies in already, from the first pass that is not made yet.
fn goes_on(page: &mut Page, sheet: &Sheet<'_>, at: At, stage: &Stage) {
    let rest = format!("as it lies, not turned: {}", rests(&stage.rest));
    page.heading(&format!("FACE {} GOES ON", sheet.letter(at)), &rest);
    page.blank();
    page.line("  pass   blade at      drop      what comes off");
}

/// How many stages from this one on take a board each off a face that is open, on bark, a quarter turn before each.
fn in_turn(sheet: &Sheet<'_>, from: At) -> usize {
    let stages = sheet.stages(from.resaw);
    let goes_on = |n: &usize| {
        let turned = n.checked_sub(1).and_then(|before| stages.get(before)).is_some_and(|before| {
            let by = stages[*n].rest.turn.as_millidegrees() - before.rest.turn.as_millidegrees();
            by.rem_euclid(HALF_TURN) == QUARTER_TURN
        });
        let open = sheet.side_at(At { stage: *n, ..from }, 0).is_some();
        turned && open && stages[*n].passes.len() == 1 && stages[*n].rest.on == Support::Bark
    };
    (from.stage..stages.len()).take_while(goes_on).count()
}

/// Boards off two faces in turn, a line for each.
fn boards_in_turn(
    page: &mut Page,
    sheet: &Sheet<'_>,
    from: At,
    stages: &[Stage],
    (own, number): (&mut u32, &mut u32),
) {
    let job = sheet.job;
    page.heading("IN TURN", "a quarter turn (90) before every pass, bark down");
    page.say(
        "UP is the face that a board comes off: level it, until it stands so high over the bed at \
         both ends. STOPS is the face that is pressed flat against them; where there is none, clamp \
         on the flat that looks away from them.",
    );
    page.blank();
    page.line("  pass   up  stops   stands at   blade at    what comes off");
    for (n, stage) in stages.iter().enumerate() {
        let at = At { stage: from.stage + n, ..from };
        let Some(((up, side), pass)) = sheet.side_at(at, 0).zip(stage.passes.first()) else {
            continue;
        };
        *own += 1;
        *number += 1;
        let axis = sheet.pith(at).map_or(0.0, |(small, _)| small);
        let stands = job.scale.bare(Length::from_inches_f64(axis + side.plane)).to_string();
        let blade = job.scale.bare(pass.printed).to_string();
        let stops = stage.rest.against.map_or('-', |face| face.letter());
        let mut words = comes_off(sheet, Sheet::freed(at.resaw, *own));
        if hazards::near_metal(sheet, at, 1) {
            words += &format!("; {}", hazards::MARK);
        }
        let (stands, blade) = (column(&stands), column(&blade));
        let row = format!("  {number:>4}   {up}   {stops}      {stands:<10}  {blade:<10}  ");
        page.hang(&row, &words);
    }
}

/// The face that a stage opens; where a part is put back, that part.
fn heading(sheet: &Sheet<'_>, at: At) -> String {
    if let Some(resaw) = at.resaw.filter(|_| at.stage == 0) {
        let part = sheet.plan.order.resaws.get(resaw).map_or(PartId::Left, |resaw| resaw.part);
        return format!("{} {}", sheet.called(resaw).to_uppercase(), sheet.numbers(&[part]));
    }
    let again = if sheet.side_at(at, 0).is_some() { " AGAIN" } else { "" };
    format!("FACE {}{again}", sheet.letter(at))
}

/// How the log comes from one rest into the next.
fn turn(sheet: &Sheet<'_>, at: At, last: Option<&Rest>, rest: &Rest) -> String {
    let up = match sheet.side_at(at, 0) {
        Some((letter, _)) => format!(", face {letter} up"),
        None => String::new(),
    };
    match last {
        None if at.resaw.is_some() => format!("PUT IT BACK: {}{up}", rests(rest)),
        None if grown::any_side_up(&sheet.job.log) => "on its bark, 12 o'clock mark up".to_owned(),
        None => format!("on its bark, {} up", rest_words::up(rest)),
        Some(last) => turned(last, rest) + &up,
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
    format!("{turn}: {}", rests(rest))
}

/// What is down, and what stands against the stops.
pub(super) fn rests(rest: &Rest) -> String {
    let down = match rest.on {
        Support::Face(face) => format!("face {} down on the bed", face.letter()),
        Support::Bark => "bark down".to_owned(),
        Support::SawnEdge => "sawn edge down".to_owned(),
    };
    match rest.against {
        Some(face) if rest.on == Support::Bark => {
            format!("face {} against the side stops, {down}", face.letter())
        }
        Some(face) => format!("{down}, face {} against the side stops", face.letter()),
        None => down,
    }
}

/// How it lies after a turn, and what proves it.
pub(super) fn lie(sheet: &Sheet<'_>, at: At, stage: &Stage) -> String {
    let rest = &stage.rest;
    // The marks may be on what was set aside.
    let mark = if !sheet.plan.order.resaws.is_empty() {
        String::new()
    } else if grown::any_side_up(&sheet.job.log) {
        format!("{}. ", mark(rest))
    } else {
        let lying = rest_words::belly_lies(&sheet.job.log, rest);
        let so = if lying.is_empty() { String::new() } else { format!(": {lying}") };
        format!("The 12 o'clock mark points to {}{so}. ", rest_words::mark(rest))
    };
    let stops = match (rest.against, sheet.side_at(at, QUARTER_TURN)) {
        (Some(face), _) => format!("Press face {} flat against the stops. ", face.letter()),
        (None, Some((face, _))) if !sheet.plan.order.resaws.is_empty() => {
            format!("Clamp on face {face}, which looks away from the stops. ")
        }
        (None, _) => String::new(),
    };
    match rest.on {
        Support::Bark => {
            let level = rest_words::level(sheet, at, rest);
            let again = match sheet.side_at(at, 0) {
                _ if level.starts_with("Nothing") => "",
                Some(_) => "LEVEL THE FACE. ",
                None => "LEVEL THE PITH AGAIN. ",
            };
            let flare = rest_words::flare(sheet, at, rest);
            let flare = flare.map_or(String::new(), |words| format!(" {words}"));
            format!("{mark}{stops}{again}{level}{flare}")
        }
        Support::Face(_) | Support::SawnEdge => {
            format!("{mark}{stops}{}", rest_words::flat(sheet, at))
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

/// The passes of a stage, counted within its body and on the card.
fn passes(
    page: &mut Page,
    sheet: &Sheet<'_>,
    at: At,
    stage: &Stage,
    counted: (&mut u32, &mut u32),
) {
    for StepPass { number, height, drop, frees } in rows(sheet, at, stage, counted) {
        let number = number.map_or(String::new(), |number| number.to_string());
        page.hang(&row(&number, &column(&height), &column(&drop)), &frees);
    }
}

/// What is done in the rest of a stage, in one line.
pub(super) fn title(sheet: &Sheet<'_>, at: At, last: Option<&Rest>, rest: &Rest) -> String {
    format!("{}: {}", heading(sheet, at), turn(sheet, at, last, rest))
}

/// The passes of a stage that are not made yet.
pub(super) fn rows(
    sheet: &Sheet<'_>,
    at: At,
    stage: &Stage,
    (own, number): (&mut u32, &mut u32),
) -> Vec<StepPass> {
    let job = sheet.job;
    let facts = sheet.facts(at);
    let mut before: Option<Length> = None;
    let mut rows = Vec::with_capacity(stage.passes.len());
    for (i, pass) in stage.passes.iter().enumerate() {
        *own += 1;
        *number += 1;
        let drop = before.map(|before| before - pass.printed);
        before = Some(pass.printed);
        if *number <= sheet.made {
            continue;
        }
        let mut words = comes_off(sheet, Sheet::freed(at.resaw, *own));
        // A board off a face that is open opens nothing.
        if i == 0
            && sheet.side_at(at, 0).is_none()
            && let Some(fact) = facts.first()
        {
            words += &format!("; {}", opening(sheet, fact));
        }
        if hazards::near_metal(sheet, at, i + 1) {
            words += &format!("; {}", hazards::MARK);
        }
        rows.push(StepPass {
            number: Some(*number),
            height: job.scale.bare(pass.printed).to_string(),
            drop: drop.map_or(String::new(), |drop| job.scale.bare(drop).to_string()),
            frees: words,
        });
    }
    rows
}

fn row(number: &str, at: &str, drop: &str) -> String {
    format!("  {number:>4}   {at:<11}   {drop:<10}")
}

/// How thick what remains is, when it lies on a sawn face: a check with the tape.
pub(super) fn cant(sheet: &Sheet<'_>, stage: &Stage) -> Option<String> {
    let (Support::Face(_), Some(pass)) = (stage.rest.on, stage.passes.last()) else { return None };
    Some(format!("leaves the cant {} thick", height(sheet.job, pass.printed)))
}

/// What lies on the bed after the last pass.
pub(super) fn left(sheet: &Sheet<'_>, resaw: Option<usize>, stage: &Stage) -> String {
    let number = resaw.and_then(|n| u32::try_from(n + 1).ok());
    let part = number.map_or(PartId::Left, |n| PartId::LeftOf { resaw: n });
    match (stage.rest.on, stage.passes.last()) {
        (Support::Face(_), Some(pass)) => format!(
            "left on the bed, {} thick: {}",
            height(sheet.job, pass.printed),
            comes_off(sheet, part)
        ),
        _ => format!("left on the bed: {}", comes_off(sheet, part)),
    }
}

/// What a part is, and where it goes.
fn comes_off(sheet: &Sheet<'_>, id: PartId) -> String {
    match sheet.fate(id) {
        Fate::Slab => "slab".to_owned(),
        Fate::PutBack(n) => {
            let place = usize::try_from(*n).ok().and_then(|n| n.checked_sub(1));
            let part = place.map_or("part", |place| sheet.called(place));
            format!("{part}: TAKE IT OFF, set it aside and chock it; it is put back later")
        }
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
    use pithward_geometry::Face;

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

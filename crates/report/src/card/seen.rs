//! What was seen on this log, by the faces in the order in which they are opened.

use super::Sheet;
use super::bodies::At;
use crate::page::Page;
use crate::seen_words;
use pithward_geometry::{Angle, Defect};
use pithward_job::{Seen, clock_words};
use pithward_measure::Length;

/// A quarter turn, thousandths of a degree.
const QUARTER: i32 = 90_000;

/// What was seen, each on the face that it is nearest to; nothing where nothing was.
pub(super) fn seen(page: &mut Page, sheet: &Sheet<'_>) {
    let (job, seen) = (sheet.job, &sheet.job.told.seen);
    if seen.is_nothing() {
        return;
    }
    page.heading("SEEN ON THE LOG", "by the faces as it is sawn; clock at the small end, 12 up");
    let mut left: Vec<&Seen> = seen.each.iter().collect();
    let faces: Vec<(String, Angle)> = faces(sheet)
        .into_iter()
        .map(|(name, up)| (format!("{name}, {} up", clock_words(up)), up))
        .collect();
    let width = faces.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    for (name, up) in faces {
        let is_on =
            |seen: &&Seen| seen_words::clock(&seen.defect).is_some_and(|clock| is_near(clock, up));
        let mut here: Vec<&Seen> = left.iter().copied().filter(is_on).collect();
        left.retain(|seen| !is_on(seen));
        // From the butt on, as one walks along it.
        here.sort_by_key(|seen| std::cmp::Reverse(begins(seen)));
        let words: Vec<String> =
            here.into_iter().map(|seen| seen_words::words(job, &job.log, seen)).collect();
        let words = if words.is_empty() { "nothing".to_owned() } else { words.join("; ") };
        page.hang(&format!("  {name:<width$}   "), &words);
    }
    let round = left.into_iter().map(|seen| seen_words::words(job, &job.log, seen));
    let quarters = seen.quarters.as_ref().map(seen_words::quarters);
    let round: Vec<String> = round.chain(quarters).collect();
    if !round.is_empty() {
        page.hang(&format!("  {:<width$}   ", "all round"), &round.join("; "));
    }
}

/// The four sides: those that are opened, in their order, and then the others.
fn faces(sheet: &Sheet<'_>) -> Vec<(String, Angle)> {
    let order = &sheet.plan.order;
    let mut faces: Vec<(String, Angle)> = Vec::new();
    for (stage, up) in order.stages.iter().map(|stage| stage.rest.turn).enumerate() {
        let at = At::log(stage);
        if sheet.side_at(at, 0).is_none() {
            faces.push((format!("face {}", sheet.letter(at)), up));
        }
    }
    let put_back = || order.resaws.iter().flat_map(|resaw| &resaw.stages);
    for quarter in 0..4 {
        let turn = order.frame.turn.as_millidegrees() + quarter * QUARTER;
        let up = Angle::millidegrees(turn.rem_euclid(4 * QUARTER));
        if !faces.iter().any(|(_, known)| is_near(*known, up)) {
            let later = put_back().any(|stage| is_near(stage.rest.turn, up));
            let name = if later { "of what is put back" } else { "not opened" };
            faces.push((name.to_owned(), up));
        }
    }
    faces
}

/// Whether a direction is on the side that is up at another: an eighth of a turn off at most, and of two sides that it is
/// as near to on the first.
fn is_near(clock: Angle, up: Angle) -> bool {
    let off =
        (clock.as_millidegrees() - up.as_millidegrees() + QUARTER / 2).rem_euclid(4 * QUARTER);
    (0..=QUARTER).contains(&off)
}

/// The station at which something ends that is nearest to the butt.
fn begins(seen: &Seen) -> Length {
    match seen.defect {
        Defect::Knot { at, .. } | Defect::Hole { at, .. } => at,
        Defect::Seam { to, .. } | Defect::Scar { to, .. } | Defect::Core { to, .. } => to,
    }
}

#[cfg(test)]
mod tests {
    use super::is_near;
    use pithward_geometry::Angle;

    #[test]
    fn a_side_reaches_an_eighth_of_a_turn_to_either_side() {
        let near = |clock, up| is_near(Angle::degrees(clock), Angle::degrees(up));
        for (clock, up) in [(0, 0), (45, 0), (315, 0), (350, 10), (20, 340), (225, 270)] {
            assert!(near(clock, up), "{clock} {up}");
        }
        for (clock, up) in [(46, 0), (314, 0), (180, 0), (90, 0)] {
            assert!(!near(clock, up), "{clock} {up}");
        }
    }
}

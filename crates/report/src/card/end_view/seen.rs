//! What was seen on the bark, on the rim of the end view.

use super::{Drawing, Sheet};
use crate::seen_words;
use pithward_geometry::Defect;
use pithward_measure::Length;

/// The letter of what was seen, and its word; `None` of what is all round.
fn letter(defect: &Defect) -> Option<(char, &'static str)> {
    match defect {
        Defect::Knot { clear, .. } if *clear > Length::ZERO => Some(('B', "bump")),
        Defect::Knot { .. } => Some(('K', "knot")),
        Defect::Seam { .. } => Some(('S', "seam")),
        Defect::Scar { .. } => Some(('C', "scar")),
        Defect::Hole { .. } => Some(('O', "hole")),
        Defect::Core { .. } => None,
    }
}

impl Drawing {
    /// Marks the clock of everything that was seen by itself; `numbers` is the row of the upright cuts' numbers.
    pub(super) fn seen(&mut self, sheet: &Sheet<'_>, numbers: i64) {
        let up = sheet.plan.order.frame.turn;
        for seen in &sheet.job.told.seen.each {
            let (Some(clock), Some((letter, _))) =
                (seen_words::clock(&seen.defect), letter(&seen.defect))
            else {
                continue;
            };
            let turned = clock.as_millidegrees() - up.as_millidegrees();
            let (sin, cos) = pithward_geometry::Angle::millidegrees(turned).sin_cos();
            let away = sheet.job.log.wood_toward(Length::ZERO, clock).inches_f64();
            let [right, above] = [away * sin, away * cos].map(Length::from_inches_f64);
            // On the rim, which is within the wood, and above the rows that have the numbers of the passes.
            let row = self.crossing(above);
            let row = if (numbers..=numbers + 1).contains(&row) { numbers - 1 } else { row };
            let row = row.clamp(0, self.rows() - 1);
            let (from, to) = self.wood(row);
            self.put(row, self.column(right).clamp(from, to.max(from)), letter);
        }
    }
}

/// What the letters on the rim are; nothing where there are none.
pub(super) fn legend(sheet: &Sheet<'_>) -> Option<String> {
    let seen = &sheet.job.told.seen.each;
    let mut letters: Vec<(char, &str)> =
        seen.iter().filter_map(|seen| letter(&seen.defect)).collect();
    letters.sort_unstable();
    letters.dedup();
    let said: Vec<String> = letters.iter().map(|(c, word)| format!("{c} {word}")).collect();
    (!said.is_empty())
        .then(|| format!("Letters on the rim, wherever along the log: {}.", said.join(", ")))
}

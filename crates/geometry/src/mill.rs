//! What the mill can do: the figures of one machine, never constants of this program.

use pithward_measure::Length;
use thiserror::Error;

/// One mill's own figures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mill {
    /// What the person calls it.
    pub name: String,
    /// Wood that a pass turns to sawdust.
    pub kerf: Length,
    /// The step of its height scale.
    pub step: Length,
    /// Largest diameter over the bark that it can take.
    pub largest_diameter: Length,
    /// Longest log.
    pub longest: Length,
    /// Shortest log that it can hold.
    pub shortest: Length,
    /// Widest stock that passes between the blade guides.
    pub widest_cut: Length,
    /// Deepest stock that may stand above the blade.
    pub deepest_above: Length,
    /// Lowest height of the blade over the bed.
    pub lowest_blade: Length,
    /// What the crosscut at the end of a board turns to sawdust.
    pub crosscut_kerf: Length,
    /// Along the bed from what carries the butt to the toe board that raises the small end; `None` where the lift is
    /// told at the log's own end.
    pub toe_board: Option<Length>,
    /// How many flitches stand side by side for edging at most.
    pub edging_batch: u32,
}

/// A figure that no mill can have.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum MillFault {
    /// A length outside what any mill has.
    #[error("{field} must be between {} in and {} in, got {} in", .least.inches_f64(), .greatest.inches_f64(), .got.inches_f64())]
    Range {
        /// The figure's name in a mill file.
        field: &'static str,
        /// Least that makes sense.
        least: Length,
        /// Most that makes sense.
        greatest: Length,
        /// What was given.
        got: Length,
    },
    /// Two lengths that contradict each other.
    #[error("{smaller} ({} in) must not be more than {larger} ({} in)", .small.inches_f64(), .large.inches_f64())]
    Contradiction {
        /// The figure that should be the smaller.
        smaller: &'static str,
        /// The figure that should be the larger.
        larger: &'static str,
        /// What the first was given as.
        small: Length,
        /// What the second was given as.
        large: Length,
    },
    /// A batch that no clamp holds.
    #[error("edging_batch must be between 1 and 20, got {0}")]
    Batch(u32),
}

impl MillFault {
    /// The name, in a mill file, of the figure at fault.
    pub fn field(&self) -> &'static str {
        match self {
            Self::Range { field, .. } => field,
            Self::Contradiction { smaller, .. } => smaller,
            Self::Batch(_) => "edging_batch",
        }
    }
}

impl Mill {
    /// Every fault of the figures, in the order of the fields; empty when the mill can exist.
    pub fn faults(&self) -> Vec<MillFault> {
        let in64 = Length::sixty_fourths;
        let ranges = [
            ("kerf", self.kerf, Length::nm(500_000), Length::mm(20)),
            ("step", self.step, Length::nm(100_000), Length::inches(1)),
            ("largest_diameter", self.largest_diameter, Length::inches(4), Length::inches(120)),
            ("longest", self.longest, Length::feet(1), Length::feet(100)),
            ("shortest", self.shortest, Length::ZERO, Length::feet(100)),
            ("widest_cut", self.widest_cut, Length::inches(4), Length::inches(120)),
            ("deepest_above", self.deepest_above, Length::inches(1), Length::inches(120)),
            ("lowest_blade", self.lowest_blade, in64(8), Length::inches(12)),
            ("crosscut_kerf", self.crosscut_kerf, Length::ZERO, Length::inches(1)),
        ];
        let mut faults: Vec<MillFault> = ranges
            .into_iter()
            .filter(|(_, got, least, greatest)| got < least || got > greatest)
            .map(|(field, got, least, greatest)| MillFault::Range { field, least, greatest, got })
            .collect();
        if let Some(toe) = self.toe_board.filter(|toe| *toe < Length::feet(1)) {
            let (least, greatest) = (Length::feet(1), self.longest);
            faults.push(MillFault::Range { field: "toe_board", least, greatest, got: toe });
        }
        let pairs = [
            ("shortest", self.shortest, "longest", self.longest),
            ("step", self.step, "lowest_blade", self.lowest_blade),
            ("lowest_blade", self.lowest_blade, "largest_diameter", self.largest_diameter),
        ];
        let toe_board = self.toe_board.map(|toe| ("toe_board", toe, "longest", self.longest));
        for (smaller, small, larger, large) in pairs.into_iter().chain(toe_board) {
            if small > large {
                faults.push(MillFault::Contradiction { smaller, larger, small, large });
            }
        }
        if !(1..=20).contains(&self.edging_batch) {
            faults.push(MillFault::Batch(self.edging_batch));
        }
        faults
    }
}

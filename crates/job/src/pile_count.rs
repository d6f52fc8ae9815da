//! How many pieces of one size a pile gives.

use pithward_measure::{Excerpt, Length, Size};

use crate::fault::{Fault, FaultKind, Misread};
use crate::grade_text::GradeTerms;
use crate::log_job::PieceWorth;
use crate::pile_job::{JobWant, PileJob, WorthTerms, woods_of};
use crate::sawing_request::{countable, full_length};
use crate::typed::Typed;
use crate::want_text::WantText;

/// What a piece is worth, millionths: one.
const ONE_PIECE: i64 = 1_000_000;

const SIZE_HELP: &str = "write one size with its length, as in 2x6x12";

/// Every fault that a size has with any job, in the form that [`PileJob::counting_job`] reads: to be told beside the
/// faults of a job that could not be read.
pub fn size_faults(size: &Typed) -> Vec<Fault> {
    read(size).err().unwrap_or_default()
}

fn read(size: &Typed) -> Result<(String, WantText), Vec<Fault>> {
    let mut faults = Vec::new();
    let text = size.require(&mut faults, SIZE_HELP, |text| Ok(text.to_owned()));
    let Some(text) = text else { return Err(faults) };
    match countable(&text) {
        Ok(want) => Ok((text, want)),
        Err(found) => Err(found.into_iter().map(|misread| size.placed(misread)).collect()),
    }
}

impl PileJob {
    /// The same logs and mill, and one size that is its only want: as many as come, from every wood, each piece worth
    /// one whatever its length, and work without weight. `size` is in the form of [`WantText`](crate::WantText)
    /// without a count. Where it names no length it is that of the job, or those of the logs that stems are cut into, or,
    /// where all logs are of one length, the full length of them in whole feet (whole 300 mm for a size in millimetres).
    ///
    /// # Errors
    /// Every fault of the size.
    pub fn counting_job(&self, size: &Typed) -> Result<Self, Vec<Fault>> {
        let (text, want) = read(size)?;
        let placed = |misread: Misread| size.placed(misread);
        let lengths = want.size.length.map(|length| vec![length]);
        let lengths = lengths
            .or(want.lengths)
            .or_else(|| self.lengths.clone())
            .or_else(|| self.stems.first().and(self.bucking.log_lengths.clone()))
            .or_else(|| self.one_length(&want.size));
        let Some(lengths) = lengths else {
            let kind = FaultKind::NoLengthHere { got: Excerpt::new(&text) };
            return Err(vec![size.fault(kind, SIZE_HELP)]);
        };
        let want = JobWant {
            size: want.size,
            count: None,
            lengths,
            open_lengths: false,
            wane: want.wane,
            heart: want.heart.unwrap_or_default(),
            tolerates: want.tolerates.unwrap_or_default(),
            worth: PieceWorth::Piece(ONE_PIECE),
            extra: None,
            first: 0,
            species: Vec::new(),
            grade: GradeTerms { least: want.grade, rings: want.rings, by_grade: false },
            blocking: false,
        };
        if let Some(misread) = want.no_target(self.policy, &woods_of(self.trees())) {
            return Err(vec![placed(misread)]);
        }
        let worth = WorthTerms { unit: "pieces".to_owned(), hour: 0, ..self.worth.clone() };
        Ok(Self { worth, wants: vec![want], ..self.clone() })
    }

    /// The full length of logs that are all of one length.
    fn one_length(&self, size: &Size) -> Option<Vec<Length>> {
        let (first, others) = self.logs.split_first().filter(|_| self.stems.is_empty())?;
        let length = first.log.length();
        let alike = others.iter().all(|log| log.log.length() == length);
        alike.then(|| full_length(size, length - self.trim))
    }
}

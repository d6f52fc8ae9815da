//! What is wrong with what a person supplied, where, and what would be right.
//!
//! Nothing stops at the first fault: whoever reads a request or a file gives all of its faults at
//! once, in the order in which a person reads it.

mod charges;
mod doubt;
mod file;
mod grade;
mod learned;
mod pace;
mod plan_file;
mod resume;
mod shape;
mod sheet;
mod stores;
mod yard;

use std::borrow::Cow;
use std::fmt;
use std::ops::Range;

use pithward_geometry::measured::{OutlineFaultKind, ShapeFault};
use pithward_geometry::{DefectFault, LogFault};
use pithward_measure::{Excerpt, Length, LengthFault, SizeFault};
use pithward_trade::{FinishFault, ShrinkageFault, SpeciesFault, TargetFault, WaneFault};
use thiserror::Error;

use crate::place::Place;
use crate::said::{Amount, Said};
pub use charges::ChargeFault;
pub use doubt::DoubtFault;
pub use file::FileFault;
pub use grade::GradeFault;
pub use learned::LearnedFault;
pub use pace::PaceFault;
pub use plan_file::PlanFileFault;
pub use resume::ResumeFault;
pub use shape::ShapeFileFault;
pub use sheet::SheetFault;
pub use stores::StoresFault;
pub use yard::YardFault;

/// One fault of one field.
///
/// Displayed it is one sentence that names the field and what was got.
#[derive(Clone, Debug, PartialEq, Error)]
pub struct Fault {
    /// The field as the person knows it: a flag (`--small`) or a line of a file (`kerf`).
    pub field: String,
    /// What is wrong with it.
    pub kind: Box<FaultKind>,
    /// What would be right.
    pub help: Cow<'static, str>,
    /// Where it stands.
    pub place: Place,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let joint = if self.kind.is_said_of_the_field() { "" } else { ":" };
        write!(f, "{}{joint} {}", self.field, self.kind)
    }
}

/// What is wrong with a part of a text, before it is known which field the text belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct Misread {
    /// What is wrong with it.
    pub kind: Box<FaultKind>,
    /// The bytes of the text that are at fault; empty for the whole.
    pub span: Range<usize>,
    /// What would be right.
    pub help: Cow<'static, str>,
}

impl Misread {
    pub(crate) fn new(
        kind: impl Into<FaultKind>,
        span: Range<usize>,
        help: impl Into<Cow<'static, str>>,
    ) -> Self {
        Self { kind: Box::new(kind.into()), span, help: help.into() }
    }

    /// The same, once it is known that the text is the value of `field`.
    pub fn of(self, field: &str, value: &str) -> Fault {
        Fault {
            field: field.to_owned(),
            kind: self.kind,
            help: self.help,
            place: Place::Value { value: value.to_owned(), span: self.span },
        }
    }
}

/// What is wrong with a field.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum FaultKind {
    /// Nothing was written where something must be.
    #[error("is missing")]
    Missing,
    /// No length.
    #[error(transparent)]
    Length(#[from] LengthFault),
    /// A length whose unit nobody can know.
    #[error("{got} has no unit")]
    NoUnit {
        /// What was written.
        got: Excerpt,
    },
    /// A length that makes no sense where it stands.
    #[error("must be between {} and {}, got {got}", Said(*.least), Said(*.greatest))]
    Range {
        /// The least that makes sense.
        least: Length,
        /// The most that makes sense.
        greatest: Length,
        /// What was written.
        got: Excerpt,
    },
    /// A whole number that makes no sense where it stands.
    #[error("must be a whole number between {least} and {greatest}, got {got}")]
    WholeRange {
        /// The least that makes sense.
        least: u32,
        /// The most that makes sense.
        greatest: u32,
        /// What was written.
        got: Excerpt,
    },
    /// A count of pieces that nobody can mean.
    #[error("a count must be a whole number between {least} and {greatest}, got {got}")]
    Count {
        /// The least that can be asked for.
        least: u32,
        /// The most that can be asked for.
        greatest: u32,
        /// What was written.
        got: Excerpt,
    },
    /// No number where a percentage must be.
    #[error("{got} is no percentage")]
    NoPercentage {
        /// What was written.
        got: Excerpt,
    },
    /// The ends were swapped, or one was misread.
    #[error("the butt, {butt}, is smaller than the small end, {small_end}")]
    ButtBelowSmallEnd {
        /// The butt as written.
        butt: Excerpt,
        /// The small end as written.
        small_end: Excerpt,
    },
    /// No log has these measurements together.
    #[error(transparent)]
    Log(#[from] LogFault),
    /// Diameters over a bark that nobody knows the thickness of.
    #[error(
        "the log was measured over the bark, and neither the bark's thickness nor the species is given"
    )]
    BarkUnknown,
    /// No species.
    #[error(transparent)]
    Species(#[from] SpeciesFault),
    /// No size.
    #[error(transparent)]
    Size(#[from] SizeFault),
    /// A size that has no target under the policy.
    #[error(transparent)]
    Target(#[from] TargetFault),
    /// No limit on wane.
    #[error("{got} is no limit on wane")]
    NoWane {
        /// What was written.
        got: Excerpt,
    },
    /// A limit on wane that the piece does not bear.
    #[error(transparent)]
    Wane(#[from] WaneFault),
    /// A planing allowance, an undersize or a deviation that makes no sense.
    #[error(transparent)]
    Finish(#[from] FinishFault),
    /// A moisture content that makes no sense.
    #[error(transparent)]
    Shrinkage(#[from] ShrinkageFault),
    /// A word that is none of those that are known.
    #[error("{got} is no {what}{}", meant(*.nearest))]
    Unknown {
        /// What it should be one of.
        what: &'static str,
        /// What was written.
        got: Excerpt,
        /// The known word that may have been meant.
        nearest: Option<&'static str>,
    },
    /// The same part twice.
    #[error("{what} is said twice")]
    Repeated {
        /// What is said twice.
        what: Excerpt,
    },
    /// The same want twice.
    #[error("{got} asks for the same as {earlier} before it")]
    SameWant {
        /// The later one.
        got: Excerpt,
        /// The earlier one.
        earlier: Excerpt,
    },
    /// Lengths beside a size that has its own.
    #[error("{size} has its length already")]
    LengthTwice {
        /// The size.
        size: Excerpt,
    },
    /// A count where none can be.
    #[error("{got} has a count, and here the most are counted that the log gives")]
    CountHere {
        /// What was written.
        got: Excerpt,
    },
    /// Random width where pieces of one size are counted.
    #[error("{got} has no one width, so its pieces cannot be counted")]
    RandomWidthHere {
        /// What was written.
        got: Excerpt,
    },
    /// A setting that the chosen size policy does not look at.
    #[error("is only for finished sizes, and the sizes are {policy}")]
    NotFinished {
        /// The policy that was chosen.
        policy: &'static str,
    },
    /// What a finished size cannot do without.
    #[error("is missing, and finished sizes cannot do without it")]
    FinishedNeeds,
    /// A step that no scale has.
    #[error("must be the step of a scale that can be read, got {got}")]
    NoScale {
        /// What was written.
        got: Excerpt,
    },
    /// Two fields that contradict each other.
    #[error("must not be more than {larger}, which is {}, got {}", Said(*.large), Said(*.small))]
    Contradiction {
        /// The other field.
        larger: &'static str,
        /// What this field is.
        small: Length,
        /// What the other field is.
        large: Length,
    },
    /// A line that the file should not have.
    #[error("is no field of {of}{}", meant(*.nearest))]
    UnknownField {
        /// What it stands in: `a mill file`.
        of: &'static str,
        /// The field that may have been meant.
        nearest: Option<&'static str>,
    },
    /// Fields that the file lacks.
    #[error("missing from {from}")]
    MissingFields {
        /// What lacks them: `the mill file`.
        from: &'static str,
    },
    /// A value of another kind than it should be.
    #[error("must be {right}, got {got}")]
    WrongKind {
        /// What it should be.
        right: &'static str,
        /// What was written.
        got: Excerpt,
    },
    /// A name that cannot be printed on one line.
    #[error("must be 1 to {most} characters on one line, got {got}")]
    Name {
        /// The most characters.
        most: usize,
        /// What was written.
        got: Excerpt,
    },
    /// Free text that is too long, or has what cannot be printed.
    #[error("must be at most {most} printable characters, got {got}")]
    FreeText {
        /// The most characters.
        most: usize,
        /// What was written.
        got: Excerpt,
    },
    /// No amount of money or worth.
    #[error("{got} is no amount")]
    NoAmount {
        /// What was written.
        got: Excerpt,
    },
    /// An amount that makes no sense where it stands.
    #[error("must be between {} and {}, got {got}", Amount(*.least), Amount(*.greatest))]
    AmountRange {
        /// The least that makes sense, millionths.
        least: i64,
        /// The most that makes sense, millionths.
        greatest: i64,
        /// What was written.
        got: Excerpt,
    },
    /// No worth of a piece.
    #[error("{got} does not say what a piece is worth")]
    NoWorth {
        /// What was written.
        got: Excerpt,
    },
    /// Some wants state a worth, others none, and nothing says what a board foot is worth.
    #[error("other wants state a worth, and nothing says what these are worth: {wants}")]
    Unpriced {
        /// The sizes of those that state none.
        wants: String,
    },
    /// A unit of worth, and nothing that is stated in it.
    #[error("is {unit}, and nothing in the job has a worth in it")]
    UnitAlone {
        /// The unit.
        unit: Excerpt,
    },
    /// Pieces beyond a count that is not stated.
    #[error("says what pieces beyond the count are worth, and the want has no count")]
    ExtraWithoutCount,
    /// A piece beyond the count that is worth more than one within it.
    #[error(
        "is {} for a piece of {} and the worth within the count is {}",
        Amount(*.extra), Said(*.length), Amount(*.within)
    )]
    ExtraAbove {
        /// Worth of a piece within the count, millionths.
        within: i64,
        /// Worth of one beyond it, millionths.
        extra: i64,
        /// The piece's length.
        length: Length,
    },
    /// A piece that is worth more than any can be.
    #[error("a piece is worth {}, and no piece is worth more than {}", Amount(*.got), Amount(*.most))]
    TooDear {
        /// The most that a piece may be worth, millionths.
        most: i64,
        /// What it is worth, millionths.
        got: i64,
    },
    /// Worth that, put first in the list, is past what is weighed exactly.
    #[error(
        "{size} is worth so much beside the rest of the list that it cannot be weighed exactly"
    )]
    TooMuchWeight {
        /// The size.
        size: Excerpt,
    },
    /// Figures beside the name of the file that has them.
    #[error("names a file with the figures of the mill, and {beside} stands beside it")]
    FileBeside {
        /// The field that stands beside it.
        beside: Excerpt,
    },
    /// More of something than a job can have.
    #[error("are at most {most}, got {got}")]
    TooMany {
        /// The most.
        most: usize,
        /// How many there are.
        got: usize,
    },
    /// Two logs that are called the same.
    #[error("{id} is called the same as the log on line {line} of {file}")]
    SameLog {
        /// What both are called.
        id: Excerpt,
        /// The line of the earlier one, from 1.
        line: usize,
        /// The file that the earlier one stands in.
        file: String,
    },
    /// More diameters at an end than two.
    #[error("has {got} diameters, and an end is measured across once or twice")]
    Diameters {
        /// How many there are.
        got: usize,
    },
    /// Where pieces are counted over logs of many lengths, no length is named.
    #[error("{got} has no length, and the logs are of many lengths")]
    NoLengthHere {
        /// What was written.
        got: Excerpt,
    },
    /// A wood that no counted line of the list accepts, where logs of it are counted.
    #[error("no want that has a count accepts this wood")]
    NoWantAccepts,
    /// A list without a count where the logs for it are counted.
    #[error("no want has a count, and logs are counted for counts alone")]
    NoCounts,
    /// No direction.
    #[error("{got} is no direction on a clock")]
    NoClock {
        /// What was written.
        got: Excerpt,
    },
    /// No width of a flaw.
    #[error("{got} is no width, or one of half the way round and more")]
    NoWidth {
        /// What was written.
        got: Excerpt,
    },
    /// No place along a log.
    #[error("{got} is no place along a log")]
    NoPlace {
        /// What was written.
        got: Excerpt,
    },
    /// A measurement of several parts that lacks one.
    #[error("has no {part}")]
    NoPart {
        /// The part.
        part: &'static str,
    },
    /// A part that this kind of thing does not have.
    #[error("{part} says nothing of {of}")]
    PartOf {
        /// The part.
        part: &'static str,
        /// What it stands in: `a shake`.
        of: &'static str,
    },
    /// Two fields that exclude each other.
    #[error("has both {one} and {other}, and only one of them can be")]
    Both {
        /// One.
        one: &'static str,
        /// The other.
        other: &'static str,
    },
    /// A stretch of no length.
    #[error("begins and ends at the same place")]
    NoStretch,
    /// The direction of the longer diameter of a log that has none.
    #[error("is the direction of the longer of two diameters, and {why}")]
    NoLongAxis {
        /// `neither end has two`.
        why: &'static str,
    },
    /// A setting beside a rule on the pith that it says nothing of.
    #[error("is only for {heart} heart")]
    OtherHeart {
        /// `boxed`.
        heart: &'static str,
    },
    /// A size that is too small to have the pith in it.
    #[error("{size} is too small to box the pith")]
    TooSmallToBox {
        /// The size.
        size: Excerpt,
    },
    /// A flaw that nobody may want in a piece.
    #[error("{got} is tolerated in no piece: no blade should pass there")]
    NeverTolerated {
        /// What was written.
        got: Excerpt,
    },
    /// What is wrong with grades, rings, or what is paid for them.
    #[error(transparent)]
    Grade(#[from] GradeFault),
    /// What is wrong with how long a step of sawing takes.
    #[error(transparent)]
    Pace(#[from] PaceFault),
    /// What is wrong with what is charged.
    #[error(transparent)]
    Charge(#[from] ChargeFault),
    /// What is wrong with what is told of the yard.
    #[error(transparent)]
    Yard(#[from] YardFault),
    /// What is wrong with what a mill takes with it, or with what is hauled.
    #[error(transparent)]
    Stores(#[from] StoresFault),
    /// What is wrong with how far a pile may be off.
    #[error(transparent)]
    Doubt(#[from] DoubtFault),
    /// What is wrong with what is said of a half-sawn log.
    #[error(transparent)]
    Resume(#[from] ResumeFault),
    /// Something of a plan that is read back.
    #[error(transparent)]
    PlanFile(#[from] PlanFileFault),
    /// What is wrong with how many pieces are said to come out.
    #[error(transparent)]
    Learned(#[from] LearnedFault),
    /// A defect that cannot be in its log.
    #[error(transparent)]
    Defect(#[from] DefectFault),
    /// A measured shape that is no log.
    #[error(transparent)]
    Shape(#[from] ShapeFault),
    /// A measured outline that is none.
    #[error(transparent)]
    Outline(#[from] OutlineFaultKind),
    /// A file that cannot be read at all.
    #[error(transparent)]
    File(#[from] FileFault),
    /// A sheet that is none, or lacks what it needs.
    #[error(transparent)]
    Sheet(#[from] SheetFault),
    /// A shape file that is none, or what is said beside it.
    #[error(transparent)]
    ShapeFile(#[from] ShapeFileFault),
}

impl FaultKind {
    /// Whether the message goes on where the name of the field ends.
    fn is_said_of_the_field(&self) -> bool {
        match self {
            Self::Sheet(fault) => fault.is_said_of_the_field(),
            Self::ShapeFile(fault) => fault.is_said_of_the_field(),
            Self::Grade(fault) => fault.is_said_of_the_field(),
            Self::Pace(fault) => fault.is_said_of_the_field(),
            Self::Charge(fault) => fault.is_said_of_the_field(),
            Self::Yard(fault) => fault.is_said_of_the_field(),
            Self::Stores(fault) => fault.is_said_of_the_field(),
            Self::Doubt(fault) => fault.is_said_of_the_field(),
            Self::Resume(fault) => fault.is_said_of_the_field(),
            Self::PlanFile(fault) => fault.is_said_of_the_field(),
            Self::Learned(fault) => fault.is_said_of_the_field(),
            Self::Missing
            | Self::Range { .. }
            | Self::WholeRange { .. }
            | Self::NotFinished { .. }
            | Self::FinishedNeeds
            | Self::NoScale { .. }
            | Self::Contradiction { .. }
            | Self::UnknownField { .. }
            | Self::WrongKind { .. }
            | Self::Name { .. }
            | Self::FreeText { .. }
            | Self::AmountRange { .. }
            | Self::UnitAlone { .. }
            | Self::ExtraWithoutCount
            | Self::ExtraAbove { .. }
            | Self::FileBeside { .. }
            | Self::TooMany { .. }
            | Self::Diameters { .. }
            | Self::NoPart { .. }
            | Self::Both { .. }
            | Self::NoStretch
            | Self::NoLongAxis { .. }
            | Self::OtherHeart { .. }
            | Self::Shape(_)
            | Self::Outline(_) => true,
            _ => false,
        }
    }
}

fn meant(nearest: Option<&str>) -> impl fmt::Display {
    nearest.map_or(String::new(), |word| format!("; perhaps {word}?"))
}

#[cfg(test)]
mod tests {
    use super::{FaultKind, Misread};
    use pithward_measure::{Excerpt, Length};

    #[test]
    fn a_fault_is_one_sentence() {
        let kind = FaultKind::Range {
            least: Length::nm(500_000),
            greatest: Length::mm(20),
            got: Excerpt::new("-3.2 mm"),
        };
        assert_eq!(
            Misread::new(kind, 0..0, "").of("kerf", "-3.2 mm").to_string(),
            "kerf must be between 0.5 mm and 20 mm, got \"-3.2 mm\""
        );
    }
}

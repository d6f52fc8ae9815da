//! What is wrong with what a person supplied, where, and what would be right.
//!
//! Nothing stops at the first fault: whoever reads a request or a file gives all of its faults at
//! once, in the order in which a person reads it.

use std::borrow::Cow;
use std::fmt;
use std::ops::Range;
use std::sync::Arc;

use pithward_geometry::LogFault;
use pithward_measure::{Excerpt, Length, LengthFault, SizeFault};
use pithward_trade::{FinishFault, ShrinkageFault, SpeciesFault, TargetFault, WaneFault};
use thiserror::Error;

use crate::said::Said;

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

/// Where a fault stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// Nothing was written.
    Nowhere,
    /// In a value that was typed.
    Value {
        /// The whole value.
        value: String,
        /// The bytes of it that are at fault; empty for the whole.
        span: Range<usize>,
    },
    /// In a file.
    File(FilePlace),
}

/// A place in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FilePlace {
    /// The file's name, as the person wrote it.
    pub file: String,
    /// The whole text of it.
    pub text: Arc<str>,
    /// The bytes of the text that are at fault.
    pub span: Range<usize>,
    /// The line on which they begin, from 1.
    pub line: usize,
    /// The character of the line at which they begin, from 1.
    pub column: usize,
}

impl FilePlace {
    /// The place of some bytes of a text, moved onto the nearest character where they lie on none.
    pub fn new(file: &str, text: &Arc<str>, span: Range<usize>) -> Self {
        let mut start = span.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let mut end = span.end.clamp(start, text.len());
        while !text.is_char_boundary(end) {
            end += 1;
        }
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        Self {
            file: file.to_owned(),
            text: Arc::clone(text),
            span: start..end,
            line: before.matches('\n').count() + 1,
            column: before[line_start..].chars().count() + 1,
        }
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
        "the diameters are over the bark, and neither the bark's thickness nor the species is given"
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
    #[error("is no field of a mill file{}", meant(*.nearest))]
    UnknownField {
        /// The field that may have been meant.
        nearest: Option<&'static str>,
    },
    /// Fields that the file lacks.
    #[error("missing from the mill file")]
    MissingFields,
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
    /// No such file.
    #[error("there is no file {file}")]
    NoFile {
        /// Its name.
        file: Excerpt,
    },
    /// A directory.
    #[error("{file} is a directory, not a file")]
    Directory {
        /// Its name.
        file: Excerpt,
    },
    /// A file that cannot be read.
    #[error("{file} cannot be read: {why}")]
    Unreadable {
        /// Its name.
        file: Excerpt,
        /// What the system says.
        why: std::io::ErrorKind,
    },
    /// A file that is no text.
    #[error(
        "{file} is not UTF-8 text: the byte {byte:#04x} on line {line} belongs to no character"
    )]
    NotUtf8 {
        /// Its name.
        file: Excerpt,
        /// The byte.
        byte: u8,
        /// The line it is on, from 1.
        line: usize,
    },
    /// A file with nothing in it.
    #[error("{file} is empty")]
    EmptyFile {
        /// Its name.
        file: Excerpt,
    },
    /// A file far larger than any of its kind.
    #[error("{file} is larger than {most} bytes, and no mill file is")]
    FileTooLarge {
        /// Its name.
        file: Excerpt,
        /// The most that is read.
        most: u64,
    },
    /// A text that is not TOML, in the words of whoever reads TOML.
    #[error("this is not TOML: {0}")]
    Toml(String),
    /// A text that is not JSON, in the words of whoever reads JSON.
    #[error("this is not JSON: {0}")]
    Json(String),
}

impl FaultKind {
    /// Whether the message goes on where the name of the field ends.
    fn is_said_of_the_field(&self) -> bool {
        matches!(
            self,
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
        )
    }
}

fn meant(nearest: Option<&str>) -> impl fmt::Display {
    nearest.map_or(String::new(), |word| format!("; perhaps {word}?"))
}

#[cfg(test)]
mod tests {
    use super::{FaultKind, FilePlace, Misread};
    use pithward_measure::{Excerpt, Length};
    use std::sync::Arc;

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

    #[test]
    fn lines_and_columns_count_characters() {
        let text: Arc<str> = "a = 1\nbé = \"½\"\n".into();
        let at = text.find('½').unwrap();
        let place = FilePlace::new("x", &text, at..at + 2);
        assert_eq!((place.line, place.column), (2, 7));
        // Inside a character, and past the end.
        let place = FilePlace::new("x", &text, at + 1..at + 1);
        assert_eq!(place.span, at..at + 2);
        let place = FilePlace::new("x", &text, 900..901);
        assert_eq!((place.line, place.span.end), (3, text.len()));
    }
}

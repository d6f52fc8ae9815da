//! Reading a size.
//!
//! # Grammar
//! ```text
//! size      = thickness ["x" width ["x" length]]
//! thickness = length | quarters        alone only as quarters: random width, 4 in and up
//! width     = length ["up" [unit]]     "up" may be "& up", "and up" or "+"
//! quarters  = digits "/4"              four or more of them; 3/4 is a fraction like any other
//! ```
//! `x`, `X` or `×` parts the dimensions, and [`Length::parse`] says what a length is.
//!
//! # Units
//! A unit behind thickness or width goes for both (`50x150 mm`, `2x6"`). Without one, an `mm` at the
//! very end goes for all three, else they are inches. A bare length is in feet, or in the unit of the
//! section where that is metric. The two systems are never mixed: `2x6x3 m` may mean inches or
//! may not, so it is refused.
//!
//! # Order
//! The smaller of a fixed thickness and width is the thickness, however they were written: `6x2` is
//! `2x6`.

use std::ops::Range;
use std::str::FromStr;

use super::fault::{Dimension, Limits, SizeFault};
use super::parts::{is_quarters, split, split_up};
use super::{Size, Width, Writing};
use crate::fault::{Excerpt, LengthFault, Spot};
use crate::reading::{Reading, unit_alone};
use crate::{Length, Unit};

impl Size {
    /// Reads a size as the trade writes it: `2x6`, `2 x 6 x 12`, `2-1/2x6`, `2x6x8'6"`, `1x4up`,
    /// `4/4`, `5/4x6x8`, `50x150x3000 mm`.
    ///
    /// `4/4` alone is random width, [`Size::NARROWEST_HARDWOOD`] and up. Of a fixed thickness and
    /// width the smaller is the thickness: `6x2` is `2x6`.
    ///
    /// # Errors
    /// If the text is not exactly one size, or a dimension of it is absurd; the fault says what was
    /// got, where, and what would be right.
    ///
    /// ```
    /// use pithward_measure::{Length, Size, Width};
    ///
    /// let size = Size::parse("5/4 x 6up x 8")?;
    /// assert_eq!(size.thickness, Length::sixty_fourths(80));
    /// assert_eq!(size.width, Width::AtLeast(Length::inches(6)));
    /// assert_eq!(size.length, Some(Length::feet(8)));
    /// # Ok::<(), pithward_measure::SizeFault>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let written = Written::read(text)?;
        let units = written.units()?;
        written.size(units)
    }
}

impl FromStr for Size {
    type Err = SizeFault;

    fn from_str(text: &str) -> Result<Self, SizeFault> {
        Self::parse(text)
    }
}

/// A size as it was written, its bare numbers still without units.
struct Written<'a> {
    text: &'a str,
    thickness: Side,
    in_quarters: bool,
    width: Option<Side>,
    /// Whether the width has an `up`.
    random: bool,
    length: Option<Side>,
}

/// One dimension as it was written.
struct Side {
    dimension: Dimension,
    reading: Reading,
    at: Range<usize>,
}

/// What bare numbers are in.
#[derive(Clone, Copy)]
struct Units {
    section: Unit,
    length: Unit,
}

impl<'a> Written<'a> {
    fn read(text: &'a str) -> Result<Self, SizeFault> {
        let [thickness, width, length] = split(text)?;
        let Some(at) = thickness else { return Err(SizeFault::Empty) };
        let quarters = is_quarters(&text[at.clone()]);
        let mut thickness = Side::read(text, Dimension::Thickness, at)?;
        let in_quarters = quarters && matches!(thickness.reading.unit, None | Some(Unit::Inch));
        if in_quarters {
            thickness.reading.unit = Some(Unit::Inch);
        }
        let (width, random) = match width {
            Some(at) => Side::read_width(text, at).map(|(side, random)| (Some(side), random))?,
            None if in_quarters => (None, true),
            None => {
                let end = text.trim_end().len();
                let text = Excerpt::new(text);
                return Err(SizeFault::Missing { text, dimension: Dimension::Width, at: end..end });
            }
        };
        let length = length.map(|at| Side::read(text, Dimension::Length, at)).transpose()?;
        Ok(Self { text, thickness, in_quarters, width, random, length })
    }

    fn units(&self) -> Result<Units, SizeFault> {
        let unit = |side: &Option<Side>| side.as_ref().and_then(|side| side.reading.unit);
        let (width, length) = (unit(&self.width), unit(&self.length));
        let section = width.or(self.thickness.reading.unit);
        let units = match (section, length) {
            (Some(unit), _) if unit.is_metric() => Units { section: unit, length: unit },
            (None, Some(Unit::Millimetre)) => {
                Units { section: Unit::Millimetre, length: Unit::Millimetre }
            }
            _ => Units { section: Unit::Inch, length: Unit::Foot },
        };
        let mut written = [self.thickness.reading.unit, width, length].into_iter().flatten();
        if written.all(|unit| unit.is_metric() == units.section.is_metric()) {
            return Ok(units);
        }
        let (start, end) = (self.text.len() - self.text.trim_start().len(), self.text.trim_end());
        Err(SizeFault::MixedUnits { text: Excerpt::new(self.text), at: start..end.len() })
    }

    fn size(&self, units: Units) -> Result<Size, SizeFault> {
        let writing = match (self.in_quarters, units.section.is_metric()) {
            (true, _) => Writing::Quarters,
            (false, true) => Writing::Metric,
            (false, false) => Writing::Imperial,
        };
        let mut thickness = self.thickness.measured(self.text, units.section)?;
        let width = match &self.width {
            None => Width::AtLeast(Size::NARROWEST_HARDWOOD),
            Some(side) => {
                let mut width = side.measured(self.text, units.section)?;
                if !self.random && thickness.length > width.length {
                    (thickness, width) = (width, thickness);
                }
                let width = width.within(self.text, Dimension::Width, writing)?;
                if self.random { Width::AtLeast(width) } else { Width::Exactly(width) }
            }
        };
        let thickness = thickness.within(self.text, Dimension::Thickness, writing)?;
        let length = match &self.length {
            None => None,
            Some(side) => {
                let length = side.measured(self.text, units.length)?;
                Some(length.within(self.text, Dimension::Length, writing)?)
            }
        };
        let size = Size { thickness, width, length, writing };
        // `4/4x1/2` is half an inch thick, which is no number of quarters that can be written.
        let writable = writing != Writing::Quarters || size.quarters().is_some();
        Ok(if writable { size } else { Size { writing: Writing::Imperial, ..size } })
    }
}

impl Side {
    fn read(text: &str, dimension: Dimension, at: Range<usize>) -> Result<Self, SizeFault> {
        match Reading::of(&text[at.clone()]) {
            Ok(reading) => Ok(Self { dimension, reading, at }),
            Err(fault) => Err(not_a_length(text, dimension, fault, at.start)),
        }
    }

    /// The width, and whether it is random.
    fn read_width(text: &str, at: Range<usize>) -> Result<(Self, bool), SizeFault> {
        let Some((number, behind)) = split_up(&text[at.clone()]) else {
            return Ok((Self::read(text, Dimension::Width, at)?, false));
        };
        let (number, behind) = (at.start..at.start + number, at.start + behind..at.end);
        let mut side = Self::read(text, Dimension::Width, number)?;
        let unit = &text[behind.clone()];
        if !unit.trim().is_empty() {
            let unit = match side.reading.unit {
                None => unit_alone(unit),
                Some(_) => Err(LengthFault::LeftOver(Spot::new(unit, 0..unit.len()))),
            };
            let refused = |fault| not_a_length(text, Dimension::Width, fault, behind.start);
            side.reading.unit = Some(unit.map_err(refused)?);
        }
        Ok((side, true))
    }

    fn measured(&self, text: &str, bare: Unit) -> Result<Measured, SizeFault> {
        match self.reading.length(&text[self.at.clone()], bare) {
            Ok(length) => Ok(Measured { length, at: self.at.clone() }),
            Err(fault) => Err(not_a_length(text, self.dimension, fault, self.at.start)),
        }
    }
}

/// One dimension as a length, and where it is written.
struct Measured {
    length: Length,
    at: Range<usize>,
}

impl Measured {
    fn within(
        self,
        text: &str,
        dimension: Dimension,
        writing: Writing,
    ) -> Result<Length, SizeFault> {
        let Self { length: got, at } = self;
        let limits = Limits::of(dimension, writing);
        if limits.least <= got && got <= limits.most {
            return Ok(got);
        }
        Err(SizeFault::OutOfRange { text: Excerpt::new(text), dimension, got, limits, writing, at })
    }
}

fn not_a_length(text: &str, dimension: Dimension, fault: LengthFault, from: usize) -> SizeFault {
    let span = fault.span().unwrap_or(0..0);
    let at = from + span.start..from + span.end;
    SizeFault::NotALength { text: Excerpt::new(text), dimension, fault, at }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Size, SizeFault};
    use crate::{Length, Width, Writing};

    /// The size as its thickness and width in 64ths of an inch, its length in 64ths, 0 for none.
    #[track_caller]
    fn check(text: &str, writing: Writing, thickness: i64, width: Width, length: i64) {
        let expected = Size {
            thickness: Length::sixty_fourths(thickness),
            width,
            length: (length > 0).then(|| Length::sixty_fourths(length)),
            writing,
        };
        assert_eq!(Size::parse(text), Ok(expected), "{text}");
    }

    #[track_caller]
    fn check_metric(text: &str, thickness: i64, width: Width, length: Option<i64>) {
        let (thickness, length) = (Length::mm(thickness), length.map(Length::mm));
        let expected = Size { thickness, width, length, writing: Writing::Metric };
        assert_eq!(Size::parse(text), Ok(expected), "{text}");
    }

    #[track_caller]
    fn check_fault(text: &str, at_fault: &str, message: &str) {
        let fault = Size::parse(text).unwrap_err();
        assert_eq!(fault.to_string(), message);
        assert_eq!(fault.span().map(|span| &text[span]), Some(at_fault));
    }

    fn exactly(inches: i64) -> Width {
        Width::Exactly(Length::inches(inches))
    }

    fn at_least(inches: i64) -> Width {
        Width::AtLeast(Length::inches(inches))
    }

    #[test]
    fn inches_and_feet() {
        let imperial = Writing::Imperial;
        for text in ["2x6", " 2 x 6 ", "2X6", "2×6", "2\"x6\"", "2 in x 6 in", "2x6 in", "6x2"] {
            check(text, imperial, 128, exactly(6), 0);
        }
        for text in ["2x6x12", "2x6x12ft", "2 x 6 x 12'", "2x6x144 in", "2\"x6\"x12", "6x2x12"] {
            check(text, imperial, 128, exactly(6), 64 * 144);
        }
        check("1x10x8", imperial, 64, exactly(10), 64 * 96);
        check("2-1/2x6", imperial, 160, exactly(6), 0);
        check("1 1/2x4", imperial, 96, exactly(4), 0);
        check("1½x4", imperial, 96, exactly(4), 0);
        check("3/4x6", imperial, 48, exactly(6), 0);
        check("2x6x8'6\"", imperial, 128, exactly(6), 64 * 102);
        check("8x8x12 ft 6 in", imperial, 512, exactly(8), 64 * 150);
        check("2x1'", imperial, 128, exactly(12), 0);
    }

    #[test]
    fn random_width() {
        let same = "1x4up|1 x 4 up|1x4\" & up|1x4&up|1x4 in and up|1x4+|1x4UP in|1\"x4up";
        for text in same.split('|') {
            check(text, Writing::Imperial, 64, at_least(4), 0);
        }
        check("1x4upx8", Writing::Imperial, 64, at_least(4), 64 * 96);
        check("6x4up", Writing::Imperial, 384, at_least(4), 0);
    }

    #[test]
    fn quarters() {
        check("4/4", Writing::Quarters, 64, at_least(4), 0);
        check("8/4\"", Writing::Quarters, 128, at_least(4), 0);
        check("4/4x6", Writing::Quarters, 64, exactly(6), 0);
        check("5/4 x 6 x 8", Writing::Quarters, 80, exactly(6), 64 * 96);
        check("4/4x6up", Writing::Quarters, 64, at_least(6), 0);
        check("12/4x2", Writing::Quarters, 128, exactly(3), 0);
    }

    #[test]
    fn a_swap_may_leave_a_thickness_that_is_no_quarter() {
        check("4/4x1/2", Writing::Imperial, 32, exactly(1), 0);
        check("8/4x1 1/8", Writing::Imperial, 72, exactly(2), 0);
    }

    #[test]
    fn millimetres() {
        let fixed = Width::Exactly(Length::mm(150));
        let long = Some(3000);
        for text in ["50x150 mm", "50mm x 150mm", "150x50MM", "5x15 cm", "50 mm x 150"] {
            check_metric(text, 50, fixed, None);
        }
        for text in ["50x150x3000 mm", "50x150 mm x 3 m", "50 mm x 150 x 3000", "5x15 cm x 300"] {
            check_metric(text, 50, fixed, long);
        }
        for text in ["25x100up mm", "25 x 100 mm up", "25x100+ mm"] {
            check_metric(text, 25, Width::AtLeast(Length::mm(100)), None);
        }
        check_metric("25x100upx3000 mm", 25, Width::AtLeast(Length::mm(100)), long);
    }

    #[test]
    fn a_fault_says_what_was_got_and_what_would_be_right() {
        let examples = "2x6, 2x6x12, 1x4up, 4/4 or 50x150x3000 mm";
        let missing = format!("a size is missing; write one such as {examples}");
        assert_eq!(Size::parse(" ").unwrap_err().to_string(), missing);
        let missing = |text: &str, what| {
            format!("\"{text}\" is not a size: it has no {what}; write one such as {examples}")
        };
        check_fault("2", "", &missing("2", "width"));
        check_fault("2x ", "", &missing("2x", "width"));
        check_fault("x6", "", &missing("x6", "thickness"));
        check_fault("2x6x", "", &missing("2x6x", "length"));
        let too_many = "\"2x6x8x3\" is not a size: it has more than thickness x width x length";
        check_fault("2x6x8x3", "3", too_many);
        check_fault(
            "2 x 6 x 8 fot",
            "fot",
            "the length in \"2 x 6 x 8 fot\": \"8 fot\" is not a length: \"fot\" is no unit; write in, \
             ft, mm, cm or m",
        );
        check_fault(
            "1x4up rw",
            "rw",
            "the width in \"1x4up rw\": \"rw\" is not a length: \"rw\" is no unit; write in, ft, mm, cm \
             or m",
        );
        let mixed = "is not a size: it mixes units; write inches and feet, as in 2x6x12, or \
                     millimetres, as in 50x150x3000 mm";
        check_fault("2x6x3 m", "2x6x3 m", &format!("\"2x6x3 m\" {mixed}"));
        check_fault(" 4/4x100 mm", "4/4x100 mm", &format!("\"4/4x100 mm\" {mixed}"));
    }

    #[test]
    fn an_absurd_size_is_refused() {
        check_fault(
            "0x6",
            "0",
            "\"0x6\" is not a size: thickness must be between 1/8 in and 60 in, got 0 in",
        );
        check_fault(
            "2x-6",
            "-6",
            "\"2x-6\" is not a size: thickness must be between 1/8 in and 60 in, got -6 in",
        );
        check_fault(
            "50 x 150",
            "150",
            "\"50 x 150\" is not a size: width must be between 3/8 in and 60 in, got 150 in; a size in \
             millimetres ends in mm",
        );
        check_fault(
            "2x6x3600 mm",
            "6",
            "\"2x6x3600 mm\" is not a size: width must be between 10 mm and 1500 mm, got 6 mm",
        );
        check_fault(
            "4/4x6x100.5",
            "100.5",
            "\"4/4x6x100.5\" is not a size: length must be between 1 in and 100 ft, got 100 ft 6 in",
        );
        check_fault(
            "1x60.001",
            "60.001",
            "\"1x60.001\" is not a size: width must be between 3/8 in and 60 in, got 60.001 in; a size \
             in millimetres ends in mm",
        );
    }

    #[test]
    fn rubbish_is_refused_in_a_short_message() {
        let short = "2*6|2x|xx|x|2xx6|2x6up8|4/4up|4/5|2 by 6|1,5x4|50 mm x 6 in|2upx4|1x4x8up|1x4upup\
            |nanxinf|1e1x4|2x6\0|1x4up\u{7}|½x½x½x½|2x1/0|-4/4|1x4up in in|1x4 in up mm\
            |4/4 mm|4/4 mm x 6|4/4x100x3000 mm|2xup|2x6x101";
        let endless = ["2x", "x", "4/4", "up", "×", "é", "9"].map(|part| part.repeat(200_000));
        for text in short.split('|').chain(endless.iter().map(String::as_str)) {
            let fault = Size::parse(text).unwrap_err();
            assert!(fault.to_string().chars().count() < 300, "{fault}");
            assert!(text.get(fault.span().unwrap()).is_some(), "{fault}");
        }
        assert_eq!(Size::parse(""), Err(SizeFault::Empty));
    }

    fn nearly_a_size() -> impl Strategy<Value = String> {
        let parts = "0|1|2|4|6|12|50|150|3000|1/2|4/4|/|½|.|,|-| |x|X|×|'|\"|in|ft|mm|cm|m|up|+|and| & \
            |é|\0|99999999999999999999";
        let parts: Vec<&str> = parts.split('|').collect();
        proptest::collection::vec(proptest::sample::select(parts), 0..12)
            .prop_map(|parts| parts.concat())
    }

    proptest! {
        #[test]
        fn no_text_panics_and_what_is_read_is_written_back(
            text in prop_oneof![any::<String>(), nearly_a_size()],
        ) {
            match Size::parse(&text) {
                Ok(size) => prop_assert_eq!(Size::parse(&size.to_string()), Ok(size)),
                Err(fault) => {
                    let span = fault.span().unwrap_or(0..0);
                    prop_assert!(text.get(span).is_some(), "{text:?}: {fault}");
                }
            }
        }
    }
}

//! Sizes as the trade writes them: `2x6`, `2x6x12`, `1x4up`, `4/4`, `50x150x3000 mm`.
//!
//! Thickness by width by length. Inches, inches and feet where no unit is written; hardwood in
//! quarters of an inch; or millimetres, which one `mm` at the end says of all three. `up` behind the
//! width makes it random: that wide or wider. What [`Size::parse`] reads, `Display` writes back in
//! one spelling, which reads as the same size again.

mod fault;
mod parts;
mod reading;

use std::fmt;

use crate::Length;
use crate::writing::{Decimal, FOOT, INCH, Inches, MM};

pub use fault::{Dimension, Limits, SizeFault};

/// A size as it was named: what the customer said, before any policy turns it into what is sawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    /// Named thickness, the smaller of the two when both are fixed.
    pub thickness: Length,
    /// Named width, or the least one for random width.
    pub width: Width,
    /// Named length; `None` where the list leaves it open.
    pub length: Option<Length>,
    /// How it was written, so that it is printed the same way.
    pub writing: Writing,
}

/// The width of a [`Size`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Width {
    /// One width.
    Exactly(Length),
    /// Random width: this wide or wider.
    AtLeast(Length),
}

/// How a [`Size`] was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Writing {
    /// Inches and feet: `2x6x12`.
    Imperial,
    /// Quarters of an inch, the hardwood way: `4/4`, `5/4x6x8`.
    Quarters,
    /// Millimetres: `50x150x3000 mm`.
    Metric,
}

impl Size {
    /// The narrowest board of hardwood whose list names a thickness and no width, as `4/4` does.
    ///
    /// Hardwood is sawn as wide as it comes, and 4 in is the narrowest that is usually taken: common
    /// practice, from no source. A list that wants another says so, as in `4/4x6up`.
    pub const NARROWEST_HARDWOOD: Length = Length::inches(4);

    /// The size without its length, ready to print: `2x6`, `4/4x6up`, `50x150 mm`.
    ///
    /// ```
    /// use pithward_measure::Size;
    ///
    /// assert_eq!(Size::parse("2x6x12")?.section().to_string(), "2x6");
    /// # Ok::<(), pithward_measure::SizeFault>(())
    /// ```
    pub fn section(&self) -> impl fmt::Display {
        Self { length: None, ..*self }
    }

    /// Whole quarters of an inch, where the size is written in them and they can be read back.
    fn quarters(&self) -> Option<i128> {
        let nm = nanometres(self.thickness);
        let readable = self.writing == Writing::Quarters && nm >= INCH && nm * 4 % INCH == 0;
        readable.then_some(nm * 4 / INCH)
    }

    fn write(&self, f: &mut impl fmt::Write) -> fmt::Result {
        let metric = self.writing == Writing::Metric;
        let quarters = self.quarters();
        match quarters {
            Some(quarters) => write!(f, "{quarters}/4")?,
            None => write_side(f, self.thickness, metric)?,
        }
        let unsaid = Width::AtLeast(Self::NARROWEST_HARDWOOD);
        if !(quarters.is_some() && self.width == unsaid && self.length.is_none()) {
            f.write_str("x")?;
            write_side(f, self.width.least(), metric)?;
            if matches!(self.width, Width::AtLeast(_)) {
                f.write_str("up")?;
            }
        }
        if let Some(length) = self.length {
            f.write_str("x")?;
            if metric { write_side(f, length, metric)? } else { write_feet(f, length)? }
        }
        if metric { f.write_str(" mm") } else { Ok(()) }
    }
}

impl Width {
    /// The one width, or the least of a random one.
    pub const fn least(self) -> Length {
        match self {
            Self::Exactly(width) | Self::AtLeast(width) => width,
        }
    }
}

impl fmt::Display for Size {
    /// Obeys the width and the alignment that the caller asks for.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut text = String::new();
        self.write(&mut text)?;
        f.pad(&text)
    }
}

fn nanometres(length: Length) -> i128 {
    i128::from(length.as_nm())
}

/// A thickness, a width or a metric length, exactly.
fn write_side(f: &mut impl fmt::Write, side: Length, metric: bool) -> fmt::Result {
    let nm = nanometres(side);
    if metric {
        write!(f, "{}", Decimal { over: nm, under: MM, places: 6, least: 0 })
    } else {
        write!(f, "{}", Inches { nm, joint: '-' })
    }
}

/// `12` for whole feet; else `8'6"`, or `6"` alone.
fn write_feet(f: &mut impl fmt::Write, length: Length) -> fmt::Result {
    let nm = nanometres(length);
    let (feet, past) = (nm / FOOT, nm % FOOT);
    match (feet, past) {
        (_, 0) => write!(f, "{feet}"),
        (0, _) => write!(f, "{}\"", Inches { nm, joint: '-' }),
        _ => write!(f, "{feet}'{}\"", Inches { nm: past.abs(), joint: '-' }),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Size, Width, Writing};
    use crate::Length;

    /// The size that `text` reads as, whole and without its length.
    #[track_caller]
    fn check(text: &str, whole: &str, section: &str) {
        let size = Size::parse(text).unwrap();
        assert_eq!(size.to_string(), whole);
        assert_eq!(size.section().to_string(), section);
        assert_eq!(Size::parse(whole), Ok(size));
    }

    #[test]
    fn a_size_is_written_as_the_trade_writes_it() {
        check("2 x 6", "2x6", "2x6");
        check("2X6×12", "2x6x12", "2x6");
        check("2 1/2 in x 6 in", "2-1/2x6", "2-1/2x6");
        check("1x4 up", "1x4up", "1x4up");
        check("1x4upx8", "1x4upx8", "1x4up");
        check("4/4", "4/4", "4/4");
        check("4/4 x 4 up", "4/4", "4/4");
        check("4/4x4upx8", "4/4x4upx8", "4/4");
        check("5/4x6x8", "5/4x6x8", "5/4x6");
        check("3/4x6", "3/4x6", "3/4x6");
        check("8x8x12 ft 6 in", "8x8x12'6\"", "8x8");
        check("2x6x8'6-1/2\"", "2x6x8'6-1/2\"", "2x6");
        check("2x6x6 in", "2x6x6\"", "2x6");
        check("2.1x6", "2.1x6", "2.1x6");
        check("50x150x3000mm", "50x150x3000 mm", "50x150 mm");
        check("25x100up mm", "25x100up mm", "25x100up mm");
        check("22.5x100 mm", "22.5x100 mm", "22.5x100 mm");
    }

    #[test]
    fn a_thickness_that_is_no_quarter_is_written_in_inches() {
        let thickness = Length::sixty_fourths(72);
        let width = Width::AtLeast(Size::NARROWEST_HARDWOOD);
        let size = Size { thickness, width, length: None, writing: Writing::Quarters };
        assert_eq!(size.to_string(), "1-1/8x4up");
    }

    #[test]
    fn a_column_can_be_aligned() {
        assert_eq!(format!("{:>8}|", Size::parse("2x6").unwrap()), "     2x6|");
    }

    fn length_between(least: Length, most: Length) -> impl Strategy<Value = Length> {
        let (least, most) = (least.as_nm(), most.as_nm());
        let grid = 396_875;
        prop_oneof![
            (least..=most).prop_map(Length::nm),
            (least / grid + 1..=most / grid).prop_map(move |n| Length::nm(n * grid)),
        ]
    }

    fn any_size() -> impl Strategy<Value = Size> {
        let side = || length_between(Length::mm(10), Length::mm(1500));
        let quarters = (4..=200_i64).prop_map(|n| Length::sixty_fourths(n * 16));
        let writing = prop_oneof![Just(Writing::Imperial), Just(Writing::Metric)];
        let length = length_between(Length::inches(1), Length::mm(30_000));
        let plain = (side(), writing).boxed();
        let hardwood = (quarters, Just(Writing::Quarters)).boxed();
        let width = prop_oneof![side(), Just(Length::inches(4))];
        (plain.prop_union(hardwood), width, any::<bool>(), proptest::option::of(length)).prop_map(
            |((thickness, writing), width, fixed, length)| {
                let (thickness, width) = match fixed && writing != Writing::Quarters {
                    true => (thickness.min(width), Width::Exactly(thickness.max(width))),
                    false if fixed => (thickness, Width::Exactly(thickness.max(width))),
                    false => (thickness, Width::AtLeast(width)),
                };
                Size { thickness, width, length, writing }
            },
        )
    }

    proptest! {
        #[test]
        fn every_size_reads_back(size in any_size()) {
            prop_assert_eq!(Size::parse(&size.to_string()), Ok(size), "{}", size);
            let section = Size { length: None, ..size };
            prop_assert_eq!(Size::parse(&size.section().to_string()), Ok(section));
        }

        #[test]
        fn any_size_can_be_written(t in any::<i64>(), w in any::<i64>(), l in any::<i64>()) {
            for writing in [Writing::Imperial, Writing::Quarters, Writing::Metric] {
                let width = Width::AtLeast(Length::nm(w));
                let length = Some(Length::nm(l));
                let size = Size { thickness: Length::nm(t), width, length, writing };
                prop_assert!(size.to_string().len() < 120);
            }
        }
    }
}

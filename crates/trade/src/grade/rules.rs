//! What the hardwood factory grades ask of a board and of a face, from the published tables.

use super::surface::whole_feet;
use super::{Grade, Least, Units};
use crate::Confidence;
use crate::published::{self, TableFault, inches};
use pithward_measure::Length;
use std::sync::LazyLock;

const GRADES: &str = include_str!("../../../../data/published/hardwood_grades.csv");
const YIELDS: &str = include_str!("../../../../data/published/hardwood_yields.csv");

static RULES: LazyLock<Vec<GradeRule>> = LazyLock::new(|| {
    parse().expect("the tables are embedded, and `the_embedded_tables_parse` proves them sound")
});

/// The most cuttings of a board over 17 ft long; rule book of 2015, page 22.
const MOST_OVER_17_FT: i64 = 7;

/// What a grade asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct GradeRule {
    /// Which.
    pub grade: Grade,
    /// The narrowest board.
    pub width: Length,
    /// The shortest board.
    pub length: Length,
    /// The smallest cutting.
    pub least: Least,
    /// Whether cuttings are to be clear; else sound.
    pub is_clear: bool,
    /// The ways in which a face may reach the yield.
    pub ways: Vec<Way>,
    /// How far the sizes are to be trusted.
    pub confidence: Confidence,
}

/// A way for a face to reach a grade's yield.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Way {
    /// Its kind.
    pub how: How,
    /// Surface measures that it is for, square feet; no end where there is none.
    pub measures: (i64, i64),
    /// Narrowest board that it is for.
    pub width: Length,
    /// Hundredths of a cutting unit for each square foot of surface measure.
    pub hundredths: i64,
    /// How many cuttings.
    pub cuttings: Cuttings,
    /// How far it is to be trusted.
    pub confidence: Confidence,
}

/// A kind of way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum How {
    /// The grade's yield in the grade's number of cuttings.
    Base,
    /// A higher yield, with one more cutting.
    ExtraCutting,
    /// Cuttings as wide as the board, of any length.
    FullWidth,
    /// What is asked of a board of little surface measure.
    Small,
    /// The whole face.
    Clear,
}

/// How many cuttings a way allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cuttings {
    /// As many as it takes.
    Any,
    /// So many, whatever the board.
    Fixed(i64),
    /// `(SM + plus) / per`, rounded down, at most `most`; and `extra` more.
    Measured {
        /// Above the line.
        plus: i64,
        /// Below it.
        per: i64,
        /// At most.
        most: i64,
        /// On top.
        extra: i64,
    },
}

impl Way {
    /// Cutting units needed on a board of this surface measure.
    pub fn units(&self, measure: i64) -> Units {
        Units::hundredths(1).times(self.hundredths.saturating_mul(measure))
    }

    /// Cuttings allowed on a board of this surface measure; `None` where any number is. A board longer than 17
    /// ft of more than 16 ft surface measure gets one more for each further 4 ft, at most seven, where that is
    /// specified.
    pub fn cuttings(&self, measure: i64, length: Length, over_17_ft: bool) -> Option<usize> {
        let allowed = match self.cuttings {
            Cuttings::Any => return None,
            Cuttings::Fixed(number) => number,
            Cuttings::Measured { plus, per, most, extra } => {
                let of = |measure: i64| ((measure + plus) / per).min(most);
                let is_long = over_17_ft && length > Length::feet(17) && measure > 16;
                let more = if is_long { (measure - 16) / 4 } else { 0 };
                let number = if is_long { of(16) + more } else { of(measure) };
                number.min(most.max(MOST_OVER_17_FT)) + extra
            }
        };
        Some(usize::try_from(allowed).unwrap_or(0))
    }

    /// Whether it is for a board of this surface measure and width.
    pub fn is_for(&self, measure: i64, width: Length) -> bool {
        (self.measures.0..=self.measures.1).contains(&measure) && width >= self.width
    }
}

impl GradeRule {
    /// Whether a board of this size is large enough; lengths count in whole feet.
    pub fn takes(&self, width: Length, length: Length) -> bool {
        width >= self.width && Length::feet(whole_feet(length)) >= self.length
    }
}

/// What every grade asks for, the best grade first.
pub fn rules() -> &'static [GradeRule] {
    &RULES
}

fn parse() -> Result<Vec<GradeRule>, TableFault> {
    let ways = published::read(YIELDS, |row| {
        let grade = row.cell("grade", "a grade", Grade::parse)?;
        let whole = |cell: &str| cell.parse::<i64>().ok();
        let open = |column| row.open_cell(column, "a whole number", whole);
        let to = open("to_sm")?.unwrap_or(i64::MAX);
        let most = open("most")?;
        let extra = row.whole("extra")?;
        let cuttings = match (most, open("plus")?, open("per")?) {
            (None, ..) => Cuttings::Any,
            (Some(most), Some(plus), Some(per)) => {
                Cuttings::Measured { plus, per: per.max(1), most, extra }
            }
            (Some(most), ..) => Cuttings::Fixed(most),
        };
        let way = Way {
            how: row.cell("how", "a way", How::parse)?,
            measures: (row.whole("from_sm")?, to),
            width: row.open_cell("least_width_in", "inches", inches)?.unwrap_or(Length::ZERO),
            hundredths: row.open_cell("units_per_sm", "hundredths", hundredths)?.unwrap_or(0),
            cuttings,
            confidence: row.confidence("confidence")?,
        };
        Ok((grade, way))
    })?;
    published::read(GRADES, |row| {
        let grade = row.cell("grade", "a grade", Grade::parse)?;
        let size = |column| row.open_cell(column, "a size of a cutting", cutting);
        let sizes = [size("cutting_a")?, size("cutting_b")?];
        let width = row.open_cell("least_cutting_width", "inches", inches)?;
        let content = row.open_cell("least_content_sq_in", "square inches", |cell| {
            cell.parse().ok().map(Units::square_inches)
        })?;
        let least = match (width, content) {
            (Some(width), Some(content)) => Least::Content { width, content },
            _ => Least::Sizes(sizes.into_iter().flatten().collect()),
        };
        // A better face is FAS for the other two; Selects has ways of its own as well.
        let is_own = |of: Grade| match grade {
            Grade::FasOneFace => of == Grade::Fas,
            Grade::Selects => of == Grade::Fas || of == Grade::Selects,
            grade => of == grade,
        };
        Ok(GradeRule {
            grade,
            width: row.cell("least_width_in", "inches", inches)?,
            length: Length::feet(row.whole("least_length_ft")?),
            least,
            is_clear: row.text("cuttings_are")? == "clear",
            ways: ways.iter().filter(|(of, _)| is_own(*of)).map(|(_, way)| way.clone()).collect(),
            confidence: row.confidence("confidence")?,
        })
    })
}

/// Inches by feet, `4x5`.
fn cutting(cell: &str) -> Option<(Length, Length)> {
    let (width, length) = cell.split_once('x')?;
    Some((inches(width)?, Length::feet(length.parse().ok()?)))
}

/// A decimal number of at most two places, as hundredths.
pub(super) fn hundredths(cell: &str) -> Option<i64> {
    let (whole, part) = cell.split_once('.').unwrap_or((cell, ""));
    let part = match part.len() {
        0 => 0,
        1 => part.parse::<i64>().ok()? * 10,
        2 => part.parse().ok()?,
        _ => return None,
    };
    Some(whole.parse::<i64>().ok()? * 100 + part)
}

impl How {
    fn parse(word: &str) -> Option<Self> {
        match word {
            "base" => Some(Self::Base),
            "extra cutting" => Some(Self::ExtraCutting),
            "full width" => Some(Self::FullWidth),
            "small" => Some(Self::Small),
            "clear" => Some(Self::Clear),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{How, parse, rules};
    use crate::grade::{Grade, Units};
    use crate::published::read;
    use pithward_measure::Length;

    const BY_MEASURE: &str =
        include_str!("../../../../data/published/hardwood_by_surface_measure.csv");

    #[test]
    fn the_embedded_tables_parse() {
        let grades: Vec<Grade> = parse().unwrap().iter().map(|rule| rule.grade).collect();
        assert_eq!(grades, Grade::ALL);
    }

    /// Cuttings and units of a way on a board of this surface measure, units whole.
    fn of(grade: Grade, hows: &[How], measure: i64) -> Option<(Option<usize>, Units)> {
        let rule = rules().iter().find(|rule| rule.grade == grade).unwrap();
        let mut ways = rule.ways.iter().filter(|way| hows.contains(&way.how));
        let way = ways.find(|way| way.is_for(measure, Length::inches(20)))?;
        // The whole face is 12 units a foot.
        let units = if way.how == How::Clear { 1200 * measure } else { 0 };
        let units = Units::hundredths(units).max(way.units(measure));
        Some((way.cuttings(measure, Length::feet(12), false), units))
    }

    #[test]
    fn cuttings_and_units_by_surface_measure() {
        let mut seen = 0;
        read(BY_MEASURE, |row| {
            let measure = row.whole("SM")?;
            let whole = |cell: &str| cell.parse::<i64>().ok();
            let open = |column| row.open_cell(column, "a whole number", whole);
            let one = [How::Base, How::Small, How::Clear];
            for (grade, hows, cuts, units) in [
                (Grade::Fas, &one[..], "FAS_cuts", "FAS_units"),
                (Grade::Fas, &[How::ExtraCutting], "FAS_extra_cuts", "FAS_extra_units"),
                (Grade::No1Common, &one, "No1_cuts", "No1_units"),
                (Grade::No1Common, &[How::ExtraCutting], "No1_extra_cuts", "No1_extra_units"),
                (Grade::No2ACommon, &one, "No2A_cuts", "No2A_units"),
                (Grade::No2ACommon, &[How::ExtraCutting], "No2A_extra_cuts", "No2A_extra_units"),
            ] {
                let printed = open(cuts)?.zip(open(units)?);
                let printed = printed.map(|(cuts, units)| {
                    (Some(usize::try_from(cuts).unwrap()), Units::hundredths(100 * units))
                });
                assert_eq!(of(grade, hows, measure), printed, "{grade:?}, SM {measure}, {cuts}");
            }
            for (grade, units) in
                [(Grade::No3ACommon, "No3A_units"), (Grade::No3BCommon, "No3B_units")]
            {
                let printed = Units::hundredths(100 * row.whole(units)?);
                assert_eq!(of(grade, &one, measure), Some((None, printed)));
            }
            seen += 1;
            Ok(())
        })
        .unwrap();
        assert_eq!(seen, 10);
    }

    #[test]
    fn over_17_ft_one_more_for_each_further_4_ft_where_specified() {
        let cuttings = |grade, measure, feet, inches, specified| {
            let rule = rules().iter().find(|rule| rule.grade == grade).unwrap();
            let way = rule.ways.iter().find(|way| way.how == How::Base).unwrap();
            let length = Length::feet(feet) + Length::inches(inches);
            way.cuttings(measure, length, specified).unwrap()
        };
        let fas = |measure, feet, inches, specified| {
            cuttings(Grade::Fas, measure, feet, inches, specified)
        };
        assert_eq!((fas(20, 18, 0, false), fas(20, 18, 0, true)), (4, 5));
        assert_eq!((fas(19, 18, 0, true), fas(20, 18, 0, true)), (4, 5));
        assert_eq!((fas(20, 17, 0, true), fas(20, 17, 1, true)), (4, 5));
        assert_eq!((fas(16, 18, 0, true), fas(17, 18, 0, true)), (4, 4));
        assert_eq!((fas(28, 18, 0, true), fas(40, 18, 0, true)), (7, 7));
        let no1 = |measure| cuttings(Grade::No1Common, measure, 18, 0, true);
        assert_eq!((no1(16), no1(20), no1(24), no1(28)), (5, 6, 7, 7));
    }

    #[test]
    fn the_least_board_counts_whole_feet() {
        let rule = &rules()[0];
        let (width, length) = (Length::inches(6), Length::feet(8));
        assert!(rule.takes(width, length));
        assert!(!rule.takes(width - Length::nm(1), length));
        assert!(!rule.takes(width, length - Length::nm(1)));
    }
}

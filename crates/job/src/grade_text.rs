//! Grades, rings and what is paid for them, as a person writes them.
//!
//! ```text
//! grade = "fas" | "f1f" | "selects" | "1 common" | "2a common" | "3a common" | "3b common"
//! rings = "flat" | "rift" | "quarter"
//! ```
//! `No.` or `#` may stand before a number. Prices are those of whoever buys the boards: no list of prices ships as fact.

use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::grade::Prices;
use pithward_trade::{Grade, RingClass, RingConvention, Species, nearest_word};

use crate::fault::{Fault, FaultKind, Misread};
use crate::typed::{Asked, Typed};

/// The grades by the words that are written for them, in the order of [`Grade::ALL`].
const GRADES: [&str; 7] =
    ["fas", "f1f", "selects", "1 common", "2a common", "3a common", "3b common"];

const GRADE_HELP: &str = "write the poorest grade that will do: fas, f1f, selects, 1 common, 2a common, 3a common or 3b common";
const RINGS_HELP: &str = "write flat, rift or quarter, each once";
const CONVENTION_HELP: &str = "write thirds (0, 30, 60 and 90 degrees), halves (0, 45, 90, without rift) or hardwood (0, 45, 75, 90)";
const THICKNESS: Asked =
    Asked { help: "write a named thickness, as in 4/4, 8/4, 2 in or 50 mm", bare: Unit::Inch };

/// Which boards a want of the job takes by grade and by rings, and whether they are paid by grade.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct GradeTerms {
    /// The poorest expected grade that is accepted; any where nobody says.
    pub least: Option<Grade>,
    /// Classes of rings that are accepted; all where it is empty.
    pub rings: Vec<RingClass>,
    /// A board foot is worth what [`GradePrices`] say of its grade.
    pub by_grade: bool,
}

/// The same for the logs of one wood.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WantGrade {
    /// The poorest expected grade that is accepted; any where nobody says.
    pub least: Option<Grade>,
    /// Classes of rings that are accepted; all where it is empty.
    pub rings: Vec<RingClass>,
    /// What the classes are.
    pub convention: RingConvention,
    /// What a board foot is worth by its grade, millionths of the job's unit; `None` where grade does not matter for it.
    pub prices: Option<Prices>,
}

impl WantGrade {
    /// Whether neither grade nor rings matter.
    pub fn is_nothing(&self) -> bool {
        self.least.is_none() && self.rings.is_empty() && self.prices.is_none()
    }
}

/// What is paid by grade: rows of a list, each for some woods and a thickness. The first that fits counts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GradePrices {
    /// The rows, in the order of the job.
    pub rows: Vec<PriceRow>,
}

/// One row of what is paid by grade.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceRow {
    /// Woods that it is for; all where it is empty.
    pub species: Vec<&'static Species>,
    /// The named thickness that it is for; all where nobody says.
    pub thickness: Option<Length>,
    /// What a board foot is worth, millionths of the job's unit.
    pub prices: Prices,
}

impl GradePrices {
    /// What is paid for boards of a named thickness and of a wood, which nobody may have named.
    pub fn of(&self, thickness: Length, species: Option<&Species>) -> Option<&Prices> {
        let fits = |row: &&PriceRow| {
            let of_wood = |wood: &Species| row.species.iter().any(|one| one.name == wood.name);
            row.thickness.is_none_or(|one| one == thickness)
                && (row.species.is_empty() || species.is_some_and(of_wood))
        };
        self.rows.iter().find(fits).map(|row| &row.prices)
    }
}

/// The grade of a text.
pub(crate) fn grade(text: &str) -> Result<Grade, Misread> {
    let lower = text.to_lowercase().replace(['_', '-', '.', '#'], " ");
    let words: Vec<&str> = lower
        .split_whitespace()
        .filter(|word| !matches!(*word, "no" | "number"))
        .map(|word| match word {
            "com" => "common",
            "sel" | "select" => "selects",
            word => word,
        })
        .collect();
    let name = words.join(" ");
    let place = GRADES.iter().position(|known| *known == name);
    place.map(|place| Grade::ALL[place]).ok_or_else(|| {
        let nearest = nearest_word(&name, &GRADES);
        let kind = FaultKind::Unknown { what: "hardwood grade", got: Excerpt::new(text), nearest };
        Misread::new(kind, 0..0, GRADE_HELP)
    })
}

/// Adds classes of rings by their words, with a stroke or a comma between them.
pub(crate) fn rings(typed: &Typed, known: &mut Vec<RingClass>, faults: &mut Vec<Fault>) {
    let text = typed.text.as_deref().unwrap_or_default();
    let mut from = 0;
    for word in text.split(['/', ',']) {
        let start = from + word.len() - word.trim_start().len();
        let part = typed.part(start..start + word.trim().len());
        from += word.len() + 1;
        known.extend(part.read(faults, |text| ring(text, known)));
    }
}

fn ring(text: &str, known: &[RingClass]) -> Result<RingClass, Misread> {
    const CLASSES: [RingClass; 3] = [RingClass::Flat, RingClass::Rift, RingClass::Quarter];
    let word = text.trim().to_lowercase();
    let refuse = |kind| Err(Misread::new(kind, 0..0, RINGS_HELP));
    let got = Excerpt::new(text);
    match CLASSES.into_iter().find(|class| class.name() == word) {
        Some(class) if known.contains(&class) => refuse(FaultKind::Repeated { what: got }),
        Some(class) => Ok(class),
        None => {
            let nearest = nearest_word(&word, &CLASSES.map(RingClass::name));
            refuse(FaultKind::Unknown { what: "class of rings", got, nearest })
        }
    }
}

/// A class that a convention does not have.
pub(crate) fn no_class(classes: &[RingClass], convention: RingConvention) -> Option<Misread> {
    let has = |class: &&RingClass| convention.ranges().all(|range| range.class != **class);
    let class = classes.iter().find(has)?.name();
    let kind = FaultKind::NoRingClass { class, convention: convention.name() };
    Some(Misread::new(kind, 0..0, CONVENTION_HELP))
}

/// The convention of a word.
pub(crate) fn convention(text: &str) -> Result<RingConvention, Misread> {
    let word = text.trim().to_lowercase();
    RingConvention::parse(&word).ok_or_else(|| {
        let nearest = nearest_word(&word, &RingConvention::ALL.map(RingConvention::name));
        let got = Excerpt::new(text);
        let kind = FaultKind::Unknown { what: "convention on rings", got, nearest };
        Misread::new(kind, 0..0, CONVENTION_HELP)
    })
}

/// A named thickness: quarters of an inch, or a length.
pub(crate) fn thickness(typed: &Typed, text: &str) -> Result<Length, Misread> {
    let quarters = text.trim().strip_suffix("/4").and_then(|quarters| quarters.parse().ok());
    let length = match quarters {
        Some(quarters @ 1..=64_u8) => Ok(Length::sixty_fourths(16 * i64::from(quarters))),
        _ => typed.length_of(text, THICKNESS, None),
    }?;
    let (least, greatest) = (Length::sixty_fourths(8), Length::inches(16));
    if !(least..=greatest).contains(&length) {
        let kind = FaultKind::Range { least, greatest, got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, THICKNESS.help));
    }
    Ok(length)
}

#[cfg(test)]
mod tests {
    use super::{GradePrices, PriceRow, grade, rings, thickness};
    use crate::typed::Typed;
    use pithward_measure::Length;
    use pithward_trade::grade::Prices;
    use pithward_trade::{Grade, RingClass, Species};
    use proptest::prelude::*;

    #[test]
    fn grades_as_people_write_them() {
        for (text, expected) in [
            ("FAS", Grade::Fas),
            ("f1f", Grade::FasOneFace),
            ("Select", Grade::Selects),
            ("1 common", Grade::No1Common),
            ("No. 1 Common", Grade::No1Common),
            ("#2A com", Grade::No2ACommon),
            ("3a_common", Grade::No3ACommon),
            (" 3B  Common ", Grade::No3BCommon),
        ] {
            assert_eq!(grade(text).unwrap(), expected, "{text}");
        }
        // Every grade by its own name.
        assert!(Grade::ALL.into_iter().all(|known| grade(known.name()).unwrap() == known));
        for text in ["", "2 common", "common", "4 common", "clear", "a"] {
            assert!(grade(text).is_err(), "{text}");
        }
    }

    #[test]
    fn rings_are_named_once() {
        let read = |text: &str| {
            let (mut known, mut faults) = (Vec::new(), Vec::new());
            rings(&Typed::new("rings", Some(text.to_owned())), &mut known, &mut faults);
            (known, faults.iter().map(ToString::to_string).collect::<Vec<_>>())
        };
        assert_eq!(read("quarter"), (vec![RingClass::Quarter], vec![]));
        assert_eq!(read("Rift / quarter").0, [RingClass::Rift, RingClass::Quarter]);
        assert_eq!(read("rift,rift").1, ["rings: \"rift\" is said twice"]);
        assert_eq!(read("quater").1, ["rings: \"quater\" is no class of rings; perhaps quarter?"]);
    }

    #[test]
    fn a_thickness_by_the_quarter_or_with_its_unit() {
        let typed = Typed::new("thickness", None);
        let read = |text: &str| thickness(&typed, text).ok();
        assert_eq!(read("4/4"), Some(Length::inches(1)));
        assert_eq!(read(" 5/4 "), Some(Length::sixty_fourths(80)));
        assert_eq!(read("50 mm"), Some(Length::mm(50)));
        for text in ["", "0/4", "4/5 foo", "900/4", "20 in", "-1 in"] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn the_first_row_that_fits_counts() {
        let row = |species: &[&str], thickness: Option<i64>, below| PriceRow {
            species: species.iter().map(|name| Species::find(name).unwrap()).collect(),
            thickness: thickness.map(Length::inches),
            prices: Prices::new([None; 7], below),
        };
        let rows = vec![
            row(&["white oak"], Some(2), 3),
            row(&["white oak", "red oak, northern"], None, 2),
            row(&[], Some(1), 1),
        ];
        let prices = GradePrices { rows };
        let of = |thickness, name: Option<&str>| {
            let species = name.map(|name| Species::find(name).unwrap());
            prices.of(Length::inches(thickness), species).map(|prices| prices.of(None))
        };
        assert_eq!(of(2, Some("white oak")), Some(3));
        assert_eq!(of(1, Some("white oak")), Some(2));
        assert_eq!(of(2, Some("northern red oak")), Some(2));
        assert_eq!((of(1, Some("black walnut")), of(1, None)), (Some(1), Some(1)));
        assert_eq!((of(2, Some("black walnut")), of(2, None)), (None, None));
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in prop_oneof![any::<String>(), "[0-9]{0,3}(/4| in|a common)?"]) {
            let typed = Typed::new("thickness", None);
            let _ = (grade(&text), thickness(&typed, &text), super::convention(&text));
            rings(&Typed::new("rings", Some(text)), &mut Vec::new(), &mut Vec::new());
        }
    }
}

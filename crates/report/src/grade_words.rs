//! Grades in words, and the cautions that belong wherever one is spoken of.

use pithward_job::{GradeTerms, LogJob, Quality, WantGrade};
use pithward_optimizer::LogPlan;
use pithward_trade::{Grade, RingClass, RingConvention};

use crate::names;

/// Beside every expected grade.
pub(crate) const EXPECTED: &str = "An expected grade is this program's own expectation, from what was seen on the log: \
                                   no grade mark, and no promise. Inside there is what nobody saw. Only a grader with \
                                   the board in hand grades it.";

/// Wherever lumber may go into a building.
pub(crate) const STAMP: &str = "This is rough, green, ungraded lumber: where the building code asks for a grade stamp \
                                or a certificate, it needs one before it goes into a building.";

/// What is taken for granted of what was seen.
pub(crate) const SEEN: &str = "a knot is a cone with its tip at the pith, square to it unless its rise was told; what \
                               nobody saw is taken for clear wood";

/// The same of a bump.
pub(crate) const GROWN_OVER: &str = "the knot under a bump of which nobody says how much wood has grown over it lies a \
                                     quarter of the way to the pith";

/// The same of a seam or a hole.
pub(crate) const TO_THE_PITH: &str = "a seam or a hole goes to the pith where nobody says how deep";

/// Whoever says so.
pub(crate) const NO_SOURCE: &str = "common practice, no source";

/// The board feet of a plan by expected grade; `None` where nobody grades.
pub(crate) fn expected(job: &LogJob, plan: &LogPlan) -> Option<String> {
    let mut sums: Vec<(Option<Grade>, i64)> = Vec::new();
    for (product, look) in plan.products.iter().zip(&plan.looks) {
        let Some(grade) = look.grade.map(|expected| expected.grade) else { continue };
        let board_feet = names::piece(job, product).map_or(0, |named| named.board_feet());
        match sums.iter_mut().find(|(known, _)| *known == grade) {
            Some((_, sum)) => *sum += board_feet,
            None => sums.push((grade, board_feet)),
        }
    }
    // The better a grade, the smaller; below all of them last.
    sums.sort_by_key(|(grade, _)| (grade.is_none(), *grade));
    let words = sums.into_iter().map(|(grade, board_feet)| {
        let name = grade.map_or("below grade", Grade::name);
        format!("{} bf {name}", names::tenths(board_feet))
    });
    let words: Vec<String> = words.collect();
    (!words.is_empty())
        .then(|| format!("expected {}: no grade mark, see CAUTIONS", words.join(" + ")))
}

/// What a want asks of the grade and of the rings; nothing where it asks for nothing.
pub(crate) fn asked(
    least: Option<Grade>,
    rings: &[RingClass],
    convention: RingConvention,
) -> Vec<String> {
    let least = least.map(|least| match least {
        Grade::Fas => format!("expected to grade {least}"),
        least => format!("expected to grade {least} or better"),
    });
    let rings = (!rings.is_empty()).then(|| {
        let class = |class: &RingClass| match convention.ranges().find(|r| r.class == *class) {
            Some(range) => format!("{class} ({} to {} degrees)", range.from, range.to),
            None => class.to_string(),
        };
        let classes: Vec<String> = rings.iter().map(class).collect();
        format!("rings {}", names::list(&classes).replace(" and ", " or "))
    });
    least.into_iter().chain(rings).collect()
}

/// The same of a want of one log.
pub(crate) fn of_log(grade: &WantGrade) -> Vec<String> {
    asked(grade.least, &grade.rings, grade.convention)
}

/// Whether a want asks anything, or is paid by grade.
pub(crate) fn is_asked(terms: &GradeTerms) -> bool {
    *terms != GradeTerms::default()
}

/// What a quality stands for: `few: one 1 in across every 4 ft`.
pub(crate) fn stands_for(job: &impl crate::terms::Terms, quality: Quality) -> Option<String> {
    let (apart, across) = quality.knots()?;
    let (apart, across) = (names::long(job, apart), names::exact(job, across));
    Some(format!("{}: one {across} across every {apart}", quality.word()))
}

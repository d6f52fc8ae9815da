//! How the pieces of a log look, as it stands in the file.

use crate::schema::looks::{ExpectedForm, LooksForm, RingsForm, SortingForm};
use crate::sorting::{self, Sorted};
use pithward_geometry::RingAngle;
use pithward_job::LogJob;
use pithward_optimizer::{Expected, LogPlan, Product};
use pithward_trade::{Grade, RingClass, RingConvention};
use std::borrow::Cow;

/// How each piece of a plan looks; nothing is said of one that nobody looked at.
pub(super) fn looks(job: &LogJob, plan: &LogPlan) -> Vec<LooksForm> {
    let sorted = sorting::sorted(job, plan);
    let form = |(n, product): (usize, &Product)| {
        let look = plan.looks.get(n);
        let convention = job.wants[product.cut.want.0].grade.convention;
        LooksForm {
            grade: look.and_then(|look| look.grade).map(expected),
            rings: look.and_then(|look| look.rings).map(|angle| rings(&angle, convention)),
            sorting: sorted.get(n).copied().flatten().map(sorting),
        }
    };
    plan.products.iter().enumerate().map(form).collect()
}

fn expected(expected: Expected) -> ExpectedForm {
    let Expected { grade, measure, proven } = expected;
    ExpectedForm {
        grade: grade.map(Grade::name).map(Cow::Borrowed),
        surface_measure: measure,
        proven,
    }
}

fn rings(angle: &RingAngle, convention: RingConvention) -> RingsForm {
    let class = convention.class(angle.middle.as_millidegrees());
    RingsForm {
        class: class.map(RingClass::name).map(Cow::Borrowed),
        middle: angle.middle.as_millidegrees(),
        least: angle.range.0.as_millidegrees(),
        greatest: angle.range.1.as_millidegrees(),
        holds_pith: angle.holds_pith,
    }
}

fn sorting(sorted: Sorted) -> SortingForm {
    match sorted {
        Sorted::Within(_, grade) => SortingForm::Within(Cow::Borrowed(grade)),
        Sorted::OfNone => SortingForm::OfNone,
        Sorted::Look => SortingForm::Look,
    }
}

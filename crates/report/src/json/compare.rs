//! A comparison of methods as JSON.

use super::quote::minutes;
use super::quote::money::money;
use super::sawing::method;
use super::{day, obstacle};
use crate::compare::words;
use crate::schema::VERSION;
use crate::schema::compare::{
    AdviceForm, CompareForm, ComparedForm, ComparedMethodForm, ComparedUnitsForm, GradedForm,
    RingedForm,
};
use pithward_job::{Advice, Comparison, LogJob, MethodRow, PileJob, Sure};
use pithward_trade::Grade;

/// One log by every method as JSON, in the form of [`compare_schema`](crate::compare_schema).
pub fn comparison_json(job: &LogJob, compared: &Comparison) -> String {
    text(vec![one(None, job, compared)])
}

/// Logs of a job by every method, the same.
pub fn comparisons_json(job: &PileJob, compared: &[(usize, Comparison)]) -> String {
    let one = |(log, compared): &(usize, Comparison)| {
        one(Some(job.logs[*log].id.clone()), &job.log_job(*log), compared)
    };
    text(compared.iter().map(one).collect())
}

fn text(logs: Vec<ComparedForm>) -> String {
    let units = ComparedUnitsForm { of_plans: day::units(), time: "ms" };
    let text = serde_json::to_string_pretty(&CompareForm { schema_version: VERSION, units, logs });
    // Numbers, texts and lists always have a text.
    text.unwrap_or_default() + "\n"
}

fn one(log: Option<String>, job: &LogJob, compared: &Comparison) -> ComparedForm {
    ComparedForm {
        log,
        wants: day::wants(job),
        unit: compared.unit.clone(),
        methods: compared.rows.iter().map(row).collect(),
        advice: compared.advice.as_ref().map(|choice| advice(compared, choice)),
        nothing: compared.nothing.iter().copied().map(method).collect(),
        obstacles: compared.obstacles.iter().map(|why| obstacle::form(job, why)).collect(),
    }
}

fn row(row: &MethodRow) -> ComparedMethodForm {
    let plan = &row.plan;
    let grade = |(grade, board_feet): &(Option<Grade>, i64)| GradedForm {
        grade: grade.map(Grade::name),
        board_feet: *board_feet,
    };
    let rings = row.rings.iter();
    ComparedMethodForm {
        method: method(row.method),
        pieces: plan.tally.iter().map(|tally| tally.given + tally.extra).collect(),
        board_feet: plan.board_feet,
        worth: plan.worth,
        leaves: row.net(),
        grades: row.grades.iter().map(grade).collect(),
        rings: rings
            .map(|(class, board_feet)| RingedForm { class: class.name(), board_feet: *board_feet })
            .collect(),
        passes: plan.order.passes(),
        turns: plan.order.turns(),
        put_back: plan.order.resaws.len(),
        minutes: minutes(row.minutes),
        cost: row.cost.map(money),
    }
}

fn advice(compared: &Comparison, advice: &Advice) -> AdviceForm {
    let of = |row: usize| method(compared.rows[row].method);
    AdviceForm {
        method: of(advice.best),
        next: advice.next.map(of),
        by_minutes: advice.by_minutes,
        not_if_thicker_by: match advice.sure {
            Sure::Alone | Sure::EitherWay => None,
            Sure::NotBy(by) => Some(by.as_nm()),
        },
        says: words(compared, advice),
    }
}

//! The form of a comparison of methods.

use super::day::{UnitsForm, WantForm};
use super::obstacle::ObstacleForm;
use super::quote::money::MoneyForm;
use super::sawing::MethodForm;
use schemars::JsonSchema;
use serde::Serialize;

/// Logs by every method, side by side, and which method to choose.
///
/// Every plan behind it was replayed. Grades are this program's own expectation: no grade mark, and no promise.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "comparison of methods")]
pub(crate) struct CompareForm {
    /// Version of this form.
    pub(crate) schema_version: u32,
    /// The units of every number in the file.
    pub(crate) units: ComparedUnitsForm,
    /// The logs, each alone: of a job each want as it comes, whatever the counts.
    pub(crate) logs: Vec<ComparedForm>,
}

/// Units, in words.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ComparedUnitsForm {
    /// Those of a plan.
    #[serde(flatten)]
    pub(crate) of_plans: UnitsForm,
    /// Times: `ms`, whole milliseconds.
    pub(crate) time: &'static str,
}

/// A log by every method.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ComparedForm {
    /// What the log is called in its job; null of a log alone.
    pub(crate) log: Option<String>,
    /// The customer's list, in order.
    pub(crate) wants: Vec<WantForm>,
    /// What worth and the cost of the minutes are counted in; null for board feet, and minutes that cost nothing.
    pub(crate) unit: Option<String>,
    /// The methods that give anything.
    pub(crate) methods: Vec<ComparedMethodForm>,
    /// Which to choose; null where no method gives anything.
    pub(crate) advice: Option<AdviceForm>,
    /// Methods that give nothing.
    pub(crate) nothing: Vec<MethodForm>,
    /// Why, where none gives anything.
    pub(crate) obstacles: Vec<ObstacleForm>,
}

/// A log by one method.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ComparedMethodForm {
    /// The method.
    pub(crate) method: MethodForm,
    /// Of every want, in order, how many pieces come.
    pub(crate) pieces: Vec<u32>,
    /// Board feet by named sizes.
    pub(crate) board_feet: i64,
    /// What the pieces are worth.
    pub(crate) worth: i64,
    /// The worth less what the minutes cost, where they cost anything in its unit.
    pub(crate) leaves: i64,
    /// Board feet by expected grade, the best first; empty where nobody grades.
    pub(crate) grades: Vec<GradedForm>,
    /// Board feet by class of growth rings.
    pub(crate) rings: Vec<RingedForm>,
    /// Passes, edging included; a batch is passed once.
    pub(crate) passes: usize,
    /// Turns of the log.
    pub(crate) turns: usize,
    /// Parts that are put back on the mill.
    pub(crate) put_back: usize,
    /// Minutes at the mill, with all that comes between the steps.
    pub(crate) minutes: i64,
    /// What the minutes cost by the rate of the mill file; null where it states none.
    pub(crate) cost: Option<MoneyForm>,
}

/// Board feet of an expected grade.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct GradedForm {
    /// The grade; null below all grades.
    pub(crate) grade: Option<&'static str>,
    /// Board feet.
    pub(crate) board_feet: i64,
}

/// Board feet of a class of growth rings.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct RingedForm {
    /// The class.
    pub(crate) class: &'static str,
    /// Board feet.
    pub(crate) board_feet: i64,
}

/// Which method to choose.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct AdviceForm {
    /// The method.
    pub(crate) method: MethodForm,
    /// The next best; null where there is no other.
    pub(crate) next: Option<MethodForm>,
    /// Both are as good as equal, and the minutes decide.
    pub(crate) by_minutes: bool,
    /// By how much thicker the log need be for the next best to be ahead, thinner where negative; null where the advice holds
    /// in a log a quarter of an inch thinner and thicker than taped.
    pub(crate) not_if_thicker_by: Option<i64>,
    /// The same in a sentence.
    pub(crate) says: String,
}

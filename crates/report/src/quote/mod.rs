//! The papers of a job before the day, all from the same plan: the sawyer's own page, the customer's sheet, the terms, the
//! pack list and the work order.

pub(crate) mod bill;
mod customer;
mod order;
mod pack;
mod page;
mod range;
mod site;
mod terms;
pub(crate) mod words;

pub use customer::customer_sheet;
pub use order::work_order;
pub use pack::pack_list;
pub use page::quote_page;
pub use terms::terms_sheet;

use crate::names;
use crate::pile::Whole;
use pithward_day::promise::Promise;
use pithward_day::range::Forecast;
use pithward_job::PileJob;
use pithward_measure::{Currency, Money};
use pithward_optimizer::{Pile, PilePlan};

/// Cubic metres in a board foot.
const BOARD_FOOT: f64 = 0.002_359_737_216;

#[allow(clippy::cast_precision_loss, reason = "far below 2^53 millionths of a board foot")]
fn millions(millionths: i64) -> f64 {
    millionths as f64 / 1e6
}

/// A job, its plan, and all that follows from it.
#[derive(Clone, Copy, Debug)]
pub struct Quoted<'a> {
    /// The job, stems bucked.
    pub job: &'a PileJob,
    /// Its pile.
    pub pile: &'a Pile,
    /// The plan.
    pub plan: &'a PilePlan,
    /// What follows from it.
    pub promise: &'a Promise,
    /// How far all of it may be off, where that was simulated.
    pub forecast: Option<&'a Forecast>,
}

impl<'a> Quoted<'a> {
    fn whole(&self) -> Whole<'a> {
        Whole::new(self.job, self.pile, self.plan)
    }

    /// Where and when, as far as anybody said.
    fn place(&self) -> String {
        let told = [self.job.site.as_str(), self.job.date.as_str()];
        let told: Vec<&str> = told.into_iter().filter(|text| !text.is_empty()).collect();
        told.join(", ")
    }

    /// The title of a paper, with where and when.
    fn title(&self, name: &str) -> String {
        match self.place() {
            place if place.is_empty() => name.to_owned(),
            place => format!("{name}: {place}"),
        }
    }

    /// How many logs of which woods: `40 logs: 12 of white oak, 28 of yellow-poplar`.
    fn logs(&self) -> String {
        let mut woods: Vec<(String, usize)> = Vec::new();
        for log in &self.job.logs {
            let wood = log.species.map_or_else(|| "unnamed wood".to_owned(), names::species);
            match woods.iter_mut().find(|(known, _)| *known == wood) {
                Some((_, logs)) => *logs += 1,
                None => woods.push((wood, 1)),
            }
        }
        let all = names::count(self.job.logs.len(), "log", "logs");
        match woods.as_slice() {
            [] => all,
            [(wood, _)] => format!("{all} of {wood}"),
            woods => {
                let of: Vec<String> =
                    woods.iter().map(|(wood, logs)| format!("{logs} of {wood}")).collect();
                format!("{all}: {}", names::list(&of))
            }
        }
    }

    /// Whether the sawyer bills by the board foot.
    fn bills_feet(&self) -> bool {
        self.promise.price.by_board_foot.is_some()
    }

    /// So many millionths of a board foot in words: `4,980 board feet`; of a job in millimetres cubic metres by named size, and
    /// board feet only where they are billed.
    pub(crate) fn lumber_of(&self, millionths: i64) -> String {
        let feet = words::round_feet(millionths);
        match self.cubic_metres(millionths) {
            None => format!("{feet} board feet"),
            Some(metres) if self.bills_feet() => format!("{metres:.2} m3 ({feet} board feet)"),
            Some(metres) => format!("{metres:.2} m3"),
        }
    }

    /// The same as a figure of a table, below [`Quoted::lumber_head`].
    fn lumber_figure(&self, millionths: i64) -> String {
        match self.cubic_metres(millionths) {
            None => words::round_feet(millionths),
            Some(metres) => format!("{metres:.2}"),
        }
    }

    /// What lumber is counted in.
    fn lumber_head(&self) -> &'static str {
        if self.job.scale.is_metric() { "m3 of lumber" } else { "board feet" }
    }

    /// Cubic metres by named size of so many millionths of a board foot, of lumber as the plan has it; `None` of a job that is
    /// not in millimetres. Boards under an inch count more board feet than they hold.
    fn cubic_metres(&self, millionths: i64) -> Option<f64> {
        if !self.job.scale.is_metric() {
            return None;
        }
        let all = self.promise.done.all_lumber();
        let (mut metres, mut feet) = (0.0, 0.0);
        for lumber in all {
            let Some(boards) = lumber.boards else { continue };
            let each: f64 = boards.sides().iter().map(|side| side.mm_f64() / 1000.0).product();
            metres += each * f64::from(boards.count);
            feet += millions(lumber.named);
        }
        let each = if feet > 0.0 { metres / feet } else { BOARD_FOOT };
        Some(millions(millionths) * each)
    }

    /// What a board foot costs, or a cubic metre where a job is in millimetres.
    fn unit_price(&self, currency: Currency, foot: Option<Money>) -> Option<String> {
        let foot = foot?;
        let Some(metres) = self.cubic_metres(1_000_000_000) else {
            return Some(format!("a board foot costs {foot}"));
        };
        // A thousand board feet are so many cubic metres.
        let each = 1000.0 * millions(foot.as_ten_thousandths()) * 100.0 / metres.max(1e-9);
        let cents = (each * 100.0).round();
        let parts = if cents.abs() < 1e12 { words::whole(cents) } else { return None };
        let each =
            Money::ten_thousandths(i64::try_from(parts).ok()?.checked_mul(Money::CENT)?, currency);
        Some(format!("a cubic metre costs {each}"))
    }

    /// The logs that the loader does not lift, by their names.
    fn too_heavy(&self) -> Vec<&'a str> {
        let logs = self.promise.goods.too_heavy();
        logs.filter_map(|log| self.job.logs.get(log)).map(|log| log.id.as_str()).collect()
    }
}

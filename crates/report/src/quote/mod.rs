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
use pithward_optimizer::{Pile, PilePlan};

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

    /// The logs that the loader does not lift, by their names.
    fn too_heavy(&self) -> Vec<&'a str> {
        let logs = self.promise.goods.too_heavy();
        logs.filter_map(|log| self.job.logs.get(log)).map(|log| log.id.as_str()).collect()
    }
}

//! What a little more would have bought.

use crate::names::{self, exact};
use crate::page::Page;
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::{Little, NearMiss};
use pithward_trade::WaneLimit;

/// The near misses in plain words; nothing when there are none.
pub(super) fn near(page: &mut Page, job: &LogJob, near: &[NearMiss]) {
    if near.is_empty() {
        return;
    }
    page.heading("NEAR MISSES", "a little more would have bought");
    for miss in near {
        page.item(&sentence(job, miss));
    }
}

/// One near miss as a sentence.
pub(crate) fn sentence(job: &LogJob, miss: &NearMiss) -> String {
    let more = match miss.then.saturating_sub(miss.now) {
        1 => "One".to_owned(),
        n => n.to_string(),
    };
    let want = names::want(job, miss.want);
    let allowed = job.wants.get(miss.want.0).map(|want| want.wane);
    let if_only = match miss.little {
        Little::Wane { legs } => {
            let instead = match allowed {
                None | Some(WaneLimit::Legs(Length::ZERO)) => String::new(),
                Some(limit) => format!(" (the list says {})", names::wane_limit(job, limit)),
            };
            format!("{} were allowed on its corners{instead}", names::wane(job, legs))
        }
        Little::Diameter(by) => format!("the log were {} thicker", exact(job, by)),
        Little::Length(by) => format!("the log were {} longer", exact(job, by)),
    };
    format!("{more} more {want} ({} instead of {}) if {if_only}.", miss.then, miss.now)
}

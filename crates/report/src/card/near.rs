//! What a little more would have bought.

use crate::names::{self, exact};
use crate::page::Page;
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::{Little, NearMiss};
use pithward_trade::WaneLimit;

/// A card has no room for more; the plan's JSON has all.
const MOST: usize = 3;

/// The near misses in plain words, those that ask for least first; nothing when there are none.
pub(super) fn near(page: &mut Page, job: &LogJob, near: &[NearMiss]) {
    if near.is_empty() {
        return;
    }
    let mut near: Vec<&NearMiss> = near.iter().collect();
    near.sort_by_key(|miss| amount(job, miss));
    page.heading("NEAR MISSES", "what a little more would have bought");
    for miss in near.into_iter().take(MOST) {
        page.item(&sentence(job, miss));
    }
}

/// How much more is asked for: of wane, what goes beyond the list.
fn amount(job: &LogJob, miss: &NearMiss) -> Length {
    match miss.little {
        Little::Wane { legs } => {
            let want = job.wants.get(miss.want.0);
            let allowed =
                want.and_then(|want| want.wane.on(want.target.thickness, want.target.width).ok());
            legs.width - allowed.map_or(Length::ZERO, |allowed| allowed.width)
        }
        Little::Diameter(by) | Little::Length(by) => by,
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
            format!("{} is allowed at its corners{instead}", names::wane(job, legs))
        }
        Little::Diameter(by) => format!("the log is {} thicker", exact(job, by)),
        Little::Length(by) => format!("the log is {} longer", exact(job, by)),
    };
    format!("{more} more {want} ({} instead of {}) if {if_only}.", miss.then, miss.now)
}

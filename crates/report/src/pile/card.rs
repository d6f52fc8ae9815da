//! The cut card of one log of a pile.

use super::order::{filled_words, reason};
use super::{Whole, count};
use crate::card::{Sheet, before_you_start, setup, work};
use crate::names::{self, Named};
use crate::obstacle;
use crate::page::{Column, Page};
use pithward_job::PileJob;
use pithward_optimizer::{LogFate, Pile, PilePlan, WantId};

/// The cut card of one log of a pile, a place in [`PileJob::logs`], as plain text of at most 80 columns: as the card
/// of a log alone, with its place in the order and the counts before and after it.
///
/// A log that is not sawn says why.
pub fn pile_card(job: &PileJob, pile: &Pile, plan: &PilePlan, log: usize) -> String {
    let mut page = Page::default();
    let (Some(known), Some(fate)) = (job.logs.get(log), plan.logs.get(log)) else {
        page.say(&format!("The job has no log at place {}; it has {}.", log + 1, job.logs.len()));
        return page.finish();
    };
    let log_job = job.log_job(log);
    let LogFate::Sawn(log_plan) = fate else {
        page.hang("NO CARD   ", &format!("log {}, {}", known.id, setup::log(&log_job)));
        page.blank();
        match fate {
            LogFate::Impossible(obstacles) if !obstacles.is_empty() => {
                page.say("It cannot be sawn.");
                for sentences in obstacle::told(&log_job, obstacles, false) {
                    page.item(&sentences);
                }
            }
            LogFate::Impossible(_) => page.say(obstacle::NOTHING),
            LogFate::LeftWhole => page.say(
                "It is left whole: nothing that it would still give of the list is worth the sawing.",
            ),
            _ => page.say("The search was stopped before it came to this log. Let it run longer."),
        }
        return page.finish();
    };
    let whole = Whole::without_pieces(job, pile, plan);
    let sheet = Sheet::new(&log_job, log_plan);
    let place = Place::of(&whole, log);
    page.hang("CUT CARD   ", &format!("log {}{}", known.id, place.words(&whole)));
    page.blank();
    page.hang("  log     ", &setup::log(&log_job));
    if !known.notes.is_empty() {
        page.hang("  notes   ", &known.notes);
    }
    setup::facts(&mut page, &sheet);
    if let Some(words) = place.lot(&whole) {
        page.hang("  lot     ", &words);
    }
    if plan.stopped {
        page.hang("  plan    ", "the best so far: the search was stopped before it was done");
    }
    work(&mut page, &sheet);
    let pieces: Vec<Named> = sheet.pieces.iter().copied().flatten().collect();
    list(&mut page, &whole, &place, &pieces);
    before_you_start(&mut page, &sheet, &plan.proof.methods);
    page.finish()
}

/// Where a log stands in the order, and what has been sawn before it.
struct Place {
    /// From 1; `None` when the order does not name it.
    number: Option<usize>,
    /// Place in the plan's order.
    lot: Option<usize>,
    /// What comes after it.
    next: Option<usize>,
    /// Pieces of each want from the logs before it.
    before: Vec<u32>,
}

impl Place {
    fn of(whole: &Whole<'_>, log: usize) -> Self {
        let place = whole.sequence.iter().position(|n| *n == log);
        let mut before = vec![0; whole.job.wants.len()];
        for earlier in whole.sequence.iter().take(place.unwrap_or(0)) {
            let products =
                whole.log_plan(*earlier).map_or(&[][..], |plan| plan.products.as_slice());
            for product in products {
                if let Some(count) = before.get_mut(product.cut.want.0) {
                    *count += 1;
                }
            }
        }
        Self {
            number: place.map(|place| place + 1),
            lot: whole.plan.order.iter().position(|lot| lot.logs.contains(&log)),
            next: place.and_then(|place| whole.sequence.get(place + 1)).copied(),
            before,
        }
    }

    fn words(&self, whole: &Whole<'_>) -> String {
        self.number.map_or(String::new(), |number| {
            format!(", number {number} of {} in the order of sawing", whole.sequence.len())
        })
    }

    fn lot(&self, whole: &Whole<'_>) -> Option<String> {
        let n = self.lot?;
        let lot = whole.plan.order.get(n)?;
        let next = self.next.map_or(String::new(), |next| {
            let other = if lot.logs.contains(&next) { "" } else { ", of the next lot" };
            format!(". Next is log {}{other}", whole.id(next))
        });
        Some(format!(
            "{} of {}, {}{next}.",
            n + 1,
            whole.plan.order.len(),
            reason(whole, lot.reason)
        ))
    }
}

/// What the log gives, and the counts before and after it.
fn list(page: &mut Page, whole: &Whole<'_>, place: &Place, pieces: &[Named]) {
    page.heading("THE LIST", "before and after this log");
    let gives = count(pieces, whole.job.wants.len());
    let after: Vec<u32> =
        place.before.iter().zip(&gives).map(|(before, gives)| before + gives).collect();
    let wants = 0..whole.job.wants.len();
    let rows: Vec<String> = wants.clone().map(|n| names::want_row(whole.job, WantId(n))).collect();
    let figures = |counts: &[u32]| {
        counts
            .iter()
            .map(|n| if *n == 0 { "-".to_owned() } else { n.to_string() })
            .collect::<Vec<_>>()
    };
    let wanted = |n: usize| whole.wanted(n).map_or_else(|| "any".to_owned(), |n| n.to_string());
    let still = |n: usize| match whole.wanted(n) {
        Some(wanted) => match wanted.saturating_sub(after[n]) {
            0 => "-".to_owned(),
            still => still.to_string(),
        },
        None => String::new(),
    };
    page.table(
        "want",
        &rows,
        &[
            Column::new(&["wanted"], wants.clone().map(wanted).collect()),
            Column::new(&["before"], figures(&place.before)),
            Column::new(&["this log"], figures(&gives)),
            Column::new(&["after"], figures(&after)),
            Column::new(&["still", "wanted"], wants.clone().map(still).collect()),
        ],
    );
    for (n, is) in after.iter().enumerate() {
        let Some(wanted) = whole.wanted(n).filter(|wanted| *is >= *wanted && gives[n] > 0) else {
            continue;
        };
        page.hang("  >>  ", &filled_words(whole, n, *is, wanted));
    }
    page.say("The counts hold when the logs are sawn in the order of the plan and come out as their cards say.");
}

//! Near misses: what a little more of something would have bought.
//!
//! # Problem
//! A log is measured by tape and a list is written with round figures. Often one more piece is missed by a
//! hair: a sixteenth of wane on two corners, a log three eighths thicker. Which little would give one more
//! piece of a want, and take nothing from any other?
//!
//! # Method
//! The plan's own method, and for a cant its own two faces, are searched again with a little more wane for one
//! want, a little more diameter, or a little more length; the least amount that gains is looked for in steps. A
//! gain counts only when the new pattern, sawn and replayed, is worth more, gives more of the want and less of
//! none. Other places or methods might gain with less: what is told is true, but not all that is true.

use crate::allowance::Allowances;
use crate::column::{Columns, Prices};
use crate::family::{Found, Method, Search, around, boxed, cant, quarter, through};
use crate::looks::Giving;
use crate::open::{Made, log_plan, too_large};
use crate::plan::{Little, LogPlan, NearMiss, PlanFault, Planned, Settings, Tally};
use crate::site::Site;
use crate::want::{Want, WantId};
use pithward_geometry::{Log, Mill, View};
use pithward_measure::Length;
use pithward_trade::Wane;

/// At most so many steps of a little are tried: half an inch of wane or diameter in sixteenths.
const STEPS: i64 = 8;

/// Counts are carried exactly up to this many allowances; beyond it no near misses are looked for.
const MOST_ALLOWANCES: usize = 40;

/// The near misses of a plan: for each want the least wane, then the least diameter and the least length that
/// would give one more piece.
///
/// # Errors
/// A fault of this program, told as such: replay must confirm what is told here too.
pub fn near_misses(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    planned: &Planned,
) -> Result<Vec<NearMiss>, PlanFault> {
    // A little more wood says little where what its boards look like decides.
    if wants.iter().any(|want| want.grading.is_some()) {
        return Ok(Vec::new());
    }
    let near = Near { mill, settings, plan: &planned.plan };
    let little =
        if mill.step.as_nm() % 100_000 == 0 { Length::mm(1) } else { Length::sixty_fourths(4) };
    let mut misses = Vec::new();
    for want in (0..wants.len()).map(WantId) {
        let tally = &planned.plan.tally[want.0];
        let full = tally.wanted.is_some_and(|wanted| tally.given >= wanted);
        let short_enough = |by: &Length| {
            let legs = wider(wants[want.0].wane, *by);
            wants[want.0].cuts.iter().all(|cut| legs.check(cut.thickness, cut.width).is_ok())
        };
        if full {
            continue;
        }
        let steps = (1..=STEPS).map(|n| little * n).take_while(short_enough);
        let with = |by: Length| {
            let mut wants = wants.to_vec();
            wants[want.0].wane = wider(wants[want.0].wane, by);
            near.plan(log, &wants)
        };
        if let Some((by, tally)) = near.least(steps, with, Some(want))? {
            misses.push(near.miss(
                want,
                &tally,
                Little::Wane { legs: wider(wants[want.0].wane, by) },
            ));
        }
    }
    let thicker = |by: Length| log.thicker(by).map_or(Ok(None), |log| near.plan(&log, wants));
    if let Some((by, tally)) = near.least((1..=STEPS).map(|n| little * n), thicker, None)? {
        misses
            .extend(near.gained(&tally).map(|want| near.miss(want, &tally, Little::Diameter(by))));
    }
    let inch = if little == Length::mm(1) { Length::mm(25) } else { Length::inches(1) };
    let longer = |by: Length| log.longer(by).map_or(Ok(None), |log| near.plan(&log, wants));
    if let Some((by, tally)) = near.least((1..=STEPS).map(|n| inch * n), longer, None)? {
        misses.extend(near.gained(&tally).map(|want| near.miss(want, &tally, Little::Length(by))));
    }
    Ok(misses)
}

fn wider(wane: Wane, by: Length) -> Wane {
    Wane { thickness: wane.thickness + by, width: wane.width + by }
}

struct Near<'a> {
    mill: &'a Mill,
    settings: &'a Settings,
    plan: &'a LogPlan,
}

impl Near<'_> {
    /// The least of some littles that gains, and what it gives then. The largest is tried first: where even
    /// that gains nothing, no less does.
    fn least(
        &self,
        steps: impl Iterator<Item = Length>,
        with: impl Fn(Length) -> Result<Option<LogPlan>, PlanFault>,
        want: Option<WantId>,
    ) -> Result<Option<(Length, Vec<Tally>)>, PlanFault> {
        let steps: Vec<Length> = steps.collect();
        let gains = |by: Length| -> Result<Option<Vec<Tally>>, PlanFault> {
            let tally =
                with(by)?.filter(|plan| plan.worth > self.plan.worth).map(|plan| plan.tally);
            Ok(tally.filter(|tally| match want {
                Some(want) => {
                    self.loses_nothing(tally)
                        && pieces(&tally[want.0]) > pieces(&self.plan.tally[want.0])
                }
                None => self.loses_nothing(tally) && self.gained(tally).is_some(),
            }))
        };
        let Some(most) = steps.last() else { return Ok(None) };
        if gains(*most)?.is_none() {
            return Ok(None);
        }
        for by in steps {
            if let Some(tally) = gains(by)? {
                return Ok(Some((by, tally)));
            }
        }
        Ok(None)
    }

    fn loses_nothing(&self, tally: &[Tally]) -> bool {
        tally.iter().zip(&self.plan.tally).all(|(then, now)| pieces(then) >= pieces(now))
    }

    /// The first want that gains.
    fn gained(&self, tally: &[Tally]) -> Option<WantId> {
        let gains = |(then, now): (&Tally, &Tally)| pieces(then) > pieces(now);
        tally.iter().zip(&self.plan.tally).position(gains).map(WantId)
    }

    fn miss(&self, want: WantId, tally: &[Tally], little: Little) -> NearMiss {
        NearMiss {
            want,
            now: pieces(&self.plan.tally[want.0]),
            then: pieces(&tally[want.0]),
            little,
        }
    }

    /// The best pattern at the plan's own place, sawn and replayed.
    fn plan(&self, log: &Log, wants: &[Want]) -> Result<Option<LogPlan>, PlanFault> {
        if !too_large(log, self.mill).is_empty() {
            return Ok(None);
        }
        let view = View::new(log, self.plan.order.frame);
        let columns = Columns::new(&view, self.mill.crosscut_kerf, wants);
        let site = Site::new(&view, self.mill, &columns);
        let Some(found) = self.pattern(&site, wants) else { return Ok(None) };
        Ok(match log_plan(&site, (wants, &Giving::Worth), self.settings, &found)? {
            Made::Plan(plan) => Some(*plan),
            Made::Unsawable(_) => None,
        })
    }

    fn pattern(&self, site: &Site<'_>, wants: &[Want]) -> Option<Found> {
        let counted: Vec<WantId> = (0..wants.len())
            .map(WantId)
            .filter(|want| wants[want.0].cuts.iter().any(|cut| cut.extra < cut.worth))
            .filter(|want| wants[want.0].count.is_some())
            .collect();
        let counts: Vec<u32> = counted.iter().filter_map(|want| wants[want.0].count).collect();
        let size =
            counts.iter().try_fold(1usize, |size, count| size.checked_mul(*count as usize + 1))?;
        if size > MOST_ALLOWANCES {
            return None;
        }
        let prices = Prices { counted, allowances: Allowances::new(counts), ..Prices::full(wants) };
        let mut search = Search::new(site, wants, &prices);
        match self.plan.method {
            method @ (Method::Through | Method::ThroughTurned) => through::best(&search, method),
            method @ (Method::TwoSidedCant | Method::FourSidedCant) => {
                // Face A lies above the pith by what its last pass left there; face B is the cant's height away.
                let last = |stage: usize| {
                    self.plan.order.stages.get(stage)?.passes.last().map(|pass| pass.height)
                };
                let [_, pith] = site.pith();
                let top = Length::nm(pith) + last(0)? - self.plan_pith()?;
                cant::at(&mut search, method, last(1)?.as_nm(), top.as_nm())
            }
            Method::BoxedHeart => boxed::best(&mut search),
            Method::Around => around::best(&mut search, 0),
            // Quarters carry no counts.
            Method::Quarter if size == 1 => quarter::best(&mut search),
            Method::Quarter => None,
        }
    }

    /// Height of the frame's axis over the bed in the plan's first rest: it begins on the pith.
    fn plan_pith(&self) -> Option<Length> {
        self.plan.replayed.pith.first().map(|(small, _)| Length::from_inches_f64(*small))
    }
}

fn pieces(tally: &Tally) -> u32 {
    tally.given + tally.extra
}

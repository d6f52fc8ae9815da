//! Stems: where to cut them, chosen together with what their logs will make.
//!
//! # Problem
//! Stems stand beside the logs of a pile. Cut each into logs, leaving out what no log may hold, so that the pile's plan
//! is worth most. What a log is worth depends on what all others give, so no stem can be cut alone.
//!
//! # Method
//! 1. **Spans** (`way`, `lengths`): the logs that may be cut from a stem, by the places where a cut can matter.
//! 2. **Prices** (`stems`): in the program over patterns ([`crate::master`]) a stem is one more class; its patterns are
//!    rows of spans, each span sawn by its best pattern under the prices, and the best row is a recurrence along the
//!    stem. So prices, bound and choice are those of the whole pile with its stems free.
//! 3. **Plan**: the chosen logs are planned as a pile of ordinary logs.
//! 4. **Plain buckings**: beside it the stems are cut as one does who thinks of no want: every log as long as any other,
//!    or the longest first. Their spans are among those of step 1, so the bound speaks of them too. Those that are worth
//!    most under the prices are planned in full; should one be worth more, it is taken.
//!
//! # Bound
//! It speaks for the spans that were looked at. For round sound stems each is searched exactly. For others the ways of
//! laying are searched for one span of all that begin at a place; the others are laid like it.
//!
//! # Bound on the work
//! Spans are limited in number (`way`, `stems`), and plans of plain buckings by the logs in them all together
//! ([`PLAIN_LOGS`]); nothing stops by the clock.

mod lengths;
mod plain;
mod stems;
mod way;

pub use plain::{Plain, PlainRule};

use crate::master::{Choice, Line, Master, Meter, UNIT};
use crate::pile::{
    AsFar, LogFate, Pile, PileLog, PilePlan, Progress, Watch, check, lines, order, reached,
};
use crate::plan::PlanFault;
use pithward_geometry::Log;
use pithward_measure::Length;
use stems::{Cut, Kind, Stems, kinds, log_of, with_spans};
use way::{Span, sound};

/// A stem of a pile. All places are reckoned from its butt end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PileStem {
    /// The stem, measured as a log is.
    pub log: Log,
    /// Its place in [`Pile::menus`].
    pub menu: usize,
    /// Stretches that no log may hold, from where to where.
    pub cut_out: Vec<(Length, Length)>,
    /// Places at which it may pay to cut whatever the lengths: a crook, the end of a flare or of a flaw.
    pub breaks: Vec<Length>,
}

/// How stems may be cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuckTerms {
    /// What one cut turns to sawdust.
    pub chain_kerf: Length,
    /// Lengths of logs, trim included; `None` for those that the wants make useful.
    pub lengths: Option<Vec<Length>>,
    /// The shortest log.
    pub shortest: Length,
    /// The longest log.
    pub longest: Length,
}

/// How stems are cut, and what the pile makes then.
#[derive(Clone, Debug)]
pub struct Bucked {
    /// The pile's own logs, and behind them those of every stem, from its butt.
    pub pile: Pile,
    /// What they become.
    pub plan: PilePlan,
    /// How the stems are cut.
    pub cuts: StemCuts,
}

/// How the stems of a pile are cut, and how good that is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StemCuts {
    /// Every stem, in order.
    pub stems: Vec<BuckedStem>,
    /// How good that is proven to be.
    pub proof: BuckProof,
    /// What plain buckings would give, those that were planned, the best first.
    pub plain: Vec<Plain>,
}

/// How one stem is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuckedStem {
    /// From the butt to the small end; between two of them lies a kerf, unless both are wood that is left.
    pub parts: Vec<StemPart>,
}

/// A part of a stem.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StemPart {
    /// Where it begins, from the butt.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// What it is.
    pub what: PartKind,
}

/// What a part of a stem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartKind {
    /// A log, by its place in [`Bucked::pile`].
    Log(usize),
    /// No log may hold it.
    CutOut,
    /// Shorter than any log.
    TooShort,
    /// Over the mill's largest diameter.
    TooThick,
    /// It could have been a log, but no log of it is worth the sawing, or others are worth more.
    LeftOver,
}

/// How good a bucking is proven to be. Values are those of [`PileProof`](crate::PileProof).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuckProof {
    /// The plan's own, millionths.
    pub value: i64,
    /// No plan of logs that were looked at has more, however the stems are cut; `None` when the search was stopped
    /// before it was known.
    pub bound: Option<i64>,
    /// What is proven of plans that fill the list as far, where it stays short.
    pub as_far: Option<AsFar>,
    /// How much of `value` is there only because the list comes first.
    pub first: i64,
    /// Different logs that were looked at.
    pub spans: usize,
    /// Lengths of logs that were looked at, trim included, the shortest first; those of the first stem.
    pub lengths: Vec<Length>,
    /// Linear programs solved.
    pub programs: u32,
    /// States that the searches made, a count of work.
    pub states: u64,
}

impl BuckProof {
    /// By how much a plan with another bucking can be worth more, as a share of this one's worth less its work, rounded
    /// up to the millionth. `None` without a bound, or when the plan is worth nothing.
    pub fn gap_millionths(&self) -> Option<i64> {
        let asked = || self.bound.map(|bound| AsFar { value: self.value, bound });
        let AsFar { value, bound } = self.as_far.or_else(asked)?;
        let (gap, own) =
            (i128::from(bound) - i128::from(value), i128::from(self.value - self.first));
        (own > 0).then(|| i64::try_from((gap.max(0) * 1_000_000 + own - 1) / own).ok())?
    }
}

/// Logs that plain buckings are planned with, all together, at most; the best of them is planned in any case. Moving it
/// trades time for what can be said of them.
const PLAIN_LOGS: usize = 24;
/// Plain buckings that are planned, at most.
const MOST_PLAIN: usize = 4;

/// Cuts the stems of a pile and plans it.
///
/// # Errors
/// Settings that contradict the mill.
pub fn buck(
    pile: &Pile,
    stems: &[PileStem],
    terms: &BuckTerms,
    watch: &dyn Watch,
) -> Result<Bucked, PlanFault> {
    check(pile)?;
    let kinds = kinds(pile, stems, terms);
    let choosing = Stretched { watch, from: 0.0, to: 0.6 };
    let Chosen { rows, plain, bound, filled, spans, programs, states } =
        choose(pile, stems, terms, &kinds, &choosing);
    let own = plain::planned(pile, stems, &rows, &Stretched { watch, from: 0.6, to: 0.8 })?;
    let mut best = (rows, own);
    let mut compared = Vec::new();
    let most = (PLAIN_LOGS / best.1.0.logs.len().max(1)).clamp(1, MOST_PLAIN);
    for (rule, rows) in plain.into_iter().take(most) {
        if best.1.1.stopped {
            break;
        }
        let share = 0.2 / most as f64;
        let from = 0.8 + share * compared.len() as f64;
        let own = plain::planned(pile, stems, &rows, &Stretched { watch, from, to: from + share })?;
        if own.1.stopped {
            break;
        }
        compared.push(Plain::new(rule, &rows, &own.1));
        if own.1.proof.value > best.1.1.proof.value {
            best = (rows, own);
        }
    }
    compared.sort_by_key(|plain| std::cmp::Reverse(plain.value));
    let (mut rows, (mut bucked, mut plan)) = best;
    leave_unsawn(pile.logs.len(), &mut rows, &mut bucked, &mut plan);
    let mut log = pile.logs.len();
    let parts = |(stem, row): (&PileStem, &Vec<Span>)| {
        let shortest = kinds.iter().filter_map(|kind| kind.way.lengths.first().copied()).min();
        let shortest = shortest.unwrap_or(terms.shortest);
        BuckedStem { parts: parts(pile, stem, (terms.chain_kerf, shortest), row, &mut log) }
    };
    let stems = stems.iter().zip(&rows).map(parts).collect();
    let lengths = kinds.first().map(|kind| kind.way.lengths.clone()).unwrap_or_default();
    let (value, first) = (plan.proof.value, plan.proof.first);
    // Wood that is not round need not have been searched at the same places twice.
    let bound = bound.map(|bound| up(bound).max(value));
    let as_far = filled.and_then(|(lines, bound)| as_far(&bucked, &plan, &lines, up(bound)));
    let proof = BuckProof { value, bound, as_far, first, spans, lengths, programs, states };
    Ok(Bucked { pile: bucked, plan, cuts: StemCuts { stems, proof, plain: compared } })
}

/// What the program over patterns chose.
struct Chosen {
    /// For every stem its logs.
    rows: Vec<Vec<Span>>,
    /// The plain buckings, the best under the prices first.
    plain: Vec<(PlainRule, Vec<Vec<Span>>)>,
    bound: Option<i128>,
    /// The wants as far as they could be filled, where that is less, and the bound of that.
    filled: Option<(Vec<Line>, i128)>,
    spans: usize,
    programs: u32,
    states: u64,
}

/// Chooses the logs of every stem by the program over patterns.
fn choose(
    pile: &Pile,
    stems: &[PileStem],
    terms: &BuckTerms,
    kinds: &[Kind],
    watch: &dyn Watch,
) -> Chosen {
    let spanned = with_spans(pile, stems, kinds);
    let classes = Stems::new(&spanned, kinds);
    let (lines, meter) = (lines(pile), Meter::new(watch));
    let mut master = Master::new(&classes, &lines, &meter);
    master.solve();
    let bound = master.bound();
    let short = reached(&lines, &master.pieces());
    let master = match &short {
        Some(short) => {
            let mut master = master.under(short);
            master.solve();
            master
        }
        None => master,
    };
    let Choice { patterns, uses, bound: far, prices, programs, states, stopped, .. } =
        master.choice();
    let mut plain = plain::rows(stems, terms, kinds);
    if !stopped {
        plain::rank(&mut plain, &classes, kinds, &prices);
    }
    let mut rows: Vec<Option<Vec<Span>>> = vec![None; stems.len()];
    for (unit, uses) in uses.iter().enumerate() {
        let Some(kind) = classes.kind(unit) else { continue };
        let mut members = kinds[kind].members.iter();
        for (pattern, count) in uses {
            let Some(Cut::Row(_, row)) = &patterns[*pattern].1 else { continue };
            let row: Vec<Span> = row.iter().map(|span| kinds[kind].way.spans[*span]).collect();
            for member in members.by_ref().take(*count as usize) {
                rows[*member] = Some(row.clone());
            }
        }
    }
    // A search that was stopped early may know nothing yet.
    let unknown = stopped && rows.iter().all(Option::is_none);
    let rows = match plain.first() {
        Some((_, plain)) if unknown => plain.clone(),
        _ => rows.into_iter().map(Option::unwrap_or_default).collect(),
    };
    let filled = short.zip(far);
    Chosen { rows, plain, bound, filled, spans: classes.spans(), programs, states }
}

/// What is proven of plans that fill the wants as far as some lines say.
fn as_far(pile: &Pile, plan: &PilePlan, lines: &[Line], bound: i64) -> Option<AsFar> {
    let worth = |counts: &mut dyn Iterator<Item = Option<u32>>| {
        order::worth_under(pile, &plan.logs, counts).div_euclid(i128::from(UNIT))
    };
    let asked = worth(&mut pile.demands.iter().map(|demand| demand.count));
    let far = worth(&mut lines.iter().map(|line| line.count));
    let value = i64::try_from(i128::from(plan.proof.value) - (asked - far)).ok()?;
    // A plan that fills other wants than the program did is told of by the bound of the whole list alone.
    let filled = plan.tally.iter().zip(lines);
    let as_much = filled.into_iter().all(|(tally, line)| {
        line.count.is_none_or(|count| tally.given == count || tally.wanted == line.count)
    });
    as_much.then(|| AsFar { value, bound: bound.max(value) })
}

fn up(bound: i128) -> i64 {
    i64::try_from(-(-bound).div_euclid(i128::from(UNIT))).unwrap_or(i64::MAX)
}

/// Leaves in their stems the logs that the plan does not saw: nobody cuts them for nothing. The first `own` logs are not cut
/// from stems.
fn leave_unsawn(own: usize, rows: &mut [Vec<Span>], pile: &mut Pile, plan: &mut PilePlan) {
    let is_cut =
        |n: usize| n < own || matches!(plan.logs[n], LogFate::Sawn(_) | LogFate::Unplanned);
    let kept: Vec<bool> = (0..plan.logs.len()).map(is_cut).collect();
    let mut keep = kept[own..].iter();
    for row in rows {
        row.retain(|_| *keep.next().unwrap_or(&true));
    }
    let mut keep = kept.iter();
    pile.logs.retain(|_| *keep.next().unwrap_or(&true));
    let mut keep = kept.iter();
    plan.logs.retain(|_| *keep.next().unwrap_or(&true));
    let before = |log: usize| kept[..log].iter().filter(|kept| **kept).count();
    for log in plan.order.iter_mut().flat_map(|lot| &mut lot.logs) {
        *log = before(*log);
    }
}

/// What becomes of every part of a stem; `log` is the place of its first log, and then that of the next stem's.
fn parts(
    pile: &Pile,
    stem: &PileStem,
    (kerf, shortest): (Length, Length),
    row: &[Span],
    log: &mut usize,
) -> Vec<StemPart> {
    let end = stem.log.length();
    let sound = sound(stem, Length::ZERO);
    // Where what a part is may change.
    let ends = sound.iter().flat_map(|sound| [sound.from, sound.to]).chain([Length::ZERO, end]);
    let mut edges: Vec<Length> = ends.collect();
    edges.sort_unstable();
    edges.dedup();
    let mut parts = Vec::new();
    let waste = |parts: &mut Vec<StemPart>, from: Length, to: Length| {
        let inside: Vec<Length> =
            edges.iter().copied().filter(|edge| *edge > from && *edge < to).collect();
        let mut at = from;
        for to in inside.into_iter().chain([to]) {
            if at >= to {
                continue;
            }
            let is_sound = sound.iter().any(|sound| sound.from <= at && to <= sound.to);
            let what = if !is_sound {
                PartKind::CutOut
            } else if to - at < shortest {
                PartKind::TooShort
            } else if log_of(stem, Span { from: to - shortest, to })
                .is_some_and(|log| log.widest_over_bark() > pile.mill.largest_diameter)
            {
                // Not even its upper end is a log for the mill.
                PartKind::TooThick
            } else {
                PartKind::LeftOver
            };
            parts.push(StemPart { from: at, to, what });
            at = to;
        }
    };
    let mut at = Length::ZERO;
    for span in row {
        // The kerf of the cut before a log is no part; at the butt end nothing is cut.
        let before = if span.from > Length::ZERO { span.from - kerf } else { Length::ZERO };
        waste(&mut parts, at, before);
        parts.push(StemPart { from: span.from, to: span.to, what: PartKind::Log(*log) });
        *log += 1;
        at = if span.to < end { span.to + kerf } else { end };
    }
    waste(&mut parts, at, end);
    parts
}

/// A pile with the logs of its stems behind its own.
fn with_rows(pile: &Pile, stems: &[PileStem], rows: &[Vec<Span>]) -> Pile {
    let cut = stems.iter().zip(rows).flat_map(|(stem, row)| {
        row.iter()
            .filter_map(move |span| Some(PileLog { log: log_of(stem, *span)?, menu: stem.menu }))
    });
    Pile { logs: pile.logs.iter().cloned().chain(cut).collect(), ..pile.clone() }
}

/// Part of a wait.
struct Stretched<'a> {
    watch: &'a dyn Watch,
    from: f64,
    to: f64,
}

impl Watch for Stretched<'_> {
    fn tell(&self, progress: Progress) {
        let share = self.from + (self.to - self.from) * progress.share;
        self.watch.tell(Progress { share, ..progress });
    }

    fn stopped(&self) -> bool {
        self.watch.stopped()
    }
}

//! Ranges in words: what the simulated piles came to, what may be promised, and what makes it uncertain.

use pithward_day::money::Way;
use pithward_day::range::{Forecast, Range, Shares, Source, WantRange};
use pithward_job::{Doubt, Measured, Spread};
use pithward_measure::Money;
use pithward_optimizer::{Tally, WantId};

use super::{Quoted, bill, words};
use crate::names::{self, count, percent};
use crate::paper::{Paper, Side, Span, Table};

/// A source of doubt below that share is not told.
const LEAST_SHARE: f64 = 0.05;

/// What comes out, every want with its range, for the sawyer.
pub(super) fn list(quoted: &Quoted<'_>, forecast: &Forecast) -> Table {
    let mut table = Table::new(&[
        ("size", Side::Left),
        ("asked", Side::Right),
        ("planned", Side::Right),
        ("low", Side::Right),
        ("likely", Side::Right),
        ("high", Side::Right),
        ("safe", Side::Right),
    ]);
    for (n, (tally, want)) in quoted.plan.tally.iter().zip(&forecast.wants).enumerate() {
        let pieces = want.pieces;
        let figures =
            [tally.given + tally.extra, pieces.low, pieces.likely, pieces.high, want.safe];
        let cells = [names::want_row(quoted.job, WantId(n)), asked(want)];
        table.row(cells.into_iter().chain(figures.map(|figure| figure.to_string())));
        table.spans(span(&pieces, |pieces| f64::from(*pieces)));
    }
    table
}

/// The same for the customer, in fewer words.
pub(super) fn customers_list(quoted: &Quoted<'_>, forecast: &Forecast) -> Table {
    let mut table = Table::new(&[
        ("size", Side::Left),
        ("you asked for", Side::Right),
        ("likely", Side::Right),
        ("from", Side::Right),
        ("to", Side::Right),
        ("count on", Side::Right),
    ]);
    for (n, want) in forecast.wants.iter().enumerate() {
        let Range { low, likely, high, .. } = want.pieces;
        let cells = [names::want_row(quoted.job, WantId(n)), asked(want)];
        let figures = [likely, low, high, want.safe].map(|figure| figure.to_string());
        table.row(cells.into_iter().chain(figures));
        table.spans(span(&want.pieces, |pieces| f64::from(*pieces)));
    }
    table
}

fn asked(want: &WantRange) -> String {
    want.asked.map_or_else(|| "any".to_owned(), |asked| asked.to_string())
}

/// What the columns of the customer's list mean.
pub(super) const COLUMNS: &str = "In four days out of five the count lies between \"from\" and \"to\"; with nine chances in ten there are at least as \
     many as you may count on.";

/// Counts that may safely be promised though more were asked for: `38 of the 40`.
pub(super) fn promises(quoted: &Quoted<'_>, forecast: &Forecast) -> Vec<String> {
    let wants = forecast.wants.iter().enumerate();
    let unsure = wants.filter_map(|(n, want)| Some((n, want, want.asked?)));
    // Of what the plan itself is short of, the shortage says more, unless less is safe.
    let short = |n: usize| quoted.plan.tally.get(n).map_or(0, Tally::short);
    unsure
        .filter(|(n, want, asked)| want.safe < *asked - short(*n).min(*asked))
        .map(|(n, want, asked)| {
            let name = names::want(quoted.job, WantId(n));
            let all = match want.filled {
                filled if filled < 0.005 => "all of them never came".to_owned(),
                filled => format!("all of them came in {} of the piles", percent(filled)),
            };
            match want.safe {
                0 => format!("{name}: none of the {asked} can be promised; {all}"),
                safe => format!(
                    "{name}: promise {safe} of the {asked}, with nine chances in ten; {all}"
                ),
            }
        })
        .collect()
}

/// Hours, price, board feet and blades, low, likely and high.
pub(super) fn day(quoted: &Quoted<'_>, forecast: &Forecast) -> Table {
    let mut table = Table::new(&[
        ("what", Side::Left),
        ("planned", Side::Right),
        ("low", Side::Right),
        ("likely", Side::Right),
        ("high", Side::Right),
    ]);
    let mut row = |what: &str, cells: [String; 4], figures: Span| {
        let [planned, low, likely, high] = cells;
        table.row([what.to_owned(), planned, low, likely, high]);
        table.spans(figures);
    };
    let minutes = &forecast.minutes;
    row("on site", of(minutes, |minutes| words::time(*minutes)), span(minutes, |it| *it));
    let prices = priced(forecast);
    for (way, price) in &prices {
        let name = match prices.as_slice() {
            [_] => "price".to_owned(),
            _ => format!("price {}", bill::way(*way)),
        };
        #[allow(clippy::cast_precision_loss, reason = "for a picture")]
        let figures = span(price, |price| price.as_ten_thousandths() as f64);
        row(&name, of(price, ToString::to_string), figures);
    }
    #[allow(clippy::cast_precision_loss, reason = "for a picture")]
    let feet = |range: &Range<i64>| span(range, |feet| *feet as f64);
    if let Some(lumber) = &forecast.in_lumber {
        let name = format!("the sawyer's {}", quoted.lumber_head());
        row(&name, of(lumber, |feet| quoted.lumber_figure(*feet)), feet(lumber));
    }
    let all = &forecast.board_feet;
    row(quoted.lumber_head(), of(all, |feet| quoted.lumber_figure(*feet)), feet(all));
    let blades = span(&forecast.blades, |blades| f64::from(*blades));
    row("sharp blades", of(&forecast.blades, ToString::to_string), blades);
    table
}

/// A range as figures.
fn span<T>(range: &Range<T>, figure: impl Fn(&T) -> f64) -> Span {
    let [planned, low, likely, high] =
        [&range.planned, &range.low, &range.likely, &range.high].map(figure);
    Span { low, likely, high, planned }
}

fn of<T>(range: &Range<T>, word: impl Fn(&T) -> String) -> [String; 4] {
    [&range.planned, &range.low, &range.likely, &range.high].map(word)
}

/// A figure, and the share of a source in it.
type Figure = (&'static str, fn(&Shares) -> f64);

/// What makes the ranges wide.
pub(super) fn drives(quoted: &Quoted<'_>, forecast: &Forecast) -> Vec<String> {
    let lumber = if quoted.job.scale.is_metric() { "the lumber" } else { "the board feet" };
    let figures: [Figure; 2] =
        [(lumber, |shares| shares.board_feet), ("the hours", |shares| shares.minutes)];
    let said = figures.iter().filter_map(|(what, share)| {
        let mut shares: Vec<(Source, f64)> =
            forecast.shares.iter().map(|shares| (shares.source, share(shares))).collect();
        shares.retain(|(source, share)| {
            // What a sample lets seem so is not told: no pace makes a board.
            let is_pace = matches!(source, Source::Day | Source::Pace);
            *share >= LEAST_SHARE && !(is_pace && *what == lumber)
        });
        shares.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let words: Vec<String> = shares
            .iter()
            .map(|(it, share)| format!("{} ({})", source(*it), percent(*share)))
            .collect();
        (!words.is_empty()).then(|| format!("{what} are uncertain by {}", names::list(&words)))
    });
    said.collect()
}

fn source(source: Source) -> &'static str {
    match source {
        Source::Diameter => "the diameter of each log",
        Source::Shared => "what all diameters are off alike",
        Source::Taper => "taper",
        Source::Length => "lengths",
        Source::Rot => "hidden rot",
        Source::Metal => "hidden metal",
        Source::Day => "the pace of the day",
        Source::Pace => "the pace of single logs",
    }
}

/// What was simulated, and by which doubts.
pub(super) fn how(paper: &mut Paper, quoted: &Quoted<'_>, forecast: &Forecast) {
    let job = quoted.job;
    let piles = usize::try_from(forecast.piles).unwrap_or(usize::MAX);
    paper.say(format!(
        "Low to high holds four days out of five: {} like this one were drawn as the logs may really be, and each was \
         planned again (seed {}).{}",
        count(piles, "pile", "piles"),
        forecast.seed,
        if forecast.stopped { " The simulation was stopped early." } else { "" },
    ));
    paper.items(doubts(job, &job.doubt));
}

/// The doubts as they were told, or taken for granted.
fn doubts(job: &pithward_job::PileJob, doubt: &Doubt) -> Vec<String> {
    let Spread { diameter, shared, taper, length } = doubt.spread;
    let measured = match doubt.measured {
        Measured::Tape => "by tape",
        Measured::Eye => "by eye",
        Measured::Told => "by what their owner told",
    };
    let width = |length| words::small(job, length);
    let mut said = vec![format!(
        "logs {measured}: diameters off by {} each and {} all alike, the difference of the ends by {}, lengths by {}; \
         two logs in three are nearer",
        width(diameter),
        width(shared),
        width(taper),
        width(length)
    )];
    if !doubt.otherwise.is_empty() {
        let logs = count(doubt.otherwise.len(), "log was", "logs were");
        said.push(format!("{logs} measured otherwise, as the job says"));
    }
    let mut hidden = Vec::new();
    if doubt.rot.share > 0.0 {
        hidden.push(format!("hidden rot in {} of the logs", percent(doubt.rot.share)));
    }
    if doubt.metal.share > 0.0 {
        hidden.push(format!("hidden metal in {}", percent(doubt.metal.share)));
    }
    if !hidden.is_empty() {
        said.push(names::list(&hidden));
    }
    if doubt.pace_day > 0.0 || doubt.pace_log > 0.0 {
        said.push(format!(
            "the pace off by {} from day to day, {} from log to log",
            percent(doubt.pace_day),
            percent(doubt.pace_log)
        ));
    }
    match (doubt.stated.is_empty(), doubt.of_mill.is_empty()) {
        (true, true) => said.push(
            "all of these are common practice, no source; state your own below [doubt]".to_owned(),
        ),
        (true, false) => said.push(
            "how far the pace is off was learned from the mill's own jobs; all else of these is common practice, no \
             source; state your own below [doubt]"
                .to_owned(),
        ),
        (false, false) => {
            said.push("how far the pace is off was learned from the mill's own jobs".to_owned());
        }
        (false, true) => {}
    }
    said.extend(come_out(job));
    said
}

/// Planned pieces that do not come out, where the mill says so.
fn come_out(job: &pithward_job::PileJob) -> Option<String> {
    let recovery = job.recovery;
    if recovery.is_whole() {
        return None;
    }
    let kinds = job.logs.iter().map(|log| log.species.map(|species| species.kind));
    let (soft, hard): (Vec<_>, Vec<_>) =
        kinds.partition(|kind| *kind == Some(pithward_trade::species::Kind::Softwood));
    let mut shares: Vec<f64> = Vec::new();
    if !soft.is_empty() {
        shares.push(recovery.softwood);
    }
    if !hard.is_empty() && !shares.contains(&recovery.hardwood) {
        shares.push(recovery.hardwood);
    }
    let shares: Vec<String> =
        shares.into_iter().map(|share| format!("{:.1}", 100.0 * share)).collect();
    let shares: Vec<&str> =
        shares.iter().map(|share| share.strip_suffix(".0").unwrap_or(share)).collect();
    Some(format!(
        "of a hundred planned pieces {} come out{}, give or take {:.1}, as the mill file says below [recovery]: low, likely and \
         high reckon with it, the plan does not",
        names::list(&shares),
        if shares.len() > 1 { ", of softwood and of hardwood" } else { "" },
        100.0 * recovery.unsure
    ))
}

/// `about 4,980 board feet, in four days out of five between 4,600 and 5,300`.
pub(super) fn feet(quoted: &Quoted<'_>, forecast: &Forecast) -> String {
    let Range { low, likely, high, .. } = forecast.board_feet;
    format!(
        "about {}, in four days out of five between {} and {}",
        quoted.lumber_of(likely),
        quoted.lumber_figure(low),
        quoted.lumber_figure(high)
    )
}

/// Every way that has a price in money, and its range; one in which nothing at all is paid in money is left out.
fn priced(forecast: &Forecast) -> Vec<(Way, Range<Money>)> {
    let ways = Way::ALL.into_iter().zip(forecast.prices);
    let is_paid = |range: &Range<Money>| range.high.as_ten_thousandths() != 0;
    ways.filter_map(|(way, range)| Some((way, range.filter(is_paid)?))).collect()
}

/// The same of the hours.
pub(super) fn hours(forecast: &Forecast) -> String {
    let Range { low, likely, high, .. } = forecast.minutes;
    format!(
        "About {} on site, in four days out of five between {} and {}",
        words::time(likely),
        words::time(low),
        words::time(high)
    )
}

/// The same of the price, in every way that it may be paid.
pub(super) fn prices(quoted: &Quoted<'_>, forecast: &Forecast) -> Vec<String> {
    let prices = priced(forecast);
    let mut said: Vec<String> = prices
        .iter()
        .map(|(way, Range { low, likely, high, .. })| {
            let which = match (prices.as_slice(), way) {
                ([_], Way::Share) => " in money".to_owned(),
                ([_], _) => String::new(),
                (_, way) => format!(" {}", bill::way(*way)),
            };
            format!(
                "The price{which} is likely {likely}, in four days out of five between {low} and {high}."
            )
        })
        .collect();
    said.extend(forecast.in_lumber.map(|Range { low, likely, high, .. }| {
        format!(
            "The sawyer's lumber is likely {}, in four days out of five between {} and {}.",
            quoted.lumber_of(likely),
            quoted.lumber_figure(low),
            quoted.lumber_figure(high)
        )
    }));
    said
}

//! The order of sawing: lot by lot, log by log, with the counts as they grow.

use super::{Whole, gives};
use crate::grown;
use crate::names::{self, count, height, long};
use crate::page::{Page, WIDTH};
use pithward_geometry::Support;
use pithward_job::{JobLog, PileJob};
use pithward_measure::Length;
use pithward_optimizer::{LogFate, LogPlan, Lot, LotReason, Method};

/// So many neighbours that are sawn alike are drawn together: fewer are shorter said one by one.
const LEAST_TOGETHER: usize = 3;
/// A longer name gets a line of its own.
const WIDEST_ID: usize = 12;
/// The word over the names.
const LEAST_ID: usize = "log".len();
/// The words over the sizes.
const SIZE_HEAD: &str = "small end x length";
/// A wider size pushes its own words aside.
const WIDEST_SIZE: usize = 24;

/// Every lot.
pub(super) fn order(page: &mut Page, whole: &Whole<'_>) {
    let logs = whole.sequence.len();
    if logs == 0 {
        return;
    }
    let lots = count(whole.plan.order.len(), "lot", "lots");
    page.heading("ORDER OF SAWING", &format!("{} in {lots}", count(logs, "log", "logs")));
    page.blank();
    let columns = Columns::of(whole);
    page.line(&(columns.lead("no", "log", SIZE_HEAD) + "what it gives"));
    let mut so_far = SoFar { counts: vec![0; whole.job.wants.len()], sawn: 0 };
    for (n, lot) in whole.plan.order.iter().enumerate() {
        let woods = woods(whole, &lot.logs);
        heading(page, whole, n, lot, &woods, so_far.sawn);
        let mut rest = lot.logs.as_slice();
        while !rest.is_empty() {
            let (together, after) = rest.split_at(together(whole, rest, &so_far.counts));
            let row = Row { lot, logs: together, mixed: woods.len() > 1, from: so_far.sawn + 1 };
            let (grown, filled) = so_far.add(whole, together);
            match together {
                [log] => one(page, whole, &columns, &row, *log, &grown),
                _ => alike(page, whole, &columns, &row, &grown),
            }
            for words in filled {
                page.hang(&format!("  {:>n$}  ", ">>", n = columns.number), &words);
            }
            rest = after;
        }
    }
}

/// Logs that are told in one breath.
struct Row<'a> {
    lot: &'a Lot,
    logs: &'a [usize],
    /// The lot has logs of more than one wood.
    mixed: bool,
    /// Number of the first in the order, from 1.
    from: usize,
}

/// Why the logs of a lot stand together, in words.
pub(crate) fn reason(whole: &Whole<'_>, reason: LotReason) -> String {
    match reason {
        LotReason::Blocking => {
            "blocking and stickers first, so that all else can be stacked on them; the poorest \
                                logs first"
                .to_owned()
        }
        LotReason::Only(want) => {
            let gives = |log: &usize| match &whole.plan.logs[*log] {
                LogFate::Sawn(plan) => plan.products.iter().any(|product| product.cut.want == want),
                _ => false,
            };
            let only = LotReason::Only(want);
            let before = whole.plan.order.iter().take_while(|lot| lot.reason != only);
            let which =
                if before.flat_map(|lot| &lot.logs).any(gives) { "the other" } else { "the only" };
            format!(
                "{which} logs that can give {}, so that its count is known early",
                whole.want(want.0)
            )
        }
        LotReason::Alike { method, cant } => {
            let cant = cant.map_or(String::new(), |cant| {
                format!(", {} from face to face", height(whole.job, cant))
            });
            format!("sawn alike, {}{cant}", method.name().replace(", ", " "))
        }
    }
}

/// How a log is sawn, in short: `two-sided cant 8 in`.
pub(super) fn way(job: &PileJob, plan: &LogPlan) -> String {
    let cant = cant(plan).map_or(String::new(), |cant| format!(" {}", height(job, cant)));
    plan.method.name().replace(", ", " ") + &cant
}

/// The height of a log's cant between its first two faces, where it is squared once.
fn cant(plan: &LogPlan) -> Option<Length> {
    if plan.method == Method::Around {
        return None;
    }
    let (_, before) = plan.order.stages.split_last()?;
    let faced = before.iter().find(|stage| matches!(stage.rest.on, Support::Face(_)))?;
    faced.passes.last().map(|pass| pass.height)
}

fn heading(
    page: &mut Page,
    whole: &Whole<'_>,
    n: usize,
    lot: &Lot,
    woods: &[Option<String>],
    before: usize,
) {
    let (first, last) = (before + 1, before + lot.logs.len());
    let numbers = if first == last {
        format!("number {first}")
    } else {
        format!("numbers {first} to {last}")
    };
    let wood = match woods {
        [Some(wood)] => format!(", {wood}"),
        _ => String::new(),
    };
    let words = format!("{numbers}{wood}: {}", reason(whole, lot.reason));
    page.blank();
    page.hang(&format!("  LOT {:<2}  ", n + 1), &words);
}

/// The woods of some logs, each once.
fn woods(whole: &Whole<'_>, logs: &[usize]) -> Vec<Option<String>> {
    let mut woods: Vec<Option<String>> = Vec::new();
    for log in logs.iter().filter_map(|log| whole.job.logs.get(*log)) {
        let wood = log.species.map(names::species);
        if !woods.contains(&wood) {
            woods.push(wood);
        }
    }
    woods
}

/// How wide the columns of a log's line are.
struct Columns {
    number: usize,
    id: usize,
    size: usize,
}

impl Columns {
    fn of(whole: &Whole<'_>) -> Self {
        let widest = |texts: &mut dyn Iterator<Item = String>| {
            texts.map(|text| text.chars().count()).max().unwrap_or(0)
        };
        let logs = || whole.sequence.iter().filter_map(|log| whole.job.logs.get(*log));
        Self {
            number: whole.sequence.len().to_string().len().max(2),
            id: widest(&mut logs().map(|log| log.id.clone())).clamp(LEAST_ID, WIDEST_ID),
            size: widest(&mut logs().map(|log| size(whole, log)))
                .clamp(SIZE_HEAD.len(), WIDEST_SIZE),
        }
    }

    fn lead(&self, number: &str, id: &str, size: &str) -> String {
        let Self { number: n, id: i, size: s } = self;
        format!("  {number:>n$}  {id:<i$}  {size:<s$}  ")
    }
}

/// Small end and length.
fn size(whole: &Whole<'_>, log: &JobLog) -> String {
    format!("{} x {}", height(whole.job, log.log.small_end()), long(whole.job, log.log.length()))
}

/// What a log gives, and how, as far as its lot does not say it.
fn words(whole: &Whole<'_>, row: &Row<'_>, log: usize) -> String {
    let mut words = gives(whole.job, &whole.counts(log));
    if let Some(plan) = whole.log_plan(log) {
        match (row.lot.reason, cant(plan)) {
            (LotReason::Alike { cant: None, .. }, Some(cant)) => {
                words += &format!("; cant {}", height(whole.job, cant));
            }
            (LotReason::Alike { .. }, _) => {}
            (LotReason::Blocking | LotReason::Only(_), _) => {
                words += &format!("; {}", way(whole.job, plan));
            }
        }
    }
    let wood = whole.job.logs.get(log).and_then(|log| log.species);
    if let (true, Some(wood)) = (row.mixed, wood) {
        words += &format!("; {}", names::species(wood));
    }
    words
}

fn one(
    page: &mut Page,
    whole: &Whole<'_>,
    columns: &Columns,
    row: &Row<'_>,
    log: usize,
    grown: &str,
) {
    let (id, number) = (whole.id(log), row.from.to_string());
    let size = whole.job.logs.get(log).map_or(String::new(), |log| size(whole, log));
    let words = words(whole, row, log);
    let words = with_shape(whole, columns, words, log);
    if id.chars().count() > columns.id {
        page.hang(&format!("  {number:>n$}  ", n = columns.number), id);
        gives_and_counts(page, columns, &columns.lead("", "", &size), &words, grown);
    } else {
        gives_and_counts(page, columns, &columns.lead(&number, id, &size), &words, grown);
    }
}

/// What a log gives, and behind it what it is beside round and straight, where that takes no line more.
fn with_shape(whole: &Whole<'_>, columns: &Columns, words: String, log: usize) -> String {
    let Some(shape) = shape(whole, log) else { return words };
    let with = format!("{words}; {shape}");
    let lead = columns.lead("", "", "");
    let lines = |words: &str| {
        let mut page = Page::default();
        page.hang(&lead, words);
        page.finish().lines().count()
    };
    if lines(&with) == lines(&words) { with } else { words }
}

/// What a log is beside round and straight.
fn shape(whole: &Whole<'_>, log: usize) -> Option<String> {
    let log = whole.job.logs.get(log)?;
    grown::short(whole.job, &log.log, &log.told)
}

/// What comes out, and behind it the counts that grow: on one line where there is room.
fn gives_and_counts(page: &mut Page, columns: &Columns, lead: &str, words: &str, grown: &str) {
    let one = format!("{words}; {grown}");
    if grown.is_empty() {
        page.hang(lead, words);
    } else if lead.chars().count() + one.chars().count() <= WIDTH {
        page.hang(lead, &one);
    } else {
        page.hang(lead, words);
        page.hang(&columns.lead("", "", ""), grown);
    }
}

/// Neighbours that are sawn alike, drawn together.
fn alike(page: &mut Page, whole: &Whole<'_>, columns: &Columns, row: &Row<'_>, grown: &str) {
    let Some(first) = row.logs.first() else { return };
    let logs = || row.logs.iter().filter_map(|log| whole.job.logs.get(*log));
    let small = || logs().map(|log| log.log.small_end());
    let ends = [small().min(), small().max()];
    let small = match ends.map(|end| height(whole.job, end.unwrap_or_default())) {
        [least, most] if least == most => least,
        [least, most] => format!("{least} to {most}"),
    };
    let length = logs().next().map(|log| log.log.length()).unwrap_or_default();
    let numbers = format!("{} to {}", row.from, row.from + row.logs.len() - 1);
    page.hang(
        &format!("  {numbers:>n$}  ", n = columns.number),
        &format!("{}: {small} x {}", whole.ids(row.logs), long(whole.job, length)),
    );
    let words = format!("each {}", words(whole, row, *first));
    gives_and_counts(page, columns, &columns.lead("", "", ""), &words, grown);
}

/// How many logs from the first on are sawn alike; a want that is filled ends them.
fn together(whole: &Whole<'_>, logs: &[usize], counts: &[u32]) -> usize {
    let Some(first) = logs.first() else { return 1 };
    let key = |log: usize| {
        let wood = whole.job.logs.get(log).and_then(|log| log.species).map(|wood| &wood.name);
        let length = whole.job.logs.get(log).map(|log| log.log.length());
        let plan = whole.log_plan(log);
        (
            wood,
            length,
            plan.map(|plan| (plan.method, cant(plan))),
            whole.counts(log),
            shape(whole, log),
        )
    };
    let alike = key(*first);
    let mut counts = counts.to_vec();
    let mut n = 0;
    for log in logs {
        if n > 0 && key(*log) != alike {
            break;
        }
        n += 1;
        let before = counts.clone();
        for (count, more) in counts.iter_mut().zip(&alike.3) {
            *count += more;
        }
        if (0..counts.len()).any(|want| fills(whole, want, before[want], counts[want])) {
            break;
        }
    }
    if n < LEAST_TOGETHER { 1 } else { n }
}

/// Whether a want is filled between two counts.
fn fills(whole: &Whole<'_>, want: usize, before: u32, after: u32) -> bool {
    whole.wanted(want).is_some_and(|wanted| before < wanted && after >= wanted)
}

/// What has been sawn.
struct SoFar {
    counts: Vec<u32>,
    sawn: usize,
}

impl SoFar {
    /// Adds logs; the counts that they change, in words, and the wants that they fill.
    fn add(&mut self, whole: &Whole<'_>, logs: &[usize]) -> (String, Vec<String>) {
        let before = self.counts.clone();
        for log in logs {
            for (count, more) in self.counts.iter_mut().zip(whole.counts(*log)) {
                *count += more;
            }
        }
        self.sawn += logs.len();
        let (mut grown, mut filled): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
        for (want, (was, is)) in before.iter().zip(&self.counts).enumerate() {
            let (true, Some(wanted)) = (is > was, whole.wanted(want)) else { continue };
            if fills(whole, want, *was, *is) {
                filled.push(filled_words(whole, want, *is, wanted));
            } else if *is < wanted {
                grown.push(format!("{} {is} of {wanted}", whole.want(want)));
            }
        }
        let grown =
            if grown.is_empty() { String::new() } else { format!("now {}", grown.join(", ")) };
        (grown, filled)
    }
}

/// The mark that an item is filled.
pub(crate) fn filled_words(whole: &Whole<'_>, want: usize, is: u32, wanted: u32) -> String {
    let over = match is.saturating_sub(wanted) {
        0 => String::new(),
        over => format!(" and {over} over"),
    };
    let then = match whole.job.wants.get(want).map(|want| (want.worth, want.extra)) {
        Some((worth, Some(extra))) if worth == extra => "more are welcome",
        Some((_, Some(_))) => "more are welcome, for less",
        _ => "stop",
    };
    format!("{} FILLED, {wanted} of {wanted}{over}: {then}", whole.want(want))
}

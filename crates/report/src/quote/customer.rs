//! The customer's sheet: what comes out, what it costs, what must be ready, what stays.

use pithward_measure::Length;
use pithward_optimizer::LogFate;
use pithward_trade::{SizePolicy, WaneLimit};

use super::{Quoted, bill, range, site, words};
use crate::grade_words;
use crate::names::{self, capital, count, long};
use crate::paper::{Paper, Side, Table};
use crate::pile::short;

/// What is promised to whoever owns the logs, in words that need no sawyer.
pub fn customer_sheet(quoted: &Quoted<'_>) -> Paper {
    let mut paper = Paper::new(quoted.title("What to expect of the day at the mill"));
    paper.say(format!(
        "From {}, sawn on your ground with a band mill. Figures are reckoned from the logs as they were measured; wood \
         holds what nobody sees, so they are expectations, and no warranty.",
        quoted.logs()
    ));
    lumber(&mut paper, quoted);
    cost(&mut paper, quoted);
    paper.heading("Please have ready");
    paper.ticks(site::to_be_ready(quoted));
    stays(&mut paper, quoted);
    rests_on(&mut paper, quoted);
    words_used(&mut paper, quoted);
    paper.heading("Please note");
    paper.caution(
        "Logs roll and a blade can break: keep everybody away from the pile, the mill and its far end unless the sawyer \
         asks them in.",
    );
    paper.caution(grade_words::STAMP);
    paper.caution(
        "Some places limit where logs, bark and firewood may be moved (insects, diseases): ask before anything leaves the \
         yard.",
    );
    paper.heading("Agreed");
    paper.blanks(&["customer", "telephone", "date", "valid until", "sawyer"]);
    paper
}

fn lumber(paper: &mut Paper, quoted: &Quoted<'_>) {
    paper.heading("What comes out");
    if let Some(forecast) = quoted.forecast {
        paper.table(range::customers_list(quoted, forecast));
        paper.say(range::COLUMNS);
        paper.say(format!(
            "In all {}. Sizes are {}.",
            range::feet(quoted, forecast),
            sizes(quoted)
        ));
    } else {
        planned(paper, quoted);
    }
    let short = quoted.plan.shortages.iter();
    paper.items(
        short
            .map(|shortage| capital(&short::sentence(quoted.job, quoted.pile, shortage)))
            .collect(),
    );
}

/// What the plan gives, where no range was reckoned.
fn planned(paper: &mut Paper, quoted: &Quoted<'_>) {
    let mut table = Table::new(&[
        ("size", Side::Left),
        ("you asked for", Side::Right),
        ("we expect", Side::Right),
        ("of them extra", Side::Right),
    ]);
    for (n, tally) in quoted.plan.tally.iter().enumerate() {
        table.row([
            names::want_row(quoted.job, pithward_optimizer::WantId(n)),
            tally.wanted.map_or_else(|| "any".to_owned(), |wanted| wanted.to_string()),
            (tally.given + tally.extra).to_string(),
            if tally.extra == 0 { String::new() } else { tally.extra.to_string() },
        ]);
    }
    paper.table(table);
    paper.say(format!(
        "In all about {}. Sizes are {}.",
        quoted.lumber_of(quoted.plan.board_feet),
        sizes(quoted),
    ));
}

fn sizes(quoted: &Quoted<'_>) -> &'static str {
    match quoted.job.policy {
        SizePolicy::Full => {
            "full and rough: as thick and as wide as they are named, while the wood is green"
        }
        SizePolicy::Dressed => {
            "nominal and rough: thick enough to dry and plane to the smaller sizes that shops sell by these names"
        }
        SizePolicy::Finished(_) => "finished sizes, sawn with room for drying and planing",
    }
}

fn cost(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, promise, .. } = *quoted;
    let hours = &promise.hours.hours;
    paper.heading("How long, and what it costs");
    if let Some(forecast) = quoted.forecast {
        paper.say(format!("{}.", range::hours(forecast)));
    }
    paper.say(format!(
        "As planned {} on site, on {}: {} of sawing, the rest setting up, packing up and changing blades{}.",
        words::time(hours.on_site()),
        count(hours.days.len(), "day", "days"),
        words::time(hours.at_logs),
        if hours.rests > 0.0 { ", and breaks on top of it" } else { "" },
    ));
    bill::ways(paper, quoted);
    paper
        .items(quoted.forecast.map(|forecast| range::prices(quoted, forecast)).unwrap_or_default());
    paper.items(
        bill::side_by_side(&promise.price).into_iter().chain(bill::an_hour(quoted)).collect(),
    );
    if promise.price.ways().next().is_none() {
        paper.blanks(&[
            "price of an hour",
            "price of a board foot or a board",
            "share of the lumber",
        ]);
    }
    let metal = [
        job.charges.blade.map(|price| format!("a blade that metal ruins: {price}")),
        job.charges
            .strike
            .map(|price| format!("a blade that must be sharpened after metal: {price}")),
    ];
    let metal: Vec<String> = metal.into_iter().flatten().collect();
    if !metal.is_empty() {
        paper.say(format!("On top of it, if it happens, {}.", names::list(&metal)));
    }
    paper.say(
        "Not in it unless it stands above or was agreed: moving and cleaning logs, stacking, hauling, drying, planing, \
         grading, permits."
            .to_owned(),
    );
}

fn stays(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, promise, plan, .. } = *quoted;
    let goods = &promise.goods;
    let residue = &goods.residue;
    paper.heading("What stays on your ground");
    let mut stays = Vec::new();
    let coarse = words::stacked(job, residue.cord_range());
    stays.push(format!(
        "Slabs and edgings: {coarse}, {}. They make firewood once they are dry.",
        words::weight(job, residue.coarse().weight)
    ));
    stays.push(format!(
        "Sawdust: {} loose, {}.",
        words::heap(job, residue.sawdust_loose()),
        words::weight(job, residue.sawdust.weight)
    ));
    let left = plan.logs.iter().filter(|fate| !matches!(fate, LogFate::Sawn(_))).count();
    if left > 0 {
        stays.push(format!(
            "{}: {} unsawn.",
            capital(&count(left, "log", "logs")),
            if left == 1 { "it stays" } else { "they stay" }
        ));
    }
    paper.items(stays);
    loads(paper, quoted);
}

fn loads(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, promise, .. } = *quoted;
    let loads = &promise.goods.loads;
    let all = words::weight(job, loads.weight);
    match loads.payload {
        None => paper.say(format!(
            "The lumber weighs about {all} while it is green. Before it is hauled, hold that against what your truck and \
             trailer may carry."
        )),
        Some(payload) => {
            paper.say(format!(
                "The lumber weighs about {all} while it is green: {} of at most {}.",
                count(loads.loads.len(), "load", "loads"),
                words::weight(job, payload)
            ));
            let over: u32 = loads.over.iter().map(|(_, pieces)| pieces).sum();
            if over > 0 {
                paper.caution(format!(
                    "{} heavier than the whole payload: no load takes {}.",
                    if over == 1 { "One piece is".to_owned() } else { format!("{over} pieces are") },
                    if over == 1 { "it" } else { "them" }
                ));
            }
        }
    }
}

fn rests_on(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, .. } = *quoted;
    paper.heading("What all this rests on");
    let mut rests = vec![
        format!(
            "The logs are as thick, as long and as sound as they were told: {}.",
            quoted.logs()
        ),
        format!(
            "A blade that turns {} of wood to sawdust at every pass{}.",
            names::exact(job, job.mill.kerf),
            match job.trim {
                Length::ZERO => String::new(),
                trim => format!("; {} of trim on every log", long(job, trim)),
            }
        ),
        "No more metal and no more rot than was told. A log with metal in it may be left unsawn."
            .to_owned(),
    ];
    let wane = job.wants.iter().any(|want| want.wane != WaneLimit::Legs(Length::ZERO));
    if wane {
        rests.push("Some edges may show wane, as far as the list allows it.".to_owned());
    }
    rests.push(
        "The first size on the list is filled first; what the wood is best for after that decides."
            .to_owned(),
    );
    paper.items(rests);
}

fn words_used(paper: &mut Paper, quoted: &Quoted<'_>) {
    paper.heading("Words");
    let feet = (!quoted.job.scale.is_metric() || quoted.bills_feet()).then_some(
        "Board foot: a board of one foot by one foot, one inch thick, as it is named; 144 cubic inches.",
    );
    paper.items(
        feet.into_iter()
            .chain([
            "Green: not dried. Green wood shrinks and may bend as it dries; stack it flat on stickers, in the shade, off \
             the ground, with air all round.",
            "Sticker: a dry strip of wood between two layers of a stack.",
            "Kerf: the wood that the blade turns to sawdust.",
            "Wane: bark, or wood that is missing, along an edge.",
            "Slab: the round outside that is sawn off first.",
            "Edging: what is sawn off a board's edges to make them straight.",
            "Trim: the length by which a log is longer than its boards.",
        ])
        .map(str::to_owned)
        .collect(),
    );
}

//! The sawyer's own page: all that follows from the plan, at a glance.

use pithward_day::goods::Goods;

use super::{Quoted, bill, order, range, words};
use crate::grade_words;
use crate::names::{self, count, tenths};
use crate::paper::{Paper, Side, Table};
use crate::pile::short;

/// What a job makes, how long it takes, what it costs, what it needs and what it leaves.
pub fn quote_page(quoted: &Quoted<'_>) -> Paper {
    let mut paper = Paper::new(match quoted.place() {
        place if place.is_empty() => format!("Quote   {}", quoted.logs()),
        place => format!("Quote   {}, {place}", quoted.logs()),
    });
    if quoted.plan.stopped {
        paper.caution(
            "The search was stopped before it was done: all this is of the best plan so far.",
        );
    }
    list(&mut paper, quoted);
    if let Some(forecast) = quoted.forecast {
        paper.heading("The day");
        paper.table(range::day(quoted, forecast));
        range::how(&mut paper, quoted, forecast);
        paper.items(range::drives(quoted, forecast));
    }
    hours(&mut paper, quoted);
    money(&mut paper, quoted);
    material(&mut paper, quoted);
    leaves(&mut paper, quoted);
    paper.heading("Cautions");
    order::heavy(&mut paper, quoted);
    paper.caution(
        "Weights are averages of the wood's kind, green; the mill's manual and the loader's plate rule. Stem wood that is \
         rotten or frozen weighs otherwise.",
    );
    paper.caution(grade_words::STAMP);
    paper
}

fn list(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, plan, pile, .. } = *quoted;
    paper.heading("What comes out");
    if let Some(forecast) = quoted.forecast {
        paper.table(range::list(quoted, forecast));
        paper.items(range::promises(quoted, forecast));
        let short = plan.shortages.iter();
        paper.items(short.map(|shortage| short::sentence(job, pile, shortage)).collect());
        return;
    }
    let mut table = Table::new(&[
        ("size", Side::Left),
        ("asked", Side::Right),
        ("planned", Side::Right),
        ("extra", Side::Right),
        ("short", Side::Right),
    ]);
    for (n, tally) in plan.tally.iter().enumerate() {
        let some = |n: u32| if n == 0 { String::new() } else { n.to_string() };
        table.row([
            names::want_row(job, pithward_optimizer::WantId(n)),
            tally.wanted.map_or_else(|| "any".to_owned(), |wanted| wanted.to_string()),
            tally.given.to_string(),
            some(tally.extra),
            some(tally.short()),
        ]);
    }
    paper.table(table);
    paper.say(format!(
        "{} in all.",
        match job.scale.is_metric() {
            true => quoted.lumber_of(plan.board_feet),
            false => format!("{} board feet", tenths(plan.board_feet)),
        }
    ));
    let short = plan.shortages.iter();
    paper.items(short.map(|shortage| short::sentence(job, pile, shortage)).collect());
}

fn hours(paper: &mut Paper, quoted: &Quoted<'_>) {
    let hours = &quoted.promise.hours.hours;
    paper.heading("Hours, as planned");
    let mut table = Table::new(&[("what", Side::Left), ("takes", Side::Right)]);
    let steps = &hours.steps;
    let mut row = |what: &str, minutes: f64| {
        if minutes >= 0.5 {
            table.row([what.to_owned(), words::time(minutes)]);
        }
    };
    row("setting up", hours.set_up);
    row("loading and levelling", steps.load);
    row("turning", steps.turns);
    row("the blade in the wood", steps.sawing);
    row("the way back, and setting heights", steps.back + steps.set);
    row("taking away", steps.take);
    row("edging, batches handled", steps.edging);
    row("parts taken off and put on again", steps.shifts);
    row("stacking", hours.stacking);
    row("fuel, water, sawdust, talk, waiting", hours.waits);
    row("changing blades", hours.changes);
    row("moving the mill", hours.moves);
    row("covering up overnight", hours.nights);
    row("laying out and emptying the tarp", hours.tidy);
    row("packing up", hours.pack_up);
    table.sum(["on site".to_owned(), words::time(hours.on_site())]);
    paper.table(table);
    let breaks = match hours.rests >= 0.5 {
        true => format!(", and {} of breaks on top", words::time(hours.rests)),
        false => String::new(),
    };
    paper.say(format!("{}{breaks}.", names::capital(&count(hours.days.len(), "day", "days"))));
}

fn money(paper: &mut Paper, quoted: &Quoted<'_>) {
    let price = &quoted.promise.price;
    paper.heading("Price, as planned");
    bill::ways(paper, quoted);
    if price.ways().next().is_none() {
        paper.say(bill::NO_PRICE);
    }
    paper.items(bill::side_by_side(price).into_iter().chain(bill::an_hour(quoted)).collect());
}

fn material(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, promise, .. } = *quoted;
    let supplies = &promise.supplies;
    paper.heading("To bring");
    let many = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    paper.items(vec![
        format!(
            "{}, {} of them spare",
            count(many(supplies.sharp_blades), "sharp blade", "sharp blades"),
            names::number(supplies.spare_blades)
        ),
        format!(
            "{} of fuel: a full tank{}",
            words::fluid(job, supplies.fuel),
            match supplies.spare_cans {
                0 => " is enough".to_owned(),
                cans => format!(" and {}", count(many(cans), "spare can", "spare cans")),
            }
        ),
        format!("{} of water on the blade", words::fluid(job, supplies.water)),
    ]);
}

fn leaves(paper: &mut Paper, quoted: &Quoted<'_>) {
    let Quoted { job, promise, .. } = *quoted;
    let Goods { residue, stacks, loads, .. } = &promise.goods;
    paper.heading("Weights, and what stays");
    let mut table = Table::new(&[
        ("what", Side::Left),
        ("weighs, green", Side::Right),
        ("of the logs", Side::Right),
    ]);
    let lumber = promise.goods.all_lumber();
    let all = residue.of_logs.weight.lb_f64().max(f64::MIN_POSITIVE);
    let mut row = |what: &str, weight: pithward_measure::Weight| {
        let share = names::percent(weight.lb_f64() / all);
        table.row([what.to_owned(), words::weight(job, weight), share]);
    };
    row("lumber", lumber.weight);
    row("slabs", residue.slabs.weight);
    row("edgings", residue.edgings.weight);
    row("ends", residue.ends.weight);
    row("sawdust", residue.sawdust.weight);
    table.sum([
        "logs that are sawn".to_owned(),
        words::weight(job, residue.of_logs.weight),
        String::new(),
    ]);
    paper.table(table);
    let heap = words::stacked(job, residue.cord_range());
    let mut items = vec![
        format!(
            "slabs and edgings: {heap}; sawdust: {} loose, {} of it at the chute",
            words::heap(job, residue.sawdust_loose()),
            words::heap(job, residue.at_the_chute()),
        ),
        format!(
            "{}, {} on stickers; {} stickers",
            count(stacks.stacks.len(), "stack", "stacks"),
            words::weight(job, lumber.weight),
            stacks.stickers
        ),
    ];
    if let Some(payload) = loads.payload {
        items.push(format!(
            "{} of at most {} for the hauler",
            count(loads.loads.len(), "load", "loads"),
            words::weight(job, payload)
        ));
    }
    paper.items(items);
    let over: u32 = loads.over.iter().map(|(_, pieces)| pieces).sum();
    if over > 0 {
        paper.caution(format!("{over} pieces are heavier than the hauler's whole payload."));
    }
}

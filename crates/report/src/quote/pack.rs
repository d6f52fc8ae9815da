//! What the sawyer takes along: computed from the job, and what is always needed.

use pithward_job::{Ground, LogsLie, Moved, Residue};
use pithward_optimizer::LogFate;

use super::{Quoted, words};
use crate::names::{self, count};
use crate::paper::Paper;

/// The pack list of a job.
pub fn pack_list(quoted: &Quoted<'_>) -> Paper {
    let Quoted { job, promise, .. } = *quoted;
    let mut paper = Paper::new(quoted.title("To take along"));
    let hours = &promise.hours.hours;
    paper.say(format!(
        "For {}, {}, about {} on site.",
        quoted.logs(),
        count(hours.days.len(), "day", "days"),
        words::time(hours.on_site())
    ));

    paper.heading("Blades, fuel, water");
    let supplies = &promise.supplies;
    let many = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    let mut stores = vec![
        format!(
            "{}, {} of them spare: the work dulls {}",
            count(many(supplies.sharp_blades), "sharp blade", "sharp blades"),
            names::number(supplies.spare_blades),
            dulled(quoted)
        ),
        format!(
            "fuel for {}: {}, a full tank ({}){}",
            words::time(hours.at_the_saw()),
            words::fluid(job, supplies.fuel),
            words::fluid(job, job.stores.tank),
            match supplies.spare_cans {
                0 => " is enough".to_owned(),
                cans => format!(
                    " and {} of {}",
                    count(many(cans), "spare can", "spare cans"),
                    words::fluid(job, job.stores.can)
                ),
            }
        ),
    ];
    let water = words::fluid(job, supplies.water);
    stores.push(match job.yard.water {
        Some(true) => format!("a hose: there is water on site, {water} are used"),
        Some(false) => format!("water: {water}, there is none on site"),
        None => format!("water: {water}; ask whether there is any on site"),
    });
    if job.yard.frozen {
        stores
            .push("what keeps the blade's water from freezing; blades for frozen wood".to_owned());
    }
    paper.ticks(stores);

    paper.heading("For this job");
    paper.ticks(of_this_job(quoted));

    paper.heading("Always");
    paper.ticks(
        [
            "this job's cards, the list, the customer's sheet, the terms, the tally",
            "tape, crayon, level, square, callipers for small ends",
            "cant hooks, wedges, chocks, shims for the toe, pry bar",
            "metal detector, nail puller, chisel and hammer",
            "chain saw with its fuel, oil and sharp chain",
            "grease, tools for the mill, belts, spare fuses",
            "first aid kit, fire extinguisher, telephone and the address for an ambulance",
            "glasses, ear protection, gloves, boots, for helpers too; dust masks",
            "hitch pin, chains, straps, lights tried, tyres filled; head locked for the road",
        ]
        .map(str::to_owned)
        .to_vec(),
    );
    paper.caution(
        "The mill's manual says what must be checked before it is towed, and before it is started.",
    );
    paper
}

fn dulled(quoted: &Quoted<'_>) -> String {
    let dulled: f64 = quoted.promise.hours.logs.iter().map(|log| log.wear).sum();
    format!("{dulled:.1} of them")
}

/// What this pile, this list and this yard ask for.
fn of_this_job(quoted: &Quoted<'_>) -> Vec<String> {
    let Quoted { job, promise, plan, .. } = *quoted;
    let yard = &job.yard;
    let mut take = Vec::new();
    match yard.ground {
        Ground::Firm => {}
        Ground::Soft => {
            take.push("planks and blocking for soft ground, under every foot and wheel".to_owned());
        }
        Ground::Sloping => {
            take.push("spade and blocking to dig in the feet on the slope; more chocks".to_owned());
        }
    }
    match (yard.logs, yard.moved) {
        (_, Moved::Dragged) => {
            take.push("winch, chain and tongs to drag logs; a second pair of gloves".to_owned());
        }
        (LogsLie::Piled | LogsLie::Scattered, Moved::Rolled) => {
            take.push(
                "ramps and a second cant hook: logs are rolled from where they lie".to_owned(),
            );
        }
        _ => {}
    }
    if yard.dirty {
        take.push("stiff brush, axe or debarking spud: the bark is dirty".to_owned());
    }
    match (yard.residue, yard.tarp) {
        (Residue::Tarp, Some((one, other))) => {
            take.push(format!(
                "tarp of {} by {}, rake, broom",
                names::long(job, one),
                names::long(job, other)
            ));
        }
        (Residue::Tarp, None) => take.push(format!(
            "tarp under the chute for {} of sawdust a day, rake, broom",
            words::heap(job, per_day(quoted))
        )),
        (Residue::Pile, _) => take.push("rake and fork for slabs".to_owned()),
        (Residue::Leave, _) => {}
    }
    let heavy = quoted.too_heavy();
    if let Some(lifts) = job.stores.lifts.filter(|_| !heavy.is_empty()) {
        take.push(format!(
            "a machine for log {}: heavier than the {} that the loader lifts",
            names::list(&heavy),
            words::weight(job, lifts)
        ));
    }
    let metal = job.logs.iter().filter(|log| log.log.flaws().iter().any(is_metal));
    let metal: Vec<&str> = metal.map(|log| log.id.as_str()).collect();
    if !metal.is_empty() {
        take.push(format!("old blades for the metal that was told of log {}", names::list(&metal)));
    }
    let blocking: u32 = job
        .wants
        .iter()
        .zip(&plan.tally)
        .filter(|(want, _)| want.blocking)
        .map(|(_, tally)| tally.given)
        .sum();
    if blocking == 0 && !promise.goods.stacks.stacks.is_empty() {
        take.push("bunks for the first stack, or poor logs to saw into blocking first".to_owned());
    }
    if plan
        .logs
        .iter()
        .any(|fate| matches!(fate, LogFate::Sawn(plan) if !plan.order.resaws.is_empty()))
    {
        take.push(
            "bunks and chocks for parts that are set aside and put back on the mill".to_owned(),
        );
    }
    let stickers = promise.goods.stacks.stickers;
    if stickers > 0 {
        take.push(format!(
            "{stickers} stickers, {} thick and {} long, unless the customer has them",
            words::small(job, promise.goods.stacks.sticker),
            names::long(job, promise.goods.stacks.sticker_length)
        ));
    }
    if job.cuts.is_some() {
        take.push("a second chain: stems are bucked on site".to_owned());
    }
    take.push(format!(
        "sealer for the ends of {}, if the customer wants it",
        quoted.lumber_of(plan.board_feet)
    ));
    take
}

fn is_metal(flaw: &pithward_geometry::Flaw) -> bool {
    flaw.kind == pithward_geometry::FlawKind::Metal
}

fn per_day(quoted: &Quoted<'_>) -> pithward_trade::CubicFeet {
    let days = quoted.promise.hours.hours.days.len().max(1);
    let all = quoted.promise.goods.residue.at_the_chute().get();
    pithward_trade::CubicFeet::new(all / f64::from(u32::try_from(days).unwrap_or(u32::MAX)))
}

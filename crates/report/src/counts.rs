//! How many of one size a log gives, by method.

use crate::card::setup;
use crate::names::{self, percent, tenths};
use crate::obstacle;
use crate::page::{Column, Page};
use pithward_job::LogJob;
use pithward_measure::Size;
use pithward_optimizer::{MethodResult, Obstacle, Planned, WantId};

/// Worth of one piece when pieces are all that counts, millionths.
const ONE_PIECE: i64 = 1_000_000;

/// How many of this size the log gives by each method, and that no way of these methods gives more.
///
/// The job's wants are this size alone, each piece worth one.
pub fn counts(
    job: &LogJob,
    size: &Size,
    planned: Option<&Planned>,
    obstacles: &[Obstacle],
) -> String {
    let mut page = Page::default();
    // With its length, which may not have been typed.
    let size = match job.wants.as_slice() {
        [_] => names::want(job, WantId(0)),
        _ => size.to_string(),
    };
    page.hang(&format!("COUNT OF {size}   "), &setup::log(job));
    page.blank();
    match planned {
        None => {
            page.say(&format!("Not one {size} comes from this log on this mill."));
            obstacle::limits(&mut page, job, obstacles);
        }
        Some(planned) => {
            by_method(&mut page, planned);
            page.blank();
            page.say(&sentence(&size, planned));
            obstacle::limits(&mut page, job, &planned.obstacles);
        }
    }
    page.finish()
}

fn pieces(result: &MethodResult) -> u32 {
    result.tally.iter().map(|tally| tally.given + tally.extra).sum()
}

fn by_method(page: &mut Page, planned: &Planned) {
    let results = &planned.methods;
    let names: Vec<String> = results.iter().map(|result| result.method.name().to_owned()).collect();
    let cells = |cell: &dyn Fn(&MethodResult) -> String| results.iter().map(cell).collect();
    let best = |result: &MethodResult| {
        let best = result.method == planned.plan.method;
        if best { "best".to_owned() } else { String::new() }
    };
    page.table(
        "method",
        &names,
        &[
            Column::new(&["pieces"], cells(&|result| pieces(result).to_string())),
            Column::new(&["bf"], cells(&|result| tenths(result.board_feet))),
            Column::new(&["passes"], cells(&|result| result.passes.to_string())),
            Column::new(&["turns"], cells(&|result| result.turns.to_string())),
            Column::new(&[""], cells(&best)),
        ],
    );
}

fn sentence(size: &str, planned: &Planned) -> String {
    let plan = &planned.plan;
    let most = i64::try_from(plan.products.len()).unwrap_or(i64::MAX);
    let bound = planned.proof.worth_bound.div_euclid(ONE_PIECE);
    let methods = names::spoken_for(&planned.proof.methods);
    let gives = format!(
        "{most} of {size} by {}, {} of the wood.",
        plan.method.name(),
        percent(plan.share_of_solid)
    );
    let proven = if bound <= most {
        "Proven: no way of these methods gives one more".to_owned()
    } else {
        format!("Proven: no way of these methods gives more than {bound}")
    };
    format!("{gives} {proven} ({methods}).")
}

//! What the plan takes for granted: every figure that would change it.

use super::Sheet;
use crate::grade_words;
use crate::grown;
use crate::names::{self, exact, height, long};
use crate::page::Page;
use crate::seen_words;
use crate::terms::Terms;
use pithward_job::{BarkSource, LogJob, MillSource, NamedWant};
use pithward_measure::{Length, Width};
use pithward_optimizer::Method;
use pithward_trade::SizePolicy;

/// Columns of the longest name that is not a size, `tolerance`.
const LEAST_NAME: usize = 9;
/// A size with a longer name pushes its own words aside, not everybody's.
const MOST_NAME: usize = 16;

/// Mill, sizes, bark, wane, trim, tolerance, methods.
pub(super) fn assumed(page: &mut Page, sheet: &Sheet<'_>, searched: &[Method]) {
    let job = sheet.job;
    let sections: Vec<String> =
        job.wants.iter().map(|want| want.size.section().to_string()).collect();
    let longest = sections.iter().map(|section| section.chars().count()).max().unwrap_or(0);
    let width = longest.clamp(LEAST_NAME, MOST_NAME);
    page.heading("ASSUMED", "change any of these and the card changes");
    for (name, words) in [
        ("log", shape(job)),
        ("bark", bark(job)),
        ("mill", mill(job)),
        ("kerf", kerf(job)),
        ("limits", limits(job)),
        ("sizes", policy(job)),
    ] {
        page.hang(&format!("  {name:<width$} "), &words);
    }
    if let Some(words) = seen_words::assumed(job, &[&job.told.seen]) {
        page.hang(&format!("  {:<width$} ", "seen"), &words);
    }
    let mut said: Vec<(String, String)> = Vec::new();
    for (want, section) in job.wants.iter().zip(sections) {
        let line = (section, sawn(job, want));
        if !said.contains(&line) {
            page.hang(&format!("  {:<width$} ", line.0), &line.1);
            said.push(line);
        }
    }
    for (name, words) in [
        ("trim", trim(job)),
        ("tolerance", tolerance(job)),
        ("searched", names::searched(searched, job.settings.taper)),
    ] {
        page.hang(&format!("  {name:<width$} "), &words);
    }
}

pub(crate) fn trim(job: &impl Terms) -> String {
    match job.trim() {
        Length::ZERO => "none: boards are cut to the length that counts".to_owned(),
        trim => format!("{} over the length that counts", exact(job, trim)),
    }
}

pub(crate) fn tolerance(job: &impl Terms) -> String {
    format!(
        "heights are rounded to the scale's marks, never one from another; a thickness or width may \
         be off by {}",
        exact(job, job.tolerance())
    )
}

fn bark(job: &LogJob) -> String {
    let taken_off = if job.told.scanned.is_some() {
        "; taken off what was scanned"
    } else if job.taped_over_bark {
        "; the log was taped over the bark, which was taken off"
    } else {
        "; the log was taped inside the bark"
    };
    let source = match (job.bark, job.species) {
        (BarkSource::Given, _) => "as given".to_owned(),
        (BarkSource::Species, Some(species)) => {
            format!("average share of bark for {}", names::species(species))
        }
        (BarkSource::Species, None) => "average share of bark".to_owned(),
        (BarkSource::None, _) if job.told.scanned.is_some() => {
            return "none: taken as scanned peeled; a log with bark gives less, and lies higher on the \
                    bed, than this card says"
                .to_owned();
        }
        (BarkSource::None, _) => {
            return "none: neither a thickness nor a species was given; a log with bark lies higher \
                    on the bed than this card says"
                .to_owned();
        }
    };
    source + taken_off
}

pub(crate) fn mill(job: &impl Terms) -> String {
    let source = match job.mill_source() {
        MillSource::Generic => "invented and nobody's own: give your own mill's figures".to_owned(),
        MillSource::File(path) => format!("from {path}"),
    };
    format!("{}, {source}", job.mill().name)
}

pub(crate) fn kerf(job: &impl Terms) -> String {
    let mill = job.mill();
    format!(
        "{} a pass, {} a crosscut; scale in {}",
        exact(job, mill.kerf),
        exact(job, mill.crosscut_kerf),
        exact(job, mill.step)
    )
}

pub(crate) fn limits(job: &impl Terms) -> String {
    let mill = job.mill();
    format!(
        "log up to {} across, {} to {} long; {} between the guides, {} above the blade, blade down to \
         {}; {} flitches in a batch",
        height(job, mill.largest_diameter),
        long(job, mill.shortest),
        long(job, mill.longest),
        height(job, mill.widest_cut),
        height(job, mill.deepest_above),
        height(job, mill.lowest_blade),
        mill.edging_batch
    )
}

pub(crate) fn policy(job: &impl Terms) -> String {
    match job.policy() {
        SizePolicy::Full => "full: sawn green exactly as named".to_owned(),
        SizePolicy::Dressed => {
            "dressed: sawn green to dress to the softwood standard's size of that name".to_owned()
        }
        SizePolicy::Finished(finish) => format!(
            "finished: as named when dried to {} % moisture and planed, {} off both faces together; sawn \
             {:.2} standard deviations of {} over the least that does it, so that few come out scant",
            finish.final_moisture_pct,
            exact(job, finish.planing),
            finish.z,
            exact(job, finish.sawing_deviation)
        ),
    }
}

/// What is taken for the log's shape.
fn shape(job: &LogJob) -> String {
    if job.told.taped.is_some() {
        "as it was taped, its middle a smooth bow between the ends, ovals evenly from end to end, the \
         pith straight from end to end but for the bow"
            .to_owned()
    } else if job.told.of_stem && job.log.sections().is_some() {
        "as it follows from the shape of its stem".to_owned()
    } else if job.log.sections().is_some() {
        "as it was measured, straight from station to station".to_owned()
    } else if job.log.flaws().is_empty() {
        "round and straight, pith at the centre".to_owned()
    } else {
        "round and straight, pith at the centre, with the flaws above".to_owned()
    }
}

fn sawn(job: &LogJob, want: &NamedWant) -> String {
    if !want.accepted {
        return "not from this wood".to_owned();
    }
    let (thickness, width) = (exact(job, want.target.thickness), exact(job, want.target.width));
    let up = if matches!(want.size.width, Width::AtLeast(_)) { " and wider" } else { "" };
    let more = match (want.count, want.more_welcome) {
        (Some(_), true) => "; more are welcome",
        (Some(_), false) => "; no more than wanted",
        (None, _) => "; as many as come",
    };
    let wane = names::wane_limit(job, want.wane);
    let allowed = grown::allowed(job, want.heart, want.tolerates);
    let allowed = allowed.into_iter().chain(grade_words::of_log(&want.grade));
    let allowed: String = allowed.map(|words| format!("; {words}")).collect();
    format!("sawn {thickness} x {width}{up}; {wane}{allowed}{more}")
}

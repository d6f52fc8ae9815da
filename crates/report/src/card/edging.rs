//! Edging on the mill, batch by batch: what stands together, what is shimmed, at which heights.

use super::Sheet;
use super::faces::column;
use super::steps::{Step, StepPass};
use crate::names::width;
use crate::page::Page;
use pithward_geometry::{Edging, PartId, Place, Stage, Support};
use pithward_measure::Length;

/// Every batch, in order.
pub(super) fn edging(page: &mut Page, sheet: &Sheet<'_>) {
    let order = &sheet.plan.order;
    let waits = |edging: &&Edging| !sheet.is_finished(edging.part);
    if !order.edgings.iter().any(|edging| waits(&edging)) {
        return;
    }
    page.heading("EDGING", "when the log is done; numbers are the passes that freed them");
    let stages = order.edgings.iter().flat_map(|edging| &edging.stages);
    if centre_lines_slope(sheet) {
        page.say(
            "A waney edge is set by its centre line: how high the middle of the width stands over the \
             bed at either end of the wood.",
        );
    } else if stages.into_iter().any(|stage| shim(sheet, stage.rest.lift) != width(sheet.job, 0.0))
    {
        page.say(
            "A centre line is level when the middle of the width stands equally high over the bed at \
             both ends.",
        );
    }
    if edges_differ(sheet) {
        page.say(
            "Right and left are those of the piece as it came off, the side with its number up and the \
             small end toward you.",
        );
    }
    let mut batches: Vec<&Edging> = order.batches().filter(waits).collect();
    batches.sort_by_key(|edging| edging.batch);
    for lead in batches {
        let together: Vec<&Edging> =
            order.edgings.iter().filter(|edging| edging.batch == lead.batch).collect();
        batch(page, sheet, lead, &together);
    }
}

/// Every batch as steps: how it stands, its passes, what is left.
pub(super) fn steps(sheet: &Sheet<'_>) -> Vec<Step> {
    let order = &sheet.plan.order;
    let mut batches: Vec<&Edging> =
        order.batches().filter(|edging| !sheet.is_finished(edging.part)).collect();
    batches.sort_by_key(|edging| edging.batch);
    let mut steps = Vec::new();
    for lead in batches {
        let together: Vec<&Edging> =
            order.edgings.iter().filter(|edging| edging.batch == lead.batch).collect();
        let place = order.edgings.iter().position(|edging| edging.part == lead.part).unwrap_or(0);
        let title = format!("Edging batch {}: {}", lead.batch, called(sheet, &together));
        let mut number = 0;
        for (n, stage) in lead.stages.iter().enumerate() {
            let mut passes = Vec::with_capacity(stage.passes.len());
            for pass in &stage.passes {
                number += 1;
                passes.push(StepPass {
                    number: None,
                    height: sheet.job.scale.bare(pass.printed).to_string(),
                    drop: String::new(),
                    frees: frees(sheet, &together, PartId::Freed(number), n, stage.rest.on),
                });
            }
            let last = n + 1 == lead.stages.len();
            steps.push(Step {
                title: title.clone(),
                says: vec![stand(sheet, n, stage, &together)],
                place: Some(Place::Edging { edging: place + 1, stage: n + 1 }),
                passes,
                after: last
                    .then(|| format!("left on the bed: {}", on_the_bed(sheet, &together)))
                    .into_iter()
                    .collect(),
            });
        }
    }
    steps
}

/// What stands together, by the passes that freed it.
fn called(sheet: &Sheet<'_>, together: &[&Edging]) -> String {
    let lead = together.first().map_or(PartId::Left, |edging| edging.part);
    let noun = match (sheet.kind(lead), together.len()) {
        (kind, 1) => kind.to_owned(),
        ("flitch", _) => "flitches".to_owned(),
        (kind, _) => format!("{kind}s"),
    };
    let parts: Vec<PartId> = together.iter().map(|edging| edging.part).collect();
    let side_by_side = if together.len() > 1 { ", side by side" } else { "" };
    format!("{noun} {}{side_by_side}, on edge against the stops", sheet.numbers(&parts))
}

/// What lies on the bed after the last pass of a batch.
fn on_the_bed(sheet: &Sheet<'_>, together: &[&Edging]) -> String {
    let rest = strips(sheet, together, PartId::Left);
    if rest.is_empty() { "the rest is waste".to_owned() } else { rest }
}

fn batch(page: &mut Page, sheet: &Sheet<'_>, lead: &Edging, together: &[&Edging]) {
    page.blank();
    page.hang(&format!("  batch {:<2}  ", lead.batch), &called(sheet, together));
    let mut number = 0;
    for (n, stage) in lead.stages.iter().enumerate() {
        page.hang("            ", &stand(sheet, n, stage, together));
        for pass in &stage.passes {
            number += 1;
            let at = column(&sheet.job.scale.bare(pass.printed).to_string());
            let words = frees(sheet, together, PartId::Freed(number), n, stage.rest.on);
            page.hang(&format!("            blade at {at:<11} "), &words);
        }
    }
    page.hang("            left on the bed      ", &on_the_bed(sheet, together));
}

/// How the batch stands in one stage.
fn stand(sheet: &Sheet<'_>, n: usize, stage: &Stage, together: &[&Edging]) -> String {
    let shims = shims(sheet, n, together);
    let up = if n == 0 { edge_up(sheet, together) } else { String::new() };
    match (stage.rest.on, n) {
        (Support::SawnEdge, 0) => format!("Sawn edge down, tight on the bed{up}{shims}."),
        (Support::SawnEdge, _) => format!("TURN OVER, the edge just sawn down on the bed{shims}."),
        _ => format!("Waney edge down{up}{shims}."),
    }
}

/// Whether it matters which edge of a flitch is sawn first: the log is not alike all round.
fn edges_differ(sheet: &Sheet<'_>) -> bool {
    let log = &sheet.job.log;
    log.sections().is_some() || !log.defects().is_empty() || !log.flaws().is_empty()
}

/// Which edge is up at first, where it matters.
fn edge_up(sheet: &Sheet<'_>, together: &[&Edging]) -> String {
    let up = |edging: &&Edging| {
        let rest = edging.stages.first()?.rest.turn.as_millidegrees();
        let turned = (rest - sheet.lay(edging.part)?).rem_euclid(360_000);
        Some((if turned < 180_000 { "right" } else { "left" }.to_owned(), edging.part))
    };
    let differ = edges_differ(sheet);
    let sides = alike(together.iter().filter(|_| differ).filter_map(up));
    match sides.as_slice() {
        [] => String::new(),
        [(side, _)] => format!(", the {side} edge up"),
        sides => {
            let each: Vec<String> = sides
                .iter()
                .map(|(side, parts)| format!("the {side} edge of {} up", sheet.numbers(parts)))
                .collect();
            format!(", {}", each.join(", "))
        }
    }
}

/// Whether centre lines need not be level: the log is not round and straight, or its planes leave its axis.
fn centre_lines_slope(sheet: &Sheet<'_>) -> bool {
    let frame = &sheet.plan.order.frame;
    let drifts = frame.drift_u != Length::ZERO || frame.drift_h != Length::ZERO;
    drifts || sheet.job.log.sections().is_some()
}

/// Where the centre line of a flitch of a log that is not round and straight must stand: it need not be level.
fn centre_lines(sheet: &Sheet<'_>, n: usize, together: &[&Edging]) -> String {
    let middles = &sheet.plan.replayed.edging_middle;
    let stands = |(edging, middles): (&Edging, &Vec<Option<(f64, f64)>>)| {
        let here = together.iter().any(|of| of.part == edging.part);
        let (small, butt) = middles.get(n).copied().flatten().filter(|_| here)?;
        let [small, butt] = [small, butt].map(|middle| width(sheet.job, middle));
        let stands = if small == butt {
            format!("{small} at both ends")
        } else {
            format!("{small} at the small end, {butt} at the butt")
        };
        Some((stands, edging.part))
    };
    let alike = alike(sheet.plan.order.edgings.iter().zip(middles).filter_map(stands));
    match alike.as_slice() {
        [] => String::new(),
        [(stands, _)] => format!("; shim until its centre line stands {stands}"),
        alike => {
            let each: Vec<String> = alike
                .iter()
                .map(|(stands, parts)| format!("on {}: {stands}", sheet.numbers(parts)))
                .collect();
            format!("; shim until the centre line stands, {}", each.join("; "))
        }
    }
}

/// What is shimmed under the small ends: a hint, for it is the centre line that must be level.
fn shims(sheet: &Sheet<'_>, n: usize, together: &[&Edging]) -> String {
    if centre_lines_slope(sheet) {
        let on_bark = |edging: &&&Edging| {
            edging.stages.get(n).is_some_and(|stage| stage.rest.on == Support::Bark)
        };
        return match together.iter().find(on_bark) {
            Some(_) => centre_lines(sheet, n, together),
            None => String::new(),
        };
    }
    let lifts: Vec<Length> = together
        .iter()
        .filter_map(|edging| edging.stages.get(n))
        .map(|stage| stage.rest.lift)
        .collect();
    let [least, most] = [lifts.iter().min(), lifts.iter().max()]
        .map(|lift| shim(sheet, lift.copied().unwrap_or_default()));
    let each = if together.len() > 1 { "every small end" } else { "the small end" };
    let up = match (least == most, most == width(sheet.job, 0.0)) {
        (true, true) => return String::new(),
        (true, false) => format!("about {most}"),
        (false, _) => format!("{least} to {most}"),
    };
    format!("; shim {each} up {up}, until its centre line is level")
}

/// The thickness of a shim, no finer than shims are.
fn shim(sheet: &Sheet<'_>, lift: Length) -> String {
    width(sheet.job, lift.inches_f64())
}

/// What one pass frees from the flitches of a batch.
fn frees(sheet: &Sheet<'_>, together: &[&Edging], strip: PartId, n: usize, on: Support) -> String {
    let strips = strips(sheet, together, strip);
    match (strips.is_empty(), n, on) {
        (false, ..) => strips,
        (true, 0, Support::SawnEdge) => "upper edge off".to_owned(),
        (true, 0, _) => "first edge".to_owned(),
        (true, ..) => "second edge".to_owned(),
    }
}

/// The pieces of one strip, from every flitch of the batch.
fn strips(sheet: &Sheet<'_>, together: &[&Edging], strip: PartId) -> String {
    let sizes = |edging: &&Edging| {
        let pieces = sheet.plan.order.pieces.iter().enumerate();
        let own =
            pieces.filter(|(_, piece)| piece.part == edging.part && piece.strip == Some(strip));
        let sizes = sheet.sizes(own.map(|(n, _)| n));
        (!sizes.is_empty()).then_some((sizes, edging.part))
    };
    let from = alike(together.iter().filter_map(sizes));
    match from.as_slice() {
        [(sizes, parts)] if parts.len() == together.len() => {
            let each = if parts.len() > 1 { " from each" } else { "" };
            format!("{sizes}{each}")
        }
        from => {
            let each: Vec<String> = from
                .iter()
                .map(|(sizes, parts)| format!("{sizes} from {}", sheet.numbers(parts)))
                .collect();
            each.join("; ")
        }
    }
}

/// What is said of parts, each once, with the parts of which it is.
fn alike(said: impl Iterator<Item = (String, PartId)>) -> Vec<(String, Vec<PartId>)> {
    let mut all: Vec<(String, Vec<PartId>)> = Vec::new();
    for (words, part) in said {
        match all.iter_mut().find(|(known, _)| *known == words) {
            Some((_, parts)) => parts.push(part),
            None => all.push((words, vec![part])),
        }
    }
    all
}

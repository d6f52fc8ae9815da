//! What is wrong with the wood of this log, and what that asks of the person at the mill.

use super::Sheet;
use super::bodies::At;
use crate::grown;
use crate::names::{list, numbers, tenths};
use crate::page::Page;
use pithward_geometry::{FlawKind, PartId, replay::Place};
use pithward_optimizer::{Later, NearMetal};

/// Its flaws beside its measures; nothing of a sound log.
pub(super) fn facts(page: &mut Page, sheet: &Sheet<'_>) {
    let flaws: Vec<String> = grown::flaws(&sheet.job.told).collect();
    if !flaws.is_empty() {
        page.hang("  flaws   ", &flaws.join("; "));
    }
}

/// How a pass near metal is marked on its line.
pub(super) const MARK: &str = "METAL NEAR, scan first";

/// Whether a pass, from 1 in its stage of the log or of what is put back of it, comes near metal.
pub(super) fn near_metal(sheet: &Sheet<'_>, at: At, pass: usize) -> bool {
    sheet.plan.replayed.metal.contains(&(Sheet::place(at), pass))
}

/// What to heed before the first cut.
pub(super) fn before(sheet: &Sheet<'_>) -> Vec<String> {
    let mut items = Vec::new();
    let has = |kind| sheet.job.log.flaws().iter().any(|flaw| flaw.kind == kind);
    if has(FlawKind::Metal) {
        items.push(metal(sheet));
    }
    let loose: Vec<&str> = [FlawKind::Hollow, FlawKind::Shake, FlawKind::Split]
        .into_iter()
        .filter(|kind| has(*kind))
        .map(FlawKind::name)
        .collect();
    if !loose.is_empty() {
        items.push(format!(
            "LOOSE WOOD ({}): parts may fall off or spring as they are freed. Clamp where the wood is \
             sound, stand clear at every pass.",
            list(&loose)
        ));
    }
    items
}

/// What metal that was found asks for before the next pass; nothing where there is none.
pub(super) fn found(page: &mut Page, sheet: &Sheet<'_>) {
    if sheet.job.log.flaws().iter().any(|flaw| flaw.kind == FlawKind::Metal) {
        page.item(
            "STOP THE BLADE and let it stand before anyone reaches in. Dig the metal out, all of \
             it, or leave that wood; scan the whole face again. Look at the band for bent or lost \
             teeth before it runs again: the mill's manual rules.",
        );
    }
    before(sheet).iter().for_each(|item| page.item(item));
}

/// Where metal is, which passes come near it, and what to do.
fn metal(sheet: &Sheet<'_>) -> String {
    let told = sheet.job.told.flaws.iter().filter(|flaw| flaw.kind == FlawKind::Metal);
    let told: Vec<&str> = told.map(|flaw| said(&flaw.words)).collect();
    let place = if told.is_empty() { String::new() } else { format!(" ({})", told.join("; ")) };
    format!(
        "METAL{place}: scan each fresh face with a detector before the next pass. {} Where it \
         answers, stop: get it out, or leave that wood. What a blade does that meets metal, the \
         mill's manual knows.",
        passes(sheet)
    )
}

/// What was said of metal, without its name.
fn said(words: &str) -> &str {
    let of = words.strip_prefix(FlawKind::Metal.name()).unwrap_or(words);
    of.trim_start_matches([',', ' '])
}

/// The passes that come near metal, by their numbers, and the faces that they belong to; when they come, and what another
/// way of sawing would take.
fn passes(sheet: &Sheet<'_>) -> String {
    let mut number = 0;
    let (mut near, mut faces): (Vec<PartId>, Vec<String>) = (Vec::new(), Vec::new());
    // Passes clear of metal that come after the first one near it.
    let mut after = 0;
    for resaw in sheet.bodies() {
        for (stage, passes) in sheet.stages(resaw).iter().map(|s| s.passes.len()).enumerate() {
            let at = At { resaw, stage };
            for pass in 1..=passes {
                number += 1;
                if number <= sheet.made {
                    continue;
                }
                if near_metal(sheet, at, pass) {
                    near.push(PartId::Freed(number));
                    let face = sheet.letter(at).to_string();
                    if !faces.contains(&face) {
                        faces.push(face);
                    }
                } else if !near.is_empty() {
                    after += 1;
                }
            }
        }
    }
    let metal = &sheet.plan.replayed.metal;
    let edged = metal.iter().any(|(place, _)| matches!(place, Place::Edging { .. }));
    let edging = if edged { " So do passes of the edging: scan every flitch." } else { "" };
    let inch = if sheet.job.scale.is_metric() { "25 mm" } else { "1 in" };
    let order = match after {
        0 => " What must be sawn near it comes last.".to_owned(),
        1 => " One pass clear of it comes after: of the orders tried this comes near it latest."
            .to_owned(),
        after => format!(
            " {after} passes clear of it come after: of the orders tried this comes near it latest."
        ),
    };
    let later = sheet.plan.later.map(|later| otherwise(sheet, &later)).unwrap_or_default();
    match near.as_slice() {
        [] if edged => format!(
            "No pass of the log comes within {inch} of it, but edging does: scan every flitch."
        ),
        [] => format!("No pass of this plan comes within {inch} of where it is said to be."),
        [_] => format!(
            "Pass {}, of face {}, comes within {inch} of it.{order}{edging}{later}",
            numbers(&near),
            list(&faces)
        ),
        near => {
            let of = if faces.len() == 1 { "face" } else { "faces" };
            format!(
                "Passes {}, of {of} {}, come within {inch} of it.{order}{edging}{later}",
                numbers(near),
                list(&faces)
            )
        }
    }
}

/// Another way of sawing that comes near metal less often or later, and what it costs.
fn otherwise(sheet: &Sheet<'_>, later: &Later) -> String {
    let NearMetal { passes, sooner } = later.near;
    let comes = match passes {
        0 => "no pass would come near it".to_owned(),
        1 => "only one pass would come near it".to_owned(),
        many if many < sheet.plan.near_metal().passes => {
            format!("only {many} passes would come near it")
        }
        many => format!("{many} passes would come near it, but later"),
    };
    let last = if passes > 0 && sooner == 0 { ", the last of the log" } else { "" };
    let costs = match later.board_feet {
        _ if later.worth == 0 => "for the same worth".to_owned(),
        less if less > 0 => format!("for {} bf less", tenths(less)),
        _ => "for boards that are worth less".to_owned(),
    };
    let name = later.method.name();
    format!(" Sawn otherwise ({name}) {comes}{last}, {costs}.")
}

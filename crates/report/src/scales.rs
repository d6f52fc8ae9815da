//! What one log holds, by every rule.

use crate::grown;
use crate::names;
use crate::page::Page;
use pithward_job::{BarkSource, LogScales};
use pithward_measure::Scale;
use pithward_trade::{Confidence, CubicFeet, DiameterRounding};

const INCHES: Scale = Scale::Sixteenths;
const MM: Scale = Scale::Millimetres;

/// The log by each log rule, in cubic measure, and what it weighs, as plain text of at most 80 columns.
///
/// A rule that does not scale this log says why in its place.
pub fn scales(scales: &LogScales) -> String {
    let mut page = Page::default();
    let log = &scales.log;
    let both = |length| format!("{} ({})", INCHES.show_long(length), MM.show_long(length));
    let across = |length| format!("{} ({})", INCHES.show(length), MM.show(length));
    let species =
        scales.species.map_or(String::new(), |species| format!(", {}", names::species(species)));
    let (small_end, butt) = (across(log.small_end()), across(log.butt()));
    page.hang("SCALE   ", &format!("{small_end} small end, {butt} butt, inside the bark"));
    page.hang("        ", &format!("{} long{species}", both(log.length())));
    page.blank();
    if let Some(scanned) = grown::scanned(&scales.told) {
        page.say(&format!("Scanned, {scanned}."));
    }
    if !log.is_round() {
        page.say(
            "The rules read the mean diameter of the small end and the length, as of a round, straight \
             and sound log. What a scaler takes off for sweep, rot, shake or splits is in none of \
             their tables, and is not taken off here.",
        );
    }
    if scales.taped_over_bark {
        let bark = match scales.bark {
            BarkSource::Given => "as given",
            BarkSource::Species => "the species' average",
            BarkSource::None => "none known",
        };
        let how = if scales.told.scanned.is_some() { "Scanned" } else { "Taped" };
        page.say(&format!("{how} over the bark; taken off: {bark}."));
    }
    let rounding = match scales.rounding {
        DiameterRounding::Nearest => "to the nearest inch",
        DiameterRounding::Down => "down to a whole inch",
    };
    let counted = both(log.length() - scales.trim);
    page.say(&format!(
        "The rules scale the small end, rounded {rounding}, and the whole feet of {counted}."
    ));
    page.blank();
    for (rule, scale) in &scales.rules {
        match scale {
            Ok(scale) => page.hang(
                &row(&rule.to_string(), &scale.board_feet.to_string()),
                &format!("board feet ({} in, {} ft)", scale.diameter_in, scale.length_ft),
            ),
            // It begins with the name of the rule.
            Err(fault) => page.say(&fault.to_string()),
        }
    }
    page.blank();
    let grown = CubicFeet::new(log.volume() / names::CUBIC_INCHES_PER_CUBIC_FOOT);
    let grown = log.sections().map(|_| ("as it grew, solid", grown));
    let round = [("straight taper, solid", scales.cone), ("Smalian, solid", scales.smalian)];
    for (name, volume) in grown.into_iter().chain(round) {
        let (feet, metres) = (CubicFeet::get(volume), volume.cubic_metres());
        page.hang(&row(name, &format!("{feet:.2}")), &format!("cubic feet ({metres:.3} m3)"));
    }
    if let Some(weight) = scales.weight {
        let (pounds, each) = (weight.pounds, weight.pounds_per_cubic_foot);
        page.hang(
            &row("weight, about", &format!("{pounds:.0}")),
            &format!("pounds (green, no bark; {each} lb/ft3, {})", trust(weight.confidence)),
        );
    }
    page.finish()
}

/// How far a figure is to be trusted, in words for someone who has not read the tables' README.
fn trust(confidence: Confidence) -> &'static str {
    match confidence {
        Confidence::Read => "published",
        Confidence::Derived => "reckoned",
        Confidence::Memory | Confidence::Weak => "a hint only",
    }
}

/// A name and its figure, the words beside it to follow.
fn row(name: &str, figure: &str) -> String {
    format!("  {name:<24}{figure:>8} ")
}

//! The log by each rule, as a table.

use std::fmt::Write;

use pithward_job::{BarkSource, LogScales};
use pithward_measure::Scale;
use pithward_trade::{CubicFeet, DiameterRounding};

const INCHES: Scale = Scale::Sixteenths;
const MM: Scale = Scale::Millimetres;

/// The figures of one log.
pub(crate) fn table(scales: &LogScales) -> String {
    let mut text = String::new();
    write(&mut text, scales).expect("writing to a string cannot fail");
    text
}

fn write(f: &mut String, scales: &LogScales) -> std::fmt::Result {
    let log = &scales.log;
    let both = |length| format!("{} ({})", INCHES.show_long(length), MM.show_long(length));
    let across = |length| format!("{} ({})", INCHES.show(length), MM.show(length));
    let species = scales.species.map_or(String::new(), |species| format!(", {}", species.name));
    let (small_end, butt) = (across(log.small_end()), across(log.butt()));
    writeln!(f, "small end {small_end}, butt {butt}, inside the bark{species}")?;
    writeln!(f, "length {}", both(log.length()))?;
    let bark = match scales.bark {
        BarkSource::Given => "as given",
        BarkSource::Species => "the species' average",
        BarkSource::None => "none known",
    };
    if scales.taped_over_bark {
        writeln!(f, "taped over the bark; taken off: {bark}")?;
    }
    let rounding = match scales.rounding {
        DiameterRounding::Nearest => "to the nearest inch",
        DiameterRounding::Down => "down to a whole inch",
    };
    let counted = both(log.length() - scales.trim);
    writeln!(f, "scaled: the small end {rounding}, and whole feet of {counted}\n")?;
    for (rule, scale) in &scales.rules {
        match scale {
            Ok(scale) => writeln!(
                f,
                "{:<24}{:>8} board feet   ({} in, {} ft)",
                rule.to_string(),
                scale.board_feet,
                scale.diameter_in,
                scale.length_ft
            )?,
            // It begins with the name of the rule.
            Err(fault) => writeln!(f, "{fault}")?,
        }
    }
    writeln!(f)?;
    for (name, volume) in
        [("straight taper, solid", scales.cone), ("Smalian, solid", scales.smalian)]
    {
        let (feet, metres) = (CubicFeet::get(volume), volume.cubic_metres());
        writeln!(f, "{name:<24}{feet:>8.2} cubic feet   ({metres:.3} m3)")?;
    }
    if let Some(weight) = scales.weight {
        writeln!(
            f,
            "{:<24}{:>8.0} pounds       (green, without bark, {} lb per cubic foot: {})",
            "weight, about", weight.pounds, weight.pounds_per_cubic_foot, weight.confidence
        )?;
    }
    Ok(())
}

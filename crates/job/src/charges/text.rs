//! Prices, minimums and roundings as a person writes them: `75 USD/h`, `0.45 USD/bf`, `1.50 USD/mile`, `4 h`, `15 min up`.

use std::time::Duration;

use pithward_measure::{Excerpt, Length, Money};
use pithward_trade::nearest_word;

use super::{Drive, FootBasis, HourStep, Item, Least, OddWork, Part, Percent, RoundWay};
use crate::fault::{ChargeFault, FaultKind, Misread};
use crate::pace::text::duration;
use crate::typed::Typed;
use crate::worth_text::amount;
use pithward_trade::LogRule;

pub(super) const HOUR_HELP: &str =
    "write what an hour costs with the three letters of its currency, as in \"75 USD/h\"";
pub(super) const FOOT_HELP: &str =
    "write what a board foot costs with the three letters of its currency, as in \"0.45 USD/bf\"";
pub(super) const BOARD_HELP: &str = "write what each board costs up to a size, the smaller first, and what a larger one does, as in [\"4 GBP up to 4x8x20\", \"6 GBP\"]";
pub(super) const PORTION_HELP: &str = "write the sawyer's part, more than nothing and less than all, as in \"half\", \"1/3\" or \"40 %\"";
pub(super) const SHARED_HELP: &str = "write what is shared, each once: all, graded (boards that are wanted by grade), a grade and what is better, or a size, as in \"1 common\" or \"8/4\"";
const DRIVE_HELP: &str =
    "write what a mile or a kilometre costs, as in \"1.50 USD/mile\" or \"0.90 EUR/km\"";
pub(super) const MONEY_HELP: &str =
    "write an amount with the three letters of its currency, as in \"25 USD\"";
const LEAST_HELP: &str = "write the least that is billed, each once: hours, board feet or a sum, as in \"4 h\", \"300 bf\" or \"200 USD\"";
const STEP_HELP: &str = "write what hours are rounded to, from 1 s to 8 h, and nearest, up or down, as in \"15 min up\"";
const PART_HELP: &str = "write a percentage or an amount, as in \"5 %\" or \"50 USD\"";
pub(super) const PERCENT_HELP: &str = "write a percentage, as in 7.25 or \"7.25 %\"";
const BASIS_HELP: &str = "write named, sawn (the sizes that were sawn), international, scribner or doyle (the scale of the logs)";
const ODD_HELP: &str = "write thin, thick, quarter or beams, each once, with a / between them";
const ITEM_HELP: &str =
    "write what is taxed, each once: sawing, moving, set_up, drive, relocation or blades";

const AN_HOUR: [&str; 5] = ["/h", "/hour", "/hr", "per hour", "an hour"];
const A_FOOT: [&str; 6] =
    ["/bf", "/board foot", "per bf", "per board foot", "a board foot", "a bf"];
const A_MILE: [&str; 4] = ["/mile", "/mi", "per mile", "a mile"];
const A_KILOMETRE: [&str; 2] = ["/km", "per km"];

/// A mile, exactly.
pub(crate) const MILE: Length = Length::mm(1_609_344);
/// A kilometre.
pub(crate) const KILOMETRE: Length = Length::mm(1_000_000);

/// The most minutes that hours are rounded to.
const LARGEST_STEP: Duration = Duration::from_secs(8 * 3600);

fn refuse<T>(kind: impl Into<FaultKind>, help: &'static str) -> Result<T, Misread> {
    Err(Misread::new(kind, 0..0, help))
}

/// Reads an amount that is not less than nothing.
pub(super) fn money(text: &str) -> Result<Money, Misread> {
    not_negative(text, MONEY_HELP)
}

pub(super) fn not_negative(text: &str, help: &'static str) -> Result<Money, Misread> {
    match Money::parse(text.trim()) {
        Ok(money) if money.as_ten_thousandths() < 0 => {
            refuse(ChargeFault::Negative { got: Excerpt::new(text) }, help)
        }
        Ok(money) => Ok(money),
        Err(fault) => refuse(ChargeFault::from(fault), help),
    }
}

/// What stands before one of some endings.
pub(super) fn before<'t>(lower: &'t str, endings: &[&str]) -> Option<&'t str> {
    endings.iter().find_map(|ending| lower.strip_suffix(ending)).map(str::trim_end)
}

/// Reads a price of an hour.
pub(super) fn hour(text: &str) -> Result<Money, Misread> {
    price(text, &AN_HOUR, "by the hour", HOUR_HELP)
}

/// Reads a price of a board foot.
pub(super) fn foot(text: &str) -> Result<Money, Misread> {
    price(text, &A_FOOT, "by the board foot", FOOT_HELP)
}

fn price(
    text: &str,
    endings: &[&str],
    per: &'static str,
    help: &'static str,
) -> Result<Money, Misread> {
    let lower = text.trim().to_lowercase();
    match before(&lower, endings) {
        Some(amount) => not_negative(amount, help),
        None => refuse(ChargeFault::NoPrice { per, got: Excerpt::new(text) }, help),
    }
}

/// Reads a price of a mile or a kilometre.
pub(super) fn drive(text: &str) -> Result<Drive, Misread> {
    let lower = text.trim().to_lowercase();
    let read = |endings: &[&str], per| Some((before(&lower, endings)?, per));
    match read(&A_MILE, MILE).or_else(|| read(&A_KILOMETRE, KILOMETRE)) {
        Some((amount, per)) => Ok(Drive { price: not_negative(amount, DRIVE_HELP)?, per }),
        None => {
            let got = Excerpt::new(text);
            refuse(ChargeFault::NoPrice { per: "by the mile", got }, DRIVE_HELP)
        }
    }
}

/// Reads one minimum into the others.
pub(super) fn least(text: &str, least: &mut Least) -> Result<(), Misread> {
    let twice = || refuse(FaultKind::Repeated { what: Excerpt::new(text) }, LEAST_HELP);
    let none = || refuse(ChargeFault::NoMinimum { got: Excerpt::new(text) }, LEAST_HELP);
    let lower = text.trim().to_lowercase();
    if let Some(feet) = before(&lower, &["bf", "board feet"]) {
        let Ok(feet) = amount(feet, 1, 1_000_000_000_000) else { return none() };
        return if least.board_feet.replace(feet).is_some() { twice() } else { Ok(()) };
    }
    if let Some(time) = duration(text) {
        let fits = !time.is_zero() && time <= Duration::from_secs(100 * 3600);
        return match fits {
            true if least.hours.replace(time).is_none() => Ok(()),
            true => twice(),
            false => none(),
        };
    }
    match Money::parse(text.trim()) {
        Ok(money) if money.as_ten_thousandths() > 0 => match least.sum.replace(money) {
            None => Ok(()),
            Some(_) => twice(),
        },
        _ => none(),
    }
}

/// Reads what hours are rounded to.
pub(super) fn hour_step(text: &str) -> Result<HourStep, Misread> {
    let lower = text.trim().to_lowercase();
    let ways = [
        (["nearest", "to the nearest"], RoundWay::Nearest),
        (["up", "rounded up"], RoundWay::Up),
        (["down", "rounded down"], RoundWay::Down),
    ];
    let told = ways.iter().find_map(|(words, way)| {
        let [short, long] = words;
        Some((before(&lower, &[*long, *short])?, *way))
    });
    let (time, way) = told.unwrap_or((lower.as_str(), RoundWay::Nearest));
    match duration(time) {
        Some(to) if to >= Duration::from_secs(1) && to <= LARGEST_STEP => Ok(HourStep { to, way }),
        _ => refuse(ChargeFault::NoRounding { got: Excerpt::new(text) }, STEP_HELP),
    }
}

/// Reads a share or an amount.
pub(super) fn part(text: &str) -> Result<Part, Misread> {
    match text.trim().ends_with('%') {
        true => percent(text, 100).map(Part::Share),
        false => not_negative(text, PART_HELP).map(Part::Sum),
    }
}

/// Reads a percentage of nothing to so much, exactly.
pub(super) fn percent(text: &str, greatest: u32) -> Result<Percent, Misread> {
    let number = text.trim();
    let number = number.strip_suffix('%').unwrap_or(number).trim_end();
    match amount(number, 0, i64::from(greatest) * 1_000_000) {
        Ok(millionths) => Ok(Percent(millionths)),
        Err(fault) => {
            let got = Excerpt::new(text);
            match *fault.kind {
                FaultKind::AmountRange { .. } => {
                    refuse(ChargeFault::Percent { greatest, got }, PERCENT_HELP)
                }
                _ => refuse(FaultKind::NoPercentage { got }, PERCENT_HELP),
            }
        }
    }
}

/// Reads what board feet are counted of.
pub(super) fn basis(text: &str) -> Result<FootBasis, Misread> {
    const WORDS: [(&str, FootBasis); 5] = [
        ("named", FootBasis::Named),
        ("sawn", FootBasis::Sawn),
        ("international", FootBasis::Scale(LogRule::International)),
        ("scribner", FootBasis::Scale(LogRule::Scribner)),
        ("doyle", FootBasis::Scale(LogRule::Doyle)),
    ];
    let word = text.trim().to_lowercase();
    if let Some((_, basis)) = WORDS.iter().find(|(known, _)| *known == word) {
        return Ok(*basis);
    }
    let nearest = nearest_word(&word, &WORDS.map(|(known, _)| known));
    let got = Excerpt::new(text);
    refuse(FaultKind::Unknown { what: "way to count board feet", got, nearest }, BASIS_HELP)
}

/// The words of a text with a stroke or a comma between them, each as a part of it.
pub(super) fn words(typed: &Typed) -> Vec<Typed> {
    let mut parts = Vec::new();
    let Some(text) = typed.text.as_deref() else { return parts };
    let mut from = 0;
    for word in text.split(['/', ',']) {
        let start = from + word.len() - word.trim_start().len();
        parts.push(typed.part(start..start + word.trim().len()));
        from += word.len() + 1;
    }
    parts
}

/// Reads one kind of odd work into the others.
pub(super) fn odd(text: &str, odd: &mut OddWork) -> Result<(), Misread> {
    let word = text.trim().to_lowercase();
    let is = match word.as_str() {
        "thin" => &mut odd.thin,
        "thick" => &mut odd.thick,
        "quarter" => &mut odd.quarter,
        "beams" => &mut odd.beams,
        _ => {
            let nearest = nearest_word(&word, &["thin", "thick", "quarter", "beams"]);
            let got = Excerpt::new(text);
            return refuse(FaultKind::Unknown { what: "odd work", got, nearest }, ODD_HELP);
        }
    };
    if std::mem::replace(is, true) {
        return refuse(FaultKind::Repeated { what: Excerpt::new(text) }, ODD_HELP);
    }
    Ok(())
}

/// Reads one item that is taxed into the others.
pub(super) fn item(text: &str, items: &mut Vec<Item>) -> Result<(), Misread> {
    let word = text.trim().to_lowercase();
    let got = Excerpt::new(text);
    match Item::ALL.into_iter().find(|item| item.word() == word) {
        Some(item) if items.contains(&item) => refuse(FaultKind::Repeated { what: got }, ITEM_HELP),
        Some(item) => {
            items.push(item);
            Ok(())
        }
        None => {
            let nearest = nearest_word(&word, &Item::ALL.map(Item::word));
            refuse(FaultKind::Unknown { what: "item of a bill", got, nearest }, ITEM_HELP)
        }
    }
}

//! The parts of a text that says what was seen.

use std::ops::Range;

use pithward_measure::Excerpt;
use pithward_trade::nearest_word;

use super::form::Kind;
use crate::fault::{Fault, FaultKind, Misread};
use crate::parts::{self, Parts};
use crate::typed::Typed;

const KIND_HELP: &str = "write knot, bump, seam, scar, hole, shell or quality, and behind it where it is on the clock, how far from the butt and how large, as in knot 2:30 3 ft 2 in 2 in";

/// Words that belong to the value before them.
const UNITS: [&str; 20] = [
    "in", "inch", "inches", "\"", "ft", "foot", "feet", "'", "mm", "cm", "m", "metre", "metres",
    "meters", "degrees", "degree", "deg", "\u{b0}", "o'clock", "oclock",
];
const FEET: [&str; 4] = ["ft", "foot", "feet", "'"];
const INCHES: [&str; 4] = ["in", "inch", "inches", "\""];

/// The kind of a text and its parts; `None` where nobody knows the kind.
pub(super) fn of_text(typed: &Typed, faults: &mut Vec<Fault>) -> Option<(Kind, Parts)> {
    let text = typed.text.as_deref()?;
    let at = parts::words(text).into_iter().next().unwrap_or(0..text.len());
    let word = text[at.clone()].to_lowercase();
    let place = Kind::WORDS.iter().position(|known| *known == word);
    let Some(place) = place else {
        let got = Excerpt::new(&text[at.clone()]);
        let nearest = nearest_word(&word, &Kind::WORDS);
        let kind = FaultKind::Unknown { what: "thing that is seen on a log", got, nearest };
        faults.push(typed.placed(Misread::new(kind, at, KIND_HELP)));
        return None;
    };
    let kind = Kind::ALL[place];
    Some((kind, parts(kind, typed, at.end, faults)))
}

/// The parts of a text from a byte on.
pub(super) fn parts(kind: Kind, typed: &Typed, from: usize, faults: &mut Vec<Fault>) -> Parts {
    let text = typed.text.as_deref().unwrap_or_default();
    // An hour is the name of a quarter in a table, and a number in a text.
    let keys = if kind.is_of_quarters() {
        Vec::new()
    } else {
        parts::keys(text, kind.form()).into_iter().filter(|(_, at)| at.start >= from).collect()
    };
    let first = keys.first().map_or(text.len(), |(_, at)| at.start);
    let mut found = values(kind, text, from..first);
    for (n, (key, at)) in keys.iter().enumerate() {
        let end = keys.get(n + 1).map_or(text.len(), |(_, next)| next.start);
        found.push((*key, parts::trimmed(text, at.end..end)));
    }
    // One value is said of all quarters.
    if kind.is_of_quarters()
        && let [(_, at)] = &found[..]
    {
        found = kind.first().iter().map(|part| (*part, at.clone())).collect();
    }
    Parts::of_found(typed, found, faults)
}

/// Values without a word, each with the part that it is.
fn values(kind: Kind, text: &str, at: Range<usize>) -> Vec<(&'static str, Range<usize>)> {
    let words = parts::words(&text[at.clone()]).into_iter();
    let words = words.map(|word| at.start + word.start..at.start + word.end);
    let mut values: Vec<Range<usize>> = Vec::new();
    for word in words {
        match values.last_mut() {
            Some(last) if goes_on(&text[last.clone()], &text[word.clone()]) => last.end = word.end,
            _ => values.push(word),
        }
    }
    let parts = kind.first();
    // The clock is never a part of a length.
    let mut n = usize::from(!kind.is_of_quarters());
    while values.len() > parts.len() && n + 1 < values.len() {
        if is_one(&text[values[n].clone()], &text[values[n + 1].clone()]) {
            values[n].end = values[n + 1].end;
            values.remove(n + 1);
        }
        n += 1;
    }
    // What is still too much is a fault of the last.
    if values.len() > parts.len()
        && let Some(end) = values.last().map(|value| value.end)
    {
        values.truncate(parts.len());
        values[parts.len() - 1].end = end;
    }
    parts.iter().copied().zip(values).collect()
}

/// Whether a word belongs to the value before it.
fn goes_on(before: &str, word: &str) -> bool {
    let (before, word) = (before.to_lowercase(), word.to_lowercase());
    let last = before.split_whitespace().next_back().unwrap_or_default();
    UNITS.contains(&&*word)
        || word == "off"
        || matches!(last, "off" | "the")
        || (last == "small" && word == "end")
        || (is_digits(&before) && is_fraction(&word))
}

/// Whether two values are one length, feet and inches or a whole number and a fraction.
fn is_one(one: &str, other: &str) -> bool {
    let ends = |text: &str, units: [&str; 4]| {
        let text = text.to_lowercase();
        let unit =
            text.trim_start_matches(|c: char| !c.is_alphabetic() && !matches!(c, '"' | '\''));
        units.contains(&unit)
    };
    (ends(one, FEET) && ends(other, INCHES))
        || (is_digits(one)
            && other.starts_with(|c: char| c.is_ascii_digit())
            && other.contains('/'))
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

fn is_fraction(text: &str) -> bool {
    text.split_once('/').is_some_and(|(over, under)| is_digits(over) && is_digits(under))
}

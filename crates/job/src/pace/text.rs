//! Times, speeds and areas as a person writes them: `90 s`, `2 h`, `35 ft/min`, `32 ft/min at 10 in`, `600 ft2`.

use std::ops::RangeInclusive;
use std::time::Duration;

use pithward_measure::{Excerpt, Length, Unit};

use super::Feed;
use crate::fault::{FaultKind, Misread, PaceFault};

const TIME_HELP: &str = "write a number with its unit, as in \"90 s\" or \"1.5 min\"";
const SPEED_HELP: &str = "write how far in a minute, as in \"90 ft/min\" or \"27 m/min\"";
const FEED_HELP: &str =
    "write how far in a minute at which width of cut, as in \"32 ft/min at 10 in\"";
const AREA_HELP: &str =
    "write a sawn area with its unit, as in \"600 ft2\" or \"55 m2\", from 20 to 20000 ft2";

/// The longest that one step takes; more is a slip of the unit.
const MOST_TIME: Duration = Duration::from_secs(3600);
/// The slowest and the fastest that a blade travels in a minute.
const SPEEDS: (Length, Length) = (Length::inches(6), Length::feet(400));
/// Areas that a blade saws, square feet.
const AREAS: RangeInclusive<f64> = 20.0..=20_000.0;
/// Square feet in a square metre.
const SQUARE_METRE: f64 = 1.0 / (0.3048 * 0.3048);
/// The widths that a feed is told at.
const WIDTHS: (Length, Length) = (Length::inches(1), Length::inches(60));

/// Reads the time of one step.
pub(crate) fn time(text: &str) -> Result<Duration, Misread> {
    let refuse = |kind| Err(Misread::new(kind, 0..0, TIME_HELP));
    match duration(text) {
        None => refuse(PaceFault::NoTime { got: Excerpt::new(text) }),
        Some(time) if time > MOST_TIME => refuse(PaceFault::TimeRange { got: Excerpt::new(text) }),
        Some(time) => Ok(time),
    }
}

/// Reads a longer time, within limits.
pub(crate) fn long(
    limits: RangeInclusive<Duration>,
    help: &'static str,
) -> impl Fn(&str) -> Result<Duration, Misread> {
    move |text| {
        let got = Excerpt::new(text);
        let refuse = |kind| Err(Misread::new(kind, 0..0, help));
        match duration(text) {
            None => refuse(PaceFault::NoTime { got }),
            Some(time) if limits.contains(&time) => Ok(time),
            Some(_) => {
                let (least, greatest) = (*limits.start(), *limits.end());
                refuse(PaceFault::Span { least, greatest, got })
            }
        }
    }
}

/// A time with its unit, seconds to hours, to the millisecond.
pub(crate) fn duration(text: &str) -> Option<Duration> {
    let lower = text.trim().to_lowercase();
    let number = lower.trim_end_matches(|c: char| c.is_alphabetic()).trim_end();
    let millis = match lower[number.len()..].trim() {
        "s" | "sec" | "second" | "seconds" => 1_000,
        "min" | "minute" | "minutes" => 60_000,
        "h" | "hr" | "hour" | "hours" => 3_600_000,
        _ => return None,
    };
    let (whole, places) = number.split_once('.').unwrap_or((number, "0"));
    let digits = |part: &str| {
        (1..=4).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    if !digits(whole) || !digits(places) {
        return None;
    }
    let parts: u64 = format!("{whole}{places:0<4}").parse().ok()?;
    Some(Duration::from_millis(parts * millis / 10_000))
}

/// Reads what a blade saws before it is changed, in square feet.
pub(super) fn area(text: &str) -> Result<f64, Misread> {
    let refuse = |kind| Err(Misread::new(kind, 0..0, AREA_HELP));
    let got = Excerpt::new(text);
    let lower = text.trim().to_lowercase().replace('\u{b2}', "2");
    let units = [
        ("ft2", 1.0),
        ("sq ft", 1.0),
        ("square feet", 1.0),
        ("m2", SQUARE_METRE),
        ("square metres", SQUARE_METRE),
    ];
    let read = units.iter().find_map(|(unit, feet)| Some((lower.strip_suffix(unit)?.trim(), feet)));
    let plain = |number: &str| {
        let fits = (1..=12).contains(&number.len());
        fits && number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.')
    };
    let area = read.filter(|(number, _)| plain(number));
    let area = area.and_then(|(number, feet)| Some(number.parse::<f64>().ok()? * feet));
    match area {
        None => refuse(PaceFault::NoArea { got }),
        Some(area) if AREAS.contains(&area) => Ok(area),
        Some(_) => refuse(PaceFault::AreaRange { got }),
    }
}

/// Reads how far something goes in a minute.
pub(super) fn speed(text: &str) -> Result<Length, Misread> {
    per_minute(text, SPEED_HELP)
}

/// Reads how far in a minute at which width.
pub(super) fn feed(text: &str) -> Result<Feed, Misread> {
    let Some((speed, at)) = text.split_once(" at ") else {
        let kind = PaceFault::NoSpeed { got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, FEED_HELP));
    };
    let per_minute = per_minute(speed, FEED_HELP)?;
    Ok(Feed { per_minute, at: with_unit(at, WIDTHS, FEED_HELP)? })
}

fn per_minute(text: &str, help: &'static str) -> Result<Length, Misread> {
    let lower = text.trim().to_lowercase();
    let per = ["/min", "/minute", "a minute", "per minute"];
    let Some(per) = per.into_iter().find(|per| lower.ends_with(per)) else {
        let kind = PaceFault::NoSpeed { got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, help));
    };
    with_unit(&lower[..lower.len() - per.len()], SPEEDS, help)
}

/// A length with its unit, within limits.
fn with_unit(
    text: &str,
    (least, greatest): (Length, Length),
    help: &'static str,
) -> Result<Length, Misread> {
    let got = || Excerpt::new(text.trim());
    let refuse = |kind: FaultKind| Misread::new(kind, 0..0, help);
    let length = Length::parse(text.trim(), Unit::Inch).map_err(|fault| refuse(fault.into()))?;
    if Length::parse(text.trim(), Unit::Metre) != Ok(length) {
        return Err(refuse(FaultKind::NoUnit { got: got() }));
    }
    if !(least..=greatest).contains(&length) {
        return Err(refuse(FaultKind::Range { least, greatest, got: got() }));
    }
    Ok(length)
}

//! Times, speeds and rates as a person writes them: `90 s`, `35 ft/min`, `32 ft/min at 10 in`, `75 USD/h`.

use std::time::Duration;

use pithward_measure::{Excerpt, Length, Money, Unit};

use super::Feed;
use crate::fault::{FaultKind, Misread, PaceFault};

const TIME_HELP: &str = "write a number with its unit, as in \"90 s\" or \"1.5 min\"";
const SPEED_HELP: &str = "write how far in a minute, as in \"90 ft/min\" or \"27 m/min\"";
const FEED_HELP: &str =
    "write how far in a minute at which width of cut, as in \"32 ft/min at 10 in\"";
const RATE_HELP: &str =
    "write what an hour costs with the three letters of its currency, as in \"75 USD/h\"";

/// The longest that one step takes; more is a slip of the unit.
const MOST_TIME: Duration = Duration::from_secs(3600);
/// The slowest and the fastest that a blade travels in a minute.
const SPEEDS: (Length, Length) = (Length::inches(6), Length::feet(400));
/// The widths that a feed is told at.
const WIDTHS: (Length, Length) = (Length::inches(1), Length::inches(60));

/// Reads a time.
pub(crate) fn time(text: &str) -> Result<Duration, Misread> {
    let refuse = || {
        let kind = PaceFault::NoTime { got: Excerpt::new(text) };
        Misread::new(kind, 0..0, TIME_HELP)
    };
    let lower = text.trim().to_lowercase();
    let number = lower.trim_end_matches(|c: char| c.is_alphabetic()).trim_end();
    let millis = match lower[number.len()..].trim() {
        "s" | "sec" | "second" | "seconds" => 1_000,
        "min" | "minute" | "minutes" => 60_000,
        _ => return Err(refuse()),
    };
    let (whole, places) = number.split_once('.').unwrap_or((number, "0"));
    let digits = |part: &str| {
        (1..=4).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    if !digits(whole) || !digits(places) {
        return Err(refuse());
    }
    let parts: u64 = format!("{whole}{places:0<4}").parse().map_err(|_| refuse())?;
    let time = Duration::from_millis(parts * millis / 10_000);
    if time > MOST_TIME {
        let kind = PaceFault::TimeRange { got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, TIME_HELP));
    }
    Ok(time)
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

/// Reads what an hour costs.
pub(super) fn rate(text: &str) -> Result<Money, Misread> {
    let lower = text.trim().to_lowercase();
    let per = ["/h", "/hour", "/hr", "per hour", "an hour"];
    let Some(per) = per.into_iter().find(|per| lower.ends_with(per)) else {
        let kind = PaceFault::NoRate { got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, RATE_HELP));
    };
    let money = Money::parse(lower[..lower.len() - per.len()].trim_end())
        .map_err(|fault| Misread::new(PaceFault::from(fault), 0..0, RATE_HELP))?;
    if money.as_ten_thousandths() < 0 {
        let kind = PaceFault::NoRate { got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, RATE_HELP));
    }
    Ok(money)
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

//! Times of the day, ways and tarps as a person writes them: `8:00`, `5:30 pm`, `48 mi`, `20 ft x 30 ft`.

use pithward_measure::{Excerpt, Length, Unit};

use crate::charges::{KILOMETRE, MILE};
use crate::fault::{Fault, Misread, YardFault};
use crate::typed::Typed;
use crate::worth_text::amount;

const TIME_HELP: &str = "write a time of the day, as in \"8:00\", \"17:30\" or \"5:30 pm\"";
const WAY_HELP: &str = "write the way there and back, as in \"48 mi\" or \"77 km\"";
const TARP_HELP: &str = "write its two sides with their units, as in \"20 ft x 30 ft\"";

/// The longest way that anybody drives for a day's sawing, miles.
const LONGEST_WAY: i64 = 2000;
/// The sides that a tarp has.
const SIDES: (Length, Length) = (Length::feet(2), Length::feet(200));

/// A time of the day as it was typed, in minutes after midnight; `None` where none was.
///
/// # Errors
/// What is no time of the day.
pub fn read_time(typed: &Typed) -> Result<Option<u32>, Vec<Fault>> {
    let mut faults = Vec::new();
    let time = typed.read(&mut faults, time_of_day);
    if faults.is_empty() { Ok(time) } else { Err(faults) }
}

/// Reads a time of the day, in minutes after midnight.
pub(super) fn time_of_day(text: &str) -> Result<u32, Misread> {
    let refuse = || {
        let kind = YardFault::NoTimeOfDay { got: Excerpt::new(text) };
        Misread::new(kind, 0..0, TIME_HELP)
    };
    let lower = text.trim().to_lowercase();
    let half = |ending: &str| lower.strip_suffix(ending).map(str::trim_end);
    let (clock, noon) = match (half("am"), half("pm")) {
        (Some(clock), _) => (clock, Some(0)),
        (_, Some(clock)) => (clock, Some(12)),
        (None, None) => (lower.as_str(), None),
    };
    let number = |digits: &str, most: u32| {
        let plain = (1..=2).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
        digits.parse().ok().filter(|number| plain && *number <= most)
    };
    let parts: Vec<&str> = clock.split(':').collect();
    let (hours, minutes) = match parts[..] {
        // A time of TOML has seconds.
        [hours, minutes] | [hours, minutes, "00"] if minutes.len() == 2 => (hours, minutes),
        [hours] if noon.is_some() => (hours, "00"),
        _ => return Err(refuse()),
    };
    let hours: u32 = match noon {
        Some(noon) => number(hours, 12).filter(|hours| *hours > 0).map(|hours| hours % 12 + noon),
        None => number(hours, 24),
    }
    .ok_or_else(refuse)?;
    let time = hours * 60 + number(minutes, 59).ok_or_else(refuse)?;
    if time <= 24 * 60 { Ok(time) } else { Err(refuse()) }
}

/// Reads a way, exact to the thousandth of a mile.
pub(super) fn way(text: &str) -> Result<Length, Misread> {
    let lower = text.trim().to_lowercase();
    let refuse = |kind| Err(Misread::new(kind, 0..0, WAY_HELP));
    let units = [("miles", MILE), ("mile", MILE), ("mi", MILE), ("km", KILOMETRE)];
    let read = units.iter().find_map(|(unit, long)| Some((lower.strip_suffix(unit)?, *long)));
    let Some((number, unit)) = read else {
        return refuse(YardFault::NoWay { got: Excerpt::new(text) });
    };
    let Ok(millionths) = amount(number, i64::MIN, i64::MAX) else {
        return refuse(YardFault::NoWay { got: Excerpt::new(text) });
    };
    let nm = i128::from(millionths) * i128::from(unit.as_nm()) / 1_000_000;
    match i64::try_from(nm).ok().map(Length::nm) {
        Some(way) if way >= Length::ZERO && way <= MILE * LONGEST_WAY => Ok(way),
        _ => refuse(YardFault::WayRange { got: Excerpt::new(text) }),
    }
}

/// Reads the sides of a tarp.
pub(super) fn tarp(text: &str) -> Result<(Length, Length), Misread> {
    let refuse = || {
        let kind = YardFault::NoTarp { got: Excerpt::new(text) };
        Misread::new(kind, 0..0, TARP_HELP)
    };
    let lower = text.to_lowercase();
    let (one, other) =
        lower.split_once('x').or_else(|| lower.split_once(" by ")).ok_or_else(refuse)?;
    let side = |text: &str| {
        let length = Length::parse(text.trim(), Unit::Foot).ok()?;
        // A number that is another length in metres has no unit of its own.
        let has_unit = Length::parse(text.trim(), Unit::Metre) == Ok(length);
        (has_unit && (SIDES.0..=SIDES.1).contains(&length)).then_some(length)
    };
    Ok((side(one).ok_or_else(refuse)?, side(other).ok_or_else(refuse)?))
}

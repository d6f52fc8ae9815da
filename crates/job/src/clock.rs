//! Directions as people read them on the end of a log: hours of a clock.
//!
//! Looking at the small end, 12 o'clock is up as the log lies when it is measured, and 3 o'clock is right.
//!
//! ```text
//! clock = hour [":" minutes] ["o'clock"] | number ("degrees" | "deg" | "°")
//! ```
//! Degrees run clockwise from 12 o'clock.

use pithward_geometry::Angle;
use pithward_measure::Excerpt;

use crate::fault::{FaultKind, Misread};

/// What to write for a direction.
pub(crate) const CLOCK_HELP: &str = "look at the small end and write where the hand of a clock points, 12 being up: 2, 2:30 or 2 o'clock; or 65 degrees";

/// An hour in thousandths of a degree.
const HOUR: i32 = 30_000;
/// A minute.
const MINUTE: i32 = 500;
/// A whole turn.
const TURN: i32 = 360_000;

/// Reads a direction.
pub(crate) fn clock(text: &str) -> Result<Angle, Misread> {
    hour_or_degrees(text).ok_or_else(|| {
        Misread::new(FaultKind::NoClock { got: Excerpt::new(text) }, 0..0, CLOCK_HELP)
    })
}

fn hour_or_degrees(text: &str) -> Option<Angle> {
    let text = text.trim().to_lowercase().replace('\u{2019}', "'");
    if let Some(millidegrees) = degrees(&text) {
        return (0..=TURN).contains(&millidegrees).then(|| turn(millidegrees));
    }
    let hour = ["o'clock", "oclock", "o clock"].iter().find_map(|word| text.strip_suffix(word));
    let hour = hour.unwrap_or(&text).trim();
    let (hour, minutes) =
        hour.split_once(':').map_or((hour, "00"), |(hour, minutes)| (hour, minutes));
    let whole = |digits: &str, most: i32| {
        let plain = (1..=2).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
        digits.parse().ok().filter(|number| plain && (0..=most).contains(number))
    };
    let hour: i32 = whole(hour, 12).filter(|hour| *hour > 0)?;
    let minutes: i32 = whole(minutes, 59).filter(|_| minutes.len() == 2)?;
    Some(turn(hour * HOUR + minutes * MINUTE))
}

/// Thousandths of a degree; `None` for what is in no degrees.
pub(crate) fn degrees(text: &str) -> Option<i32> {
    let number =
        ["degrees", "degree", "deg", "°"].iter().find_map(|unit| text.strip_suffix(unit))?;
    let number = number.trim_end();
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || whole.len() > 4 || part.len() > 3 || !digits(whole) || !digits(part) {
        return None;
    }
    let thousandths: i32 = format!("{part:0<3}").parse().ok()?;
    Some(whole.parse::<i32>().ok()? * 1000 + thousandths)
}

fn turn(millidegrees: i32) -> Angle {
    Angle::millidegrees(millidegrees.rem_euclid(TURN))
}

/// A direction as a person reads it: `2 o'clock`, `2:30`, or degrees where no minute of the clock is that direction.
///
/// ```
/// use pithward_geometry::Angle;
/// assert_eq!(pithward_job::clock_words(Angle::degrees(60)), "2 o'clock");
/// assert_eq!(pithward_job::clock_words(Angle::degrees(75)), "2:30");
/// ```
pub fn clock_words(direction: Angle) -> String {
    let millidegrees = direction.as_millidegrees().rem_euclid(TURN);
    if millidegrees % MINUTE != 0 {
        let (whole, part) = (millidegrees / 1000, format!("{:03}", millidegrees % 1000));
        return format!("{whole}.{} degrees", part.trim_end_matches('0'));
    }
    let hour = match millidegrees / HOUR {
        0 => 12,
        hour => hour,
    };
    match millidegrees % HOUR / MINUTE {
        0 => format!("{hour} o'clock"),
        minutes => format!("{hour}:{minutes:02}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{clock, clock_words};
    use pithward_geometry::Angle;
    use proptest::prelude::*;

    #[test]
    fn directions_as_people_write_them() {
        for (text, millidegrees) in [
            ("12", 0),
            ("12 o'clock", 0),
            ("12:30", 15_000),
            ("2", 60_000),
            (" 2 O'Clock ", 60_000),
            ("2 o\u{2019}clock", 60_000),
            ("2 oclock", 60_000),
            ("2:30", 75_000),
            ("02:30 o'clock", 75_000),
            ("11:59", 359_500),
            ("65 degrees", 65_000),
            ("65.25 deg", 65_250),
            ("0°", 0),
            ("360 degrees", 0),
        ] {
            assert_eq!(clock(text), Ok(Angle::millidegrees(millidegrees)), "{text}");
        }
    }

    #[test]
    fn what_is_no_direction() {
        for text in [
            "",
            "0",
            "13",
            "-2",
            "2:60",
            "2:3",
            "2:300",
            "2:",
            ":30",
            "two",
            "2.5",
            "361 degrees",
            "degrees",
            "-5 degrees",
            "1.2345 degrees",
            "up",
            "2 in",
            "o'clock",
            "99999999999 degrees",
            "+3",
            "6 att 6 ft",
        ] {
            assert!(clock(text).is_err(), "{text}");
        }
    }

    proptest! {
        #[test]
        fn prop_words_read_back(millidegrees in 0..360_000_i32, text in any::<String>()) {
            let direction = Angle::millidegrees(millidegrees);
            prop_assert_eq!(clock(&clock_words(direction)), Ok(direction));
            let _ = clock(&text);
        }
    }
}

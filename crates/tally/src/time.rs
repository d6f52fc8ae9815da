//! Times: as they are kept, and as people type them.

use jiff::civil::{Date, DateTime, Time};
use jiff::fmt::temporal::{DateTimeParser, Pieces, PiecesOffset};
use jiff::tz::{OffsetConflict, TimeZone};
use jiff::{SignedDuration, Span, ToSpan, ZonedDateTime};
use pithward_measure::Excerpt;
use thiserror::Error;

/// The offset says which instant it was, whatever becomes of the rules of the zone.
static PARSER: DateTimeParser = DateTimeParser::new().offset_conflict(OffsetConflict::AlwaysOffset);

/// How far a time may be ahead of the clock: two clocks never agree.
const AHEAD: SignedDuration = SignedDuration::from_secs(90);

/// Whoever counts back so far has mistyped it.
const LONGEST_AGO: SignedDuration = SignedDuration::from_hours(24 * 400);

/// A time in whole seconds, as it is kept.
pub fn whole_seconds(time: &ZonedDateTime) -> ZonedDateTime {
    time.with().subsec_nanosecond(0).build().unwrap_or_else(|_| time.clone())
}

/// A time of the file. One in a zone that nobody here knows is taken by its offset.
pub(crate) fn kept(text: &str) -> Option<ZonedDateTime> {
    if let Ok(time) = PARSER.parse_zoned_datetime(text) {
        return Some(whole_seconds(&time));
    }
    let pieces = Pieces::parse(text).ok()?;
    let offset = match pieces.offset()? {
        PiecesOffset::Numeric(numeric) => numeric.offset(),
        _ => jiff::tz::Offset::UTC,
    };
    let civil = DateTime::from_parts(pieces.date(), pieces.time()?);
    let time = TimeZone::fixed(offset).to_zoned_datetime(civil).ok()?;
    Some(whole_seconds(&time))
}

/// Why what was typed is no time.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum TimeFault {
    /// No time.
    #[error("{got} is no time")]
    NoTime {
        /// What was written.
        got: Excerpt,
    },
    /// It is still to come.
    #[error("{got} is still to come: it is {now}")]
    Ahead {
        /// What was written.
        got: Excerpt,
        /// The time by the clock.
        now: String,
    },
    /// The clocks were put on that night, and it was never that time.
    #[error("it was never {got}: the clocks were put on then")]
    Never {
        /// What was written.
        got: Excerpt,
    },
    /// The clocks were put back that night, and it was that time twice.
    #[error("it was {got} twice: the clocks were put back then")]
    Twice {
        /// What was written.
        got: Excerpt,
        /// The first.
        first: String,
        /// The second.
        second: String,
    },
}

impl TimeFault {
    /// What would be right.
    pub fn help(&self) -> String {
        match self {
            Self::Ahead { .. } => {
                "write when it was: 9:40, 9:40 pm, -10 min, or with its date 2026-05-02 9:40".to_owned()
            }
            Self::Twice { first, second, .. } => format!("write {first} or {second}"),
            Self::Never { .. } | Self::NoTime { .. } => {
                "write a time of the day as in 9:40 or 1:05 pm, the minutes since then as in \"-10 min\", or a date with it \
                 as in \"2026-05-02 9:40\""
                    .to_owned()
            }
        }
    }
}

/// Reads when something was, as it was typed: the last time that it was so by the clock.
///
/// A time of the day without `am` or `pm` is one of twenty-four hours.
///
/// # Errors
/// It is no time, or one that is still to come.
pub fn read_at(text: &str, now: &ZonedDateTime) -> Result<ZonedDateTime, TimeFault> {
    let got = || Excerpt::new(text);
    let plain = text.trim();
    let ahead = || TimeFault::Ahead { got: got(), now: now.strftime("%Y-%m-%d %H:%M").to_string() };
    let time = match () {
        () if plain.is_empty() => return Err(TimeFault::NoTime { got: got() }),
        () if plain.eq_ignore_ascii_case("now") => now.clone(),
        () => {
            if let Some(span) = ago(plain) {
                let past = now.checked_sub(span).ok();
                let known = past.filter(|past| now.duration_since(past) <= LONGEST_AGO);
                known.ok_or_else(|| TimeFault::NoTime { got: got() })?
            } else if let Some(time) = kept(plain) {
                time
            } else if let Some((date, time)) = dated(plain, now.date()) {
                on(date.to_datetime(time), now, text)?
            } else if let Some(time) = of_the_day(plain) {
                last(time, now, text)?
            } else {
                return Err(TimeFault::NoTime { got: got() });
            }
        }
    };
    if time.duration_since(now) > AHEAD {
        return Err(ahead());
    }
    Ok(whole_seconds(&time))
}

/// `-10`, `-10 min`, `10 min ago`, `1 h 20 min ago`.
fn ago(text: &str) -> Option<Span> {
    let lower = text.to_lowercase();
    let length = match lower.strip_suffix("ago") {
        Some(length) => length.trim(),
        None => lower.strip_prefix(['-', '\u{2212}'])?.trim(),
    };
    if length.bytes().all(|byte| byte.is_ascii_digit()) {
        let minutes: i64 = length.parse().ok().filter(|minutes| *minutes < 100_000)?;
        return Some(minutes.minutes());
    }
    let span: Span = length.parse().ok()?;
    (!span.is_negative()).then_some(span)
}

/// `2026-05-02 9:40`, `yesterday 5:30 pm`.
fn dated(text: &str, today: Date) -> Option<(Date, Time)> {
    let (date, time) = text.split_once([' ', 'T'])?;
    let date = match date.to_lowercase().as_str() {
        "today" => today,
        "yesterday" => today.yesterday().ok()?,
        date => date.parse().ok()?,
    };
    Some((date, of_the_day(time.trim())?))
}

/// `9:40`, `9:40:07`, `9:40 am`, `12 pm`, `17`.
fn of_the_day(text: &str) -> Option<Time> {
    let lower = text.to_lowercase().replace('.', "");
    let half = [("am", 0), ("pm", 12)]
        .into_iter()
        .find_map(|(word, add)| Some((lower.strip_suffix(word)?.trim(), add)));
    let clock = half.map_or(lower.as_str(), |(clock, _)| clock);
    let mut parts = clock.split(':');
    let mut part = |most: i8| -> Option<Option<i8>> {
        let Some(digits) = parts.next() else { return Some(None) };
        let plain = (1..=2).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
        let number: i8 = digits.parse().ok().filter(|number| plain && *number <= most)?;
        Some(Some(number))
    };
    let hour = part(23)??;
    let (minute, second) = (part(59)?, part(59)?);
    if parts.next().is_some() || (half.is_none() && minute.is_none()) {
        return None;
    }
    let hour = match half {
        Some((_, add)) => (1..=12).contains(&hour).then_some(hour % 12 + add)?,
        None => hour,
    };
    Time::new(hour, minute.unwrap_or(0), second.unwrap_or(0), 0).ok()
}

/// A date and a time of the day where the clock stands.
fn on(civil: DateTime, now: &ZonedDateTime, text: &str) -> Result<ZonedDateTime, TimeFault> {
    let got = Excerpt::new(text);
    let at = now.time_zone().to_ambiguous_zoned_datetime(civil);
    if !at.is_ambiguous() {
        return at.compatible().map_err(|_| TimeFault::NoTime { got });
    }
    match (at.clone().earlier(), at.later()) {
        (Ok(first), Ok(second)) if first.datetime() == second.datetime() => {
            // The second is still to come: it can only be the first.
            if second.duration_since(now) > AHEAD {
                return Ok(first);
            }
            Err(TimeFault::Twice { got, first: first.to_string(), second: second.to_string() })
        }
        _ => Err(TimeFault::Never { got }),
    }
}

/// The last time that it was this time of the day.
fn last(time: Time, now: &ZonedDateTime, text: &str) -> Result<ZonedDateTime, TimeFault> {
    let today = on(now.date().to_datetime(time), now, text);
    match &today {
        Ok(at) if at.duration_since(now) > AHEAD => {}
        _ => return today,
    }
    let yesterday =
        now.date().yesterday().map_err(|_| TimeFault::NoTime { got: Excerpt::new(text) })?;
    on(yesterday.to_datetime(time), now, text)
}

#[cfg(test)]
mod tests {
    use super::{TimeFault, kept, read_at};
    use jiff::ZonedDateTime;

    fn now(text: &str) -> ZonedDateTime {
        text.parse().unwrap()
    }

    const NOON: &str = "2026-05-02T12:00:30-04:00[America/New_York]";

    #[track_caller]
    fn check(typed: &str, at: &str) {
        assert_eq!(
            read_at(typed, &now(NOON)).map(|at| at.to_string()).as_deref(),
            Ok(at),
            "{typed}"
        );
    }

    #[test]
    fn times_as_people_type_them() {
        check("9:40", "2026-05-02T09:40:00-04:00[America/New_York]");
        check("9:40 am", "2026-05-02T09:40:00-04:00[America/New_York]");
        check("9:40:07am", "2026-05-02T09:40:07-04:00[America/New_York]");
        check("9 a.m.", "2026-05-02T09:00:00-04:00[America/New_York]");
        check("12 am", "2026-05-02T00:00:00-04:00[America/New_York]");
        check("12:01", "2026-05-02T12:01:00-04:00[America/New_York]");
        check("-10", "2026-05-02T11:50:30-04:00[America/New_York]");
        check("-1h 20m", "2026-05-02T10:40:30-04:00[America/New_York]");
        check("10 min ago", "2026-05-02T11:50:30-04:00[America/New_York]");
        check("yesterday 5:30 pm", "2026-05-01T17:30:00-04:00[America/New_York]");
        check("2026-04-30 17:30", "2026-04-30T17:30:00-04:00[America/New_York]");
        check("2026-04-30T17:30", "2026-04-30T17:30:00-04:00[America/New_York]");
        check(
            "2026-05-02T08:40:00-05:00[America/Chicago]",
            "2026-05-02T08:40:00-05:00[America/Chicago]",
        );
        check("now", "2026-05-02T12:00:30-04:00[America/New_York]");
        // The last time that it was ten to midnight was yesterday.
        check("23:50", "2026-05-01T23:50:00-04:00[America/New_York]");
        check("5 pm", "2026-05-01T17:00:00-04:00[America/New_York]");
    }

    #[test]
    fn what_is_no_time_that_was() {
        for typed in [
            "",
            "9",
            "25:00",
            "9:60",
            "13 pm",
            "0 am",
            "soon",
            "-",
            "-x",
            "9:40:1:1",
            "ago",
            "-99999999999",
        ] {
            assert!(matches!(read_at(typed, &now(NOON)), Err(TimeFault::NoTime { .. })), "{typed}");
        }
        assert!(matches!(read_at("2026-05-03 9:40", &now(NOON)), Err(TimeFault::Ahead { .. })));
        assert!(matches!(read_at("-10000 years", &now(NOON)), Err(TimeFault::NoTime { .. })));
    }

    #[test]
    fn the_night_on_which_the_clocks_change() {
        let spring = now("2026-03-08T06:00:00-04:00[America/New_York]");
        assert!(matches!(read_at("2:30", &spring), Err(TimeFault::Never { .. })));
        let fall = now("2026-11-01T06:00:00-05:00[America/New_York]");
        let Err(TimeFault::Twice { first, second, .. }) = read_at("1:30", &fall) else { panic!() };
        assert_eq!(
            read_at(&first, &fall).unwrap().to_string(),
            "2026-11-01T01:30:00-04:00[America/New_York]"
        );
        assert_eq!(
            read_at(&second, &fall).unwrap().to_string(),
            "2026-11-01T01:30:00-05:00[America/New_York]"
        );
        // While the second is still to come there is but one.
        let between = now("2026-11-01T01:45:00-04:00[America/New_York]");
        assert_eq!(
            read_at("1:40", &between).unwrap().to_string(),
            "2026-11-01T01:40:00-04:00[America/New_York]"
        );
    }

    #[test]
    fn times_of_the_file() {
        let at = "2026-05-02T09:41:07-04:00[America/New_York]";
        assert_eq!(kept(at).unwrap().to_string(), at);
        // The offset says which instant it was.
        let moved = kept("2026-05-02T09:41:07-05:00[America/New_York]").unwrap();
        assert_eq!(moved.to_string(), "2026-05-02T10:41:07-04:00[America/New_York]");
        for (text, second) in [
            ("2026-05-02T09:41:07-04:00[Nowhere/Known]", 1_777_729_267),
            ("2026-05-02T09:41:07.5-04:00", 1_777_729_267),
            ("2026-05-02T13:41:07Z", 1_777_729_267),
            ("2026-05-02T13:41:07+00:00[Etc/Unknown]", 1_777_729_267),
        ] {
            let read = kept(text).unwrap();
            assert_eq!(read.timestamp().as_second(), second, "{text}");
            assert_eq!(kept(&read.to_string()), Some(read), "{text}");
        }
        for text in ["", "2026-05-02", "09:41", "2026-05-02T09:41:07", "2026-13-02T09:41:07Z"] {
            assert_eq!(kept(text), None, "{text}");
        }
    }
}

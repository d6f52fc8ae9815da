//! The hours of a day that was worked, with their stops, and the blades.

use pithward_day::money::{Bill, Way};
use pithward_job::{BilledHours, RoundWay};
use pithward_tally::{BladeEnd, Doing};

use super::{Billed, two};
use crate::names::{self, count};
use crate::paper::{Paper, Side, Table};

/// `1 h 5 min`, seconds where there are no whole minutes: as the tally has it, not rounded as people say it.
pub(super) fn span(seconds: i64) -> String {
    let (hours, minutes, rest) = (seconds / 3600, seconds % 3600 / 60, seconds % 60);
    match (hours, minutes, rest) {
        (0, 0, rest) => format!("{rest} s"),
        (0, minutes, 0) => format!("{minutes} min"),
        (0, minutes, rest) => format!("{minutes} min {rest} s"),
        (hours, 0, 0) => format!("{hours} h"),
        (hours, minutes, 0) => format!("{hours} h {minutes} min"),
        (hours, minutes, rest) => format!("{hours} h {minutes} min {rest} s"),
    }
}

fn doing(doing: Doing) -> &'static str {
    match doing {
        Doing::SettingUp => "setting up",
        Doing::Sawing => "sawing",
        Doing::MovingLogs => "moving and cleaning logs",
        Doing::MovingMill => "moving the mill",
        Doing::PackingUp => "packing up",
    }
}

/// A stretch of work or a pause, as a line of the table.
struct Row {
    from: jiff::ZonedDateTime,
    to: jiff::ZonedDateTime,
    seconds: i64,
    what: String,
    is_pause: bool,
    open: bool,
}

fn rows(billed: &Billed<'_>) -> Vec<Row> {
    let so_far = billed.so_far;
    let mut all: Vec<Row> = so_far
        .stretches
        .iter()
        .filter(|stretch| stretch.seconds > 0 || stretch.open)
        .map(|stretch| Row {
            from: stretch.from.clone(),
            to: stretch.to.clone(),
            seconds: stretch.seconds,
            what: doing(stretch.doing).to_owned(),
            is_pause: false,
            open: stretch.open,
        })
        .chain(so_far.pauses.iter().map(|pause| Row {
            from: pause.from.clone(),
            to: pause.to.clone(),
            seconds: pause.seconds,
            what: match &pause.why {
                Some(why) => format!("pause: {why}"),
                None => "pause".to_owned(),
            },
            is_pause: true,
            open: pause.open,
        }))
        .collect();
    all.sort_by_key(|row| row.from.timestamp());
    // Sawing goes on from log to log.
    let mut rows: Vec<Row> = Vec::new();
    for row in all {
        match rows.last_mut() {
            Some(last)
                if !row.is_pause
                    && !last.is_pause
                    && last.what == row.what
                    && last.to == row.from =>
            {
                last.to = row.to;
                last.seconds += row.seconds;
                last.open = row.open;
            }
            _ => rows.push(row),
        }
    }
    rows
}

/// Whether the clocks were changed on that date between two times of the day's work.
fn changes(rows: &[Row], at: &jiff::ZonedDateTime) -> bool {
    let times = rows.iter().flat_map(|row| [&row.from, &row.to]);
    let mut of_day = times.filter(|time| time.date() == at.date());
    of_day.any(|time| time.offset() != at.offset())
}

/// When what was done, with the stops.
pub(super) fn hours(paper: &mut Paper, billed: &Billed<'_>) {
    let so_far = billed.so_far;
    let rows = rows(billed);
    paper.heading("Hours");
    if rows.is_empty() {
        paper.say("None.");
        return;
    }
    let mut table = Table::new(&[
        ("day", Side::Left),
        ("from", Side::Right),
        ("to", Side::Right),
        ("what", Side::Left),
        ("work", Side::Right),
        ("stop", Side::Right),
    ]);
    let mut last = String::new();
    for row in &rows {
        let day = row.from.strftime("%Y-%m-%d").to_string();
        let shown = if day == last { String::new() } else { day.clone() };
        // Where the clocks change, times are told by what they are called: an hour comes twice, or is not there.
        let over = row.from.offset() != row.to.offset();
        let at = |time: &jiff::ZonedDateTime| match over || changes(&rows, time) {
            true => time.strftime("%H:%M %Z").to_string(),
            false => time.strftime("%H:%M").to_string(),
        };
        let to = match row.to.strftime("%Y-%m-%d").to_string() == day {
            true => at(&row.to),
            false => format!("{} {}", row.to.strftime("%b %-d"), at(&row.to)),
        };
        last = day;
        let time = span(row.seconds);
        table.row([
            shown,
            at(&row.from),
            if row.open { "now".to_owned() } else { to },
            row.what.clone(),
            if row.is_pause { String::new() } else { time.clone() },
            if row.is_pause { time } else { String::new() },
        ]);
    }
    let stops: i64 = so_far.pauses.iter().map(|pause| pause.seconds).sum();
    table.sum([
        "in all".to_owned(),
        String::new(),
        String::new(),
        String::new(),
        span(so_far.spent.all()),
        if stops > 0 { span(stops) } else { String::new() },
    ]);
    paper.table(table);
    let mut table = two("of that", "time");
    for kind in Doing::ALL {
        let seconds = so_far.spent.on(kind);
        if seconds > 0 {
            table.row([doing(kind).to_owned(), span(seconds)]);
        }
    }
    paper.table(table);
    if stops > 0 {
        paper.say("Stops are not billed.");
    }
}

/// By which rules the hours became those that are billed.
pub(super) fn how_billed(billed: &Billed<'_>, own: &Bill) -> Vec<String> {
    let charges = &billed.job.charges;
    let mut how = Vec::new();
    if billed.way == Some(Way::Hour) {
        let which = match charges.billed() {
            BilledHours::OnSite => "from setting up to packing up, without stops",
            BilledHours::AtTheSaw => {
                "work at the logs and changes of blades, without setting up and packing up"
            }
        };
        let step = charges.hour_step;
        let way = match step.way {
            RoundWay::Nearest => "to the nearest",
            RoundWay::Up => "up to whole",
            RoundWay::Down => "down to whole",
        };
        let seconds = i64::try_from(step.to.as_secs()).unwrap_or(i64::MAX);
        how.push(format!(
            "hours billed: {which}; their sum rounded {way} {}: {}",
            span(seconds),
            span(own.seconds)
        ));
    }
    if own.for_short_logs > 0 {
        how.push(format!(
            "{} board feet of it for logs shorter or thinner than the least that is billed",
            names::tenths(own.for_short_logs)
        ));
    }
    if billed.done.relocations > 0 && charges.relocation.is_some() {
        let agreed = billed.job.yard.moves;
        how.push(match billed.so_far.moves {
            0 => {
                "moves of the mill on site as they were agreed: the tally tells of none".to_owned()
            }
            moves if moves == agreed => {
                "moves of the mill on site as the tally has them, and as they were agreed"
                    .to_owned()
            }
            _ => {
                let agreed = match agreed {
                    0 => "none was".to_owned(),
                    1 => "1 was".to_owned(),
                    more => format!("{more} were"),
                };
                format!("moves of the mill on site as the tally has them; {agreed} agreed")
            }
        });
    }
    if charges.drive.is_some() && billed.so_far.days > 0 {
        how.push(format!(
            "the way there and back on {}",
            count(billed.so_far.days as usize, "day", "days")
        ));
    }
    how.extend(own.an_hour.map(|each| format!("an hour came to {each} before tax")));
    how.extend(own.a_board_foot.map(|each| format!("a board foot came to {each} before tax")));
    how
}

/// The blades that came off, and why.
pub(super) fn blades(paper: &mut Paper, billed: &Billed<'_>) {
    let blades = &billed.so_far.blades;
    if blades.is_empty() {
        return;
    }
    paper.heading("Blades");
    let mut table = Table::new(&[
        ("when", Side::Left),
        ("log", Side::Left),
        ("blade", Side::Left),
        ("why", Side::Left),
    ]);
    for blade in blades {
        let end = match blade.end {
            BladeEnd::Dull => "dull, changed",
            BladeEnd::Struck => "struck, to be sharpened",
            BladeEnd::Ruined => "ruined",
        };
        table.row([
            blade.at.strftime("%b %-d %H:%M").to_string(),
            billed.log(blade.log),
            end.to_owned(),
            blade.why.clone().unwrap_or_default(),
        ]);
    }
    paper.table(table);
    paper.say("A dull blade is part of the work and costs nothing here.");
}

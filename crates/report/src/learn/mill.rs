//! A mill file with what was learned, every other line of the old one as it was.

use pithward_job::{Outfit, parse_outfit};
use pithward_learn::{Fit, Fitted, Knowledge, Recovered};
use thiserror::Error;
use toml_edit::{DocumentMut, Item, Table, Value, value};

use super::words::{self, Units};

/// A mill file, and what was learned beside it.
#[derive(Clone, Copy, Debug)]
pub struct MillText<'a> {
    /// The old file, whole.
    pub text: &'a str,
    /// Its name, without folders.
    pub name: &'a str,
    /// The day, `2026-05-02`.
    pub on: &'a str,
    /// From how many jobs.
    pub jobs: usize,
    /// The pace.
    pub fit: &'a Fit,
    /// What comes out.
    pub recovered: &'a Recovered,
}

/// The new file.
#[derive(Clone, Debug)]
pub struct LearnedMill {
    /// Its text.
    pub text: String,
    /// What it says.
    pub outfit: Outfit,
    /// The fields of `[pace]` that are not as they were.
    pub changed: Vec<&'static str>,
}

/// Why there is no new file.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum NotWritten {
    /// It is JSON, which has no comments and no order that could be kept.
    #[error("only a mill file in TOML can be written anew with all its lines and comments kept")]
    Json,
    /// The program wrote what it cannot read.
    #[error("the new mill file cannot be read: {0}")]
    Unreadable(String),
}

/// A figure that moved by less than this share stays as it is written.
const LEAST: f64 = 0.01;

impl MillText<'_> {
    /// Writes the new file.
    ///
    /// # Errors
    /// A file that is no TOML.
    pub fn write(&self) -> Result<LearnedMill, NotWritten> {
        let bare = self.text.strip_prefix('\u{feff}').unwrap_or(self.text);
        if bare.trim_start().starts_with('{') {
            return Err(NotWritten::Json);
        }
        let mut file: DocumentMut = bare.parse().map_err(|_| NotWritten::Json)?;
        // What stands behind the last table of the old file stays where it is, before the new ones.
        let behind = file.trailing().as_str().unwrap_or_default().to_owned();
        file.set_trailing("");
        let mut ahead = Some(behind);
        let mut changed = Vec::new();
        for fitted in &self.fit.figures {
            if self.figure(&mut file, &mut ahead, fitted) {
                changed.push(fitted.figure.field());
            }
        }
        self.recovery(&mut file, &mut ahead);
        self.learned(&mut file, &mut ahead, &changed);
        if let Some(behind) = ahead {
            file.set_trailing(behind);
        }
        let mut text = file.to_string();
        if self.text.contains("\r\n") {
            text = text.replace("\r\n", "\n").replace('\n', "\r\n");
        }
        if bare.len() < self.text.len() {
            text.insert(0, '\u{feff}');
        }
        match parse_outfit(text.as_bytes(), self.name, "--mill") {
            Ok(outfit) => Ok(LearnedMill { text, outfit, changed }),
            Err(faults) => {
                let said = faults.first().map(ToString::to_string).unwrap_or_default();
                Err(NotWritten::Unreadable(said))
            }
        }
    }

    /// Writes one figure of the pace; whether it is not as it was.
    fn figure(&self, file: &mut DocumentMut, ahead: &mut Option<String>, fitted: &Fitted) -> bool {
        let Fitted { figure, before, after, seen, .. } = fitted;
        if (after / before - 1.0).abs() < LEAST {
            return false;
        }
        let field = figure.field();
        let table = file.get("pace").and_then(Item::as_table_like);
        let old = table.and_then(|table| table.get(field)).and_then(Item::as_value);
        let written = old.map(|old| old.as_str().map_or_else(|| plain(old), ToOwned::to_owned));
        let units = written.as_deref().map_or(Units::Feet, Units::of);
        let at = words::at(*figure, &self.fit.before, written.as_deref());
        let text = words::value(*figure, *after, units) + &at;
        let was = written.unwrap_or_else(|| words::value(*figure, *before, units) + &at);
        if was == text {
            return false;
        }
        let new = if figure.kind() == pithward_learn::Kind::Share {
            text.parse::<f64>().map_or_else(|_| Value::from(text), number)
        } else {
            Value::from(text)
        };
        let how = match &fitted.knowledge {
            Knowledge::Known => String::new(),
            Knowledge::Little => ", which say little of it".to_owned(),
            Knowledge::Together(others) => {
                let others: Vec<&str> = others.iter().map(|other| other.field()).collect();
                format!(", not told apart from {}", crate::names::list(&others))
            }
        };
        let rows = match field {
            "set_up" | "block_up" | "pack_up" | "overnight" | "tidy" => ("time", "times"),
            "blade_hours" | "softwood_blade" | "hardwood_blade" | "dirty_blade"
            | "frozen_blade" => ("blade", "blades"),
            _ => ("log", "logs"),
        };
        let seen = crate::names::count(*seen, rows.0, rows.1);
        let said = if old.is_some() { "was" } else { "left out before:" };
        let comment = format!("learned {} from {seen}{how}; {said} {was}", self.on);
        let Some(table) = table_of(file, "pace", ahead) else { return false };
        set(table, field, new, &comment);
        true
    }

    fn recovery(&self, file: &mut DocumentMut, ahead: &mut Option<String>) {
        let Some(recovery) = self.recovered.recovery() else { return };
        let tenths = |share: f64| number((share * 1000.0).round() / 10.0);
        let all = self.recovered.all.map_or((0, 0, 0), |all| (all.came, all.planned, all.logs));
        let comment = format!(
            "learned {}: {} of {} planned pieces came out, of {}",
            self.on,
            all.0,
            all.1,
            crate::names::count(all.2, "log", "logs")
        );
        let Some(table) = table_of(file, "recovery", ahead) else { return };
        for (field, share, comment) in [
            ("softwood", recovery.softwood, comment.as_str()),
            ("hardwood", recovery.hardwood, ""),
            ("unsure", recovery.unsure, "one standard deviation of these two"),
            ("together", recovery.together, "how far pieces of one log are lost together"),
        ] {
            // What is learned lies within what a file takes.
            set(table, field, tenths(share.clamp(0.0, 1.0)), comment);
        }
    }

    fn learned(&self, file: &mut DocumentMut, ahead: &mut Option<String>, changed: &[&str]) {
        let Self { fit, on, .. } = *self;
        let whole = |n: usize| Value::from(i64::try_from(n).unwrap_or(i64::MAX));
        let share = |of: f64| Value::from((of.clamp(0.0, 1.0) * 1000.0).round() / 1000.0);
        let Some(table) = table_of(file, "learned", ahead) else { return };
        set(
            table,
            "from",
            Value::from(self.name),
            "learn from this file again, with all jobs, so that none counts twice",
        );
        set(table, "on", Value::from(on), "");
        set(table, "jobs", whole(self.jobs), "");
        set(table, "logs", whole(fit.logs), "");
        if !changed.is_empty() {
            let fields: toml_edit::Array = changed.iter().copied().collect();
            set(table, "pace", Value::from(fields), "of [pace]; all else is as it was stated");
        } else if let Some(table) = file.get_mut("learned").and_then(Item::as_table_like_mut) {
            table.remove("pace");
        }
        if fit.logs == 0 {
            return;
        }
        let Some(table) = table_of(file, "learned", ahead) else { return };
        let day = format!(
            "from day to day {:.3}, and {:.3} because the pace is not known better yet; used where a job says nothing",
            fit.day.to_reckon(),
            fit.unsure
        );
        set(table, "pace_day", share(fit.day_to_reckon()), &day);
        set(table, "pace_log", share(fit.log_to_reckon()), "from log to log");
    }
}

/// A value without what stands around it.
fn plain(value: &Value) -> String {
    let mut value = value.clone();
    value.decor_mut().clear();
    value.to_string()
}

/// A number as short as it can be written.
fn number(of: f64) -> Value {
    #[allow(clippy::cast_possible_truncation, reason = "no percentage has more digits")]
    let whole = of.round() as i64;
    if (of - of.round()).abs() < 1e-9 { Value::from(whole) } else { Value::from(of) }
}

/// A table of the file, made behind all others where there is none. One that stands on a line becomes one of its own.
fn table_of<'f>(
    file: &'f mut DocumentMut,
    name: &str,
    ahead: &mut Option<String>,
) -> Option<&'f mut Table> {
    let of_line = file.key(name).and_then(|key| key.leaf_decor().prefix()?.as_str());
    let of_line = of_line.unwrap_or_default().to_owned();
    let item = file.entry(name).or_insert(Item::None);
    if !item.is_table() {
        let (mut table, before) = match std::mem::take(item).into_table() {
            Ok(table) => (table, of_line),
            Err(_) => (Table::new(), ahead.take().unwrap_or_default()),
        };
        table.set_implicit(false);
        let gap = if before.is_empty() || before.ends_with('\n') { "" } else { "\n" };
        table.decor_mut().set_prefix(format!("{before}{gap}\n"));
        *item = Item::Table(table);
    }
    // It was made a table just above.
    item.as_table_mut()
}

/// Sets a field, with a comment on the line before it. What stands around the old value stays.
fn set(table: &mut Table, field: &str, new: Value, comment: &str) {
    match table.get_mut(field).and_then(Item::as_value_mut) {
        Some(old) => {
            let decor = old.decor().clone();
            *old = new;
            *old.decor_mut() = decor;
        }
        None => {
            table.insert(field, value(new));
        }
    }
    if comment.is_empty() {
        return;
    }
    if let Some(mut key) = table.key_mut(field) {
        let decor = key.leaf_decor_mut();
        let before = decor.prefix().and_then(|prefix| prefix.as_str()).unwrap_or_default();
        let indent = before.rsplit('\n').next().unwrap_or_default();
        let text = format!("{before}# {comment}\n{indent}");
        decor.set_prefix(text);
    }
}

#[cfg(test)]
mod tests;

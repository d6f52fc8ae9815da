//! One log by every method, side by side, and which to choose.

use crate::card::setup;
use crate::grade_words;
use crate::names::{self, tenths};
use crate::obstacle;
use crate::page::{Column, Page};
use pithward_job::{Advice, Comparison, LogJob, MethodRow, PileJob, Sure};
use pithward_measure::Length;
use pithward_optimizer::Method;
use pithward_trade::{Grade, RingClass};

/// One log by every method, and which to choose.
pub fn comparison(job: &LogJob, compared: &Comparison) -> String {
    let mut page = Page::default();
    page.hang("COMPARED   ", &setup::log(job));
    page.blank();
    let Some(advice) = &compared.advice else {
        page.say("No method gives a piece of what is wanted.");
        obstacle::limits(&mut page, job, &compared.obstacles);
        return page.finish();
    };
    table(&mut page, compared);
    page.blank();
    page.say(&words(compared, advice));
    page.blank();
    for note in notes(job, compared) {
        page.item(&note);
    }
    page.finish()
}

/// Logs of a job by every method, each want as it comes; and all of them together.
pub fn comparisons(job: &PileJob, compared: &[(usize, Comparison)]) -> String {
    let one = |(log, compared): &(usize, Comparison)| {
        let id = &job.logs[*log].id;
        format!("LOG {id}\n\n{}", comparison(&job.log_job(*log), compared))
    };
    let mut pages: Vec<String> = compared.iter().map(one).collect();
    if compared.len() > 1 {
        pages.push(together(job, compared));
    }
    pages.join("\n\n")
}

/// What all logs leave when each is sawn by one and the same method, and when each is sawn by its best.
fn together(job: &PileJob, compared: &[(usize, Comparison)]) -> String {
    let mut page = Page::default();
    page.hang("TOGETHER   ", &names::count(compared.len(), "log", "logs"));
    page.blank();
    let rows = || compared.iter().map(|(_, compared)| compared);
    let mut names: Vec<String> = Vec::new();
    let (mut worth, mut minutes, mut given) = (Vec::new(), Vec::new(), Vec::new());
    let mut add = |name: &str, chosen: &dyn Fn(&Comparison) -> Option<&MethodRow>| {
        let chosen: Vec<&MethodRow> = rows().filter_map(chosen).collect();
        if chosen.is_empty() {
            return;
        }
        names.push(name.to_owned());
        worth.push(hundredths(chosen.iter().map(|row| row.net()).sum()));
        let spent: f64 = chosen.iter().map(|row| row.minutes).sum();
        minutes.push(format!("{spent:.0}"));
        given.push(chosen.len().to_string());
    };
    for method in Method::ALL {
        add(method.name(), &|compared| compared.rows.iter().find(|row| row.method == method));
    }
    add("each log by its best", &|compared| {
        compared.advice.map(|advice| &compared.rows[advice.best])
    });
    let unit = rows().find_map(|compared| compared.unit.clone());
    let leaves = match unit {
        Some(unit) if rows().any(|c| c.rows.iter().any(|row| row.cost_in_worth.is_some())) => {
            vec!["leaves,".to_owned(), unit]
        }
        Some(unit) => vec!["worth,".to_owned(), unit],
        None => vec!["board".to_owned(), "feet".to_owned()],
    };
    let columns = [
        Column::new(&["logs"], given),
        Column { head: leaves, cells: worth },
        Column::new(&["minutes"], minutes),
    ];
    page.table("method", &names, &columns);
    page.blank();
    page.item(
        "Each want as it comes: counts are shared by all logs, and `pithward plan` shares them.",
    );
    if !job.stems.is_empty() {
        page.item("Stems are bucked first, as in the plan.");
    }
    page.finish()
}

/// Millionths to the nearest hundredth: nobody counts dollars closer, nor board feet.
fn hundredths(millionths: i64) -> String {
    let all = (millionths.abs() + 5_000) / 10_000;
    let sign = if millionths < 0 && all > 0 { "-" } else { "" };
    format!("{sign}{}.{:02}", all / 100, all % 100)
}

/// A row of the table: its name, and its cell for each method.
type Line<'a> = (String, Box<dyn Fn(&MethodRow) -> String + 'a>);

fn table(page: &mut Page, compared: &Comparison) {
    let rows = &compared.rows;
    let unit = compared.unit.as_deref();
    let mut lines: Vec<Line<'_>> = vec![
        ("pieces".to_owned(), Box::new(|row| row.plan.products.len().to_string())),
        ("board feet".to_owned(), Box::new(|row| tenths(row.plan.board_feet))),
    ];
    if let Some(unit) = unit {
        lines.push((format!("worth, {unit}"), Box::new(|row| hundredths(row.plan.worth))));
    }
    lines.push(("passes".to_owned(), Box::new(|row| row.plan.order.passes().to_string())));
    lines.push(("turns".to_owned(), Box::new(|row| row.plan.order.turns().to_string())));
    if rows.iter().any(|row| !row.plan.order.resaws.is_empty()) {
        let put_back = |row: &MethodRow| row.plan.order.resaws.len().to_string();
        lines.push(("parts put back".to_owned(), Box::new(put_back)));
    }
    lines.push(("minutes".to_owned(), Box::new(|row| format!("{:.0}", row.minutes))));
    if rows.iter().any(|row| row.cost_in_worth.is_some()) {
        let cost = |row: &MethodRow| hundredths(row.cost_in_worth.unwrap_or(0));
        lines.push(("they cost".to_owned(), Box::new(cost)));
        lines.push(("leaves".to_owned(), Box::new(|row| hundredths(row.net()))));
    } else if rows.iter().any(|row| row.cost.is_some()) {
        let cost = |row: &MethodRow| row.cost.map_or(String::new(), |cost| cost.to_string());
        lines.push(("they cost".to_owned(), Box::new(cost)));
    }
    for grade in grades(rows) {
        let name = match grade {
            Some(grade) => format!("bf {grade}"),
            None => "bf below grade".to_owned(),
        };
        lines.push((name, Box::new(move |row| part(&row.grades, &grade))));
    }
    for class in [RingClass::Flat, RingClass::Rift, RingClass::Quarter] {
        if rows.iter().any(|row| row.rings.iter().any(|(known, _)| *known == class)) {
            lines.push((format!("bf {class}"), Box::new(move |row| part(&row.rings, &class))));
        }
    }
    let names: Vec<String> = lines.iter().map(|(name, _)| name.clone()).collect();
    let column = |row: &MethodRow| {
        let cells = lines.iter().map(|(_, cell)| cell(row)).collect();
        Column::new(names::method_head(row.method), cells)
    };
    page.table("", &names, &rows.iter().map(column).collect::<Vec<_>>());
}

/// Every grade that some method gives, the best first.
fn grades(rows: &[MethodRow]) -> Vec<Option<Grade>> {
    let mut all: Vec<Option<Grade>> =
        rows.iter().flat_map(|row| row.grades.iter().map(|(grade, _)| *grade)).collect();
    all.sort_by_key(|grade| (grade.is_none(), *grade));
    all.dedup();
    all
}

/// Board feet of one kind; a dash where there is none.
fn part<K: PartialEq>(parts: &[(K, i64)], kind: &K) -> String {
    let own = parts.iter().find(|(known, _)| known == kind);
    own.map_or_else(|| "-".to_owned(), |(_, board_feet)| tenths(*board_feet))
}

/// Which to choose, why, and how sure that is.
pub(crate) fn words(compared: &Comparison, advice: &Advice) -> String {
    let best = &compared.rows[advice.best];
    let name = names::capital(best.method.name());
    let Some(next) = advice.next.map(|next| &compared.rows[next]) else {
        return format!("{name} is the only one of these methods that gives anything.");
    };
    let unit = compared.unit.as_deref().unwrap_or("bf");
    let more = best.net() - next.net();
    let minutes = best.minutes - next.minutes;
    let spent = if minutes.abs() < 0.5 {
        "in as many minutes".to_owned()
    } else if minutes > 0.0 {
        format!("for {minutes:.0} min more")
    } else {
        format!("in {:.0} min less", -minutes)
    };
    let other = next.method.name();
    let reason = if best.cost_in_worth.is_some() {
        let left = format!("{} {unit}", hundredths(more.max(0)));
        format!(
            "after its minutes are paid it leaves {left} more than {other}, the next best, {spent}"
        )
    } else if advice.by_minutes {
        format!("it gives as much as {other}, within a hundredth, {spent}")
    } else {
        let gives = format!("{} {unit}", hundredths(more.max(0)));
        format!("it gives {gives} more than {other}, the next best, {spent}")
    };
    let sure = match advice.sure {
        Sure::Alone | Sure::EitherWay => {
            "It stays ahead if the log is a quarter of an inch thinner or thicker than taped."
                .to_owned()
        }
        Sure::NotBy(by) => {
            let how = if by < Length::ZERO { "thinner" } else { "thicker" };
            format!(
                "Not sure: in a log a quarter of an inch {how} than taped {other} is ahead, so choose what is easier for you."
            )
        }
    };
    format!("{name}: {reason}. {sure}")
}

fn notes(job: &LogJob, compared: &Comparison) -> Vec<String> {
    let mut notes = vec![
        "Each method lies the log as suits it best; minutes are by the pace of the mill file, or its stated defaults."
            .to_owned(),
    ];
    if !compared.nothing.is_empty() {
        notes.push(format!("Nothing from this log by {}.", names::methods(&compared.nothing)));
    }
    if compared.rows.iter().any(|row| !row.grades.is_empty()) {
        notes.push(grade_words::EXPECTED.to_owned());
    }
    if compared.rows.iter().any(|row| !row.rings.is_empty()) {
        notes.push(
            "Rings by their angle to the wide face at the middle of the small end.".to_owned(),
        );
    }
    if job.pace.helpers == 0 {
        notes.push("Reckoned for one who works alone.".to_owned());
    }
    notes.push(grade_words::STAMP.to_owned());
    notes
}

#[cfg(test)]
mod tests {
    use super::hundredths;

    #[test]
    fn hundredths_are_rounded_to_the_nearest() {
        let told = [1_234_999, 1_235_000, -1_999, -10_000, 0].map(hundredths);
        assert_eq!(told, ["1.23", "1.24", "0.00", "-0.01", "0.00"]);
    }
}

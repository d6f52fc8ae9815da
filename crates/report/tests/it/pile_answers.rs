//! What is told of a pile beside its plan: what was understood of a job, how many of one size it gives, how many logs a
//! list takes.

use crate::common::pile::{log, logs, pile_job, wants};
use crate::common::{fits, says};
use pithward_job::{BarkSource, NeedJob, Typed};
use pithward_measure::Length;
use pithward_optimizer::{LogFate, Need, Obstacle, need, plan_pile};
use pithward_report::{check_report, need_answer, pile_counts};

const LIST: &[&str] = &["4x4x8=4", "2x8x12=12", "6x6x10=2", "1x6"];

#[test]
fn what_was_understood_of_a_job() {
    let mut job = pile_job(logs(9), LIST);
    job.wants[0].blocking = true;
    (job.logs[1].two_diameters, job.logs[2].taped_over_bark) = (true, true);
    job.logs[3].bark = BarkSource::Given;
    "leave the cherry".clone_into(&mut job.notes);
    let text = fits(check_report(&job));
    assert!(text.starts_with("CHECKED   yard.toml: no fault was found\n"), "{text}");
    for words in [
        "site an invented yard, 12 June notes leave the cherry",
        "LOGS diameters inside the bark; volume of the solid wood - Red pine: 1 log, ",
        "- White oak: 8 logs, ",
        "- In all: 9 logs, ",
        "cubic feet LIST the most important first want wanted 4x4x8 4 2x8x12 12",
        "4x4 sawn 4 in x 4 in; no wane; blocking, sawn first; ",
        "; L02: measured across twice and taken as round, with the mean of the two, as nobody says which way the longer one points: add that (long axis, an hour of the clock)",
        "bark log L03: the species' average share; taped over the bark, which was taken off",
        "bark log L04: as given; taped inside the bark",
        "mill invented mill, from mill.toml",
        "worth board feet by named size",
        "work an hour weighs nothing",
    ] {
        says(&text, words);
    }
    let volume: f64 = job.logs.iter().map(|log| log.log.volume()).sum();
    says(&text, &format!("long, {:.0} cubic feet LIST", volume / 1728.0));
}

#[test]
fn the_count_of_one_size_over_a_pile() {
    let mut all = logs(9);
    all.push(log("short", "white oak", "14 in", "15 in", "8 ft 4 in"));
    let job =
        pile_job(all, LIST).counting_job(&Typed::new("SIZE", Some("2x8x12".to_owned()))).unwrap();
    let pile = job.pile();
    let plan = plan_pile(&pile, &()).unwrap();
    let text = fits(pile_counts(&job, &pile, &job.wants[0].size, &plan));
    let pieces = plan.tally[0].given + plan.tally[0].extra;
    says(&text, &format!("COUNT OF 2x8x12 10 logs of yard.toml {pieces} of 2x8x12 from "));
    says(&text, "Proven: no way of these methods gives ");
    let table = text.split("from\n").nth(1).unwrap_or(&text);
    let rows = table.lines().filter(|line| line.contains(" in x ") && line.contains(" to "));
    let figures: Vec<Vec<&str>> =
        rows.map(|line| line.split_whitespace().rev().take(3).collect()).collect();
    let sum = |n: usize| figures.iter().map(|row| row[n].parse::<u32>().unwrap_or(0)).sum::<u32>();
    assert_eq!((sum(2), sum(1)), (10, pieces), "{text}");
    says(&text, "GIVE NONE and why");
    let none =
        plan.logs.iter().zip(&job.logs).filter(|(fate, _)| !matches!(fate, LogFate::Sawn(_)));
    let reasons = text.split("GIVE NONE").nth(1).unwrap();
    let none: Vec<&str> = none.map(|(_, log)| log.id.as_str()).collect();
    assert!(none.contains(&"short"));
    assert!(none.iter().all(|id| reasons.contains(id)), "{text}");
    let each = plan.worth / i64::from(pieces);
    for (more, words) in [
        (0, "gives one more (".to_owned()),
        (each - each / 4, "gives one more (".to_owned()),
        (2 * each, format!("gives more than {} (", pieces + 2)),
    ] {
        let mut other = plan.clone();
        other.proof.bound = Some(plan.worth + more);
        says(
            &fits(pile_counts(&job, &pile, &job.wants[0].size, &other)),
            &format!("Proven: no way of these methods {words}"),
        );
    }
    let mut nothing = plan.clone();
    nothing.logs = vec![
        LogFate::Impossible(vec![Obstacle::TooLong {
            length: Length::feet(30),
            limit: Length::feet(20)
        }]);
        10
    ];
    let text = fits(pile_counts(&job, &pile, &job.wants[0].size, &nothing));
    says(&text, "Not one 2x8x12 comes from this pile on this mill.");
    says(&text, "Cut it to 20 ft or less");
}

/// The answer for a kind of log.
fn needed(small: &str, list: &[&str]) -> (NeedJob, Need, String) {
    let job = pile_job(vec![log("1", "white oak", small, "17 in", "12 ft 4 in")], list);
    let asked = NeedJob { pile: job.pile(), job, tapered: true, left_out: wants(&["4x4x8=3"]) };
    let need = need(&asked.pile, &()).unwrap();
    let text = fits(need_answer(&asked, &need));
    (asked, need, text)
}

#[test]
fn how_many_logs_a_list_takes() {
    let (_, need, text) = needed("15 1/2 in", &["2x8x12=30", "2x4x8=11", "1x6"]);
    let Need::Logs(needed) = need else { panic!("{text}") };
    assert!(
        text.starts_with(
            "NEED   logs of 15 1/2 in small end, 17 in butt, 12 ft 4 in long, white oak\n"
        ),
        "{text}"
    );
    says(&text, "such logs fill the list. Proven: fewer ");
    assert_eq!(text.contains("is not known."), needed.least < needed.logs, "{text}");
    says(&text, "Real logs differ from one another");
    let (_, patterns) = text.split_once("HOW THEY ARE SAWN").unwrap();
    let patterns = patterns.split("WHAT COMES OUT").next().unwrap();
    let numbers = patterns.lines().filter_map(|line| {
        let (n, rest) = line.trim_start().split_once(' ')?;
        rest.starts_with("log").then(|| n.parse::<u32>().ok()).flatten()
    });
    assert_eq!(numbers.sum::<u32>(), needed.logs, "{text}");
    says(&text, "2x8x12 30 30 - ");
    says(&text, "2x4x8 11 11 - ");
    says(&text, "butt not given: it follows from the small end by a taper");
    says(&text, "left out 4x4x8: it does not accept this wood");
    says(&text, "left out 1x6: it has no count");
    assert!(!text.contains("1x6, 8 ft"), "{text}");
}

#[test]
fn a_list_that_no_such_logs_fill_says_why() {
    let (asked, need, text) = needed("12 in", &["2x8x16=4"]);
    assert!(matches!(need, Need::Impossible(_)));
    says(
        &text,
        "No number of such logs fills the list. - No 2x8x16: even the shortest takes 16 ft 3 in",
    );
    let many = fits(need_answer(&asked, &Need::TooMany { tried: 20_000 }));
    says(&many, "More than 20000: so many do not fill the list.");
}

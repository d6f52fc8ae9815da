//! What is read for a pile: the lines that a day is planned on, and that no line is too wide.

use crate::common::pile::{log, logs, pile_job, pile_job_on, planned_pile, wants};
use crate::common::{fits, flat, length, mill, says};
use pithward_geometry::Mill;
use pithward_job::{PieceWorth, PileJob};
use pithward_measure::{Length, Scale};
use pithward_optimizer::{
    Cure, LogFate, Lot, LotReason, Method, Pile, PilePlan, Planned, Proof, Shortage, WantId,
    WhyShort,
};
use pithward_report::{card, check_report, pile_card, pile_summary};
use std::sync::Arc;

const LIST: &[&str] = &["4x4x8=4", "2x8x12=12", "6x6x10=2", "1x6"];

/// A small yard: two woods, blocking first.
fn yard() -> (PileJob, Pile, PilePlan) {
    let mut job = pile_job(logs(9), LIST);
    job.wants[0].blocking = true;
    let (pile, plan) = planned_pile(&job);
    (job, pile, plan)
}

fn summary((job, pile, plan): &(PileJob, Pile, PilePlan)) -> String {
    fits(pile_summary(job, pile, plan))
}

#[test]
fn the_sections_stand_in_the_order_in_which_they_are_needed() {
    let yard = yard();
    let text = summary(&yard);
    assert!(text.starts_with("PILE   9 logs, an invented yard, 12 June\n"), "{text}");
    let mut at = 0;
    for section in [
        "job ",
        "\nWHAT COMES OUT\n",
        "\nHOW GOOD\n",
        "\nORDER OF SAWING ",
        "\nASSUMED ",
        "\nCAUTIONS\n",
    ] {
        let found = text[at..].find(section).unwrap_or_else(|| panic!("no {section} in {text}"));
        at += found;
    }
    says(&text, "2x8x12 12 12 - - 192 6x6x10 2 2 - - 60 1x6, ");
    says(&text, "searched through and through with or without a turn, two-sided cant");
    says(&text, "2x8 sawn 2 in x 8 in; no wane; worth its board feet; no more than wanted");
    says(&text, "board feet: 8000 for 4x4x8, 6000 for 2x8x12 and 4000 for 6x6x10");
    assert_eq!(text, summary(&yard));
}

/// The running counts and the mark of a filled want, reckoned here from the plan alone.
#[test]
fn the_counts_run_on_from_log_to_log_and_a_filled_want_is_marked_once() {
    let (job, pile, plan) = yard();
    let text = summary(&(job.clone(), pile, plan.clone()));
    let order = text.split("\nORDER OF SAWING").nth(1).unwrap().split("\nASSUMED").next().unwrap();
    let mut counts = vec![0_u32; job.wants.len()];
    let mut rest = flat(order);
    for place in plan.order.iter().flat_map(|lot| &lot.logs) {
        let LogFate::Sawn(sawn) = &plan.logs[*place] else { panic!("an order of what is sawn") };
        let id = format!(" {} ", job.logs[*place].id);
        let at = rest.find(&id).unwrap_or_else(|| panic!("no {id} in its place in {order}"));
        rest = rest[at..].to_owned();
        for (want, count) in counts.iter_mut().enumerate() {
            let more = sawn.products.iter().filter(|product| product.cut.want.0 == want).count();
            let before = *count;
            *count += u32::try_from(more).unwrap();
            let (Some(wanted), true) = (job.wants[want].count, *count > before) else { continue };
            let name = job.wants[want].size.to_string();
            if before < wanted && *count >= wanted {
                assert!(
                    rest.contains(&format!(">> {name} FILLED, {wanted} of {wanted}")),
                    "{order}"
                );
            } else if *count < wanted {
                assert!(rest.contains(&format!("{name} {count} of {wanted}")), "{order}");
            }
        }
    }
    let filled =
        plan.tally.iter().filter(|tally| tally.wanted.is_some() && tally.short() == 0).count();
    assert!(filled >= 2);
    assert_eq!(order.matches("FILLED").count(), filled, "{order}");
    assert_eq!(order.matches(": stop").count(), filled, "{order}");
}

#[test]
fn blocking_comes_first_and_says_so() {
    let (job, pile, plan) = yard();
    assert_eq!(plan.order[0].reason, LotReason::Blocking);
    let text = summary(&(job, pile, plan));
    says(&text, "LOT 1 number");
    says(&text, "blocking and stickers first, so that all else can be stacked on them");
}

#[test]
fn what_is_short_comes_before_all_else_with_its_reason_and_its_cure() {
    let job = pile_job(logs(6), &["8x8x16=2", "1x6"]);
    let (pile, plan) = planned_pile(&job);
    let text = fits(pile_summary(&job, &pile, &plan));
    says(&text, "list SHORT: 2 of 8x8x16.");
    says(
        &text,
        "SHORT the list is not filled from this pile - 2 short of 8x8x16: no log is long enough; the longest \
                 is 14 ft 4 in and it takes 16 ft 3 in with its trim. Two more ",
    );
    says(&text, "would be enough, 1 from each, were nothing else sawn from them.");
    assert!(text.find("\nSHORT ").unwrap() < text.find("\nWHAT COMES OUT").unwrap());
}

#[test]
fn every_reason_for_a_shortage_has_its_sentence() {
    let (mut job, pile, mut plan) = yard();
    job.wants[2].species = vec![job.logs[0].species.unwrap()];
    let thick = length("11 5/16 in");
    for (want, why, expected) in [
        (2, WhyShort::NoLog, "1 short of 6x6x10: no log of red pine goes on the mill."),
        (1, WhyShort::NoLog, "1 short of 2x8x12: no log of the pile goes on the mill."),
        (
            2,
            WhyShort::TooThin { diameter: thick, thickest: thick - Length::nm(1) },
            "1 short of 6x6x10: no log that is long enough is thick enough; the thickest has 11 1/4 in of wood \
             across over that length and it takes 11 5/16 in.",
        ),
        (
            1,
            WhyShort::TooShort { takes: thick + Length::nm(1), longest: thick },
            "no log is long enough; the longest is 11 5/16 in and it takes 11 3/8 in with its trim.",
        ),
        (
            1,
            WhyShort::TooFew { most: 11 },
            "the logs together hold no more than 11, even if nothing else were sawn from them.",
        ),
        (
            1,
            WhyShort::UsedUp { by: vec![WantId(0), WantId(2)] },
            "the logs could give it, but 4x4x8 and 6x6x10, before it in the list or worth more, take them.",
        ),
    ] {
        plan.shortages = vec![Shortage { want: WantId(want), missing: 1, why, cure: None }];
        says(&fits(pile_summary(&job, &pile, &plan)), expected);
    }
    plan.shortages[0].cure = Some(Cure {
        logs: 1,
        each: 2,
        small_end: length("12 in"),
        length: length("17 ft"),
        menu: 0,
    });
    says(
        &fits(pile_summary(&job, &pile, &plan)),
        "One more red pine log of 12 in (small end, inside the bark) and 17 ft would be enough, were nothing else \
         sawn from it.",
    );
}

#[test]
fn the_proof_says_no_more_than_is_known() {
    let (job, pile, mut plan) = yard();
    let said = |plan: &PilePlan| fits(pile_summary(&job, &pile, plan));
    plan.proof.bound = Some(plan.proof.value);
    says(
        &said(&plan),
        "Proven: no plan of these methods that fills the list as far is worth more. It speaks",
    );
    plan.proof.bound = Some(plan.proof.value + plan.worth / 100 + 1);
    says(&said(&plan), "fills the list as far is worth more than 1.1 % above this one. It speaks");
    let methods = std::mem::replace(&mut plan.proof.methods, vec![Method::Through]);
    says(&said(&plan), "Proven: no plan of this method that fills");
    plan.proof.methods = methods;
    let mut short = plan.clone();
    (short.tally[1].given, short.proof.list_is_proven) = (11, false);
    says(&said(&short), "It is NOT proven that no more of what is short could be given");
    short.proof.list_is_proven = true;
    says(&said(&short), "Proven: no plan of these methods gives one more piece of what is short.");
    (plan.stopped, plan.proof.bound, plan.proof.list_is_proven) = (true, None, false);
    let text = said(&plan);
    let top = text.find("STOPPED BEFORE THE SEARCH WAS DONE").unwrap();
    assert!(top < text.find("WHAT COMES OUT").unwrap());
    says(
        &text,
        "HOW GOOD The search was stopped before it was done. NOT PROVEN: it was stopped before any bound",
    );
    assert!(!text.contains("Proven"), "{text}");
}

#[test]
fn logs_that_are_not_sawn_say_why_and_those_alike_together() {
    let mut logs = logs(4);
    logs.push(log("big 1", "white oak", "38 in", "40 in", "12 ft 4 in"));
    logs.push(log("big 2", "white oak", "38 in", "40 in", "12 ft 4 in"));
    logs.push(log("stub", "white oak", "12 in", "13 in", "3 ft"));
    let job = pile_job(logs, &["2x8x12=2", "1x6"]);
    let (pile, mut plan) = planned_pile(&job);
    assert!(matches!(plan.logs[4], LogFate::Impossible(_)));
    let text = fits(pile_summary(&job, &pile, &plan));
    says(
        &text,
        "CANNOT BE SAWN and what would make it possible - 2 logs, big 1 and big 2: The butt measures",
    );
    says(
        &text,
        "- log stub (12 in small end, 13 in butt, 3 ft long): The log is 3 ft long and the mill holds none",
    );
    says(&text, ", 3 cannot be sawn.");
    // The same on its card.
    let none = fits(pile_card(&job, &pile, &plan, 6));
    assert!(
        none.starts_with("NO CARD   log stub, 12 in small end, 13 in butt, 3 ft long, white oak\n"),
        "{none}"
    );
    says(&none, "It cannot be sawn. - The log is 3 ft long");
    plan.logs[4] = LogFate::LeftWhole;
    plan.logs[5] = LogFate::Unplanned;
    let text = fits(pile_summary(&job, &pile, &plan));
    says(
        &text,
        "LEFT WHOLE they could be sawn - log big 1 (38 in small end, 40 in butt, 12 ft 4 in long): what it would",
    );
    says(
        &text,
        "WITHOUT A PLAN - log big 2 (38 in small end, 40 in butt, 12 ft 4 in long): the search was stopped before",
    );
    says(&fits(pile_card(&job, &pile, &plan, 4)), "It is left whole");
    says(
        &fits(pile_card(&job, &pile, &plan, 5)),
        "The search was stopped before it came to this log",
    );
    says(&fits(pile_card(&job, &pile, &plan, 99)), "The job has no log at place 100; it has 7.");
    // Nothing open: the list is filled.
    let job = PileJob { wants: wants(&["2x8x12=2"]), ..job };
    let (pile, mut plan) = planned_pile(&job);
    plan.logs[4] = LogFate::LeftWhole;
    says(
        &pile_summary(&job, &pile, &plan),
        "every count that its wood serves is filled, and no more is wanted.",
    );
}

/// All work on the card of a pile's log is that of the card of the log alone, word for word.
#[test]
fn the_card_of_a_log_is_the_same_work_with_the_piles_counts() {
    let (job, pile, plan) = yard();
    let between = |text: &str, from: &str, to: &str| {
        let (_, rest) = text.split_once(from).unwrap_or_else(|| panic!("no {from} in {text}"));
        rest.split_once(to).unwrap_or_else(|| panic!("no {to} in {text}")).0.to_owned()
    };
    let order: Vec<usize> = plan.order.iter().flat_map(|lot| lot.logs.clone()).collect();
    let mut after_last = vec!["-".to_owned(); job.wants.len()];
    for (number, place) in order.iter().enumerate() {
        let text = fits(pile_card(&job, &pile, &plan, *place));
        let LogFate::Sawn(sawn) = &plan.logs[*place] else { panic!("sawn") };
        let proof = Proof {
            methods: plan.proof.methods.clone(),
            worth_bound: 0,
            board_feet_bound: 0,
            programs: 0,
            states: 0,
        };
        let planned = Planned {
            plan: sawn.as_ref().clone(),
            proof,
            methods: Vec::new(),
            obstacles: Vec::new(),
        };
        let alone = card(&job.log_job(*place), &planned, &[]);
        assert_eq!(between(&text, "SET-UP", "THE LIST"), between(&alone, "SET-UP", "TALLY"));
        assert_eq!(between(&text, "ASSUMED", "CAUTIONS"), between(&alone, "ASSUMED", "CAUTIONS"));
        let id = &job.logs[*place].id;
        let head =
            format!("CUT CARD   log {id}, number {} of {} in the order", number + 1, order.len());
        assert!(text.starts_with(&head), "{text}");
        if let Some(next) = order.get(number + 1) {
            says(&text, &format!("Next is log {}", job.logs[*next].id));
        }
        // Before this log is after the last one; what it gives lies between.
        let rows: Vec<Vec<String>> = between(&text, "THE LIST", "The counts hold")
            .lines()
            .filter(|line| line.starts_with("  ") && line.contains('x') && !line.contains(">>"))
            .map(|line| line.split_whitespace().rev().map(str::to_owned).collect())
            .collect();
        assert_eq!(rows.len(), job.wants.len(), "{text}");
        for (want, row) in rows.iter().enumerate() {
            let counted = job.wants[want].count.is_some();
            let [after, this, before] = if counted { [1, 2, 3] } else { [0, 1, 2] };
            let figure = |n: usize| row[n].parse::<usize>().unwrap_or(0);
            assert_eq!(row[before], after_last[want], "{text}");
            let gives = sawn.products.iter().filter(|product| product.cut.want.0 == want).count();
            assert_eq!(figure(this), gives);
            assert_eq!(figure(after), figure(before) + gives);
            after_last[want].clone_from(&row[after]);
        }
    }
}

#[test]
fn neighbours_that_are_sawn_alike_are_drawn_together_until_a_want_is_filled() {
    let mut job = pile_job(
        vec![log("A", "white oak", "12 in", "13 in", "12 ft 4 in")],
        &["2x8x12=1000", "1x6"],
    );
    let (pile, plan) = planned_pile(&job);
    let each = plan.tally[0].given;
    assert!(each > 0);
    let LogFate::Sawn(sawn) = &plan.logs[0] else { panic!("sawn") };
    let (mut many, mut of) = (plan.clone(), pile.clone());
    many.logs = vec![LogFate::Sawn(Arc::clone(sawn)); 8];
    of.logs = vec![pile.logs[0].clone(); 8];
    job.logs = (1..=8)
        .map(|n| pithward_job::JobLog { id: format!("B{n}"), ..job.logs[0].clone() })
        .collect();
    many.order = vec![Lot { reason: plan.order[0].reason, logs: (0..8).collect() }];
    let text = fits(pile_summary(&job, &of, &many));
    says(&text, "1 to 8 B1, B2, B3, B4, B5, B6, B7 and B8: 12 in x 12 ft 4 in each ");
    says(&text, &format!("now 2x8x12 {} of 1000", 8 * each));
    // Filled by the fifth: the sawyer must see where.
    job.wants[0].count = Some(5 * each);
    let text = fits(pile_summary(&job, &of, &many));
    says(&text, "1 to 5 B1, B2, B3, B4 and B5: ");
    says(&text, &format!(">> 2x8x12 FILLED, {0} of {0}: stop 6 to 8 B6, B7 and B8: ", 5 * each));
}

#[test]
fn wants_of_one_size_are_told_apart() {
    let mut job = pile_job(logs(6), &["2x8x12=3", "2x8x12=2", "2x8x12=1", "1x6"]);
    job.wants[0].species = vec![job.logs[0].species.unwrap()];
    let (pile, plan) = planned_pile(&job);
    let text = fits(pile_summary(&job, &pile, &plan));
    for name in ["2x8x12 (red pine)", "2x8x12 (line 2)", "2x8x12 (line 3)"] {
        assert!(
            text.lines().any(|line| line.trim_start().starts_with(name)),
            "no {name} in {text}"
        );
    }
    assert!(!text.contains("2x8x12 FILLED"), "{text}");
}

#[test]
fn nothing_sawn_is_said_and_no_figure_is_made_up() {
    let job =
        pile_job(vec![log("giant", "white oak", "38 in", "40 in", "12 ft 4 in")], &["2x8x12=3"]);
    let (pile, plan) = planned_pile(&job);
    let text = fits(pile_summary(&job, &pile, &plan));
    says(&text, "No log is sawn: nothing comes out. 0 logs are sawn, 1 cannot be sawn.");
    assert!(!text.contains("NaN") && !text.contains("ORDER OF SAWING"), "{text}");
}

#[test]
fn what_is_noted_on_a_log_is_told_before_the_day_and_on_its_card() {
    let mut job = pile_job(logs(2), &["1x6"]);
    "barbed wire near the butt".clone_into(&mut job.logs[1].notes);
    let (pile, plan) = planned_pile(&job);
    says(
        &fits(pile_summary(&job, &pile, &plan)),
        "NOTED on single logs - log L02: barbed wire near the butt ASSUMED",
    );
    says(&fits(pile_card(&job, &pile, &plan, 1)), "notes barbed wire near the butt bark");
}

#[test]
fn more_than_the_count_is_said_as_welcome_or_as_over() {
    let mut job = pile_job(logs(5), &["1x6x8=3", "2x8x12"]);
    job.wants[0].extra = Some(PieceWorth::BoardFoot(500_000));
    let (pile, plan) = planned_pile(&job);
    assert!(plan.tally[0].extra > 0);
    let text = fits(pile_summary(&job, &pile, &plan));
    says(&text, "1x6x8 FILLED, 3 of 3");
    says(&text, ": more are welcome, for less");
    says(&text, "more are welcome, each worth 0.5 a board foot");
}

#[test]
fn worth_in_money_and_hours_are_said_with_their_figures() {
    let mut job = pile_job(logs(3), &["2x8x12=4", "1x6"]);
    "dollars".clone_into(&mut job.worth.unit);
    (job.worth.hour, job.worth.turn_seconds) = (60_000_000, 90);
    job.wants[0].worth = PieceWorth::Piece(9_500_000);
    let (pile, plan) = planned_pile(&job);
    let text = fits(pile_summary(&job, &pile, &plan));
    for words in [
        "worth 9.5 a piece; no more than wanted",
        "worth 1 a board foot; as many as come",
        "an hour of sawing weighs 60 dollars: a pass of 60 s 1, a turn of 90 s 1.5",
        "Worth is counted in dollars, less what the hours of sawing weigh.",
        " dollars. ",
    ] {
        says(&text, words);
    }
}

#[test]
fn nothing_is_too_wide_whatever_the_names_and_the_scale() {
    let mut job = pile_job(logs(6), LIST);
    for (n, log) in job.logs.iter_mut().enumerate() {
        log.id =
            format!("the {n}th log by the old barn, marked with blue paint and a \u{1b}[2J number");
        log.notes =
            "leans, barbed wire seen near the butt, and a scar over the whole length ".repeat(3);
    }
    job.site = "behind the house at the end of a gravel road with a very long name ".repeat(3);
    job.file = format!("/{}/yard.toml", "deep/".repeat(40));
    let (pile, plan) = planned_pile(&job);
    fits(pile_summary(&job, &pile, &plan));
    fits(check_report(&job));
    (0..6).for_each(|log| drop(fits(pile_card(&job, &pile, &plan, log))));

    let mill = Mill { step: Length::mm(1), kerf: Length::nm(2_500_000), ..mill() };
    let mut list = wants(&["50x150x3000 mm=5", "25x100 mm"]);
    list[1].lengths = (8..11).map(|n| Length::mm(300 * n)).collect();
    let job = pile_job_on(mill, Scale::Millimetres, logs(5), list);
    let (pile, plan) = planned_pile(&job);
    let text = fits(pile_summary(&job, &pile, &plan)) + &fits(check_report(&job));
    let words = flat(&text);
    let inches = words.split(' ').zip(words.split(' ').skip(1)).any(|(figure, unit)| {
        figure.ends_with(|c: char| c.is_ascii_digit()) && matches!(unit, "in" | "ft")
    });
    assert!(!inches, "{text}");
    says(&text, " m3; ");
}

#[test]
fn three_hundred_logs_are_each_in_the_order_once() {
    let mut job = pile_job(logs(300), &["2x8x12=200", "1x6"]);
    job.settings.methods = vec![Method::TwoSidedCant];
    let (pile, plan) = planned_pile(&job);
    let text = fits(pile_summary(&job, &pile, &plan));
    let order = text.split("ORDER OF SAWING").nth(1).unwrap().split("ASSUMED").next().unwrap();
    let words: Vec<&str> =
        order.split_whitespace().map(|word| word.trim_end_matches([',', ':'])).collect();
    for log in &job.logs {
        assert_eq!(words.iter().filter(|word| **word == log.id).count(), 1, "{}", log.id);
    }
    assert!(order.lines().count() < 3 * 300);
}

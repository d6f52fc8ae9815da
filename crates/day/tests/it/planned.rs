//! From a job file to its hours and both its bills.

use std::path::Path;

use pithward_day::hours::PlannedHours;
use pithward_day::money::{Charge, Done, Price, Quantity};
use pithward_job::{PileJob, parse_job, starter_job};
use pithward_measure::{Length, Money};
use pithward_optimizer::{LogFate, PilePlan, plan_pile};

const MILL: &str = "[mill]\nname = \"invented\"\nkerf = \"0.1 in\"\nstep = \"1/16 in\"\nlargest_diameter = \"32 in\"\n\
    longest = \"20 ft\"\nshortest = \"4 ft\"\nwidest_cut = \"26 in\"\ndeepest_above = \"14 in\"\nlowest_blade = \"1 in\"\n";
const CHARGES: &str = "[mill.charges]\nhour = \"75 USD/h\"\nodd_hour = \"95 USD/h\"\nodd_work = \"thick\"\n\
    board_foot = \"0.45 USD/bf\"\nset_up = \"40 USD\"\ndrive = \"1.20 USD/mile\"\nrelocation = \"60 USD\"\n";
const YARD: &str = "[yard]\nlogs = \"piled\"\nmoves = 1\ndrive = \"24 mi\"\nnoise_from = \"9:00\"\nnoise_to = \"12:00\"\n";

fn planned(more: &str) -> (PileJob, PilePlan) {
    let text = format!("{}\n{MILL}{more}", starter_job());
    let job = parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap();
    let plan = plan_pile(&job.pile(), &()).unwrap();
    (job, plan)
}

#[test]
fn from_a_job_to_its_bills() {
    let (job, plan) = planned(&format!("{CHARGES}{YARD}"));
    let hours = PlannedHours::of(&job, &plan, Some(480));
    let sawn = plan.logs.iter().filter(|fate| matches!(fate, LogFate::Sawn(_))).count();
    assert_eq!((hours.order.len(), hours.logs.len(), hours.hours.logs.len()), (sawn, sawn, sawn));
    let order: Vec<usize> = plan.order.iter().flat_map(|lot| lot.logs.clone()).collect();
    assert_eq!(hours.order, order);
    // Three hours a day in which the mill may be heard, from nine on.
    assert!(hours.hours.days.len() > 1);
    assert!(hours.hours.days.iter().all(|day| day.begins == Some(540)));
    assert!(hours.hours.days.iter().all(|day| day.overruns || day.minutes() <= 180.0));

    let done = Done::planned(&job, &plan, &hours);
    assert_eq!(done.board_feet(), plan.board_feet);
    assert_eq!(done.logs.len(), sawn);
    for (log, place) in done.logs.iter().zip(&hours.order) {
        assert_eq!(log.length, job.logs[*place].log.length() - job.trim);
        assert!(log.lumber.iter().all(|lumber| lumber.sawn <= lumber.named && lumber.named > 0));
    }
    // Twenty-four miles there and back, every day.
    let days = i64::try_from(hours.hours.days.len()).unwrap();
    assert_eq!((done.drive, done.relocations), (Length::mm(1_609_344) * 24 * days, 1));
    assert!(0 < done.odd && done.odd < done.at_the_saw && done.at_the_saw < done.on_site);

    let price = Price::of(&done, &job.charges);
    let (hour, foot) = (price.by_hour.unwrap().unwrap(), price.by_board_foot.unwrap().unwrap());
    let usd = |text: &str| Money::parse(&format!("{text} USD")).unwrap();
    // What comes on top is the same either way.
    for bill in [&hour, &foot] {
        let amount = |charge| bill.lines.iter().find(|line| line.charge == charge).unwrap().amount;
        assert_eq!(amount(Charge::SetUp), usd("40"));
        assert_eq!(Some(amount(Charge::Drive)), usd("28.80").share(days, 1));
        assert_eq!(amount(Charge::Relocation), usd("60"));
    }
    let feet = Quantity::BoardFeet(plan.board_feet);
    assert_eq!(
        (foot.lines[0].charge, foot.lines[0].quantity),
        (Charge::BoardFeet { class: None }, feet)
    );
    let by_hand = usd("0.45").share_to(plan.board_feet, 1_000_000, Money::CENT).unwrap();
    assert_eq!(foot.total, by_hand.plus(usd("157.60")).unwrap());
    let charges: Vec<Charge> = hour.lines.iter().map(|line| line.charge).collect();
    assert_eq!(charges[..2], [Charge::Hours, Charge::OddHours]);
    let seconds: i64 = hour.lines[..2]
        .iter()
        .map(|line| if let Quantity::Seconds(seconds) = line.quantity { seconds } else { 0 })
        .sum();
    assert_eq!(seconds, hour.seconds);
    // Setting up is charged, so the hours are those at the saw, to the minute.
    assert!((seconds - done.at_the_saw).abs() <= 30);
    assert!(price.board_feet_an_hour.unwrap() > 50_000_000);
}

#[test]
fn a_better_yard_costs_less_by_the_hour_and_the_same_by_the_foot() {
    let (job, plan) = planned(&format!("{CHARGES}{YARD}"));
    let price = |job: &PileJob| {
        let hours = PlannedHours::of(job, &plan, None);
        let price = Price::of(&Done::planned(job, &plan, &hours), &job.charges);
        (price.by_hour.unwrap().unwrap().total, price.by_board_foot.unwrap().unwrap().total)
    };
    let mut staged = job.clone();
    staged.yard.logs = pithward_job::LogsLie::Staged;
    let (piled, ready) = (price(&job), price(&staged));
    assert!(ready.0 < piled.0);
    assert_eq!(ready.1, piled.1);
}

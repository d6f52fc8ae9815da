//! A promise is written and read back, and what is none is told.

use super::*;
use crate::promise::Promise;
use crate::range::{Asked, Forecast, forecast_and_piles};
use pithward_job::{PileJob, parse_job};
use pithward_optimizer::{PilePlan, plan_pile};
use std::path::Path;

/// Eight invented logs and a list, on an invented mill that charges by the hour and by the board foot.
pub(crate) const JOB: &str = r#"
[[wants]]
size = "6x6x8"
count = 3
[[wants]]
size = "2x6x8"
count = 40
[[wants]]
size = "1x6"
[mill]
name = "invented"
kerf = "0.1 in"
step = "1/16 in"
largest_diameter = "32 in"
longest = "20 ft"
shortest = "4 ft"
widest_cut = "26 in"
deepest_above = "14 in"
lowest_blade = "1 in"
[mill.charges]
hour = "80 USD/h"
board_foot = "0.45 USD/bf"
drive = "1 USD/mile"
ruined_blade = "30 USD"
[yard]
drive = "10 mi"
"#;

/// A job with some of these logs, and more to say of it.
pub(crate) fn job(logs: usize, more: &str) -> PileJob {
    let mut text = String::new();
    for n in 0..logs {
        let (small, butt) = (176 + 13 * (n * 7 % 5), 200 + 13 * (n * 7 % 5));
        text += &format!(
            "[[logs]]\nid = \"{}\"\nspecies = \"white oak\"\nsmall_end = \"{small}/16 in\"\nbutt = \"{butt}/16 in\"\n\
             length = \"{} ft 4 in\"\n",
            n + 1,
            8 + 2 * (n % 3)
        );
    }
    parse_job(format!("{text}{JOB}{more}").as_bytes(), "job.toml", "JOB", Path::new("")).unwrap()
}

/// The promise of a job from some simulated piles, and the forecast that it holds.
pub(crate) fn promised(job: &PileJob, piles: u32) -> (Kept, Forecast) {
    let plan = plan_pile(&job.pile(), &()).unwrap();
    let promise = Promise::of(job, &plan, None).unwrap();
    let asked = Asked { seed: 5, piles, learned: 120 };
    let (forecast, piles) = forecast_and_piles(job, &plan, &Keeping::of(job), &asked, &()).unwrap();
    let kept = Making {
        job,
        plan: &plan,
        promise: &promise,
        forecast: Some((&forecast, &piles)),
        agreed: None,
        program: "0",
        at: "2026-05-01T18:00:00-04:00[America/New_York]",
    };
    (kept.kept(), forecast)
}

#[test]
fn a_promise_reads_as_it_was_written() {
    let job = job(8, "");
    let (kept, forecast) = promised(&job, 30);
    let text = kept.write();
    let read = Kept::read(&text).unwrap();
    assert_eq!(read.write(), text);
    assert_eq!((read.piles.len(), read.logs.len(), read.wants.len()), (30, 8, 3));
    assert_eq!(read.inputs, job.inputs);
    assert!(read.changed(&job.inputs).is_empty());
    assert_eq!(read.ranges.unwrap().board_feet, forecast.board_feet);
    assert_eq!(read.ranges.unwrap().price, forecast.price);
    // Of many logs few patterns are kept.
    let sawn: usize = read.piles.iter().map(|pile| pile.logs.len()).sum();
    assert!(!read.patterns.is_empty() && read.patterns.len() < sawn, "{}", read.patterns.len());
    for (log, was) in read.logs.iter().zip(&kept.logs) {
        let (log, was) = (log.sawn.as_ref().unwrap(), was.sawn.as_ref().unwrap());
        assert!((log.hours.minutes - was.hours.minutes).abs() < 1e-6);
        assert_eq!(log.products, was.products);
        assert_eq!(log.counts.of_log.len(), was.counts.of_log.len());
        let of_products: i64 = log
            .products
            .iter()
            .map(|it| {
                pithward_measure::board_feet_micro(
                    it.size.thickness,
                    it.size.width.least(),
                    it.size.length.unwrap(),
                ) * i64::from(it.count)
            })
            .sum();
        assert_eq!(of_products, log.board_feet);
    }
    // What the tally asks for.
    let planned = read.pieces("1").unwrap();
    assert!(planned.iter().all(|pieces| pieces.count > 0 && pieces.size.length.is_some()));
    assert!(Planned::pieces(&read, "nobody").is_none());
}

#[test]
fn what_is_no_promise_is_told() {
    let (kept, _) = promised(&job(3, ""), 4);
    let text = kept.write();
    let fault = |text: &str| Kept::read(text).unwrap_err();
    assert!(matches!(fault("{}"), KeptFault::Form { .. }));
    assert!(fault(&text[..text.len() / 2]).to_string().contains("ends too early"));
    let other = text.replacen("\"form\":1", "\"form\":7", 1);
    assert_eq!(fault(&other), KeptFault::Version { got: 7 });
    // Another form is told before what it lacks.
    assert_eq!(fault("{\"what\":\"pithward promise\",\"form\":2}"), KeptFault::Version { got: 2 });
    for (from, to) in [
        ("\"6x6x8\"", "\"six\""),
        ("\"order\":[", "\"order\":[99,"),
        (" USD\"", " dollars\""),
        ("pithward promise", "shopping list"),
        ("\"piles\":[{\"day\":", "\"piles\":[{\"logs\":[1,2],\"day\":1},{\"day\":"),
        ("\"piles\":[{\"day\":", "\"piles\":[{\"logs\":[1,999999,2],\"day\":1},{\"day\":"),
    ] {
        assert!(text.contains(from), "{from}");
        let fault = fault(&text.replacen(from, to, 1));
        assert!(matches!(fault, KeptFault::Value { .. }), "{from}: {fault}");
    }
    // Nothing that a text may hold is worse than a fault.
    for cut in (0..text.len()).step_by(97) {
        let mut bytes = text.clone().into_bytes();
        bytes[cut] = b'9';
        let _ = String::from_utf8(bytes).map(|text| Kept::read(&text).map(|kept| kept.write()));
    }
}

#[test]
fn its_ranges_are_those_of_the_simulation() {
    let job = job(8, "");
    let (kept, forecast) = promised(&job, 30);
    let plan = plan_pile(&job.pile(), &()).unwrap();
    let promise = Promise::of(&job, &plan, None).unwrap();
    assert!(kept.is_of(&job, &plan, &promise));
    let read = Kept::read(&kept.write()).unwrap().forecast().unwrap();
    assert_eq!((read.seed, read.piles), (forecast.seed, forecast.piles));
    assert_eq!((&read.wants, read.board_feet), (&forecast.wants, forecast.board_feet));
    assert_eq!((read.price, read.blades, read.worth), (forecast.price, forecast.blades, None));
    assert!((read.minutes.high - forecast.minutes.high).abs() < 1e-3);
    // Of another plan, or of files that were edited since, it is not.
    let other = PilePlan { board_feet: plan.board_feet + 1, ..plan.clone() };
    assert!(!kept.is_of(&job, &other, &promise));
    let mut edited = job.clone();
    edited.inputs.clear();
    assert!(!kept.is_of(&edited, &plan, &promise));
    let unsimulated = Kept { ranges: None, ..kept };
    assert_eq!(unsimulated.forecast(), None);
}

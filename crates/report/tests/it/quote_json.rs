//! The quote as JSON: it keeps to the committed schema, and its figures agree with each other and with the papers.

use crate::common::pile::{log, logs, pile_job, planned_pile};
use pithward_day::promise::Promise;
use pithward_day::range::{Asked, ByHours, Forecast, forecast};
use pithward_job::{Percent, PileJob};
use pithward_measure::{Length, Money, Weight};
use pithward_optimizer::{LogFate, Pile, PilePlan};
use pithward_report::{Quoted, quote_json, quote_page, quote_schema};
use serde_json::Value;
use std::path::Path;
use std::sync::LazyLock;
use std::time::Duration;

/// A job, its plan and what follows, with the logs that are not sawn.
struct Told {
    job: PileJob,
    pile: Pile,
    plan: PilePlan,
    promise: Promise,
    forecast: Forecast,
}

/// Six logs of which one is too thick for the mill and two stay unsawn, with charges, a weak loader and a small truck.
static TOLD: LazyLock<Told> = LazyLock::new(|| {
    let mut logs = logs(4);
    logs.push(log("giant", "white oak", "38 in", "40 in", "12 ft 4 in"));
    let mut job = pile_job(logs, &["8x8x16=1", "2x8x12=4", "1x4"]);
    let usd = |text: &str| Some(Money::parse(&format!("{text} USD")).unwrap());
    job.charges.hour = usd("85");
    job.charges.board_foot = usd("0.475");
    job.charges.classes = vec![Length::inches(1), Length::inches(2)];
    job.charges.set_up = usd("60");
    job.charges.discount = Some(pithward_job::Part::Share(Percent::millionths(5_000_000)));
    job.charges.tax = Some(Percent::millionths(6_250_000));
    job.charges.deposit = Some(pithward_job::Part::Sum(usd("50").unwrap()));
    job.charges.least.hours = Some(Duration::from_secs(4 * 3600));
    job.stores.lifts = Some(Weight::lb(500));
    job.lumber.payload = Some(Weight::lb(300));
    job.lumber.stated[0] = true;
    job.doubt.stated = vec!["rot"];
    let (mut pile, mut plan) = planned_pile(&job);
    let asked = Asked { seed: 7, piles: 12, learned: 40 };
    let forecast = forecast(&job, &plan, &ByHours::of(&job), &asked, &()).unwrap();
    // What only a search that was stopped leaves, and a log that nobody needs.
    plan.logs.extend([LogFate::Unplanned, LogFate::LeftWhole]);
    for place in [0, 1] {
        job.logs.push(job.logs[place].clone());
        pile.logs.push(pile.logs[place].clone());
    }
    let promise = Promise::of(&job, &plan, Some(8 * 60)).unwrap();
    Told { job, pile, plan, promise, forecast }
});

fn quoted(with_forecast: bool) -> Quoted<'static> {
    let Told { job, pile, plan, promise, forecast } = &*TOLD;
    Quoted { job, pile, plan, promise, forecast: with_forecast.then_some(forecast) }
}

fn quote() -> Value {
    serde_json::from_str(&quote_json(&quoted(true))).unwrap()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn number(value: &Value) -> i64 {
    value.as_i64().unwrap_or_else(|| panic!("{value} is no whole number"))
}

fn sum<'v>(values: impl IntoIterator<Item = &'v Value>) -> i64 {
    values.into_iter().map(number).sum()
}

/// Equal but for what rounding each of so many figures may do.
#[track_caller]
fn near(one: i64, other: i64, figures: i64) {
    assert!((one - other).abs() <= figures, "{one} and {other}");
}

fn money(value: &Value) -> Money {
    let [amount, currency] = ["amount", "currency"].map(|part| value[part].as_str().unwrap());
    Money::parse(&format!("{amount} {currency}")).unwrap()
}

#[test]
fn the_committed_schema_is_the_generated_one() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/schema/quote.schema.json");
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, quote_schema()).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap();
    assert!(committed == quote_schema(), "run this test with UPDATE_SCHEMA=1 and commit the file");
}

#[test]
fn a_quote_keeps_to_the_schema_and_a_spoilt_one_does_not() {
    let schema: Value = serde_json::from_str(&quote_schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let sound = quote();
    for quote in [&sound, &serde_json::from_str(&quote_json(&quoted(false))).unwrap()] {
        let errors: Vec<String> =
            validator.iter_errors(quote).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{errors:?}");
    }
    for (place, wrong) in [
        ("/logs/0/small_end", Value::from("12 in")),
        ("/price/by_hour/bill/total/amount", Value::from(112.5)),
        ("/price/by_hour/bill/total/amount", Value::from("112.5")),
        ("/price/by_hour/bill/total/currency", Value::from("dollars")),
        ("/hours/days/0/begins", Value::from("8:00")),
        ("/forecast/shares/0/source", Value::from("weather")),
        ("/logs/0/fate", Value::from("burnt")),
        ("/wants/0/promised/safe", Value::Null),
    ] {
        let mut spoilt = sound.clone();
        *spoilt.pointer_mut(place).unwrap_or_else(|| panic!("no {place}")) = wrong;
        assert!(!validator.is_valid(&spoilt), "{place}");
    }
}

#[test]
fn what_comes_out_is_the_same_by_wants_logs_and_lumber() {
    let quote = quote();
    let (wants, logs) = (list(&quote["wants"]), list(&quote["logs"]));
    let lumber = list(&quote["goods"]["lumber"]);
    assert_eq!((wants.len(), logs.len()), (3, 7));
    for (n, want) in wants.iter().enumerate() {
        let planned = number(&want["given"]) + number(&want["extra"]);
        let of_logs: i64 = logs
            .iter()
            .filter(|log| !log["sawn"].is_null())
            .map(|log| &log["sawn"]["gives"][n])
            .map(|gives| number(&gives["given"]) + number(&gives["extra"]))
            .sum();
        let lines = lumber.iter().filter(|line| line["want"] == n);
        assert_eq!([of_logs, sum(lines.map(|line| &line["count"]))], [planned; 2]);
        assert_eq!(number(&want["promised"]["pieces"]["planned"]), planned);
        let of_forecast = &TOLD.forecast.wants[n];
        assert_eq!(want["promised"]["safe"], of_forecast.safe);
        assert_eq!(want["asked"], serde_json::to_value(of_forecast.asked).unwrap());
    }
    let feet = number(&quote["board_feet"]);
    assert_eq!(sum(lumber.iter().map(|line| &line["board_feet"])), feet);
    assert_eq!(number(&quote["forecast"]["board_feet"]["planned"]), feet);
    // No log is long enough for the first want.
    assert_eq!(quote["shortages"][0]["want"], 0);
    assert!(quote["shortages"][0]["why"]["too_short"].is_object(), "{}", quote["shortages"]);
}

#[test]
fn hours_add_up_by_steps_by_logs_and_by_days() {
    let quote = quote();
    let hours = &quote["hours"];
    let steps = hours["steps"].as_object().unwrap();
    let at_logs = number(&hours["at_logs"]);
    near(sum(steps.values()) + number(&hours["stacking"]) + number(&hours["waits"]), at_logs, 10);
    let parts = ["at_logs", "changes", "set_up", "moves", "nights", "tidy", "pack_up"];
    let on_site = number(&hours["on_site"]);
    near(sum(parts.map(|part| &hours[part])), on_site, 7);
    assert_eq!(hours["on_site"], quote["forecast"]["on_site"]["planned"]);
    let minutes = TOLD.promise.hours.hours.on_site();
    assert!((on_site as f64 - 60_000.0 * minutes).abs() <= 0.5);
    let days = list(&hours["days"]);
    near(sum(days.iter().map(|day| &day["takes"])), on_site + number(&hours["rests"]), 9);
    assert_eq!(number(&days[0]["begins"]), 8 * 3_600_000);
    // Every log that is sawn falls on one day, in its order.
    let logs = list(&quote["logs"]);
    let mut number_of = 0;
    for (n, day) in days.iter().enumerate() {
        for place in list(&day["logs"]) {
            let log = &logs[usize::try_from(number(place)).unwrap()];
            number_of += 1;
            assert_eq!(number(&log["sawn"]["number"]), number_of);
            assert_eq!(log["sawn"]["hours"]["day"], n);
        }
    }
    let sawn: Vec<&Value> = logs.iter().filter(|log| log["fate"] == "sawn").collect();
    assert_eq!(usize::try_from(number_of).unwrap(), sawn.len());
    assert!(sawn.len() >= 3);
    near(sum(sawn.iter().map(|log| &log["sawn"]["hours"]["takes"])), at_logs, 9);
}

#[test]
fn both_bills_add_up_to_the_hundredth() {
    let quote = quote();
    for (way, filled_up) in [("by_hour", true), ("by_board_foot", false)] {
        let bill = &quote["price"][way]["bill"];
        let lines = list(&bill["lines"]);
        let none = Money::parse("0 USD").unwrap();
        let all = lines.iter().fold(none, |sum, line| sum.plus(money(&line["amount"])).unwrap());
        assert_eq!(all, money(&bill["sum"]));
        let net = money(&bill["sum"]).minus(money(&bill["discount"])).unwrap();
        let total = net.plus(money(&bill["tax"])).unwrap().plus(money(&bill["rounding"])).unwrap();
        assert_eq!(total, money(&bill["total"]));
        assert_eq!(total.minus(money(&bill["deposit"])).unwrap(), money(&bill["due"]));
        assert!(money(&bill["tax"]) > none && money(&bill["discount"]) > none);
        let has = |charge: &str| lines.iter().any(|line| line["charge"] == charge);
        assert!(has("set_up"), "{bill}");
        assert_eq!(has("least_hours"), filled_up, "{bill}");
        assert_eq!(has("board_feet"), !filled_up, "{bill}");
    }
    let feet = &quote["price"]["by_board_foot"]["bill"]["lines"];
    let classed: Vec<&Value> =
        list(feet).iter().filter(|line| line["charge"] == "board_feet").collect();
    assert!(
        classed.iter().all(|line| line["class"].is_i64() && line["price"]["amount"] == "0.4750")
    );
    assert_eq!(money(&quote["charges"]["hour"]), Money::parse("85 USD").unwrap());
    let price = &quote["forecast"]["price"];
    assert!(money(&price["low"]) <= money(&price["high"]));
}

#[test]
fn weights_add_up_and_every_piece_is_on_a_load_and_in_a_stack() {
    let quote = quote();
    let goods = &quote["goods"];
    let balance = &goods["balance"];
    let of = |part: &str| number(&balance[part]["weight"]);
    near(of("lumber") + of("residue"), of("logs") + number(&balance["off"]), 4);
    // A millionth of what was sawn is more than the measuring is off.
    assert!(number(&balance["off"]).abs() <= of("logs") / 1_000_000, "{balance}");
    let residue = ["slabs", "edgings", "ends", "sawdust"];
    near(sum(residue.map(|part| &goods["residue"][part]["weight"])), of("residue"), 4);
    let logs = list(&quote["logs"]);
    let sawn = logs.iter().filter(|log| log["fate"] == "sawn");
    near(sum(sawn.map(|log| &log["weight"]["whole"]["weight"])), of("logs"), 9);
    let pieces = sum(list(&goods["lumber"]).iter().map(|line| &line["count"]));
    let loads = &goods["loads"];
    let on = list(&loads["loads"]).iter().flat_map(|load| list(&load["pieces"]));
    let loaded = sum(on.chain(list(&loads["over"])).map(|some| &some["count"]));
    assert_eq!(loaded, pieces);
    assert!(list(&loads["loads"]).len() > 1);
    let payload = number(&loads["payload"]);
    near(payload, 300 * 453_592 + 111, 1);
    assert!(list(&loads["loads"]).iter().all(|load| number(&load["weight"]) <= payload));
    let stacks = list(&goods["stacks"]["stacks"]);
    assert_eq!(sum(stacks.iter().map(|stack| &stack["boards"])), pieces);
    let supplies = &quote["supplies"];
    near(
        number(&supplies["blades_used"]) + number(&supplies["sharpened"]),
        number(&supplies["dulled"]),
        2,
    );
}

#[test]
fn what_stays_unsawn_says_why_and_what_is_too_heavy_says_so() {
    let quote = quote();
    let logs = list(&quote["logs"]);
    let fates: Vec<&str> = logs.iter().map(|log| log["fate"].as_str().unwrap()).collect();
    assert_eq!(fates[4..], ["impossible", "unplanned", "left_whole"]);
    let giant = &logs[4];
    assert_eq!(giant["id"], "giant");
    assert!(giant["sawn"].is_null() && !list(&giant["obstacles"]).is_empty(), "{giant}");
    assert_eq!(giant["weight"]["lift"], "too_heavy");
    assert_eq!(quote["goods"]["heaviest"], 4);
    let lifts = number(&quote["goods"]["lifts"]);
    for log in logs {
        let heavy = number(&log["weight"]["whole"]["weight"]) > lifts;
        assert_eq!(log["weight"]["lift"] == "too_heavy", heavy, "{log}");
    }
    // The papers name the same logs.
    let page = quote_page(&quoted(true)).text();
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("giant ("), "{page}");
}

#[test]
fn what_was_simulated_and_who_said_so_is_told() {
    let quote = quote();
    let forecast = &quote["forecast"];
    assert_eq!((&forecast["piles"], &forecast["seed"]), (&Value::from(12), &Value::from(7)));
    assert_eq!(forecast["doubt"]["stated"], serde_json::json!(["rot"]));
    assert_eq!(number(&forecast["doubt"]["rot"]), 30_000);
    assert_eq!(number(&forecast["doubt"]["diameter"]), Length::sixty_fourths(16).as_nm());
    assert_eq!(list(&forecast["shares"]).len(), 8);
    let lumber = list(&quote["basis"]["lumber"]);
    let basis = |field: &str| {
        let figure = lumber.iter().find(|figure| figure["field"] == field);
        figure.unwrap()["basis"].as_str().unwrap().to_owned()
    };
    assert_eq!([basis("payload"), basis("sticker")], ["stated", "usual figure"]);
    let pace = list(&quote["basis"]["pace"]);
    assert_eq!(pace.len(), pithward_job::Pace::fields().count());
    let usual = |figure: &Value| figure["basis"] == "usual figure" && figure["told"].is_string();
    assert!(pace.iter().all(|figure| usual(figure) && figure["value"].is_object()));
    let value = |of: &str, field: &str| {
        let figures = list(&quote["basis"][of]).iter();
        figures
            .filter(|figure| figure["field"] == field)
            .map(|figure| figure["value"].clone())
            .next()
    };
    let some = |value: Value| Some(value);
    assert_eq!(value("pace", "load"), some(serde_json::json!({ "time": 90_000 })));
    let feed =
        serde_json::json!({ "feed": { "per_minute": 32 * 304_800_000_i64, "at": 254_000_000 } });
    assert_eq!(value("pace", "hardwood_feed"), some(feed));
    assert_eq!(value("pace", "utilisation"), some(serde_json::json!({ "share": 750_000 })));
    // Two gallons of water an hour, whole cubic millimetres; nobody said what the engine is.
    assert_eq!(value("stores", "water"), some(serde_json::json!({ "volume_per_hour": 7_570_824 })));
    assert_eq!(value("stores", "engine"), some(Value::Null));
    assert_eq!(value("lumber", "sticker"), some(serde_json::json!({ "length": 19_050_000 })));
    let without: Value = serde_json::from_str(&quote_json(&quoted(false))).unwrap();
    assert!(without["forecast"].is_null());
    assert!(list(&without["wants"]).iter().all(|want| want["promised"].is_null()));
}

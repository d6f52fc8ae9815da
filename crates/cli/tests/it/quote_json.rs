//! `pithward quote --json`: what is printed, and what is written beside the papers.

use std::fs;

use crate::common::{GENERIC, directory, pithward, printed, put, refused};
use serde_json::Value;

const SCHEMA: &str = include_str!("../../../../data/schema/quote.schema.json");

/// A job of two logs on a mill that states some of its figures.
fn job(name: &str) -> String {
    let place = directory(name);
    let mill = "\n[pace]\nload = \"2 min\"\n\n[charges]\nhour = \"90 USD/h\"\n\n[stores]\nlifts = \"900 kg\"\n";
    put(&place, "mill.toml", GENERIC.to_owned() + mill);
    let text = "[mill]\nfile = \"mill.toml\"\n\n\
        [[logs]]\nid = \"a\"\nspecies = \"white oak\"\nsmall_end = \"14 in\"\nbutt = \"15 in\"\nlength = \"8 ft 2 in\"\n\n\
        [[logs]]\nid = \"b\"\nspecies = \"red pine\"\nsmall_end = \"12 in\"\nbutt = \"13 in\"\nlength = \"8 ft 2 in\"\n\n\
        [[wants]]\nsize = \"2x8x8\"\ncount = 2\n\n[[wants]]\nsize = \"1x6\"\n";
    put(&place, "job.toml", text);
    place.join("job.toml").to_str().expect("the directory is UTF-8").to_owned()
}

fn basis<'v>(quote: &'v Value, of: &str, field: &str) -> &'v Value {
    let figures = quote["basis"][of].as_array().expect("figures are a list");
    figures.iter().find(|figure| figure["field"] == field).map_or(&Value::Null, |of| &of["basis"])
}

#[test]
fn a_quote_is_printed_as_data_that_keeps_to_the_schema() {
    let job = job("quote_json_printed");
    let asked = ["quote", &job, "--piles", "20", "--start", "7:30 am", "--json"];
    let text = printed(&pithward(&asked));
    let quote: Value = serde_json::from_str(&text).expect("stdout holds one whole JSON value");
    let schema: Value = serde_json::from_str(SCHEMA).expect("the schema is JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema is one");
    let errors: Vec<String> = validator.iter_errors(&quote).map(|e| e.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(quote["forecast"]["piles"], 20);
    assert_eq!(quote["hours"]["days"][0]["begins"], 7 * 3_600_000 + 1_800_000);
    assert_eq!(quote["price"]["by_hour"]["bill"]["total"]["currency"], "USD");
    assert!(quote["price"]["by_board_foot"].is_null());
    assert_eq!(basis(&quote, "pace", "load"), "stated");
    assert_eq!(basis(&quote, "pace", "turn"), "usual figure");
    assert_eq!(basis(&quote, "stores", "lifts"), "stated");
    assert_eq!(basis(&quote, "stores", "engine"), "unknown");
    assert_eq!(quote["goods"]["lifts"], 900_000_000);
    // The same piles again, word for word; and none of them where none are asked for.
    assert_eq!(printed(&pithward(&asked)), text);
    let none = printed(&pithward(&["quote", &job, "--piles", "0", "--json"]));
    let none: Value = serde_json::from_str(&none).expect("stdout holds one whole JSON value");
    assert!(none["forecast"].is_null() && none["hours"]["days"][0]["begins"].is_null());
}

#[test]
fn the_same_stands_beside_the_papers() {
    let job = job("quote_json_beside");
    let papers = directory("quote_json_papers");
    let into = papers.to_str().expect("the directory is UTF-8");
    let said = printed(&pithward(&["quote", &job, "--piles", "10", "--into", into]));
    assert!(said.contains("quote.json"), "{said}");
    let written = fs::read_to_string(papers.join("quote.json")).expect("it was just written");
    assert_eq!(written, printed(&pithward(&["quote", &job, "--piles", "10", "--json"])));
}

#[test]
fn data_is_no_paper() {
    for other in [&["--paper", "terms"][..], &["--markdown"], &["--into", "papers"]] {
        let asked = [&["quote", "job.toml", "--json"][..], other].concat();
        refused(&pithward(&asked), &["--json", "cannot be used with"]);
    }
}

use super::{
    FIELDS, GENERIC, MILL_FILE, MillForm, generic_mill, mill_schema, parse_mill, read_mill,
};
use crate::fault::{Fault, FaultKind, FileFault};
use crate::place::Place;
use pithward_geometry::Mill;
use pithward_measure::Length;
use proptest::prelude::*;
use std::path::Path;

const YARD_BAND: &str = include_str!("../../../../data/mills/yard-band.toml");
const SMALL_METRIC: &str = include_str!("../../../../data/mills/small-metric.toml");

fn faults(text: &str) -> Vec<Fault> {
    parse_mill(text.as_bytes(), "mill.toml", "--mill").unwrap_err()
}

fn json(mill: &Mill) -> String {
    serde_json::to_string_pretty(&MillForm::from(mill)).unwrap()
}

/// The generic mill with one field set to what stands behind it, as written.
fn with(field: &str, value: &str) -> String {
    let lines = GENERIC.lines().map(|line| match line.split_once(" = ") {
        Some((known, _)) if known == field => format!("{field} = {value}"),
        _ => line.to_owned(),
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[track_caller]
fn check(text: &str, expected: &[&str]) {
    let said: Vec<String> = faults(text).iter().map(Fault::to_string).collect();
    assert_eq!(said, expected);
}

#[test]
fn the_mills_that_ship_can_be_read() {
    let generic = generic_mill();
    assert_eq!(generic.kerf, Length::nm(2_540_000));
    assert_eq!(generic.step, Length::sixty_fourths(4));
    assert_eq!(generic.largest_diameter, Length::inches(32));
    assert_eq!((generic.longest, generic.shortest), (Length::feet(20), Length::feet(4)));
    assert_eq!(
        (generic.widest_cut, generic.deepest_above),
        (Length::inches(26), Length::inches(14))
    );
    assert_eq!((generic.lowest_blade, generic.edging_batch), (Length::inches(1), 6));
    assert_eq!(generic.crosscut_kerf, Length::sixty_fourths(8));
    for (text, name) in [(YARD_BAND, "yard band mill"), (SMALL_METRIC, "small metric mill")] {
        assert!(text.contains("Invented"));
        let mill = parse_mill(text.as_bytes(), "mill.toml", "--mill").unwrap();
        assert_eq!(mill.name, name);
    }
}

#[test]
fn every_mill_has_a_json_twin() {
    for text in [GENERIC, YARD_BAND, SMALL_METRIC] {
        let mill = parse_mill(text.as_bytes(), "mill.toml", "--mill").unwrap();
        let twin = json(&mill);
        for file in ["mill.json", "mill"] {
            assert_eq!(parse_mill(twin.as_bytes(), file, "--mill").unwrap(), mill);
        }
    }
}

#[test]
fn what_may_be_left_out_is_as_in_the_generic_mill() {
    let short: Vec<&str> = GENERIC
        .lines()
        .filter(|line| !line.starts_with("crosscut_kerf") && !line.starts_with("edging_batch"))
        .collect();
    let mill = parse_mill(short.join("\n").as_bytes(), "mill", "--mill").unwrap();
    assert_eq!(mill, generic_mill());
}

#[test]
fn a_toe_board_where_the_mill_has_one() {
    assert_eq!(generic_mill().toe_board, None);
    let text = format!("{GENERIC}toe_board = \"8 ft\"\n");
    let mill = parse_mill(text.as_bytes(), "mill", "--mill").unwrap();
    assert_eq!(mill, Mill { toe_board: Some(Length::feet(8)), ..generic_mill() });
    check(
        &format!("{GENERIC}toe_board = \"6 in\"\n"),
        &["toe_board must be between 12 in and 20 ft, got \"6 in\""],
    );
    check(
        &format!("{GENERIC}toe_board = \"21 ft\"\n"),
        &["toe_board must not be more than longest, which is 20 ft, got 21 ft"],
    );
    check(&format!("{GENERIC}toe_board = 8\n"), &["toe_board: \"8\" has no unit"]);
    check(
        &format!("{}\ntoe_board = \"-1 ft\"\n", with("longest", "\"long\"")),
        &[
            "longest: \"long\" is not a length: \"long\" is no number; write one such as 24 1/2 in, 12 ft 4 in or 620 mm",
            "toe_board must be between 12 in and 100 ft, got \"-1 ft\"",
        ],
    );
}

#[test]
fn the_schema_has_the_fields_of_the_file() {
    let schema: serde_json::Value = serde_json::from_str(&mill_schema()).unwrap();
    let properties = schema["properties"].as_object().unwrap();
    assert_eq!(properties.len(), FIELDS.len());
    assert!(FIELDS.iter().all(|field| properties.contains_key(*field)));
    assert_eq!(schema["required"].as_array().unwrap().len(), FIELDS.len() - 8);
    assert_eq!(schema["properties"]["crosscut_kerf"]["default"], "1/8 in");
}

#[test]
fn the_committed_schema_is_the_generated_one() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/schema/mill.schema.json");
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, mill_schema()).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap();
    assert_eq!(committed, mill_schema(), "run this test with UPDATE_SCHEMA=1 and commit the file");
}

#[test]
fn a_fault_has_its_place() {
    let text = with("kerf", "\"-3.2 mm\"");
    let found = faults(&text);
    let [Fault { field, place: Place::File(place), .. }] = &found[..] else { panic!("{found:?}") };
    assert_eq!(field, "kerf");
    assert_eq!(&text[place.span.clone()], "\"-3.2 mm\"");
    assert_eq!((place.line, place.column), (9, 8));
    assert_eq!(found[0].to_string(), "kerf must be between 0.5 mm and 20 mm, got \"-3.2 mm\"");
    // A part of a value.
    let text = with("kerf", "\"24 fot\"");
    let Place::File(place) = &faults(&text)[0].place else { panic!() };
    assert_eq!(&text[place.span.clone()], "fot");
}

#[test]
fn json_faults_have_their_places_too() {
    let text = json(&generic_mill()).replace("0.1 in", "3 in").replace("\"step\"", "\"stepp\"");
    let found = parse_mill(text.as_bytes(), "mill.json", "--mill").unwrap_err();
    let places = found.iter().map(|fault| match &fault.place {
        Place::File(place) => (fault.field.as_str(), &text[place.span.clone()], place.line),
        _ => panic!(),
    });
    assert_eq!(
        places.collect::<Vec<_>>(),
        [("kerf", "\"3 in\"", 3), ("\"stepp\"", "stepp", 4), ("step", "", 13)]
    );
    let cut = &text[..text.len() / 2];
    let found = parse_mill(cut.as_bytes(), "mill.json", "--mill").unwrap_err();
    assert!(
        matches!(&*found[0].kind, FaultKind::File(FileFault::Json(message)) if message.contains("EOF"))
    );
    let twice = text.replace("\"stepp\"", "\"kerf\"");
    let found = parse_mill(twice.as_bytes(), "mill.json", "--mill").unwrap_err();
    assert!(found.iter().any(|fault| matches!(*fault.kind, FaultKind::Repeated { .. })));
    for text in ["[]", "{} {}", "\"kerf\"", "{\"kerf\": {\"kerf\": 1}}", "{\"\\u0000\": 1}"] {
        assert!(!parse_mill(text.as_bytes(), "mill.json", "--mill").unwrap_err().is_empty());
    }
}

#[test]
fn every_fault_at_once_in_the_order_of_the_file() {
    let text = with("kerf", "2.4")
        .replace("step = \"1/16 in\"", "step = \"1/10 in\"")
        .replace("largest_diameter = \"32 in\"", "largest_diamter = \"32 in\"")
        .replace("longest = \"20 ft\"", "longest = \"3 ft\"")
        .replace("edging_batch = 6", "edging_batch = \"6\"");
    check(
        &text,
        &[
            "kerf: \"2.4\" has no unit",
            "step must be the step of a scale that can be read, got \"1/10 in\"",
            "\"largest_diamter\" is no field of a mill file; perhaps largest_diameter?",
            "shortest must not be more than longest, which is 36 in, got 48 in",
            "edging_batch must be a whole number between 1 and 20, got '\"6\"'",
            "largest_diameter: missing from the mill file",
        ],
    );
}

#[test]
fn rubbish_is_refused_field_by_field() {
    check(&with("kerf", "\"0.1\""), &["kerf: \"0.1\" has no unit"]);
    check(&with("kerf", "[1]"), &["kerf must be a length in quotes, got \"[1]\""]);
    check(&with("name", "3"), &["name must be a name in quotes, got \"3\""]);
    check(&with("name", "\" \""), &["name must be 1 to 60 characters on one line, got \" \""]);
    check(
        &with("edging_batch", "0"),
        &["edging_batch must be a whole number between 1 and 20, got \"0\""],
    );
    check(
        &with("edging_batch", "6.5"),
        &["edging_batch must be a whole number between 1 and 20, got \"6.5\""],
    );
    check(&with("step", "\"-1 mm\""), &["step must be between 0.1 mm and 1 in, got \"-1 mm\""]);
    check(
        &with("widest_cut", "\"600 in\""),
        &["widest_cut must be between 4 in and 120 in, got \"600 in\""],
    );
    check(
        "kerf = 0.1 in",
        &["--mill: this is not TOML: string values must be quoted, expected literal string"],
    );
}

#[test]
fn a_file_that_is_none() {
    let check = |path: &str, expected: &str| {
        let found = read_mill(Path::new(path), "--mill").unwrap_err();
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].to_string(), expected);
        assert!(!found[0].help.is_empty());
    };
    check("no-such.toml", "--mill: there is no file \"no-such.toml\"");
    check("src", "--mill: \"src\" is a directory, not a file");
    check("", "--mill: there is no file \"\"");
    let bytes = |bytes: &[u8], expected: &str| {
        let found = parse_mill(bytes, "m.toml", "--mill").unwrap_err();
        assert_eq!(found[0].to_string(), expected);
    };
    bytes(b"", "--mill: \"m.toml\" is empty");
    bytes(b"\xef\xbb\xbf \n", "--mill: \"m.toml\" is empty");
    bytes(
        b"name = \"m\"\nkerf = \"0.1 \xff\"",
        "--mill: \"m.toml\" is not UTF-8 text: the byte 0xff on line 2 belongs to no character",
    );
    let huge = vec![b'#'; usize::try_from(MILL_FILE.most).unwrap() + 1];
    bytes(&huge, "--mill: \"m.toml\" is larger than 1048576 bytes, and no mill file is");
}

/// Every file cut short has a fault with a message, unless only what may be left out is gone.
#[test]
fn cut_short_at_every_byte() {
    for text in [GENERIC, YARD_BAND, SMALL_METRIC] {
        let twin = json(&parse_mill(text.as_bytes(), "", "--mill").unwrap());
        for (text, file) in [(text, "m.toml"), (&twin, "m.json"), (&twin, "m")] {
            for end in 0..text.trim_end().len() {
                match parse_mill(&text.as_bytes()[..end], file, "--mill") {
                    Ok(mill) => assert!(file == "m.toml" && mill.lowest_blade > Length::ZERO),
                    Err(faults) => assert!(faults.iter().all(is_clear), "{faults:?}"),
                }
            }
        }
    }
}

fn is_clear(fault: &Fault) -> bool {
    let message = fault.to_string();
    !fault.field.is_empty()
        && !fault.help.is_empty()
        && (10..2000).contains(&message.len())
        && !message.contains('\n')
}

/// What is put in place of a value: TOML and JSON of every kind, and what is neither.
fn rubbish() -> impl Strategy<Value = String> {
    let parts = "\"|'|0.1 in|-3 mm|1e9|nan|inf|[|]|{|}|=|\\n|\\u0000|1/16 in|1/0 in|true|#|,|é|\
        2024-01-01|9999999999999999999999|\"\"\"|x";
    let parts: Vec<&str> = parts.split('|').collect();
    prop_oneof![
        any::<String>(),
        any::<String>().prop_map(|text| format!("{text:?}")),
        any::<i64>().prop_map(|number| number.to_string()),
        any::<f64>().prop_map(|number| format!("\"{number} in\"")),
        proptest::collection::vec(proptest::sample::select(parts), 0..8)
            .prop_map(|parts| parts.concat()),
    ]
}

proptest! {
    #[test]
    fn prop_no_bytes_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        for file in ["m.toml", "m.json", "m"] {
            let faults = parse_mill(&bytes, file, "--mill").unwrap_err();
            prop_assert!(!faults.is_empty() && faults.iter().all(is_clear), "{faults:?}");
        }
    }

    #[test]
    fn prop_no_text_panics(text in rubbish()) {
        for file in ["m.toml", "m.json", "m"] {
            let faults = parse_mill(text.as_bytes(), file, "--mill").unwrap_err();
            prop_assert!(!faults.is_empty() && faults.iter().all(is_clear), "{faults:?}");
        }
    }

    #[test]
    fn prop_rubbish_in_any_field_has_a_fault_or_is_a_mill(
        field in proptest::sample::select(FIELDS.to_vec()),
        value in rubbish(),
    ) {
        let json = json(&generic_mill()).lines().map(|line| {
            let known = line.trim_start().starts_with(&format!("\"{field}\""));
            if known { format!("\"{field}\": {value},") } else { line.to_owned() }
        }).collect::<Vec<_>>().join("\n");
        for (text, file) in [(with(field, &value), "m.toml"), (json, "m.json")] {
            match parse_mill(text.as_bytes(), file, "--mill") {
                Ok(mill) => prop_assert!(mill.faults().is_empty()),
                Err(faults) => {
                    prop_assert!(!faults.is_empty() && faults.iter().all(is_clear), "{faults:?}");
                }
            }
        }
    }

    #[test]
    fn prop_a_mill_written_is_read_back(nm in 500_000_i64..20_000_000) {
        let mill = Mill { kerf: Length::nm(nm), ..generic_mill() };
        prop_assert_eq!(parse_mill(json(&mill).as_bytes(), "m", "--mill"), Ok(mill));
    }
}

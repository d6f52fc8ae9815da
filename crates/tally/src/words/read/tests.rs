use pithward_measure::Size;
use proptest::prelude::*;

use super::{Reading, read};
use crate::entry::Said;
use crate::words::quoting;

fn words(text: &str) -> Vec<String> {
    quoting::split(text).unwrap().into_iter().map(|word| word.text).collect()
}

fn typed(text: &str) -> Result<Said, Vec<String>> {
    let logs = ["A1", "A10", "3", "B7 oak", "rot"].map(str::to_owned);
    let wants: Vec<Size> =
        ["2x8x12", "2x8x16", "1x6x10", "4/4x6upx8"].map(|size| Size::parse(size).unwrap()).to_vec();
    let stems = ["S".to_owned()];
    let reading = Reading::Typed { logs: &logs, stems: &stems, wants: &wants };
    read(&words(text), reading).map_err(|faults| {
        faults.iter().map(|fault| format!("{fault}; {}", fault.kind.help())).collect()
    })
}

/// What was typed is kept as these words, and they read back as the same.
#[track_caller]
fn kept(text: &str, line: &str) {
    let said = typed(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}"));
    assert_eq!(said.line(), line);
    assert_eq!(read(&words(line), Reading::Kept), Ok(said), "{line}");
}

#[test]
fn what_is_typed_and_how_it_is_kept() {
    kept("begin", "begin saw");
    kept("be set", "begin setup");
    kept("BEGIN Logs", "begin logs");
    kept("begin p", "begin pack");
    kept("begin move", "begin move");
    kept("move", "begin move");
    kept("m", "begin move");
    kept("p", "pause");
    kept("pause  rain and  thunder", "pause rain and thunder");
    kept("s", "stop");
    kept("on a1", "on A1");
    kept("on \"B7 oak\"", "on \"B7 oak\"");
    kept("on b", "on \"B7 oak\"");
    kept("on S-2", "on S-2");
    kept("off 4 2x8x12", "off 4 2x8x12");
    kept("off 2x8x12", "off 1 2x8x12");
    kept("off 2x8x12 x4 3 1x6x10", "off 4 2x8x12 3 1x6x10");
    kept("off a10 4 2x8x12", "off 4 2x8x12 from A10");
    kept("off 4 2x8x12 from a10", "off 4 2x8x12 from A10");
    // A log that is called as a count is one where a count or `planned` stands behind it.
    kept("off 3 4 2x8x12", "off 4 2x8x12 from 3");
    kept("off 3 2x8x12", "off 3 2x8x12");
    kept("off 3 planned", "off planned from 3");
    kept("off pl", "off planned");
    kept("off planned 2 1x6x10", "off planned 2 1x6x10");
    // The one length in which the list wants it.
    kept("off 3 1x6", "off 3 1x6x10");
    kept("off 3 4/4x6up", "off 3 4/4x6upx8");
    kept("off 2 50x150x3000 mm 1 1x6x10", "off 2 \"50x150x3000 mm\" 1 1x6x10");
    kept("off 2x6x8'6\"", "off 1 2x6x8'6\"");
    kept("off 2 \"2x8x12,wany at one end\"", "off 2 \"2x8x12,wany at one end\"");
    kept("done", "done");
    kept("d a1", "done A1");
    kept("found nail 9 o'clock 3 ft from the butt", "found - nail 9 o'clock 3 ft from the butt");
    kept("found a1 nail", "found A1 nail");
    // Only a whole name is a log.
    kept("found a nail", "found - a nail");
    kept("found rot rot in the heart", "found rot rot in the heart");
    kept("blade", "blade dull");
    kept("bl s nail in A1", "blade struck nail in A1");
    kept("bla ru", "blade ruined");
    kept("want 2x8x12 44", "want 2x8x12 44");
    kept("want 1x6 all", "want 1x6 all");
    kept("w 1x6 0 line 3", "want 1x6 0 line 3");
    kept("note # | \"quoted words\"", "note # \"|\" quoted words");
    kept("undo 12", "undo 12");
}

#[test]
fn what_says_nothing_is_told_with_what_would() {
    for (text, told) in [
        ("", "nothing is said; say one of begin, pause"),
        ("b", "\"b\" may be begin or blade; write one letter more"),
        ("sawing", "\"sawing\" is no word of a tally"),
        ("bigin", "did you mean begin"),
        ("begin lunch", "\"lunch\" is none of setup, saw, logs, move or pack"),
        ("stop it", "\"it\" is left over"),
        ("on", "the name of a log is missing"),
        ("on a", "\"a\" may be A1 or A10"),
        (
            "on A2",
            "\"A2\" is no log of the job; name a log as the job does; the nearest: A1 or A10",
        ),
        ("off", "what came off: pieces, or planned is missing"),
        ("off 4", "a size is missing"),
        ("off 2x8", "\"2x8\" has no length; write the length too; the list wants 2x8x12 or 2x8x16"),
        ("off 9 5x5", "\"5x5\" has no length; write the length behind"),
        ("off 2y8", "\"2y8\" is no log of the job"),
        ("off 0 2x8x12", "a count must be a whole number between 1 and 10000, got \"0\""),
        ("off 99999999999 2x8x12", "got \"99999999999\""),
        ("off 2 2x8x12 x3", "\"x3\" is left over"),
        ("off 2x8x12 from", "the name of a log is missing"),
        ("off 2x8x12 from a1 1x6x10", "\"1x6x10\" is left over"),
        ("found", "what was found, and where is missing"),
        ("blade lost", "\"lost\" is none of dull, struck or ruined"),
        ("want", "a size and a count is missing"),
        ("want 2x8x12", "how many, or all is missing"),
        ("want 2x8x12 many", "got \"many\""),
        ("note", "what is to be remembered is missing"),
        ("undo x", "\"x\" is no number of an entry"),
        ("undo 0", "\"0\" is no number of an entry"),
    ] {
        let faults = typed(text).expect_err(text);
        assert!(faults.iter().any(|fault| fault.contains(told)), "{text}: {faults:?}");
    }
    let long = format!("note {}", "x".repeat(501));
    assert!(typed(&long).unwrap_err()[0].contains("too long"));
}

#[test]
fn every_fault_of_an_entry_is_told_at_once() {
    let faults = typed("off 2 2x8 0 1x6x10 3 2x8x1z from A9").unwrap_err();
    assert_eq!(faults.len(), 4, "{faults:?}");
}

proptest! {
    /// Whatever is kept reads back as what was meant.
    #[test]
    fn prop_kept_words_read_back(
        verb in proptest::sample::select(super::VERBS.to_vec()),
        rest in proptest::collection::vec("[ -~é½]{0,12}|[0-9]|2x8x12|planned|from|A1|line", 0..6),
    ) {
        let mut all = vec![verb.to_owned()];
        all.extend(rest);
        for reading in [Reading::Kept, Reading::Typed { logs: &["A1".to_owned()], stems: &[], wants: &[] }] {
            if let Ok(said) = read(&all, reading) {
                prop_assert_eq!(read(&words(&said.line()), Reading::Kept), Ok(said));
            }
        }
    }

    #[test]
    fn prop_no_words_panic(words in proptest::collection::vec(any::<String>(), 0..5)) {
        let _ = read(&words, Reading::Kept);
    }
}

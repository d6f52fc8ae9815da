use super::{ReadFault, read};
use crate::entry::{Entry, Said};
use crate::line;
use crate::record::{Record, WarningKind};

/// A file of notes, as it is written: `note 1`, `note 2`.
fn notes(count: u64) -> String {
    entries(&(1..=count).map(|n| Said::Note(n.to_string())).collect::<Vec<_>>())
}

fn entries(all: &[Said]) -> String {
    let mut text = line::head();
    let mut check = 0;
    for (number, said) in (1..).zip(all) {
        let at = format!("2026-05-02T09:{number:02}:00-04:00[America/New_York]").parse().unwrap();
        let entry = Entry { number, at, late: number % 3 == 0, said: said.clone() };
        let (line, next) = line::write(&entry, check);
        text.push_str(&format!("{line}\n"));
        check = next;
    }
    text
}

/// The notes that count, and what is wrong by line.
#[track_caller]
fn check(text: &str, counted: &[&str], wrong: &[(usize, WarningKind)]) -> Record {
    let record = Record::read(text.as_bytes()).unwrap();
    let notes: Vec<&str> = record
        .counted()
        .filter_map(|entry| match &entry.said {
            Said::Note(note) => Some(note.as_str()),
            _ => None,
        })
        .collect();
    assert_eq!(notes, counted, "{text}");
    let warnings: Vec<(usize, WarningKind)> =
        record.open_warnings().map(|warning| (warning.line, warning.kind.clone())).collect();
    assert_eq!(warnings, wrong, "{text}");
    record
}

fn without(text: &str, lines: std::ops::Range<usize>) -> String {
    let kept = text.lines().enumerate().filter(|(n, _)| !lines.contains(&(n + 1)));
    kept.map(|(_, line)| format!("{line}\n")).collect()
}

#[test]
fn a_file_as_it_was_written() {
    let text = notes(4);
    check(&text, &["1", "2", "3", "4"], &[]);
    // As an editor of another system leaves it, with blank lines and remarks.
    check(&text.replace('\n', "\r\n"), &["1", "2", "3", "4"], &[]);
    check(&format!("\u{feff}{text}"), &["1", "2", "3", "4"], &[]);
    let remarked = text.replacen("2 2026", "\n# a remark\n2 2026", 1);
    check(&remarked, &["1", "2", "3", "4"], &[]);
    // The last end of line is missing, and all else is there.
    check(text.trim_end(), &["1", "2", "3", "4"], &[]);
    check("", &[], &[]);
    check("pithward tal", &[], &[]);
}

#[test]
fn lines_that_were_cut_out_are_missed() {
    // Lines 1 to 3 are the head; entry n stands on line n + 3.
    let text = notes(6);
    let missing = |first, last| WarningKind::Missing { first, last };
    check(&without(&text, 5..6), &["1", "3", "4", "5", "6"], &[(5, missing(2, 2))]);
    check(&without(&text, 6..9), &["1", "2", "6"], &[(6, missing(3, 5))]);
    check(&without(&text, 4..6), &["3", "4", "5", "6"], &[(4, missing(1, 2))]);
    check(&without(&text, 1..4), &["1", "2", "3", "4", "5", "6"], &[(1, WarningKind::NoHead)]);
}

#[test]
fn a_line_that_was_changed_counts_and_is_told() {
    let text = notes(3).replace("note 2", "note two");
    check(&text, &["1", "two", "3"], &[(5, WarningKind::Changed)]);
    // Added by hand, without a check: before and behind others.
    let by_hand = "4 2026-05-02T10:00:00-04:00[America/New_York] note hand\n";
    check(&(notes(3) + by_hand), &["1", "2", "3", "hand"], &[(7, WarningKind::Changed)]);
    let at = "2026-05-02T10:00:00-04:00";
    let text = notes(3).replacen("3 2026", &format!("3 {at} note hand\n3 2026"), 1);
    let repeated = WarningKind::Repeated { number: 3 };
    check(&text, &["1", "2", "hand", "3"], &[(6, WarningKind::Changed), (7, repeated)]);
}

#[test]
fn what_cannot_be_read_is_told_and_does_not_count() {
    let text = notes(3).replace("note 2", "nonsense 2");
    let record = check(&text, &["1", "3"], &[(5, unread(&text, 5))]);
    assert_eq!(record.entries.len(), 2);
    let garbage = notes(3).replacen("2 2026", "{\u{7}\n2 2026", 1);
    check(&garbage, &["1", "2", "3"], &[(5, WarningKind::Unread { text: "{\u{fffd}".into() })]);
    let mut bytes = notes(2).into_bytes();
    bytes.extend(b"\xff\xfe\n");
    assert_eq!(Record::read(&bytes).unwrap().open_warnings().count(), 1);
}

fn unread(text: &str, line: usize) -> WarningKind {
    WarningKind::Unread { text: text.lines().nth(line - 1).unwrap().to_owned() }
}

#[test]
fn a_torn_last_line_never_counts() {
    let text = notes(3);
    let last = text.trim_end().rfind('\n').unwrap() + 1;
    for cut in last + 1..text.len() - 1 {
        let record = Record::read(&text.as_bytes()[..cut]).unwrap();
        assert_eq!(record.entries.len(), 2, "{cut}");
        let kinds: Vec<&WarningKind> =
            record.open_warnings().map(|warning| &warning.kind).collect();
        assert!(matches!(kinds[..], [WarningKind::Torn { .. }]), "{cut}: {kinds:?}");
    }
    // Once it has its mark nobody is warned any more, and the next entry follows the one before.
    let (line, _) = {
        let whole = read(&text.as_bytes()[..last], None).unwrap();
        let at = "2026-05-02T11:00:00-04:00".parse::<jiff::Timestamp>().unwrap();
        let at = at.to_zoned_datetime(jiff::tz::TimeZone::UTC);
        let entry =
            Entry { number: whole.next, at, late: false, said: Said::Note("3 again".into()) };
        line::write(&entry, whole.last_check)
    };
    let ended = format!("{}{}\n{line}\n", &text[..last + 20], line::TORN);
    let record = check(&ended, &["1", "2", "3 again"], &[]);
    assert_eq!(record.warnings.len(), 1);
}

#[test]
fn undoing_and_undoing_that() {
    let note = |text: &str| Said::Note(text.to_owned());
    let undo = |entry| Said::Undo { entry };
    check(&entries(&[note("1"), note("2"), undo(1)]), &["2"], &[]);
    check(&entries(&[note("1"), note("2"), undo(1), undo(3)]), &["1", "2"], &[]);
    check(&entries(&[note("1"), note("2"), undo(1), undo(3), undo(4)]), &["2"], &[]);
    let nothing = |entry| WarningKind::NothingUndone { entry };
    check(&entries(&[note("1"), undo(7)]), &["1"], &[(5, nothing(7))]);
    check(&entries(&[note("1"), undo(2)]), &["1"], &[(5, nothing(2))]);
    check(&entries(&[note("1"), undo(1), undo(1)]), &[], &[(5, nothing(1))]);
}

#[test]
fn what_was_confirmed_is_told_no_more_until_it_changes_again() {
    let mut text = notes(3).replace("note 2", "note two").replace("note 3", "garbage 3");
    let whole = read(text.as_bytes(), None).unwrap();
    assert_eq!(whole.next, 4);
    let at = "2026-05-02T11:00:00-04:00[America/New_York]".parse().unwrap();
    let said = Said::Confirm { check: crc32fast::hash(text.as_bytes()) };
    let entry = Entry { number: whole.next, at, late: false, said };
    text += &(line::write(&entry, whole.last_check).0 + "\n");
    let record = check(&text, &["1", "two"], &[]);
    assert_eq!(record.warnings.len(), 2);
    assert!(record.warnings.iter().all(|warning| warning.confirmed));
    let again = text.replace("note two", "note 22");
    assert_eq!(Record::read(again.as_bytes()).unwrap().open_warnings().count(), 2);
}

#[test]
fn what_is_no_tally() {
    assert_eq!(Record::read(b"site = \"farm\"\n"), Err(ReadFault::NoTally));
    assert_eq!(Record::read(b"pithward tally 2\n"), Err(ReadFault::Newer { version: 2, known: 1 }));
    assert_eq!(Record::read(&[0; 4096]), Err(ReadFault::NoTally));
}

proptest::proptest! {
    /// Whatever becomes of a file, every line that is whole and was not touched counts.
    #[test]
    fn prop_damage_costs_no_other_line(
        at in 0..2000_usize, put in proptest::collection::vec(proptest::prelude::any::<u8>(), 0..5), take in 0..3_usize,
    ) {
        let text = notes(12);
        let mut bytes = text.clone().into_bytes();
        let at = at % bytes.len();
        let end = (at + take).min(bytes.len());
        let touched = |line: std::ops::Range<usize>| line.start <= end && at <= line.end;
        bytes.splice(at..end, put);
        let Ok(record) = Record::read(&bytes) else { panic!("a dozen whole lines are a tally") };
        let mut start = 0;
        for (n, line) in text.lines().enumerate() {
            let whole = start..start + line.len() + 1;
            start = whole.end;
            if n >= 3 && !touched(whole) {
                let number = n as u64 - 2;
                let is = |entry: &Entry| entry.said == Said::Note(number.to_string());
                proptest::prop_assert!(record.counted().any(is), "{number}");
            }
        }
    }
}

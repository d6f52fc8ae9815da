use std::fs;
use std::path::PathBuf;
use std::thread;

use super::{AppendFault, Draft, append, beside, last, open};
use crate::entry::Said;
use crate::record::{ReadFault, WarningKind};

fn at(text: &str) -> jiff::ZonedDateTime {
    text.parse().unwrap()
}

const AT: &str = "2026-05-02T09:41:07-04:00[America/New_York]";

fn note(text: &str) -> Vec<Draft> {
    vec![Draft { at: at(AT), late: false, said: Said::Note(text.to_owned()) }]
}

/// A file of a test's own that is not there yet.
fn file(name: &str) -> PathBuf {
    let place = std::env::temp_dir().join(format!("pithward-tally-{}-{name}", std::process::id()));
    let _ = fs::remove_dir_all(&place);
    fs::create_dir_all(&place).unwrap();
    place.join("job.tally")
}

fn said(path: &std::path::Path) -> Vec<String> {
    let record = open(path).unwrap().unwrap();
    record
        .entries
        .iter()
        .map(|one| format!("{} {}", one.entry.number, one.entry.said.line()))
        .collect()
}

#[test]
fn the_file_stands_beside_the_job() {
    assert_eq!(beside("yard/farm.toml".as_ref()), PathBuf::from("yard/farm.tally"));
    assert_eq!(beside("farm".as_ref()), PathBuf::from("farm.tally"));
}

#[test]
fn lines_as_the_documentation_shows_them() {
    let path = file("lines");
    assert!(open(&path).unwrap().is_none());
    let first = append::<AppendFault>(&path, |record, next| {
        assert_eq!(next, 1);
        assert!(record.entries.is_empty());
        Ok(note("first"))
    })
    .unwrap();
    assert_eq!((first.new, first.record.entries.len()), (1, 1));
    append::<AppendFault>(&path, |_, _| Ok([note("second"), note("third")].concat())).unwrap();
    let text = fs::read_to_string(&path).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len(), 6);
    assert_eq!(lines[0], "pithward tally 1");
    assert_eq!(lines[3], "1 2026-05-02T09:41:07-04:00[America/New_York] note first | b2bc92e6");
    assert_eq!(said(&path), ["1 note first", "2 note second", "3 note third"]);
    // Nothing to add adds nothing.
    assert_eq!(append::<AppendFault>(&path, |_, _| Ok(Vec::new())).unwrap().new, 0);
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
}

#[test]
fn what_a_killed_writer_left_is_ended_at_every_byte() {
    let path = file("torn");
    append::<AppendFault>(&path, |_, _| Ok(note("first"))).unwrap();
    append::<AppendFault>(&path, |_, _| Ok(note("sec½ond"))).unwrap();
    let whole = fs::read(&path).unwrap();
    for cut in 0..=whole.len() {
        fs::write(&path, &whole[..cut]).unwrap();
        // Whoever was stopped before an entry was on the disk had not said beside it that it is.
        fs::remove_file(last::beside(&path)).unwrap();
        let before = open(&path).unwrap().unwrap();
        let added = append::<AppendFault>(&path, |_, _| Ok(note("next"))).unwrap();
        let bytes = fs::read(&path).unwrap();
        assert!(bytes.starts_with(&whole[..cut]), "{cut}: something was erased");
        assert!(bytes.starts_with(b"pithward tally 1\n"), "{cut}");
        assert_eq!(added.record.open_warnings().count(), 0, "{cut}");
        assert_eq!(added.record.entries.len(), before.entries.len() + 1, "{cut}");
        let torn = before.warnings.iter().any(|w| matches!(w.kind, WarningKind::Torn { .. }));
        assert_eq!(added.ended.is_some(), torn, "{cut}");
        append::<AppendFault>(&path, |_, _| Ok(note("and on"))).unwrap();
        assert_eq!(open(&path).unwrap().unwrap().open_warnings().count(), 0, "{cut}");
    }
}

fn confirm() -> Vec<Draft> {
    vec![Draft { at: at(AT), late: false, said: Said::Confirm { check: 0 } }]
}

/// What is wrong with a tally and was not confirmed.
fn wrong(path: &std::path::Path) -> Vec<WarningKind> {
    let record = open(path).unwrap().unwrap();
    record.open_warnings().map(|warning| warning.kind.clone()).collect()
}

/// Cut anywhere, what is missing is told, before the next entry and after it; the lost lines fit where they were.
#[test]
fn what_was_cut_off_at_the_end_is_missed_at_every_byte() {
    let path = file("cut");
    append::<AppendFault>(&path, |_, _| Ok([note("first"), note("second")].concat())).unwrap();
    append::<AppendFault>(&path, |_, _| Ok(note("third"))).unwrap();
    let (whole, marked) = (fs::read(&path).unwrap(), fs::read(last::beside(&path)).unwrap());
    let behind = |number: &str| {
        let text = String::from_utf8(whole.clone()).unwrap();
        let line = text.lines().find(|line| line.starts_with(number)).unwrap().len();
        text.find(&format!("\n{number}")).unwrap() + 1 + line
    };
    let ends = ["1 ", "2 ", "3 "].map(behind);
    for cut in 0..=whole.len() {
        fs::write(&path, &whole[..cut]).unwrap();
        fs::write(last::beside(&path), &marked).unwrap();
        let there = ends.iter().filter(|end| **end <= cut).count() as u64;
        let missing = wrong(&path).iter().find_map(|kind| match kind {
            WarningKind::CutOff { first, last } => Some((*first, *last)),
            _ => None,
        });
        assert_eq!(missing, (there < 3).then_some((there + 1, 3)), "{cut}");
        let added = append::<AppendFault>(&path, |_, next| {
            assert_eq!(next, 4, "{cut}");
            Ok(note("fourth"))
        });
        assert!(!added.unwrap().unmarked);
        let bytes = fs::read(&path).unwrap();
        assert!(bytes.starts_with(&whole[..cut]), "{cut}: something was erased");
        let gap = WarningKind::Missing { first: there + 1, last: 3 };
        assert_eq!(wrong(&path), if there < 3 { vec![gap] } else { vec![] }, "{cut}");
        // The file tells it by itself from then on.
        fs::remove_file(last::beside(&path)).unwrap();
        assert_eq!(wrong(&path).len(), usize::from(there < 3), "{cut}");
        // Whoever finds the whole file puts the new line behind it.
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let line = text.lines().last().unwrap();
        fs::write(&path, [whole.as_slice(), line.as_bytes(), b"\n"].concat()).unwrap();
        assert_eq!(wrong(&path), [], "{cut}");
        assert_eq!(said(&path), ["1 note first", "2 note second", "3 note third", "4 note fourth"]);
    }
}

#[test]
fn what_is_missing_at_the_end_can_be_confirmed() {
    let path = file("cut_confirmed");
    append::<AppendFault>(&path, |_, _| Ok(note("first"))).unwrap();
    let older = fs::read(&path).unwrap();
    append::<AppendFault>(&path, |_, _| Ok([note("second"), note("third")].concat())).unwrap();
    fs::write(&path, &older).unwrap();
    assert_eq!(wrong(&path), [WarningKind::CutOff { first: 2, last: 3 }]);
    append::<AppendFault>(&path, |_, _| Ok(confirm())).unwrap();
    assert_eq!(wrong(&path), []);
    fs::remove_file(last::beside(&path)).unwrap();
    assert_eq!(wrong(&path), []);
    append::<AppendFault>(&path, |_, _| Ok(note("on"))).unwrap();
    assert_eq!((wrong(&path), said(&path).len()), (vec![], 3));
    // All of it is gone.
    fs::remove_file(&path).unwrap();
    assert_eq!(wrong(&path), [WarningKind::CutOff { first: 1, last: 5 }]);
}

#[test]
fn a_file_beside_the_tally_that_says_nothing_or_less_does_no_harm() {
    let path = file("marks");
    let beside = last::beside(&path);
    append::<AppendFault>(&path, |_, _| Ok(note("first"))).unwrap();
    let older = fs::read(&beside).unwrap();
    append::<AppendFault>(&path, |_, _| Ok(note("second"))).unwrap();
    let newer = fs::read(&beside).unwrap();
    // It lags, as after a machine that stopped between two writes; it is torn; it is of something else; it is no file.
    for mark in [&older[..], &newer[..20], &[], b"a diary\n", &[0xff; 99]] {
        fs::write(&beside, mark).unwrap();
        assert_eq!(wrong(&path), []);
    }
    append::<AppendFault>(&path, |_, _| Ok(note("third"))).unwrap();
    assert_eq!(last::read(&path).unwrap().number, 3);
    fs::remove_file(&beside).unwrap();
    fs::create_dir(&beside).unwrap();
    assert_eq!(wrong(&path), []);
    let added = append::<AppendFault>(&path, |_, _| Ok(note("fourth"))).unwrap();
    assert!(added.unmarked && added.record.open_warnings().next().is_none());
    assert_eq!(said(&path).len(), 4);
    // A job that is moved without it, and one that is moved with it.
    let other = path.with_file_name("other.tally");
    fs::copy(&path, &other).unwrap();
    assert_eq!(wrong(&other), []);
}

/// Another file in the place of the one that was written, as long or longer.
#[test]
fn another_tally_in_its_place_is_told_until_it_is_confirmed() {
    let (path, other) = (file("this"), file("that"));
    append::<AppendFault>(&path, |_, _| Ok([note("first"), note("second")].concat())).unwrap();
    append::<AppendFault>(&other, |_, _| Ok([note("one"), note("two"), note("three")].concat()))
        .unwrap();
    fs::copy(&other, &path).unwrap();
    let told = [WarningKind::Other { number: 2 }];
    assert_eq!(wrong(&path), told);
    append::<AppendFault>(&path, |_, _| Ok(note("on"))).unwrap();
    assert_eq!(wrong(&path), told);
    append::<AppendFault>(&path, |_, _| Ok(confirm())).unwrap();
    assert_eq!((wrong(&path), said(&path).len()), (vec![], 5));
}

#[test]
fn many_writers_at_once_get_numbers_of_their_own() {
    let path = file("many");
    thread::scope(|scope| {
        for writer in 0..4 {
            let path = &path;
            scope.spawn(move || {
                for n in 0..50 {
                    let text = format!("{writer}-{n}");
                    append::<AppendFault>(path, |_, _| Ok(note(&text))).unwrap();
                }
            });
        }
    });
    let record = open(&path).unwrap().unwrap();
    assert_eq!(record.warnings, []);
    let numbers: Vec<u64> = record.entries.iter().map(|one| one.entry.number).collect();
    assert_eq!(numbers, (1..=200).collect::<Vec<_>>());
}

#[test]
fn a_confirmation_knows_all_before_it() {
    let path = file("confirm");
    append::<AppendFault>(&path, |_, _| Ok([note("one"), note("two")].concat())).unwrap();
    let text = fs::read_to_string(&path).unwrap().replace("note one", "note 1");
    // A torn line is ended in the same write; it is before the confirmation.
    fs::write(&path, text + "3 2026-").unwrap();
    assert_eq!(open(&path).unwrap().unwrap().open_warnings().count(), 2);
    let added = append::<AppendFault>(&path, |_, _| Ok(confirm())).unwrap();
    assert_eq!(added.record.open_warnings().count(), 0);
}

#[test]
fn what_is_not_to_be_added_to_is_left_alone() {
    let path = file("foreign");
    fs::write(&path, "site = \"farm\"\n").unwrap();
    let fault = append::<AppendFault>(&path, |_, _| Ok(note("x"))).unwrap_err();
    assert!(matches!(fault, AppendFault::NoTally(ReadFault::NoTally)), "{fault:?}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "site = \"farm\"\n");
    let directory = path.parent().unwrap();
    assert!(matches!(
        append::<AppendFault>(directory, |_, _| Ok(note("x"))),
        Err(AppendFault::NoFile)
    ));
    assert!(matches!(open(directory), Err(AppendFault::NoFile)));
    let nowhere = directory.join("no such/job.tally");
    assert!(matches!(
        append::<AppendFault>(&nowhere, |_, _| Ok(note("x"))),
        Err(AppendFault::Open(_))
    ));
    assert!(open(&nowhere).unwrap().is_none());
}

#[test]
fn whoever_holds_the_file_for_ever_is_not_waited_for_for_ever() {
    let path = file("held");
    append::<AppendFault>(&path, |_, _| Ok(note("first"))).unwrap();
    let held = fs::File::open(&path).unwrap();
    held.lock().unwrap();
    assert!(matches!(append::<AppendFault>(&path, |_, _| Ok(note("x"))), Err(AppendFault::Held)));
    held.unlock().unwrap();
    append::<AppendFault>(&path, |_, _| Ok(note("second"))).unwrap();
    assert_eq!(said(&path), ["1 note first", "2 note second"]);
}

/// The work of an entry does not grow with the tally: it writes its own line, and touches no other.
#[test]
fn an_entry_writes_its_own_line_and_nothing_else() {
    let path = file("work");
    let drafts = (0..2000).flat_map(|n| note(&format!("{n:04}"))).collect();
    append::<AppendFault>(&path, |_, _| Ok(drafts)).unwrap();
    let before = fs::read(&path).unwrap();
    let added = append::<AppendFault>(&path, |_, _| Ok(note("last"))).unwrap();
    let after = fs::read(&path).unwrap();
    let line = after.strip_prefix(before.as_slice()).unwrap();
    assert_eq!(line.iter().filter(|byte| **byte == b'\n').count(), 1);
    assert!(line.len() < 80 && line.starts_with(b"2001 "), "{}", String::from_utf8_lossy(line));
    assert_eq!((added.new, added.record.entries.len()), (1, 2001));
}

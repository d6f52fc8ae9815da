use std::fs;
use std::path::PathBuf;
use std::thread;

use super::{AppendFault, Draft, append, beside, open};
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
    let confirm = || vec![Draft { at: at(AT), late: false, said: Said::Confirm { check: 0 } }];
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

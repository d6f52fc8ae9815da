//! Writers that are killed at any moment: what they had acknowledged is there, and at most one entry more.
//!
//! The writer is this very test, run again as a process of its own that adds entries and says each that is kept.

#![allow(clippy::unwrap_used, reason = "a test fails where it breaks")]

use std::collections::BTreeSet;
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use pithward_tally::{AppendFault, Draft, Said, WarningKind, append, open};

/// Where the writer finds the file, and what it calls itself.
const FILE: &str = "PITHWARD_TALLY_OF_A_WRITER";
const NAME: &str = "PITHWARD_NAME_OF_A_WRITER";

/// Entries that are acknowledged in all before the test is done.
const ENTRIES: usize = 1000;

fn note(text: &str) -> Vec<Draft> {
    let at = "2026-05-02T09:41:07-04:00[America/New_York]".parse().unwrap();
    vec![Draft { at, late: false, said: Said::Note(text.to_owned()) }]
}

/// No test where nobody asked for a writer: else one that adds entries until it is killed.
#[test]
fn writer() {
    let (Ok(file), Ok(name)) = (std::env::var(FILE), std::env::var(NAME)) else { return };
    let mut out = std::io::stdout();
    for n in 0.. {
        let text = format!("{name}-{n}");
        append::<AppendFault>(Path::new(&file), |_, _| Ok(note(&text))).unwrap();
        // Nobody reads on: it is over.
        if writeln!(out, "kept {text}").and_then(|()| out.flush()).is_err() {
            return;
        }
    }
}

/// Starts a writer, kills it after a while, and says what it acknowledged.
fn killed(file: &Path, name: &str, after: Duration) -> Vec<String> {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "writer", "--nocapture", "--test-threads=1"])
        .env(FILE, file)
        .env(NAME, name)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let out = child.stdout.take().unwrap();
    let read = thread::spawn(move || {
        let lines = BufReader::new(out).lines().map_while(Result::ok);
        // The first stands behind the name of the test.
        let text = |line: String| line.rsplit_once("kept ").map(|(_, text)| text.to_owned());
        lines.filter_map(text).collect::<Vec<_>>()
    });
    thread::sleep(after);
    child.kill().unwrap();
    child.wait().unwrap();
    read.join().unwrap()
}

#[test]
fn what_was_acknowledged_is_there() {
    let place = std::env::temp_dir().join(format!("pithward-killed-{}", std::process::id()));
    fs::create_dir_all(&place).unwrap();
    let file = place.join("job.tally");
    let mut acknowledged: Vec<String> = Vec::new();
    let mut random = 1_u64;
    let mut runs = 0;
    while acknowledged.len() < ENTRIES {
        random = random.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(0x1405_7b7e_f767_814f);
        let after = Duration::from_micros(15_000 + (random >> 33) % 120_000);
        // Two at once now and then.
        let more = thread::scope(|scope| {
            let names = (0..1 + runs % 2).map(|n| format!("{runs}.{n}"));
            let file = &file;
            let writers: Vec<_> =
                names.map(|name| scope.spawn(move || killed(file, &name, after))).collect();
            writers.into_iter().map(|writer| writer.join().unwrap()).collect::<Vec<_>>()
        });
        runs += 1;
        acknowledged.extend(more.into_iter().flatten());
        let Some(record) = open(&file).unwrap() else { continue };
        let there: BTreeSet<String> = record
            .entries
            .iter()
            .filter_map(|one| match &one.entry.said {
                Said::Note(text) => Some(text.clone()),
                _ => None,
            })
            .collect();
        assert_eq!(there.len(), record.entries.len(), "an entry is there twice");
        for text in &acknowledged {
            assert!(there.contains(text), "{text} was acknowledged and is gone");
        }
        // Of every writer that was killed at most the one entry that it had not acknowledged.
        assert!(there.len() <= acknowledged.len() + 2 * runs, "{} in {runs}", there.len());
        // What is torn, and never that something is gone: the file beside it does not lead.
        assert!(record.open_warnings().count() <= 1, "{:?}", record.warnings);
        let torn = |of: &pithward_tally::Warning| matches!(of.kind, WarningKind::Torn { .. });
        assert!(record.open_warnings().all(torn), "{:?}", record.warnings);
        assert!(runs < 5000, "{} acknowledged in {runs} runs", acknowledged.len());
    }
    // All that was torn is ended, and nothing else is wrong.
    let added = append::<AppendFault>(&file, |_, _| Ok(note("last"))).unwrap();
    assert_eq!(added.record.open_warnings().count(), 0);
    let numbers: BTreeSet<u64> = added.record.entries.iter().map(|one| one.entry.number).collect();
    assert_eq!(numbers.len(), added.record.entries.len());
    fs::remove_dir_all(&place).unwrap();
}

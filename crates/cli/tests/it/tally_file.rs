//! What becomes of a tally where the disk, the clock or an editor is not kind to it.

#![cfg(unix)]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::Duration;

use crate::common::{command, directory, printed, put, refused, told};
use pithward_tally::{AppendFault, Draft, Said, append};

const JOB: &str = "[[logs]]\nid = \"a\"\nsmall_end = \"14 in\"\nbutt = \"15 in\"\nlength = \"12 ft 4 in\"\n\n\
                   [[wants]]\nsize = \"2x8x12\"\ncount = 4\n";

/// A job file in a directory of its own, with so many notes in its tally.
fn job(name: &str, notes: usize) -> (PathBuf, String) {
    let place = directory(&format!("tally_file_{name}"));
    put(&place, "job.toml", JOB);
    let job = place.join("job.toml").to_str().expect("the directory is UTF-8").to_owned();
    for n in 1..=notes {
        printed(&tally(&job, &["note", &format!("number {n}")]));
    }
    (place.join("job.tally"), job)
}

fn tally(job: &str, words: &[&str]) -> Output {
    let mut command = command(&[&["tally", job], words].concat());
    command.env("TZ", "America/New_York").output().expect("the binary was built for this test")
}

/// Words as they follow each other, wherever a line ends.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn says(job: &str, words: &[&str]) -> String {
    flat(&printed(&tally(job, words)))
}

#[test]
fn a_full_disk_keeps_all_that_was_kept() {
    let (file, job) = job("full", 5);
    let before = fs::read(&file).expect("the tally is there");
    // A file that may grow by some bytes only: the write stops in the middle of the line, as on a full disk.
    let limit = before.len().div_ceil(1024);
    let room = limit * 1024 - before.len();
    assert!(room < 480, "a note cannot fill {room} bytes: have another number of them before it");
    let long = "x".repeat(480);
    let script = format!("trap '' XFSZ; ulimit -f {limit}; exec \"$0\" \"$@\"");
    let full = |words: &[&str]| {
        let mut command = Command::new("bash");
        command.args(["-c", &script, env!("CARGO_BIN_EXE_pithward"), "tally", &job]).args(words);
        command.output().expect("there is a shell where this is tested")
    };
    let stderr = told(
        &full(&["note", &long]),
        3,
        &["cannot be written", "the entry is not kept", "make room on the disk"],
    );
    assert!(stderr.contains("job.tally"), "{stderr}");
    assert_eq!(fs::read(&file).expect("the tally is there"), before);
    // And with room again all goes on.
    assert!(says(&job, &["note", "after"]).contains("Kept: 6 "));
    assert!(fs::read(&file).expect("the tally is there").starts_with(&before));
}

#[test]
fn a_full_disk_before_the_first_entry_leaves_a_file_that_can_be_used() {
    let (file, job) = job("full_new", 0);
    let script = "trap '' XFSZ; ulimit -f 0; exec \"$0\" \"$@\"";
    let output = Command::new("bash")
        .args(["-c", script, env!("CARGO_BIN_EXE_pithward"), "tally", &job, "note", "x"])
        .stdout(Stdio::piped())
        .output()
        .expect("there is a shell where this is tested");
    assert_ne!(output.status.code(), Some(0));
    assert_eq!(fs::read(&file).unwrap_or_default(), b"");
    assert!(says(&job, &["note", "after"]).contains("Kept: 1 "));
}

#[test]
fn a_folder_that_cannot_be_written_to() {
    let (file, job) = job("read_only", 0);
    // Whoever runs the tests may write everywhere; so the tally is where nobody can.
    std::os::unix::fs::symlink("/proc/pithward-nowhere/job.tally", &file)
        .expect("a link can be made");
    refused(&tally(&job, &["note", "x"]), &["cannot be opened", "a folder that can be written to"]);
    assert!(says(&job, &[]).contains("Nothing is said yet"));
}

#[test]
fn a_clock_that_steps_back_is_told_and_the_entry_kept() {
    let (file, job) = job("clock", 0);
    let ahead = jiff::ZonedDateTime::now().checked_add(jiff::Span::new().hours(2)).expect("a time");
    let at = |time: &jiff::ZonedDateTime| pithward_tally::whole_seconds(time);
    let draft = Draft { at: at(&ahead), late: false, said: Said::On { log: "a".to_owned() } };
    append::<AppendFault>(&file, |_, _| Ok(vec![draft])).expect("the file can be written");
    let told = says(&job, &["off", "2", "2x8x12"]);
    assert!(told.contains("The clock went back by 2 h before entry 2. It is kept"), "{told}");
    assert!(told.contains("--at") && told.contains("2x8x12 2 2 of 4"), "{told}");
    // The next entry has nothing new to tell; whoever looks is told again.
    assert!(!says(&job, &["pause"]).contains("clock went back"));
    assert!(says(&job, &[]).contains("clock went back"));
    says(&job, &["undo", "1"]);
    assert!(!says(&job, &[]).contains("clock went back"));
}

#[test]
fn a_file_that_was_edited_or_cut_is_told_until_it_is_confirmed() {
    let (file, job) = job("edited", 6);
    let text = fs::read_to_string(&file).expect("the tally is there");
    let edited: String = text
        .lines()
        .filter(|line| !line.starts_with("4 "))
        .map(|line| line.replace("number 2", "number two").replace("number 6", "\u{7}") + "\n")
        .collect();
    fs::write(&file, &edited).expect("the file can be written");
    let told = says(&job, &["note", "next"]);
    assert!(told.contains("is not as it was written (3 places)"), "{told}");
    for said in ["line 5 was changed by hand", "before line 7 entry 4 is gone", "say: confirm"] {
        assert!(told.contains(said), "no {said} in {told}");
    }
    assert!(told.contains("Kept: 7 "), "{told}");
    let confirmed = says(&job, &["confirm"]);
    assert!(!confirmed.contains("not as it was written"), "{confirmed}");
    assert!(fs::read_to_string(&file).expect("the tally is there").starts_with(&edited));
}

/// An older copy put back in the place of the tally looks whole. It is told, and what comes next leaves room for what is lost.
#[test]
fn an_older_copy_in_its_place_is_told_until_it_is_confirmed() {
    let (file, job) = job("older", 3);
    let older = fs::read(&file).expect("the tally is there");
    for n in 4..=6 {
        says(&job, &["note", &format!("number {n}")]);
    }
    let newer = fs::read_to_string(&file).expect("the tally is there");
    fs::write(&file, &older).expect("the file can be written");
    let told = says(&job, &[]);
    for said in
        ["entries 4 to 6 were kept and are gone", "ends with 3 ", "put that back", "say: confirm"]
    {
        assert!(told.contains(said), "no {said} in {told}");
    }
    let told = says(&job, &["note", "next"]);
    assert!(told.contains("Kept: 7 ") && told.contains("entries 4 to 6 are gone"), "{told}");
    // The newer copy turns up: the new line stands behind it as if nothing had been.
    let text = fs::read_to_string(&file).expect("the tally is there");
    let line = text.lines().last().expect("the new entry");
    fs::write(&file, format!("{newer}{line}\n")).expect("the file can be written");
    assert!(!says(&job, &[]).contains("not as it was written"));
    // It never does.
    fs::write(&file, &older).expect("the file can be written");
    assert!(says(&job, &["confirm"]).contains("Kept: 8 "));
    assert!(!says(&job, &[]).contains("not as it was written"));
    // The small file beside it may be lost, and the folder moved.
    fs::remove_file(file.with_extension("tally.last")).expect("it is there");
    assert!(!says(&job, &["note", "on"]).contains("not as it was written"));
    // All of it is lost.
    fs::remove_file(&file).expect("it is there");
    let told = says(&job, &[]);
    assert!(told.contains("entries 1 to 9 were kept and are gone: the tally holds none"), "{told}");
}

#[test]
fn a_torn_last_line_is_told_once_and_ended() {
    let (file, job) = job("torn", 3);
    let text = fs::read_to_string(&file).expect("the tally is there");
    let torn = &text[..text.len() - 14];
    // Whoever was stopped there had not said beside it that it is kept.
    fs::remove_file(file.with_extension("tally.last")).expect("it is there");
    fs::write(&file, torn).expect("the file can be written");
    assert!(says(&job, &[]).contains("line 6 was never finished and does not count"));
    let told = says(&job, &["note", "next"]);
    assert!(told.contains("Line 6 was never finished") && told.contains("say it again"), "{told}");
    assert!(told.contains("Kept: 3 "), "{told}");
    assert!(!says(&job, &["note", "more"]).contains("never finished"));
    assert!(fs::read_to_string(&file).expect("the tally is there").starts_with(torn));
}

#[test]
fn what_is_no_tally_is_left_alone() {
    let (file, job) = job("foreign", 0);
    fs::write(&file, "a diary\n").expect("the file can be written");
    refused(&tally(&job, &["note", "x"]), &["is no tally", "move away what is there"]);
    assert_eq!(fs::read_to_string(&file).expect("it is there"), "a diary\n");
    fs::write(&file, "pithward tally 9\n").expect("the file can be written");
    refused(&tally(&job, &["note", "x"]), &["is a tally of version 9"]);
}

#[test]
fn a_command_that_is_killed_at_any_moment() {
    let (file, job) = job("killed", 1);
    let mut acknowledged = vec!["number 1".to_owned()];
    for n in 0..60_u64 {
        let text = format!("killed {n}");
        let mut command = command(&["tally", &job, "note", &text]);
        let mut child = command
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the binary was built for this test");
        sleep(Duration::from_micros(n * 700));
        child.kill().expect("it is this test's own");
        let output = child.wait_with_output().expect("it was started here");
        if String::from_utf8_lossy(&output.stdout).contains("Kept: ") {
            acknowledged.push(text);
        }
        let there = fs::read_to_string(&file).expect("the tally is there");
        for text in &acknowledged {
            assert!(there.contains(&format!(" note {text} | ")), "{text} is gone");
        }
    }
    assert!(!says(&job, &["note", "after"]).contains("not as it was written"));
}

#[test]
fn hours_on_the_nights_when_the_clocks_change() {
    let (_, job) = job("dst", 0);
    let at = |time: &str, words: &[&str]| printed(&tally(&job, &[words, &["--at", time]].concat()));
    at("2024-03-10 1:00", &["on", "a"]);
    at("2024-03-10 4:00", &["stop"]);
    let spring = says(&job, &[]);
    assert!(spring.contains("Worked: 2 h (sawing 2 h)"), "{spring}");
    refused(&tally(&job, &["begin", "--at", "2024-03-10 2:30"]), &["it was never"]);
    refused(
        &tally(&job, &["begin", "--at", "2024-11-03 1:30"]),
        &["twice", "2024-11-03T01:30:00-05:00"],
    );
    at("2024-11-03T01:30:00-04:00[America/New_York]", &["begin"]);
    at("2024-11-03T01:10:00-05:00[America/New_York]", &["note", "later, by the clock earlier"]);
    at("2024-11-03 3:00", &["stop"]);
    let fall = says(&job, &[]);
    // Two hours and a half more.
    assert!(fall.contains("Worked: 4 h 30 min"), "{fall}");
    assert!(!fall.contains("went back"), "{fall}");
}

//! What the tests of the command share: how it is run, and jobs to run it on.

pub(crate) mod sound_job;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The mill that is planned with where nobody names one.
pub(crate) const GENERIC: &str = include_str!("../../../../../data/mills/generic.toml");

/// Runs the command.
pub(crate) fn pithward(arguments: &[&str]) -> Output {
    command(arguments).output().expect("the binary was built for this test")
}

/// The command, not yet run.
pub(crate) fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pithward"));
    command.args(arguments);
    command
}

/// What a run said on stderr, once it is sure that it ended as it should and printed nothing else.
#[track_caller]
pub(crate) fn told(output: &Output, code: i32, said: &[&str]) -> String {
    let stderr = String::from_utf8(output.stderr.clone()).expect("messages are UTF-8");
    assert_eq!(output.status.code(), Some(code), "{stderr}");
    assert!(output.stdout.is_empty(), "stdout: {}", String::from_utf8_lossy(&output.stdout));
    for said in said {
        assert!(stderr.contains(said), "no {said:?} in:\n{stderr}");
    }
    assert!(!stderr.contains("panicked"), "{stderr}");
    assert!(!stderr.contains('\u{1b}'), "colours where there is no terminal:\n{stderr}");
    stderr
}

/// Bad input, with everything that stderr has to say of it.
#[track_caller]
pub(crate) fn refused(output: &Output, said: &[&str]) -> String {
    told(output, 2, said)
}

/// What a run that went well printed; nothing stands on stderr.
#[track_caller]
pub(crate) fn printed(output: &Output) -> String {
    let stderr = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{stderr}");
    assert!(stderr.is_empty(), "{stderr}");
    assert!(output.stdout.ends_with(b"\n"));
    String::from_utf8(output.stdout.clone()).expect("the command prints UTF-8")
}

/// A directory of a test's own, empty.
pub(crate) fn directory(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).expect("the directory is there for tests to write in");
    path
}

/// A file of a test's own, under a name that no other test uses.
pub(crate) fn file(name: &str, bytes: &[u8]) -> String {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, bytes).expect("the directory is there for tests to write in");
    path.to_str().expect("the directory and the name are UTF-8").to_owned()
}

/// Writes a file into a directory of a test's own.
pub(crate) fn put(place: &Path, name: &str, text: impl AsRef<[u8]>) {
    fs::write(place.join(name), text).expect("the directory is there for tests to write in");
}

/// A text in which `from`, which must be in it once, is written as `to`, and the line and the column at which
/// `at`, a part of `to`, then begins.
#[track_caller]
pub(crate) fn changed(sound: &str, from: &str, to: &str, at: &str) -> (String, usize, usize) {
    let (before, after) = sound.split_once(from).expect("what is changed is in the text");
    assert!(!after.contains(from), "{from:?} is in the text twice");
    let within = to.find(at).expect("what is at fault is in what is written");
    let lead = format!("{before}{}", &to[..within]);
    let line = lead.matches('\n').count() + 1;
    let column = lead.chars().rev().take_while(|c| *c != '\n').count() + 1;
    (format!("{before}{to}{after}"), line, column)
}

/// A job of so many logs, as from a tape that is read to the sixteenth: hardly two of them alike. Invented.
pub(crate) fn generated(logs: usize) -> String {
    let mut job = String::from(
        "site = \"invented\"\n\n[sawing]\ntrim = \"2 in\"\nmethods = [\"through-turned\", \"two-sided\"]\n",
    );
    for (size, count) in
        [("2x8x12", logs.div_ceil(2)), ("6x6x10", logs.div_ceil(8)), ("2x6x8", logs)]
    {
        job += &format!("\n[[wants]]\nsize = \"{size}\"\ncount = {count}\n");
    }
    job += "\n[[wants]]\nsize = \"1x6\"\n";
    let mut random = 1_u64;
    let mut below = |most: u64| {
        random = random.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(0x1405_7b7e_f767_814f);
        (random >> 33) % most
    };
    for log in 1..=logs {
        let small_end = 9 * 16 + below(12 * 16);
        let butt = small_end + 8 + below(32);
        let length = 9 * 12 + below(8 * 12);
        let species = match below(3) {
            0 => "white oak",
            1 => "eastern white pine",
            _ => "yellow-poplar",
        };
        job += &format!(
            "\n[[logs]]\nid = \"{log}\"\nspecies = \"{species}\"\nsmall_end = \"{small_end}/16 in\"\n\
             butt = \"{butt}/16 in\"\nlength = \"{length} in\"\n"
        );
    }
    job
}

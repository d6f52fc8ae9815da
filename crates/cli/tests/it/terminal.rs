//! What a person at a terminal sees while a plan is sought: one line on stderr, no wider than the terminal, and
//! gone before the plan is printed.

#![cfg(unix)]

use std::fs::File;
use std::io::Read;
use std::process::{Command, Stdio};

use crate::common::{command, file, generated, printed};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use rustix::termios::{Winsize, tcsetwinsize};

const WIDTH: u16 = 60;

/// What stands on stderr where that is a terminal.
fn seen(mut command: Command) -> String {
    let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).expect("there are terminals left");
    grantpt(&master).and_then(|()| unlockpt(&master)).expect("it is this test's own");
    let name = ptsname(&master, Vec::new()).expect("a terminal has a name");
    let name = name.into_string().expect("the name is UTF-8");
    let terminal = File::options().read(true).write(true).open(name).expect("it was unlocked");
    let size = Winsize { ws_row: 24, ws_col: WIDTH, ws_xpixel: 0, ws_ypixel: 0 };
    tcsetwinsize(&master, size).expect("a terminal has a size");
    let ours = command.env("TERM", "xterm").stdout(Stdio::null()).stderr(terminal);
    let mut child = ours.spawn().expect("the binary was built for this test");
    // With it goes the test's own end, so that the terminal closes with the child.
    drop(command);
    let mut written = Vec::new();
    let mut master = File::from(master);
    let mut some = [0; 4096];
    // A terminal that closes is an error on some systems, and the end on others.
    while let Ok(read @ 1..) = master.read(&mut some) {
        written.extend_from_slice(&some[..read]);
    }
    assert_eq!(child.wait().expect("it was started by this test").code(), Some(0));
    String::from_utf8(written).expect("the line is UTF-8")
}

#[test]
fn a_line_says_how_far_it_is_and_is_gone_at_the_end() {
    let mut logs = 500;
    let (seen, job) = loop {
        let job = file("terminal.toml", generated(logs).as_bytes());
        let seen = seen(command(&["plan", &job]));
        // A plan that takes under a second is not talked of.
        if !seen.is_empty() {
            break (seen, job);
        }
        logs *= 2;
        assert!(logs < 100_000, "no line for {logs} logs");
    };
    assert!(seen.contains("; Ctrl-C stops"), "{seen:?}");
    let lines: Vec<&str> =
        seen.split('\r').map(|line| line.trim_start_matches("\u{1b}[2K")).collect();
    for line in &lines {
        assert!(line.chars().count() <= usize::from(WIDTH), "{line:?}");
    }
    assert_eq!(lines.last(), Some(&""), "{seen:?}");
    assert!(!seen.contains('\n'), "{seen:?}");
    // Nothing of it where stderr is no terminal.
    printed(&command(&["plan", &job]).output().expect("the binary was built for this test"));
}

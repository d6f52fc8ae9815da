//! Ctrl-C while a plan is sought: the first one prints the best plan so far, the second one ends at once.

#![cfg(unix)]

use std::io::Read;
use std::os::unix::process::ExitStatusExt;
use std::process::{Child, Output, Stdio};
use std::thread::sleep;
use std::time::Duration;

use crate::common::{command, file, generated};
use rustix::process::{Pid, Signal, kill_process};
use serde_json::Value;

const INTERRUPT: i32 = 2;

fn planning(job: &str, arguments: &[&str]) -> Child {
    let mut command = command(&[&["plan", job], arguments].concat());
    let piped = command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    piped.spawn().expect("the binary was built for this test")
}

fn interrupt(child: &Child) {
    let id = i32::try_from(child.id()).expect("a process has a small number");
    let id = Pid::from_raw(id).expect("a process has a number");
    // Where it has ended, but was not waited for yet, the signal goes nowhere.
    kill_process(id, Signal::INT).expect("the process is this test's own");
}

/// A plan that was interrupted while it was sought. Too early, and the process takes no signal yet, or has no
/// plan yet; too late, and the plan is whole: the moment in between is sought.
fn stopped_plan(name: &str, arguments: &[&str], stopped: impl Fn(&Output) -> bool) -> Output {
    let (mut logs, mut after) = (150, Duration::from_millis(40));
    let mut job = file(name, generated(logs).as_bytes());
    for _ in 0..60 {
        let child = planning(&job, arguments);
        sleep(after);
        interrupt(&child);
        let output = child.wait_with_output().expect("it was started by this test");
        let stderr = String::from_utf8_lossy(&output.stderr);
        match (output.status.signal(), output.status.code()) {
            (Some(INTERRUPT), _) | (_, Some(130)) => after = after.mul_f64(1.4),
            (_, Some(0)) if stopped(&output) => return output,
            (_, Some(0)) => {
                logs *= 2;
                job = file(name, generated(logs).as_bytes());
            }
            (signal, code) => panic!("ended with {signal:?}, {code:?}: {stderr}"),
        }
    }
    panic!("never interrupted while it planned, with {logs} logs and {after:?}");
}

#[test]
fn the_first_interrupt_prints_the_best_plan_so_far() {
    let parsed = |output: &Output| -> Value {
        serde_json::from_slice(&output.stdout).expect("stdout holds one whole JSON value")
    };
    let output = stopped_plan("interrupted.toml", &["--json"], |output| {
        parsed(output)["result"]["stopped"].as_bool().expect("a plan says whether it was stopped")
    });
    assert!(output.stderr.is_empty());
    let plan = parsed(&output);
    let logs = plan["logs"].as_array().expect("a plan has logs");
    assert!(logs.len() >= 150);
}

#[test]
fn a_summary_says_that_it_was_stopped() {
    let output = stopped_plan("interrupted-summary.toml", &[], |output| {
        String::from_utf8_lossy(&output.stdout).contains("STOPPED BEFORE THE SEARCH WAS DONE")
    });
    assert!(output.stderr.is_empty() && output.stdout.ends_with(b"\n"));
}

#[test]
fn the_second_interrupt_ends_at_once() {
    // Nobody reads the plan, and it does not fit into the pipe: the process cannot end by itself.
    let job = file("interrupted-twice.toml", generated(120).as_bytes());
    for begin in [100, 200, 400, 800, 1600, 3200, 6400] {
        let mut child = planning(&job, &["--json"]);
        sleep(Duration::from_millis(begin));
        let status = loop {
            if let Some(status) = child.try_wait().expect("it was started by this test") {
                break status;
            }
            interrupt(&child);
            sleep(Duration::from_millis(20));
        };
        let mut said = String::new();
        let stderr = child.stderr.as_mut().expect("it is piped");
        stderr.read_to_string(&mut said).expect("messages are UTF-8");
        // With a word where it was stopped before it had any plan, and that was the first interrupt.
        if status.signal() != Some(INTERRUPT) && said.is_empty() {
            assert_eq!(status.code(), Some(130));
            return;
        }
    }
    panic!("the command takes no signal");
}

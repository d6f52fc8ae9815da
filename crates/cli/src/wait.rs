//! Waiting for a plan: a line that says how far it is, and Ctrl-C.
//!
//! The line stands on stderr, only where that is a terminal, and only once the wait takes over a second;
//! it is gone before anything else is printed.
//!
//! The first Ctrl-C asks for the best plan so far, the second ends the process at once. Once the plan is
//! there the first one does, so that nobody waits for a page that no one reads.

use std::io::{IsTerminal, stderr};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use pithward_optimizer::{Progress, Stage, Watch};
use signal_hook::consts::SIGINT;
use signal_hook::flag;

/// A wait shorter than this is not talked about.
const PATIENCE: Duration = Duration::from_secs(1);

/// From one look at how far it is to the next.
const PAUSE: Duration = Duration::from_millis(200);

/// With what the process ends at a second Ctrl-C: what a shell makes of a command that one has ended.
const INTERRUPTED: i32 = 128 + SIGINT;

/// The share of the work that must be done before the time left is told: what went before says little.
const LEAST_SHARE: f64 = 0.02;

/// Searches, and keeps whoever waits informed.
pub(crate) fn waiting<T>(search: impl FnOnce(&Wait) -> T) -> T {
    let wait = Wait::new();
    thread::scope(|scope| {
        // Ends the wait also where the search panics: the scope waits for the thread in it.
        let _end = End(&wait);
        if stderr().is_terminal() {
            scope.spawn(|| wait.tell_the_terminal());
        }
        search(&wait)
    })
}

/// A wait for a plan, and for the piles that are simulated after it.
pub(crate) struct Wait {
    stop: Arc<AtomicBool>,
    state: Mutex<State>,
    ended: Condvar,
}

/// How far it is.
struct State {
    progress: Option<Told>,
    over: bool,
}

/// What was told last.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Told {
    /// Of a plan.
    Plan(Progress),
    /// Of a simulation: how much of its work is done, and so many piles.
    Range { share: f64, piles: u32, since: Instant },
}

/// Ends a wait where it is dropped.
struct End<'a>(&'a Wait);

impl Wait {
    fn new() -> Self {
        let stop = Arc::new(AtomicBool::new(false));
        // In this order: what the first Ctrl-C sets, the shutdown must not see before the second. Where
        // the system takes no handler, Ctrl-C ends the process as it always does.
        let shutdown = Arc::clone(&stop);
        if flag::register_conditional_shutdown(SIGINT, INTERRUPTED, shutdown).is_ok() {
            let _ = flag::register(SIGINT, Arc::clone(&stop));
        }
        let state = Mutex::new(State { progress: None, over: false });
        Self { stop, state, ended: Condvar::new() }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps the line until the wait is over.
    #[allow(clippy::disallowed_methods, reason = "the command may look at a clock")]
    fn tell_the_terminal(&self) {
        let since = Instant::now();
        let (mut state, mut pause, mut shown) = (self.state(), PATIENCE, None);
        loop {
            let waited = self.ended.wait_timeout_while(state, pause, |state| !state.over);
            (state, _) = waited.unwrap_or_else(PoisonError::into_inner);
            if state.over {
                break;
            }
            let bar = shown.get_or_insert_with(line_on_stderr);
            bar.set_message(line(state.progress, since.elapsed(), Watch::stopped(self)));
            pause = PAUSE;
        }
        if let Some(bar) = shown {
            bar.finish_and_clear();
        }
    }
}

impl pithward_day::range::Wait for Wait {
    #[allow(clippy::disallowed_methods, reason = "the command may look at a clock")]
    fn tell(&self, share: f64, piles: u32) {
        let mut state = self.state();
        // The time left is that of the simulation alone.
        let since = match state.progress {
            Some(Told::Range { since, .. }) => since,
            _ => Instant::now(),
        };
        state.progress = Some(Told::Range { share, piles, since });
    }

    fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

impl Watch for Wait {
    fn tell(&self, progress: Progress) {
        self.state().progress = Some(Told::Plan(progress));
    }

    fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

impl Drop for End<'_> {
    fn drop(&mut self) {
        self.0.state().over = true;
        self.0.ended.notify_all();
        // Not before: the line would say that it stops.
        self.0.stop.store(true, Ordering::Relaxed);
    }
}

/// A line at the foot of the terminal, cut off at its width.
fn line_on_stderr() -> ProgressBar {
    let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
    if let Ok(style) = ProgressStyle::with_template("{wide_msg}") {
        bar.set_style(style);
    }
    bar
}

/// What the line says: what matters most first, since a narrow terminal cuts off the end.
fn line(told: Option<Told>, elapsed: Duration, stopping: bool) -> String {
    if stopping {
        return "Stopping with the best so far; Ctrl-C again ends at once".to_owned();
    }
    let Progress { stage, share, gap } = match told {
        None => return "Planning; Ctrl-C stops".to_owned(),
        Some(Told::Plan(progress)) => progress,
        Some(Told::Range { share, piles, since }) => {
            return simulating(share, piles, since.elapsed());
        }
    };
    let doing = match stage {
        Stage::Prices => "Weighing the list",
        Stage::Choosing => "Choosing patterns",
        Stage::Replaying => "Checking the cuts",
    };
    let share = share.clamp(0.0, 1.0);
    let mut line = format!("{doing} {:.0} %", (share * 100.0).floor());
    if share >= LEAST_SHARE {
        line += &format!(", {} left", left(elapsed.mul_f64((1.0 - share) / share)));
    }
    if let Some(gap) = gap {
        // Never nearer than is proven.
        line += &format!(", within {:.1} % of best", (gap * 1000.0).ceil() / 10.0);
    }
    line + "; Ctrl-C stops"
}

/// The same of a simulation.
fn simulating(share: f64, piles: u32, elapsed: Duration) -> String {
    let share = share.clamp(0.0, 1.0);
    let mut line = format!("Simulating piles {:.0} %, {piles} done", (share * 100.0).floor());
    if share >= LEAST_SHARE {
        line += &format!(", {} left", left(elapsed.mul_f64((1.0 - share) / share)));
    }
    line + "; Ctrl-C stops"
}

/// A time in the words of someone who guesses.
fn left(time: Duration) -> String {
    let seconds = time.as_secs();
    match seconds {
        0..10 => "some seconds".to_owned(),
        10..90 => format!("about {} s", seconds.div_ceil(10) * 10),
        90..5400 => format!("about {} min", (seconds + 30) / 60),
        _ => format!("about {} h", (seconds + 1800) / 3600),
    }
}

#[cfg(test)]
mod tests {
    use super::{Told, Wait, left, line, simulating, waiting};
    use pithward_optimizer::{Progress, Stage, Watch};
    use std::time::Duration;

    #[track_caller]
    fn check(share: f64, gap: Option<f64>, elapsed: u64, expected: &str) {
        let progress = Progress { stage: Stage::Choosing, share, gap };
        let said = line(Some(Told::Plan(progress)), Duration::from_secs(elapsed), false);
        assert_eq!(said, format!("Choosing patterns {expected}; Ctrl-C stops"));
        assert!(said.len() <= 80, "{said}");
    }

    #[test]
    fn the_line_says_how_far_it_is() {
        check(0.0, None, 5, "0 %");
        check(0.01, None, 5, "1 %");
        check(0.25, None, 10, "25 %, about 30 s left");
        check(0.5, Some(0.0125), 600, "50 %, about 10 min left, within 1.3 % of best");
        check(0.999, Some(0.0), 60, "99 %, some seconds left, within 0.0 % of best");
        // What no estimate should be, yet never takes the line down.
        check(7.0, None, 60, "100 %, some seconds left");
        assert!(line(None, Duration::ZERO, false).starts_with("Planning"));
        assert!(line(None, Duration::ZERO, true).starts_with("Stopping"));
        assert_eq!(left(Duration::from_secs(4 * 3600)), "about 4 h");
        assert_eq!(
            simulating(0.5, 120, Duration::from_secs(20)),
            "Simulating piles 50 %, 120 done, about 20 s left; Ctrl-C stops"
        );
    }

    #[test]
    fn a_wait_ends_with_its_search() {
        let progress = Progress { stage: Stage::Prices, share: 0.5, gap: None };
        let stopped = waiting(|watch| {
            Watch::tell(watch, progress);
            Watch::stopped(watch)
        });
        assert!(!stopped);
        let wait = Wait::new();
        Watch::tell(&wait, progress);
        assert_eq!(wait.state().progress, Some(Told::Plan(progress)));
    }

    #[test]
    fn a_wait_ends_where_its_search_panics() {
        let caught = std::panic::catch_unwind(|| waiting(|_| -> () { panic!("on purpose") }));
        assert!(caught.is_err());
    }
}

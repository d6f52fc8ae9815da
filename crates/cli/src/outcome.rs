//! What a run of the command came to, and how it is told.

use std::fmt;
use std::io::{self, BufWriter, ErrorKind, Write};
use std::process::ExitCode;

use pithward_job::Fault;
use pithward_optimizer::PlanFault;

use crate::fault_text;

/// Writes a result piece by piece.
type Writes = Box<dyn FnOnce(&mut dyn Write) -> io::Result<()>>;

/// What a run came to.
pub(crate) enum Outcome {
    /// A result, for stdout.
    Done(String),
    /// A result that is too large to be held whole: it writes itself to stdout.
    Streamed(Writes),
    /// None is possible; why.
    Impossible(String),
    /// Bad input.
    Faulty(Vec<Fault>),
    /// A file that cannot be written where it was asked for; why, and what would be right.
    Unwritable {
        /// What is wrong.
        message: String,
        /// What would be right.
        help: &'static str,
    },
    /// Bad input, told already.
    Refused(String),
    /// Something that somebody said could not be kept; why, and what would help.
    NotKept {
        /// What is wrong.
        message: String,
        /// What would help.
        help: &'static str,
    },
    /// The search was stopped before any log had a plan.
    Stopped,
    /// A fault of this program.
    Failed(PlanFault),
}

impl Outcome {
    /// Tells it, and says with what the process ends.
    pub(crate) fn print(self) -> ExitCode {
        match self {
            Self::Done(text) => written(write(anstream::stdout(), &text)),
            Self::Streamed(result) => {
                let mut out = BufWriter::new(io::stdout().lock());
                written(unread(result(&mut out).and_then(|()| out.flush())))
            }
            Self::Impossible(text) => {
                told(&text);
                ExitCode::from(1)
            }
            Self::Faulty(faults) => {
                told(&fault_text::all(&faults));
                ExitCode::from(2)
            }
            Self::Unwritable { message, help } => {
                told(&fault_text::plain(&message, help));
                ExitCode::from(2)
            }
            Self::Refused(text) => {
                told(&text);
                ExitCode::from(2)
            }
            Self::NotKept { message, help } => {
                told(&fault_text::plain(&message, help));
                ExitCode::from(3)
            }
            Self::Stopped => {
                told("stopped before any log had a plan\n");
                ExitCode::from(130)
            }
            Self::Failed(fault) => {
                told(&format!("error: {fault}\n"));
                ExitCode::from(3)
            }
        }
    }
}

impl fmt::Debug for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Done(text) => f.debug_tuple("Done").field(text).finish(),
            Self::Streamed(_) => f.write_str("Streamed(..)"),
            Self::Impossible(text) => f.debug_tuple("Impossible").field(text).finish(),
            Self::Faulty(faults) => f.debug_tuple("Faulty").field(faults).finish(),
            Self::Unwritable { message, .. } => f.debug_tuple("Unwritable").field(message).finish(),
            Self::Refused(text) => f.debug_tuple("Refused").field(text).finish(),
            Self::NotKept { message, .. } => f.debug_tuple("NotKept").field(message).finish(),
            Self::Stopped => f.write_str("Stopped"),
            Self::Failed(fault) => f.debug_tuple("Failed").field(fault).finish(),
        }
    }
}

/// With what the process ends once a result was written, or could not be.
fn written(result: io::Result<()>) -> ExitCode {
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            told(&format!("error: the result cannot be written: {error}\n"));
            ExitCode::from(3)
        }
    }
}

/// Writes all of it.
fn write(mut to: impl Write, text: &str) -> io::Result<()> {
    let end = if text.ends_with('\n') { "" } else { "\n" };
    unread(
        to.write_all(text.as_bytes())
            .and_then(|()| to.write_all(end.as_bytes()))
            .and_then(|()| to.flush()),
    )
}

/// That nobody reads on is no error.
fn unread(result: io::Result<()>) -> io::Result<()> {
    match result {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        result => result,
    }
}

fn told(text: &str) {
    // Where stderr cannot be written either, the exit code is all that is left to say it.
    let _ = write(anstream::stderr(), text);
}

//! What a run of the command came to, and how it is told.

use std::io::{ErrorKind, Write};
use std::process::ExitCode;

use pithward_job::Fault;
use pithward_optimizer::PlanFault;

use crate::fault_text;

/// What a run came to.
#[derive(Debug)]
pub(crate) enum Outcome {
    /// A result, for stdout.
    Done(String),
    /// None is possible; why.
    Impossible(String),
    /// Bad input.
    Faulty(Vec<Fault>),
    /// A fault of this program.
    Failed(PlanFault),
}

impl Outcome {
    /// Tells it, and says with what the process ends.
    pub(crate) fn print(self) -> ExitCode {
        match self {
            Self::Done(text) => match write(anstream::stdout(), &text) {
                Ok(()) => ExitCode::SUCCESS,
                Err(error) => {
                    told(&format!("error: the result cannot be written: {error}\n"));
                    ExitCode::from(3)
                }
            },
            Self::Impossible(text) => {
                told(&text);
                ExitCode::from(1)
            }
            Self::Faulty(faults) => {
                told(&fault_text::all(&faults));
                ExitCode::from(2)
            }
            Self::Failed(fault) => {
                told(&format!("error: {fault}\n"));
                ExitCode::from(3)
            }
        }
    }
}

/// Writes all of it; that nobody reads on is no error.
fn write(mut to: impl Write, text: &str) -> std::io::Result<()> {
    let end = if text.ends_with('\n') { "" } else { "\n" };
    let written = to
        .write_all(text.as_bytes())
        .and_then(|()| to.write_all(end.as_bytes()))
        .and_then(|()| to.flush());
    match written {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}

fn told(text: &str) {
    // Where stderr cannot be written either, the exit code is all that is left to say it.
    let _ = write(anstream::stderr(), text);
}

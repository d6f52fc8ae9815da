//! What was learned from jobs that are done: the page that tells it, and the mill file that has it.

mod mill;
mod page;
mod words;

pub use mill::{LearnedMill, MillText, NotWritten};
pub use page::{Ahead, LearnedJobs, learned_page};

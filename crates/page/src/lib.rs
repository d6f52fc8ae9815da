//! A job as one self-contained page: for a phone in a gloved hand, and for paper.
//!
//! The page holds all that it needs, and asks nothing of any network. It shows the counts, the order of the logs, and every
//! log step by step with its pictures: the words are those of the card ([`pithward_report::steps`]), the pictures those of
//! [`pithward_draw`]. A pass is marked by touching it; marks stay in the browser, and can be saved as lines that the tally
//! reads. Printed, every log begins a sheet of its own, and no step is parted.
//!
//! Whatever people typed is text in it, for all markup is written by a library that escapes.

mod log;
mod pile;
mod text;

pub use pile::pile_page;

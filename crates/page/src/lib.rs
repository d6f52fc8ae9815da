//! A job as one self-contained page: for a phone in a gloved hand, and for paper.
//!
//! The page holds all that it needs, and asks nothing of any network. What is seen first is the order of the logs and what
//! comes out; each log has a view of its own, with every step and its pictures, and so has each paper. The words are those of
//! the card ([`pithward_report::steps`]) and of the papers ([`pithward_report::Paper`]), the pictures those of
//! [`pithward_draw`]. A pass is marked by touching it; marks stay in the browser, and can be saved as lines that the tally
//! reads. What is open is what is printed: it is laid out in sheets of its own ([`Page::cards`] says how many), and no step and
//! no row is parted.
//!
//! Whatever people typed is text in it, for all markup is written by a library that escapes.

mod files;
mod front;
mod log;
mod paper;
mod pile;
mod sheet;
mod text;
mod view;

pub use files::{log_pictures, pile_pictures};
pub use pile::{Page, PaperKind, Papers, log_page, pile_page};

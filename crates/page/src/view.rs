//! A view: what is shown, and printed, by itself.

use crate::text;
use maud::{Markup, html};

/// A part of the page that is shown and printed by itself.
pub(crate) struct View {
    /// Its name in the page's address.
    pub(crate) id: String,
    /// What it is called.
    pub(crate) name: &'static str,
    /// `job`, `log` or `paper`.
    pub(crate) kind: &'static str,
    /// On how many sheets it is printed.
    pub(crate) sheets: usize,
    /// Its sheets.
    pub(crate) markup: Markup,
}

impl View {
    /// The section of a paper.
    pub(crate) fn section(&self) -> Markup {
        html! {
            section class=(format!("view {}", self.kind)) id=(self.id) data-sheets=(self.sheets)
                aria-labelledby=(format!("{}-name", self.id)) {
                p.bar {
                    a.back href="#job" { (text::TO_JOB) }
                    button.print type="button" { (text::PRINT) " (" (text::sheets(self.sheets)) ")" }
                }
                (self.markup)
            }
        }
    }
}

/// The line at the head of a printed sheet: whose job, what it is, which of how many.
pub(crate) fn strip(of: &str, name: &str, number: usize, count: usize) -> Markup {
    html! {
        p.strip aria-hidden="true" {
            span { (of) }
            span { (name) @if count > 1 { ", " (text::sheet_of(number, count)) } }
        }
    }
}

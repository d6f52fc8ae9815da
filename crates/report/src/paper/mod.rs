//! A paper for people: headings, words, lists, things to tick, tables and blanks, written as plain text or as Markdown; who
//! writes it in another way takes its [`Block`]s.
//!
//! What a paper says is put together once; how it is written knows nothing of what it says. Text from a job (names, notes)
//! stays text in all of them.

mod markdown;
mod table;
mod text;

pub use table::{Side, Span, Table};

/// A paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    title: String,
    blocks: Vec<Block>,
}

/// A part of a paper. All words are plain text, as people wrote them.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// What the blocks after it are about.
    Heading(String),
    /// A paragraph.
    Say(String),
    /// A list.
    Items(Vec<String>),
    /// Things to tick off.
    Ticks(Vec<String>),
    /// Figures in columns.
    Table(Table),
    /// Lines to be filled in by hand, each with its label.
    Blanks(Vec<String>),
    /// Where somebody may get hurt, or something may be spoilt.
    Caution(String),
}

impl Paper {
    pub(crate) fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), blocks: Vec::new() }
    }

    pub(crate) fn heading(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Heading(words.into()));
    }

    pub(crate) fn say(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Say(words.into()));
    }

    /// A list, where it has any items.
    pub(crate) fn items(&mut self, items: Vec<String>) {
        if !items.is_empty() {
            self.blocks.push(Block::Items(items));
        }
    }

    /// Things to tick off, where there are any.
    pub(crate) fn ticks(&mut self, things: Vec<String>) {
        if !things.is_empty() {
            self.blocks.push(Block::Ticks(things));
        }
    }

    /// A table, where it has any rows.
    pub(crate) fn table(&mut self, table: Table) {
        if !table.is_empty() {
            self.blocks.push(Block::Table(table));
        }
    }

    pub(crate) fn blanks(&mut self, labels: &[&str]) {
        self.blocks.push(Block::Blanks(labels.iter().map(|label| (*label).to_owned()).collect()));
    }

    pub(crate) fn caution(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Caution(words.into()));
    }

    /// What stands at its head.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Its parts, from the top down.
    pub fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    /// Plain text, no line wider than 80 columns.
    pub fn text(&self) -> String {
        text::write(self)
    }

    /// Markdown, as GitHub writes it: tables, and boxes to tick.
    pub fn markdown(&self) -> String {
        markdown::write(self)
    }
}

#[cfg(test)]
mod tests;

//! Figures in columns.

/// To which side the cells of a column stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// A table: its columns, and its rows with a cell for each.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    pub(super) columns: Vec<(String, Side)>,
    pub(super) rows: Vec<Vec<String>>,
    /// The last row is the sum of those above it.
    pub(super) summed: bool,
    /// Rows that are ranges, by their places.
    spans: Vec<(usize, Span)>,
}

/// The range that a row of a table tells in figures, for whoever draws it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// One in ten is below.
    pub low: f64,
    /// As many are below as above.
    pub likely: f64,
    /// One in ten is above.
    pub high: f64,
    /// By the plan.
    pub planned: f64,
}

impl Table {
    pub(crate) fn new(columns: &[(&str, Side)]) -> Self {
        let columns = columns.iter().map(|(head, side)| ((*head).to_owned(), *side)).collect();
        Self { columns, rows: Vec::new(), summed: false, spans: Vec::new() }
    }

    /// Adds a row; what it lacks of cells is empty.
    pub(crate) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        let mut cells: Vec<String> = cells.into_iter().take(self.columns.len()).collect();
        cells.resize(self.columns.len(), String::new());
        self.rows.push(cells);
    }

    /// The last row is this range.
    pub(crate) fn spans(&mut self, span: Span) {
        self.spans.push((self.rows.len().max(1) - 1, span));
    }

    /// Adds a last row, the sum of those above it.
    pub(crate) fn sum(&mut self, cells: impl IntoIterator<Item = String>) {
        self.row(cells);
        self.summed = true;
    }

    /// The head of every column, and to which side its cells stand.
    pub fn columns(&self) -> &[(String, Side)] {
        &self.columns
    }

    /// The rows, each with a cell for every column.
    pub fn rows(&self) -> &[Vec<String>] {
        &self.rows
    }

    /// Whether the last row is the sum of those above it.
    pub fn is_summed(&self) -> bool {
        self.summed
    }

    /// The range that a row tells, where it tells one.
    pub fn span(&self, row: usize) -> Option<Span> {
        self.spans.iter().find(|(of, _)| *of == row).map(|(_, span)| *span)
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

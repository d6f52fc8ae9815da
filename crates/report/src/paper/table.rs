//! Figures in columns.

/// To which side the cells of a column stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// A table: its columns, and its rows with a cell for each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Table {
    pub(super) columns: Vec<(String, Side)>,
    pub(super) rows: Vec<Vec<String>>,
    /// The last row is the sum of those above it.
    pub(super) summed: bool,
}

impl Table {
    pub(crate) fn new(columns: &[(&str, Side)]) -> Self {
        let columns = columns.iter().map(|(head, side)| ((*head).to_owned(), *side)).collect();
        Self { columns, rows: Vec::new(), summed: false }
    }

    /// Adds a row; what it lacks of cells is empty.
    pub(crate) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        let mut cells: Vec<String> = cells.into_iter().take(self.columns.len()).collect();
        cells.resize(self.columns.len(), String::new());
        self.rows.push(cells);
    }

    /// Adds a last row, the sum of those above it.
    pub(crate) fn sum(&mut self, cells: impl IntoIterator<Item = String>) {
        self.row(cells);
        self.summed = true;
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

//! The published comparisons of sawing methods: `data/published/sawing_comparisons.csv`.

use std::fmt;
use std::path::Path;

/// A published figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Published {
    /// No less than this; `None` where it is open.
    pub from: Option<f64>,
    /// No more than this; `None` where it is open.
    pub to: Option<f64>,
    /// In what.
    pub unit: String,
    /// Who says so, and how far that is to be trusted.
    pub source: String,
}

impl Published {
    /// The row of this name.
    ///
    /// # Panics
    /// When there is none, or it is no row of such a table.
    pub fn named(name: &str) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"));
        let path = path.join("../data/published/sawing_comparisons.csv");
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_path(&path)
            .unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
        let rows = reader.records().map(|row| row.expect("a row of the table"));
        let row = rows.into_iter().find(|row| &row[0] == name);
        let row = row.unwrap_or_else(|| panic!("no published figure {name:?}"));
        let bound = |text: &str| (!text.is_empty()).then(|| crate::table::number(text));
        Self {
            from: bound(&row[2]),
            to: bound(&row[3]),
            unit: row[4].to_owned(),
            source: format!("{} ({})", &row[6], &row[5]),
        }
    }

    /// Whether a figure lies where this one does.
    pub fn holds(&self, figure: f64) -> bool {
        self.from.is_none_or(|from| figure >= from) && self.to.is_none_or(|to| figure <= to)
    }

    /// Where it begins.
    ///
    /// # Panics
    /// When it is open to that side.
    pub fn least(&self) -> f64 {
        self.from.expect("a figure that begins somewhere")
    }
}

impl fmt::Display for Published {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.from, self.to) {
            (Some(from), Some(to)) if from.total_cmp(&to).is_eq() => write!(f, "{from}")?,
            (Some(from), Some(to)) => write!(f, "{from} to {to}")?,
            (Some(from), None) => write!(f, "{from} or more")?,
            (None, Some(to)) => write!(f, "{to} or less")?,
            (None, None) => write!(f, "any")?,
        }
        write!(f, " {}, {}", self.unit, self.source)
    }
}

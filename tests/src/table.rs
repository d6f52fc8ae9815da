//! The figures under `data/benchmarks`: plain CSV whose first lines, after `#`, name the source.

use std::path::PathBuf;

/// Where a file of `data/benchmarks` lies.
pub fn path(file: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../data/benchmarks").join(file)
}

/// The text of a file.
///
/// # Panics
/// When it is not there.
pub fn text(file: &str) -> String {
    let path = path(file);
    std::fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()))
}

/// The rows of a table under its header; no field holds a comma or a quote.
///
/// # Panics
/// When the file is not there.
pub fn rows(file: &str) -> Vec<Vec<String>> {
    let text = text(file);
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.skip(1).map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

/// A field as a number.
///
/// # Panics
/// When it is none.
pub fn number(field: &str) -> f64 {
    field.parse().unwrap_or_else(|_| panic!("not a number: {field:?}"))
}

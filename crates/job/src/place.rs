//! Where something stands that a person supplied.

use std::ops::Range;
use std::sync::Arc;

/// Where a fault stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// Nothing was written.
    Nowhere,
    /// In a value that was typed.
    Value {
        /// The whole value.
        value: String,
        /// The bytes of it that are at fault; empty for the whole.
        span: Range<usize>,
    },
    /// In a file.
    File(FilePlace),
}

/// A place in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FilePlace {
    /// The file's name, as the person wrote it.
    pub file: String,
    /// The whole text of it.
    pub text: Arc<str>,
    /// The bytes of the text that are at fault.
    pub span: Range<usize>,
    /// The line on which they begin, from 1.
    pub line: usize,
    /// The character of the line at which they begin, from 1.
    pub column: usize,
}

impl FilePlace {
    /// The place of some bytes of a text, moved onto the nearest character where they lie on none. `lines` has the byte
    /// at which each line of the text begins.
    pub(crate) fn on_lines(
        file: &str,
        text: &Arc<str>,
        lines: &[usize],
        span: Range<usize>,
    ) -> Self {
        let mut start = span.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let mut end = span.end.clamp(start, text.len());
        while !text.is_char_boundary(end) {
            end += 1;
        }
        let line = lines.partition_point(|begin| *begin <= start).max(1);
        let line_start = lines.get(line - 1).copied().unwrap_or(0).min(start);
        Self {
            file: file.to_owned(),
            text: Arc::clone(text),
            span: start..end,
            line,
            column: text[line_start..start].chars().count() + 1,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::FilePlace;
    use std::sync::Arc;

    #[test]
    fn lines_and_columns_count_characters() {
        let text: Arc<str> = "a = 1\nbé = \"½\"\n".into();
        let lines = [0, 6, text.len()];
        let at = text.find('½').unwrap();
        let place = FilePlace::on_lines("x", &text, &lines, at..at + 2);
        assert_eq!((place.line, place.column), (2, 7));
        // Inside a character, and past the end.
        let place = FilePlace::on_lines("x", &text, &lines, at + 1..at + 1);
        assert_eq!(place.span, at..at + 2);
        let place = FilePlace::on_lines("x", &text, &lines, 900..901);
        assert_eq!((place.line, place.span.end), (3, text.len()));
    }
}

//! The words of a line, some of them in quotes.
//!
//! ```text
//! line = word { blanks word }
//! word = any characters but blanks, where the first is no quotation mark
//!      | '"' { any character | '\"' | '\\' } '"'
//! ```
//! A word is written in quotes where it would not read back otherwise, and where a bar would look like the one before the
//! check.

use std::ops::Range;

/// A word, and the bytes of the line that it stands in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) at: Range<usize>,
}

/// The words of a line; the byte at which a quotation begins that does not end, or goes on behind its end.
pub(crate) fn split(line: &str) -> Result<Vec<Word>, usize> {
    let mut words = Vec::new();
    let mut chars = line.char_indices().peekable();
    while let Some((start, first)) = chars.next() {
        if first.is_whitespace() {
            continue;
        }
        let mut text = String::new();
        let mut end = start + first.len_utf8();
        if first == '"' {
            let mut closed = false;
            while let Some((at, c)) = chars.next() {
                end = at + c.len_utf8();
                match c {
                    '"' => {
                        closed = true;
                        break;
                    }
                    '\\' => {
                        let (at, c) = chars.next().ok_or(start)?;
                        end = at + c.len_utf8();
                        text.push(c);
                    }
                    c => text.push(c),
                }
            }
            if !closed || chars.peek().is_some_and(|(_, c)| !c.is_whitespace()) {
                return Err(start);
            }
        } else {
            text.push(first);
            while let Some((at, c)) = chars.next_if(|(_, c)| !c.is_whitespace()) {
                end = at + c.len_utf8();
                text.push(c);
            }
        }
        words.push(Word { text, at: start..end });
    }
    Ok(words)
}

/// Words as a line.
pub(crate) fn join(words: &[String]) -> String {
    let words: Vec<String> = words.iter().map(|word| quoted(word)).collect();
    words.join(" ")
}

fn quoted(word: &str) -> String {
    let plain = |c: char| !c.is_whitespace() && !c.is_control();
    if !word.is_empty() && !word.starts_with('"') && word != "|" && word.chars().all(plain) {
        return word.to_owned();
    }
    let mut quoted = String::from("\"");
    for c in word.chars() {
        match c {
            '"' | '\\' => quoted.extend(['\\', c]),
            // Nothing that is kept has any; a line stays one line whatever comes.
            c if c.is_control() => quoted.push(' '),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests {
    use super::{join, split};
    use proptest::prelude::*;

    fn texts(line: &str) -> Vec<String> {
        split(line).unwrap().into_iter().map(|word| word.text).collect()
    }

    #[test]
    fn words_bare_and_in_quotes() {
        assert_eq!(texts("off 4  2x8x12"), ["off", "4", "2x8x12"]);
        assert_eq!(texts(r#"on "log \"7\" \\ x""#), ["on", r#"log "7" \ x"#]);
        assert_eq!(texts(r#"off 2x6x8'6""#), ["off", r#"2x6x8'6""#]);
        assert_eq!(texts(""), [""; 0]);
        assert_eq!(split("note \"no end"), Err(5));
        assert_eq!(split("note \"a\"b"), Err(5));
        assert_eq!(split("note \"a\\"), Err(5));
    }

    #[test]
    fn what_would_not_read_back_is_quoted() {
        assert_eq!(join(&["a b".to_owned(), "|".to_owned(), String::new()]), r#""a b" "|" """#);
        assert_eq!(join(&["2x6x8'6\"".to_owned()]), "2x6x8'6\"");
    }

    proptest! {
        #[test]
        fn prop_words_read_back(words in proptest::collection::vec("[^\\p{Cc}]*", 0..6)) {
            prop_assert_eq!(texts(&join(&words)), words);
        }

        #[test]
        fn prop_no_line_panics(line in any::<String>()) {
            let _ = split(&line);
        }
    }
}

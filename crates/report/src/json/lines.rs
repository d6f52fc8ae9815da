//! JSON with a line for every entry down to a depth, and none within an entry there: a log of a pile is one line.

use serde_json::ser::Formatter;
use std::io::{self, Write};

/// Writes line breaks down to a depth, and none below it.
#[derive(Debug)]
pub(super) struct Lines {
    /// Entries deeper than this stand on the line of what they are in.
    down_to: usize,
    depth: usize,
    /// Whether the list or object that is open has an entry; those of the others are behind.
    filled: bool,
}

impl Lines {
    /// Line breaks down to this depth; the file's own entries are at 1.
    pub(super) fn down_to(depth: usize) -> Self {
        Self { down_to: depth, depth: 0, filled: false }
    }

    fn open<W: ?Sized + Write>(&mut self, out: &mut W, with: &[u8]) -> io::Result<()> {
        self.depth += 1;
        self.filled = false;
        out.write_all(with)
    }

    fn entry<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        if !first {
            out.write_all(b",")?;
        }
        if self.depth <= self.down_to { self.line(out) } else { Ok(()) }
    }

    fn close<W: ?Sized + Write>(&mut self, out: &mut W, with: &[u8]) -> io::Result<()> {
        let lines = self.filled && self.depth <= self.down_to;
        self.depth = self.depth.saturating_sub(1);
        if lines {
            self.line(out)?;
        }
        self.filled = true;
        out.write_all(with)
    }

    fn line<W: ?Sized + Write>(&self, out: &mut W) -> io::Result<()> {
        out.write_all(b"\n")?;
        (0..self.depth).try_for_each(|_| out.write_all(b"  "))
    }
}

impl Formatter for Lines {
    fn begin_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.open(out, b"[")
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.entry(out, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.filled = true;
        Ok(())
    }

    fn end_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.close(out, b"]")
    }

    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.open(out, b"{")
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.entry(out, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        out.write_all(if self.depth <= self.down_to { b": " } else { b":" })
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.filled = true;
        Ok(())
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.close(out, b"}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Serialize;
    use serde_json::{Serializer, json};

    #[test]
    fn a_log_is_a_line() {
        let value = json!({"logs": [{"id": "a", "at": [1, 2]}, {"id": "b"}], "none": [], "n": 1});
        let mut text = Vec::new();
        value.serialize(&mut Serializer::with_formatter(&mut text, Lines::down_to(2))).unwrap();
        let text = String::from_utf8(text).unwrap();
        let again: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(again, value);
        assert!(text.lines().any(|line| line == "    {\"at\":[1,2],\"id\":\"a\"},"), "{text}");
        assert!(text.lines().any(|line| line.starts_with("  \"none\": []")), "{text}");
    }
}

//! A page of plain text that is never wider than a terminal.
//!
//! Every line goes through [`Page::hang`], which breaks it at [`WIDTH`]; so no name or list, however
//! long, spoils the page. Control characters in what people typed are shown as `?`: a file's name must
//! not move the cursor.

/// Columns of a page: the width of an old terminal, and of a page at arm's length.
pub(crate) const WIDTH: usize = 80;

/// Words need at least this many columns; a wider lead is put on a line of its own.
const LEAST_ROOM: usize = 20;

/// A page being written.
#[derive(Clone, Debug, Default)]
pub(crate) struct Page {
    text: String,
}

impl Page {
    /// The finished text, ending in one line break.
    pub(crate) fn finish(self) -> String {
        self.text
    }

    /// An empty line, unless there is one already or nothing stands above it.
    pub(crate) fn blank(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// An empty line and a heading, with a line of words beside it.
    pub(crate) fn heading(&mut self, name: &str, words: &str) {
        self.blank();
        match words {
            "" => self.hang("", name),
            words => self.hang(&format!("{name}   "), words),
        }
    }

    /// A paragraph.
    pub(crate) fn say(&mut self, words: &str) {
        self.hang("  ", words);
    }

    /// An item of a list.
    pub(crate) fn item(&mut self, words: &str) {
        self.hang("  - ", words);
    }

    /// A lead, and words beside it that stay in their own column when they are broken.
    pub(crate) fn hang(&mut self, lead: &str, words: &str) {
        let lead: String = lead.chars().map(visible).collect();
        let mut indent = lead.chars().count();
        let mut line = lead;
        if indent + LEAST_ROOM > WIDTH {
            indent = 4;
            self.line(&line);
            line = " ".repeat(indent);
        }
        let mut column = indent;
        for word in glued(words) {
            let mut rest: Vec<char> = word.chars().map(visible).collect();
            let space = usize::from(column > indent);
            if column + space + rest.len() > WIDTH && column > indent {
                self.line(&line);
                line = " ".repeat(indent);
                column = indent;
            } else if space > 0 {
                line.push(' ');
                column += 1;
            }
            // A word longer than the column, a path for instance, is broken where it must be.
            while column + rest.len() > WIDTH {
                let tail = rest.split_off(WIDTH - column);
                line.extend(rest);
                self.line(&line);
                line = " ".repeat(indent);
                column = indent;
                rest = tail;
            }
            column += rest.len();
            line.extend(rest);
        }
        self.line(&line);
    }

    /// A line as it is; the caller keeps it within the width.
    pub(crate) fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }
}

/// Words broken into lines of at most so many columns; at least one line.
pub(crate) fn broken(words: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in glued(words) {
        let mut rest: Vec<char> = word.chars().map(visible).collect();
        let line = lines.last().map_or(0, |line| line.chars().count());
        if line > 0 && line + 1 + rest.len() <= width {
            if let Some(last) = lines.last_mut() {
                last.push(' ');
            }
        } else if line > 0 {
            lines.push(String::new());
        }
        while rest.len() > width.max(1) {
            let tail = rest.split_off(width.max(1));
            if let Some(last) = lines.last_mut() {
                last.extend(rest);
            }
            lines.push(String::new());
            rest = tail;
        }
        if let Some(last) = lines.last_mut() {
            last.extend(rest);
        }
    }
    lines
}

/// The words of a text, with a figure kept together with its fraction, its unit and `of`: `13 3/8 in`
/// broken after the 13 would be read wrong.
fn glued(words: &str) -> Vec<String> {
    const UNITS: [&str; 7] = ["in", "ft", "mm", "m", "bf", "%", "of"];
    let mut glued: Vec<String> = Vec::new();
    let mut figure = false;
    let mut of = false;
    for word in words.split_whitespace() {
        let bare = word.trim_end_matches([',', ';', '.', ':', ')']);
        let fraction = bare.contains('/') && bare.starts_with(|c: char| c.is_ascii_digit());
        let joins = of || (figure && (fraction || UNITS.contains(&bare)));
        match glued.last_mut().filter(|_| joins) {
            Some(last) => {
                last.push(' ');
                last.push_str(word);
            }
            None => glued.push(word.to_owned()),
        }
        of = joins && word == "of";
        figure = word.ends_with(|c: char| c.is_ascii_digit());
    }
    glued
}

fn visible(c: char) -> char {
    if c.is_control() { '?' } else { c }
}

/// A column of a table: its lines of heading, and its cells, all to the right.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    /// Words over the column, one line each.
    pub(crate) head: Vec<String>,
    /// One for every row.
    pub(crate) cells: Vec<String>,
}

impl Column {
    pub(crate) fn new(head: &[&str], cells: Vec<String>) -> Self {
        Self { head: head.iter().map(|line| (*line).to_owned()).collect(), cells }
    }

    fn width(&self) -> usize {
        self.head.iter().chain(&self.cells).map(|cell| cell.chars().count()).max().unwrap_or(0)
    }
}

impl Page {
    /// A table: names to the left, columns of figures to the right of them. A name that is too long for
    /// the page gets lines of its own above its figures.
    pub(crate) fn table(&mut self, head: &str, names: &[String], columns: &[Column]) {
        const GAP: usize = 2;
        let figures: usize = columns.iter().map(|column| column.width() + GAP).sum();
        let room = WIDTH.saturating_sub(figures + GAP);
        let longest =
            names.iter().map(String::as_str).chain([head]).map(|n| n.chars().count()).max();
        let width = longest.unwrap_or(0).min(room);
        let row = |name: &str, cells: &mut dyn Iterator<Item = &str>| {
            let mut line = format!("{:GAP$}{name:width$}", "");
            for (column, cell) in columns.iter().zip(cells) {
                line.push_str(&format!("{:GAP$}{cell:>width$}", "", width = column.width()));
            }
            line
        };
        let lines = columns.iter().map(|column| column.head.len()).max().unwrap_or(0);
        for n in 0..lines {
            // Short headings stand at the foot.
            let mut cells = columns.iter().map(|column| {
                let first = lines - column.head.len();
                n.checked_sub(first).and_then(|n| column.head.get(n)).map_or("", String::as_str)
            });
            let line = row(if n + 1 == lines { head } else { "" }, &mut cells);
            self.line(&line);
        }
        for (n, name) in names.iter().enumerate() {
            let long = name.chars().count() > width;
            if long {
                self.say(name);
            }
            let mut cells =
                columns.iter().map(|column| column.cells.get(n).map_or("", String::as_str));
            let line = row(if long { "" } else { name }, &mut cells);
            self.line(&line);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_in_their_column() {
        let mut page = Page::default();
        page.hang("   1   ", &"word ".repeat(40));
        let text = page.finish();
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert!(text.lines().skip(1).all(|line| line.starts_with("       word")));
    }

    #[test]
    fn a_name_that_is_too_long_is_broken_and_cannot_move_the_cursor() {
        let mut page = Page::default();
        page.item(&format!("a mill called \u{1b}[2J{} by file", "x".repeat(200)));
        let text = page.finish();
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
        assert!(text.contains("?[2J"));
    }

    #[test]
    fn a_figure_stays_with_its_fraction_and_its_unit() {
        assert_eq!(glued("is 13 3/8 in, then"), ["is", "13 3/8 in,", "then"]);
        assert_eq!(glued("48 of 1x6x12 + 2 of 2x4x8."), ["48 of 1x6x12", "+", "2 of 2x4x8."]);
        assert_eq!(glued("12 ft 4 in of wane"), ["12 ft", "4 in", "of", "wane"]);
    }

    #[test]
    fn columns_of_a_table_line_up() {
        let mut page = Page::default();
        let columns = [
            Column::new(&["four-", "sided"], vec!["5".into(), "12".into()]),
            Column::new(&["bf"], vec!["60.0".into(), "8.0".into()]),
        ];
        page.table("method", &["one".into(), "the other".into()], &columns);
        assert_eq!(
            page.finish(),
            "             four-\n  method     sided    bf\n  one            5  60.0\n  the other     12   8.0\n"
        );
    }
}

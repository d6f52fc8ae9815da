//! Papers as Markdown.

use super::{Block, Paper, Side, Table};

pub(super) fn write(paper: &Paper) -> String {
    let mut text = format!("# {}\n", plain(&paper.title));
    for block in &paper.blocks {
        text.push('\n');
        match block {
            Block::Heading(words) => line(&mut text, "## ", words),
            Block::Say(words) => line(&mut text, "", words),
            Block::Items(items) => items.iter().for_each(|item| line(&mut text, "- ", item)),
            Block::Ticks(things) => things.iter().for_each(|it| line(&mut text, "- [ ] ", it)),
            Block::Table(table) => rows(&mut text, table),
            Block::Blanks(labels) => {
                // A blank line between them: each is a line of its own on paper.
                let all: Vec<String> =
                    labels.iter().map(|label| format!("{}: {}\n", plain(label), blank())).collect();
                text.push_str(&all.join("\n"));
            }
            Block::Caution(words) => line(&mut text, "> **Caution.** ", words),
        }
    }
    text
}

fn line(text: &mut String, lead: &str, words: &str) {
    text.push_str(lead);
    text.push_str(&plain(words));
    text.push('\n');
}

fn blank() -> String {
    "\\_".repeat(30)
}

fn rows(text: &mut String, table: &Table) {
    let mut row = |cells: &mut dyn Iterator<Item = String>| {
        let cells: Vec<String> = cells.collect();
        text.push_str(&format!("| {} |\n", cells.join(" | ")));
    };
    row(&mut table.columns.iter().map(|(head, _)| plain(head)));
    row(&mut table.columns.iter().map(|(_, side)| match side {
        Side::Left => "---".to_owned(),
        Side::Right => "---:".to_owned(),
    }));
    for (n, cells) in table.rows.iter().enumerate() {
        let sum = table.summed && n + 1 == table.rows.len();
        row(&mut cells.iter().map(|cell| match plain(cell) {
            cell if sum && !cell.is_empty() => format!("**{cell}**"),
            cell => cell,
        }));
    }
}

/// Words as they are, on one line: what Markdown would read as more than words is marked as words.
fn plain(words: &str) -> String {
    let mut plain = String::with_capacity(words.len());
    for word in words.split_whitespace() {
        if !plain.is_empty() {
            plain.push(' ');
        }
        let first = plain.is_empty();
        for (n, c) in word.chars().enumerate() {
            // At the head of a line a dash or a plus would begin a list, and `1.` too; elsewhere they are plain.
            let at_head = first && n == 0 && matches!(c, '-' | '+' | '=' | '~');
            let always = matches!(
                c,
                '\\' | '`' | '*' | '_' | '{' | '}' | '[' | ']' | '<' | '>' | '#' | '|' | '&'
            );
            let numbered = first && matches!(c, '.' | ')') && n > 0 && is_number(word, n);
            if at_head || always || numbered {
                plain.push('\\');
            }
            plain.push(if c.is_control() { '?' } else { c });
        }
    }
    plain
}

/// All before this place are digits.
fn is_number(word: &str, before: usize) -> bool {
    word.chars().take(before).all(|c| c.is_ascii_digit())
}

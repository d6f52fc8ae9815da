//! Faults as text: the message, the place with what is wrong underlined, and what would be right.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use pithward_job::{Fault, FilePlace, Place};

/// Characters of a value that are shown on either side of what is wrong with it, and at most of that.
const SHOWN: usize = 40;

/// All faults, each with its place, in colours that `anstream` takes off where none belong.
pub(crate) fn all(faults: &[Fault]) -> String {
    let renderer = Renderer::styled().decor_style(DecorStyle::Ascii);
    let texts: Vec<String> = faults.iter().map(|fault| one(&renderer, fault)).collect();
    together(&texts)
}

/// Faults that are texts already.
pub(crate) fn together(texts: &[String]) -> String {
    let mut text = texts.join("\n\n");
    if texts.len() > 1 {
        text += &format!("\n\n{} faults", texts.len());
    }
    text
}

/// A fault of a value that was typed, the bytes at fault underlined; all of it where there are none.
pub(crate) fn of_value(
    message: &str,
    field: &str,
    value: &str,
    span: Range<usize>,
    help: &str,
) -> String {
    let Argument { text, at } = argument(field, value, span);
    let underlined = AnnotationKind::Primary.span(at);
    let snippet = Snippet::source(text).line_numbering(false).annotation(underlined);
    let group = Level::ERROR.primary_title(message).element(snippet);
    let renderer = Renderer::styled().decor_style(DecorStyle::Ascii);
    renderer.render(&[group.element(Level::HELP.message(help))])
}

/// A fault of some bytes of a text file.
pub(crate) fn of_line(
    message: &str,
    file: &str,
    text: &str,
    span: Range<usize>,
    help: &str,
) -> String {
    let line = text.get(..span.start).map_or(1, |before| before.matches('\n').count() + 1);
    let place = FilePlace { file: file.to_owned(), text: text.into(), span, line, column: 1 };
    let (lines, at) = lines_about(&place);
    let underlined = AnnotationKind::Primary.span(at);
    let snippet = Snippet::source(lines).line_start(line).path(file).annotation(underlined);
    let group = Level::ERROR.primary_title(message).element(snippet);
    let renderer = Renderer::styled().decor_style(DecorStyle::Ascii);
    renderer.render(&[group.element(Level::HELP.message(help))])
}

/// A fault that stands in no text, and what would be right.
pub(crate) fn plain(message: &str, help: &str) -> String {
    let title = Level::ERROR.primary_title(message);
    Renderer::styled()
        .decor_style(DecorStyle::Ascii)
        .render(&[Group::with_title(title).element(Level::HELP.message(help))])
}

fn one(renderer: &Renderer, fault: &Fault) -> String {
    let title = Level::ERROR.primary_title(fault.to_string());
    let group = match &fault.place {
        Place::Nowhere => Group::with_title(title),
        Place::Value { value, span } => {
            let Argument { text, at } = argument(&fault.field, value, span.clone());
            let underlined = AnnotationKind::Primary.span(at);
            let snippet = Snippet::source(text).line_numbering(false).annotation(underlined);
            title.element(snippet)
        }
        Place::File(place) => {
            let (lines, at) = lines_about(place);
            let underlined = AnnotationKind::Primary.span(at);
            let snippet = Snippet::source(lines).line_start(place.line).path(file_name(place));
            title.element(snippet.annotation(underlined))
        }
    };
    renderer.render(&[group.element(Level::HELP.message(&*fault.help))])
}

/// The lines on which a fault stands, and which bytes of them are wrong. A renderer that is given the whole
/// file reads it for every fault, and a list of twenty thousand logs may have as many.
fn lines_about(place: &FilePlace) -> (&str, Range<usize>) {
    let Range { start, end } = place.span;
    let (before, after) = (place.text.get(..start), place.text.get(end..));
    let from = before.and_then(|text| text.rfind('\n')).map_or(0, |at| at + 1);
    let to = after.and_then(|text| text.find('\n')).map_or(place.text.len(), |at| end + at);
    match place.text.get(from..to) {
        Some(lines) if from <= start && start <= end => {
            let lines = lines.strip_suffix('\r').unwrap_or(lines);
            (lines, (start - from).min(lines.len())..(end - from).min(lines.len()))
        }
        // A place that is in no text, which nobody makes.
        _ => (&place.text, 0..0),
    }
}

/// The name of a file on one line, whatever is in it.
fn file_name(place: &FilePlace) -> String {
    let shown = |c: char| if c.is_control() { '\u{fffd}' } else { c };
    place.file.chars().map(shown).collect()
}

/// An argument as it is shown, and which bytes of that are wrong.
struct Argument {
    text: String,
    at: Range<usize>,
}

/// The name and the value of an argument, on one line; of a long value, what stands about the fault.
fn argument(name: &str, value: &str, span: Range<usize>) -> Argument {
    let mark = if value.contains('"') { '\'' } else { '"' };
    let mut text = format!("{name} {mark}");
    let whole = span.is_empty();
    let span = if whole { 0..value.len() } else { span };
    let (mut start, mut end) = (text.len(), text.len());
    let mut left_out = false;
    let before = value[..span.start.min(value.len())].chars().count();
    let wrong = value.get(span.clone()).map_or(0, |part| part.chars().count());
    for (n, (at, c)) in value.char_indices().enumerate() {
        let shown = n + SHOWN >= before && n <= before + wrong + SHOWN;
        let shown = shown && !(n > before + SHOWN && n + SHOWN < before + wrong);
        if at == span.start {
            start = text.len();
        }
        match (shown, left_out) {
            (true, _) if c.is_control() => text.extend(c.escape_default()),
            (true, _) => text.push(c),
            (false, false) => text.push('…'),
            (false, true) => {}
        }
        left_out = !shown;
        if at < span.end {
            end = text.len();
        }
    }
    text.push(mark);
    if whole {
        // The marks as well, so that an empty value has something to point at.
        (start, end) = (name.len() + 1, text.len());
    }
    Argument { text, at: start..end.max(start) }
}

#[cfg(test)]
mod tests {
    use super::{argument, lines_about};
    use pithward_job::FilePlace;

    #[test]
    fn only_the_lines_of_a_fault_are_shown() {
        let text = "a = 1\r\nb = [2,\r\n3]\r\nc = 4";
        let shown = |span: std::ops::Range<usize>| {
            let place =
                FilePlace { file: String::new(), text: text.into(), span, line: 1, column: 1 };
            let (lines, at) = lines_about(&place);
            (lines.to_owned(), lines[at].to_owned())
        };
        let said = |lines: &str, part: &str| (lines.to_owned(), part.to_owned());
        assert_eq!(shown(4..5), said("a = 1", "1"));
        assert_eq!(shown(5..7), said("a = 1\r\nb = [2,", "\r\n"));
        assert_eq!(shown(6..6), said("a = 1", ""));
        assert_eq!(shown(11..18), said("b = [2,\r\n3]", "[2,\r\n3]"));
        assert_eq!(shown(text.len()..text.len()), said("c = 4", ""));
        assert_eq!(shown(900..901).1, "");
    }

    #[track_caller]
    fn check(value: &str, span: std::ops::Range<usize>, text: &str, wrong: &str) {
        let shown = argument("--small", value, span);
        assert_eq!(shown.text, text);
        assert_eq!(&shown.text[shown.at], wrong);
    }

    #[test]
    fn an_argument_with_what_is_wrong() {
        check("24 fot", 3..6, "--small \"24 fot\"", "fot");
        check("24 fot", 0..0, "--small \"24 fot\"", "\"24 fot\"");
        check("", 0..0, "--small \"\"", "\"\"");
        check("24\"x", 3..4, "--small '24\"x'", "x");
        check("é\n½ fot", 6..9, "--small \"é\\n½ fot\"", "fot");
    }

    #[test]
    fn a_long_argument_is_cut_down() {
        let long = format!("{}fot{}", "9".repeat(100_000), " ".repeat(100_000));
        let shown = argument("--small", &long, 100_000..100_003);
        assert!(shown.text.chars().count() < 120, "{}", shown.text);
        assert_eq!(&shown.text[shown.at], "fot");
        let shown = argument("--small", &long, 0..0);
        assert!(shown.text.chars().count() < 120, "{}", shown.text);
    }
}

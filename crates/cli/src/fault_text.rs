//! Faults as text: the message, the place with what is wrong underlined, and what would be right.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use pithward_job::{Fault, Place};

/// Characters of a value that are shown on either side of what is wrong with it, and at most of that.
const SHOWN: usize = 40;

/// All faults, each with its place, in colours that `anstream` takes off where none belong.
pub(crate) fn all(faults: &[Fault]) -> String {
    let renderer = Renderer::styled().decor_style(DecorStyle::Ascii);
    let texts = faults.iter().map(|fault| one(&renderer, fault));
    let mut text = texts.collect::<Vec<_>>().join("\n\n");
    if faults.len() > 1 {
        text += &format!("\n\n{} faults, nothing was planned", faults.len());
    }
    text
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
            let underlined = AnnotationKind::Primary.span(place.span.clone());
            let snippet = Snippet::source(&*place.text).path(place.file.as_str());
            title.element(snippet.annotation(underlined))
        }
    };
    renderer.render(&[group.element(Level::HELP.message(&*fault.help))])
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
    use super::argument;

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

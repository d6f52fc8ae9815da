use super::*;

fn paper() -> Paper {
    let mut paper = Paper::new("What we expect");
    paper.heading("The list");
    let mut table =
        Table::new(&[("size", Side::Left), ("likely", Side::Right), ("why", Side::Left)]);
    table.row(["2x6x12".to_owned(), "38".to_owned(), "the logs were told by eye ".repeat(4)]);
    table.row(["<script>".to_owned(), "4".to_owned(), "a|b".to_owned()]);
    table.sum(["in all".to_owned(), "42".to_owned()]);
    paper.table(table);
    paper.say("1. Not a list. A * star.");
    paper.items(vec!["- dash".to_owned()]);
    paper.ticks(vec!["two strong bunks".to_owned()]);
    paper.caution("Logs roll.");
    paper.blanks(&["date", "signature"]);
    paper
}

#[test]
fn text_keeps_to_the_width_and_breaks_only_words() {
    let text = paper().text();
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.contains("THE LIST"));
    // The figure stands on the first line of its row, flush with the sum.
    let column = |word: &str| {
        let line = text.lines().find(|line| line.contains(word)).unwrap();
        line.find(|c: char| c.is_ascii_digit()).map(|_| line.chars().take(22).collect::<String>())
    };
    assert!(column("2x6x12").unwrap().contains("38"), "{text}");
    assert!(text.contains("[ ] two strong bunks") && text.contains("CAUTION  Logs roll."));
    assert!(text.contains("signature  ____"), "{text}");
}

#[test]
fn markdown_keeps_what_people_typed_as_text() {
    let text = paper().markdown();
    assert!(text.starts_with("# What we expect\n\n## The list\n\n| size | likely | why |\n"));
    assert!(text.contains("| --- | ---: | --- |"), "{text}");
    assert!(text.contains("\\<script\\>") && text.contains("a\\|b"), "{text}");
    assert!(text.contains("| **in all** | **42** |"), "{text}");
    assert!(text.contains("\n1\\. Not a list. A \\* star.\n"), "{text}");
    assert!(
        text.contains("\n- \\- dash\n") && text.contains("\n- [ ] two strong bunks\n"),
        "{text}"
    );
    assert!(text.contains("\n> **Caution.** Logs roll.\n"), "{text}");
}

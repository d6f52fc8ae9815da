//! Every command of `README.md` prints what the page says it prints.
//!
//! A block that is fenced as `console` and begins with `$ ` is one command and its output; a command
//! may go on over several lines, each but the last ending in `\`. A line `...` on its own stands for any
//! number of lines. `UPDATE_README=1 cargo test -p pithward --test it readme::` writes the outputs anew; a
//! block with a `...` keeps as many lines before and after it as it had.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// How a reader runs the command from a fresh clone; here it is the built binary.
const RUN: &str = "cargo run --release --quiet -- ";
const OPEN: &str = "```console\n$ ";
const CLOSE: &str = "\n```";
const LEFT_OUT: &str = "...";

/// The repository.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// One command and what the page shows of its output.
struct Shown<'a> {
    command: &'a str,
    lines: Vec<&'a str>,
}

/// The commands of a page; blocks of other programs (the tests, say) are passed over.
fn shown(page: &str) -> Vec<Shown<'_>> {
    let blocks = page.split(OPEN).skip(1).filter_map(|rest| rest.split_once(CLOSE));
    blocks
        .map(|(block, _)| {
            let mut end = block.find('\n').unwrap_or(block.len());
            while block[..end].ends_with('\\') {
                let next = block.get(end + 1..).and_then(|rest| rest.find('\n'));
                end = next.map_or(block.len(), |at| end + 1 + at);
            }
            let (command, output) = block.split_at(end);
            Shown { command, lines: output.lines().skip(1).collect() }
        })
        .filter(|shown| shown.command.starts_with(RUN))
        .collect()
}

/// The arguments as a shell would part them; the page quotes with `"` alone.
fn arguments(command: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted) = (Vec::new(), None::<String>, false);
    for letter in command.replace("\\\n", " ").chars() {
        match letter {
            '"' => {
                quoted = !quoted;
                word.get_or_insert_default();
            }
            ' ' if !quoted => words.extend(word.take()),
            letter => word.get_or_insert_default().push(letter),
        }
    }
    words.extend(word);
    assert!(!quoted, "a quotation mark is missing: {command}");
    words
}

/// What the command prints, once it went well.
fn printed(command: &str) -> String {
    let arguments = arguments(command.strip_prefix(RUN).expect("`shown` kept no other"));
    let output = Command::new(env!("CARGO_BIN_EXE_pithward"))
        .args(&arguments)
        .current_dir(root())
        .output()
        .expect("the binary was built for this test");
    let stderr = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && stderr.is_empty(), "{command}: {stderr}");
    String::from_utf8(output.stdout).expect("the command prints UTF-8")
}

/// Whether lines are those that are shown, a `...` standing for any number.
fn agree(shown: &[&str], printed: &[&str]) -> bool {
    match shown.split_first() {
        None => printed.is_empty(),
        Some((&LEFT_OUT, rest)) => (0..=printed.len()).any(|from| agree(rest, &printed[from..])),
        Some((line, rest)) => {
            printed.first() == Some(line) && agree(rest, printed.get(1..).unwrap_or_default())
        }
    }
}

/// What a block should show of an output: as many lines about its `...` as it had.
fn renewed(shown: &[&str], printed: &[&str]) -> String {
    let Some(at) = shown.iter().position(|line| *line == LEFT_OUT) else {
        return printed.join("\n");
    };
    let after = (shown.len() - at - 1).min(printed.len());
    let before = at.min(printed.len() - after);
    let mut lines = printed[..before].to_vec();
    lines.push(LEFT_OUT);
    lines.extend(&printed[printed.len() - after..]);
    lines.join("\n")
}

#[test]
fn every_command_of_the_readme_prints_what_the_page_says() {
    let path = root().join("README.md");
    let page = fs::read_to_string(&path).expect("the repository has a README.md");
    let blocks = shown(&page);
    for name in ["plan", "quote", "need", "open", "compare", "count", "scale"] {
        let begins = format!("{RUN}{name} ");
        assert!(blocks.iter().any(|block| block.command.starts_with(&begins)), "no {name}");
    }
    let mut renewed_page = page.clone();
    for Shown { command, lines } in blocks {
        let output = printed(command);
        let output: Vec<&str> = output.lines().collect();
        let block = |output: &str| match output {
            "" => format!("{OPEN}{command}{CLOSE}"),
            output => format!("{OPEN}{command}\n{output}{CLOSE}"),
        };
        let (old, new) = (block(&lines.join("\n")), block(&renewed(&lines, &output)));
        assert!(page.contains(&old), "the block of {command} is not as it was read");
        renewed_page = renewed_page.replacen(&old, &new, 1);
        assert!(
            agree(&lines, &output) || std::env::var_os("UPDATE_README").is_some(),
            "README.md shows something else than {command} prints; look at it with \
             UPDATE_README=1 and git diff:\n{}",
            output.join("\n")
        );
    }
    if renewed_page != page {
        fs::write(&path, renewed_page).expect("README.md can be written");
    }
}

#[test]
fn lines_that_are_left_out_may_be_any() {
    let printed = ["a", "b", "c", "d"];
    assert!(agree(&["a", "...", "d"], &printed));
    assert!(agree(&["...", "c", "..."], &printed));
    assert!(!agree(&["a", "...", "c"], &printed) && !agree(&["a", "b"], &printed));
    assert_eq!(renewed(&["x", "...", "y"], &printed), "a\n...\nd");
    assert_eq!(
        arguments("open --small \"22 in\" \\\n  --want 1x6"),
        ["open", "--small", "22 in", "--want", "1x6"]
    );
}

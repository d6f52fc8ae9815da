//! The known word nearest to one that is not known.

/// The word of `known` that a slip of the pen may have meant: it begins so, or at most one
/// letter in three differs.
pub(crate) fn nearest(asked: &str, known: &[&'static str]) -> Option<&'static str> {
    let asked = asked.trim().to_lowercase().replace([' ', '_'], "-");
    // Nothing that long is a slip of a word, and the table below is as large as both together.
    if asked.is_empty() || asked.len() > 60 {
        return None;
    }
    if asked.len() >= 3
        && let Some(word) = known.iter().find(|word| word.replace('_', "-").starts_with(&asked))
    {
        return Some(word);
    }
    let distances = known.iter().map(|word| (edits(&asked, &word.replace('_', "-")), *word));
    let (edits, word) = distances.min_by_key(|(edits, _)| *edits)?;
    (edits <= (word.len() / 3).max(1)).then_some(word)
}

/// Letters to put in, take out or change to make `b` of `a`.
///
/// # Source
/// R. A. Wagner and M. J. Fischer, "The String-to-String Correction Problem", Journal of the ACM
/// 21(1), 1974, pp. 168-173; one row of its table at a time.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, letter) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, other) in b.iter().enumerate() {
            let changed = diagonal + usize::from(letter != *other);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_finds_its_word_and_rubbish_none() {
        let known = ["kerf", "step", "widest_cut", "through-turned"];
        for (asked, expected) in [
            ("kerff", Some("kerf")),
            ("Kerf", Some("kerf")),
            ("widest-cut", Some("widest_cut")),
            ("widest cut", Some("widest_cut")),
            ("thr", Some("through-turned")),
            ("bananas", None),
            ("", None),
        ] {
            assert_eq!(nearest(asked, &known), expected, "{asked}");
        }
        assert_eq!(nearest(&"x".repeat(1_000_000), &known), None);
    }
}

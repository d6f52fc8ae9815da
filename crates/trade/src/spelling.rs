//! The known word that a slip of the pen may have meant.
//!
//! # Source
//! R. A. Wagner and M. J. Fischer, "The String-to-String Correction Problem", Journal of the ACM
//! 21(1), 1974, pp. 168-173; one row of its table at a time.

/// Longer than any word that is known; the table of distances is as large as both texts together.
const LONGEST: usize = 60;
/// Letters from which on the beginning of a word stands for the whole.
const LEAST_BEGINNING: usize = 3;

/// The word of `known` that somebody meant who wrote `asked`: the first that begins so, or else the
/// nearest one of which at most one letter in three differs. Capitals do not matter, and a blank, `_`
/// and `-` are one.
///
/// ```
/// use pithward_trade::nearest_word;
/// assert_eq!(nearest_word("kerff", &["kerf", "widest_cut"]), Some("kerf"));
/// assert_eq!(nearest_word("Widest cu", &["kerf", "widest_cut"]), Some("widest_cut"));
/// assert_eq!(nearest_word("bananas", &["kerf", "widest_cut"]), None);
/// ```
pub fn nearest_word(asked: &str, known: &[&'static str]) -> Option<&'static str> {
    let asked = asked.trim().to_lowercase().replace([' ', '_'], "-");
    if asked.is_empty() || asked.len() > LONGEST {
        return None;
    }
    let plain = |word: &str| word.replace('_', "-");
    if asked.len() >= LEAST_BEGINNING
        && let Some(word) = known.iter().find(|word| plain(word).starts_with(&asked))
    {
        return Some(word);
    }
    let distances = known.iter().map(|word| (edit_distance(&asked, &plain(word)), *word));
    let (edits, word) = distances.min_by_key(|(edits, _)| *edits)?;
    (edits <= (word.len() / 3).max(1)).then_some(word)
}

/// Letters to put in, take out or change to make `b` of `a`.
///
/// ```
/// assert_eq!(pithward_trade::spelling::edit_distance("walnut", "waltnut"), 1);
/// ```
pub fn edit_distance(a: &str, b: &str) -> usize {
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
    use super::{edit_distance, nearest_word};

    #[test]
    fn edits_are_counted() {
        assert_eq!(edit_distance("walnut", "waltnut"), 1);
        assert_eq!(edit_distance("", "oak"), 3);
        assert_eq!(edit_distance("kitten", "sitting"), 3);
    }

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
            assert_eq!(nearest_word(asked, &known), expected, "{asked}");
        }
        assert_eq!(nearest_word(&"x".repeat(1_000_000), &known), None);
    }
}

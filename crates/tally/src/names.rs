//! Names that people shorten and misspell.

/// Names nearer than that are told to whoever misspelled one: 1 is the same, 0 has nothing in common.
const NEAR: f64 = 0.6;

/// The most names that are told.
const TOLD: usize = 5;

/// What a text is among some names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Named<'a> {
    /// This one: its name, or a beginning that no other has.
    One(&'a str),
    /// The beginning of several.
    Several(Vec<&'a str>),
    /// None; names that are near.
    None(Vec<&'a str>),
}

/// Which name a text is, capital letters or not.
pub(crate) fn find<'a>(text: &str, names: impl Iterator<Item = &'a str> + Clone) -> Named<'a> {
    let lower = text.trim().to_lowercase();
    if let Some(same) = names.clone().find(|name| *name == text.trim()) {
        return Named::One(same);
    }
    let same: Vec<&str> = names.clone().filter(|name| name.to_lowercase() == lower).collect();
    if let [one] = same[..] {
        return Named::One(one);
    }
    let begins = |name: &&str| !lower.is_empty() && name.to_lowercase().starts_with(&lower);
    let beginning: Vec<&str> = names.clone().filter(begins).collect();
    match beginning[..] {
        [one] => Named::One(one),
        [] => Named::None(near(&lower, names)),
        _ => Named::Several(beginning.into_iter().take(TOLD).collect()),
    }
}

/// The names that are nearest to a text in small letters, the nearest first.
pub(crate) fn near<'a>(lower: &str, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let like = |name: &str| strsim::jaro_winkler(lower, &name.to_lowercase());
    let mut near: Vec<(f64, &str)> = names.map(|name| (like(name), name)).collect();
    near.retain(|(like, _)| *like >= NEAR);
    near.sort_by(|(one, _), (other, _)| other.total_cmp(one));
    near.into_iter().take(TOLD).map(|(_, name)| name).collect()
}

#[cfg(test)]
mod tests {
    use super::{Named, find};

    #[test]
    fn a_log_by_its_beginning() {
        let names = ["A1", "A10", "B7", "Yard oak", "yard pine"];
        let find = |text| find(text, names.into_iter());
        assert_eq!(find("A1"), Named::One("A1"));
        assert_eq!(find("a1"), Named::One("A1"));
        assert_eq!(find("a10"), Named::One("A10"));
        assert_eq!(find("b"), Named::One("B7"));
        assert_eq!(find("yard o"), Named::One("Yard oak"));
        assert_eq!(find("y"), Named::Several(vec!["Yard oak", "yard pine"]));
        assert_eq!(find("B8"), Named::None(vec!["B7"]));
        assert_eq!(find("Q"), Named::None(vec![]));
        assert_eq!(find(""), Named::None(vec![]));
    }
}

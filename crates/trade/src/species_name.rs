//! Finding a species by the names that people use.
//!
//! A name is read as words without capitals, commas and hyphens. In this order, the first that gives
//! an answer gives it:
//!
//! 1. the whole name, spoken (`eastern redcedar`), as in the table (`Cedar, eastern redcedar`), in
//!    any order of words, and with words run together or apart (`bald cypress`);
//! 2. a trade name of the table `species_names.csv`: of one species (`hard maple`), or of several that
//!    are sold as one (`soft maple`);
//! 3. part of a name: some of its words (`walnut`), or its end (`red cedar`).
//!
//! Where that gives several species, the fault lists them; where it gives none, those nearest by the
//! number of letters to change, or else those of the same genus.

use crate::Species;
use crate::published::{self, TableFault};
use crate::spelling::edit_distance;
use std::sync::LazyLock;

const TRADE_NAMES: &str = include_str!("../../../data/published/species_names.csv");

static TRADE: LazyLock<Vec<TradeName>> = LazyLock::new(|| {
    parse().expect("the table is embedded, and `the_embedded_table_parses` proves it sound")
});

/// No more names than this are suggested for one that is not known.
const MOST_SUGGESTIONS: usize = 5;

/// Why no one species goes by a name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SpeciesFault {
    /// Several species have the name.
    #[error("species {named:?} may be any of: {}; name one of them", candidates.join("; "))]
    Ambiguous {
        /// What was asked for.
        named: String,
        /// The species that it may mean, as the tables name them.
        candidates: Vec<&'static str>,
    },
    /// No species has the name.
    #[error(
        "no species is named {named:?}{}; a species may be left out where nobody asks for weight, \
         bark or shrinkage",
        suggestion(nearest)
    )]
    Unknown {
        /// What was asked for.
        named: String,
        /// The names nearest to it, as the tables have them.
        nearest: Vec<&'static str>,
    },
}

struct TradeName {
    words: Vec<String>,
    species: String,
}

/// The species that `text` names.
pub(crate) fn find(text: &str, all: &'static [Species]) -> Result<&'static Species, SpeciesFault> {
    let asked = words(text);
    if let Some(species) = all.iter().find(|species| is_named(species, &asked)) {
        return Ok(species);
    }
    let named = text.trim().to_owned();
    let mut candidates = by_trade_name(&asked, all);
    if candidates.is_empty() {
        candidates = all.iter().filter(|species| is_partly_named(species, &asked)).collect();
    }
    match *candidates {
        [species] => Ok(species),
        [] => Err(SpeciesFault::Unknown { named, nearest: nearest(&asked, all) }),
        _ => Err(SpeciesFault::Ambiguous { named, candidates: names(candidates) }),
    }
}

fn is_named(species: &Species, asked: &[String]) -> bool {
    let (table, run) = (words(&species.name), asked.concat());
    spoken(&species.name).concat() == run
        || table.concat() == run
        || sorted(&table) == sorted(asked)
}

fn by_trade_name(asked: &[String], all: &'static [Species]) -> Vec<&'static Species> {
    let named = TRADE.iter().filter(|trade| {
        trade.words.concat() == asked.concat() || sorted(&trade.words) == sorted(asked)
    });
    named.filter_map(|trade| all.iter().find(|species| species.name == trade.species)).collect()
}

fn is_partly_named(species: &Species, asked: &[String]) -> bool {
    if asked.is_empty() {
        return false;
    }
    let (table, spoken) = (words(&species.name), spoken(&species.name));
    asked.iter().all(|word| table.contains(word))
        || (1..spoken.len()).any(|from| spoken[from..].concat() == asked.concat())
}

/// The names that a slip of the pen may have meant: at most one letter in four differs. Failing
/// that, the names that share the last word: `white spruce` for another spruce.
fn nearest(asked: &[String], all: &'static [Species]) -> Vec<&'static str> {
    let run = asked.concat();
    let most_edits = (run.chars().count() / 4).max(1);
    let mut near: Vec<_> = all
        .iter()
        .map(|species| (distance_to(species, &run), species))
        .filter(|(edits, _)| *edits <= most_edits && !run.is_empty())
        .collect();
    near.sort_by_key(|(edits, _)| *edits);
    let mut found = names(near.into_iter().map(|(_, species)| species));
    if found.is_empty() {
        found = names(
            all.iter()
                .filter(|species| asked.last().is_some_and(|w| words(&species.name).contains(w))),
        );
    }
    found.truncate(MOST_SUGGESTIONS);
    found
}

/// Fewest letters to change between `run` and the whole name or one long word of it.
fn distance_to(species: &Species, run: &str) -> usize {
    let table = words(&species.name);
    let whole = [table.concat(), spoken(&species.name).concat()];
    let long = table.into_iter().filter(|word| word.len() >= 4);
    whole.into_iter().chain(long).map(|name| edit_distance(&name, run)).min().unwrap_or(usize::MAX)
}

/// The words of a text, small letters only.
fn words(text: &str) -> Vec<String> {
    let words = text.split(|letter: char| !letter.is_alphanumeric());
    words.filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
}

/// The words in the order of speech: `Oak, white` is a white oak; `Cedar, eastern redcedar` has its
/// genus twice and is an eastern redcedar.
fn spoken(name: &str) -> Vec<String> {
    let Some((genus, rest)) = name.split_once(',') else {
        return words(name);
    };
    let (genus, mut spoken) = (words(genus), words(rest));
    if !spoken.last().is_some_and(|last| last.ends_with(&genus.concat())) {
        spoken.extend(genus);
    }
    spoken
}

fn sorted(words: &[String]) -> Vec<&String> {
    let mut words: Vec<_> = words.iter().collect();
    words.sort();
    words
}

fn names(species: impl IntoIterator<Item = &'static Species>) -> Vec<&'static str> {
    species.into_iter().map(|species| species.name.as_str()).collect()
}

fn suggestion(nearest: &[&str]) -> String {
    if nearest.is_empty() {
        return String::new();
    }
    format!("; nearest: {}", nearest.join("; "))
}

fn parse() -> Result<Vec<TradeName>, TableFault> {
    published::read(TRADE_NAMES, |row| {
        Ok(TradeName {
            words: words(row.text("trade_name")?),
            species: row.text("species")?.to_owned(),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::{SpeciesFault, parse};
    use crate::Species;

    #[track_caller]
    fn check(named: &str, expected: &str) {
        assert_eq!(Species::find(named).unwrap().name, expected, "{named:?}");
    }

    #[track_caller]
    fn check_fault(named: &str, expected: &str) {
        assert_eq!(Species::find(named).unwrap_err().to_string(), expected);
    }

    #[test]
    fn the_embedded_table_parses() {
        for trade in parse().unwrap() {
            assert!(Species::all().iter().any(|species| species.name == trade.species));
        }
    }

    #[test]
    fn every_species_is_found_by_its_own_name() {
        for species in Species::all() {
            check(&species.name, &species.name);
            check(&super::spoken(&species.name).join(" "), &species.name);
        }
    }

    #[test]
    fn capitals_commas_hyphens_and_order_do_not_matter() {
        for named in ["white oak", "Oak, white", "oak white", "WHITE-OAK", "  white  oak "] {
            check(named, "Oak, white");
        }
        check("eastern white pine", "Pine, eastern white");
        check("Douglas fir", "Douglas-fir, coast");
        check("yellow poplar", "Yellow-poplar");
        check("bald cypress", "Baldcypress");
        check("eastern red cedar", "Cedar, eastern redcedar");
    }

    #[test]
    fn part_of_a_name_is_enough_when_it_is_the_only_one() {
        check("walnut", "Walnut, black");
        check("pecan", "Hickory, pecan");
        check("redwood", "Redwood, old-growth");
        check("white cedar", "Cedar, northern white");
    }

    #[test]
    fn a_trade_name_stands_for_its_species() {
        check("white pine", "Pine, eastern white");
        check("hard maple", "Maple, sugar");
        check("Tulip-Poplar", "Yellow-poplar");
        check("red oak", "Oak, northern red");
        check("doug fir", "Douglas-fir, coast");
        check("aromatic cedar", "Cedar, eastern redcedar");
        // One species has the word, and it is the plain meaning.
        check("poplar", "Yellow-poplar");
        check("cherry", "Cherry, black");
    }

    #[test]
    fn several_are_listed() {
        check_fault(
            "hemlock",
            "species \"hemlock\" may be any of: Hemlock, eastern; Hemlock, western; name one of them",
        );
        let SpeciesFault::Ambiguous { candidates, .. } = Species::find("oak").unwrap_err() else {
            panic!("an oak is many")
        };
        assert_eq!(candidates.len(), 7);
        // Sold as one, or another tree on either side of the country: whoever saws it knows which.
        for named in ["red cedar", "cedar", "soft maple", "yellow pine", "popple", "ash", "spruce"]
        {
            let fault = Species::find(named).unwrap_err();
            assert!(matches!(fault, SpeciesFault::Ambiguous { .. }), "{named}: {fault}");
        }
    }

    #[test]
    fn an_unknown_name_suggests_the_nearest() {
        check_fault(
            "waltnut",
            "no species is named \"waltnut\"; nearest: Walnut, black; a species may be left out \
             where nobody asks for weight, bark or shrinkage",
        );
        let nearest = |named: &str| match Species::find(named).unwrap_err() {
            SpeciesFault::Unknown { nearest, .. } => nearest,
            fault @ SpeciesFault::Ambiguous { .. } => panic!("{fault}"),
        };
        assert_eq!(nearest("whit oak"), ["Oak, white"]);
        assert_eq!(nearest("white spruce"), ["Spruce, black", "Spruce, Engelmann", "Spruce, red"]);
        assert!(nearest("bubinga").is_empty());
        assert!(nearest("").is_empty());
    }
}

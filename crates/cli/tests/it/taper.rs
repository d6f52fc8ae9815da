//! A round log whose taper is searched: what the card says of it, and that its plan is read back.

use crate::common::{directory, pithward, printed, put, refused};

const LOG: [&str; 13] = [
    "open",
    "--small",
    "13 5/8",
    "--butt",
    "17 3/8",
    "--length",
    "16 ft 3 in",
    "--want",
    "2x8x8",
    "--want",
    "1x6x12",
    "--want",
    "1x4x8",
];

/// Board feet of the line that says what a log gives.
fn board_feet(card: &str) -> f64 {
    let gives = card.lines().find(|line| line.trim_start().starts_with("gives")).expect("a line");
    let words: Vec<&str> = gives.split_whitespace().collect();
    let bf = words.iter().position(|word| *word == "bf,").expect("board feet");
    words[bf - 1].parse().expect("a number")
}

#[test]
fn it_gives_no_less_than_level_and_the_card_says_how_it_lies_and_why() {
    let level = printed(&pithward(&LOG));
    let searched = printed(&pithward(&[&LOG[..], &["--taper", "search"]].concat()));
    assert!(board_feet(&searched) > board_feet(&level), "{searched}\n{level}");
    let flat = searched.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "the cuts then follow the bark on top",
        "and around; round logs level and along the bark",
        "for laying it as this card says",
    ] {
        assert!(flat.contains(words), "no {words:?} in:\n{searched}");
    }
    assert!(!flat.contains("on no grid"), "{searched}");
    assert_eq!(printed(&pithward(&[&LOG[..], &["--taper", "level"]].concat())), level);
    refused(
        &pithward(&[&LOG[..], &["--taper", "serch"]].concat()),
        &["--taper: \"serch\" is no way to lay a taper; perhaps search?"],
    );
}

#[test]
fn its_plan_is_read_back() {
    let place = directory("taper-read-back");
    let plan = printed(&pithward(&[&LOG[..], &["--taper", "search", "--json"]].concat()));
    assert!(plan.contains("\"drift_"), "{plan}");
    put(&place, "plan.json", plan);
    let path = |name: &str| place.join(name).to_string_lossy().into_owned();
    printed(&pithward(&["draw", &path("plan.json"), "--into", &path("pages")]));
}

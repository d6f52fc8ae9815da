//! `pithward quote`: what a person sees, what is written, and what is refused.

use crate::common::{pithward, printed, refused};
use std::fs;
use std::path::{Path, PathBuf};

const FARMYARD: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/jobs/farmyard.toml");

/// What is printed of a quote.
fn quote(arguments: &[&str]) -> String {
    printed(&pithward(&[&["quote"], arguments].concat()))
}

/// A small pile of an invented yard.
const SMALL: &str = r#"
site = "an invented yard"
[[logs]]
id = "A"
species = "white oak"
small_end = "14 in"
butt = "16 in"
length = "12 ft 3 in"
[[logs]]
id = "B"
species = "white oak"
small_end = "17 in"
butt = "19 in"
length = "10 ft 3 in"
[[wants]]
size = "2x6x10"
count = 12
[[wants]]
size = "1x6"
lengths = "8/10/12"
"#;

/// A job file of its own, in a directory of its own; `more` stands behind the small pile.
fn job(name: &str, more: &str) -> (PathBuf, PathBuf) {
    let directory = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("quote-{name}"));
    let _ = fs::remove_dir_all(&directory);
    fs::create_dir_all(&directory).expect("a directory of its own");
    let file = directory.join("job.toml");
    fs::write(&file, format!("{SMALL}{more}")).expect("a job file");
    (directory, file)
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a path of plain letters")
}

/// Words as they follow each other, wherever a line ends.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The figures of a row of a table.
fn row<'t>(page: &'t str, name: &str) -> Vec<&'t str> {
    let line = page.lines().find(|line| line.trim_start().starts_with(name));
    let line = line.unwrap_or_else(|| panic!("no row {name} in:\n{page}"));
    line.trim_start().trim_start_matches(name).split_whitespace().collect()
}

#[test]
fn the_page_tells_pieces_hours_price_material_and_weights() {
    let (_, file) = job("page", "");
    let page = quote(&[text(&file), "--piles", "60"]);
    for words in [
        "WHAT COMES OUT",
        "THE DAY",
        "HOURS, AS PLANNED",
        "TO BRING",
        "60 piles like this one",
        "all of these are common practice, no source",
        "The mill file states no price",
        "What the loader lifts was not told",
        "ungraded lumber",
    ] {
        assert!(flat(&page).contains(words), "no {words:?} in:\n{page}");
    }
    assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
    // Asked, planned, low, likely, high, safe.
    let cells: Vec<u32> = row(&page, "2x6x10").iter().map(|cell| cell.parse().unwrap()).collect();
    assert_eq!(cells.len(), 6);
    assert!(cells[2] <= cells[3] && cells[3] <= cells[4] && cells[5] <= 12, "{cells:?}");
}

#[test]
fn the_same_seed_gives_the_same_page_and_another_another() {
    let (_, file) = job("seed", "");
    let with = |seed: &str| quote(&[text(&file), "--piles", "40", "--seed", seed]);
    let one = with("7");
    assert_eq!(one, with("7"));
    assert_ne!(one, with("8"));
}

#[test]
fn where_nothing_is_in_doubt_every_figure_is_the_plans() {
    let sure = "[doubt]\ndiameter = \"0 in\"\ndiameter_shared = \"0 in\"\ntaper = \"0 in\"\nlength = \"0 in\"\nrot = 0\nmetal = 0\npace_day = 0\npace_log = 0\n";
    let (_, file) = job("sure", sure);
    let page = quote(&[text(&file), "--piles", "25"]);
    for (name, asked, words) in [
        ("2x6x10", 1, 1),
        ("1x6", 9, 1),
        ("on site", 0, 4),
        ("board feet", 0, 1),
        ("sharp blades", 0, 1),
    ] {
        // Planned, low, likely, high, each of so many words, behind what was asked for.
        let cells = row(&page, name);
        let figures: Vec<&[&str]> = cells[asked..].chunks(words).take(4).collect();
        assert_eq!(figures.len(), 4, "{name}: {cells:?}\n{page}");
        assert!(figures.iter().all(|it| *it == figures[0]), "{name}: {figures:?}\n{page}");
    }
}

#[test]
fn the_yard_and_the_charges_are_on_the_papers_that_need_them() {
    let yard = "[yard]\nlogs = \"piled\"\nmoved = \"dragged\"\ndistance = \"60 ft\"\nground = \"soft\"\nwater = false\nresidue = \"tarp\"\ntarp = \"20 ft x 30 ft\"\nneighbours = \"two houses\"\nnoise_from = \"9:00\"\nnoise_to = \"17:00\"\nhelpers = 0\n[lumber]\npayload = \"50 lb\"\n";
    let (_, file) = job("yard", yard);
    let paper = |name: &str| quote(&[text(&file), "--piles", "0", "--paper", name]);
    let customer = flat(&paper("customer"));
    for words in [
        "dragged 60 ft to it",
        "The ground is soft",
        "the sawyer brings his own",
        "two houses",
        "not before 9:00, not after 17:00",
        "No helpers are counted on",
        "heavier than the whole payload",
        "Logs roll",
    ] {
        assert!(customer.contains(words), "no {words:?} in:\n{customer}");
    }
    let pack = flat(&paper("pack"));
    for words in
        ["winch", "blocking for soft ground", "tarp of 20 ft by 30 ft", "there is none on site"]
    {
        assert!(pack.contains(words), "no {words:?} in:\n{pack}");
    }
    assert!(flat(&paper("order")).contains("DAY 1, 9:00 TO"));
    assert!(flat(&paper("terms")).contains("no legal advice"));
}

#[test]
fn both_ways_to_pay_stand_side_by_side_with_the_same_extras() {
    let page = quote(&[FARMYARD, "--piles", "0"]);
    assert_eq!(page.matches("coming and setting up").count(), 2, "{page}");
    assert!(page.contains("By the hour is least") || page.contains("By the board foot is least"));
    assert!(page.contains("Heavier than the loader lifts (4,500 lb): log O13"), "{page}");
}

#[test]
fn papers_are_written_into_a_directory_and_nothing_is_written_over() {
    let (directory, file) = job("into", "");
    let papers = directory.join("papers");
    let write = || pithward(&["quote", text(&file), "--piles", "0", "--into", text(&papers)]);
    let told = printed(&write());
    assert!(told.contains("customer.md"), "{told}");
    let customer = papers.join("customer.md");
    let written = fs::read_to_string(&customer).unwrap();
    assert!(written.starts_with("# What to expect of the day at the mill: an invented yard\n"));
    assert!(printed(&write()).contains("is there already, word for word"));
    fs::write(&customer, "filled in by hand").unwrap();
    refused(&write(), &["something else in it, and is left as it is", "name another directory"]);
    assert_eq!(fs::read_to_string(&customer).unwrap(), "filled in by hand");
    refused(
        &pithward(&["quote", text(&file), "--piles", "0", "--into", text(&file)]),
        &["is no directory"],
    );
}

#[test]
fn a_name_stays_a_name_on_a_paper() {
    let (_, file) = job("name", "");
    let text = fs::read_to_string(&file).unwrap().replace("an invented yard", "<b>*A* | #1</b>");
    fs::write(&file, text).unwrap();
    let paper = quote(&[self::text(&file), "--piles", "0", "--paper", "customer", "--markdown"]);
    assert!(paper.contains("\\<b\\>\\*A\\* \\| \\#1\\</b\\>"), "{}", paper.lines().next().unwrap());
}

#[test]
fn bad_figures_are_named_all_at_once() {
    let bad = "[doubt]\nrot = 1.5\nmetal = -1\n[yard]\nground = \"bog\"\nnoise_from = \"25:00\"\nnoise_to = \"9:00\"\n[lumber]\npayload = \"many\"\n";
    let (_, file) = job("bad", bad);
    refused(
        &pithward(&["quote", text(&file), "--start", "noon"]),
        &["--start", "noon", "rot", "1.5", "metal", "bog", "25:00", "many"],
    );
}

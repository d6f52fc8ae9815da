//! Faults of the files that a job file names, the sheet of logs and the mill file, and all of a job told
//! at once, in the order in which a person would read it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Output;

use crate::common::{GENERIC, changed, directory, pithward, printed, put, refused};

/// A sheet without a fault, as a spreadsheet saves it.
const SOUND: &str = "\
Log,Species,Small end (in),Small end 2 (in),Butt,Length,Bark,Over bark,Notes
1,white oak,14 1/2,15,16 1/2 in,12 ft 4 in,5/8 in,no,\"sound, straight\"

2,eastern white pine,12,,13 in,12 ft 4 in,,,
";

/// One of a log that is not round, straight and sound.
const CROOKED: &str = "\
Log,Small end,Small end 2,Butt,Length,Long axis,Sweep,Pith,Flare,Flaws
1,14 in,15 in,17 in,12 ft,2 o'clock,2 in toward 6 at 5 ft,1 in toward 4,4 in over 18 in,rot radius 2 in from butt length 3 ft; split toward 3
";

const JOB: &str = "logs_file = \"sheet.csv\"\n\n[[wants]]\nsize = \"2x8x12\"\ncount = 6\n";

fn place(name: &str, sheet: &[u8]) -> PathBuf {
    let place = directory(name);
    put(&place, "sheet.csv", sheet);
    put(&place, "job.toml", JOB);
    place
}

fn checked(place: &Path) -> Output {
    run("check", place)
}

fn run(command: &str, place: &Path) -> Output {
    let job = place.join("job.toml");
    pithward(&[command, job.to_str().expect("the directory and the name are UTF-8")])
}

/// One fault: `from` of the sound sheet is written as `to`, and told on the line and at the column at which
/// `at` begins in that, with all that is said.
#[track_caller]
fn check(name: &str, from: &str, to: &str, at: &str, said: &[&str]) {
    let (text, line, column) = changed(SOUND, from, to, at);
    let place = format!("sheet.csv:{line}:{column}");
    let said = [said, &[place.as_str(), "help: "]].concat();
    let stderr = refused(&checked(&self::place(&format!("sheet-{name}"), text.as_bytes())), &said);
    assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
}

#[test]
fn the_sound_sheet_is_sound() {
    let said = printed(&checked(&place("sheet-sound", SOUND.as_bytes())));
    assert!(said.contains("White oak: 1 log") && said.contains("Eastern white pine"), "{said}");
}

#[test]
fn shapes_that_no_log_has() {
    let check = |name: &str, from: &str, to: &str, at: &str, said: &[&str]| {
        let (text, line, column) = changed(CROOKED, from, to, at);
        let sheet = place(&format!("sheet-shape-{name}"), text.as_bytes());
        let at = format!("sheet.csv:{line}:{column}");
        let stderr = refused(&checked(&sheet), &[said, &[at.as_str(), "help: "]].concat());
        assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
    };
    let sound = printed(&checked(&place("sheet-crooked", CROOKED.as_bytes())));
    assert!(sound.contains("bowed 2 in toward") && sound.contains("rot radius 2 in"), "{sound}");
    check("axis", "2 o'clock", "25", "25", &["long axis", "\"25\" is no direction on a clock"]);
    check(
        "bow",
        "2 in toward 6",
        "22 in toward 6",
        "22 in",
        &["sweep must be between 0 in and 14"],
    );
    check("unit", "1 in toward 4", "1 toward 4", "1 toward", &["pith small", "\"1\" has no unit"]);
    check("flare", "4 in over 18 in", "4 in", "4 in", &["flare has no length"]);
    check("flaw", "split toward", "splitt toward", "splitt", &["flaws", "perhaps split?"]);
    check("heading", "Flaws", "Flawes", "Flawes", &["perhaps flaws?"]);
}

#[test]
fn headings_that_are_none() {
    check(
        "heading",
        "Small end (in)",
        "Smal end (in)",
        "Smal",
        &["\"Smal end (in)\" is no column", "perhaps small end?"],
    );
    check("colour", "Over bark", "Colour", "Colour", &["\"Colour\" is no column", "over bark"]);
    check(
        "unit",
        "Small end (in)",
        "Small end (inch es)",
        "Small",
        &["small end", "inch es", "in, ft, mm, cm or m"],
    );
    check(
        "twice",
        "Small end 2 (in)",
        "Small end (in)",
        "Small",
        &["small end", "twice", "small end 2"],
    );
}

#[test]
fn cells_that_are_none() {
    check("bare", "16 1/2 in", "16 1/2", "16 1/2", &["butt", "\"16 1/2\" has no unit"]);
    check("word", "14 1/2,15", "wide,15", "wide", &["small end", "\"wide\""]);
    check("second", "14 1/2,15", "14 1/2,x", "x", &["small end 2", "\"x"]);
    check(
        "range",
        ",12,,13 in",
        ",1200,,13 in",
        "1200",
        &["small end", "between 1 in and 120 in", "1200"],
    );
    check(
        "swapped",
        ",12,,13 in",
        ",14,,13 in",
        "13 in",
        &["the butt, \"13 in\", is smaller", "\"14"],
    );
    check(
        "length",
        "13 in,12 ft 4 in",
        "13 in,12 ft 4 inn",
        "inn",
        &["length", "\"inn\" is no unit"],
    );
    check(
        "no-length",
        "2,eastern white pine,12,,13 in,12 ft 4 in",
        "2,eastern white pine,12,,13 in,",
        "2",
        &["length is missing"],
    );
    check(
        "species",
        "eastern white pine",
        "eastern whit pin",
        "eastern",
        &["species", "\"eastern whit pin\"", "Pine, eastern white"],
    );
    check("bark", "5/8 in", "9 in", "9 in", &["bark", "between 0 in and 4 in"]);
    check("yes", ",no,", ",perhaps,", "perhaps", &["over bark", "\"perhaps\"", "yes or no"]);
    check(
        "same",
        "\n2,eastern",
        "\n1,eastern",
        "1",
        &["id", "\"1\" is called the same", "line 2", "sheet.csv"],
    );
    check("no-id", "\n2,eastern", "\n,eastern", ",", &["id is missing"]);
    check(
        "stray",
        "in,,,\n",
        "in,,,,stray\n",
        "stray",
        &["\"stray\" stands beyond the last column", "column 9"],
    );
    // All that follows is in the cell then, and is no note that can be printed.
    let sheet = SOUND.replace("straight\"", "straight");
    let output = checked(&place("sheet-quote", sheet.as_bytes()));
    refused(
        &output,
        &["a quotation mark opens here and none closes it", "sheet.csv:2:54", "notes"],
    );
    check("ditto", "eastern white pine", "\"eastern \"\"whit\"\" pin\"", "\"", &["species"]);
}

#[test]
fn sheets_that_are_none() {
    let refused_sheet = |name: &str, sheet: &[u8], said: &[&str]| {
        let place = place(&format!("no-sheet-{name}"), sheet);
        let stderr = refused(&checked(&place), &[said, &["help: "]].concat());
        assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
    };
    refused_sheet("empty", b"\r\n", &["logs_file", "is empty", "job.toml:1:13"]);
    refused_sheet(
        "latin",
        b"id,species\n1,\xe4\n",
        &["logs_file", "is not UTF-8", "0xe4 on line 2", "job.toml:1:13"],
    );
    refused_sheet("wide", b"\xff\xfei\0d\0", &["logs_file", "is not UTF-8"]);
    refused_sheet("heading", b"id,small end,butt,length\n", &["logs_file", "has no log in it"]);
    refused_sheet("huge", &vec![b','; 9_000_000], &["logs_file", "is larger than"]);
    let place = directory("no-sheet");
    put(&place, "job.toml", JOB);
    refused(&checked(&place), &["logs_file", "there is no file \"sheet.csv\"", "job.toml:1:13"]);
    fs::create_dir(place.join("sheet.csv")).unwrap();
    refused(&checked(&place), &["logs_file", "is a directory"]);
}

#[test]
fn columns_that_are_missing() {
    let stderr = refused(
        &checked(&place("sheet-columns", b"species\nwhite oak\n")),
        &[
            "id has no column",
            "small end has no column",
            "butt has no column",
            "length has no column",
            "sheet.csv:1:1",
        ],
    );
    assert_eq!(stderr.matches("error: ").count(), 4, "{stderr}");
}

#[test]
fn a_mill_file_that_is_none() {
    let place = directory("bad-mill");
    let job = |mill: &str| {
        let text = format!(
            "[mill]\nfile = \"mill.toml\"\n{mill}\n[[logs]]\nid = \"1\"\nsmall_end = \"12 in\"\nbutt = \"13 in\"\nlength = \"12 ft 4 in\"\n\n[[wants]]\nsize = \"2x8x12\"\n"
        );
        put(&place, "job.toml", text);
    };
    job("");
    refused(&checked(&place), &["file: there is no file \"mill.toml\"", "job.toml:2:8"]);
    put(&place, "mill.toml", "name = \"m\"\nkerf = \"0.1");
    refused(&checked(&place), &["this is not TOML", "mill.toml:2:"]);
    put(&place, "mill.toml", GENERIC.replace("\"0.1 in\"", "0.1"));
    refused(&checked(&place), &["kerf", "\"0.1\" has no unit", "mill.toml:9:8"]);
    put(&place, "mill.toml", GENERIC);
    job("kerf = \"0.1 in\"");
    refused(&checked(&place), &["file", "\"kerf\" stands beside it", "job.toml:2:8"]);
}

#[test]
fn every_fault_of_a_job_at_once_and_in_order() {
    let place = directory("all-at-once");
    let mill = GENERIC.replace("\"0.1 in\"", "\"9 fot\"").replace("edging_batch", "edging_bach");
    put(&place, "mill.toml", mill);
    let sheet = "id,species,small end (in),butt (in),length (ft),over bark\n\
                 1,wite oak,14,15,12,no\n\
                 2,white oak,14 fot,15,12,no\n\
                 2,white oak,14,13,12,no\n\
                 3,,14,15,,yes\n";
    put(&place, "sheet.csv", sheet);
    let job = r#"sight = "a yard"
logs_file = "sheet.csv"

[mill]
file = "mill.toml"

[sawing]
sizes = "nominal"
trim = 2
methods = ["boxed", "segment"]

[worth]
hour = "much"

[[logs]]
id = "1"
small_end = "14 in"
butt = "13 in"
length = "12 ft"
bark = "9 in"

[[wants]]
size = "2x8x12"
count = 0
wane = "2/3"

[[wants]]
size = "1x"
extra = "welcome"
"#;
    put(&place, "job.toml", job);
    let expected = [
        ("job.toml:1:1", "sight"),
        ("sheet.csv:2:3", "species"),
        ("sheet.csv:3:16", "small end"),
        ("sheet.csv:4:1", "id"),
        ("sheet.csv:4:16", "butt"),
        ("sheet.csv:5:1", "length"),
        ("sheet.csv:5:11", "over bark"),
        ("mill.toml:9:11", "kerf"),
        ("mill.toml:36:1", "edging_bach"),
        ("job.toml:8:9", "sizes"),
        ("job.toml:9:8", "trim"),
        ("job.toml:10:21", "methods"),
        ("job.toml:13:8", "hour"),
        ("job.toml:16:6", "id"),
        ("job.toml:18:8", "butt"),
        ("job.toml:20:8", "bark"),
        ("job.toml:24:9", "count"),
        ("job.toml:25:9", "wane"),
        ("job.toml:28:9", "size"),
        ("job.toml:29:9", "extra"),
    ];
    for command in ["check", "plan"] {
        let output = run(command, &place);
        let stderr = refused(&output, &[]);
        let places = stderr.lines().filter_map(|line| line.trim().strip_prefix("--> "));
        let places: Vec<&str> = places.map(|path| path.rsplit('/').next().unwrap()).collect();
        let titles = stderr.lines().filter_map(|line| line.strip_prefix("error: "));
        let told: Vec<(&str, &str)> = places.into_iter().zip(titles).collect();
        assert_eq!(told.len(), expected.len(), "{stderr}");
        for ((place, title), (right, field)) in told.iter().zip(expected) {
            assert!(
                *place == right && title.contains(field),
                "{place} {title}, not {right} {field}:\n{stderr}"
            );
        }
    }
}

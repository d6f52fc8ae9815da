//! The subcommands over a pile, as a person at a shell meets them: what they print, and with what they end.

use std::fs;
use std::io::Read;
use std::path::Path;
use std::process::{Output, Stdio};

use crate::common::{command, directory, file, generated, pithward, printed, refused, told};
use serde_json::Value;

/// A job of two logs, with what is added.
fn small(name: &str, more: &str) -> String {
    let text = format!(
        "[[logs]]\nid = \"a\"\nsmall_end = \"14 in\"\nbutt = \"15 in\"\nlength = \"8 ft 2 in\"\n\n\
         [[logs]]\nid = \"b\"\nsmall_end = \"9 in\"\nbutt = \"10 in\"\nlength = \"8 ft 2 in\"\n\n\
         [[wants]]\nsize = \"2x8x8\"\ncount = 2\n\n[[wants]]\nsize = \"1x6\"\n{more}"
    );
    file(name, text.as_bytes())
}

/// A job none of whose logs goes on the mill.
fn hopeless(name: &str) -> String {
    let text = "[[logs]]\nid = \"big\"\nsmall_end = \"50 in\"\nbutt = \"55 in\"\nlength = \"12 ft\"\n\n\
                [[wants]]\nsize = \"2x8x12\"\ncount = 4\n";
    file(name, text.as_bytes())
}

fn json(output: &Output) -> Value {
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("stdout holds one whole JSON value")
}

#[test]
fn a_check_says_what_it_understood_of_crooked_logs() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/jobs/crooked-yard.toml");
    let said = printed(&pithward(&["check", root]));
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "A1: small end 16 in by 14 in, the longer toward 2 o'clock; butt 18 in by 16 1/2 in",
        "A2: small end 15 1/2 in by 14 1/4 in, the longer toward 1:30; butt 17 in by 16 in, the longer toward 3",
        "A4: bowed 1 1/2 in toward 9:30, most at 4 ft from the butt",
        "B1: bent 1 1/2 in toward 8 o'clock at 6 ft from the butt",
        "B2: pith 1 in toward 4 o'clock at the small end; pith 1 1/2 in toward 4:30 at the butt",
        "B3: flares by 4 in over 1 ft 6 in",
        "C1: rot, radius 2 in, from butt, length 3 ft; stain, radius 3 in, from 3 ft, to 7 ft",
        "C3: metal, toward 9 o'clock, depth 3 in, wide 6 in, from butt, to 6 ft",
        "E: 11 in small end, 19 in butt, 42 ft long",
        "E: goes into no log from 24 ft to 26 ft from the butt",
        "6x6 sawn 6 in x 6 in; no wane; boxed heart, the pith within 1 in of the middle",
        "2x8 sawn 2 in x 8 in; no wane; free of heart, the pith 1/2 in away or more",
        "may hold shake, split and stain",
    ] {
        assert!(said.contains(part), "{part}\n{said}");
    }
    assert!(!said.contains("D4:"), "{said}");
}

#[test]
fn the_starter_file_is_written_checked_and_planned() {
    let place = directory("starter");
    let run = |arguments: &[&str]| command(arguments).current_dir(&place).output().unwrap();
    let said = printed(&run(&["new"]));
    assert!(said.contains("job.toml") && said.contains("pithward check job.toml"), "{said}");
    let written = fs::read_to_string(place.join("job.toml")).unwrap();
    assert_eq!(written, printed(&run(&["new", "-"])));
    assert!(written.to_lowercase().contains("invented"));
    printed(&run(&["check", "job.toml"]));
    printed(&run(&["plan", "job.toml"]));
    // What is there is left as it is.
    fs::write(place.join("mine.toml"), "mine").unwrap();
    for name in ["job.toml", "mine.toml"] {
        let said =
            told(&run(&["new", name]), 2, &[name, "there already", "help: name another file"]);
        assert_eq!(said.matches("error: ").count(), 1);
    }
    assert_eq!(fs::read_to_string(place.join("mine.toml")).unwrap(), "mine");
    told(&run(&["new", "no/such/job.toml"]), 2, &["no such directory", "help: "]);
    told(&run(&["new", "."]), 2, &["is a directory", "help: name the file too"]);
    told(&run(&["new", "job.toml/x.toml"]), 2, &["cannot be written", "help: "]);
    printed(&run(&["new", "my job.toml"]));
}

#[test]
fn the_demo_is_checked_planned_and_counted() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let job = "data/jobs/farmyard.toml";
    let run =
        |arguments: &[&str]| printed(&command(arguments).current_dir(&root).output().unwrap());
    assert!(run(&["check", job]).contains("Invented"));
    assert!(run(&["plan", job]).contains("2x8x12"));
    assert!(run(&["count", "6x6x10", job]).contains("6x6x10"));
    assert!(
        run(&["need", job, "--small", "16", "--length", "16 ft 6 in", "--species", "white oak"])
            .contains("6x6x10")
    );
}

#[test]
fn a_log_that_cannot_be_sawn_is_told_of_and_left_out() {
    let more = "\n[[logs]]\nid = \"huge\"\nsmall_end = \"50 in\"\nbutt = \"55 in\"\nlength = \"8 ft 2 in\"\n";
    let said = printed(&pithward(&["plan", &small("one-huge.toml", more)]));
    assert!(said.contains("huge") && said.contains("2x8x8"), "{said}");
}

#[test]
fn a_list_that_stays_short_is_a_plan() {
    let more = "\n[[wants]]\nsize = \"6x6x16\"\ncount = 3\n";
    let said = printed(&pithward(&["plan", &small("short.toml", more)]));
    assert!(said.contains("SHORT") && said.contains("6x6x16"), "{said}");
}

#[test]
fn a_pile_that_gives_nothing_ends_with_1() {
    let job = hopeless("hopeless.toml");
    told(&pithward(&["plan", &job]), 1, &["big"]);
    told(&pithward(&["plan", &job, "--json"]), 1, &["big"]);
    told(&pithward(&["plan", &job, "--cards"]), 1, &["big"]);
    told(&pithward(&["count", "2x8x12", &job]), 1, &["2x8x12"]);
}

#[test]
fn cards_of_the_logs_that_are_named() {
    let job = small("cards.toml", "");
    let all = printed(&pithward(&["plan", &job, "--cards"]));
    let summary = printed(&pithward(&["plan", &job]));
    assert!(all.starts_with(&summary), "the summary comes first");
    let one = |id: &str| printed(&pithward(&["plan", &job, "--card", id]));
    let (a, b) = (one("a"), one("b"));
    assert!(all.contains(&a) && all.contains(&b) && a != b);
    assert!(!a.contains(&summary));
    let both = printed(&pithward(&["plan", &job, "--card", "b", "--card", "a"]));
    assert!(both.contains(&a) && both.contains(&b));
    assert!(both.find(&b) < both.find(&a), "in the order in which they were asked for");
    let output = pithward(&["plan", &job, "--card", "c", "--card", "a", "--card", "\u{1b}[31m"]);
    let said = refused(&output, &["--card", "\"c\"", "help: "]);
    assert_eq!(said.matches("error: ").count(), 2, "{said}");
}

#[test]
fn the_plan_as_json_is_whole_and_keeps_to_its_schema() {
    let schema = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/schema/pile.schema.json");
    let schema: Value = serde_json::from_str(&fs::read_to_string(schema).unwrap()).unwrap();
    let schema = jsonschema::validator_for(&schema).unwrap();
    let plan = json(&pithward(&["plan", &small("json.toml", ""), "--json"]));
    let faults: Vec<String> = schema.iter_errors(&plan).map(|fault| fault.to_string()).collect();
    assert!(faults.is_empty(), "{faults:#?}");
    assert_eq!(plan["logs"].as_array().unwrap().len(), 2);
}

#[test]
fn the_same_bytes_on_any_number_of_threads() {
    let job = file("threads.toml", generated(60).as_bytes());
    let plan = |threads: &str, arguments: &[&str]| {
        let mut command = command(&[&["plan", job.as_str()], arguments].concat());
        printed(&command.env("RAYON_NUM_THREADS", threads).output().unwrap())
    };
    let whole = plan("1", &["--json"]);
    assert_eq!(
        serde_json::from_str::<Value>(&whole).unwrap()["logs"].as_array().unwrap().len(),
        60
    );
    assert!(plan("2", &["--json"]) == whole, "the plan changes with the number of threads");
    assert_eq!(plan("2", &["--cards"]), plan("3", &["--cards"]));
}

#[test]
fn one_size_from_a_whole_pile() {
    let job = small("counted.toml", "");
    let said = printed(&pithward(&["count", "2x6x8", &job]));
    assert!(said.contains("2x6x8"), "{said}");
    refused(&pithward(&["count", "2xx", &job]), &["SIZE", "no width", "help: "]);
    refused(&pithward(&["count", "2x6x8=4", &job]), &["SIZE", "has a count"]);
    // The size and the job have their faults told together.
    let broken = file("counted-broken.toml", b"[[logs]]\nid = 3 4\n");
    refused(&pithward(&["count", "2xx", &broken]), &["no width", "not TOML"]);
}

#[test]
fn what_a_job_file_says_is_not_said_again() {
    let job = small("twice.toml", "");
    for more in [
        &["--small", "14"][..],
        &["--length", "12", "--butt", "15"],
        &["--mill", "data/mills/generic.toml"],
        &["--over-bark"],
        &["--method", "boxed"],
    ] {
        let arguments = [&["count", "2x6", job.as_str()], more].concat();
        let said = refused(&pithward(&arguments), &["cannot be used with", more[0], "JOB"]);
        // What was not typed is not told of.
        assert!(!said.contains("--tolerance") && !said.contains("--bark"), "{said}");
    }
    let kind = ["--small", "14", "--length", "12"];
    for more in [&["--want", "2x6x8=4"][..], &["--lengths", "8/10"], &["--sizes", "full"]] {
        let arguments = [&["need", job.as_str()], &kind[..], more].concat();
        refused(&pithward(&arguments), &["cannot be used with", more[0], "JOB"]);
    }
    for more in ["--cards", "--card=a"] {
        refused(&pithward(&["plan", &job, "--json", more]), &["cannot be used with", "--json"]);
    }
    refused(&pithward(&["plan", &job, "--cards", "--card", "a"]), &["cannot be used with"]);
}

#[test]
fn logs_of_one_kind_that_a_list_takes() {
    let kind = ["--small", "14 in", "--length", "12 ft 4 in", "--species", "white oak"];
    let list = [&["need", "--want", "2x8x12=20", "--want", "1x6"], &kind[..]].concat();
    let said = printed(&pithward(&list));
    assert!(said.contains("2x8x12"), "{said}");
    let job = small("needed.toml", "");
    let said = printed(&pithward(&[&["need", &job], &kind[..]].concat()));
    assert!(said.contains("2x8x8"), "{said}");
    let thin = ["need", "--want", "8x8x12=2", "--small", "6", "--length", "12 ft 4 in"];
    told(&pithward(&thin), 1, &["8x8x12"]);
    let uncounted = [&["need", "--want", "1x6"], &kind[..]].concat();
    refused(&pithward(&uncounted), &["--want", "help: "]);
    let nothing =
        refused(&pithward(&["need"]), &["--want is missing", "--small is missing", "--length"]);
    assert!(!nothing.contains("--butt is missing"), "{nothing}");
    let both = pithward(&["need", "no-such.toml", "--small", "wide"]);
    refused(&both, &["no-such.toml", "\"wide\"", "--length is missing"]);
}

#[test]
fn nobody_need_read_to_the_end() {
    let job = file("pipe.toml", generated(30).as_bytes());
    for arguments in [&["--json"][..], &["--cards"]] {
        let mut command = command(&[&["plan", job.as_str()], arguments].concat());
        let piped = command.stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = piped.spawn().unwrap();
        let mut begin = [0; 10];
        child.stdout.take().unwrap().read_exact(&mut begin).unwrap();
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0));
        assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    }
}

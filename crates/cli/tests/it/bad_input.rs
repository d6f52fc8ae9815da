//! Every kind of bad input gets one clear message each: the exit code is 2, stdout stays empty, and stderr
//! names the field and the value and says what would be right. A log or a want that cannot be is no bad
//! input: it ends with 1, and says why and what would help.

use std::process::{Command, Output, Stdio};

use crate::common::{GENERIC, file, pithward, refused, told};

/// A call that works, with some of its options replaced and others added. An option that is given as
/// `None` is left out.
fn open_with(changed: &[(&str, Option<&str>)]) -> Output {
    let mut options = vec![
        ("--small", Some("22 in")),
        ("--butt", Some("24 1/2 in")),
        ("--length", Some("12 ft")),
        ("--want", Some("2x8x12=6")),
        ("--method", Some("two-sided")),
    ];
    options.retain(|(name, _)| !changed.iter().any(|(other, _)| other == name));
    options.extend(changed);
    let mut arguments = vec!["open"];
    for (name, value) in options {
        match value {
            Some("") if name == "--over-bark" => arguments.push(name),
            Some(value) => arguments.extend([name, value]),
            None => {}
        }
    }
    pithward(&arguments)
}

#[track_caller]
fn refused_value(name: &str, value: &str, said: &[&str]) {
    let stderr = refused(&open_with(&[(name, Some(value))]), said);
    assert!(stderr.contains(name), "{stderr}");
    assert!(stderr.contains("help: "), "{stderr}");
    assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
}

#[test]
fn lengths_that_are_none() {
    refused_value("--small", "", &["a length is missing", "--small \"\"", "24 1/2 in"]);
    refused_value("--small", "24 fot", &["\"fot\" is no unit", "in, ft, mm, cm or m", "  ^^^\n"]);
    refused_value("--butt", "wide", &["\"wide\" is no number", "a bare number is inches"]);
    refused_value("--length", "12,5 ft", &["comma", "write a decimal point"]);
    refused_value("--length", "nan", &["\"nan\" is no number"]);
    refused_value("--length", "1e3 ft", &["\"e3\" is no unit"]);
    refused_value("--small", "22 in 3 mm", &["is left over"]);
}

#[test]
fn what_is_seen_on_no_log() {
    refused_value("--seen", "", &["is no thing that is seen on a log", "write knot, bump, seam"]);
    refused_value("--seen", "knots 3 3 ft 2 in", &["perhaps knot?", "  ^^^^^"]);
    refused_value("--seen", "knot 13 3 ft 2 in", &["\"13\" is no direction on a clock"]);
    refused_value("--seen", "knot 3 13 ft 2 in", &["between 0 in and 12 ft", "\"13 ft\""]);
    refused_value("--seen", "knot 3 3 ft", &["--seen has no size", "as in size 2 in"]);
    refused_value("--seen", "scar 3 wide 2 in", &["has no depth"]);
    refused_value(
        "--seen",
        "bump 3 3 ft 2 in over 12 in",
        &["the clear wood over the overgrown knot must be 0 in or more", "got 12.0000 in"],
    );
    refused_value(
        "--seen",
        "quality fine",
        &["is no quality of a quarter", "clear, few or knotty"],
    );
    refused_value("--want", "4/4x6up,grade=best", &["\"best\" is no hardwood grade", "1 common"]);
    refused_value("--want", "4/4x6up,rings=round", &["\"round\" is no class of rings"]);
}

#[test]
fn lengths_that_no_log_has() {
    refused_value("--small", "-22 in", &["between 1 in and 120 in", "\"-22 in\""]);
    refused_value("--small", "0", &["between 1 in and 120 in", "\"0\""]);
    refused_value("--butt", "900", &["between 1 in and 120 in", "\"900\""]);
    refused_value("--length", "5 mm", &["between 12 in and 100 ft", "\"5 mm\""]);
    refused_value(
        "--length",
        "3660",
        &["between 12 in and 100 ft", "\"3660\"", "bare number is feet"],
    );
    refused_value("--length", "99999999999999999999 ft", &["is too large"]);
    refused_value("--bark", "9", &["between 0 in and 4 in", "\"9\""]);
    refused_value("--trim", "-1", &["between 0 in and 24 in", "\"-1\""]);
    let swapped = open_with(&[("--small", Some("24 in")), ("--butt", Some("22 in"))]);
    refused(&swapped, &["the butt, \"22 in\", is smaller than the small end, \"24 in\"", "swap"]);
}

#[test]
fn bark_that_nobody_knows() {
    let over = open_with(&[("--over-bark", Some(""))]);
    refused(
        &over,
        &["--over-bark", "neither the bark's thickness nor the species", "tape the ends"],
    );
    let thick = open_with(&[
        ("--over-bark", Some("")),
        ("--bark", Some("4 in")),
        ("--small", Some("8 in")),
    ]);
    refused(&thick, &["--small", "there is no log left"]);
}

#[test]
fn species_that_are_none() {
    refused_value("--species", "wite oak", &["no species is named \"wite oak\"", "Oak, white"]);
    refused_value(
        "--species",
        "bananas",
        &["no species is named \"bananas\"", "such as white oak"],
    );
    refused_value("--species", "", &["is no species"]);
    refused_value("--species", "pine", &["may be any of", "name one of them"]);
}

#[test]
fn wants_that_are_none() {
    refused(&open_with(&[("--want", None)]), &["--want is missing", "2x8x12=6"]);
    refused_value("--want", "", &["a size is missing"]);
    refused_value("--want", "planks", &["\"planks\"", "write thickness x width x length"]);
    refused_value("--want", "2x", &["has no width"]);
    refused_value("--want", "2x6 fot", &["\"fot\" is no unit"]);
    refused_value("--want", "2x600", &["\"2x600\"", "width must be between"]);
    refused_value("--want", "-2x6", &["thickness must be between"]);
    refused_value("--want", "2x6=0", &["count", "between 1 and 10000", "\"0\""]);
    refused_value("--want", "2x6=six", &["count", "\"six\""]);
    refused_value("--want", "2x6=99999999999", &["count", "\"99999999999\""]);
    refused_value("--want", "2x6,wane=1", &["\"1\" is no limit on wane", "wane=1/2 in"]);
    refused_value("--want", "2x6,wane=2/3", &["under half of the piece, got 2/3"]);
    refused_value("--want", "2x6,wane=1 in", &["1 in is not under half of 2 in"]);
    refused_value("--want", "2x6,colour=2", &["\"colour\" is no part of a want", ",wane="]);
    refused_value("--want", "2x6,lengths=8/x", &["\"x\" is no number", "8/10/12"]);
    refused_value("--want", "2x6x8,lengths=8", &["has its length already"]);
    let twice = pithward(&[
        "open",
        "--small",
        "22",
        "--butt",
        "24",
        "--length",
        "12",
        "--want",
        "2x6x12=8",
        "--want",
        "2 x 6 x 12",
    ]);
    refused(&twice, &["\"2 x 6 x 12\" asks for the same as \"2x6x12=8\"", "put both into one"]);
}

#[test]
fn shapes_that_no_log_has() {
    refused_value("--small", "22 x in", &["is no number", "--small \"22 x in\""]);
    refused_value("--small", "22 in x 21 fot", &["\"fot\" is no unit"]);
    refused_value("--long-axis", "2", &["the longer of two diameters", "neither end has two"]);
    refused_value(
        "--sweep",
        "30 in toward 6",
        &["between 0 in and 22 in", "\"30 in\"", "   ^^^^^"],
    );
    refused_value("--sweep", "2 in toward noon", &["\"noon\" is no direction on a clock", "2:30"]);
    refused_value("--sweep", "2 in toward 6 at top", &["\"top\" is no place along a log"]);
    refused_value("--sweep", "2 in toward 6 at 13", &["between 0 in and 12 ft", "\"13\""]);
    refused_value("--sweep", "2 in", &["--sweep has no toward"]);
    let empty = open_with(&[("--sweep", Some(""))]);
    refused(&empty, &["--sweep has no depth", "--sweep has no toward", "2 faults"]);
    refused_value("--crook", "2 in toward 6", &["--crook has no at", "at 5 ft"]);
    refused_value("--pith-small", "11 in toward 6", &["between 0 in and 10 7/8 in", "\"11 in\""]);
    refused_value("--pith-butt", "1 in", &["--pith-butt has no toward"]);
    refused_value("--flare", "4 in over 13 ft", &["between 1 in and 143 in", "\"13 ft\""]);
    refused_value("--flaw", "knot radius 2 in", &["\"knot\" is no kind of flaw", "rot, hollow"]);
    refused_value("--flaw", "rot radius 20 in", &["between 1/16 in and 12 1/4 in", "\"20 in\""]);
    refused_value("--flaw", "rot radius 2 in from butt", &["--flaw has no to", "length 4 ft"]);
    refused_value("--flaw", "rot radius 2 in depth 2 in", &["both radius and depth"]);
    refused_value("--flaw", "split depth 2 in toward 3", &["depth says nothing of a split"]);
    refused_value("--flaw", "metal toward 9 depth 2 in wide 7 hours", &["is no width"]);
    refused_value("--heart", "box", &["\"box\" is no rule on the heart", "boxed"]);
    refused_value("--centred", "1/2 in", &["--centred is only for boxed heart"]);
    refused_value("--tolerates", "stain/metal", &["\"metal\" is tolerated in no piece"]);
    refused_value("--want", "2x8x12=6,heart=free,heart=boxed", &["\"heart\" is said twice"]);
    refused_value("--want", "2x8x12=6,heart=free,centred=1", &["is only for boxed heart"]);
    refused_value("--want", "1/4x8x12,heart=boxed", &["is too small to box the pith"]);
}

#[test]
fn settings_that_make_no_sense() {
    refused_value("--method", "halves", &["\"halves\" is no method", "around or quarter"]);
    refused_value("--method", "fore-sided", &["perhaps four-sided?"]);
    refused_value(
        "--sizes",
        "nominal",
        &["\"nominal\" is no size policy", "full", "dressed", "finished"],
    );
    refused_value("--tolerance", "1/64", &["between 1/16 in and 1/2 in", "\"1/64\""]);
    refused_value("--tolerance", "3 ft", &["between 1/16 in and 1/2 in", "\"3 ft\""]);
    refused_value("--lengths", "8/10/", &["--lengths", "write lengths with a / between them"]);
    refused_value("--planing", "1/8 in", &["only for finished sizes", "--sizes finished"]);
    let dressed = open_with(&[("--sizes", Some("dressed")), ("--want", Some("2x7"))]);
    refused(&dressed, &["\"2x7\"", "has no dressed size", "name a listed size"]);
    let finished = open_with(&[
        ("--sizes", Some("finished")),
        ("--final-moisture", Some("80")),
        ("--planing", Some("wide")),
        ("--sawing-deviation", Some("2 in")),
    ]);
    let stderr = refused(
        &finished,
        &[
            "--species: a finished size needs the species",
            "final moisture must be between 0 % and 30 %, got 80 %",
            "\"wide\" is no number",
            "sawing deviation must be between",
            "--undersize is missing",
            "5 faults",
        ],
    );
    assert_eq!(stderr.matches("error: ").count(), 5, "{stderr}");
}

#[test]
fn files_that_are_no_mill() {
    let refused_file = |path: &str, said: &[&str]| {
        refused_value("--mill", path, said);
    };
    refused_file("no-such-mill.toml", &["there is no file \"no-such-mill.toml\""]);
    refused_file(env!("CARGO_TARGET_TMPDIR"), &["is a directory, not a file"]);
    refused_file(&file("empty.toml", b""), &["is empty", "copy one of the mills"]);
    refused_file(&file("latin.toml", b"name = \"s\xe4ge\"\n"), &["is not UTF-8", "0xe4 on line 1"]);
    refused_file(&file("picture.json", &[0x89, b'P', b'N', b'G', 0, 0xff]), &["is not UTF-8"]);
    refused_file(
        &file("half.json", b"{ \"name\": \"m\", \"kerf\""),
        &["this is not JSON: EOF", ":1:"],
    );
    refused_file(&file("list.json", b"[1, 2]"), &["this is not JSON"]);
    refused_file(&file("half.toml", b"name = \"m\"\nkerf = \"0.1"), &["this is not TOML", ":2:"]);
    refused_file(&file("huge.toml", &vec![b'#'; 2_000_000]), &["is larger than"]);
    // Cut short between two lines: what is missing is named.
    let cut = file("cut.toml", GENERIC.split_once("widest_cut").unwrap().0.as_bytes());
    refused(
        &open_with(&[("--mill", Some(&cut))]),
        &["cut.toml:19", "deepest_above, lowest_blade: missing", "was the file cut short?"],
    );
}

#[test]
fn mills_that_cannot_be() {
    let mill = |name: &str, from: &str, to: &str| {
        assert!(GENERIC.contains(from));
        file(name, GENERIC.replace(from, to).as_bytes())
    };
    let refused_mill = |path: &str, said: &[&str]| {
        refused(&open_with(&[("--mill", Some(path))]), said);
    };
    refused_mill(
        &mill("kerf.toml", "\"0.1 in\"", "\"-3.2 mm\""),
        &[
            "kerf must be between 0.5 mm and 20 mm, got \"-3.2 mm\"",
            "kerf.toml:9:8",
            "kerf = \"-3.2 mm\"",
            "^^^^^^^^^",
        ],
    );
    refused_mill(
        &mill("unit.toml", "\"0.1 in\"", "0.1"),
        &["\"0.1\" has no unit", "\"0.1 in\" or"],
    );
    refused_mill(&mill("step.toml", "\"1/16 in\"", "\"1/10 in\""), &["step", "1/8, 1/16, 1/32"]);
    refused_mill(&mill("wide.toml", "\"26 in\"", "\"26 ft\""), &["widest_cut must be between"]);
    refused_mill(
        &mill("short.toml", "\"4 ft\"", "\"30 ft\""),
        &["shortest must not be more than longest, which is 20 ft, got 30 ft"],
    );
    refused_mill(
        &mill("batch.toml", "= 6", "= 0"),
        &["edging_batch", "between 1 and 20, got \"0\""],
    );
    refused_mill(
        &mill("field.toml", "widest_cut", "widest_cot"),
        &["perhaps widest_cut?", "widest_cut: missing from the mill file"],
    );
}

#[test]
fn every_fault_of_a_call_at_once() {
    let path =
        file("three.toml", GENERIC.replace("0.1 in", "9 fot").replace("20 ft", "1 mm").as_bytes());
    let output = open_with(&[
        ("--small", Some("24 fot")),
        ("--length", None),
        ("--want", Some("2x6=none")),
        ("--method", Some("sideways")),
        ("--mill", Some(&path)),
    ]);
    let stderr = refused(
        &output,
        &["\"24 fot\"", "--length is missing", "\"none\"", "\"sideways\"", "\"9 fot\"", "longest"],
    );
    assert!(stderr.matches("error: ").count() >= 6, "{stderr}");
}

#[test]
fn counts_and_scales_refuse_the_same() {
    let log = ["--small", "16", "--butt", "18", "--length", "12"];
    let with =
        |first: &[&'static str], more: &[&'static str]| pithward(&[first, &log[..], more].concat());
    refused(&with(&["count"], &[]), &["SIZE is missing", "2x6"]);
    refused(&with(&["count", "4/4"], &[]), &["\"4/4\" has no one width"]);
    refused(&with(&["count", "2x6=8"], &[]), &["\"2x6=8\" has a count"]);
    refused(&with(&["count", "2xx"], &["--species", "nosuch"]), &["no width", "\"nosuch\""]);
    refused(
        &pithward(&["scale", "--small", "x"]),
        &["\"x\"", "--butt is missing", "--length is missing"],
    );
}

#[test]
fn calls_that_are_none() {
    for arguments in [
        &["open", "--colour", "red"][..],
        &["saw"],
        &[],
        &["open", "--small", "2", "--small", "3"],
        &["open", "--small"],
    ] {
        let stderr = refused(&pithward(arguments), &[]);
        assert!(!stderr.is_empty());
    }
}

#[test]
fn what_cannot_be_sawn_is_no_bad_input() {
    let wide = open_with(&[("--want", Some("12x30x12"))]);
    told(&wide, 1, &["12x30x12", "22 in"]);
    let long = open_with(&[("--want", Some("2x6x16"))]);
    told(&long, 1, &["2x6x16", "12 ft"]);
    let thick = open_with(&[("--butt", Some("40 in"))]);
    told(&thick, 1, &["32 in"]);
    let log = ["--small", "4", "--butt", "5", "--length", "8"];
    told(&pithward(&[&["count", "6x6"], &log[..]].concat()), 1, &["6x6"]);
}

#[test]
fn good_calls_print_to_stdout_alone() {
    let scale = ["scale", "--small", "60", "--butt", "62", "--length", "24"];
    let json = ["open", "--small", "9", "--butt", "10", "--length", "8", "--want", "1x4", "--json"];
    let count = ["count", "2x6", "--small", "16", "--butt", "18", "--length", "12"];
    for arguments in [&scale[..], &json, &count] {
        let output = pithward(arguments);
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        assert!(output.stderr.is_empty() && output.stdout.ends_with(b"\n"));
    }
    // A rule that does not cover the log says so, and the others print.
    let table = String::from_utf8(pithward(&scale).stdout).unwrap();
    assert!(table.contains("Scribner Decimal C scales small ends of 1 in to 50 in, got 60 in"));
    assert!(table.contains("Doyle") && table.contains("International 1/4-inch"));
}

#[test]
fn a_closed_pipe_is_no_error() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_pithward"))
        .args(["scale", "--small", "16", "--butt", "18", "--length", "12"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
}

#[test]
fn a_very_long_value_is_not_printed_whole() {
    let stderr = refused(&open_with(&[("--small", Some(&"9".repeat(100_000)))]), &["--small"]);
    assert!(stderr.len() < 2000, "{}", stderr.len());
    let want = format!("2x6,{}", "é\u{1b}[31m,".repeat(10_000));
    let stderr = refused(&open_with(&[("--want", Some(&want))]), &["is no part of a want"]);
    assert!(!stderr.contains('\u{1b}'));
}

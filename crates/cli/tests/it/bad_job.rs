//! Faults of a job file: each is told with its file, line and column, its field, what was written and
//! what would be right; the command ends with 2 and plans nothing. Those of its logs stand in `bad_job_logs.rs`.

use crate::common::sound_job::{SOUND, check};
use crate::common::{file, pithward, printed, refused};

#[test]
fn the_sound_job_is_sound() {
    let path = file("job-sound.toml", SOUND.as_bytes());
    let said = printed(&pithward(&["check", &path]));
    assert!(said.contains("white oak") && said.contains("2x8x12"), "{said}");
}

#[test]
fn fields_that_are_none() {
    check(
        "site",
        "site =",
        "sit =",
        "sit",
        &["\"sit\" is no field of a job file", "perhaps site?"],
    );
    check("section", "[sawing]", "[sawings]", "sawings", &["is no field", "perhaps sawing?"]);
    // What is missing is told as well: the slip may be elsewhere.
    let text = SOUND.replace("kerf =", "kurf =");
    let output = pithward(&["check", &file("job-kerf-name.toml", text.as_bytes())]);
    refused(
        &output,
        &[
            "\"kurf\" is no field of [mill]; perhaps kerf?",
            "toml:6:1",
            "kerf: missing from [mill]",
            "toml:4:1",
        ],
    );
    check("log-field", "notes = \"from", "note = \"from", "note", &["perhaps notes?"]);
    check("want-field", "extra =", "extras =", "extras", &["perhaps extra?"]);
    check("worth-field", "hour =", "hours =", "hours", &["perhaps hour?"]);
    check("sawing-field", "trim =", "trimm =", "trimm", &["perhaps trim?"]);
}

#[test]
fn wants_that_are_none() {
    check("size", "\"2x8x12\"", "\"2x\"", "2x", &["size", "no width"]);
    check("size-unit", "\"1x6\"", "\"1x6 fot\"", "fot", &["size", "\"fot\" is no unit"]);
    check("size-number", "\"1x6\"", "6", "6", &["size", "must be"]);
    check("size-count", "\"1x6\"", "\"1x6=4\"", "=", &["size", "count"]);
    check(
        "count-many",
        "count = 6",
        "count = 1000000",
        "1000000",
        &["count", "between 1 and 10000"],
    );
    check("wane", "\"1/2 in\"", "\"2/3\"", "2/3", &["wane", "under half"]);
    check(
        "wane-none",
        "\"1/2 in\"",
        "\"some\"",
        "some",
        &["wane", "\"some\" is no number", "1/2 in", "1/3"],
    );
    check(
        "wood",
        "\"white oak\", \"eastern",
        "\"wite ok\", \"eastern",
        "\"wite ok\"",
        &["species", "\"wite ok\""],
    );
    check(
        "lengths",
        "count = 6",
        "count = 6\nlengths = \"8/10\"",
        "\"8/10\"",
        &["lengths", "has its length already"],
    );
    check("blocking", "blocking = false", "blocking = 0", "0", &["blocking", "true or false"]);
}

#[test]
fn worth_that_is_none() {
    check(
        "worth",
        "\"9.50 each\"",
        "\"9.50\"",
        "\"9.50\"",
        &["worth", "\"9.50\" does not say", "each"],
    );
    check(
        "worth-comma",
        "\"9.50 each\"",
        "\"9,50 each\"",
        "9,50",
        &["worth", "\"9,50\" is no amount"],
    );
    check("worth-below", "\"9.50 each\"", "\"-1 each\"", "-1", &["worth", "between"]);
    check(
        "worth-much",
        "\"9.50 each\"",
        "\"9999999999999999999 each\"",
        "9999",
        &["worth", "between"],
    );
    check(
        "extra",
        "\"welcome\"",
        "\"perhaps\"",
        "\"perhaps\"",
        &["extra", "\"perhaps\"", "welcome"],
    );
    check("extra-more", "\"welcome\"", "\"99 each\"", "\"99 each\"", &["extra", "99", "9.5"]);
    check(
        "extra-alone",
        "blocking = false",
        "extra = \"welcome\"",
        "\"welcome",
        &["extra", "has no count"],
    );
    let text = SOUND.replace("board_foot = 0.60\n", "");
    let output = pithward(&["check", &file("job-unpriced.toml", text.as_bytes())]);
    refused(&output, &["nothing says what", "1x6", "job-unpriced.toml:", "help: "]);
    check("hour", "hour = 45", "hour = \"much\"", "\"much\"", &["hour", "\"much\" is no amount"]);
    check("hour-below", "hour = 45", "hour = -45", "-45", &["hour", "between"]);
    check(
        "seconds",
        "pass_seconds = 60",
        "pass_seconds = -60",
        "-60",
        &["pass_seconds", "whole number"],
    );
    check(
        "seconds-many",
        "turn_seconds = 90",
        "turn_seconds = 90000",
        "90000",
        &["turn_seconds", "between"],
    );
    check("unit-name", "\"dollars\"", "\"\"", "\"\"", &["unit", "1 to"]);
}

#[test]
fn sawing_that_cannot_be() {
    check(
        "policy",
        "\"full\"",
        "\"nominal\"",
        "\"nominal\"",
        &["sizes", "\"nominal\" is no size policy", "dressed"],
    );
    check(
        "method",
        "\"boxed\"]",
        "\"segment\"]",
        "\"segment\"",
        &["methods", "\"segment\" is no method"],
    );
    check("near-method", "\"boxed\"]", "\"boxd\"]", "\"boxd\"", &["methods", "perhaps boxed?"]);
    check(
        "tolerance",
        "tolerance = \"1/16 in\"",
        "tolerance = \"1/64 in\"",
        "\"1/64",
        &["tolerance", "between 1/16 in and 1/2 in"],
    );
    check("sawing-lengths", "\"8/10/12\"", "\"8/10/\"", "\"8/10/\"", &["lengths", "8/10/12"]);
    check(
        "trim-range",
        "trim = \"2 in\"",
        "trim = \"3 ft\"",
        "\"3 ft\"",
        &["trim", "between 0 in and 24 in"],
    );
    check(
        "finished",
        "trim = \"2 in\"",
        "planing = \"1/8 in\"",
        "\"1/8",
        &["planing", "only for finished sizes"],
    );
    check(
        "kerf",
        "\"0.1 in\"",
        "\"-3.2 mm\"",
        "\"-3.2",
        &["kerf must be between 0.5 mm and 20 mm"],
    );
    check("kerf-bare", "\"0.1 in\"", "0.1", "0.1", &["kerf", "no unit"]);
    check(
        "step",
        "step = \"1/16 in\"",
        "step = \"1/10 in\"",
        "\"1/10",
        &["step", "1/8, 1/16, 1/32"],
    );
}

#[test]
fn files_that_are_no_job() {
    let refused_file = |path: &str, said: &[&str]| {
        for command in ["check", "plan"] {
            let stderr = refused(&pithward(&[command, path]), &[said, &["help: "]].concat());
            assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
        }
    };
    refused_file(
        "no-such-job.toml",
        &["JOB: there is no file \"no-such-job.toml\"", "pithward new"],
    );
    refused_file(env!("CARGO_TARGET_TMPDIR"), &["is a directory, not a file"]);
    refused_file(&file("job-empty.toml", b" \n"), &["is empty", "pithward new"]);
    refused_file(
        &file("job-latin.toml", b"site = \"B\xe4r\"\n"),
        &["is not UTF-8", "0xe4 on line 1"],
    );
    refused_file(&file("job-picture.json", &[0x89, b'P', b'N', b'G', 0, 0xff]), &["is not UTF-8"]);
    refused_file(
        &file("job-half.json", b"{ \"site\": \"m\", \"logs\""),
        &["this is not JSON", ":1:"],
    );
    refused_file(&file("job-list.json", b"[1, 2]"), &["this is not JSON"]);
    refused_file(
        &file("job-half.toml", b"site = \"m\"\ndate = \"0.1"),
        &["this is not TOML", ":2:"],
    );
    refused_file(&file("job-huge.toml", &vec![b'#'; 9_000_000]), &["is larger than"]);
    let deep = format!("logs = {}{}", "[".repeat(5000), "]".repeat(5000));
    refused_file(&file("job-deep.toml", deep.as_bytes()), &["this is not TOML"]);
    let deep = format!("{{\"logs\": {}{}}}", "[".repeat(5000), "]".repeat(5000));
    let stderr = refused(
        &pithward(&["check", &file("job-deep.json", deep.as_bytes())]),
        &["logs must be a list, each log below its own [[logs]]", "wants is missing"],
    );
    assert!(stderr.len() < 3000, "{}", stderr.len());
}

#[test]
fn grades_prices_a_pace_charges_and_a_yard_that_are_none() {
    let with = |name: &str, lines: &str, said: &[&str]| {
        let text = format!("{SOUND}\n{lines}\n");
        refused(&pithward(&["check", &file(&format!("job-{name}.toml"), text.as_bytes())]), said);
    };
    let unit = "[[prices]]\nfas = 2.0\n1_common = \"much\"\n";
    with("prices", unit, &["1_common: \"much\" is no amount", "below is missing"]);
    let rising = "[[prices]]\nfas = 1.0\n1_common = 2.0\nbelow = 0.1\n";
    with("rising", rising, &["fas must not be less than what No. 1 Common is worth", "\"1.0\""]);
    let want = "[[wants]]\nsize = \"4/4x6up\"\ngrade = \"good\"\nrings = \"rnd\"\n";
    with("graded", want, &["\"good\" is no hardwood grade", "\"rnd\" is no class of rings"]);
    let unpriced = "[[wants]]\nsize = \"8/4x6up\"\nworth = \"by grade\"\n";
    with("unpriced", unpriced, &["no row of [[prices]] is for \"8/4\""]);
    let pace = "[mill.pace]\nload = \"soon\"\n[mill.charges]\nhour = \"75\"\n";
    with("pace", pace, &["load: \"soon\" is no time", "hour: \"75\" is no price by the hour"]);
    let charges = "[mill.charges]\nboard_foot = \"0.45 EUR/bf\"\nset_up = \"25 USD\"\ntax = 120\n";
    let said = [
        "set_up is in USD, and board_foot in EUR",
        "tax must be between 0 % and 100 %, got \"120\"",
    ];
    with("charges", charges, &said);
    let yard = "[yard]\nground = \"bog\"\ndistance = \"60\"\nhelpers = 0\nstacking = \"helpers\"\n";
    let said = ["\"bog\" is no kind of ground", "\"60\" has no unit", "nobody helps"];
    with("yard", yard, &said);
}

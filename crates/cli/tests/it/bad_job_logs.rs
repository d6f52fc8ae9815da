//! Faults of the logs in a job file: each is told with its file, line and column, its field, what was written and
//! what would be right; the command ends with 2 and plans nothing.

use crate::common::sound_job::{SOUND, check};
use crate::common::{file, pithward, refused};

#[test]
fn lengths_that_are_none() {
    check(
        "bare",
        "small_end = \"12 in\"",
        "small_end = 12",
        "12",
        &["small_end", "no unit", "\"12 in\""],
    );
    check(
        "bare-text",
        "butt = \"13 in\"",
        "butt = \"13\"",
        "\"13\"",
        &["butt", "\"13\" has no unit"],
    );
    check("unit", "bark = \"5/8 in\"", "bark = \"5/8 fot\"", "fot", &["bark", "is no unit"]);
    check(
        "comma",
        "trim = \"2 in\"",
        "trim = \"2,5 in\"",
        ",",
        &["trim", "comma", "decimal point"],
    );
    check("empty", "butt = \"16 1/2 in\"", "butt = \"\"", "\"\"", &["butt", "is missing"]);
    check("list", "butt = \"16 1/2 in\"", "butt = { a = 1 }", "{", &["butt", "must be"]);
    check(
        "date",
        "butt = \"13 in\"",
        "butt = 1979-05-27",
        "-05-27",
        &["butt", "\"1979-05-27\" is not a length"],
    );
    check("escape", "bark = \"5/8 in\"", "bark = \"5/8 f\\u006Ft\"", "\"", &["bark", "5/8 fot"]);
}

#[test]
fn lengths_that_no_log_has() {
    let sizes = &["small_end", "must be between 1 in and 120 in", "\"900 in\""];
    check("thick", "small_end = \"12 in\"", "small_end = \"900 in\"", "\"900", sizes);
    check(
        "thin",
        "butt = \"13 in\"",
        "butt = \"-1 in\"",
        "\"-1",
        &["butt", "between", "\"-1 in\""],
    );
    let swapped = &["the butt, \"11 in\", is smaller than the small end, \"12 in\"", "swap"];
    check("swapped", "butt = \"13 in\"", "butt = \"11 in\"", "\"11 in\"", swapped);
    let three = "small_end = [\"14 in\", \"15 in\", \"14 in\"]";
    let twice = &["small_end", "3 diameters", "once or twice"];
    check("three", "small_end = [\"14 in\", \"15 in\"]", three, "[", twice);
    check("none", "small_end = [\"14 in\", \"15 in\"]", "small_end = []", "[", &["small_end"]);
    check(
        "second",
        "[\"14 in\", \"15 in\"]",
        "[\"14 in\", \"15 fot\"]",
        "fot",
        &["small_end", "\"fot\""],
    );
    check(
        "bark-range",
        "bark = \"5/8 in\"",
        "bark = \"9 in\"",
        "\"9 in\"",
        &["bark", "between 0 in and 4 in"],
    );
    check(
        "short",
        "shortest = \"4 ft\"",
        "shortest = \"30 ft\"",
        "\"30",
        &["shortest", "longest", "20 ft", "30 ft"],
    );
}

#[test]
fn shapes_that_no_log_has() {
    let check_one = |name: &str, from: &str, to: &str, at: &str, said: &[&str]| {
        check(&format!("shape-{name}"), from, to, at, said);
    };
    check_one(
        "clock",
        "\"2:30\"",
        "\"2:75\"",
        "\"2:75",
        &["long_axis", "\"2:75\" is no direction"],
    );
    let one = "small_end = \"17 in\"";
    let text = SOUND.replace("small_end = [\"17 in\", \"18 in\"]", one);
    let text = text.replace("butt = [\"20 in\", \"19 in\"]", "butt = \"20 in\"");
    let output = pithward(&["check", &file("job-shape-axis.toml", text.as_bytes())]);
    refused(&output, &["neither end has two", "the butt has only one", "2 faults"]);
    check_one(
        "bow",
        "\"2 1/4 in\"",
        "\"30 in\"",
        "\"30 in",
        &["depth", "between 0 in and 17 1/2 in"],
    );
    check_one("bow-part", "at = \"7 ft\"", "att = \"7 ft\"", "att", &["is no field of a sweep"]);
    check_one(
        "bow-place",
        "\"7 ft\"",
        "\"17 ft\"",
        "\"17 ft",
        &["at must be between 0 in and 136 in"],
    );
    check_one("bend", "9 at 4 ft", "9 at 4 fot", "fot", &["crook", "\"fot\" is no unit"]);
    check_one(
        "pith",
        "\"1 1/8 in\"",
        "\"9 in\"",
        "\"9 in",
        &["off must be between 0 in and 8 3/8 in"],
    );
    check_one(
        "pith-toward",
        "\"1 1/4 in toward 5\"",
        "\"1 1/4 in\"",
        "\"1 1/4 in",
        &["pith_butt has no toward"],
    );
    check_one("flare", "18 1/2 in", "18", "18", &["flare: \"18\" has no unit"]);
    check_one("kind", "kind = \"rot\"", "kind = \"rott\"", "\"rott", &["perhaps rot?"]);
    check_one("radius", "\"2 1/2 in\"", "\"20 in\"", "\"20 in", &["radius must be between"]);
    let stretch = "{ kind = \"rot\", radius = \"2 1/2 in\", from = \"butt\", length = \"3 ft\" }";
    check_one(
        "stretch",
        stretch,
        "{ kind = \"rot\", radius = \"2 1/2 in\", from = \"butt\" }",
        "{",
        &["flaws has no to"],
    );
    check_one(
        "far",
        "to = \"5 ft\"",
        "to = \"15 ft\"",
        "\"15 ft",
        &["to must be between 0 in and 136 in"],
    );
    check_one("wide", "\"6 1/2 in\"", "\"half\"", "half", &["wide", "\"half\" is no number"]);
    check_one(
        "stray",
        "outer 4 in",
        "outer 4 in depth 2 in",
        "2 in",
        &["depth says nothing of a shake"],
    );
    check_one(
        "both",
        "\"shake inner",
        "\"shake radius 5 in inner",
        "\"shake",
        &["both radius and inner"],
    );
    check_one(
        "cut",
        "24 ft to 26 ft",
        "24 ft to 46 ft",
        "46 ft",
        &["cut_out must be between 0 in and 40 ft"],
    );
    check_one(
        "stem",
        "\"19 1/2 in\"",
        "\"9 1/2 in\"",
        "\"9 1/2",
        &["smaller than the small end", "\"11 in\""],
    );
    check_one(
        "chain",
        "chain_kerf = \"3/8 in\"",
        "chain_kerf = \"3 in\"",
        "\"3 in",
        &["chain_kerf must be between"],
    );
    check_one(
        "bucked",
        "log_lengths = \"8 / 10 / 12\"",
        "log_lengths = \"8/18\"",
        "\"8/18",
        &["log_lengths must be between"],
    );
    check_one(
        "longest",
        "shortest = \"6 ft\"",
        "shortest = \"18 ft\"",
        "\"18 ft",
        &["shortest must not be more than longest"],
    );
    check_one(
        "toe",
        "toe_board = \"8 ft\"",
        "toe_board = \"28 ft\"",
        "\"28 ft",
        &["toe_board must not be more than longest"],
    );
    check_one(
        "heart",
        "heart = \"boxed\"",
        "heart = \"boxd\"",
        "\"boxd",
        &["rule on the heart", "perhaps boxed?"],
    );
    let free = "heart = \"free\"\ncentred = \"7/8 in\"";
    check_one(
        "free",
        "heart = \"boxed\"\ncentred = \"7/8 in\"",
        free,
        "\"7/8 in",
        &["centred is only for boxed heart"],
    );
    check_one(
        "tolerates",
        "[\"stain\", \"split\"]",
        "[\"stain\", \"metal\"]",
        "metal",
        &["is tolerated in no piece"],
    );
}

#[test]
fn what_logs_are_called_and_are() {
    // The two pines are called pine 2-1 and pine 2-2.
    let same = &["id", "\"pine 2-1\" is called the same as the log on line 37", "job-same.toml"];
    let text = SOUND.replace("\"oak 1\"", "\"pine 2-1\"");
    let output = pithward(&["check", &file("job-same.toml", text.as_bytes())]);
    refused(&output, &[&same[..], &["job-same.toml:47:6", "help: "]].concat());
    check(
        "long-id",
        "\"pine 2\"",
        "\"a log with a long name\"",
        "\"a log",
        &["id", "12 characters"],
    );
    check("empty-id", "\"pine 2\"", "\"\"", "\"\"", &["id", "1 to"]);
    check("control-id", "\"pine 2\"", "\"a\\u001b[31m\"", "\"a", &["id", "12 characters"]);
    let species = &["species", "no species is named \"eastern whit pin\"", "Pine, eastern white"];
    check(
        "species",
        "species = \"eastern white pine\"",
        "species = \"eastern whit pin\"",
        "\"eastern",
        species,
    );
    check(
        "number-species",
        "species = \"eastern white pine\"",
        "species = 7",
        "7",
        &["species", "must be"],
    );
    check(
        "flag",
        "over_bark = false",
        "over_bark = \"no\"",
        "\"no\"",
        &["over_bark", "true or false", "\"no\""],
    );
    check("count-0", "count = 2", "count = 0", "0", &["count", "whole number", "\"0\""]);
    check(
        "count-text",
        "count = 2",
        "count = \"two\"",
        "\"two\"",
        &["count", "whole number", "two"],
    );
    check("count-half", "count = 2", "count = 2.5", "2.5", &["count", "whole number", "2.5"]);
    check("notes", "\"from the lane\"", "\"\\u0007\"", "\"", &["notes", "cannot be printed"]);
    // What is not there is told of the heading that it should be under.
    let text = SOUND.replace("length = \"12 ft 4 in\"\nbark", "bark");
    let output = pithward(&["check", &file("job-missing.toml", text.as_bytes())]);
    refused(&output, &["length is missing", "job-missing.toml:36:1", "[[logs]]", "help: "]);
}

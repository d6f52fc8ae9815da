//! Every kind of fault of a job file, with its place.

use super::{SMALL, parse, told, with};
use pithward_measure::Length;

/// The faults of a text, each as `told` tells it, without the file's name.
#[track_caller]
fn check(text: &str, expected: &[&str]) {
    let found = told(&parse(text).unwrap_err());
    let found: Vec<&str> =
        found.iter().map(|fault| fault.strip_prefix("job.toml:").unwrap_or(fault)).collect();
    assert_eq!(found, expected);
}

/// Thirteen counted wants, each of which is worth as much as any may be.
fn wants_worth_too_much() -> String {
    let (logs, _) = SMALL.split_once("[[wants]]").unwrap();
    let want =
        |n: i32| format!("[[wants]]\nsize = \"2x{n}x8\"\ncount = 1\nworth = \"1000000 each\"\n");
    format!("{logs}{}", (4..17).map(want).collect::<String>())
}

/// More lengths than anybody accepts.
fn many_lengths() -> String {
    (0..101).map(|n| format!("{} in", 96 + n)).collect::<Vec<_>>().join("/")
}

#[test]
fn what_a_job_cannot_have_or_lacks() {
    check(
        &format!("colour = \"red\"\n{SMALL}"),
        &["1:1 [colour] \"colour\" is no field of a job file"],
    );
    check(&format!("wnats = []\n{SMALL}"), &["1:1 [wnats] \"wnats\" is no field of a job file"]);
    check("site = \"yard\"\n", &["1:14 [] logs is missing", "1:14 [] wants is missing"]);
    check(
        "logs = []\nwants = []\n",
        &["1:1 [logs] logs is missing", "2:1 [wants] wants is missing"],
    );
    check(
        "logs = 3\nwants = \"all\"\nmill = 1\nsawing = []\nworth = true\n",
        &[
            "1:8 [3] logs must be a list, each log below its own [[logs]], got \"3\"",
            "2:9 [\"all\"] wants must be a list, each want below its own [[wants]], got '\"all\"'",
            "3:8 [1] mill must be a table, got \"1\"",
            "4:10 [[]] sawing must be a table, got \"[]\"",
            "5:9 [true] worth must be a table, got \"true\"",
        ],
    );
    check(
        &with("id = \"1\"", "id = \"1\"\nid = \"2\""),
        &["3:1 [id] JOB: this is not TOML: duplicate key"],
    );
    check(
        "site = yard\ndate = 5 may\n",
        &[
            "1:8 [yard] JOB: this is not TOML: string values must be quoted, expected literal string",
            "2:8 [5 may] JOB: this is not TOML: string values must be quoted, expected literal string",
        ],
    );
    check(
        &format!("site = \"a\\u0007b\"\nnotes = [1]\n{SMALL}"),
        &[
            "1:8 [\"a\\u0007b\"] site must be at most 100 printable characters, got \"a\\u{7}b\"",
            "2:9 [[1]] notes must be a text in quotes, got \"[1]\"",
        ],
    );
}

#[test]
fn the_mill_and_the_sawing() {
    check(
        &format!("{SMALL}[mill]\nkerf = 2\n"),
        &[
            "21:1 [[mill]] name, step, largest_diameter, longest, shortest, widest_cut, deepest_above, lowest_blade: missing from [mill]",
            "22:8 [2] kerf: \"2\" has no unit",
        ],
    );
    check(
        &format!("{SMALL}[mill]\nfile = \"no-such.toml\"\nkerf = \"2 mm\"\n"),
        &[
            "22:8 [\"no-such.toml\"] file names a file with the figures of the mill, and \"kerf\" stands beside it",
            "22:8 [\"no-such.toml\"] file: there is no file \"no-such.toml\"",
        ],
    );
    check(
        &format!("{SMALL}[mill]\nfille = \"my.toml\"\n"),
        &[
            "21:1 [[mill]] name, kerf, step, largest_diameter, longest, shortest, widest_cut, deepest_above, lowest_blade: missing from [mill]",
            "22:1 [fille] \"fille\" is no field of [mill]; perhaps file?",
        ],
    );
    check(
        &format!("{SMALL}[sawing]\nsizes = \"finishd\"\n"),
        &["22:9 [\"finishd\"] sizes: \"finishd\" is no size policy; perhaps finished?"],
    );
    check(
        &format!("{SMALL}[sawing]\nplaning = \"1/8 in\"\nundersize = 5\n"),
        &[
            "22:11 [\"1/8 in\"] planing is only for finished sizes, and the sizes are full",
            "23:13 [5] undersize is only for finished sizes, and the sizes are full",
        ],
    );
    check(
        &format!(
            "{SMALL}[sawing]\nsizes = \"finished\"\nfinal_moisture = 80\nplaning = 3\nsawing_deviation = \"2 in\"\n"
        ),
        &[
            "21:1 [[sawing]] undersize is missing, and finished sizes cannot do without it",
            "23:18 [80] final_moisture: final moisture must be between 0 % and 30 %, got 80 %",
            "24:11 [3] planing: \"3\" has no unit",
            "25:20 [\"2 in\"] sawing_deviation: sawing deviation must be between 0 in and 0.5 in, got 2 in",
        ],
    );
    check(
        &format!(
            "{SMALL}[sawing]\ntrim = \"3 ft\"\nlengths = \"8/ten\"\ntolerance = \"1/64 in\"\nmethods = [\"boxed\", \"throgh\"]\n\
             taper = \"full\"\n"
        ),
        &[
            "22:8 [\"3 ft\"] trim must be between 0 in and 24 in, got \"3 ft\"",
            "23:14 [ten] lengths: \"ten\" is not a length: \"ten\" is no number; write one such as 24 1/2 in, 12 ft 4 in or 620 mm",
            "24:13 [\"1/64 in\"] tolerance must be between 1/16 in and 1/2 in, got \"1/64 in\"",
            "25:21 [\"throgh\"] methods: \"throgh\" is no method; perhaps through?",
            "26:9 [\"full\"] taper: \"full\" is no way to lay a taper",
        ],
    );
    check(
        &format!("{SMALL}[sawing]\ntrim = 2\nlengths = [8, 900]\nmethods = []\n"),
        &[
            "22:8 [2] trim: \"2\" has no unit",
            "23:15 [900] lengths must be between 6 in and 100 ft, got \"900\"",
            "24:11 [[]] methods must be a word in quotes, got \"[]\"",
        ],
    );
}

#[test]
fn what_it_is_worth() {
    check(
        &format!("{SMALL}[worth]\nunit = \"dollars\"\n"),
        &["22:8 [\"dollars\"] unit is \"dollars\", and nothing in the job has a worth in it"],
    );
    check(&format!("{SMALL}[worth]\nboard_foot = 0.60\n"), &["21:1 [[worth]] unit is missing"]);
    check(
        &format!(
            "{SMALL}[worth]\nunit = \"\"\nboard_foot = -1\nhour = \"45,50\"\npass_seconds = 7200\nturn_seconds = \"60\"\n"
        ),
        &[
            "22:8 [\"\"] unit must be 1 to 20 characters on one line, got \"\"",
            "23:14 [-1] board_foot must be between 0.01 and 1000000, got \"-1\"",
            "24:8 [\"45,50\"] hour: \"45,50\" is no amount",
            "25:16 [7200] pass_seconds must be a whole number between 0 and 3600, got \"7200\"",
            "26:16 [\"60\"] turn_seconds must be a whole number between 0 and 3600, got '\"60\"'",
        ],
    );
    check(
        &format!("{SMALL}[worth]\nunit = \"dollars\"\nboard_foot = 6e-1\nhour = 0.0000001\n"),
        &[
            "23:14 [6e-1] board_foot: \"6e-1\" is no amount",
            "24:8 [0.0000001] hour: \"0.0000001\" is no amount",
        ],
    );
    check(
        &format!("{SMALL}worth = \"3 each\"\n"),
        &[
            "15:1 [[[wants]]] worth: other wants state a worth, and nothing says what these are worth: \"2x6x8\"",
            "21:17 [] unit is missing",
        ],
    );
    check(
        &format!("{SMALL}worth = \"three each\"\n[worth]\nunit = \"dollars\"\nboard_foot = 1\n"),
        &["21:10 [three] worth: \"three\" is no amount"],
    );
    check(
        &format!("{SMALL}worth = 3\n[worth]\nunit = \"dollars\"\nboard_foot = 1\n"),
        &["21:9 [3] worth: \"3\" does not say what a piece is worth"],
    );
    check(
        &with("count = 4", "count = 4\nextra = \"maybe\""),
        &["18:9 [\"maybe\"] extra: \"maybe\" does not say what a piece is worth"],
    );
    check(
        &with("size = \"1x6\"", "size = \"1x6\"\nextra = \"welcome\""),
        &[
            "21:9 [\"welcome\"] extra says what pieces beyond the count are worth, and the want has no count",
        ],
    );
    check(
        &with("count = 4", "count = 4\nextra = \"9 each\""),
        &["18:9 [\"9 each\"] extra is 9 for a piece of 96 in and the worth within the count is 8"],
    );
    check(
        &format!("{SMALL}worth = \"900000 per bf\"\n[worth]\nunit = \"pence\"\nboard_foot = 1\n"),
        &[
            "21:9 [\"900000 per bf\"] worth: a piece is worth 5400000, and no piece is worth more than 1000000",
        ],
    );
    check(
        &format!("[worth]\nunit = \"pence\"\nboard_foot = 1\n{}", wants_worth_too_much()),
        &[
            "21:9 [\"1000000 each\"] worth: \"2x4x8\" is worth so much beside the rest of the list that it cannot be weighed exactly",
        ],
    );
}

#[test]
fn logs() {
    check(
        &with("id = \"1\"", "id = \"\""),
        &["2:6 [\"\"] id must be 1 to 12 characters on one line, got \"\""],
    );
    check(
        &with("id = \"1\"", "id = \"thirteen long\""),
        &[
            "2:6 [\"thirteen long\"] id must be 1 to 12 characters on one line, got \"thirteen long\"",
        ],
    );
    check(
        &with("id = \"1\"", "id = \"2\""),
        &["9:6 [\"2\"] id: \"2\" is called the same as the log on line 2 of job.toml"],
    );
    check(
        &with("id = \"1\"", "id = \"eleven long\"\ncount = 12"),
        &["2:6 [\"eleven long\"] id must be 1 to 12 characters on one line, got \"eleven long-1\""],
    );
    check(
        &with("id = \"1\"", "id = \"L\"\ncount = 0"),
        &["3:9 [0] count must be a whole number between 1 and 20000, got \"0\""],
    );
    check(&with("id = \"1\"", "count = 2"), &["1:1 [[[logs]]] id is missing"]);
    check(
        &with("species = \"white oak\"", "species = \"wite oak\""),
        &[
            "3:11 [\"wite oak\"] species: no species is named \"wite oak\"; nearest: Oak, white; a species may be left out where nobody asks for weight, bark or shrinkage",
        ],
    );
    check(
        &with("species = \"white oak\"", "species = \"oak\""),
        &[
            "3:11 [\"oak\"] species: species \"oak\" may be any of: Oak, black; Oak, northern red; Oak, southern red; Oak, bur; Oak, chestnut; Oak, post; Oak, white; name one of them",
        ],
    );
    check(
        &with("small_end = \"14 in\"", "smal_end = \"14 in\""),
        &[
            "1:1 [[[logs]]] small_end is missing",
            "4:1 [smal_end] \"smal_end\" is no field of a log; perhaps small_end?",
        ],
    );
    check(
        &with("small_end = \"14 in\"", "small_end = 14"),
        &["4:13 [14] small_end: \"14\" has no unit"],
    );
    check(
        &with("small_end = \"14 in\"", "small_end = \"14\""),
        &["4:13 [\"14\"] small_end: \"14\" has no unit"],
    );
    check(
        &with("small_end = \"14 in\"", "small_end = \"14 im\""),
        &[
            "4:17 [im] small_end: \"14 im\" is not a length: \"im\" is no unit; write in, ft, mm, cm or m",
        ],
    );
    check(
        &with("small_end = \"14 in\"", "small_end = \"140 in\""),
        &["4:13 [\"140 in\"] small_end must be between 1 in and 120 in, got \"140 in\""],
    );
    check(
        &with("small_end = \"14 in\"", "small_end = \"18 in\""),
        &["5:8 [\"16 in\"] butt: the butt, \"16 in\", is smaller than the small end, \"18 in\""],
    );
    check(
        &with(
            "small_end = [\"13 in\", \"14 in\"]",
            "small_end = [\"13 in\", \"14 in\", \"15 in\"]",
        ),
        &[
            "11:13 [[\"13 in\", \"14 in\", \"15 in\"]] small_end has 3 diameters, and an end is measured across once or twice",
        ],
    );
    check(
        &with("small_end = [\"13 in\", \"14 in\"]", "small_end = []"),
        &["11:13 [[]] small_end has 0 diameters, and an end is measured across once or twice"],
    );
    check(
        &with("small_end = [\"13 in\", \"14 in\"]", "small_end = [\"13 in\", true]"),
        &["11:23 [true] small_end must be a length in quotes, got \"true\""],
    );
    check(
        &with(
            "length = \"12 ft 4 in\"",
            "length = \"12 ft 14 in\"\nbark = \"5 in\"\nover_bark = \"yes\"\nnotes = {}",
        ),
        &[
            "6:17 [14 in] length: \"12 ft 14 in\" is not a length: after feet, inches must be less than 12, got \"14 in\"",
            "7:8 [\"5 in\"] bark must be between 0 in and 4 in, got \"5 in\"",
            "8:13 [\"yes\"] over_bark must be true or false, got '\"yes\"'",
            "9:9 [{}] notes must be a text in quotes, got \"{}\"",
        ],
    );
    check(
        &with("species = \"white oak\"", "over_bark = true"),
        &[
            "3:13 [true] over_bark: the log was measured over the bark, and neither the bark's thickness nor the species is given",
        ],
    );
    check(
        &with("butt = \"16 in\"", "butt = \"16 in\"\nbark = \"4 in\"\nover_bark = true")
            .replacen("14 in", "8 in", 1),
        &[
            "4:13 [\"8 in\"] small_end: the small end must be between 1 and 120 inches across, got 0.0000",
        ],
    );
    check(&format!("{SMALL}[sawing]\nsizes = \"finished\"\nfinal_moisture = 8\nplaning = \"1/8 in\"\nsawing_deviation = \"1/32 in\"\nundersize = 5\n").replacen("species = \"white oak\"\n", "", 1).replacen("eastern white pine", "bur oak", 1), &["1:1 [[[logs]]] species: a finished size needs the species of the log, because every species shrinks differently", "9:11 [\"bur oak\"] species: no published shrinkage is at hand for Oak, bur; have it sawn full or dressed, or name a species that shrinks alike"]);
    check(
        &format!(
            "{SMALL}[[logs]]\nid = \"N\"\nsmall_end = \"9 in\"\nbutt = \"9 in\"\nlength = \"9 ft\"\ncount = 19999\n"
        ),
        &["1:3 [logs] logs are at most 20000, got 20001"],
    );
}

#[test]
fn wants() {
    check(
        &with("size = \"2x6x8\"", "sise = \"2x6x8\""),
        &[
            "15:1 [[[wants]]] size is missing",
            "16:1 [sise] \"sise\" is no field of a want; perhaps size?",
        ],
    );
    check(
        &with("size = \"2x6x8\"", "size = 2"),
        &["16:8 [2] size must be a size in quotes, got \"2\""],
    );
    check(
        &with("size = \"2x6x8\"", "size = \"2x\""),
        &[
            "16:9 [2x] size: \"2x\" is not a size: it has no width; write one such as 2x6, 2x6x12, 1x4up, 4/4 or 50x150x3000 mm",
        ],
    );
    check(
        &with("size = \"2x6x8\"", "size = \"2x6x8 fot\""),
        &[
            "16:15 [fot] size: the length in \"2x6x8 fot\": \"8 fot\" is not a length: \"fot\" is no unit; write in, ft, mm, cm or m",
        ],
    );
    check(
        &with("count = 4", "count = \"4\""),
        &["17:9 [\"4\"] count must be a whole number between 1 and 10000, got '\"4\"'"],
    );
    check(
        &with("count = 4", "count = 10001"),
        &["17:9 [10001] count must be a whole number between 1 and 10000, got \"10001\""],
    );
    check(
        &with("count = 4", "count = 2.5"),
        &["17:9 [2.5] count must be a whole number between 1 and 10000, got \"2.5\""],
    );
    check(
        &with("size = \"1x6\"", "size = \"2x6x8\""),
        &["20:8 [\"2x6x8\"] size: \"2x6x8\" asks for the same as \"2x6x8\" before it"],
    );
    check(
        &with("count = 4", "lengths = \"8/10\""),
        &["17:11 [\"8/10\"] lengths: \"2x6x8\" has its length already"],
    );
    check(
        &with(
            "size = \"1x6\"",
            "size = \"1x6\"\nlengths = \"8/ten\"\nwane = \"1/2\"\nspecies = [\"white oak\", \"oak, white\", \"nosuch\"]\nblocking = 1",
        ),
        &[
            "21:14 [ten] lengths: \"ten\" is not a length: \"ten\" is no number; write one such as 24 1/2 in, 12 ft 4 in or 620 mm",
            "22:9 [1/2] wane: wane must be under half of the piece, got 1/2 of it",
            "23:25 [\"oak, white\"] species: \"oak, white\" is said twice",
            "23:39 [\"nosuch\"] species: no species is named \"nosuch\"; a species may be left out where nobody asks for weight, bark or shrinkage",
            "24:12 [1] blocking must be true or false, got \"1\"",
        ],
    );
    check(
        &with("size = \"1x6\"", "size = \"1x6\"\nwane = \"1/2 in\""),
        &[
            "21:8 [\"1/2 in\"] wane: wane must be under half of the piece: 0.5 in is not under half of 1 in",
        ],
    );
    check(
        &with("size = \"1x6\"", "size = \"1x6\"\nwane = 0.25"),
        &["21:8 [0.25] wane: \"0.25\" is no limit on wane"],
    );
    check(
        &format!("{SMALL}[sawing]\nsizes = \"dressed\"\n")
            .replacen("1x6", "50x150 mm", 1)
            .replacen("2x6x8", "2x7x8", 1),
        &[
            "16:8 [\"2x7x8\"] size: dimension lumber of 7 in width has no dressed size in the softwood standard, which lists 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 8, 10, 12, 14, 16 in; name a listed size, or have it sawn full or finished",
            "20:8 [\"50x150 mm\"] size: 50 mm x 150 mm has no dressed size: the softwood standard is in inches (thickness 0.375, 0.5, 0.625, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 3.5, 4, 4.5 in; width 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16 in; timbers in whole inches from 5); name one of those, or have it sawn full or finished",
        ],
    );
    check(
        &with("[[wants]]\nsize = \"1x6\"", &"[[wants]]\nsize = \"1x6\"\n".repeat(64))
            .replace("wants = 3", ""),
        &[
            "15:3 [wants] wants are at most 64, got 65",
            "22:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "24:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "26:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "28:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "30:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "32:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "34:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "36:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "38:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "40:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "42:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "44:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "46:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "48:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "50:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "52:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "54:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "56:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "58:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "60:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "62:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "64:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "66:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "68:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "70:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "72:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "74:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "76:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "78:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "80:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "82:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "84:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "86:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "88:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "90:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "92:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "94:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "96:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "98:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "100:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "102:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "104:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "106:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "108:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "110:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "112:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "114:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "116:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "118:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "120:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "122:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "124:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "126:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "128:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "130:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "132:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "134:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "136:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "138:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "140:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "142:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "144:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
            "146:8 [\"1x6\"] size: \"1x6\" asks for the same as \"1x6\" before it",
        ],
    );
    check(
        &with("size = \"1x6\"", &format!("size = \"1x6\"\nlengths = \"{}\"", many_lengths())),
        &[
            "21:11 [\"96 in/97 in/98 in/99 in/100 in/101 in/102 in/103 in/104 in/105 in/106 in/107 in/108 in/109 in/110 in/111 in/112 in/113 in/114 in/115 in/116 in/117 in/118 in/119 in/120 in/121 in/122 in/123 in/124 in/125 in/126 in/127 in/128 in/129 in/130 in/131 in/132 in/133 in/134 in/135 in/136 in/137 in/138 in/139 in/140 in/141 in/142 in/143 in/144 in/145 in/146 in/147 in/148 in/149 in/150 in/151 in/152 in/153 in/154 in/155 in/156 in/157 in/158 in/159 in/160 in/161 in/162 in/163 in/164 in/165 in/166 in/167 in/168 in/169 in/170 in/171 in/172 in/173 in/174 in/175 in/176 in/177 in/178 in/179 in/180 in/181 in/182 in/183 in/184 in/185 in/186 in/187 in/188 in/189 in/190 in/191 in/192 in/193 in/194 in/195 in/196 in\"] lengths are at most 100, got 101",
        ],
    );
}

#[test]
fn tables_in_every_form_that_toml_has() {
    let inline = "logs = [{ id = 1, small_end = \"14 in\", butt = \"15 in\", length = \"12 ft\" }]\n\
        wants = [{ size = \"2x4x8\" }]\nsawing.trim = \"2 in\"\nsawing.lengths = \"8\"\n";
    let job = parse(inline).unwrap();
    assert_eq!((job.logs[0].id.as_str(), job.trim), ("1", Length::inches(2)));
    check(
        "logs = [{ id = 1 }]\nwants = [{}, 3]\nsawing.trimm = 2\nmill.file.name = 1\n",
        &[
            "1:9 [{] small_end is missing",
            "1:9 [{] butt is missing",
            "1:9 [{] length is missing",
            "2:10 [{] size is missing",
            "2:14 [3] wants must be a list, each want below its own [[wants]], got \"3\"",
            "3:8 [trimm] \"trimm\" is no field of [sawing]; perhaps trim?",
            "4:6 [file] file must be a file's name in quotes, got \"file\"",
        ],
    );
}

#[test]
fn a_part_of_a_value_is_pointed_at_where_it_is_written_as_it_reads() {
    let plain = with("\"14 in\"", "'14 im'");
    check(
        &plain,
        &[
            "4:17 [im] small_end: \"14 im\" is not a length: \"im\" is no unit; write in, ft, mm, cm or m",
        ],
    );
    let escaped = with("\"14 in\"", "\"14 \\u0069m\"");
    check(
        &escaped,
        &[
            "4:13 [\"14 \\u0069m\"] small_end: \"14 im\" is not a length: \"im\" is no unit; write in, ft, \
          mm, cm or m",
        ],
    );
}

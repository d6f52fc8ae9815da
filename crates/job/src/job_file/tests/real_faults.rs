//! Every fault of what makes a log other than round, straight and sound, with its place.

use super::{directory, parse, told, with};
use crate::job_file::read_job;
use crate::log_request::tests::request;

/// The faults of the first log of the small job with more lines, from its line 3 on.
#[track_caller]
fn check(lines: &str, expected: &[&str]) {
    let found = told(&parse(&with("species = \"white oak\"", lines)).unwrap_err());
    let found: Vec<&str> =
        found.iter().map(|fault| fault.strip_prefix("job.toml:").unwrap_or(fault)).collect();
    assert_eq!(found, expected);
}

#[test]
fn bows_and_bends() {
    check(
        "sweep = { depth = \"15 in\", toward = \"up\", at = \"13 ft\" }",
        &[
            "3:19 [\"15 in\"] depth must be between 0 in and 14 in, got \"15 in\"",
            "3:37 [\"up\"] toward: \"up\" is no direction on a clock",
            "3:48 [\"13 ft\"] at must be between 0 in and 148 in, got \"13 ft\"",
        ],
    );
    check(
        "sweep = \"15 in toward 13 at the middle\"",
        &[
            "3:10 [15 in] sweep must be between 0 in and 14 in, got \"15 in\"",
            "3:23 [13] sweep: \"13\" is no direction on a clock",
            "3:29 [the middle] sweep: \"the middle\" is no place along a log",
        ],
    );
    check("sweep = \"toward 6\"", &["3:9 [\"toward 6\"] sweep has no depth"]);
    check("sweep = \"2 in\"", &["3:9 [\"2 in\"] sweep has no toward"]);
    check("sweep = \"2 toward 6\"", &["3:10 [2] sweep: \"2\" has no unit"]);
    check("sweep = \"2 in toward 6 toward 7\"", &["3:31 [7] sweep: \"toward\" is said twice"]);
    check("sweep = 2", &["3:9 [2] sweep must be a table or a text in quotes, got \"2\""]);
    check(
        "sweep = { depth = \"2 in\", towards = 6 }",
        &[
            "3:9 [{ depth = \"2 in\", towards = 6 }] sweep has no toward",
            "3:27 [towards] \"towards\" is no field of a sweep; perhaps toward?",
        ],
    );
    check(
        "sweep = { depth = \"2 in\", toward = true }",
        &["3:36 [true] toward must be a text in quotes, got \"true\""],
    );
    check(
        "sweep = \"2 in toward 6 at butt\"",
        &["3:27 [butt] sweep must be between 1 in and 147 in, got \"butt\""],
    );
    check(
        "crook = { depth = \"-1 in\", toward = 9 }",
        &[
            "3:9 [{ depth = \"-1 in\", toward = 9 }] crook has no at",
            "3:19 [\"-1 in\"] depth must be between 0 in and 14 in, got \"-1 in\"",
        ],
    );
}

#[test]
fn ends() {
    check(
        "long_axis = 2",
        &[
            "3:13 [2] long_axis is the direction of the longer of two diameters, and neither end has two",
        ],
    );
    check(
        "pith_small = { off = \"7 in\", toward = 4 }\npith_butt = \"1 in\"",
        &[
            "3:22 [\"7 in\"] off must be between 0 in and 6 7/8 in, got \"7 in\"",
            "4:13 [\"1 in\"] pith_butt has no toward",
        ],
    );
    check(
        "flare = { extra = \"60 in\", length = \"13 ft\" }",
        &[
            "3:19 [\"60 in\"] extra must be between 0 in and 16 in, got \"60 in\"",
            "3:37 [\"13 ft\"] length must be between 1 in and 147 in, got \"13 ft\"",
        ],
    );
    check("flare = \"4 in\"", &["3:9 [\"4 in\"] flare has no length"]);
    let text = with(
        "small_end = \"14 in\"",
        "small_end = [\"14 in\", \"13 in\"]\nlong_axis = 25\nlong_axis_butt = 3",
    );
    assert_eq!(
        told(&parse(&text).unwrap_err()),
        [
            "job.toml:5:13 [25] long_axis: \"25\" is no direction on a clock",
            "job.toml:6:18 [3] long_axis_butt is the direction of the longer of two diameters, and the butt has only one",
        ]
    );
    let text = with(
        "small_end = \"14 in\"\nbutt = \"16 in\"",
        "small_end = [\"14 in\", \"13 in\"]\nbutt = [\"16 in\", \"15 in\"]\nlong_axis_butt = 3",
    );
    assert_eq!(told(&parse(&text).unwrap_err()), ["job.toml:1:1 [[[logs]]] long_axis is missing"]);
}

#[test]
fn flaws() {
    check("flaws = \"rot\"", &["3:9 [\"rot\"] flaws must be a list of flaws, got '\"rot\"'"]);
    check("flaws = [3]", &["3:10 [3] flaws must be a list of flaws, got \"3\""]);
    check(
        "flaws = [\"\", \"rott radius 3 in\", \"radius 3 in\"]",
        &[
            "3:10 [\"\"] flaws has no kind",
            "3:15 [rott] flaws: \"rott\" is no kind of flaw; perhaps rot?",
            "3:34 [\"radius 3 in\"] flaws has no kind",
        ],
    );
    check("flaws = [\"rot\"]", &["3:10 [\"rot\"] flaws has no radius"]);
    check(
        "flaws = [{ kind = \"rot\", radius = \"9 in\", inner = \"1 in\" }]",
        &[
            "3:35 [\"9 in\"] radius must be between 1/16 in and 8 in, got \"9 in\"",
            "3:51 [\"1 in\"] flaws: inner says nothing of rot",
        ],
    );
    check(
        "flaws = [\"rot radius 3 in depth 2 in\", \"metal depth 2 in\", \"metal toward 9 depth 9 in wide 20 in\"]",
        &[
            "3:10 [\"rot radius 3 in depth 2 in\"] flaws has both radius and depth, and only one of them can be",
            "3:40 [\"metal depth 2 in\"] flaws has no toward",
            "3:40 [\"metal depth 2 in\"] flaws has no wide",
            "3:82 [9 in] flaws must be between 1/16 in and 8 in, got \"9 in\"",
            "3:92 [20 in] flaws must be between 1/16 in and 12.6 in, got \"20 in\"",
        ],
    );
    check(
        "flaws = [\"metal toward all round depth 2 in wide 3 in\", \"metal toward 9 depth 1 in wide 7 hours\", \"stain toward north depth 1 in wide 400 degrees\"]",
        &[
            "3:10 [\"metal toward all round depth 2 in wide 3 in\"] flaws has both wide and all round, and only one of them can be",
            "3:89 [7 hours] flaws: \"7 hours\" is no width, or one of half the way round and more",
            "3:113 [north] flaws: \"north\" is no direction on a clock",
            "3:135 [400 degrees] flaws: \"400 degrees\" is no width, or one of half the way round and more",
        ],
    );
    check(
        "flaws = [\"shake toward 3 radius 4 in\", \"shake inner 4 in\", \"shake inner 4 in outer 3 in\", \"shake radius 4 in outer 5 in\", \"shake\"]",
        &[
            "3:24 [3] flaws: toward says nothing of a shake",
            "3:40 [\"shake inner 4 in\"] flaws has no outer",
            "3:73 [4 in] flaws must not be more than outer, which is 3 in, got 4 in",
            "3:91 [\"shake radius 4 in outer 5 in\"] flaws has both radius and outer, and only one of them can be",
            "3:123 [\"shake\"] flaws has no radius",
        ],
    );
    check(
        "flaws = [\"split outer 4 in\", \"split toward 3 depth 2 in\", \"split toward 3 outer 9 in\"]",
        &[
            "3:10 [\"split outer 4 in\"] flaws has no toward",
            "3:52 [2 in] flaws: depth says nothing of a split",
            "3:81 [9 in] flaws must be between 1/16 in and 8 in, got \"9 in\"",
        ],
    );
}

#[test]
fn stretches() {
    check(
        "flaws = [\"rot radius 1 in from butt\", \"rot radius 1 in length 2 ft\", \"rot radius 1 in from butt to 3 ft length 2 ft\"]",
        &[
            "3:10 [\"rot radius 1 in from butt\"] flaws has no to",
            "3:39 [\"rot radius 1 in length 2 ft\"] flaws has no from",
            "3:70 [\"rot radius 1 in from butt to 3 ft length 2 ft\"] flaws has both to and length, and only one of them can be",
        ],
    );
    check(
        "flaws = [\"rot radius 1 in from 13 ft to top\", \"rot radius 1 in from 10 ft length 3 ft\", \"rot radius 1 in from butt to butt\"]",
        &[
            "3:32 [13 ft] flaws must be between 0 in and 148 in, got \"13 ft\"",
            "3:41 [top] flaws: \"top\" is no place along a log",
            "3:82 [3 ft] flaws must be between 1/16 in and 28 in, got \"3 ft\"",
            "3:89 [\"rot radius 1 in from butt to butt\"] flaws begins and ends at the same place",
        ],
    );
}

#[test]
fn the_pith_and_flaws_of_a_want() {
    let check = |lines: &str, expected: &[&str]| {
        let found = told(&parse(&with("count = 4", lines)).unwrap_err());
        let found: Vec<&str> =
            found.iter().map(|fault| fault.strip_prefix("job.toml:").unwrap_or(fault)).collect();
        assert_eq!(found, expected);
    };
    check(
        "heart = \"fre\"\ncentred = \"20 in\"\nclear = 1",
        &[
            "17:9 [\"fre\"] heart: \"fre\" is no rule on the heart; perhaps free?",
            "18:11 [\"20 in\"] centred must be between 0 in and 12 in, got \"20 in\"",
            "19:9 [1] clear: \"1\" has no unit",
        ],
    );
    check(
        "heart = \"free\"\ncentred = \"1/2 in\"",
        &["18:11 [\"1/2 in\"] centred is only for boxed heart"],
    );
    check(
        "heart = \"boxed\"\nclear = \"1/2 in\"",
        &["18:9 [\"1/2 in\"] clear is only for free heart"],
    );
    check("clear = \"1/2 in\"", &["17:9 [\"1/2 in\"] clear is only for free heart"]);
    check(
        "heart = [\"free\", \"boxed\"]",
        &[
            "17:9 [[\"free\", \"boxed\"]] heart must be a word in quotes, got '[\"free\", \"boxed\"]'",
        ],
    );
    check(
        "tolerates = [\"stain\", \"knots\", \"metal\", \"stain\"]",
        &[
            "17:24 [knots] tolerates: \"knots\" is no kind of flaw",
            "17:33 [metal] tolerates: \"metal\" is tolerated in no piece: no blade should pass there",
            "17:42 [stain] tolerates: \"stain\" is said twice",
        ],
    );
    check("tolerates = []", &["17:13 [[]] tolerates must be kinds of flaw in quotes, got \"[]\""]);
    let text = with("size = \"2x6x8\"", "size = \"1/4x6\"\nheart = \"boxed\"");
    assert_eq!(
        told(&parse(&text).unwrap_err()),
        ["job.toml:17:9 [\"boxed\"] heart: \"1/4x6\" is too small to box the pith"]
    );
}

#[test]
fn what_is_typed() {
    let mut log = request("14 x 13 fot", "16 x", "148 in");
    let typed = |text: &str| Some(text.to_owned());
    log.as_grown.long_axis_butt.text = typed("noon");
    log.as_grown.sweep.text = typed("20 toward 6");
    log.as_grown.crook.text = typed("2 toward 6");
    log.as_grown.pith_small.text = typed("1");
    log.as_grown.flare.text = typed("4 over 200");
    log.as_grown.flaws.texts = vec!["rot 3 in butt 4 ft".to_owned(), "metal".to_owned()];
    let mut faults = Vec::new();
    assert!(log.measure(&mut faults).is_none());
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "--small: \"14 fot\" is not a length: \"fot\" is no unit; write in, ft, mm, cm or m",
            "--small: \"13 fot\" is not a length: \"fot\" is no unit; write in, ft, mm, cm or m",
            "--butt: a length is missing; write one such as 24 1/2 in, 12 ft 4 in or 620 mm",
            "long axis at the butt: \"noon\" is no direction on a clock",
            "long axis at the butt is the direction of the longer of two diameters, and the butt has only one",
            "crook has no at",
            "pith at the small end has no toward",
            "flare must be between 1 in and 147 in, got \"200\"",
            "flaw: \"rot 3 in butt 4 ft\" is no kind of flaw",
            "flaw has no radius",
        ]
    );
}

#[test]
fn a_sheet() {
    let text = "logs_file = \"logs.csv\"\n[[wants]]\nsize = \"2x4x8\"\n";
    let sheet = "id,small end (in),butt (in),length (ft),long axis,sweep,pith,flaws\n\
        1,14,16,12,2,2 in toward 6 at 13 ft,9 in toward 3,\"rot radius 3 in; split toward 13\"\n\
        2,14,16,12,,2 toward 6,,\n";
    let place = directory("faulty real sheet", &[("job.toml", text), ("logs.csv", sheet)]);
    let found = told(&read_job(&place.join("job.toml"), "JOB").unwrap_err());
    std::fs::remove_dir_all(place).unwrap();
    assert_eq!(
        found,
        [
            "logs.csv:2:12 [2] long axis is the direction of the longer of two diameters, and neither end has two",
            "logs.csv:2:31 [13 ft] sweep must be between 0 in and 12 ft, got \"13 ft\"",
            "logs.csv:2:37 [9 in] pith small must be between 0 in and 6 7/8 in, got \"9 in\"",
            "logs.csv:2:82 [13] flaws: \"13\" is no direction on a clock",
            "logs.csv:3:13 [2] sweep: \"2\" has no unit",
        ]
    );
}

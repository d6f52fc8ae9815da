//! Logs that are not round, straight and sound, as people write them down: what is read of them.

use super::{directory, job, told, with};
use crate::heart_text::HeartRule;
use crate::job_file::{parse_job, read_job};
use crate::log_request::tests::request;
use crate::pile_job::PileJob;
use pithward_geometry::{
    Angle, Crook, End, Flare, Flaw, FlawKind, FlawKinds, Heart, Region, Sweep, Taped,
};
use pithward_measure::Length;
use std::path::Path;

/// Eighths of an inch.
fn in8(eighths: i64) -> Length {
    Length::sixty_fourths(8 * eighths)
}

fn inches(n: i64) -> Length {
    Length::inches(n)
}

fn hour(n: i32) -> Angle {
    Angle::degrees(30 * n)
}

/// An end that is round.
fn round(diameter: Length) -> End {
    End {
        longer: diameter,
        shorter: diameter,
        clock: Angle::ZERO,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark: Length::ZERO,
    }
}

/// The first log of the small job without its species: 14 in, 16 in, 148 in long.
fn plain() -> Taped {
    Taped {
        length: inches(148),
        small: round(inches(14)),
        butt: round(inches(16)),
        sweep: None,
        crook: None,
        flare: None,
    }
}

/// What is told of the first log of the small job, without its species and with more lines.
fn told_of(lines: &str) -> crate::Told {
    let text = with("species = \"white oak\"\n", &format!("{lines}\n"));
    job(&text).logs.swap_remove(0).told
}

#[track_caller]
fn check(lines: &str, expected: Taped) {
    let found = told_of(lines);
    assert_eq!(found.taped, Some(expected), "{lines}");
    assert!(found.flaws.is_empty());
}

#[test]
fn a_bow_and_a_bend() {
    let sweep = |depth, clock, at| Taped { sweep: Some(Sweep { depth, clock, at }), ..plain() };
    let middle = sweep(inches(2), hour(6), inches(74));
    check("sweep = { depth = \"2 in\", toward = \"6 o'clock\" }", middle);
    check("sweep = { depth = \"2 in\", toward = 6 }", middle);
    check("sweep = \"2 in toward 6\"", middle);
    check("sweep = \"2 in, toward 180 degrees\"", middle);
    // 4 ft from the butt of a log of 148 in.
    let low = sweep(in8(12), Angle::degrees(285), inches(100));
    for text in [
        "{ depth = \"1 1/2 in\", toward = \"9:30\", at = \"4 ft\" }",
        "\"1 1/2 in toward 9:30 at 4 ft\"",
        "\"toward 9:30, at 4 ft off the butt, depth 1 1/2 in\"",
        "\"1 1/2 in toward 9:30 at 100 in off the small end\"",
    ] {
        check(&format!("sweep = {text}"), low);
    }
    let crook = Crook { depth: inches(3), clock: hour(9), at: inches(148 - 60) };
    check(
        "crook = { depth = \"3 in\", toward = \"9\", at = \"5 ft\" }",
        Taped { crook: Some(crook), ..plain() },
    );
    // Nothing at all is a round log.
    assert_eq!(told_of("sweep = \"0 in toward 6\""), crate::Told::default());
}

#[test]
fn the_ends() {
    let pith = |off, clock, end| End { pith_off: off, pith_clock: hour(clock), ..end };
    check(
        "pith_small = { off = \"1 in\", toward = \"4 o'clock\" }\npith_butt = \"1 1/2 in toward 5\"",
        Taped {
            small: pith(inches(1), 4, plain().small),
            butt: pith(in8(12), 5, plain().butt),
            ..plain()
        },
    );
    let flare = Some(Flare { length: inches(18), extra: inches(4) });
    for text in ["{ extra = \"4 in\", length = \"18 in\" }", "\"4 in over 18 in\""] {
        check(&format!("flare = {text}"), Taped { flare, ..plain() });
    }
}

#[test]
fn two_diameters_with_and_without_a_direction() {
    let two = |lines: &str| {
        let text =
            with("small_end = \"14 in\"", &format!("small_end = [\"13 in\", \"15 in\"]{lines}"));
        job(&text.replace("species = \"white oak\"\n", "")).logs.swap_remove(0)
    };
    let mean = two("");
    assert!(mean.two_diameters && mean.told.taped.is_none() && mean.log.is_round());
    assert_eq!(mean.log.small_end(), inches(14));
    let oval = two("\nlong_axis = \"2:30\"");
    let taped = oval.told.taped.unwrap();
    assert_eq!((taped.small.longer, taped.small.shorter), (inches(15), inches(13)));
    assert_eq!((taped.small.clock, taped.butt.clock), (Angle::degrees(75), Angle::degrees(75)));
    assert!(oval.two_diameters && !oval.log.is_round());
    assert_eq!((oval.log.small_end(), oval.log.butt()), (inches(14), inches(16)));
    let twisted = job(&with(
        "small_end = \"14 in\"\nbutt = \"16 in\"",
        "small_end = [\"14 in\", \"13 in\"]\nlong_axis = 2\nbutt = [\"15 in\", \"16 in\"]\nlong_axis_butt = 3",
    ));
    let taped = twisted.logs[0].told.taped.unwrap();
    assert_eq!((taped.small.clock, taped.butt.clock), (hour(2), hour(3)));
    assert_eq!((taped.butt.longer, taped.butt.shorter), (inches(16), inches(15)));
}

#[test]
fn bark_is_taken_off_both_diameters() {
    let text = with(
        "small_end = \"14 in\"",
        "small_end = [\"14 in\", \"13 in\"]\nlong_axis = 3\nover_bark = true",
    );
    let given = job(&text.replacen("butt =", "bark = \"1/2 in\"\nbutt =", 1));
    let taped = given.logs[0].told.taped.unwrap();
    assert_eq!((taped.small.longer, taped.small.shorter), (inches(13), inches(12)));
    assert_eq!((taped.small.bark, taped.butt.longer), (in8(4), inches(15)));
    // By the species the mean has its bark taken off, and both diameters as much.
    let by_species = job(&text);
    let taped = by_species.logs[0].told.taped.unwrap();
    let bark = taped.small.bark;
    assert!(bark > in8(2) && bark < inches(1), "{bark:?}");
    assert_eq!(
        (taped.small.longer, taped.small.shorter),
        (inches(14) - bark * 2, inches(13) - bark * 2)
    );
    let mean = (taped.small.longer + taped.small.shorter).half();
    assert!((by_species.logs[0].log.small_end() - mean).abs() < Length::nm(2));
}

/// The flaws of the first log of the small job: 148 in long, 14 in and 16 in thick.
fn flaws(line: &str) -> Vec<(String, Vec<Flaw>)> {
    let found = told_of(&format!("flaws = [{line}]")).flaws;
    found.into_iter().map(|named| (named.words, named.flaws)).collect()
}

#[track_caller]
fn check_flaw(table: &str, text: &str, from: i64, to: i64, region: Region) {
    let kind = FlawKind::ALL.into_iter().find(|kind| text.starts_with(kind.name())).unwrap();
    let expected = vec![Flaw { kind, from: inches(from), to: inches(to), region }];
    let [of_table, of_text] = [table.to_owned(), format!("\"{text}\"")].map(|line| flaws(&line));
    assert_eq!(of_table[0].1, expected, "{table}");
    assert_eq!(of_text[0].1, expected, "{text}");
    assert_eq!(of_text[0].0, text);
}

#[test]
fn flaws_as_tables_and_as_texts() {
    check_flaw(
        "{ kind = \"rot\", radius = \"3 in\", from = \"butt\", length = \"4 ft\" }",
        "rot radius 3 in from butt length 4 ft",
        100,
        148,
        Region::Heart { radius: inches(3) },
    );
    check_flaw(
        "{ kind = \"hollow\", radius = \"2 in\", from = \"the small end\", to = \"2 ft off the small end\" }",
        "hollow, radius 2 in, from the small end, to 2 ft off the small end",
        0,
        24,
        Region::Heart { radius: inches(2) },
    );
    check_flaw(
        "{ kind = \"shake\", radius = \"4 in\", from = \"1 ft\", to = \"3 ft\" }",
        "shake radius 4 in from 1 ft to 3 ft",
        112,
        136,
        Region::Ring { inner: in8(31), outer: in8(33) },
    );
    check_flaw(
        "{ kind = \"shake\", inner = \"3 in\", outer = \"4 in\" }",
        "shake inner 3 in outer 4 in",
        0,
        148,
        Region::Ring { inner: inches(3), outer: inches(4) },
    );
    check_flaw(
        "{ kind = \"split\", toward = 3, outer = \"5 in\" }",
        "split toward 3 outer 5 in",
        0,
        148,
        Region::Radial { clock: hour(3), from: Length::ZERO, to: inches(5) },
    );
    // To the bark, wherever that is.
    check_flaw(
        "{ kind = \"split\", toward = 3, inner = \"1 in\" }",
        "split toward 3 inner 1 in",
        0,
        148,
        Region::Radial { clock: hour(3), from: inches(1), to: inches(16) },
    );
    check_flaw(
        "{ kind = \"metal\", toward = \"9\", depth = \"3 in\", wide = \"2 hours\", from = \"butt\", to = \"6 ft\" }",
        "metal toward 9 depth 3 in wide 2 hours from butt to 6 ft",
        76,
        148,
        Region::Side { clock: hour(9), width: Angle::degrees(60), depth: inches(3) },
    );
    // 7 in on the bark of a log of 14 in at its thinnest: 2 asin(1/2), rounded up.
    let found = flaws("\"stain toward 12 depth 1 in wide 7 in\"");
    let Region::Side { width, .. } = found[0].1[0].region else { panic!("{found:?}") };
    assert!((60_000..=60_001).contains(&width.as_millidegrees()), "{width:?}");
    let all_round = flaws("\"stain toward all round depth 1 1/2 in\"");
    let quarters: Vec<Region> = all_round[0].1.iter().map(|flaw| flaw.region).collect();
    let quarter =
        |n: i32| Region::Side { clock: hour(3 * n), width: Angle::degrees(90), depth: in8(12) };
    assert_eq!(quarters, [0, 1, 2, 3].map(quarter));
    // What was said of a table, on one line.
    let words = &flaws("{ kind = \"metal\", toward = 9, depth = \"3 in\", wide = \"6 in\", from = \"butt\", to = \"6 ft\" }")[0].0;
    assert_eq!(words, "metal, toward 9, depth 3 in, wide 6 in, from butt, to 6 ft");
}

#[test]
fn flaws_are_in_the_log_itself() {
    let text = with(
        "butt = \"16 in\"",
        "butt = \"16 in\"\nflaws = [\"rot radius 3 in\", \"stain toward all round depth 1 in\"]",
    );
    let job = job(&text);
    assert_eq!((job.logs[0].log.flaws().len(), job.logs[0].told.flaws.len()), (5, 2));
    assert!(job.logs[1].log.flaws().is_empty());
    assert_eq!(job.log_job(0).told, job.logs[0].told);
}

#[test]
fn where_the_pith_may_be() {
    let want = |lines: &str| {
        let job = job(&with("count = 4", &format!("count = 4\n{lines}")));
        let want = &job.pile().menus[0][0];
        (job.wants[0].heart, want.heart, want.tolerates)
    };
    let none = FlawKinds::NONE;
    assert_eq!(want(""), (HeartRule::Any, Heart::Any, none));
    let eighth = in8(1);
    let free = |clear| (HeartRule::Free { clear }, Heart::Free { clear }, none);
    assert_eq!(want("heart = \"free\""), free(eighth));
    assert_eq!(want("heart = \"free\"\nclear = \"1/2 in\""), free(in8(4)));
    // A 2x6: an inch to its face, and an eighth of that is the pith's own.
    let boxed = |within, on| (HeartRule::Boxed { within }, Heart::Boxed { within: on }, none);
    assert_eq!(want("heart = \"boxed\""), boxed(None, in8(7)));
    assert_eq!(want("heart = \"Boxed\"\ncentred = \"1/2 in\""), boxed(Some(in8(4)), in8(4)));
    assert_eq!(want("heart = \"boxed\"\ncentred = \"3 in\""), boxed(Some(inches(3)), in8(7)));
    let stain = none.with(FlawKind::Stain);
    assert_eq!(want("tolerates = \"stain\"").2, stain);
    for list in ["[\"stain\", \"split\"]", "\"split/stain\"", "[\"split, stain\"]"] {
        assert_eq!(want(&format!("tolerates = {list}")).2, stain.with(FlawKind::Split));
    }
}

/// What is typed for one log says the same as a job file.
#[test]
fn the_same_log_typed() {
    let mut log = request("14 x 13 in", "16", "148 in");
    let typed = |text: &str| Some(text.to_owned());
    log.as_grown.long_axis.text = typed("2");
    log.as_grown.sweep.text = typed("2 toward 6 at 4");
    log.as_grown.pith_butt.text = typed("1 toward 5");
    log.as_grown.flare.text = typed("4 over 18");
    log.as_grown.flaws.texts = vec!["rot radius 3 from butt length 4".to_owned()];
    let mut faults = Vec::new();
    let measured = log.measure(&mut faults).unwrap_or_else(|| panic!("{faults:#?}"));
    let file = told_of(
        "sweep = \"2 in toward 6 at 4 ft\"\npith_butt = \"1 in toward 5\"\nflare = \"4 in over 18 in\"",
    );
    let oval = End { shorter: inches(13), clock: hour(2), ..file.taped.unwrap().small };
    let butt = End { clock: hour(2), ..file.taped.unwrap().butt };
    assert_eq!(measured.told.taped, Some(Taped { small: oval, butt, ..file.taped.unwrap() }));
    assert_eq!(measured.log.flaws()[0].from, inches(100));
    // Two diameters in whatever unit stands behind them.
    for (text, mean) in [
        ("14x13", Length::sixty_fourths(64 * 13 + 32)),
        ("14 in x 330.2 mm", Length::sixty_fourths(64 * 13 + 32)),
        ("14 1/2\" \u{d7} 12 1/2", Length::sixty_fourths(64 * 13 + 32)),
        ("350 x 330 mm", Length::mm(340)),
    ] {
        let measured = request(text, "16", "12").measure(&mut Vec::new()).unwrap();
        assert_eq!(measured.log.small_end(), mean, "{text}");
        assert!(measured.two_diameters && measured.log.is_round());
    }
}

#[test]
fn the_crooked_yard_is_read() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/jobs/crooked-yard.toml");
    let job = read_job(&file, "JOB").unwrap_or_else(|faults| panic!("{:#?}", told(&faults)));
    assert!(job.notes.contains("invented") && job.site.contains("invented"));
    assert_eq!((job.logs.len(), job.stems.len(), job.wants.len()), (16, 1, 4));
    let round: Vec<&str> =
        job.logs.iter().filter(|log| log.log.is_round()).map(|log| &*log.id).collect();
    assert_eq!(round, ["D4"]);
    let kinds: Vec<FlawKind> =
        job.logs.iter().flat_map(|log| &log.told.flaws).map(|flaw| flaw.kind).collect();
    assert!(FlawKind::ALL.iter().all(|kind| kinds.contains(kind)), "{kinds:?}");
    assert_eq!(job.mill.toe_board, Some(Length::feet(8)));
    let said = PileJob { file: String::new(), inputs: Vec::new(), asked: None, ..job };
    let value: toml::Value = toml::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
    let json = serde_json::to_string(&value).unwrap();
    let twin = parse_job(json.as_bytes(), "job.json", "JOB", Path::new("")).unwrap();
    // Where the mill's figures come from differs by the name of the file alone.
    let (mill_source, file) = (said.mill_source.clone(), String::new());
    let twin = PileJob { file, inputs: Vec::new(), asked: None, mill_source, ..twin };
    assert_eq!(format!("{said:?}"), format!("{twin:?}"));
}

/// A sheet says the same in its own columns.
#[test]
fn a_sheet_of_real_logs() {
    let sheet = "id;small end (in);small end 2 (in);long axis;butt (in);length (in);sweep;pith butt;flare;flaws\n\
        1;14;13;2 o'clock;16;148;2,5 in toward 6 at 4 ft;1 in toward 5;4 in over 18 in;\"rot radius 3 in from butt length 4 ft; metal, toward 9, depth 3 in, wide 2 hours\"\n\
        2;14;13;;16;148;;;;\n";
    let text = "logs_file = \"logs.csv\"\n[[wants]]\nsize = \"2x4x8\"\n";
    let place = directory("real sheet", &[("job.toml", text), ("logs.csv", sheet)]);
    let read = read_job(&place.join("job.toml"), "JOB");
    std::fs::remove_dir_all(place).unwrap();
    let job = read.unwrap_or_else(|faults| panic!("{:#?}", told(&faults)));
    let taped = job.logs[0].told.taped.unwrap();
    assert_eq!((taped.small.shorter, taped.small.clock), (inches(13), hour(2)));
    assert_eq!(taped.sweep, Some(Sweep { depth: in8(20), clock: hour(6), at: inches(100) }));
    assert_eq!((taped.butt.pith_off, taped.flare.unwrap().extra), (inches(1), inches(4)));
    let words: Vec<&str> = job.logs[0].told.flaws.iter().map(|flaw| &*flaw.words).collect();
    assert_eq!(
        words,
        ["rot radius 3 in from butt length 4 ft", "metal, toward 9, depth 3 in, wide 2 hours"]
    );
    assert!(job.logs[1].log.is_round() && job.logs[1].two_diameters);
}

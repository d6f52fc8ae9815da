//! What is seen on the logs of a job: in its own fields, in a sheet, on stems.

use super::{directory, job, parse, told, with};
use crate::job_file::read_job;
use crate::seen::{Quality, Seen};
use pithward_geometry::{Angle, Defect};
use pithward_measure::Length;

/// The first log of the small job, 148 in long, with more lines.
fn seen(lines: &str) -> Vec<Seen> {
    let text = with("species = \"white oak\"\n", &format!("{lines}\n"));
    job(&text).logs.swap_remove(0).told.seen.each
}

#[test]
fn tables_and_texts_say_the_same() {
    let knot = Defect::Knot {
        at: Length::inches(110),
        clock: Angle::degrees(75),
        across: Length::inches(2),
        rise: Length::ZERO,
        clear: Length::inches(1),
    };
    let table = "{ clock = \"2:30\", at = \"3 ft 2 in\", size = \"2 in\", grown_over = \"1 in\" }";
    for line in [
        format!("knots = [{table}]"),
        format!("bumps = [{table}]"),
        "knots = [\"2:30 3 ft 2 in 2 in over 1 in\"]".to_owned(),
        "bumps = [\"2:30 3 ft 2 in 2 in grown_over 1 in\"]".to_owned(),
    ] {
        let found = seen(&line);
        assert_eq!(found.iter().map(|seen| seen.defect).collect::<Vec<_>>(), [knot], "{line}");
    }
    let words: Vec<String> =
        seen(&format!("knots = [{table}]")).into_iter().map(|s| s.words).collect();
    assert_eq!(words, ["knot 2:30, at 3 ft 2 in, size 2 in, grown_over 1 in"]);
    let four = "{ \"12\" = \"3 in\", \"3\" = \"2 in\", \"6\" = \"3 in\", \"9\" = \"1 in\" }";
    assert_eq!(
        seen(&format!("clear_shell = {four}"))[0].defect,
        seen("clear_shell = \"3 in 2 in 3 in 1 in\"")[0].defect
    );
    let log =
        &job(&with("species = \"white oak\"\n", "quality = { 12 = \"clear\", 9 = \"few\" }\n"))
            .logs[0];
    let quarters = log.told.seen.quarters.clone().unwrap();
    assert_eq!(quarters.said, [Some(Quality::Clear), None, None, Some(Quality::Few)]);
    assert_eq!(log.log.defects(), quarters.defects);
}

#[test]
fn every_fault_of_what_is_seen_at_once() {
    let text = with(
        "species = \"white oak\"\n",
        "knots = [{ clock = \"2:70\", at = \"13 ft\", siz = \"2 in\" }, 4]\nseams = \"12\"\nclear_shell = 3\nquality = { \"12\" = \"good\" }\nscars = [{ clock = 3, wide = \"2 in\" }]\n",
    );
    let found = told(&parse(&text).unwrap_err());
    let expected = [
        "job.toml:3:10 [{ clock = \"2:70\", at = \"13 ft\", siz = \"2 in\" }] knots has no size",
        "job.toml:3:20 [\"2:70\"] clock: \"2:70\" is no direction on a clock",
        "job.toml:3:33 [\"13 ft\"] at must be between 0 in and 148 in, got \"13 ft\"",
        "job.toml:3:42 [siz] \"siz\" is no field of a knot; perhaps size?",
        "job.toml:3:58 [4] knots must be a list of knots, got \"4\"",
        "job.toml:4:9 [\"12\"] seams must be a list of seams, got '\"12\"'",
        "job.toml:5:15 [3] clear_shell must be a length in quotes, or a table of the quarters, got \"3\"",
        "job.toml:6:20 [\"good\"] 12: \"good\" is no quality of a quarter",
        "job.toml:7:10 [{ clock = 3, wide = \"2 in\" }] scars has no depth",
    ];
    assert_eq!(found, expected);
}

#[test]
fn a_column_of_a_sheet_has_what_is_seen() {
    let job = "logs_file = \"logs.csv\"\n[[wants]]\nsize = \"2x4x8\"\n";
    let sheet = "id,small end (in),butt (in),length (ft),seen\n\
        1,14,16,12,knot 2:30 3ft2in 2in; seam 9 butt 4ft\n\
        2,14,16,12,\n3,14,16,12,quality few;\n";
    let place = directory("seen", &[("job.toml", job), ("logs.csv", sheet)]);
    let read = read_job(&place.join("job.toml"), "JOB").unwrap();
    let wrong = sheet.replace("3ft2in", "3fot").replace("quality few", "quality fewer");
    std::fs::write(place.join("logs.csv"), wrong).unwrap();
    let faults = told(&read_job(&place.join("job.toml"), "JOB").unwrap_err());
    std::fs::remove_dir_all(&place).unwrap();
    let counts: Vec<usize> = read.logs.iter().map(|log| log.log.defects().len()).collect();
    // Three knots on each of four quarters of 12 ft, and a core.
    assert_eq!(counts, [2, 0, 13]);
    assert_eq!(read.logs[0].told.seen.each[1].words, "seam 9 butt 4ft");
    assert_eq!(faults.len(), 5, "{faults:#?}");
    assert!(faults[0].contains("logs.csv:2:") && faults[4].contains("logs.csv:4:"), "{faults:#?}");
}

#[test]
fn logs_of_a_stem_have_what_is_seen_on_their_part() {
    let text = with("[[logs]]\nid = \"1\"", "[[stems]]\nid = \"1\"");
    let text = text.replacen(
        "species = \"white oak\"\n",
        "species = \"white oak\"\nknots = [\"3 10 ft 2 in\"]\nquality = \"clear\"\n",
        1,
    );
    let stem = &job(&text).stems[0].stem;
    let long = stem.log.length();
    let low = stem.told.seen.within(Length::ZERO, Length::feet(6), "1");
    assert_eq!(low.each[0].words, "knot 3 10 ft 2 in (as said of stem 1)");
    let Defect::Knot { at, .. } = low.each[0].defect else { panic!("knot") };
    assert_eq!(at, long - Length::feet(10));
    let part = stem.log.bucked(Length::ZERO, Length::feet(6)).unwrap();
    assert_eq!(part.defects(), low.defects().copied().collect::<Vec<_>>());
    assert!(stem.told.seen.within(Length::feet(6), long, "1").each.is_empty());
}

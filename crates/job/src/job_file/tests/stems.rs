//! Stems, and how they may be bucked.

use super::{SMALL, job, parse, told};
use crate::along::Stretch;
use crate::sawing_request::{OpenRequest, PieceRules};
use crate::stem::{BuckRequest, Bucking, BuckingRequest, CHAIN_KERF};
use crate::typed::{Typed, TypedList};
use pithward_measure::{Length, Size};

const STEM: &str = "[[stems]]\nid = \"S\"\nspecies = \"white oak\"\nsmall_end = \"10 in\"\nbutt = \"18 in\"\nlength = \"40 ft\"\n";

fn feet(n: i64) -> Length {
    Length::feet(n)
}

#[track_caller]
fn check(text: &str, expected: &[&str]) {
    let found = told(&parse(text).unwrap_err());
    let found: Vec<&str> =
        found.iter().map(|fault| fault.strip_prefix("job.toml:").unwrap_or(fault)).collect();
    assert_eq!(found, expected);
}

#[test]
fn a_stem_beside_the_logs() {
    let plain = job(&format!("{SMALL}{STEM}"));
    assert_eq!((plain.logs.len(), plain.stems.len()), (2, 1));
    let expected = Bucking {
        chain_kerf: CHAIN_KERF,
        log_lengths: None,
        shortest: plain.mill.shortest,
        longest: plain.mill.longest,
    };
    assert_eq!(plain.bucking, expected);
    assert_eq!(plain.stems[0].stem.log.length(), feet(40));
    // A want without a length takes what the longest log that is bucked has.
    assert_eq!(plain.wants[1].lengths.last(), Some(&feet(20)));
    let terms = "[bucking]\nchain_kerf = \"1/2 in\"\nlog_lengths = [\"12\", \"8/10\"]\nshortest = \"6 ft\"\nlongest = \"16 ft\"\n";
    let cut_out = "cut_out = [\"12 ft to 14 ft\", { from = \"small end\", length = \"3 ft\" }, \"from 20 ft length 1 ft\"]\n";
    let stated = job(&format!("{SMALL}{STEM}{cut_out}{terms}"));
    let expected = Bucking {
        chain_kerf: Length::sixty_fourths(32),
        log_lengths: Some(vec![feet(8), feet(10), feet(12)]),
        shortest: feet(6),
        longest: feet(16),
    };
    assert_eq!(stated.bucking, expected);
    let stretch = |from, to| Stretch { from: feet(from), to: feet(to) };
    assert_eq!(stated.stems[0].cut_out, [stretch(26, 28), stretch(0, 3), stretch(19, 20)]);
    assert_eq!(stated.wants[1].lengths.last(), Some(&feet(16)));
    // Of several that are alike each has its name.
    let alike = job(&format!("{SMALL}{STEM}count = 2\n"));
    let ids: Vec<&str> = alike.stems.iter().map(|stem| &*stem.stem.id).collect();
    assert_eq!(ids, ["S-1", "S-2"]);
}

#[test]
fn a_stem_and_no_log() {
    let (_, wants) = SMALL.split_once("[[wants]]").unwrap();
    let job = job(&format!("{STEM}[[wants]]{wants}"));
    assert!(job.logs.is_empty() && job.stems.len() == 1);
    assert!(job.wants[0].first > 0);
    assert!(job.pile().logs.is_empty());
}

#[test]
fn every_fault_of_a_stem_at_once() {
    check(
        &format!("{SMALL}{STEM}cut_out = \"12 ft to 14 ft\"\n"),
        &[
            "27:11 [\"12 ft to 14 ft\"] cut_out must be a list of stretches, got '\"12 ft to 14 ft\"'",
        ],
    );
    check(
        &format!(
            "{SMALL}{STEM}cut_out = [\"12 ft\", \"to 14 ft\", \"41 ft to 42 ft\", \"3 ft to 3 ft\", {{ from = \"1 ft\", too = \"2 ft\" }}, 7]\n"
        ),
        &[
            "27:12 [\"12 ft\"] cut_out has no to",
            "27:21 [\"to 14 ft\"] cut_out has no from",
            "27:34 [41 ft] cut_out must be between 0 in and 40 ft, got \"41 ft\"",
            "27:43 [42 ft] cut_out must be between 0 in and 40 ft, got \"42 ft\"",
            "27:51 [\"3 ft to 3 ft\"] cut_out begins and ends at the same place",
            "27:67 [{ from = \"1 ft\", too = \"2 ft\" }] cut_out has no to",
            "27:84 [too] \"too\" is no field of a stretch; perhaps to?",
            "27:100 [7] cut_out must be a list of stretches, got \"7\"",
        ],
    );
    check(
        &format!("{SMALL}{}", STEM.replace("\"S\"", "\"1\"")),
        &["22:6 [\"1\"] id: \"1\" is called the same as the log on line 2 of job.toml"],
    );
    check(
        &format!("stems = 3\n{SMALL}"),
        &["1:9 [3] stems must be a list, each stem below its own [[stems]], got \"3\""],
    );
    check(
        &SMALL.replacen("id = \"1\"", "id = \"1\"\ncut_out = []", 1),
        &["3:1 [cut_out] \"cut_out\" is no field of a log"],
    );
}

#[test]
fn every_fault_of_bucking_at_once() {
    check(
        &format!(
            "{SMALL}[bucking]\nchain_kerf = \"2 in\"\nlog_lengths = \"8/x\"\nshortest = \"12 ft\"\nlongest = \"10 ft\"\nkerf = 1\n"
        ),
        &["26:1 [kerf] \"kerf\" is no field of [bucking]"],
    );
    check(
        &format!(
            "{SMALL}[bucking]\nchain_kerf = \"2 in\"\nlog_lengths = \"8/x\"\nshortest = \"12 ft\"\nlongest = \"10 ft\"\n"
        ),
        &[
            "22:14 [\"2 in\"] chain_kerf must be between 1 mm and 1 in, got \"2 in\"",
            "23:18 [x] log_lengths: \"x\" is not a length: \"x\" is no number; write one such as 24 1/2 in, 12 ft 4 in or 620 mm",
            "24:12 [\"12 ft\"] shortest must not be more than longest, which is 120 in, got 12 ft",
        ],
    );
    check(
        &format!("{SMALL}[bucking]\nlog_lengths = \"8/24\"\n"),
        &["22:15 [\"8/24\"] log_lengths must be between 48 in and 20 ft, got \"8/24\""],
    );
    // The trim comes on top.
    check(
        &format!("{SMALL}[sawing]\ntrim = \"3 in\"\n[bucking]\nlog_lengths = \"20\"\n"),
        &["24:15 [\"20\"] log_lengths must be between 45 in and 237 in, got \"20\""],
    );
    check(
        &format!("{SMALL}[bucking]\nlongest = 16\n"),
        &["22:11 [16] longest: \"16\" has no unit"],
    );
}

fn request(cut_out: &[&str]) -> BuckRequest {
    let mut sawing = OpenRequest::new("10", "18", "40", &[]).sawing;
    sawing.pieces = PieceRules::none();
    let texts = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect();
    let none = |name| Typed::new(name, None);
    BuckRequest {
        sawing,
        wants: TypedList { name: "--want", texts: texts(&["2x6"]) },
        cut_out: TypedList { name: "--cut-out", texts: texts(cut_out) },
        bucking: BuckingRequest {
            chain_kerf: none("--chain-kerf"),
            log_lengths: Vec::new(),
            shortest: none("--shortest"),
            longest: none("--longest"),
        },
    }
}

#[test]
fn a_stem_that_was_typed() {
    let job = request(&["12 to 14"]).into_job().unwrap();
    assert_eq!(job.job.log.length(), feet(40));
    assert_eq!(job.cut_out, [Stretch { from: feet(26), to: feet(28) }]);
    assert_eq!(job.bucking, Bucking::on(&job.job.mill));
    assert_eq!(job.job.wants[0].size, Size::parse("2x6").unwrap());
    assert_eq!(job.job.wants[0].lengths.last(), Some(&feet(20)));
    let mut stated = request(&[]);
    stated.bucking.log_lengths = vec![Typed::new("--log-lengths", Some("8/12".to_owned()))];
    stated.bucking.longest.text = Some("12".to_owned());
    let job = stated.into_job().unwrap();
    assert_eq!(job.bucking.log_lengths, Some(vec![feet(8), feet(12)]));
    assert_eq!(job.job.wants[0].lengths.last(), Some(&feet(12)));
    let mut wrong = request(&["12 ft", "50 to 52"]);
    wrong.sawing.log.small_end.text = Some("10 fot".to_owned());
    wrong.bucking.chain_kerf.text = Some("9".to_owned());
    let said: Vec<String> = wrong.into_job().unwrap_err().iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "small end: \"10 fot\" is not a length: \"fot\" is no unit; write in, ft, mm, cm or m",
            "--cut-out has no to",
            "--chain-kerf must be between 1 mm and 1 in, got \"9\"",
        ]
    );
}

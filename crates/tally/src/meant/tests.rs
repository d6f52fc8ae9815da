use std::path::Path;

use pithward_job::{PileJob, parse_job};

use super::{Meant, MeantFault};
use crate::entry::{Doing, Entry, Said};
use crate::record::{Record, Recorded};

const JOB: &str = r#"
[[logs]]
id = "a"
small_end = "14 in"
butt = "15 in"
length = "12 ft 4 in"

[[wants]]
size = "2x8x12"
count = 4

[[wants]]
size = "2x8x10"
count = 4

[[wants]]
size = "1x6"
"#;

fn job() -> PileJob {
    parse_job(JOB.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap()
}

fn meant(text: &str) -> Result<Meant, Vec<String>> {
    let words: Vec<String> = text.split_whitespace().map(str::to_owned).collect();
    Meant::read(&words, &job()).map_err(|faults| faults.iter().map(ToString::to_string).collect())
}

fn record(all: &[Said]) -> Record {
    let at: jiff::ZonedDateTime = "2026-05-02T09:41:07-04:00[America/New_York]".parse().unwrap();
    let recorded = |(n, said): (usize, &Said)| Recorded {
        line: n + 4,
        entry: Entry { number: n as u64 + 1, at: at.clone(), late: false, said: said.clone() },
        undone_by: None,
    };
    Record { entries: all.iter().enumerate().map(recorded).collect(), warnings: Vec::new() }
}

#[test]
fn what_depends_on_the_tally() {
    let logs = Said::Begin(Doing::MovingLogs);
    let pause = Said::Pause { why: None };
    let said = |text: &str, record: &Record| meant(text).unwrap().said(record);
    let resting = record(&[logs.clone(), pause.clone()]);
    assert_eq!(said("begin", &resting), Ok(logs.clone()));
    assert_eq!(said("be saw", &resting), Ok(Said::Begin(Doing::Sawing)));
    let stopped = record(&[logs.clone(), Said::Stop]);
    assert_eq!(said("begin", &stopped), Ok(Said::Begin(Doing::Sawing)));
    assert_eq!(said("begin", &Record::default()), Ok(Said::Begin(Doing::Sawing)));

    assert_eq!(said("undo", &resting), Ok(Said::Undo { entry: 2 }));
    assert_eq!(said("undo 1", &resting), Ok(Said::Undo { entry: 1 }));
    assert_eq!(said("undo 3", &resting), Err(MeantFault::NoEntry { number: 3 }));
    assert_eq!(said("undo", &Record::default()), Err(MeantFault::NothingToUndo));
    let mut undone = record(&[logs, pause, Said::Undo { entry: 2 }]);
    undone.entries[1].undone_by = Some(3);
    assert_eq!(said("undo", &undone), Ok(Said::Undo { entry: 1 }));
    assert_eq!(said("undo 2", &undone), Err(MeantFault::Undone { number: 2, by: 3 }));
    assert_eq!(said("undo 3", &undone), Ok(Said::Undo { entry: 3 }));
    assert_eq!(said("confirm", &undone), Err(MeantFault::NothingToConfirm));
}

#[test]
fn a_changed_want_is_one_line_of_the_list_or_new() {
    for text in
        ["want 2x8x12 6", "want 2x8x10 all", "want 1x6 20", "want 3x3x9 2", "want 2x8 5 line 2"]
    {
        assert!(matches!(meant(text), Ok(Meant::Said(Said::Want(_)))), "{text}: {:?}", meant(text));
    }
    for (text, told) in [
        (
            "want 2x8 5",
            "\"2x8\" may be 2x8x12 on line 1 of the list or 2x8x10 on line 2 of the list",
        ),
        ("want 3x3 5", "\"3x3\" has no length"),
        ("want 2x8x12 5 line 9", "a count must be a whole number between 1 and 3, got \"9\""),
        ("want 2x8 5 line 3", "\"2x8\" may be 2x8x12 on line 1"),
        ("confirm 0011aabb", "\"0011aabb\" is left over"),
    ] {
        let faults = meant(text).expect_err(text);
        assert!(faults[0].contains(told), "{text}: {faults:?}");
    }
    // A size without a length gets the one in which it is wanted; here there are several.
    assert!(meant("off 1x6").unwrap_err()[0].contains("has no length"));
}

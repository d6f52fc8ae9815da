//! Job files as people write them, right and wrong.

mod faults;
mod graded;
mod pile;
mod real_faults;
mod real_logs;
mod scans;
mod seen;
mod sheets;
mod stems;
mod twins;

use std::path::{Path, PathBuf};

use super::{parse_job, read_job, starter_job};
use crate::fault::Fault;
use crate::pile_job::PileJob;
use crate::place::Place;

/// A small job without a fault.
const SMALL: &str = r#"[[logs]]
id = "1"
species = "white oak"
small_end = "14 in"
butt = "16 in"
length = "12 ft 4 in"

[[logs]]
id = "2"
species = "eastern white pine"
small_end = ["13 in", "14 in"]
butt = "15 in"
length = "10 ft 2 in"

[[wants]]
size = "2x6x8"
count = 4

[[wants]]
size = "1x6"
"#;

fn parse(text: &str) -> Result<PileJob, Vec<Fault>> {
    parse_job(text.as_bytes(), "job.toml", "JOB", Path::new(""))
}

fn job(text: &str) -> PileJob {
    parse(text).unwrap_or_else(|faults| panic!("{:#?}", told(&faults)))
}

/// The small job with one part of it written otherwise; the part must be there.
fn with(part: &str, other: &str) -> String {
    assert!(SMALL.contains(part), "{part}");
    SMALL.replacen(part, other, 1)
}

/// Every fault as `file:line:column [what is pointed at] message`; the name of the file in its directory alone.
fn told(faults: &[Fault]) -> Vec<String> {
    let one = |fault: &Fault| {
        assert!(!fault.help.is_empty() && !fault.to_string().contains('\n'), "{fault}");
        match &fault.place {
            Place::File(place) => {
                let file = Path::new(&place.file).file_name().unwrap().to_string_lossy();
                let at = &place.text[place.span.clone()];
                // A line and a column say the same place as the span.
                let line = place.text.split('\n').nth(place.line - 1).unwrap();
                let offset: usize = line.chars().take(place.column - 1).map(char::len_utf8).sum();
                assert_eq!(
                    place.text[..place.span.start].rfind('\n').map_or(0, |n| n + 1) + offset,
                    place.span.start
                );
                format!("{file}:{}:{} [{at}] {fault}", place.line, place.column)
            }
            place => format!("{place:?} {fault}"),
        }
    };
    faults.iter().map(one).collect()
}

/// The directory of a test.
fn path(name: &str) -> PathBuf {
    std::env::temp_dir().join(format!("pithward-job-{}-{name}", std::process::id()))
}

/// A directory of its own with some files in it.
fn directory(name: &str, files: &[(&str, &str)]) -> PathBuf {
    let path = path(name);
    std::fs::create_dir_all(&path).unwrap();
    for (file, text) in files {
        std::fs::write(path.join(file), text).unwrap();
    }
    path
}

#[test]
fn the_starter_file_is_a_job() {
    let job = parse(starter_job()).unwrap_or_else(|faults| panic!("{:#?}", told(&faults)));
    assert!(starter_job().contains("Invented"));
    let ids: Vec<&str> = job.logs.iter().map(|log| &*log.id).collect();
    assert_eq!(ids, ["1", "2", "P-1", "P-2", "P-3"]);
    assert_eq!(job.wants.len(), 4);
    assert!(job.logs[1].two_diameters && job.logs[2].taped_over_bark);
}

#[test]
fn the_demo_is_forty_logs_of_three_woods() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/jobs/farmyard.toml");
    let job = read_job(&file, "JOB").unwrap_or_else(|faults| panic!("{:#?}", told(&faults)));
    assert!(job.notes.contains("invented") && job.site.contains("Invented"));
    assert_eq!((job.logs.len(), job.wants.len(), job.pile().menus.len()), (40, 10, 3));
    assert!(job.logs.iter().any(|log| log.log.butt_over_bark() > job.mill.largest_diameter));
    assert!(job.logs.iter().any(|log| log.log.length() < job.mill.shortest));
    assert!(job.wants[0].blocking && job.wants[9].count.is_none());
}

#[test]
fn a_job_that_is_no_file() {
    let check = |path: &Path, expected: &str| {
        let faults = read_job(path, "JOB").unwrap_err();
        assert_eq!(faults.len(), 1);
        assert!(faults[0].to_string().contains(expected), "{}", faults[0]);
    };
    check(Path::new("no-such.toml"), "JOB: there is no file \"no-such.toml\"");
    check(Path::new("src"), "is a directory, not a file");
    let bytes = |bytes: &[u8], expected: &str| {
        let faults = parse_job(bytes, "job.toml", "JOB", Path::new("")).unwrap_err();
        assert!(faults[0].to_string().contains(expected), "{}", faults[0]);
    };
    bytes(b"", "\"job.toml\" is empty");
    bytes(b"site = \"\xff\"", "is not UTF-8 text: the byte 0xff on line 1");
    bytes(&vec![b'#'; (4 << 20) + 1], "is larger than 4194304 bytes, and no job file is");
}

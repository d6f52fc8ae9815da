//! No bytes of any file bring the command down: each is a job, or is refused with what is wrong with it.

use std::path::{Path, PathBuf};

use crate::common::{directory, pithward, put};
use pithward_job::{AllSeen, Fault, PileJob, Place, Told, parse_job, starter_job};
use proptest::prelude::*;

/// A sheet of logs with what people put into one.
const SHEET: &str = "\u{feff}Log;Species;Small end (in);Small 2 (in);Butt (in);Length (ft);Bark;Over bark;Notes\r\n\
    1;white oak;\"14,5\";15;16 1/2 in;12,5;5/8 in;no;\"said; \"\"sound\"\"\"\r\n\r\n\
    2;eastern white pine;12;;13;10;;yes;\r\n";

/// A job that names the sheet.
const JOB: &str =
    "logs_file = \"sheet.csv\"\n[[wants]]\nsize = \"2x6x8\"\ncount = 4\nextra = \"welcome\"\n";

/// A sheet and a job of logs that are not round, straight and sound.
const CROOKED_SHEET: &str = "id,small end (in),small end 2 (in),long axis,butt (in),length (ft),sweep,crook,pith,flare,flaws\n\
    1,14,15,2:30,17,12,2 in toward 6 at 5 ft,1 in toward 9 at 3 ft,1 in toward 4,4 in over 18 in,rot radius 2 in from butt length 3 ft; stain toward all round depth 1 in\n\
    2,14,15,65 degrees,17,12,,,,,\"split toward 3, outer 4 in; metal toward 9 depth 2 in wide 2 hours to 5 ft from butt\"\n";
const CROOKED: &str = include_str!("../../../../data/jobs/crooked-yard.toml");
const OAK_FACES: &str = include_str!("../../../../data/jobs/oak-faces.toml");

/// The demo job, its sheet and its mill.
const FARMYARD: &str = include_str!("../../../../data/jobs/farmyard.toml");
const FARMYARD_SHEET: &str = include_str!("../../../../data/jobs/farmyard.csv");
const MILL: &str = include_str!("../../../../data/mills/yard-band.toml");

/// One change to a text, as a slip of the hand or a bad disk makes it.
#[derive(Clone, Debug)]
enum Slip {
    Drop(prop::sample::Index, usize),
    Put(prop::sample::Index, Vec<u8>),
    Again(prop::sample::Index, prop::sample::Index, usize),
    Cut(prop::sample::Index),
}

fn slip() -> impl Strategy<Value = Slip> {
    let at = any::<prop::sample::Index>;
    let written = prop_oneof![
        prop::collection::vec(any::<u8>(), 1..4),
        "[\\[\\]{}=\",;:\\n\\t '0-9a-z./-]{1,6}".prop_map(String::into_bytes),
        prop::sample::select(vec![
            "[[logs]]",
            "[[wants]]",
            "9999999999999999999",
            "\"\"\"",
            "½",
            "\u{0}",
            "-1",
            "1e999",
            " at 6 ft",
            "toward 13",
            "o'clock",
            "all round",
            "off the small end"
        ])
        .prop_map(|text| text.as_bytes().to_vec()),
    ];
    prop_oneof![
        (at(), 1..40_usize).prop_map(|(at, many)| Slip::Drop(at, many)),
        (at(), written).prop_map(|(at, bytes)| Slip::Put(at, bytes)),
        (at(), at(), 1..80_usize).prop_map(|(from, to, many)| Slip::Again(from, to, many)),
        at().prop_map(Slip::Cut),
    ]
}

fn slipped(text: &str, slips: &[Slip]) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    for slip in slips {
        let place = |index: &prop::sample::Index| index.index(bytes.len() + 1);
        match slip {
            Slip::Drop(at, many) => {
                let at = place(at);
                bytes.drain(at..(at + many).min(bytes.len()));
            }
            Slip::Put(at, written) => {
                let at = place(at);
                bytes.splice(at..at, written.iter().copied());
            }
            Slip::Again(from, to, many) => {
                let (from, to) = (place(from), place(to));
                let part = bytes[from..(from + many).min(bytes.len())].to_vec();
                bytes.splice(to..to, part);
            }
            Slip::Cut(at) => bytes.truncate(place(at)),
        }
    }
    bytes
}

/// A job that was read can be made a pile; a fault says what and where, and what would be right.
fn judge(read: Result<PileJob, Vec<Fault>>) -> Result<(), TestCaseError> {
    match read {
        Ok(job) => {
            prop_assert!(!(job.wants.is_empty() || job.logs.is_empty() && job.stems.is_empty()));
            for log in job.logs.iter().chain(job.stems.iter().map(|of| &of.stem)) {
                prop_assert!(log.log.flaws().iter().all(|flaw| flaw.fault(&log.log).is_none()));
                prop_assert!(log.log.defects().iter().all(|one| one.faults(&log.log).is_empty()));
                let told = Told { seen: AllSeen::default(), ..log.told.clone() };
                prop_assert_eq!(log.log.is_round(), told == Told::default());
            }
            let pile = job.pile();
            prop_assert_eq!(pile.logs.len(), job.logs.len());
            let _ = (!job.logs.is_empty()).then(|| job.log_job(0));
        }
        Err(faults) => {
            prop_assert!(!faults.is_empty());
            for fault in faults {
                prop_assert!(!fault.help.is_empty() && !fault.to_string().is_empty());
                if let Place::File(place) = &fault.place {
                    prop_assert!(place.text.get(place.span.clone()).is_some(), "{place:?}");
                }
            }
        }
    }
    Ok(())
}

/// A directory with the files in it that the jobs name.
fn place(name: &str) -> PathBuf {
    let place = directory(name);
    put(&place, "sheet.csv", SHEET);
    put(&place, "farmyard.csv", FARMYARD_SHEET);
    put(&place, "mill.toml", MILL);
    place
}

/// The demo job with its mill beside it.
fn farmyard() -> String {
    FARMYARD.replace("../mills/yard-band.toml", "mill.toml")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn prop_any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400), json in any::<bool>()) {
        let name = if json { "any.json" } else { "any" };
        judge(parse_job(&bytes, name, "JOB", Path::new("")))?;
    }

    #[test]
    fn prop_slips_in_a_job(slips in prop::collection::vec(slip(), 1..5)) {
        judge(parse_job(&slipped(starter_job(), &slips), "slip.toml", "JOB", Path::new("")))?;
        judge(parse_job(&slipped(OAK_FACES, &slips), "slip.toml", "JOB", Path::new("")))?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn prop_slips_in_a_sheet(slips in prop::collection::vec(slip(), 1..5)) {
        let place = place("slips-in-a-sheet");
        put(&place, "sheet.csv", slipped(SHEET, &slips));
        judge(parse_job(JOB.as_bytes(), "job.toml", "JOB", &place))?;
    }

    #[test]
    fn prop_slips_in_crooked_logs(
        of_job in prop::collection::vec(slip(), 1..5),
        of_sheet in prop::collection::vec(slip(), 1..5),
    ) {
        let place = place("slips-in-crooked-logs");
        judge(parse_job(&slipped(CROOKED, &of_job), "job.toml", "JOB", &place))?;
        put(&place, "sheet.csv", slipped(CROOKED_SHEET, &of_sheet));
        judge(parse_job(JOB.as_bytes(), "job.toml", "JOB", &place))?;
    }

    #[test]
    fn prop_slips_in_the_demo(
        of_job in prop::collection::vec(slip(), 0..3),
        of_sheet in prop::collection::vec(slip(), 0..3),
        of_mill in prop::collection::vec(slip(), 0..3),
    ) {
        let place = place("slips-in-the-demo");
        put(&place, "farmyard.csv", slipped(FARMYARD_SHEET, &of_sheet));
        put(&place, "mill.toml", slipped(MILL, &of_mill));
        judge(parse_job(&slipped(&farmyard(), &of_job), "job.toml", "JOB", &place))?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, max_shrink_iters: 40, ..ProptestConfig::default() })]

    #[test]
    fn prop_slips_through_the_command(
        of_job in prop::collection::vec(slip(), 0..3),
        of_sheet in prop::collection::vec(slip(), 0..3),
        base in prop::sample::select(vec![JOB.to_owned(), starter_job().to_owned(), CROOKED.to_owned(), farmyard()]),
    ) {
        let place = place("slips-through-the-command");
        put(&place, "sheet.csv", slipped(SHEET, &of_sheet));
        put(&place, "job.toml", slipped(&base, &of_job));
        let job = place.join("job.toml");
        let output = pithward(&["check", job.to_str().unwrap()]);
        let stderr = String::from_utf8(output.stderr).unwrap();
        match output.status.code() {
            Some(0) => prop_assert!(stderr.is_empty() && !output.stdout.is_empty(), "{stderr}"),
            Some(2) => prop_assert!(stderr.contains("error: ") && stderr.contains("help: "), "{stderr}"),
            other => prop_assert!(false, "ended with {other:?}: {stderr}"),
        }
    }
}

#[test]
fn what_the_slips_begin_with_is_sound() {
    let place = place("no-slips");
    assert!(parse_job(CROOKED.as_bytes(), "crooked.toml", "JOB", Path::new("")).is_ok());
    assert!(parse_job(starter_job().as_bytes(), "starter.toml", "JOB", Path::new("")).is_ok());
    let job = parse_job(JOB.as_bytes(), "job.toml", "JOB", &place);
    assert!(parse_job(farmyard().as_bytes(), "job.toml", "JOB", &place).is_ok());
    assert_eq!(job.map(|job| job.logs.len()).map_err(|faults| faults[0].to_string()), Ok(2));
}

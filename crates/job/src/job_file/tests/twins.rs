//! TOML and JSON say the same; and nothing that a file can hold is a panic.

use super::{SMALL, directory, told};
use crate::fault::Fault;
use crate::job_file::{job_schema, parse_job, read_job, starter_job};
use crate::log_job::{MillSource, Told};
use crate::pile_job::PileJob;
use crate::place::Place;
use proptest::prelude::*;
use std::path::Path;

fn parse(bytes: &[u8], file: &str) -> Result<PileJob, Vec<Fault>> {
    parse_job(bytes, file, "JOB", Path::new(""))
}

/// A job of logs that are not round, straight and sound.
const CROOKED: &str = include_str!("../../../../../data/jobs/crooked-yard.toml");

/// A job of hardwood for grade.
const OAK_FACES: &str = include_str!("../../../../../data/jobs/oak-faces.toml");

/// The same fields as JSON.
fn json(toml: &str) -> String {
    let value: toml::Value = toml::from_str(toml).unwrap();
    serde_json::to_string_pretty(&value).unwrap()
}

/// A job without the name of its file.
fn without_file(job: PileJob) -> PileJob {
    let mill_source = match job.mill_source {
        MillSource::File(_) => MillSource::File(String::new()),
        MillSource::Generic => MillSource::Generic,
    };
    PileJob { file: String::new(), inputs: Vec::new(), asked: None, mill_source, ..job }
}

#[test]
fn toml_and_json_are_twins() {
    for text in [SMALL, starter_job(), CROOKED, OAK_FACES] {
        let [toml, json] = [(text, "j.toml"), (&*json(text), "j.json")].map(|(text, file)| {
            let job = parse(text.as_bytes(), file);
            job.unwrap_or_else(|faults| panic!("{:#?}", told(&faults)))
        });
        assert_eq!(
            format!("{:?}", without_file(toml)),
            format!("{:?}", without_file(json.clone()))
        );
        // By its first character where the name has no ending.
        let bare = parse(self::json(text).as_bytes(), "job").unwrap();
        assert_eq!(bare.logs, json.logs);
        assert_eq!(bare.wants, json.wants);
    }
}

#[test]
fn faults_of_a_json_file_have_their_places() {
    let text = json(SMALL)
        .replacen("\"14 in\"", "14", 1)
        .replacen("\"species\": \"white oak\"", "\"\\u0073pecies\": \"wite\\u0020oak\"", 1)
        .replacen("\"count\": 4", "\"count\": null, \"count\": 3", 1);
    let found = told(&parse(text.as_bytes(), "job.json").unwrap_err());
    let species = "species: no species is named \"wite oak\"; nearest: Oak, white; a species may be left out where \
        nobody asks for weight, bark or shrinkage";
    assert_eq!(
        found,
        [
            "job.json:7:20 [14] small_end: \"14\" has no unit",
            &format!("job.json:8:23 [\"wite\\u0020oak\"] {species}"),
            "job.json:23:16 [null] count must be a whole number between 1 and 10000, got \"null\"",
            "job.json:23:23 [count] count: \"count\" is said twice",
        ]
    );
    let cut = &json(SMALL)[..200];
    let found = parse(cut.as_bytes(), "job.json").unwrap_err();
    assert!(found.len() == 1 && found[0].to_string().contains("this is not JSON: EOF"));
    // Lists within lists, far deeper than any job has.
    let deep = format!("{{\"logs\": {}", "[".repeat(100_000));
    assert!(!parse(deep.as_bytes(), "job.json").unwrap_err().is_empty());
    let deep = format!("{deep}{}}}", "]".repeat(100_000));
    assert!(!parse(deep.as_bytes(), "job.json").unwrap_err().is_empty());
    let deep = format!("logs = {}{}", "[".repeat(100_000), "]".repeat(100_000));
    assert!(!parse(deep.as_bytes(), "job.toml").unwrap_err().is_empty());
}

#[test]
fn the_committed_schema_is_the_generated_one() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/schema/job.schema.json");
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, job_schema()).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap();
    assert_eq!(committed, job_schema(), "run this test with UPDATE_SCHEMA=1 and commit the file");
}

#[test]
fn the_schema_takes_the_jobs_that_are_read() {
    let schema: serde_json::Value = serde_json::from_str(&job_schema()).unwrap();
    let schema = jsonschema::validator_for(&schema).unwrap();
    let mill = "[mill]\nfile = \"mill.toml\"\n";
    for text in [SMALL, starter_job(), CROOKED, OAK_FACES, &format!("{SMALL}{mill}")] {
        let value = serde_json::from_str(&json(text)).unwrap();
        let faults: Vec<String> = schema.iter_errors(&value).map(|e| e.to_string()).collect();
        assert!(faults.is_empty(), "{faults:?}");
    }
    for (part, other) in [
        ("count = 4", "count = \"4\""),
        ("id = \"1\"", "name = \"1\""),
        ("[[wants]]", "[[wanted]]"),
        ("\"14 in\"", "14"),
        ("size = \"1x6\"", "size = \"1x6\"\nblocking = \"yes\""),
        ("size = \"1x6\"", "size = \"1x6\"\nheart = \"box\""),
        ("id = \"1\"", "id = \"1\"\nsweep = { depth = \"2 in\" }"),
        ("id = \"1\"", "id = \"1\"\nsweep = 2"),
        ("id = \"1\"", "id = \"1\"\ncut_out = []"),
        ("id = \"1\"", "id = \"1\"\nflaws = [{ kind = \"knot\" }]"),
        ("id = \"1\"", "id = \"1\"\nknots = [{ clock = 3, at = \"3 ft\" }]"),
        ("id = \"1\"", "id = \"1\"\nquality = { \"12\" = \"fine\" }"),
        ("id = \"1\"", "id = \"1\"\nclear_shell = { \"12\" = \"3 in\" }"),
        ("[[wants]]", "[[prices]]\nfas = 2\n[[wants]]"),
    ] {
        let value = serde_json::from_str(&json(&super::with(part, other))).unwrap();
        assert!(!schema.is_valid(&value), "{other}");
    }
}

/// The faults of the sheet and of the mill file stand where the job names these files.
#[test]
fn faults_of_all_files_come_at_once_in_order() {
    let job = "site = \"\\u0000\"\nlogs_file = \"logs.csv\"\n[mill]\nfile = \"mill.toml\"\n[[wants]]\nsize = \"2x\"\n";
    let sheet = "id,small end (in),butt (in),length (ft)\n1,14,16,12 fot\n2,15,14,12\n";
    let mill = "name = \"m\"\nkerf = 2\n";
    let files = [("job.toml", job), ("logs.csv", sheet), ("mill.toml", mill)];
    let place = directory("all at once", &files);
    let found = told(&read_job(&place.join("job.toml"), "JOB").unwrap_err());
    std::fs::remove_dir_all(place).unwrap();
    let places: Vec<&str> = found.iter().map(|fault| fault.split(' ').next().unwrap()).collect();
    assert_eq!(
        places,
        [
            "job.toml:1:8",
            "logs.csv:2:12",
            "logs.csv:3:6",
            "mill.toml:2:8",
            "mill.toml:2:9",
            "job.toml:6:9"
        ],
        "{found:#?}"
    );
}

fn judge(read: Result<PileJob, Vec<Fault>>) -> Result<(), TestCaseError> {
    match read {
        Ok(job) => {
            for log in job.logs.iter().chain(job.stems.iter().map(|of| &of.stem)) {
                prop_assert!(log.log.flaws().iter().all(|flaw| flaw.fault(&log.log).is_none()));
                prop_assert_eq!(log.log.is_round(), log.told == Told::default());
            }
            let pile = job.pile();
            prop_assert_eq!(pile.demands.len(), job.wants.len());
            for menu in &pile.menus {
                prop_assert!(
                    menu.iter().flat_map(|want| &want.cuts).all(|cut| cut.worth < 1 << 53)
                );
            }
        }
        Err(faults) => {
            prop_assert!(!faults.is_empty());
            for fault in faults {
                let message = fault.to_string();
                prop_assert!(!fault.help.is_empty() && !message.contains('\n'), "{message}");
                if let Place::File(place) = &fault.place {
                    prop_assert!(place.text.get(place.span.clone()).is_some(), "{message}");
                    prop_assert!(place.line > 0 && place.column > 0);
                }
            }
        }
    }
    Ok(())
}

/// What is put in place of a value: TOML and JSON of every kind, and what is neither.
fn rubbish() -> impl Strategy<Value = String> {
    let parts = "\"|'|14 in|-3 mm|1e9|nan|[|]|{|}|=|\\n|1/0 in|true|#|,|é|2024-01-01|[[|]]|x|\
        9999999999999999999999|\"\"\"|3.50 each|per bf|welcome|8/10|white oak|2x4x8|0.5|\
        2 in toward 6| at 4 ft|rot radius 2 in| from butt length 3 ft|2:30|65 degrees|all round|boxed|o'clock|wide 2 hours";
    let parts: Vec<&str> = parts.split('|').collect();
    prop_oneof![
        any::<String>(),
        any::<String>().prop_map(|text| format!("{text:?}")),
        any::<i64>().prop_map(|number| number.to_string()),
        proptest::collection::vec(proptest::sample::select(parts), 0..8)
            .prop_map(|parts| parts.concat()),
    ]
}

/// A text with some of it replaced.
fn slipped(text: &'static str) -> impl Strategy<Value = String> {
    let lines: Vec<&str> = text.lines().collect();
    let slip = (0..lines.len(), rubbish(), 0..4);
    proptest::collection::vec(slip, 1..4).prop_map(move |slips| {
        let mut lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
        for (n, rubbish, how) in slips {
            lines[n] = match (how, lines[n].split_once(" = ")) {
                (0, _) => rubbish,
                (1, Some((key, _))) => format!("{key} = {rubbish}"),
                (2, Some((key, _))) => format!("{key} = \"{rubbish}\""),
                (_, _) => String::new(),
            };
        }
        lines.join("\n")
    })
}

const SHEET: &str = "id,small end (in),small end 2,butt (in),length (ft),bark,species,over bark,count,notes,long axis,sweep,pith,flare,flaws\n\
    1,14 1/4,14 in,16,12.5,,white oak,,,a,2:30,2 in toward 6 at 4 ft,1 in toward 4,4 in over 18 in,rot radius 2 in; stain toward all round depth 1 in\n\
    2,\"13\",,15,12' 4\",1/2 in,,no,2,,,,,,\n";

proptest! {
    #[test]
    fn prop_no_bytes_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        for file in ["j.toml", "j.json", "j"] {
            judge(parse(&bytes, file))?;
        }
    }

    #[test]
    fn prop_no_text_panics(text in rubbish()) {
        for file in ["j.toml", "j.json", "j"] {
            judge(parse(text.as_bytes(), file))?;
        }
    }

    #[test]
    fn prop_no_slip_in_a_job_panics(text in slipped(starter_job())) {
        judge(parse(text.as_bytes(), "j.toml"))?;
        if let Ok(value) = toml::from_str::<toml::Value>(&text) {
            let json = serde_json::to_string(&value).unwrap();
            judge(parse(json.as_bytes(), "j.json"))?;
        }
    }

    #[test]
    fn prop_no_slip_in_a_crooked_job_panics(text in slipped(CROOKED)) {
        judge(parse(text.as_bytes(), "j.toml"))?;
    }

    #[test]
    fn prop_no_slip_in_a_sheet_panics(
        slips in proptest::collection::vec((0..SHEET.len(), 0..4_usize, rubbish()), 1..4),
    ) {
        let mut sheet = SHEET.to_owned();
        for (at, take, rubbish) in slips {
            let at = at.min(sheet.len());
            let end = (at + take).min(sheet.len());
            if sheet.is_char_boundary(at) && sheet.is_char_boundary(end) {
                sheet.replace_range(at..end, &rubbish);
            }
        }
        let kind = &crate::job_file::sheet::SHEET_FILE;
        if let Ok(file) = crate::file::TextFile::new(sheet.as_bytes(), "s.csv", kind) {
            let mut faults = Vec::new();
            crate::job_file::sheet::read(&file, &mut faults);
            if !faults.is_empty() {
                judge(Err(faults))?;
            }
        }
    }
}

//! `pithward learn`: what a person sees of a folder of jobs, the new mill file, and what is refused. The jobs are invented; all
//! went slower than the mill file says.

use crate::common::{GENERIC, directory, pithward, printed, refused, told};
use jiff::{Span, ZonedDateTime};
use pithward_day::kept::{Kept, Making};
use pithward_day::promise::Promise;
use pithward_job::read_job;
use pithward_optimizer::plan_pile;
use pithward_tally::{BladeEnd, Doing, Draft, Off, Said, SizeCount, append};
use std::fs;
use std::path::Path;

const MILL: &str = "
[pace] # my own figures
turn = \"40 s\" # by watch

[charges]
hour = \"75 USD/h\"
";

fn text(path: &Path) -> &str {
    path.to_str().expect("a path of plain letters")
}

/// A job of six logs of an invented yard.
fn job(first: u32) -> String {
    let mut text = "site = \"an invented yard\"\n[mill]\nfile = \"mill.toml\"\n".to_owned();
    for n in 0..6 {
        let (small, butt) = (first + n, first + n + 2);
        text += &format!(
            "[[logs]]\nid = \"L{n}\"\nspecies = \"white oak\"\nsmall_end = \"{small} in\"\nbutt = \"{butt} in\"\n\
             length = \"10 ft 3 in\"\n"
        );
    }
    text + "[[wants]]\nsize = \"2x6x10\"\ncount = 20\n[[wants]]\nsize = \"1x6\"\nlengths = \"8/10\"\n"
}

/// Writes a job that is done: its file, its kept promise, its tally. Each log took so many times as long as promised; of every
/// third one a piece less came out.
fn done(folder: &Path, name: &str, first: u32, slower: f64) {
    let file = folder.join(format!("{name}.toml"));
    fs::write(&file, job(first)).expect("a job file");
    let job = read_job(&file, "JOB").expect("the job has no faults");
    let plan = plan_pile(&job.pile(), &()).expect("the job can be planned");
    let promise = Promise::of(&job, &plan, None).expect("the plan can be gone through");
    let making = Making {
        job: &job,
        plan: &plan,
        promise: &promise,
        forecast: None,
        agreed: None,
        program: "test",
        at: "2026-04-01",
    };
    let kept: Kept = making.kept();
    fs::write(file.with_extension("promise"), kept.write()).expect("a promise");
    let mut at: ZonedDateTime =
        "2026-04-02T08:00:00-04:00[America/New_York]".parse().expect("a time");
    let mut drafts = Vec::new();
    let mut say =
        |at: &ZonedDateTime, said: Said| drafts.push(Draft { at: at.clone(), late: false, said });
    say(&at, Said::Begin(Doing::SettingUp));
    at = &at + Span::new().minutes(34);
    for (n, place) in kept.order.iter().enumerate() {
        let log = &kept.logs[*place];
        let sawn = log.sawn.as_ref().expect("it is in the order of sawing");
        say(&at, Said::On { log: log.id.clone() });
        let seconds = sawn.hours.minutes * 60.0 * slower * [0.9, 1.0, 1.1][n % 3];
        at = &at + Span::new().seconds(format!("{seconds:.0}").parse::<i64>().expect("whole"));
        if n == 3 {
            say(&at, Said::Blade { end: BladeEnd::Dull, why: None });
        }
        let mut pieces: Vec<SizeCount> = sawn
            .products
            .iter()
            .map(|of| SizeCount {
                count: of.count,
                typed: of.size.to_string(),
                size: of.size,
                note: None,
            })
            .collect();
        if n % 3 == 0 {
            pieces[0].count -= 1;
        }
        pieces.retain(|piece| piece.count > 0);
        say(&at, Said::Off(Off { log: None, planned: n % 3 != 0, pieces }));
    }
    say(&at, Said::Done { log: None });
    say(&at, Said::Begin(Doing::PackingUp));
    at = &at + Span::new().minutes(25);
    say(&at, Said::Stop);
    append(&file.with_extension("tally"), |_, _| Ok::<_, pithward_tally::AppendFault>(drafts))
        .expect("a tally");
}

#[test]
fn jobs_that_are_done_make_a_new_mill_file() {
    let folder = directory("learn-jobs");
    let mill = folder.join("mill.toml");
    let old = format!("{GENERIC}{MILL}");
    fs::write(&mill, &old).expect("a mill file");
    done(&folder, "one", 12, 1.5);
    done(&folder, "two", 14, 1.4);
    done(&folder, "three", 11, 1.6);
    // Another mill of the same name, and the same mill with another blade.
    let other = |name: &str, from: &str, to: &str| {
        assert!(GENERIC.contains(from), "{from}");
        fs::write(folder.join(format!("{name}-mill.toml")), GENERIC.replace(from, to))
            .expect("a mill file");
        for ending in ["tally", "promise"] {
            let file = folder.join(format!("{name}.{ending}"));
            fs::copy(folder.join(format!("one.{ending}")), file).expect("a copy");
        }
        let job = job(12).replace("mill.toml", &format!("{name}-mill.toml"));
        fs::write(folder.join(format!("{name}.toml")), job).expect("a job file");
    };
    other("longer", "longest = \"20 ft\"", "longest = \"30 ft\"");
    // What cannot be read is told, and stops nothing.
    fs::write(folder.join("alone.tally"), "no tally").expect("a file");
    fs::copy(folder.join("one.toml"), folder.join("unkept.toml")).expect("a copy");
    fs::copy(folder.join("one.tally"), folder.join("unkept.tally")).expect("a copy");
    fs::write(folder.join("broken.toml"), "logs = 3\n[mill]\nfile = \"mill.toml\"\n")
        .expect("a file");
    fs::copy(folder.join("one.tally"), folder.join("broken.tally")).expect("a copy");
    let run = |more: &[&str]| {
        let all = ["learn", text(&folder), "--mill", text(&mill), "--date", "2026-05-02"];
        printed(&pithward(&[&all, more].concat()))
    };
    let page = run(&["--show"]);
    assert!(page.contains("Learned from 3 jobs: 18 logs timed on 3 days"), "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
    let flat = page.split_whitespace().collect::<Vec<_>>().join(" ");
    let another =
        "longer.tally: sawn with a mill of the same name that is built otherwise (longest)";
    assert!(flat.contains(another), "{page}");
    for word in ["take_away_helped", "hardwood_blade"] {
        assert!(page.contains(word), "{word} is broken in\n{page}");
    }
    assert!(flat.contains("No job says anything of"), "{page}");
    for said in ["alone.tally: ", "unkept.tally: ", "broken.tally: ", "WHAT COMES OUT"] {
        assert!(page.contains(said), "no {said:?} in\n{page}");
    }
    let new = folder.join("mill-learned-2026-05-02.toml");
    assert!(!new.exists());
    let page = run(&["--on", text(&folder.join("two.toml"))]);
    assert!(page.contains("Wrote ") && page.contains("on site, after"), "{page}");
    assert_eq!(fs::read_to_string(&mill).expect("it is there"), old);
    let learned = fs::read_to_string(&new).expect("it was written");
    // Every line of the old file but the one of the figure that changed.
    let mut lines = learned.lines();
    for line in old.lines().filter(|line| !line.starts_with("turn") && !line.is_empty()) {
        assert!(lines.any(|of| of == line), "lost: {line}\n{learned}");
    }
    // The same again is there already; another one gets a name of its own.
    assert!(run(&[]).contains("word for word"));
    done(&folder, "four", 13, 1.5);
    assert!(run(&[]).contains("mill-learned-2026-05-02-2.toml"));
    assert_eq!(fs::read_to_string(&new).expect("it is there"), learned);
    // The new file says what a quote reckons with.
    let quoted = folder.join("two.toml");
    let before = printed(&pithward(&["quote", text(&quoted), "--piles", "40"]));
    let job = fs::read_to_string(&quoted).expect("a job file");
    fs::write(&quoted, job.replace("\"mill.toml\"", "\"mill-learned-2026-05-02.toml\""))
        .expect("a job file");
    let after = printed(&pithward(&["quote", text(&quoted), "--piles", "40"]));
    assert!(!before.contains("[recovery]") && after.contains("[recovery]"), "{after}");
    // A learned file is not learned from again.
    let again = pithward(&["learn", text(&folder), "--mill", text(&new)]);
    refused(&again, &["was learned itself, beside mill.toml", "with all jobs"]);
}

#[test]
fn nothing_to_learn_from_is_no_success() {
    let folder = directory("learn-nothing");
    let mill = folder.join("mill.toml");
    fs::write(&mill, GENERIC).expect("a mill file");
    let all = |folder: &str, mill: &str| pithward(&["learn", folder, "--mill", mill]);
    told(&all(text(&folder), text(&mill)), 1, &["Nothing to learn from"]);
    refused(&all(text(&mill), text(&mill)), &["is no folder"]);
    fs::write(&mill, "kerf = 3\n").expect("a mill file");
    refused(
        &all(text(&folder), text(&mill)),
        &["kerf: \"3\" has no unit", "missing from the mill file"],
    );
    fs::write(&mill, GENERIC).expect("a mill file");
    let dated = pithward(&["learn", text(&folder), "--mill", text(&mill), "--date", "May 2"]);
    refused(&dated, &["--date: \"May 2\" is no date"]);
    assert_eq!(fs::read_dir(&folder).expect("it is there").count(), 1);
}

use super::*;
use pithward_job::{PassCount, PlanCounts, Yard};
use pithward_learn::{DayDone, LogDone, Observed, Outcome};

const GENERIC: &str = include_str!("../../../../../data/mills/generic.toml");

/// Twelve logs that took much longer than any by the defaults, and lost some pieces.
fn slow() -> Observed {
    let counts = PlanCounts {
        length: 144.0,
        turns: 3,
        of_log: vec![PassCount { width: 12.0 }; 9],
        pieces: 8,
        ..PlanCounts::default()
    };
    let log = |n: usize| LogDone {
        job: 0,
        id: n.to_string(),
        day: n / 4,
        counts: counts.clone(),
        minutes: Some(60.0),
        changes: 0,
        outcome: Some(Outcome {
            planned: 8,
            came: 7,
            planned_feet: 64_000_000,
            came_feet: 60_000_000,
        }),
    };
    Observed {
        yards: vec![Yard::default()],
        logs: (0..12).map(log).collect(),
        days: vec![DayDone { opening: Some(31.0), first: true, ..DayDone::default() }; 3],
        moves: Vec::new(),
        blades: Vec::new(),
    }
}

fn learned(text: &str) -> Result<LearnedMill, NotWritten> {
    let name = if text.starts_with('{') { "mill.json" } else { "mill.toml" };
    let outfit = parse_outfit(text.as_bytes(), name, "--mill").unwrap();
    let observed = slow();
    let (fit, recovered) = (Fit::of(&outfit.pace, &observed), Recovered::of(&observed));
    let new = MillText {
        text,
        name: "mill.toml",
        on: "2026-05-02",
        jobs: 1,
        fit: &fit,
        recovered: &recovered,
    };
    let new = new.write()?;
    // What it says is what was learned, but for rounding.
    for fitted in &fit.figures {
        let says = fitted.figure.get(&new.outfit.pace);
        assert!((says / fitted.after - 1.0).abs() < 0.011, "{}: {says}", fitted.figure.field());
    }
    let of = new.outfit.learned.as_ref().unwrap();
    assert_eq!(
        (of.from.as_str(), of.on.as_str(), of.jobs, of.logs),
        ("mill.toml", "2026-05-02", 1, 12)
    );
    assert!((of.pace_day.unwrap() - fit.day_to_reckon()).abs() < 6e-4);
    assert!((new.outfit.recovery.hardwood - recovered.recovery().unwrap().hardwood).abs() < 6e-4);
    Ok(new)
}

/// All lines of the old file are in the new one, in their order, but for those of changed fields.
#[track_caller]
fn keeps(old: &str, new: &str, changed: &[&str]) {
    let mut lines = new.lines();
    for line in old.lines() {
        let field = line.split('=').next().unwrap().trim();
        if changed.contains(&field) || line.trim().is_empty() {
            continue;
        }
        assert!(lines.any(|of| of == line), "lost or moved: {line}\n{new}");
    }
}

#[test]
fn a_file_without_a_pace_gets_one_behind_all_that_it_has() {
    let new = learned(GENERIC).unwrap();
    assert!(new.changed.contains(&"turn") && new.changed.contains(&"set_up"), "{:?}", new.changed);
    keeps(GENERIC, &new.text, &[]);
    let before = new.text.find("\n[pace]\n").unwrap();
    assert!(new.text.find("# together = 15").unwrap() < before);
    assert!(
        new.text
            .contains("# learned 2026-05-02 from 3 times; left out before: 20 min\nset_up = \"")
    );
    assert!(new.text.contains(
        "\n[recovery]\n# learned 2026-05-02: 84 of 96 planned pieces came out, of 12 logs\n"
    ));
    assert!(new.text.ends_with('\n'));
}

#[test]
fn lines_comments_and_units_of_the_old_file_stay() {
    let pace = "\n[pace] # my own\n  turn = \"40 s\"   # by watch\nreturn = '27 m/min'\n# odd ones\nutilisation = \"80 %\"\n\
        hardwood_feed = \"9 m/min at 250 mm\"\n\n[charges]\nhour = \"75 USD/h\" # from spring\n# the end";
    let old = format!(
        "{}{pace}",
        GENERIC
            .lines()
            .filter(|line| !line.starts_with('#'))
            .map(|line| format!("{line}\n"))
            .collect::<String>()
    );
    let new = learned(&old).unwrap();
    keeps(&old, &new.text, &["turn", "return", "utilisation", "hardwood_feed"]);
    let turn = new.text.lines().find(|line| line.trim_start().starts_with("turn")).unwrap();
    assert!(turn.starts_with("  turn = \"") && turn.ends_with("\"   # by watch"), "{turn}");
    assert!(new.text.contains("; was 40 s\n  turn = "), "{}", new.text);
    if new.changed.contains(&"hardwood_feed") {
        let feed = new.text.lines().find(|line| line.starts_with("hardwood_feed")).unwrap();
        assert!(feed.ends_with("m/min at 250 mm\""), "{feed}");
    }
    assert!(new.text.contains("# the end\n"));
}

#[test]
fn ends_of_lines_and_a_mark_at_the_beginning_stay() {
    let old = format!("\u{feff}{}", GENERIC.replace('\n', "\r\n"));
    let new = learned(&old).unwrap().text;
    assert!(new.starts_with('\u{feff}'));
    assert_eq!(new.matches('\n').count(), new.matches("\r\n").count());
    keeps(&old, &new, &[]);
}

#[test]
fn a_pace_on_one_line_becomes_a_table() {
    let mut lines: Vec<&str> = GENERIC.lines().filter(|line| !line.starts_with('#')).collect();
    lines.insert(1, "pace = { turn = \"40 s\", helpers = 2 }");
    let old = lines.join("\n");
    let new = learned(&old).unwrap();
    assert_eq!(new.outfit.pace.helpers, 2);
    keeps(&old, &new.text, &["pace"]);
}

#[test]
fn json_is_not_written_anew() {
    let json = "{ \"name\": \"a\", \"kerf\": \"0.1 in\", \"step\": \"1/16 in\", \"largest_diameter\": \"32 in\", \"longest\": \"20 ft\", \
        \"shortest\": \"4 ft\", \"widest_cut\": \"26 in\", \"deepest_above\": \"14 in\", \"lowest_blade\": \"1 in\" }";
    assert_eq!(learned(json).unwrap_err(), NotWritten::Json);
}

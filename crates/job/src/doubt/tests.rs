//! Doubt as people write it, right and wrong.

use super::{Doubt, Measured, Spread};
use crate::job_file::parse_job;
use pithward_measure::Length;
use std::path::Path;
use std::time::Duration;

const SMALL: &str = r#"[[logs]]
id = "1"
small_end = "14 in"
butt = "16 in"
length = "12 ft 4 in"
count = 2

[[wants]]
size = "2x6x8"

[doubt]
"#;

fn doubt(text: &str) -> Result<Doubt, Vec<String>> {
    let text = format!("{SMALL}{text}");
    let told = |faults: Vec<crate::Fault>| faults.iter().map(ToString::to_string).collect();
    parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).map(|job| job.doubt).map_err(told)
}

#[track_caller]
fn check(text: &str, expected: &[&str]) {
    assert_eq!(doubt(text).unwrap_err(), expected);
}

#[test]
fn what_is_left_out_is_as_stated() {
    assert_eq!(doubt("").unwrap(), Doubt::default());
    let told = doubt("measured = \"told\"\n").unwrap();
    assert_eq!(told.spread, Measured::Told.usual());
    assert_eq!(told.stated, ["measured"]);
    let text = SMALL.replace("[doubt]\n", "");
    let job = parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap();
    assert_eq!(job.doubt, Doubt::default());
}

#[test]
fn a_log_may_say_itself_how_it_was_measured() {
    let own = |log: &str, more: &str| {
        let text = SMALL.replace("count = 2\n", log) + more;
        parse_job(text.as_bytes(), "job.toml", "JOB", Path::new(""))
    };
    let eye = own("measured = \"by eye\"\ncount = 2\n", "").unwrap().doubt;
    assert_eq!((eye.measured("1-1"), eye.measured("1-2")), (Measured::Eye, Measured::Eye));
    assert_eq!(eye.spread("1-2"), Measured::Eye.usual());
    // The same said twice is no fault; another is.
    assert!(own("measured = \"Told by the  owner\"\n", "told = \"1\"\n").is_ok());
    for (log, more, expected) in [
        (
            "measured = \"taped\"\n",
            "told = \"1\"\n",
            "told: \"1\" is said to be measured in two ways",
        ),
        ("measured = \"ey\"\n", "", "measured: \"ey\" is no way of measuring"),
    ] {
        let faults = own(log, more).unwrap_err();
        let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert!(said.len() == 1 && said[0].starts_with(expected), "{said:?}");
    }
}

#[test]
fn every_figure_is_the_job_s_own_to_state() {
    let text = "told = \"1-2\"\ndiameter = \"1/2 in\"\ndiameter_shared = \"3 mm\"\ntaper = \"1/8 in\"\n\
        length = \"0 in\"\nrot = 0.5\nrot_radius = \"25 %\"\nrot_length = \"4 ft\"\nmetal = 1\n\
        metal_stretch = \"2 ft\"\nmetal_time = \"15 min\"\npace_day = 0\npace_log = 0.125\n";
    let read = doubt(text).unwrap();
    let spread = Spread {
        diameter: Length::sixty_fourths(32),
        shared: Length::mm(3),
        taper: Length::sixty_fourths(8),
        length: Length::ZERO,
    };
    assert_eq!(read.spread("1-1"), spread);
    assert_eq!(
        (read.measured("1-2"), read.spread("1-2")),
        (Measured::Told, Measured::Told.usual())
    );
    assert_eq!(read.rot.length, Length::feet(4));
    assert_eq!((read.metal.stretch, read.metal.time), (Length::feet(2), Duration::from_secs(900)));
    let shares = [read.rot.share, read.rot.radius, read.metal.share, read.pace_day, read.pace_log];
    let expected = [0.5, 0.25, 1.0, 0.0, 0.125];
    assert!(
        shares.iter().zip(expected).all(|(share, told)| (share - told).abs() < 1e-12),
        "{shares:?}"
    );
    assert!(read.is_stated("rot") && !read.is_stated("measured"));
}

#[test]
fn bad_probabilities_are_named_and_refused_all_at_once() {
    check(
        "rot = 1.5\nrot_radius = -0.1\nmetal = nan\npace_day = inf\npace_log = \"often\"\n",
        &[
            "rot must be between 0 and 1, got \"1.5\"",
            "rot_radius must be between 0 and 1, got \"-0.1\"",
            "metal: \"nan\" is no number from 0 to 1",
            "pace_day: \"inf\" is no number from 0 to 1",
            "pace_log: \"often\" is no number from 0 to 1",
        ],
    );
}

#[test]
fn what_else_may_be_wrong() {
    check(
        "measured = \"guess\"\ntold = [\"9\"]\ntape = [\"1-1\"]\neye = [\"1-1\"]\n\
         diameter = \"-1/4 in\"\nlength = 2\nrot_length = \"200 ft\"\nmetal = true\n\
         metal_time = \"2 h\"\nmetall = 1\n",
        &[
            "measured: \"guess\" is no way of measuring",
            "told: \"9\" is no log of the job",
            "eye: \"1-1\" is said to be measured in two ways",
            "diameter must be between 0 in and 6 in, got \"-1/4 in\"",
            "length: \"2\" has no unit",
            "rot_length must be between 0 in and 100 ft, got \"200 ft\"",
            "metal must be a number from 0 to 1, got \"true\"",
            "metal_time must be an hour at most, got \"2 h\"",
            "\"metall\" is no field of [doubt]; perhaps metal?",
        ],
    );
}

//! Jobs that the tests of this crate plan.

pub(crate) mod pile;
pub(crate) mod real;

use pithward_geometry::{FlawKinds, Log, Mill};
use pithward_job::{
    BarkSource, Charges, HeartRule, LogJob, MillSource, NamedWant, Pace, Stores, Told, WantGrade,
    WantWeight,
};
use pithward_measure::{Length, Scale, Size, Unit};
use pithward_optimizer::{Answer, NearMiss, Obstacle, Planned, Settings, near_misses, open};
use pithward_trade::{SizePolicy, Species, WaneLimit, target};

/// The text, once it is known to be printable on any page.
#[track_caller]
pub(crate) fn fits(text: String) -> String {
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "too wide: {line}");
        assert!(line.is_ascii(), "not plain: {line}");
        assert_eq!(line, line.trim_end());
    }
    assert!(text.ends_with('\n') && !text.contains("\n\n\n"));
    text
}

/// The text with every run of blanks and line breaks as one blank, for sentences that may be broken.
pub(crate) fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a text has these words, however its lines are broken.
#[track_caller]
pub(crate) fn says(text: &str, words: &str) {
    assert!(flat(text).contains(words), "no \"{words}\" in {text}");
}

/// A length as one writes it.
pub(crate) fn length(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

/// An invented mill with a scale in sixteenths.
pub(crate) fn mill() -> Mill {
    Mill {
        toe_board: None,
        name: "invented mill".to_owned(),
        kerf: length("0.1 in"),
        step: Scale::Sixteenths.step(),
        largest_diameter: length("36 in"),
        longest: length("21 ft"),
        shortest: length("4 ft"),
        widest_cut: length("30 in"),
        deepest_above: length("16 in"),
        lowest_blade: length("1 in"),
        crosscut_kerf: length("3/8 in"),
        edging_batch: 6,
    }
}

/// A job in inches: `small`, `butt` and `length`, and wants such as `2x8x12=6` or `1x6`; without a
/// length of its own a want takes every even foot from 8 ft to 16 ft that the log has.
pub(crate) fn job(small: &str, butt: &str, long: &str, wants: &[&str]) -> LogJob {
    job_on(mill(), Scale::Sixteenths, small, butt, long, wants)
}

/// The same on another mill.
pub(crate) fn job_on(
    mill: Mill,
    scale: Scale,
    small: &str,
    butt: &str,
    long: &str,
    wants: &[&str],
) -> LogJob {
    let species = Species::find("white oak").unwrap();
    let [small, butt, long] = [small, butt, long].map(length);
    let log =
        Log::new(small, butt, long, species.bark_thickness(small), species.bark_thickness(butt))
            .unwrap();
    let trim = if scale.is_metric() { Length::mm(50) } else { length("3 in") };
    let wants = wants.iter().map(|text| want(text, long - trim, scale.is_metric())).collect();
    LogJob {
        log,
        species: Some(species),
        bark: BarkSource::Species,
        taped_over_bark: false,
        two_diameters: false,
        settings: Settings::all(&mill),
        methods_named: false,
        mill,
        pace: Pace::default(),
        charges: Charges::default(),
        stores: Stores::default(),
        mill_source: MillSource::File("mill.toml".to_owned()),
        scale,
        policy: SizePolicy::Full,
        trim,
        wants,
        widest: butt,
        told: Told::default(),
        asked: None,
    }
}

fn want(text: &str, longest: Length, metric: bool) -> NamedWant {
    let (size, count) = match text.split_once('=') {
        Some((size, count)) => (size, Some(count.parse().unwrap())),
        None => (text, None),
    };
    let size = Size::parse(size).unwrap();
    let lengths = match size.length {
        Some(length) => vec![length],
        None if metric => (8..20).map(|n| Length::mm(300 * n)).filter(|l| *l <= longest).collect(),
        None => (4..9).map(|n| Length::feet(2 * n)).filter(|l| *l <= longest).collect(),
    };
    let target = target(SizePolicy::Full, &size, None).unwrap();
    let wane = WaneLimit::Legs(Length::ZERO);
    let more_welcome = count.is_none();
    let weight = WantWeight::board_feet(count, more_welcome);
    NamedWant {
        size,
        target,
        count,
        more_welcome,
        lengths,
        wane,
        heart: HeartRule::Any,
        tolerates: FlawKinds::NONE,
        weight,
        grade: WantGrade::default(),
        accepted: true,
    }
}

/// The plan of a job and its near misses, or why there is none.
pub(crate) fn plan(job: &LogJob) -> Result<(Planned, Vec<NearMiss>), Vec<Obstacle>> {
    let wants = job.optimizer_wants();
    match open(&job.log, &job.mill, &wants, &job.settings).unwrap() {
        Answer::Planned(planned) => {
            let near = near_misses(&job.log, &job.mill, &wants, &job.settings, &planned).unwrap();
            Ok((*planned, near))
        }
        Answer::Impossible(obstacles) => Err(obstacles),
    }
}

/// The plan of a job that must have one.
pub(crate) fn planned(job: &LogJob) -> (Planned, Vec<NearMiss>) {
    plan(job).unwrap()
}

use super::{AllSeen, Guess, Quality, Quarters, SeenParts};
use crate::as_grown::Extent;
use crate::fault::{Fault, FaultKind};
use crate::place::Place;
use crate::typed::TypedList;
use pithward_geometry::{Angle, Defect, Log};
use pithward_measure::Length;
use proptest::prelude::*;

const LONG: Length = Length::feet(10);

fn inch(n: i64) -> Length {
    Length::inches(n)
}

/// 16 in at the small end, 20 in at the butt, 10 ft long.
fn log() -> Log {
    Log::new(inch(16), inch(20), LONG, Length::ZERO, Length::ZERO).unwrap()
}

fn read(texts: &[&str]) -> (AllSeen, Vec<Fault>) {
    let texts = texts.iter().map(|text| (*text).to_owned()).collect();
    let mut faults = Vec::new();
    let parts = SeenParts::of_texts(&TypedList { name: "--seen", texts }, &mut faults);
    let round = |across| Some((inch(across), inch(across)));
    let extent =
        Extent { long: Some(LONG), small: round(16), butt: round(20), twice: (false, false) };
    let drafts = parts.read(&extent, Length::ZERO, &mut faults);
    let (log, seen) = drafts.in_log(log(), &mut faults);
    assert_eq!(log.defects(), seen.defects().copied().collect::<Vec<_>>());
    (seen, faults)
}

#[track_caller]
fn check(text: &str, expected: Defect) {
    let (seen, faults) = read(&[text]);
    let said: Vec<String> = faults.iter().map(Fault::to_string).collect();
    assert_eq!(said, Vec::<String>::new(), "{text}");
    let found: Vec<Defect> = seen.each.iter().map(|seen| seen.defect).collect();
    assert_eq!(found, [expected], "{text}");
}

/// Every fault: what is pointed at, and what is said.
#[track_caller]
fn check_faults(texts: &[&str], expected: &[(&str, &str)]) {
    let (_, faults) = read(texts);
    assert_eq!(faults.len(), expected.len(), "{faults:#?}");
    for (fault, (at, said)) in faults.iter().zip(expected) {
        let Place::Value { value, span } = &fault.place else { panic!("{fault}") };
        let pointed_at = if span.is_empty() { value } else { &value[span.clone()] };
        assert_eq!(pointed_at, *at, "{fault}");
        assert!(fault.to_string().contains(said), "{fault}");
        assert!(!fault.help.is_empty());
    }
}

#[test]
fn a_knot_in_every_dress() {
    let knot = Defect::Knot {
        at: LONG - inch(38),
        clock: Angle::degrees(75),
        across: inch(2),
        rise: Length::ZERO,
        clear: Length::ZERO,
    };
    for text in [
        "knot 2:30 3ft2in 2in",
        "knot 2:30 3 ft 2 in 2 in",
        "Knot 2:30 o'clock, 3 ft 2 in, 2 in",
        "knot 75 degrees 38 in 2 in",
        "knot 2:30 at 3 ft 2 in size 2 in",
        "knot size 2 in at 3 ft 2 in clock 2:30",
        "knot 2:30 across 2 in at 82 in off the small end",
        "knot 2:30 82 in off the small end 2 in",
        "knot 2:30 3' 2\" 2\"",
        "knot 2:30 965.2 mm 50.8 mm",
    ] {
        check(text, knot);
    }
    let leaning = Defect::Knot {
        at: LONG,
        clock: Angle::ZERO,
        across: Length::sixty_fourths(96),
        rise: inch(4),
        clear: inch(1),
    };
    check(
        "knot 12 small end 1 1/2 in over 1 in rise 4 in",
        Defect::Knot {
            at: Length::ZERO,
            clock: Angle::ZERO,
            across: Length::sixty_fourths(96),
            rise: inch(4),
            clear: inch(1),
        },
    );
    check("bump 12 butt 1 1/2in grown_over 1 in rise 4 in", leaning);
    // Feet alone before inches are two values as long as there is room for both.
    let near = Defect::Knot {
        at: LONG - Length::feet(3),
        clock: Angle::degrees(60),
        across: inch(2),
        rise: Length::ZERO,
        clear: Length::ZERO,
    };
    check("knot 2 3 ft 2 in", near);
}

#[test]
fn what_nobody_said_is_taken_for_granted_and_told() {
    let (seen, faults) = read(&["bump 3 5 ft 2 in", "seam 6 butt 6 ft", "hole 9 5ft 1in"]);
    assert!(faults.is_empty());
    // Half-way the log is 18 in through; a quarter of 9 in.
    let Defect::Knot { clear, .. } = seen.each[0].defect else { panic!("knot") };
    assert_eq!(clear, Length::sixty_fourths(64 * 9 / 4));
    let Defect::Seam { from, to, depth, .. } = seen.each[1].defect else { panic!("seam") };
    assert_eq!((from, to, depth), (Length::feet(4), LONG, inch(10)));
    let Defect::Hole { depth, .. } = seen.each[2].defect else { panic!("hole") };
    assert_eq!(depth, inch(9));
    let guesses: Vec<Option<Guess>> = seen.each.iter().map(|seen| seen.guess).collect();
    let deep = Some(Guess::ToThePith);
    assert_eq!(guesses, [Some(Guess::GrownOver), deep, deep]);
    assert_eq!(seen.each[1].words, "seam 6 butt 6 ft");
    let (said, _) =
        read(&["bump 3 5 ft 2 in over 1 in", "seam 6 depth 2 in", "hole 9 5ft 1in deep 2in"]);
    assert!(said.each.iter().all(|seen| seen.guess.is_none()));
    let Defect::Seam { from, to, .. } = said.each[1].defect else { panic!("seam") };
    assert_eq!((from, to), (Length::ZERO, LONG));
}

#[test]
fn a_scar_and_a_shell() {
    let scar = Defect::Scar {
        from: Length::feet(5),
        to: Length::feet(8),
        clock: Angle::degrees(270),
        width: Angle::degrees(60),
        depth: inch(1),
    };
    check("scar 9 2 ft 5 ft wide 2 hours depth 1 in", scar);
    check("scar 9 from 2 ft length 3 ft wide 60 degrees depth 1 in", scar);
    let shell =
        |clear: [i64; 4]| Defect::Core { from: Length::ZERO, to: LONG, clear: clear.map(inch) };
    check("shell 3 in", shell([3; 4]));
    check("shell 3in 2in 1 in 4 in", shell([3, 2, 1, 4]));
}

#[test]
fn every_fault_at_once_and_where_it_is() {
    check_faults(
        &["knots 2:30 3 ft 2 in", "", "knot 14 3 fot 2 in", "knot 3 11 ft 0 in", "seam"],
        &[
            ("knots", "\"knots\" is no thing that is seen on a log; perhaps knot?"),
            ("", "is no thing that is seen on a log"),
            ("14", "is no direction on a clock"),
            ("fot", "is not a length"),
            ("11 ft", "must be between 0 in and"),
            ("0 in", "--seen must be between 1/16 in and 10 in"),
            ("seam", "has no clock"),
        ],
    );
    check_faults(&["knot 3 3 ft"], &[("knot 3 3 ft", "--seen has no size")]);
    check_faults(&["knot 3 3 ft 1 in 2 in 4 in 5 in"], &[("4 in 5 in", "is not a length")]);
    check_faults(&["knot 3 3 ft 1 in size 2 in"], &[("2 in", "\"size\" is said twice")]);
    check_faults(
        &["bump 3 butt 2 in over 10 in", "scar 3 wide 3 in depth 11 in"],
        &[
            ("bump 3 butt 2 in over 10 in", "clear wood over the overgrown knot must be"),
            ("scar 3 wide 3 in depth 11 in", "the scar must be more than 0 in and at most"),
        ],
    );
    check_faults(&["shell 3 in", "shell 2 in"], &[("shell 2 in", "\"shell\" is said twice")]);
    check_faults(
        &["shell 3 in 2 in"],
        &[("shell 3 in 2 in", "has no 6"), ("shell 3 in 2 in", "has no 9")],
    );
    check_faults(&["quality clear fine"], &[("fine", "is no quality of a quarter")]);
    let unseen = "quality unseen unseen unseen unseen";
    check_faults(&[unseen], &[(unseen, "has no quarter that was seen")]);
    let (_, faults) = read(&["bump 3 butt 2 in over 10 in"]);
    assert!(matches!(*faults[0].kind, FaultKind::Defect(_)));
}

#[test]
fn a_quality_is_typical_knots_and_a_core() {
    let (seen, faults) = read(&["quality clear few knotty unseen"]);
    assert!(faults.is_empty() && seen.each.is_empty());
    let quarters = seen.quarters.unwrap();
    use Quality::{Clear, Few, Knotty};
    let said = [Some(Clear), Some(Few), Some(Knotty), None];
    assert_eq!((quarters.said, quarters.core), (said, true));
    assert_eq!(Quarters::taken(said), [Clear, Few, Knotty, Knotty]);
    let mut in_quarter = [(0, Length::ZERO); 4];
    for defect in &quarters.defects {
        let Defect::Knot { at, clock, across, .. } = *defect else { continue };
        assert!((Length::ZERO..=LONG).contains(&at) && defect.faults(&log()).is_empty());
        let degrees = clock.as_millidegrees() / 1000;
        let quarter = usize::try_from((degrees + 45).rem_euclid(360) / 90).unwrap();
        in_quarter[quarter] = (in_quarter[quarter].0 + 1, across);
    }
    // 10 ft: of a few knots two or three, of many ten.
    let (thin, thick) = (inch(1), Length::sixty_fourths(96));
    assert_eq!(in_quarter, [(0, Length::ZERO), (3, thin), (10, thick), (10, thick)]);
    // Two thirds of 8 in, down to a sixteenth.
    let clear = [Length::sixty_fourths(340); 4];
    let core = Defect::Core { from: Length::ZERO, to: LONG, clear };
    assert_eq!(quarters.defects.last(), Some(&core));
    let (seen, _) = read(&["quality few", "shell 2 in"]);
    let quarters = seen.quarters.unwrap();
    assert!(!quarters.core && quarters.said == [Some(Few); 4]);
    assert!(quarters.defects.iter().all(|defect| matches!(defect, Defect::Knot { .. })));
    // The same words are the same knots.
    assert_eq!(read(&["quality few"]).0, read(&["quality few few few few"]).0);
}

#[test]
fn a_short_log_has_its_few_knots_too() {
    let [diameter, short] = [inch(12), Length::sixty_fourths(64 * 13)];
    let log = Log::new(diameter, diameter, short, Length::ZERO, Length::ZERO).unwrap();
    let quarters = Quarters::of([Some(Quality::Few); 4], &log, false);
    assert_eq!(quarters.defects.len(), 4);
    assert!(quarters.defects.iter().all(|defect| defect.faults(&log).is_empty()));
}

proptest! {
    #[test]
    fn prop_no_text_panics(text in prop_oneof![
        any::<String>(),
        "(knot|bump|seam|scar|hole|shell|quality)( [0-9]{1,2}(:30)?| [0-9]/[0-9]| in| ft| off| small| end| at| size| few|,|=|\u{b0}){0,9}",
    ]) {
        let (_, faults) = read(&[&text]);
        for fault in faults {
            if let Place::Value { value, span } = &fault.place {
                prop_assert!(value.get(span.clone()).is_some());
            }
        }
    }
}

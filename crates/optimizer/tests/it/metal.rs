//! Metal orders the passes: of programs that are worth the same, what must be sawn near it comes last. Logs and zones by
//! hand, one for every family that may choose its order.

use pithward_geometry::{Angle, Flaw, FlawKind, FlawKinds, Frame, Heart, Log, Mill, Place, Region};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{
    Answer, Begun, Cut, HalfSawn, LogPlan, Method, NearMetal, Planned, ResumeAnswer, Settings,
    Want, open, open_laid, resume,
};
use pithward_trade::Wane;

fn mill() -> Mill {
    Mill {
        name: "test".to_owned(),
        kerf: Length::sixty_fourths(8),
        step: Length::sixty_fourths(4),
        largest_diameter: Length::inches(36),
        longest: Length::feet(20),
        shortest: Length::feet(4),
        widest_cut: Length::inches(28),
        deepest_above: Length::inches(20),
        lowest_blade: Length::inches(1),
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
        toe_board: None,
    }
}

/// A size in inches, 8 ft long, as many as come.
fn want(thickness: i64, width: i64) -> Want {
    let [thickness, width] = [thickness, width].map(Length::inches);
    let length = Length::feet(8);
    let board_feet = board_feet_micro(thickness, width, length);
    Want {
        count: None,
        wane: Wane::NONE,
        heart: Heart::Any,
        tolerates: FlawKinds::NONE,
        grading: None,
        rings: None,
        cuts: vec![Cut {
            thickness,
            width,
            length,
            take: length,
            board_feet,
            worth: board_feet,
            extra: board_feet,
        }],
    }
}

fn wants() -> Vec<Want> {
    vec![want(1, 4), want(1, 6), want(1, 8), want(2, 6), want(2, 8), want(6, 6)]
}

/// A log of 18 in without taper; in it an inch of metal under the bark toward a clock direction, over its middle foot.
fn log(clock: i32) -> Log {
    let inches = Length::inches;
    let region =
        Region::Side { clock: Angle::degrees(clock), width: Angle::degrees(8), depth: inches(1) };
    let flaw = Flaw { kind: FlawKind::Metal, from: inches(42), to: inches(54), region };
    let log = Log::new(inches(18), inches(18), inches(97), Length::ZERO, Length::ZERO);
    log.expect("a log").with_flaws(vec![flaw])
}

fn settings(methods: &[Method]) -> Settings {
    Settings { methods: methods.to_vec(), ..Settings::all(&mill()) }
}

/// The log as it lies, 12 o'clock the frame's own up.
fn laid(clock: i32, method: Method) -> LogPlan {
    let answer = open_laid(&log(clock), &mill(), &wants(), &settings(&[method]), Frame::LEVEL);
    match answer.expect("no fault") {
        Answer::Planned(planned) => planned.plan,
        Answer::Impossible(why) => panic!("{why:?}"),
    }
}

fn opened(clock: i32, methods: &[Method]) -> Planned {
    match open(&log(clock), &mill(), &wants(), &settings(methods)).expect("no fault") {
        Answer::Planned(planned) => *planned,
        Answer::Impossible(why) => panic!("{why:?}"),
    }
}

/// The directions that come up, degrees.
fn turns(plan: &LogPlan) -> Vec<i32> {
    plan.order.stages.iter().map(|stage| stage.rest.turn.as_millidegrees() / 1000).collect()
}

/// The stages, from 1, in which passes come near metal.
fn near(plan: &LogPlan) -> Vec<usize> {
    let mut stages: Vec<usize> = Vec::new();
    for (place, _) in &plan.replayed.metal {
        if let Place::Log { stage } = place
            && !stages.contains(stage)
        {
            stages.push(*stage);
        }
    }
    stages
}

#[test]
fn through_and_through_begins_on_the_side_away_from_metal() {
    for (clock, up) in [(0, 180), (180, 0)] {
        let plan = laid(clock, Method::Through);
        assert_eq!(turns(&plan), [up], "metal toward {clock}");
        assert_eq!(plan.near_metal().sooner, 0, "{:?}", plan.replayed.metal);
        assert!(plan.near_metal().passes > 0, "it is near the last boards");
    }
}

#[test]
fn turned_once_metal_comes_last_of_all() {
    for (clock, ups) in [(0, [180, 0]), (180, [0, 180])] {
        let plan = laid(clock, Method::ThroughTurned);
        assert_eq!(turns(&plan), ups, "metal toward {clock}");
        assert_eq!(near(&plan), [2]);
        assert_eq!(plan.near_metal().sooner, 0, "{:?}", plan.replayed.metal);
    }
}

#[test]
fn the_face_of_a_cant_that_holds_metal_comes_after_the_one_across() {
    for method in [Method::TwoSidedCant, Method::FourSidedCant, Method::BoxedHeart] {
        for (clock, first) in [(0, 180), (180, 0)] {
            let plan = laid(clock, method);
            assert_eq!(turns(&plan)[..2], [first, clock], "{method:?}, metal toward {clock}");
            assert!(near(&plan).iter().all(|stage| *stage > 1), "{:?}", plan.replayed.metal);
        }
    }
    // Beyond the cant's other faces it is the last of all.
    for method in [Method::FourSidedCant, Method::BoxedHeart] {
        for (clock, third) in [(90, 270), (270, 90)] {
            let plan = laid(clock, method);
            assert_eq!(turns(&plan)[2..], [third, clock], "{method:?}, metal toward {clock}");
            assert_eq!(near(&plan), [4], "{method:?}: {:?}", plan.replayed.metal);
        }
    }
    for (clock, third) in [(90, 270), (270, 90)] {
        let plan = laid(clock, Method::TwoSidedCant);
        assert_eq!(turns(&plan)[2..], [third], "metal toward {clock}");
        assert_eq!(plan.near_metal().sooner, 0, "{:?}", plan.replayed.metal);
    }
}

#[test]
fn around_each_layer_ends_on_the_side_of_metal() {
    for (clock, first) in [(0, 180), (180, 0)] {
        assert_eq!(turns(&laid(clock, Method::Around))[..2], [first, clock], "toward {clock}");
    }
    for (clock, third) in [(90, 270), (270, 90)] {
        let plan = laid(clock, Method::Around);
        assert_eq!(turns(&plan)[2..4], [third, clock], "metal toward {clock}");
        assert!(near(&plan).iter().all(|stage| *stage >= 4), "{:?}", plan.replayed.metal);
    }
}

#[test]
fn of_quarters_those_near_metal_come_last() {
    // Which half comes first follows from how the log lies: no frame of the same planes has metal later.
    for clock in [0, 180] {
        let planned = opened(clock, &[Method::Quarter]);
        let frame = planned.plan.order.frame.half_turned();
        let log = log(clock);
        let other = open_laid(&log, &mill(), &wants(), &settings(&[Method::Quarter]), frame);
        if let Answer::Planned(other) = other.expect("no fault")
            && other.plan.worth >= planned.plan.worth
        {
            assert!(planned.plan.near_metal() <= other.plan.near_metal());
        }
    }
}

#[test]
fn worth_is_never_given_for_it_and_what_it_would_take_is_told() {
    let mut told = 0;
    for clock in [0, 40, 90, 200] {
        let planned = opened(clock, &Method::USUAL);
        let best = planned.methods.iter().map(|result| result.worth).max();
        assert_eq!(Some(planned.plan.worth), best);
        if let Some(later) = planned.plan.later {
            told += 1;
            assert!(later.near < planned.plan.near_metal() && later.worth >= 0, "{later:?}");
            let own = planned.methods.iter().find(|result| result.method == later.method);
            assert_eq!(own.map(|own| planned.plan.worth - own.worth), Some(later.worth));
        }
    }
    assert!(told > 0, "nothing would come near it later");
}

#[test]
fn a_nail_that_is_found_turns_the_log_over_first() {
    let found = log(0);
    let sound =
        Log::new(found.small_end(), found.butt(), found.length(), Length::ZERO, Length::ZERO);
    let sound = sound.expect("a log");
    let (mill, wants) = (mill(), wants());
    for method in [Method::ThroughTurned, Method::FourSidedCant, Method::Around] {
        let settings = settings(&[method]);
        let answer = open_laid(&sound, &mill, &wants, &settings, Frame::LEVEL).expect("no fault");
        let Answer::Planned(planned) = answer else { panic!("{method:?}") };
        let plan = &planned.plan;
        // Nothing is sawn yet, and one pass is.
        for made in [0, 1] {
            let begun = Begun::of(&plan.order, made);
            let half = HalfSawn { begun: &begun, plan: Some(plan) };
            let answer = resume(&found, &mill, &wants, &settings, half).expect("no fault");
            let ResumeAnswer::Resumed(resumed) = answer else { panic!("{method:?}: {answer:?}") };
            assert!(Some(resumed.plan.worth) >= resumed.as_it_stands, "{method:?}");
            let near = resumed.plan.near_metal();
            let stands = NearMetal::of(&plan.order, &stands(&found, plan));
            if Some(resumed.plan.worth) == resumed.as_it_stands {
                assert!(near <= stands, "{method:?}, {made} made: {near:?} of {stands:?}");
            }
        }
    }
}

/// The passes of a plan that come near metal in a log.
fn stands(log: &Log, plan: &LogPlan) -> Vec<(Place, usize)> {
    let mut order = plan.order.clone();
    order.pieces.clear();
    let replayed = pithward_geometry::confirm(log, &mill(), &order, mill().step);
    replayed.expect("the same passes").0.metal
}

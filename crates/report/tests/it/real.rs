//! Cards of logs that are not round, straight and sound: which way they lie, what is raised, what is in the wood.

use crate::common;

use crate::common::pile::{log, pile_job, planned_pile};
use crate::common::real::{
    bowed, by_hand, crooked, end, flaw, real_job, real_job_on, taped, try_by_hand,
};
use crate::common::{fits, flat, job, job_on, length, mill, planned, says};
use pithward_geometry::{
    Angle, End, Flare, Flaw, FlawKind, Frame, Log, Mill, Region, ShapeRequest, Support, Taped,
    replay::Place,
};
use pithward_job::{BarkSource, LogJob, LogScales, NamedFlaw, Told, read_shape};
use pithward_measure::{Length, Scale};
use pithward_optimizer::{LogFate, Method, Planned};
use pithward_report::{card, pile_card, pile_summary};
use pithward_trade::{CubicFeet, DiameterRounding};

/// The card of a plan made by hand.
fn by_hand_card(job: &LogJob, frame: Frame) -> (Planned, String) {
    let planned = by_hand(job, frame, Length::ZERO);
    let text = fits(card(job, &planned, &[]));
    (planned, text)
}

fn inches(job: &LogJob, inches: f64) -> String {
    job.scale.show(Length::from_inches_f64(inches)).to_string()
}

fn with_toe_board(at: &str) -> Mill {
    Mill { toe_board: Some(length(at)), ..mill() }
}

#[test]
fn a_belly_that_lies_down_carries_the_log_and_its_pith_lies_higher() {
    let job = real_job(bowed("2 in", 180), Vec::new(), &["2x6x8"]);
    let (planned, text) = by_hand_card(&job, Frame::LEVEL);
    says(&text, "shape bowed 2 in toward 6 o'clock, most at 6 ft 2 in from the butt");
    says(&text, "It lies as it was measured, 12 o'clock up: belly down.");
    says(&text, "FACE A on its bark, 12 o'clock up");
    // Half way the radius is 7 3/8 in, 1/2 in the bark, and the bow 2 in; the taper adds 2/100 in a little further
    // down. The butt alone would be 8 1/4 in.
    let (small, butt) = planned.plan.replayed.pith[0];
    assert!((small - 9.893).abs() < 0.005 && (butt - small).abs() < 1e-9, "{small}");
    let hangs = planned.plan.replayed.hangs[0].unwrap();
    // The taper puts the lowest point below the middle.
    let (from, to) = planned.plan.replayed.carried[0];
    let carried = Length::from_inches_f64(0.5 * (from + to));
    assert!((length("6 ft 3 in")..length("7 ft 6 in")).contains(&carried));
    says(
        &text,
        &format!(
            "The belly carries it, {} from the butt, and it rocks: wedge both ends, the small end {} \
             and the butt {} off the bed, until the pith stands {} over the bed at both ends, {} more than \
             if the ends alone carried it",
            job.scale.show_long((job.log.length() - carried).round_to(Length::inches(1))),
            inches(&job, small - 7.5),
            inches(&job, small - 8.25),
            inches(&job, small),
            inches(&job, hangs.butt),
        ),
    );
    says(&text, "Its horns are up: face A takes them off, face B the belly.");
    says(
        &text,
        "FACE B TURN HALF ROUND (180): face A down on the bed The 12 o'clock mark points to 6 \
         o'clock: belly up.",
    );
    says(
        &text,
        "The 12 o'clock mark points to 9 o'clock: the bow flat, belly away from the stops.",
    );
}

#[test]
fn a_log_turned_by_the_clock_says_where_its_mark_and_its_belly_go() {
    let job = real_job(bowed("2 in", 180), Vec::new(), &["2x6x8"]);
    let (_, text) = by_hand_card(&job, Frame::turned(Angle::degrees(64)));
    says(
        &text,
        "Turn it until 2 o'clock (64 degrees clockwise from 12) is up; the 12 o'clock mark then points to \
         10 o'clock: belly at 4 o'clock as it lies.",
    );
    says(&text, "The bow lies askew, as these planes give most;");
    says(
        &text,
        "laid 2 o'clock (64 degrees clockwise from 12) up, belly at 4 o'clock as it lies; the best \
         of 36 ways tried, by a rough search of each the poorest gives at least 10 % less.",
    );
}

#[test]
fn what_is_raised_is_told_at_the_toe_board_by_the_lever_rule() {
    let job =
        job_on(with_toe_board("8 ft"), Scale::Sixteenths, "16 in", "20 in", "12 ft", &["2x6x8"]);
    let (planned, near) = planned(&job);
    let lift = planned.plan.order.stages[0].rest.lift.inches_f64();
    let text = fits(card(&job, &planned, &near));
    says(
        &text,
        &format!(
            "Raise the toe board {}, 8 ft along the bed from what carries the butt (the small end itself comes \
             up {}), until the pith stands ",
            inches(&job, lift * 8.0 / 12.0),
            inches(&job, lift)
        ),
    );
    let far =
        job_on(with_toe_board("14 ft"), Scale::Sixteenths, "16 in", "20 in", "12 ft", &["2x6x8"]);
    let text = fits(card(&far, &planned_of(&far), &[]));
    says(&text, "(at the very end: the toe board lies beyond it), until");
    let none = job_on(mill(), Scale::Sixteenths, "16 in", "20 in", "12 ft", &["2x6x8"]);
    let text = fits(card(&none, &planned_of(&none), &[]));
    says(&text, &format!("Raise the small end {} (at the very end), until", inches(&none, lift)));
}

fn planned_of(job: &LogJob) -> Planned {
    planned(job).0
}

#[test]
fn an_axis_along_the_bark_is_told_by_the_piths_heights_and_the_face_that_it_follows() {
    let small = end("16 in", "16 in", 0, ("1 in", 90), "0 in");
    let butt = end("18 in", "18 in", 0, ("1 in", 90), "0 in");
    let job = real_job(taped(small, butt), Vec::new(), &["2x6x8"]);
    let along = |inches| Frame { drift_h: Length::inches(inches), ..Frame::LEVEL };
    let (planned, text) = by_hand_card(&job, along(1));
    let (at_small, at_butt) = planned.plan.replayed.pith[0];
    assert!((at_small - at_butt - 1.0).abs() < 0.001);
    says(
        &text,
        &format!(
            "until the pith stands {} over the bed at the small end and {} at the butt (on purpose: the cuts \
             then follow the bark on top, that of face A); the pith decides",
            inches(&job, at_small),
            inches(&job, at_butt)
        ),
    );
    // The other way round it lies along all of its lower bark.
    let (_, text) = by_hand_card(&job, along(-1));
    says(&text, "Nothing to raise: the pith stands ");
    says(
        &text,
        "(on purpose: the cuts then follow the bark that lies down, that of face B). Clamp.",
    );
}

#[test]
fn a_butt_that_lies_higher_than_its_small_end_is_raised_itself() {
    let small = end("16 in", "16 in", 0, ("0 in", 0), "0 in");
    let butt = end("17 in", "17 in", 0, ("1 1/2 in", 180), "0 in");
    let job = real_job(taped(small, butt), Vec::new(), &["2x6x8"]);
    let (planned, text) = by_hand_card(&job, Frame::LEVEL);
    assert!(planned.plan.order.stages[0].rest.lift < Length::ZERO);
    // Below the pith the butt has 8 1/2 less 1 1/2 in, the small end 8 in.
    says(
        &text,
        "Raise the butt 1 in (at the very end), until the pith stands 8 in over the bed at both \
         ends",
    );
}

#[test]
fn a_flare_that_carries_the_butt_is_told() {
    let flare = Flare { length: length("18 in"), extra: length("3 in") };
    let job = real_job(Taped { flare: Some(flare), ..bowed("0 in", 0) }, Vec::new(), &["2x6x8"]);
    let (_, text) = by_hand_card(&job, Frame::LEVEL);
    says(&text, "flares by 3 in over 1 ft 6 in");
    says(&text, "until the pith stands 9 3/4 in over the bed at both ends");
    says(
        &text,
        "The flare carries the butt: the pith lies there 1 1/2 in higher than the stem alone would \
         hold it.",
    );
}

/// Metal on one side, at the butt.
fn nails(clock: i32) -> NamedFlaw {
    let region = Region::Side {
        clock: Angle::degrees(clock),
        width: Angle::degrees(60),
        depth: length("3 in"),
    };
    let (from, to) = (length("7 ft 4 in"), length("12 ft 4 in"));
    let words = "metal, toward 9, depth 3 in, wide 8 in, from butt, to 5 ft";
    flaw(words, Flaw { kind: FlawKind::Metal, from, to, region })
}

#[test]
fn metal_is_told_with_the_passes_that_come_near_it() {
    let job = real_job(bowed("0 in", 0), vec![nails(270)], &["2x6x8"]);
    let (planned, text) = by_hand_card(&job, Frame::LEVEL);
    let near: Vec<u32> = planned
        .plan
        .replayed
        .metal
        .iter()
        .filter_map(|(place, pass)| match place {
            // One pass for face A, one for face B, three for face C.
            Place::Log { stage } => Some(u32::try_from(stage - 1 + pass).unwrap()),
            Place::Resaw { .. } | Place::Edging { .. } => None,
        })
        .collect();
    assert!(!near.is_empty() && near.len() < 5, "{near:?}");
    says(&text, "flaws metal, toward 9, depth 3 in, wide 8 in, from butt, to 5 ft");
    says(
        &text,
        "METAL (toward 9, depth 3 in, wide 8 in, from butt, to 5 ft): scan each fresh face with a \
         detector before the next pass.",
    );
    says(&text, "the metal toward the stops");
    says(&text, "m metal, from the butt to 5 ft");
    // As often on the lines of passes as replay found it.
    assert_eq!(flat(&text).matches("METAL NEAR, scan first").count(), near.len(), "{text}");
    let lines = text.split("FACE A").nth(1).unwrap().split("TRIM").next().unwrap();
    for pass in 1..=5 {
        // The words of a pass go on until the next one, or its face is done.
        let own = lines.split(&format!("\n     {pass}   ")).nth(1).unwrap();
        let end = format!("\n     {}   ", pass + 1);
        let own = own.split(end.as_str()).next().unwrap().split("\nFACE").next().unwrap();
        assert_eq!(flat(own).contains("METAL NEAR, scan first"), near.contains(&pass), "{pass}");
    }
}

#[test]
fn loose_wood_is_warned_of_and_a_flaw_is_drawn_where_it_lies() {
    let ring = Region::Ring { inner: length("4 in"), outer: length("4 1/4 in") };
    let shake =
        Flaw { kind: FlawKind::Shake, from: Length::ZERO, to: length("12 ft 4 in"), region: ring };
    let mut job = real_job(bowed("1 in", 0), vec![flaw("shake, radius 4 in", shake)], &["2x4x8"]);
    job.settings.methods = vec![Method::Through];
    let planned = planned_of(&job);
    let text = fits(card(&job, &planned, &[]));
    says(&text, "LOOSE WOOD (shake): parts may fall off or spring as they are freed.");
    let drawing = text.split("SMALL END").nth(1).unwrap().split("FACE A").next().unwrap();
    assert!(drawing.matches('s').count() > 20 && drawing.contains('+'), "{drawing}");
    says(drawing, "The mark + is the pith; s shake, from end to end.");
    // Nobody is told of metal where there is none.
    assert!(!text.contains("METAL"), "{text}");
}

#[test]
fn a_strip_is_cut_back_at_the_butt_before_its_first_piece() {
    let job = real_job(bowed("1 in", 180), Vec::new(), &["2x6x8"]);
    let planned = by_hand(&job, Frame::LEVEL, length("3 ft 1 in"));
    let text = fits(card(&job, &planned, &[]));
    says(&text, "2x6x8 cut off 3 ft 1 in, then 8 ft 3 in: from 4 and 5");
    let planned = by_hand(&job, Frame::LEVEL, Length::ZERO);
    says(&card(&job, &planned, &[]), "2x6x8 cut 8 ft 3 in: from 4 and 5");
}

#[test]
fn an_oval_is_drawn_as_it_lies() {
    let small = end("18 in", "12 in", 90, ("0 in", 0), "0 in");
    let butt = end("19 in", "13 in", 90, ("0 in", 0), "0 in");
    let job = real_job(taped(small, butt), Vec::new(), &["2x6x8"]);
    // How high the drawing is, in columns of its width.
    let drawn = |frame| {
        let text = by_hand_card(&job, frame).1;
        let drawing = text.split("SMALL END").nth(1).unwrap().split("Numbers").next().unwrap();
        let rim: Vec<(usize, usize)> = drawing
            .lines()
            .skip(2)
            .filter_map(|line| Some((line.find('.')?, line.rfind('.')?)))
            .collect();
        let left = rim.iter().map(|(from, _)| *from).min().unwrap();
        let right = rim.iter().map(|(_, to)| *to).max().unwrap();
        2.0 * f64::from(u32::try_from(rim.len()).unwrap())
            / f64::from(u32::try_from(right + 1 - left).unwrap())
    };
    let (lying, upright) = (drawn(Frame::LEVEL), drawn(Frame::turned(Angle::degrees(90))));
    assert!((lying - 12.0 / 18.0).abs() < 0.06, "{lying}");
    assert!((upright - 18.0 / 12.0).abs() < 0.06, "{upright}");
    let text = by_hand_card(&job, Frame::LEVEL).1;
    assert!(text.starts_with(
        "CUT CARD   18 x 12 in small end, 19 x 13 in butt, 12 ft 4 in long, white oak\n"
    ));
    says(&text, "12 o'clock up: the long axis lying.");
    let text = by_hand_card(&job, Frame::turned(Angle::degrees(30))).1;
    says(&text, "the long axis at 2 o'clock as it lies");
}

#[test]
fn a_searched_plan_of_a_crooked_log_says_all_that_is_needed() {
    for methods in [vec![Method::Through], vec![Method::FourSidedCant], vec![Method::BoxedHeart]] {
        let mut job = real_job(crooked(), Vec::new(), &["2x6x8", "6x6x8", "1x4"]);
        job.settings.methods = methods;
        let (planned, near) = planned(&job);
        let text = fits(card(&job, &planned, &near));
        for words in [
            "shape small end 16 in by 14 1/2 in, the longer toward 2 o'clock; butt 18 in by 16 1/2 \
             in",
            "bent 1/2 in toward 9 o'clock at 4 ft 4 in from the butt",
            "pith 1 in toward 4 o'clock at the small end",
            "on the log as it was measured, for laying it as this card says and for the places of \
             its faces",
            "log as it was taped,",
        ] {
            says(&text, words);
        }
        assert!(!text.contains("round and straight"), "{text}");
        let stages = planned.plan.order.stages.iter().zip(&planned.plan.replayed.pith);
        for (_, (small, butt)) in stages.filter(|(stage, _)| stage.rest.on == Support::Bark) {
            says(&text, &format!("the pith stands {} over the bed", inches(&job, *small)));
            says(&text, &inches(&job, *butt));
        }
    }
}

#[test]
fn no_card_of_a_crooked_log_is_too_wide() {
    for clock in (0..360).step_by(40) {
        let taped = Taped { sweep: bowed("2 in", clock).sweep, ..crooked() };
        let job = real_job_on(with_toe_board("7 ft"), taped, vec![nails(clock)], &["2x6x8"]);
        let frame = Frame {
            turn: Angle::degrees(clock / 3),
            drift_u: length("1/2 in"),
            drift_h: length("3/4 in"),
        };
        // By hand a piece may be where the nails are: then there is no such plan, and no card.
        if let Ok(planned) = try_by_hand(&job, frame, length("2 ft")) {
            fits(card(&job, &planned, &[]));
        }
        let planned = planned_of(&job);
        fits(card(&job, &planned, &[]));
    }
}

#[test]
fn the_order_of_a_pile_says_what_stands_out_and_each_card_how_it_is_laid() {
    let mut logs = vec![
        log("A1", "white oak", "15 in", "16 1/2 in", "12 ft 4 in"),
        log("A2", "white oak", "15 in", "16 1/2 in", "12 ft 4 in"),
    ];
    let bent = bowed("2 in", 180);
    logs[1].log = Log::taped(&bent).unwrap();
    logs[1].told = Told { taped: Some(bent), ..Told::default() };
    let job = pile_job(logs, &["2x6x8", "1x4"]);
    let (pile, plan) = planned_pile(&job);
    let summary = fits(pile_summary(&job, &pile, &plan));
    let line = summary.lines().find(|line| line.contains(" A2 ")).unwrap();
    assert!(line.contains("bowed 2 in"), "{summary}");
    says(
        &summary,
        "on the logs as they were measured; of those that are not round, straight and sound for \
         the ways of laying them",
    );
    let text = fits(pile_card(&job, &pile, &plan, 1));
    let LogFate::Sawn(sawn) = &plan.logs[1] else { panic!("it is sawn") };
    says(&text, "laid ");
    says(&text, &format!("the best of {} ways tried", sawn.rests.tried));
    let round = fits(pile_card(&job, &pile, &plan, 0));
    assert!(!flat(&round).contains(" laid "), "{round}");
}

#[test]
fn a_log_that_was_scanned_is_told_by_what_it_looks_like() {
    let bytes = include_bytes!("../../../../data/shapes/crooked.ply");
    let measured = read_shape("crooked.ply", bytes, &ShapeRequest::default()).unwrap();
    let log = measured.log;
    let like = job("14 in", "15 in", "12 ft 4 in", &["2x4x8", "1x4x6"]);
    let job = LogJob { widest: log.butt(), log, bark: BarkSource::Given, ..like };
    let looks = job.log.looks().unwrap();
    let planned = planned_of(&job);
    let text = fits(card(&job, &planned, &[]));
    says(
        &text,
        &format!("shape measured all round at {} stations; ", job.log.sections().unwrap().len()),
    );
    let eighths = |length| Scale::Eighths.show(length).to_string();
    says(&text, &format!("bowed {} toward ", eighths(looks.bow.depth)));
    says(&text, &format!(" x {}, the longer toward", eighths(looks.small_end.shorter)));
    says(&text, "white oak, mean diameters");
    says(&text, "log as it was measured, straight from station to station");
    says(&text, "The mark + is the pith.");
}

#[test]
fn the_rules_scale_a_crooked_log_as_if_it_were_round_and_it_is_said() {
    let job = real_job(crooked(), Vec::new(), &["2x6x8"]);
    let scales = LogScales {
        log: job.log.clone(),
        species: None,
        bark: BarkSource::Given,
        taped_over_bark: false,
        trim: Length::ZERO,
        rounding: DiameterRounding::Nearest,
        rules: Vec::new(),
        smalian: CubicFeet::new(20.0),
        cone: CubicFeet::new(19.0),
        weight: None,
        told: job.told.clone(),
    };
    let text = fits(pithward_report::scales(&scales));
    says(
        &text,
        "What a scaler takes off for sweep, rot, shake or splits is in none of their tables",
    );
    says(&text, &format!("as it grew, solid {:.2} cubic feet", job.log.volume() / 1728.0));
    let round = common::job("14 in", "15 in", "12 ft", &["2x6x8"]).log;
    let text =
        fits(pithward_report::scales(&LogScales { log: round, told: Told::default(), ..scales }));
    assert!(!flat(&text).contains("as it grew") && !flat(&text).contains("sweep"), "{text}");
}

#[test]
fn a_waney_edge_of_a_crooked_log_is_set_by_its_centre_line() {
    let mut job = real_job(crooked(), Vec::new(), &["2x6x8", "1x4"]);
    job.settings.methods = vec![Method::Through];
    let planned = planned_of(&job);
    let text = fits(card(&job, &planned, &[]));
    says(&text, "A waney edge is set by its centre line");
    let eighths = |inches| Scale::Eighths.show(Length::from_inches_f64(inches)).to_string();
    for middles in &planned.plan.replayed.edging_middle {
        let (small, butt) = middles[0].unwrap();
        let [small, butt] = [small, butt].map(eighths);
        if small == butt {
            says(&text, &format!("{small} at both ends"));
        } else {
            says(&text, &format!("{small} at the small end, {butt} at the butt"));
        }
    }
}

#[test]
fn a_round_log_is_told_as_before() {
    let job = job("16 in", "17 1/2 in", "12 ft 4 in", &["2x6x8"]);
    let text = fits(card(&job, &planned_of(&job), &[]));
    says(&text, "any side may be up. Mark 12 o'clock and the pith on the small end");
    assert!(!flat(&text).contains(" laid ") && !flat(&text).contains("The mark +"), "{text}");
    let end = |across: &str| end(across, across, 0, ("0 in", 0), "0 in");
    let plain: [End; 2] = [end("14 in"), end("15 in")];
    assert!(Log::taped(&taped(plain[0], plain[1])).unwrap().is_round());
}

//! Cards of real plans: the lines that a sawyer stakes a log on, and that no line is too wide.

use crate::common::{fits, flat, job, job_on, length, mill, plan, planned};
use pithward_geometry::{Log, Mill, PartId};
use pithward_job::{BarkSource, LogJob};
use pithward_measure::{Length, Scale};
use pithward_optimizer::{Fate, Little, Method, NearMiss, Obstacle, Planned, WantId, WhyNone};
use pithward_report::{card, counts, impossible, json};
use pithward_trade::{Finish, SizePolicy, Wane, WaneLimit};

fn printed(job: &LogJob) -> (Planned, String) {
    let (planned, near) = planned(job);
    let text = fits(card(job, &planned, &near));
    (planned, text)
}

fn millimetres() -> Mill {
    Mill { step: Length::mm(1), kerf: Length::nm(2_500_000), ..mill() }
}

#[test]
fn a_24_in_log_with_counts() {
    let job = job("24 in", "26 1/2 in", "12 ft 4 in", &["2x8x12=6", "2x6x12=8", "1x6x12"]);
    let (planned, text) = printed(&job);
    assert!(
        text.starts_with(
            "CUT CARD   24 in small end, 26 1/2 in butt, 12 ft 4 in long, white oak\n"
        )
    );
    for section in [
        "\nSET-UP\n",
        "\nSMALL END ",
        "\nFACE A ",
        "\nTRIM ",
        "\nTALLY\n",
        "\nHOW GOOD\n",
        "\nASSUMED ",
        "\nCAUTIONS\n",
    ] {
        assert!(text.contains(section), "no {section} in {text}");
    }
    // Every pass of the log has its line, with its number and its height on the scale.
    let heights = planned.plan.order.stages.iter().flat_map(|stage| &stage.passes);
    let flat = flat(&text);
    for (n, pass) in heights.enumerate() {
        let line = format!(" {} {} ", n + 1, Scale::Sixteenths.bare(pass.printed));
        assert!(flat.contains(&line), "no pass{line}in {text}");
    }
    for (n, stage) in planned.plan.order.stages.iter().enumerate() {
        let fact = planned.plan.replayed.passes[n][0].opening_small_end;
        let width = Scale::Eighths.show(Length::from_inches_f64(fact)).to_string();
        let opens = ["at the small end", "from end to end"]
            .map(|where_to| format!("opens {width} wide {where_to}"));
        assert!(opens.iter().any(|opens| flat.contains(opens)), "stage {n}");
        assert!(!stage.passes.is_empty());
    }
}

#[test]
fn every_face_says_what_goes_where() {
    let mut job = job("24 in", "26 1/2 in", "12 ft 4 in", &["2x8x12", "1x6x12"]);
    job.settings.methods = vec![Method::FourSidedCant];
    let (_, text) = printed(&job);
    let flat = flat(&text);
    for line in [
        "FACE A on its bark, 12 o'clock mark up",
        "FACE B TURN HALF ROUND (180): face A down on the bed",
        "FACE C TURN A QUARTER (90): face A against the side stops, bark down",
        "FACE D TURN HALF ROUND (180): face C down on the bed, face B against the side stops",
        "LEVEL THE PITH AGAIN. Raise the small end 1 3/8 in (at the very end), until the pith stands 14 1/4 in over the bed \
         at both ends",
        "It lies flat: sweep the bed, nothing to raise.",
        "left on the bed, ",
    ] {
        assert!(flat.contains(line), "no {line} in {text}");
    }
}

#[test]
fn every_flitch_stands_in_its_batch_and_every_piece_is_trimmed() {
    let mut job = job("16 in", "17 1/2 in", "16 ft 4 in", &["2x6", "1x6", "1x4"]);
    job.settings.methods = vec![Method::ThroughTurned];
    let (planned, text) = printed(&job);
    let flat = flat(&text);
    let batches = planned.plan.order.batches().count();
    assert!(batches > 1);
    for batch in 1..=batches {
        assert!(flat.contains(&format!("batch {batch} flitch")), "{text}");
    }
    assert!(flat.contains("TURN OVER, the edge just sawn down on the bed."));
    assert!(flat.contains("cut 16 ft 3 in: from "));
    for part in &planned.plan.parts {
        if let (PartId::Freed(n), Fate::Flitch { batch, .. }) = (part.id, &part.fate) {
            let pass = flat
                .split(&format!(" {n} "))
                .any(|rest| rest.contains(&format!("flitch to edging batch {batch}:")));
            assert!(pass, "pass {n}");
        }
    }
}

#[test]
fn a_small_log_and_a_cylinder() {
    let (_, text) = printed(&job("10 in", "11 1/4 in", "8 ft 4 in", &["2x6x8", "1x4", "1x6"]));
    assert!(flat(&text).contains("want wanted given short extra bf 2x6x8 any"));
    let (_, text) = printed(&job("9 in", "9 in", "8 ft 3 in", &["6x6x8=1", "1x4"]));
    assert!(flat(&text).contains("Nothing to raise: the pith stands "), "{text}");
    assert!(text.contains("the whole length, nothing to cut"), "{text}");
}

#[test]
fn a_boxed_timber_is_square_and_drawn() {
    let mut job = job("16 in", "17 1/2 in", "16 ft 4 in", &["8x8x16=1", "2x6=4", "1x6"]);
    job.settings.methods = vec![Method::BoxedHeart];
    let (_, text) = printed(&job);
    assert!(text.contains("8x8x16, square"), "{text}");
    let drawing = text.split("SMALL END").nth(1).unwrap().split("FACE A").next().unwrap();
    assert!(drawing.contains(" 8x8 "), "{drawing}");
}

#[test]
fn boards_too_thin_for_a_page_are_not_drawn_and_it_says_so() {
    let mut job = job("28 in", "29 in", "8 ft 4 in", &["1/2x6x8"]);
    job.settings.methods = vec![Method::TwoSidedCant];
    let (_, text) = printed(&job);
    let drawing = text.split("SMALL END").nth(1).unwrap().split("FACE A").next().unwrap();
    let words =
        "Not drawn: the passes lie nearer to each other than a page of plain text can show.";
    assert_eq!(flat(drawing).trim(), words);
}

#[test]
fn an_end_that_was_measured_across_twice_says_what_to_add() {
    let mut job = job("12 in", "13 in", "8 ft 4 in", &["2x6x8"]);
    job.two_diameters = true;
    let (_, text) = printed(&job);
    assert!(
        flat(&text).contains(
            "ends measured across twice and taken as round, with the mean of the two, as nobody says which way the \
             longer one points: add that (long axis, an hour of the clock) and it is sawn as the oval that it is bark"
        ),
        "{text}"
    );
}

#[test]
fn a_metric_mill_reads_in_millimetres_alone() {
    let wants = ["50x150x3600 mm=4", "25x100 mm"];
    let job = job_on(millimetres(), Scale::Millimetres, "350 mm", "380 mm", "3.7 m", &wants);
    let (_, text) = printed(&job);
    assert!(text.starts_with("CUT CARD   350 mm small end, 380 mm butt, 3.700 m long"), "{text}");
    assert!(text.contains("50x150x3600 mm"));
    let figures = flat(&text);
    let inches = figures.split(' ').zip(figures.split(' ').skip(1)).any(|(figure, unit)| {
        figure.ends_with(|c: char| c.is_ascii_digit()) && matches!(unit, "in" | "ft")
    });
    assert!(!inches, "{text}");
}

#[test]
fn what_is_short_is_said() {
    let job = job("12 in", "13 in", "8 ft 4 in", &["2x8x8=9"]);
    let (planned, text) = printed(&job);
    let short = planned.plan.tally[0].short();
    assert!(short > 0);
    assert!(text.contains(&format!("SHORT: {short} of 2x8x8.")), "{text}");
}

#[test]
fn near_misses_are_told_in_plain_words_and_only_when_there_are_any() {
    let mut job = job("12 in", "13 in", "12 ft 4 in", &["2x6x12"]);
    let (planned, _) = planned(&job);
    assert!(!card(&job, &planned, &[]).contains("NEAR MISSES"));
    let miss = |little| NearMiss { want: WantId(0), now: 4, then: 5, little };
    let sixteenth = length("1/16 in");
    let near = [
        miss(Little::Wane { legs: Wane::legs(sixteenth) }),
        miss(Little::Diameter(length("3/8 in"))),
        NearMiss { then: 6, ..miss(Little::Length(length("2 in"))) },
    ];
    let text = fits(card(&job, &planned, &near));
    for line in [
        "- One more 2x6x12 (5 instead of 4) if 1/16 in of wane is allowed at its corners.",
        "- One more 2x6x12 (5 instead of 4) if the log is 3/8 in thicker.",
        "- 2 more 2x6x12 (6 instead of 4) if the log is 2 in longer.",
    ] {
        assert!(flat(&text).contains(line), "{text}");
    }
    job.wants[0].wane = WaneLimit::Legs(sixteenth);
    let near = [miss(Little::Wane { legs: Wane::legs(length("1/8 in")) })];
    let text = flat(&card(&job, &planned, &near));
    assert!(
        text.contains(
            "if 1/8 in of wane is allowed at its corners (the list says wane up to 1/16 in"
        )
    );
}

/// Seven of 2 in beside each other and four kerfs of 0.1 in, 6 in wide, want 12.007 in of wood.
#[test]
fn a_hair_too_thin_is_told_with_what_would_have_been_enough() {
    let mut job = job("12 in", "12 in", "12 ft 3 in", &["2x6x12"]);
    job.settings.methods = vec![Method::FourSidedCant];
    let (six, near) = planned(&job);
    let text = flat(&fits(card(&job, &six, &near)));
    for line in [
        "NEAR MISSES what a little more would have bought - One more 2x6x12 (7 instead of 6) if 1/16 in \
         of wane is allowed at its corners.",
        "- One more 2x6x12 (7 instead of 6) if the log is 1/16 in thicker.",
    ] {
        assert!(text.contains(line), "{text}");
    }
    let plan: serde_json::Value = serde_json::from_str(&json(&job, &six, &near)).unwrap();
    assert_eq!(plan["near_misses"].as_array().unwrap().len(), near.len());
    // With that sixteenth the seventh is there, and nothing is missed by a hair.
    job.wants[0].wane = WaneLimit::Legs(length("1/16 in"));
    let (seven, near) = planned(&job);
    assert_eq!(seven.plan.tally[0].given, 7);
    assert!(near.is_empty(), "{near:?}");
    assert!(!card(&job, &seven, &near).contains("NEAR MISSES"));
    let plan: serde_json::Value = serde_json::from_str(&json(&job, &seven, &near)).unwrap();
    assert!(plan["near_misses"].as_array().unwrap().is_empty());
}

#[test]
fn of_many_near_misses_the_card_tells_those_that_ask_for_least() {
    let mut job = job("12 in", "13 in", "12 ft 4 in", &["2x6x12"]);
    job.wants[0].wane = WaneLimit::Legs(length("1/2 in"));
    let (planned, _) = planned(&job);
    let miss = |little| NearMiss { want: WantId(0), now: 4, then: 5, little };
    let near = [
        miss(Little::Length(length("3 in"))),
        miss(Little::Diameter(length("3/8 in"))),
        miss(Little::Length(length("1 in"))),
        miss(Little::Wane { legs: Wane::legs(length("9/16 in")) }),
    ];
    let text = fits(card(&job, &planned, &near));
    let told: Vec<&str> = text.lines().filter(|line| line.contains("One more")).collect();
    assert_eq!(told.len(), 3, "{text}");
    assert!(told[0].contains("9/16 in of wane"), "{text}");
    assert!(told[1].contains("3/8 in thicker") && told[2].contains("1 in longer"), "{text}");
}

#[test]
fn what_nobody_told_is_said() {
    let mut job = job("10 in", "11 in", "8 ft 3 in", &["2x6x8"]);
    let [small, butt] = [job.log.small_end(), job.log.butt()];
    job.log = Log::new(small, butt, job.log.length(), Length::ZERO, Length::ZERO).unwrap();
    (job.species, job.bark) = (None, BarkSource::None);
    let (_, text) = printed(&job);
    assert!(flat(&text).contains("bark none reckoned with: neither a species nor"), "{text}");
    job.bark = BarkSource::Given;
    let (_, text) = printed(&job);
    assert!(text.contains("bark    none, as given"), "{text}");
}

#[test]
fn each_size_policy_is_said_by_its_own_word_with_all_its_figures() {
    let mut job = job("10 in", "11 in", "8 ft 3 in", &["2x6x8"]);
    assert!(printed(&job).1.contains("sizes     full: sawn green exactly as named"));
    job.policy = SizePolicy::Dressed;
    assert!(printed(&job).1.contains("sizes     dressed: sawn green to dress"));
    job.policy = SizePolicy::Finished(Finish {
        final_moisture_pct: 8.0,
        planing: length("1/8 in"),
        z: 1.65,
        sawing_deviation: length("1/32 in"),
    });
    let text = flat(&printed(&job).1);
    assert!(text.contains(
        "sizes finished: as named when dried to 8 % moisture and planed, 1/8 in off both faces together; \
         sawn 1.65 standard deviations of 1/32 in over the least that does it"
    ));
}

#[test]
fn a_log_that_the_mill_cannot_take_gets_the_reason_and_the_remedy() {
    let job = job("29 in", "34 in", "12 ft 6 in", &["2x10x12=8", "1x8"]);
    let text = fits(impossible(&job, &plan(&job).unwrap_err()));
    assert!(
        text.starts_with("NO PLAN   29 in small end, 34 in butt, 12 ft 6 in long, white oak\n")
    );
    assert!(flat(&text).contains(
        "The butt measures 36 5/8 in over the bark and the mill takes 36 in. Cut the butt back until the \
         log is 11 ft long from the small end, trim the flare if that is all that is too thick, or part \
         the log lengthwise by chain saw."
    ));
}

#[test]
fn every_obstacle_has_its_sentence() {
    let job = job("12 in", "13 in", "12 ft 4 in", &["2x6x12", "10x10x12", "1x4x16"]);
    let inches = Length::inches;
    let no_piece = |want, why| Obstacle::NoPiece { want: WantId(want), why };
    let guides = |method| Obstacle::Guides { method, width: inches(31), limit: inches(26) };
    let too_low = pithward_geometry::ReplayFault::TooLow {
        place: pithward_geometry::replay::Place::Log { stage: 2 },
        pass: 3,
        height: length("7/8 in"),
        lowest: inches(1),
    };
    for (obstacles, expected) in [
        (
            vec![Obstacle::TooLong { length: Length::feet(24), limit: Length::feet(20) }],
            "The log is 24 ft long and the mill takes 20 ft. Cut it to 20 ft or less",
        ),
        (
            vec![Obstacle::TooShort { length: Length::feet(3), limit: Length::feet(4) }],
            "The log is 3 ft long and the mill holds none under 4 ft",
        ),
        (
            vec![guides(Method::Through), guides(Method::ThroughTurned)],
            "Through and through with or without a turn cannot be sawn: the round is 31 in wide with its \
             bark and the guides let 26 in through. Slab it deeper",
        ),
        (
            vec![no_piece(1, WhyNone::TooThin { diameter: length("14 9/64 in"), has: inches(12) })],
            "No 10x10x12: it takes 14 3/16 in of wood across over its whole length and this log has 12 in.",
        ),
        (
            vec![no_piece(2, WhyNone::TooShort { takes: length("16 ft 3 in") })],
            "No 1x4x16: even the shortest takes 16 ft 3 in with its trim and the log is 12 ft 4 in long.",
        ),
        (
            vec![no_piece(0, WhyNone::Outbid), no_piece(2, WhyNone::Outbid)],
            "The wood would hold 2x6x12 or 1x4x16, but no method",
        ),
        (
            vec![Obstacle::Unsawable { method: Method::BoxedHeart, fault: too_low }],
            "Boxed heart: its best pattern needs the blade at 7/8 in and the mill's lowest is 1 in. Lay a \
             flat board",
        ),
    ] {
        let text = flat(&fits(impossible(&job, &obstacles)));
        assert!(text.contains(expected), "no {expected} in {text}");
    }
}

#[test]
fn the_count_of_one_size_by_every_method() {
    let job = job("20 in", "22 in", "12 ft 4 in", &["2x6x12"]);
    let wants = job.counting_wants();
    let answer = pithward_optimizer::open(&job.log, &job.mill, &wants, &job.settings).unwrap();
    let pithward_optimizer::Answer::Planned(planned) = answer else { panic!("there is a plan") };
    let size = job.wants[0].size;
    let text = fits(counts(&job, &size, Some(&planned), &planned.obstacles));
    assert!(text.starts_with("COUNT OF 2x6x12   20 in small end"), "{text}");
    for result in &planned.methods {
        let line =
            format!("{} {} ", result.method.name(), result.tally[0].given + result.tally[0].extra);
        assert!(flat(&text).contains(&line), "{text}");
    }
    assert!(flat(&text).contains("Proven: no way of these methods gives"), "{text}");
    let none = fits(counts(&job, &size, None, &[]));
    assert!(none.contains("Not one 2x6x12 comes from this log on this mill."));
}

#[test]
fn no_card_is_too_wide_whatever_the_log() {
    let lists: [&[&str]; 3] = [
        &["2x4x8", "1x4up", "1x10"],
        &["5/4x6", "4/4", "3x12"],
        &["7x9x8'6\"", "2x6x16", "1x6x8", "1x6x6", "1x4x4"],
    ];
    for small in ["7 in", "11 3/8 in", "15 in", "19 1/2 in", "27 in"] {
        for wants in lists {
            let butt = length(small) + Length::sixty_fourths(64 * 3 / 2);
            let job = job(small, &Scale::Sixteenths.show(butt).to_string(), "16 ft 9 in", wants);
            match plan(&job) {
                Ok((planned, near)) => fits(card(&job, &planned, &near)),
                Err(obstacles) => fits(impossible(&job, &obstacles)),
            };
        }
    }
}

#[test]
fn the_same_plan_is_the_same_card() {
    let job = job("14 in", "15 1/2 in", "10 ft 3 in", &["2x6x10=4", "1x4up"]);
    assert_eq!(printed(&job).1, printed(&job).1);
}

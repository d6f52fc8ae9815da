//! The planner against published comparisons of sawing methods: direction, and range where there are numbers.
//!
//! The figures and their sources stand in `data/published/sawing_comparisons.csv`. A model of whole solids is an upper
//! limit of recovery: real sawing lands 5 to 20 points lower (common practice, no source), for bends, defects, wane and
//! sizes that were not wanted. Where the model does not agree, the test says what it gives and why, and holds that loosely.

use pithward_geometry::{Angle, Defect, End, Log, Mill, Sweep, Taped};
use pithward_job::{Pace, PlanCounts};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Answer, Cut, Grading, LogPlan, Method, Rings, Settings, Want, open};
use pithward_tests::compared::Published;
use pithward_tests::{cylinder, roomy_mill, want};
use pithward_trade::grade::Prices;
use pithward_trade::{RingClass, RingConvention, Species};

fn best(log: &Log, mill: &Mill, wants: &[Want], methods: &[Method]) -> LogPlan {
    let settings = Settings { methods: methods.to_vec(), ..Settings::all(mill) };
    match open(log, mill, wants, &settings).expect("replay confirms it") {
        Answer::Planned(planned) => planned.plan,
        Answer::Impossible(why) => panic!("{why:?}"),
    }
}

/// Boards of one thickness in these widths, as many as come, worth their board feet by the named thickness.
fn boards(named: Length, sawn: Length, widths: &[Length], length: Length) -> Want {
    let cut = |width: &Length| {
        let board_feet = board_feet_micro(named, *width, length);
        let worth = board_feet;
        Cut {
            thickness: sawn,
            width: *width,
            length,
            take: length,
            board_feet,
            worth,
            extra: worth,
        }
    };
    Want { cuts: widths.iter().map(cut).collect(), ..want(sawn, Length::inches(4), length) }
}

/// 4/4 boards, sawn 1 1/8 in, of every whole inch from 4 in.
fn four_quarter(length: Length) -> Want {
    let widths: Vec<Length> = (4..=16).map(Length::inches).collect();
    boards(Length::inches(1), Length::sixty_fourths(72), &widths, length)
}

/// The share of the pieces' wood with rings at so many degrees to the face or more, percent.
fn rings_from(plan: &LogPlan, degrees: i32) -> f64 {
    let (mut from, mut all) = (0.0, 0.0);
    for (piece, look) in plan.order.pieces.iter().zip(&plan.looks) {
        let claim = piece.claim;
        let section = claim.u.size().inches_f64() * claim.h.size().inches_f64();
        let volume = section * claim.z.size().inches_f64();
        // Of a board with the pith at its very middle no angle is told: all its rings stand.
        let share = look
            .rings
            .map_or(1.0, |rings| rings.share_between(Angle::degrees(degrees), Angle::degrees(90)));
        from += volume * share;
        all += volume;
    }
    100.0 * from / all
}

fn counts(log: &Log, plan: &LogPlan) -> PlanCounts {
    let oak = Species::find("white oak").expect("in the tables");
    PlanCounts::of(log, Some(oak), &plan.order, &plan.replayed)
}

/// Minutes at the mill with the usual pace.
fn minutes(log: &Log, plan: &LogPlan) -> f64 {
    Pace::default().minutes(&counts(log, plan))
}

/// The same without edging, as where an edger stands beside the saw.
fn minutes_at_the_saw(log: &Log, plan: &LogPlan) -> f64 {
    let counts = PlanCounts { of_edging: Vec::new(), batches: 0, ..counts(log, plan) };
    Pace::default().minutes(&counts)
}

/// By how many percent one plan gives more board feet than another.
fn more(one: &LogPlan, other: &LogPlan) -> f64 {
    100.0 * (one.board_feet as f64 / other.board_feet as f64 - 1.0)
}

/// A round log whose belly lies at 12 o'clock.
fn bowed(small: Length, butt: Length, length: Length, sweep: Length) -> Log {
    let end = |diameter| End {
        longer: diameter,
        shorter: diameter,
        clock: Angle::ZERO,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark: Length::ZERO,
    };
    let sweep = Sweep { depth: sweep, clock: Angle::ZERO, at: length.half() };
    let sweep = (sweep.depth > Length::ZERO).then_some(sweep);
    let taped =
        Taped { length, small: end(small), butt: end(butt), sweep, crook: None, flare: None };
    Log::taped(&taped).expect("a log that a tree can have")
}

/// Sawn through and through, a third of the wood has its rings at 60 degrees or more, half at 45 or more. Geometry, no
/// outside source. In boards it is a point or so more, for what the slabs take is flat sawn.
#[test]
fn rings_of_a_log_sawn_through() {
    let sixty = Published::named("rings_60_sawn_through");
    let half = Published::named("rings_45_sawn_through");
    let length = Length::feet(8);
    let eighth = Length::sixty_fourths(8);
    let widths: Vec<Length> = (16..=160).map(|n| eighth * n).collect();
    for (diameter, sixteenths, within) in
        [(12, 16, 1.5), (16, 16, 1.5), (20, 16, 1.5), (16, 4, 0.5)]
    {
        let thickness = Length::sixty_fourths(4) * sixteenths;
        let wants = [boards(thickness, thickness, &widths, length)];
        let log = cylinder(Length::inches(diameter), length);
        let mill = roomy_mill(Length::sixty_fourths(if sixteenths < 8 { 2 } else { 6 }));
        let plan = best(&log, &mill, &wants, &[Method::ThroughTurned]);
        let [at_60, at_45] = [60, 45].map(|degrees| rings_from(&plan, degrees));
        println!(
            "{diameter} in, boards of {sixteenths}/16: {at_60:.1} % at 60, {at_45:.1} % at 45"
        );
        assert!((at_60 - sixty.least()).abs() < within, "{diameter} in: {at_60}, {sixty}");
        assert!((at_45 - half.least()).abs() < within, "{diameter} in: {at_45}, {half}");
    }
}

/// What quarter sawing loses against the best plain method: asking for nothing, for rings at 45 and at 60 degrees.
fn quarter_losses(diameter: i64, kerf: Length) -> [f64; 3] {
    let length = Length::feet(12);
    let log = cylinder(Length::inches(diameter), length);
    let mill = roomy_mill(kerf);
    let plain = best(&log, &mill, &[four_quarter(length)], &Method::OF_A_PILE);
    let asked = |convention: Option<RingConvention>| {
        let accepts = vec![RingClass::Quarter];
        let rings = convention.map(|convention| Rings { convention, accepts });
        let wants = [Want { rings, ..four_quarter(length) }];
        -more(&best(&log, &mill, &wants, &[Method::Quarter]), &plain)
    };
    [None, Some(RingConvention::Halves), Some(RingConvention::Thirds)].map(asked)
}

/// Garver and Miller 1933: 12 percent less lumber from 23-in white oak. What a board must be to count as quarter sawn is
/// not told; their 12 lies between what the planner loses asking for nothing and asking for 60 degrees, and within a
/// few points of what it loses asking for 45. A text of about 1900 has over 25 percent for true quartering: so it is
/// with the quarter-inch kerf of a saw of those days, but not with a band's eighth.
///
/// Not reproduced: that smaller logs lose less. In the planner they lose more, for the boards of a sector lose their
/// width quickly and none under 4 in counts. How small logs were quartered at those mills was not seen.
#[test]
fn quarter_sawing_loses_volume() {
    let published = Published::named("quarter_loss");
    let waste = Published::named("true_quartering_waste");
    let (band, old) = (Length::sixty_fourths(8), Length::sixty_fourths(16));
    for kerf in [band, old] {
        let [any, half, sixty] = quarter_losses(23, kerf);
        println!(
            "23 in, kerf {}: {any:.1}, {half:.1}, {sixty:.1} %; {published}",
            kerf.inches_f64()
        );
        assert!(any < published.least() && published.least() < sixty);
        assert!((half - published.least()).abs() < 4.0, "{half}, {published}");
        assert_eq!(waste.holds(sixty), kerf == old, "{sixty}, {waste}");
    }
    let [large, small] = [23, 14].map(|diameter| quarter_losses(diameter, band));
    println!("14 in against 23 in: {small:.1?} and {large:.1?} %");
    for (small, large) in small.into_iter().zip(large) {
        assert!((2.0..20.0).contains(&(small - large)), "no longer more in small logs");
    }
}

/// A homestead journal: at least twice the time. So it is, board foot for board foot, where the log is parted into
/// quarters and these are sawn one by one. What the planner saves by its other two ways (a centre slab, halves) does
/// not take twice the time: 1.1 to 1.5 times. The minutes are those of the usual pace: common practice, no source.
#[test]
fn quarter_sawing_takes_twice_the_time() {
    let published = Published::named("quarter_time");
    let length = Length::feet(12);
    let mill = roomy_mill(Length::sixty_fourths(8));
    let mut times = Vec::new();
    for (diameter, in_sectors) in
        [(16, false), (18, true), (20, false), (23, true), (26, true), (30, true)]
    {
        let log = cylinder(Length::inches(diameter), length);
        let plain = best(&log, &mill, &[four_quarter(length)], &[Method::ThroughTurned]);
        let wants = [Want { rings: Some(Rings::only(RingClass::Quarter)), ..four_quarter(length) }];
        let plan = best(&log, &mill, &wants, &[Method::Quarter]);
        let log_for_log = minutes(&log, &plan) / minutes(&log, &plain);
        let foot_for_foot = log_for_log * plain.board_feet as f64 / plan.board_feet as f64;
        println!(
            "{diameter} in: {log_for_log:.2} times a log, {foot_for_foot:.2} times a board foot"
        );
        assert!(plan.order.moves() > plain.order.moves());
        let nested = plan.order.resaws.iter().any(|resaw| resaw.part.resaw().is_some());
        assert_eq!(nested, in_sectors, "{diameter} in");
        if nested {
            assert!(log_for_log > 1.4 && foot_for_foot > 1.9, "{diameter} in");
            times.push(foot_for_foot);
        } else {
            assert!((0.8..1.7).contains(&foot_for_foot), "{diameter} in: {foot_for_foot}");
        }
    }
    let mean = times.iter().sum::<f64>() / times.len() as f64;
    println!("in quarters {mean:.2} times a board foot; {published}");
    assert!(published.holds(mean));
}

/// Boards of 40 and 50 mm, in widths of whole centimetres or in these alone.
fn metric_boards(widths: &[i64], length: Length) -> Vec<Want> {
    let widths: Vec<Length> = widths.iter().map(|width| Length::mm(*width)).collect();
    let of = |thickness| boards(Length::mm(thickness), Length::mm(thickness), &widths, length);
    [40, 50].map(of).to_vec()
}

/// Campu and Derczeni 2023: 70.84 percent of beech logs in boards of 40 and 50 mm, sawn to the half and turned half round.
/// What the logs measured is not known here. Round straight logs of 30 to 50 cm give 5 to 20 points more, those with a
/// taper and a bow of 4 cm 64 and 71 percent.
#[test]
fn beech_sawn_to_the_half_and_turned() {
    let published = Published::named("half_turn_recovery");
    let length = Length::mm(4000);
    let mill = roomy_mill(Length::nm(2_200_000));
    let widths: Vec<i64> = (8..=50).map(|width| 10 * width).collect();
    let wants = metric_boards(&widths, length);
    let recovery = |diameter: i64, taper: i64, sweep: i64| {
        let (small, butt) = (Length::mm(diameter), Length::mm(diameter + taper));
        let log = bowed(small, butt, length, Length::mm(sweep));
        100.0 * best(&log, &mill, &wants, &[Method::ThroughTurned]).share_of_solid
    };
    let all = |taper, sweep| [300, 400].map(|diameter| recovery(diameter, taper, sweep));
    let (straight, real) = (all(0, 0), all(40, 40));
    println!("round and straight {straight:.1?}, with taper and bow {real:.1?}; {published}");
    for upper in straight {
        assert!((5.0..20.0).contains(&(upper - published.least())), "{upper}, {published}");
    }
    assert!(real[0] < published.least() - 3.0, "{real:?}");
    assert!((real[1] - published.least()).abs() < 2.0, "{real:?}");
}

/// A study of beech in Slovakia, about 2022: the cant pattern gives most, 84 percent, 17.3 percent above the other
/// patterns on average, and the quarter pattern the best wood. The planner's cants give 74 to 86 percent, and quarters
/// far the best rings. How far the cant leads depends on the sizes, which were not seen: with three widths (ours) it is
/// 17 percent on average, with any width of whole centimetres 6 to 9, for then every board is edged to its own width.
///
/// Not reproduced: that the cant leads sawing through too. There it gives the same within 2 percent; all of its lead is
/// over quarters.
#[test]
fn a_cant_gives_most_and_quarters_the_best_rings() {
    let (yields, over) = (Published::named("cant_yield"), Published::named("cant_over_others"));
    let length = Length::mm(4000);
    let mill = roomy_mill(Length::nm(2_200_000));
    let compared = |widths: &[i64]| {
        [300, 400, 500].map(|diameter| {
            let log = cylinder(Length::mm(diameter), length);
            let wants = metric_boards(widths, length);
            let stand =
                |want: &Want| Want { rings: Some(Rings::only(RingClass::Quarter)), ..want.clone() };
            let standing: Vec<Want> = wants.iter().map(stand).collect();
            let through = best(&log, &mill, &wants, &[Method::ThroughTurned]);
            let cant = best(&log, &mill, &wants, &[Method::FourSidedCant]);
            let quarter = best(&log, &mill, &standing, &[Method::Quarter]);
            let lead = [more(&cant, &through), more(&cant, &quarter)];
            let rings = [&through, &cant, &quarter].map(|plan| rings_from(plan, 60));
            assert!(lead[1] > 5.0 && (-0.1..2.0).contains(&lead[0]), "{diameter} mm: {lead:?}");
            assert!(rings[2] > rings[0].max(rings[1]) + 30.0, "{diameter} mm: {rings:?}");
            (100.0 * cant.share_of_solid, 0.5 * (lead[0] + lead[1]))
        })
    };
    let centimetres: Vec<i64> = (8..=50).map(|width| 10 * width).collect();
    let (any, few) = (compared(&centimetres), compared(&[100, 150, 200]));
    println!("cant, lead: any width {any:.1?}, three {few:.1?} %; {yields}; {over}");
    let all = any.iter().chain(&few);
    assert!(all.clone().any(|(share, _)| *share < yields.least()));
    assert!(all.clone().any(|(share, _)| *share > yields.least()));
    assert!(all.clone().all(|(share, _)| (share - yields.least()).abs() < 11.0));
    let mean = |found: &[(f64, f64)]| found.iter().map(|(_, lead)| lead).sum::<f64>() / 3.0;
    assert!((mean(&few) - over.least()).abs() < 4.0, "{}", mean(&few));
    assert!((5.0..10.0).contains(&mean(&any)), "{}", mean(&any));
}

/// E. Wengert 2004: a 7x9 cant left gives 3 to 6 percent more than all boards, in a third less time. On average the planner
/// gains that much in logs of 16 to 22 in, sawn as a cant or around: as a cant 7 percent in the smallest, of whose
/// lumber the 7x9 is two fifths, and 3 in the largest; around 2 to 4.
///
/// Not reproduced: the third. At the saw it takes 6 to 22 percent less time, for what surrounds the 7x9 is sawn as before,
/// and the planner looks for board feet, whatever the passes. Where flitches are edged on the mill too there is no rule.
#[test]
fn a_7x9_cant_left_against_all_boards() {
    let (gain, time) = (Published::named("cant_left_yield"), Published::named("cant_left_time"));
    let length = Length::feet(8);
    let mill = roomy_mill(Length::sixty_fourths(6));
    let mut cant = boards(Length::inches(7), Length::inches(7), &[Length::inches(9)], length);
    cant.count = Some(1);
    cant.cuts[0].extra = 0;
    for method in [Method::FourSidedCant, Method::Around] {
        let compared = [16, 18, 20, 22].map(|diameter| {
            let log = cylinder(Length::inches(diameter), length);
            let all = best(&log, &mill, &[four_quarter(length)], &[method]);
            let left = best(&log, &mill, &[four_quarter(length), cant.clone()], &[method]);
            assert_eq!(left.tally[1].given, 1);
            let less = |of: fn(&Log, &LogPlan) -> f64| {
                100.0 * (1.0 - of(&log, &left) / of(&log, &all))
            };
            let (at_the_saw, in_all) = (less(minutes_at_the_saw), less(minutes));
            let more = more(&left, &all);
            println!(
                "{diameter} in, {}: {more:.1} % more; {at_the_saw:.1} % less time at the saw, {in_all:.1} % in all",
                method.name()
            );
            assert!((1.5..9.0).contains(&more), "{diameter} in: {more}, {gain}");
            assert!((4.0..25.0).contains(&at_the_saw), "{diameter} in: {at_the_saw}, {time}");
            assert!(!time.holds(at_the_saw));
            more
        });
        let mean = compared.iter().sum::<f64>() / 4.0;
        println!("{mean:.1} % more on average; {gain}; {time}");
        assert!(gain.holds(mean), "{mean}, {gain}");
    }
}

/// Studies of the 1970s, from memory: live sawing has fewer turns and takes less time than sawing around, and gives as
/// much or more. So it is, straight or bowed; in time at the saw. Where flitches are edged on the mill too it is not always so,
/// for a board that is peeled off between two sawn faces needs no edging.
#[test]
fn live_against_around() {
    let published = Published::named("live_over_around_volume");
    let length = Length::feet(10);
    let mill = roomy_mill(Length::sixty_fourths(8));
    for (diameter, sweep) in [(12, 0), (14, 0), (16, 0), (18, 0), (20, 0), (16, 2), (20, 2)] {
        let (small, butt) = (Length::inches(diameter), Length::inches(diameter + 1));
        let log = bowed(small, butt, length, Length::inches(sweep));
        let of = |method| best(&log, &mill, &[four_quarter(length)], &[method]);
        let (live, around) = (of(Method::ThroughTurned), of(Method::Around));
        let times = [minutes, minutes_at_the_saw].map(|of| of(&log, &live) / of(&log, &around));
        let gain = more(&live, &around);
        println!(
            "{diameter} in, sweep {sweep} in: {gain:.1} % more; time {:.2} times, at the saw {:.2}",
            times[0], times[1]
        );
        assert!(published.holds(gain) && gain < 5.0, "{diameter} in: {gain}, {published}");
        assert!(live.order.turns() == 1 && around.order.turns() >= 3);
        assert!(times[1] < 0.9 && (0.8..1.4).contains(&times[0]), "{diameter} in: {times:?}");
    }
}

/// Total width of the boards of a log at an opening, inches: 1 1/8 in thick, a kerf of 0.10 apart, from `first` above the
/// lowest point on, each as wide as the wood allows in whole steps, 4 in at the least.
fn opened(diameter: f64, first: f64, step: f64) -> f64 {
    let (thickness, radius) = (1.125, 0.5 * diameter);
    let mut sum = 0.0;
    let mut low = first - radius;
    while low + thickness < radius {
        let outer = low.abs().max((low + thickness).abs());
        let chord = 2.0 * (radius * radius - outer * outer).max(0.0).sqrt();
        let width = ((chord + 1e-7) / step).floor() * step;
        sum += if width >= 4.0 { width } else { 0.0 };
        low += thickness + 0.10;
    }
    sum
}

/// Reckoned, no source: by how many percent the average and the worst opening fall short of the best, by diameter, where
/// widths go up by whole inches and by two.
const SHORT: [(i32, [[f64; 2]; 2]); 7] = [
    (8, [[7.0, 16.0], [8.0, 14.0]]),
    (10, [[5.0, 11.0], [5.0, 8.0]]),
    (12, [[3.5, 6.0], [5.0, 8.0]]),
    (14, [[3.0, 4.0], [4.0, 6.0]]),
    (16, [[1.5, 5.0], [4.0, 7.0]]),
    (20, [[1.0, 2.0], [3.0, 4.0]]),
    (24, [[1.0, 3.0], [1.0, 2.0]]),
];

/// Sawn through with 1 1/8 in boards: the planner's opening is the best of a plain sweep over all of them, and what the
/// average and the worst give less agrees with what was reckoned before. E. Wengert 2004 has 6 percent for a first face
/// whose width is well chosen, a paper after Hallock and Lewis 1971 10 and more in small logs: between 8 and 10 in the
/// average opening falls 6 percent short, and the worst more than 10; in logs of 20 in and more none is that poor.
#[test]
fn the_best_opening_against_the_average_and_the_worst() {
    let width = Published::named("opening_width");
    let small = Published::named("best_opening_small_logs");
    let (length, thickness) = (Length::feet(8), Length::sixty_fourths(72));
    let mill = roomy_mill(Length::nm(2_540_000));
    for (diameter, reckoned) in SHORT {
        let mut worst = 0.0f64;
        for (step, [average, worst_reckoned]) in [1, 2].into_iter().zip(reckoned) {
            let (inches, pitch) = (f64::from(diameter), 1.225);
            let at = |first: f64| opened(inches, first.rem_euclid(pitch), f64::from(step));
            let anywhere: Vec<f64> = (0..2000).map(|n| at(pitch * f64::from(n) / 2000.0)).collect();
            // The best opening has a board that is just so wide at its outer plane.
            let just = (4..=diameter).flat_map(|width| {
                let (radius, half) = (0.5 * inches, 0.5 * f64::from(width));
                let high = (radius * radius - half * half).max(0.0).sqrt();
                [radius - high, radius + high - 1.125]
            });
            let most = just.map(at).chain(anywhere.iter().copied()).fold(0.0, f64::max);
            let short = |found: f64| 100.0 * (1.0 - found / most);
            let mean = short(anywhere.iter().sum::<f64>() / 2000.0);
            let least = short(anywhere.iter().copied().fold(f64::INFINITY, f64::min));
            println!(
                "{diameter} in by {step} in: {mean:.1} % short on average, {least:.1} at worst"
            );
            assert!((mean - average).abs() < 1.0 && (least - worst_reckoned).abs() < 1.5);
            worst = worst.max(least);

            let widths: Vec<Length> = (4..=diameter)
                .filter(|width| width % step == 0)
                .map(|n| Length::inches(n.into()))
                .collect();
            let wants = [boards(thickness, thickness, &widths, length)];
            let log = cylinder(Length::inches(diameter.into()), length);
            let plan = best(&log, &mill, &wants, &[Method::Through, Method::ThroughTurned]);
            let wide = plan.products.iter().map(|product| wants[0].cuts[product.cut.cut].width);
            let found = wide.sum::<Length>().inches_f64();
            assert!((found - most).abs() < 1e-6, "{diameter} in: {found} against {most}");
        }
        let holds = [&width, &small].map(|published| worst >= published.least());
        assert!(diameter > 10 || holds == [true, true], "{diameter} in: {worst}, {width}, {small}");
        assert!(diameter < 20 || holds == [false, false], "{diameter} in: {worst}");
    }
}

/// Studies of the 1970s, from memory: by grade live sawing gives less. Boards paid by grade (invented prices) from logs
/// with a knotty core: turned from face to face they are worth a seventh more in all than sawn live. It would be a fifth if
/// boards were edged as if they were clear: a wide board that is sawn live gains most where its clear edges are parted from the
/// core.
///
/// In one log of the eight, clear but for its heart, both fall behind live sawing: what is chosen among patterns by grade is
/// not proven to be the best.
#[test]
fn by_grade_around_is_worth_at_least_what_live_sawing_is() {
    let dollars = [2_900_000, 2_800_000, 2_750_000, 1_700_000, 950_000, 600_000, 400_000];
    let prices = Prices::new(dollars.map(Some), 250_000);
    let length = Length::feet(8);
    let mut want = four_quarter(length);
    for cut in &mut want.cuts {
        cut.worth = cut.board_feet * 29 / 10;
        cut.extra = cut.worth;
    }
    want.grading = Some(Grading { least: None, prices });
    let (wants, mill) = ([want], roomy_mill(Length::sixty_fourths(8)));
    let whole = Length::inches(100);
    let (mut sums, mut behind) = ([0; 3], 0);
    for (diameter, shell) in [14, 16, 18, 20].into_iter().flat_map(|d| [(d, 3), (d, 4)]) {
        let (small, butt) = (Length::inches(diameter), Length::inches(diameter + 1));
        let log = Log::new(small, butt, whole, Length::ZERO, Length::ZERO).expect("a log");
        let clear = [Length::inches(shell); 4];
        let log = log.with_defects(vec![Defect::Core { from: Length::ZERO, to: whole, clear }]);
        let of = |methods: &[Method]| best(&log, &mill, &wants, methods).worth;
        let (live, around) = (of(&[Method::ThroughTurned]), of(&[Method::Around]));
        let turned = around.max(of(&[Method::FourSidedCant]));
        println!("{diameter} in, shell {shell} in: live {live}, around {around}, turned {turned}");
        // Plans by grade are not proven to be the best; no method may fall far behind another.
        assert!(turned > live * 9 / 10, "{diameter} in, shell {shell} in: {turned} against {live}");
        behind += i32::from(around < live);
        sums = [sums[0] + live, sums[1] + around, sums[2] + turned];
    }
    println!("in all {sums:?}");
    assert!(behind <= 1 && sums[1] > sums[0] * 11 / 10 && sums[2] > sums[0] * 114 / 100);
}

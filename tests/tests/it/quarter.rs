//! Quarter sawing: replay confirms it, its boards lie as they are asked to, and it gives what the trade says of it.

use pithward_geometry::{
    Angle, Basis, End, Log, PieceBox, RingAngle, SawingOrder, Setting, Taped, confirm, replay,
    ring_angle,
};
use pithward_measure::Length;
use pithward_optimizer::{Answer, LogPlan, Method, Rings, Settings, Want, open};
use pithward_tests::random::{Case, Random};
use pithward_tests::random_shape::RealCase;
use pithward_tests::real_wood::RealWood;
use pithward_tests::{check, check_real, cylinder, roomy_mill, want};
use pithward_trade::{RingClass, RingConvention};

fn quarter(log: &Log, mill: &pithward_geometry::Mill, wants: &[Want]) -> Option<LogPlan> {
    with(log, mill, wants, Method::Quarter)
}

fn with(
    log: &Log,
    mill: &pithward_geometry::Mill,
    wants: &[Want],
    method: Method,
) -> Option<LogPlan> {
    let settings = Settings { methods: vec![method], ..Settings::all(mill) };
    match open(log, mill, wants, &settings).expect("replay confirms it") {
        Answer::Planned(planned) => Some(planned.plan),
        Answer::Impossible(_) => None,
    }
}

/// How the rings lie in every piece, at its small end.
fn rings(log: &Log, order: &SawingOrder) -> Vec<RingAngle> {
    let angle = |piece: &pithward_geometry::Piece| {
        let claim = piece.claim;
        let basis: Basis = order.frame.turned_to(claim.turn, log.length()).expect("a quarter turn");
        ring_angle(log, &PieceBox { basis, u: claim.u, h: claim.h, z: claim.z })
    };
    order.pieces.iter().filter_map(angle).collect()
}

/// What share of the wood of some pieces has its rings at so many degrees to the wide face or more.
fn share_from(log: &Log, plan: &LogPlan, degrees: i32) -> f64 {
    let (mut from, mut all) = (0.0, 0.0);
    for (piece, angle) in plan.order.pieces.iter().zip(rings(log, &plan.order)) {
        let claim = piece.claim;
        let area = claim.u.size().inches_f64() * claim.h.size().inches_f64();
        let volume = area * claim.z.size().inches_f64();
        from += volume * angle.share_between(Angle::degrees(degrees), Angle::degrees(90));
        all += volume;
    }
    from / all
}

/// A random case with a log that is thick enough for a quarter; half of them want rings that stand on the face.
fn thick(n: u64) -> Case {
    let mut random = Random::new(n);
    let mut case = Case::new(n);
    let sixteenth = Length::sixty_fourths(4);
    let small = sixteenth * random.within(16 * 10, 16 * 26);
    let butt = small + sixteenth * random.within(0, 40);
    let bark = sixteenth * random.pick(&[0, 4, 8, 12]);
    case.log = Log::new(small, butt, case.log.length(), bark, bark).expect("a log");
    // Mills that a round of that size passes on; what else is in the way stays so.
    case.mill.largest_diameter = Length::inches(40);
    case.mill.widest_cut = Length::inches(random.pick(&[20, 28, 40, 40, 40]));
    case.mill.deepest_above = case.mill.deepest_above.max(Length::inches(random.within(6, 20)));
    if random.one_in(2) {
        case.wants.iter_mut().for_each(|want| want.rings = Some(Rings::only(RingClass::Quarter)));
    }
    case
}

/// Everything that a plan of a round log says of itself; where its planes leave the pith, by the tape's formulas.
fn judge(case: &Case, plan: &LogPlan) -> Result<(), String> {
    let frame = plan.order.frame;
    if frame.drift_u == Length::ZERO && frame.drift_h == Length::ZERO {
        return check::log_plan(case, plan);
    }
    let end = |diameter, bark| End {
        longer: diameter,
        shorter: diameter,
        clock: Angle::ZERO,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark,
    };
    let taped = Taped {
        length: case.log.length(),
        small: end(case.log.small_end(), case.log.bark_small()),
        butt: end(case.log.butt(), case.log.bark_butt()),
        sweep: None,
        crook: None,
        flare: None,
    };
    let real = RealCase { case: case.clone(), taped, wood: RealWood::new(&taped) };
    check_real::log_plan(&real, plan)
}

#[test]
fn replay_confirms_quarters_of_random_logs() {
    let (mut planned, mut resaws, mut pieces, mut sectors) = (0, 0, 0, 0);
    for n in 0..300 {
        let case = thick(5_000_000 + n);
        let Some(plan) = quarter(&case.log, &case.mill, &case.wants) else { continue };
        judge(&case, &plan).unwrap_or_else(|why| panic!("case {n}: {why}"));
        assert_eq!(plan.method, Method::Quarter);
        let exact = replay(&case.log, &case.mill, &plan.order, Setting::Exact);
        assert_eq!(exact.as_ref(), Ok(&plan.replayed), "case {n}");
        confirm(&case.log, &case.mill, &plan.order, case.mill.step).expect("both settings");
        planned += 1;
        resaws += plan.order.resaws.len();
        pieces += plan.order.pieces.len();
        let in_sectors = plan.order.resaws.iter().any(|resaw| resaw.part.resaw().is_some());
        sectors += usize::from(in_sectors);
    }
    println!(
        "300 cases: {planned} planned, {resaws} parts put back, {sectors} of them in quarters, {pieces} pieces"
    );
    assert!(planned > 150 && resaws > 200, "only {planned} planned, {resaws} parts put back");
    assert!(sectors > 20, "only {sectors} in quarters");
}

#[test]
fn replay_confirms_quarters_of_real_logs() {
    let (mut planned, mut resaws) = (0, 0);
    for n in 0..40 {
        let real = RealCase::new(5_000_000 + n);
        let case = &real.case;
        let Some(plan) = quarter(&case.log, &case.mill, &case.wants) else { continue };
        check_real::log_plan(&real, &plan).unwrap_or_else(|why| panic!("case {n}: {why}"));
        planned += 1;
        resaws += plan.order.resaws.len();
    }
    println!("40 cases: {planned} planned, {resaws} parts put back");
    assert!(planned > 10 && resaws > 5, "only {planned} planned, {resaws} parts put back");
}

/// Quarters of a cylinder sawn in every way: pairs of boards of one thickness off both flats, each ripped in every way.
struct EveryQuarter {
    radius: f64,
    kerf: f64,
    /// Thickness, then widths with their worth.
    sizes: Vec<(f64, Vec<(f64, i64)>)>,
    /// The least angle of the rings, as its tangent; 0 where they do not matter.
    steep: f64,
}

impl EveryQuarter {
    /// The best strips of a board that begins so far from the pith, its inner edge at `edge`.
    fn board(&self, from: f64, thickness: f64, widths: &[(f64, i64)], edge: f64) -> i64 {
        let outer = from + thickness;
        let reach = (self.radius * self.radius - outer * outer).max(0.0).sqrt();
        self.strips(reach - 1e-9, edge, from + 0.5 * thickness, widths)
    }

    /// From the bark inward: what is further out has the steeper rings.
    fn strips(&self, reach: f64, edge: f64, middle: f64, widths: &[(f64, i64)]) -> i64 {
        let fits = |(width, _): &&(f64, i64)| {
            reach - width >= edge && reach - 0.5 * width > self.steep * middle + 1e-3
        };
        let ways = widths.iter().filter(fits).map(|(width, worth)| {
            worth + self.strips(reach - width - self.kerf, edge, middle, widths)
        });
        ways.max().unwrap_or(0)
    }

    /// The best boards from where both flats have sunk so far, half a kerf from the pith at first.
    fn from(&self, flat: f64) -> i64 {
        if flat > self.radius {
            return 0;
        }
        let ways = self.sizes.iter().map(|(thickness, widths)| {
            let next = flat + thickness + self.kerf;
            let first = self.board(flat, *thickness, widths, flat);
            first + self.board(flat, *thickness, widths, next) + self.from(next)
        });
        ways.max().unwrap_or(0)
    }
}

#[test]
fn no_way_of_sawing_quarters_gives_more() {
    let mut in_sectors = 0;
    for (diameter, thicknesses, kerf) in [
        (14, &[64][..], 8),
        (17, &[64, 80], 6),
        (20, &[72, 136], 8),
        (23, &[64, 104, 128], 10),
        (28, &[72, 136], 4),
    ] {
        let length = Length::feet(8);
        let (log, kerf) = (cylinder(Length::inches(diameter), length), Length::sixty_fourths(kerf));
        let mill = roomy_mill(kerf);
        for rings in [None, Some(RingClass::Quarter)] {
            let wants: Vec<Want> = thicknesses
                .iter()
                .map(|thickness| {
                    let thickness = Length::sixty_fourths(*thickness);
                    let of = |width: i64| want(thickness, Length::inches(width), length);
                    let cuts = [4, 5, 7, 9].into_iter().flat_map(|width| of(width).cuts).collect();
                    Want { cuts, rings: rings.map(Rings::only), ..of(4) }
                })
                .collect();
            let sizes = wants.iter().map(|want| {
                let widths = want.cuts.iter().map(|cut| (cut.width.inches_f64(), cut.worth));
                (want.cuts[0].thickness.inches_f64(), widths.collect())
            });
            let every = EveryQuarter {
                radius: 0.5 * Length::inches(diameter).inches_f64(),
                kerf: kerf.inches_f64(),
                sizes: sizes.collect(),
                steep: if rings.is_some() { 3f64.sqrt() } else { 0.0 },
            };
            let best = 4 * every.from(0.5 * kerf.inches_f64());
            let plan = quarter(&log, &mill, &wants).expect("there is a board in it");
            let nested = plan.order.resaws.iter().any(|resaw| resaw.part.resaw().is_some());
            println!("{diameter} in, {rings:?}: {} of {best}, in sectors {nested}", plan.worth);
            assert!(plan.worth >= best, "{diameter} in: {} against {best}", plan.worth);
            assert!(!nested || plan.worth == best, "{diameter} in: {} over {best}", plan.worth);
            in_sectors += usize::from(nested);
        }
    }
    assert!(in_sectors >= 4, "only {in_sectors} in sectors");
}

/// A list that any log takes as it comes: 4/4 and 8/4 in widths from 3 in.
fn boards(length: Length, rings: Option<RingClass>) -> Vec<Want> {
    let of = |thickness: Length| {
        let mut wants = (3..=12).map(|width| want(thickness, Length::inches(width), length));
        let first = wants.next().expect("a width");
        let cuts = first.cuts.iter().copied().chain(wants.flat_map(|want| want.cuts)).collect();
        Want { cuts, rings: rings.map(Rings::only), ..first }
    };
    vec![of(Length::sixty_fourths(72)), of(Length::sixty_fourths(136))]
}

#[test]
fn a_want_that_asks_for_rings_gets_boards_whose_rings_stand_so() {
    let mut random = Random::new(17);
    for n in 0..12 {
        let real = RealCase::new(6_000_000 + n);
        let round = cylinder(Length::inches(random.within(14, 30)), Length::feet(9));
        for (log, class) in [
            (&round, RingClass::Quarter),
            (&real.case.log, RingClass::Quarter),
            (&round, RingClass::Rift),
            (&round, RingClass::Flat),
            (&real.case.log, RingClass::Flat),
        ] {
            let mill = roomy_mill(Length::sixty_fourths(8));
            let wants = boards(Length::feet(4), Some(class));
            let Some(plan) = quarter(log, &mill, &wants) else { continue };
            for angle in rings(log, &plan.order) {
                let found = RingConvention::Thirds.class(angle.middle.as_millidegrees());
                assert_eq!(found, Some(class), "case {n}: {:?}", angle.middle);
                assert!(!angle.holds_pith, "case {n}");
            }
        }
    }
}

/// One third of the area of a round log sawn through has its rings at 60 degrees or more to the face, half of it at 45: a
/// pure computation over thin slices.
#[test]
fn sawn_through_a_third_of_the_wood_is_quarter_sawn() {
    let log = cylinder(Length::inches(20), Length::feet(8));
    let slices = 4_000i64;
    let step = Length::inches(20).as_nm() / slices;
    let (mut sixty, mut half, mut all) = (0.0, 0.0, 0.0);
    for n in 0..slices {
        let (from, to) =
            (n * step - Length::inches(10).as_nm(), (n + 1) * step - Length::inches(10).as_nm());
        let middle = Length::nm((from + to) / 2).inches_f64();
        let edge = (100.0 - middle * middle).sqrt();
        let side = Length::from_inches_f64(edge);
        let piece = PieceBox {
            basis: pithward_geometry::Frame::LEVEL.basis(log.length()),
            u: pithward_geometry::Span::new(-side, side),
            h: pithward_geometry::Span::new(Length::nm(from), Length::nm(to)),
            z: pithward_geometry::Span::new(Length::ZERO, log.length()),
        };
        let Some(angle) = ring_angle(&log, &piece) else { continue };
        let share = |from| angle.share_between(Angle::degrees(from), Angle::degrees(90));
        let area = 2.0 * edge;
        sixty += area * share(60);
        half += area * share(45);
        all += area;
    }
    println!("at 60 degrees or more: {:.5}, at 45 or more: {:.5}", sixty / all, half / all);
    assert!((sixty / all - 1.0 / 3.0).abs() < 1e-3);
    assert!((half / all - 0.5).abs() < 1e-3);
}

#[test]
fn quarters_stand_on_their_rings_and_give_less_than_a_cant() {
    let mill = roomy_mill(Length::sixty_fourths(8));
    for diameter in [16, 20, 24, 30] {
        let log = cylinder(Length::inches(diameter), Length::feet(8));
        let wants = boards(Length::feet(8), None);
        let of = |method| with(&log, &mill, &wants, method).expect("a plan");
        let (through, cant, quarter) =
            (of(Method::ThroughTurned), of(Method::FourSidedCant), of(Method::Quarter));
        let asked = boards(Length::feet(8), Some(RingClass::Quarter));
        let asked = |method| with(&log, &mill, &asked, method).expect("a plan");
        let standing = asked(Method::Quarter);
        let said = |plan: &LogPlan| {
            format!(
                "{:.1} bd ft, {:.3} of it at 60 degrees or more, {} passes, {} turns, {} moves",
                plan.board_feet as f64 / 1e6,
                share_from(&log, plan, 60),
                plan.order.passes(),
                plan.order.turns(),
                plan.order.moves()
            )
        };
        println!("{diameter} in: through {}", said(&through));
        println!("       cant {}", said(&cant));
        println!("       quarter {}", said(&quarter));
        println!("       quarter, asked for {}", said(&standing));
        println!("       through, asked for {}", said(&asked(Method::ThroughTurned)));
        assert!(share_from(&log, &quarter, 60) > share_from(&log, &through, 60) + 0.1);
        assert!(share_from(&log, &standing, 60) > 0.75);
        assert!(quarter.board_feet < cant.board_feet, "{diameter} in");
        assert!(standing.board_feet >= asked(Method::ThroughTurned).board_feet);
    }
}

use super::*;
use crate::want::{Cut, CutId, Grading};
use pithward_geometry::{FlawKinds, Heart};
use pithward_trade::Wane;
use pithward_trade::grade::Prices;

fn inch(n: i64) -> Length {
    Length::inches(n)
}

fn log() -> Log {
    Log::new(inch(20), inch(20), Length::feet(10), inch(0), inch(0)).unwrap()
}

/// A flat board an inch thick whose lower face is so far over the pith.
fn claim(over: i64, turn: Angle) -> Claim {
    Claim {
        turn,
        u: Span::new(inch(-4), inch(4)),
        h: Span::new(inch(over), inch(over + 1)),
        z: Span::new(Length::ZERO, Length::feet(10)),
        wane_u: Length::ZERO,
        wane_h: Length::ZERO,
        heart: Heart::Any,
        tolerates: FlawKinds::NONE,
    }
}

fn grade(log: &Log, claim: &Claim) -> Option<Grade> {
    Looking::new(log).expected(claim, &Frame::LEVEL).grade
}

fn knot(clock: i32, at: i64) -> Defect {
    let (rise, clear) = (Length::ZERO, Length::ZERO);
    Defect::Knot { at: inch(at), clock: Angle::degrees(clock), across: inch(3), rise, clear }
}

#[test]
fn a_clear_board_is_fas_and_one_through_the_pith_is_not() {
    let log = log();
    assert_eq!(grade(&log, &claim(4, Angle::ZERO)), Some(Grade::Fas));
    // 10 ft of pith in 7 ft of surface measure.
    assert!(grade(&log, &claim(-1, Angle::ZERO)) > Some(Grade::Fas));
}

#[test]
fn knots_under_its_face_cost_a_board_its_grade_and_those_of_another_face_do_not() {
    let knotty = log().with_defects((0..4).map(|n| knot(0, 15 + 30 * n)).collect());
    let (here, away) = (Angle::ZERO, Angle::degrees(180));
    assert!(grade(&knotty, &claim(6, here)) > Some(Grade::Fas));
    assert_eq!(grade(&knotty, &claim(6, away)), Some(Grade::Fas));
    // As a knot is a cone from the pith, it is narrower the nearer to that.
    let widths = [3, 6].map(|over| {
        let board = Looking::new(&knotty).board(&claim(over, here), &Frame::LEVEL).unwrap();
        board.faces[0][0].area.width()
    });
    assert!(widths[0] < widths[1], "{widths:?}");
}

#[test]
fn both_faces_are_measured_from_the_same_edge_and_end() {
    let log = log().with_defects(vec![knot(20, 30)]);
    let board = Looking::new(&log).board(&claim(5, Angle::ZERO), &Frame::LEVEL).unwrap();
    let middle = |face: usize| {
        let area = board.faces[face][0].area;
        ((area.across.0 + area.across.1).half(), (area.along.0 + area.along.1).half())
    };
    // 20 degrees toward 3 o'clock: tan 20 of 5 and of 6 in, right of the middle of 8 in.
    let across = [0, 1].map(|face| middle(face).0.inches_f64());
    assert!((across[0] - (4.0 + 5.0 * 0.364)).abs() < 0.1, "{across:?}");
    assert!((across[1] - (4.0 + 6.0 * 0.364)).abs() < 0.1, "{across:?}");
    assert!((middle(0).1 - inch(30)).abs() < Length::sixty_fourths(4));
}

#[test]
fn wane_that_a_want_allows_is_told_where_the_wood_ends() {
    // 8 in wide, its upper face 9 in over the pith: the chord there is 8.7 in wide; at 9 1/2 in it is 6.2.
    let board = |over: Length| {
        let waney = Claim {
            h: Span::new(over - inch(1), over),
            wane_u: inch(2),
            wane_h: inch(1),
            ..claim(8, Angle::ZERO)
        };
        let all = log();
        let board = Looking::new(&all).board(&waney, &Frame::LEVEL).unwrap();
        board.faces.map(|face| face.iter().map(|defect| defect.area.width()).max())
    };
    assert_eq!(board(inch(9)), [None, None]);
    let [low, high] = board(inch(9) + inch(1).half());
    let missing = (8.0 - 2.0 * (100.0f64 - 9.5 * 9.5).sqrt()) / 2.0;
    assert_eq!(low, None);
    assert!((high.unwrap().inches_f64() - missing).abs() < 1e-3);
}

fn want(least: Option<Grade>, price: [i64; 7], below: i64) -> Want {
    let prices = Prices::new(price.map(Some), below);
    let cut = Cut {
        thickness: inch(1),
        width: inch(8),
        length: Length::feet(10),
        take: Length::feet(10),
        board_feet: 6_666_667,
        worth: prices.dearest() * 6_666_667 / 1_000_000,
        extra: prices.dearest() * 6_666_667 / 1_000_000,
    };
    Want {
        count: None,
        wane: Wane::NONE,
        heart: Heart::Any,
        tolerates: FlawKinds::NONE,
        grading: Some(Grading { least, prices }),
        rings: None,
        cuts: vec![cut],
    }
}

#[test]
fn a_piece_goes_to_the_want_that_pays_most_for_what_it_looks_like() {
    let dollars = [3_000_000, 3_000_000, 3_000_000, 2_000_000, 1_000_000, 500_000, 500_000];
    let good = want(Some(Grade::No1Common), dollars, 0);
    let any = want(None, [600_000; 7], 600_000);
    let wants = [good, any];
    let of = |grade: Option<Grade>| {
        let id = CutId { want: crate::WantId(0), cut: 0 };
        Giver::new(&wants, &Giving::Worth)
            .give(id, || grade)
            .map(|given| (given.id.want.0, given.worth / 1000))
    };
    assert_eq!(of(Some(Grade::Fas)), Some((0, 20_000)));
    assert_eq!(of(Some(Grade::No1Common)), Some((0, 13_333)));
    assert_eq!(of(Some(Grade::No2ACommon)), Some((1, 4_000)));
    assert_eq!(of(None), Some((1, 4_000)));
    // Alone, the good want takes no poor board.
    let alone = [wants[0].clone()];
    let id = CutId { want: crate::WantId(0), cut: 0 };
    assert_eq!(Giver::new(&alone, &Giving::Worth).give(id, || Some(Grade::No2ACommon)), None);
}

#[test]
fn at_its_best_a_board_has_the_grade_of_a_clear_one_of_its_size() {
    let dollars = [3_000_000, 2_900_000, 2_800_000, 2_000_000, 1_000_000, 500_000, 500_000];
    let mut wide = want(None, dollars, 0);
    // 5 in wide it is too narrow for FAS, but wide enough for Selects.
    wide.cuts[0].width = inch(5);
    let best = &at_best(&[wide])[0].cuts[0];
    assert_eq!(best.worth, 20_000_001 - 6_666_667 / 5);
}

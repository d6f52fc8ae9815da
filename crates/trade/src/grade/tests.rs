use super::{
    Area, Board, Defect, DefectKind, Expected, Grade, How, Limit, Settings, Units, expected,
    face_yields,
};
use crate::published::read;
use pithward_measure::Length;

const YIELDS: &str = include_str!("../../../../data/published/board_yields.csv");

/// Hundredths of an inch.
fn hundredths(inches: f64) -> Length {
    Length::from_inches_f64((inches * 100.0).round() / 100.0)
}

/// Along in inches, across in inches.
fn area(along: (f64, f64), across: (f64, f64)) -> Area {
    let [along, across] = [along, across].map(|(a, b)| (hundredths(a), hundredths(b)));
    Area::new(along, across)
}

fn board(width: f64, feet: f64) -> Board {
    Board::clear(hundredths(width), hundredths(12.0 * feet))
}

fn with(mut board: Board, face: usize, kind: DefectKind, area: Area) -> Board {
    board.faces[face].push(Defect { kind, area });
    board
}

fn graded(board: &Board) -> Expected {
    expected(board, Settings::default())
}

#[track_caller]
fn check(board: &Board, grade: impl Into<Option<Grade>>) -> Expected {
    let found = graded(board);
    assert!(found.proven);
    assert_eq!(found.grade, grade.into(), "{:?}", found.broken);
    found
}

/// `x4-4.25 y2-4`, feet along and inches across.
fn defect(text: &str) -> Option<Area> {
    let (x, y) = text.trim().split_once(' ')?;
    let span = |text: &str, begins: char| {
        let (from, to) = text.strip_prefix(begins)?.split_once('-')?;
        Some((from.parse::<f64>().ok()?, to.parse::<f64>().ok()?))
    };
    let (x, y) = (span(x, 'x')?, span(y, 'y')?);
    Some(area((12.0 * x.0, 12.0 * x.1), y))
}

#[test]
fn published_boards_have_the_grade_of_their_yield() {
    let mut seen = 0;
    read(YIELDS, |row| {
        let (width, feet) = (row.number("width_in")?, row.number("length_ft")?);
        let mut one = board(width, feet);
        for text in row.text("defects")?.split(';').filter(|text| *text != "clear") {
            let area = defect(text).unwrap();
            one = with(one, 0, DefectKind::SoundKnot, area);
        }
        let settings = Settings::default();
        assert_eq!(one.surface_measure(settings.half), row.whole("SM")?);
        let grade = row
            .cell("grade_by_yield", "a grade", |name| Grade::parse(&name.replace("No.", "No. ")))?;
        let better = Grade::ALL.into_iter().take_while(|other| *other != grade);
        for other in better {
            assert!(
                face_yields(&one, 0, other, settings).is_err(),
                "{} is no {other}",
                row.text("board")?
            );
        }
        let found = face_yields(&one, 0, grade, settings).unwrap();
        let how = row.cell("how", "a way", |how| match how {
            "base" => Some(How::Base),
            "extra cutting" => Some(How::ExtraCutting),
            _ => None,
        })?;
        assert_eq!(found.how, how);

        // The printed set is one of the best.
        let rule = super::rules().iter().find(|rule| rule.grade == grade).unwrap();
        let way = rule.ways.iter().find(|way| way.how == how).unwrap();
        let most = way.cuttings(row.whole("SM")?, one.length, false).unwrap_or(4);
        let field = super::Field::new(one.width, one.length, one.marks(0));
        let printed = row.cell("units_found", "units", super::rules::hundredths)?;
        let printed = Units::hundredths(printed);
        let best = field.best(&rule.least, most);
        assert!(best.proven);
        assert_eq!(best.units, printed, "board {}", row.text("board")?);
        assert!(row.text("cuttings")?.split(';').count() <= most);
        seen += 1;
        Ok(())
    })
    .unwrap();
    assert_eq!(seen, 6);
}

/// Rot across the whole width over these inches of the length, on both faces: what is left are clear ends.
fn rotten(board: Board, from: f64, to: f64) -> Board {
    let across = (0.0, board.width.inches_f64());
    let area = area((from, to), across);
    with(with(board, 0, DefectKind::Rot, area), 1, DefectKind::Rot, area)
}

#[test]
fn the_least_board_of_every_grade() {
    check(&board(6.0, 8.0), Grade::Fas);
    check(&board(5.99, 8.0), Grade::Selects);
    check(&board(6.0, 7.99), Grade::Selects);
    check(&board(4.0, 6.0), Grade::Selects);
    check(&board(3.99, 6.0), Grade::No1Common);
    check(&board(4.0, 5.99), Grade::No1Common);
    check(&board(3.0, 4.0), Grade::No1Common);
    check(&board(2.99, 4.0), None);
    check(&board(3.0, 3.99), None);
    let Expected { broken, .. } = graded(&board(2.99, 3.99));
    let (grade, limits) = &broken[0];
    assert_eq!(*grade, Grade::Fas);
    let least =
        [Limit::Width { least: Length::inches(6) }, Limit::Length { least: Length::feet(8) }];
    assert_eq!(limits[..2], least);
}

#[test]
fn fas_in_its_base_yield_on_both_sides() {
    // 12 in x 16 ft, 16 ft of surface measure, four cuttings, 160 units: 13 ft 4 in of clear width.
    let fits = rotten(board(12.0, 16.0), 100.0, 132.0);
    check(&fits, Grade::Fas);
    let over = rotten(board(12.0, 16.0), 100.0, 132.01);
    check(&over, Grade::No1Common);
}

#[test]
fn fas_with_an_extra_cutting_on_both_sides() {
    // 12 in x 10 ft, 10 ft: two cuttings for 100 units or three for 110. Two lines of stain leave three strips.
    let lined = |wide: f64| {
        let lines = [(4.0, 4.0 + wide), (8.0, 8.0 + wide)];
        lines.into_iter().fold(board(12.0, 10.0), |board, across| {
            with(board, 0, DefectKind::Stain, area((0.0, 120.0), across))
        })
    };
    let [first, _] = check(&lined(0.5), Grade::Fas).faces.unwrap();
    assert_eq!((first.how, first.cuttings.len()), (How::ExtraCutting, 3));
    assert_eq!(first.units, Units::hundredths(11_000));
    let found = check(&lined(0.51), Grade::FasOneFace);
    assert!(matches!(found.broken[0].1[..], [Limit::Yield { face: 0, .. }]));
}

#[test]
fn fas_at_97_percent_in_two_cuttings_of_full_width() {
    // 6 in x 12 ft, 6 ft: 69.84 units are 139.68 in of the length; the shorter part is no cutting of FAS.
    let at = |to: f64| rotten(board(6.0, 12.0), 100.0, to);
    let [first, _] = check(&at(104.32), Grade::Fas).faces.unwrap();
    assert_eq!((first.how, first.cuttings.len()), (How::FullWidth, 2));
    check(&at(104.33), Grade::No1Common);
}

#[test]
fn boards_of_little_measure() {
    // 4 in x 6 ft, 2 ft: SM x 11 in one cutting, or clear.
    let stained =
        |to: f64| with(board(4.0, 6.0), 0, DefectKind::Stain, area((0.0, to), (0.0, 4.0)));
    let settings = Settings::default();
    check(&stained(6.0), Grade::Selects);
    assert!(face_yields(&stained(6.0), 0, Grade::Selects, settings).is_ok());
    assert!(face_yields(&stained(6.01), 0, Grade::Selects, settings).is_err());
    // No. 1: 9 units a foot in one cutting, 18 of 24.
    let selects = |to: f64| rotten(board(4.0, 6.0), 0.0, to);
    check(&selects(18.0), Grade::No1Common);
    check(&selects(18.01), Grade::No2ACommon);
    // 3 in x 4 ft, 1 ft: clear, else 8 units in one cutting of at least 3 in x 2 ft.
    check(&board(3.0, 4.0), Grade::No1Common);
    check(&rotten(board(3.0, 4.0), 0.0, 0.01), Grade::No2ACommon);
    check(&rotten(board(3.0, 4.0), 0.0, 16.0), Grade::No2ACommon);
    check(&rotten(board(3.0, 4.0), 0.0, 16.01), Grade::No3ACommon);
}

#[test]
fn the_common_grades_in_their_base_yields_on_both_sides() {
    // 12 in x 16 ft, 16 ft, in one clear part: 128, 96, 64 and 48 units are 128, 96, 64 and 48 in of the length.
    for (clear, grade, below) in [
        (128.0, Grade::No1Common, Some(Grade::No2ACommon)),
        (96.0, Grade::No2ACommon, Some(Grade::No3ACommon)),
        (64.0, Grade::No3ACommon, Some(Grade::No3BCommon)),
        (48.0, Grade::No3BCommon, None),
    ] {
        check(&rotten(board(12.0, 16.0), 0.0, 192.0 - clear), grade);
        check(&rotten(board(12.0, 16.0), 0.0, 192.01 - clear), below);
    }
}

#[test]
fn the_common_grades_with_an_extra_cutting_on_both_sides() {
    // 10 in x 12 ft, 10 ft. No. 1: three cuttings for 80 units or four for 90, four of 27 in.
    let four = |long: f64| {
        let rot = [0.0, 1.0, 2.0, 3.0].map(|n| (n * (long + 9.0) + long, (n + 1.0) * (long + 9.0)));
        rot.into_iter()
            .fold(board(10.0, 12.0), |board, (from, to)| rotten(board, from, to.max(from)))
    };
    let [first, _] = check(&four(27.0), Grade::No1Common).faces.unwrap();
    assert_eq!((first.how, first.cuttings.len()), (How::ExtraCutting, 4));
    check(&four(26.99), Grade::No2ACommon);
    // 4 1/2 in x 8 ft, 3 ft. No. 2A: one for 18 or two for 24, two of 32 in.
    let two = |long: f64| rotten(rotten(board(4.5, 8.0), long, 40.0), 40.0 + long, 96.0);
    let [first, _] = check(&two(32.0), Grade::No2ACommon).faces.unwrap();
    assert_eq!((first.how, first.cuttings.len()), (How::ExtraCutting, 2));
    check(&two(31.99), Grade::No3ACommon);
}

#[test]
fn the_least_cutting_of_every_grade() {
    // Width in inches, length in feet.
    let takes = |grade, width: f64, feet: f64| {
        let rule = super::rules().iter().find(|rule| rule.grade == grade).unwrap();
        rule.least.takes(&area((0.0, 12.0 * feet), (0.0, width)))
    };
    for (grade, sizes) in [
        (Grade::Fas, &[(4.0, 5.0), (3.0, 7.0)][..]),
        (Grade::FasOneFace, &[(4.0, 5.0), (3.0, 7.0)]),
        (Grade::Selects, &[(4.0, 5.0), (3.0, 7.0)]),
        (Grade::No1Common, &[(4.0, 2.0), (3.0, 3.0)]),
        (Grade::No2ACommon, &[(3.0, 2.0)]),
        (Grade::No3ACommon, &[(3.0, 2.0)]),
        // 36 square inches, at least 1 1/2 in wide.
        (Grade::No3BCommon, &[(1.5, 2.0), (3.0, 1.0), (12.0, 0.25)]),
    ] {
        for (width, feet) in sizes {
            assert!(takes(grade, *width, *feet), "{grade}");
            assert!(!takes(grade, width - 0.01, *feet), "{grade}");
            assert!(!takes(grade, *width, feet - 0.01), "{grade}");
        }
    }
    // Parts of 5 ft across the whole width, three of them.
    let parts = |long: f64| {
        let ends = [1.0, 2.0, 3.0].map(|n| n * long + (n - 1.0) * 0.1);
        let one = rotten(board(12.0, 16.0), ends[2], 192.0);
        rotten(rotten(one, ends[0], ends[0] + 0.1), ends[1], ends[1] + 0.1)
    };
    let settings = Settings::default();
    assert!(face_yields(&parts(60.0), 0, Grade::Fas, settings).is_ok());
    assert!(face_yields(&parts(59.99), 0, Grade::Fas, settings).is_err());
}

#[test]
fn the_narrowest_cutting_of_no_3b_common() {
    let stripes = |wide: f64| {
        let lines = [(0.0, 3.0 - wide), (3.0, 6.0 - wide)];
        lines.into_iter().fold(board(6.0, 12.0), |board, across| {
            with(board, 0, DefectKind::Rot, area((0.0, 144.0), across))
        })
    };
    check(&stripes(1.5), Grade::No3BCommon);
    check(&stripes(1.49), None);
}

#[test]
fn the_poorer_face_decides() {
    let knotty = |board, face| {
        let knots = [(20.0, 24.0), (60.0, 64.0), (110.0, 114.0)];
        knots.into_iter().fold(board, |board, along| {
            with(board, face, DefectKind::SoundKnot, area(along, (3.0, 6.0)))
        })
    };
    for face in [0, 1] {
        check(&knotty(board(9.0, 12.0), face), Grade::FasOneFace);
    }
    let both = knotty(knotty(board(9.0, 12.0), 0), 1);
    let found = check(&both, Grade::No1Common);
    assert_eq!(found.broken.len(), 3);
    // Narrower, it is Selects.
    let narrow = with(board(5.0, 12.0), 1, DefectKind::SoundKnot, area((60.0, 64.0), (0.0, 3.0)));
    check(&narrow, Grade::Selects);
}

#[test]
fn the_reverse_of_a_clear_cutting_is_sound() {
    let reverse = |kind| with(board(8.0, 12.0), 1, kind, area((50.0, 94.0), (2.0, 6.0)));
    let stain = |board| with(board, 0, DefectKind::Stain, area((0.0, 144.0), (0.0, 2.6)));
    for (kind, is_sound, grade) in [
        (DefectKind::SoundKnot, true, Grade::No1Common),
        (DefectKind::Rot, false, Grade::No3ACommon),
    ] {
        assert_eq!(kind.is_sound(), is_sound);
        // The better face of F1F may have an unsound reverse.
        check(&reverse(kind), Grade::FasOneFace);
        // Stain leaves the one face a single cutting of No. 1, with the knot or the rot behind its middle.
        check(&stain(reverse(kind)), grade);
    }
}

#[test]
fn wane_on_both_sides() {
    let wane = |face, from: f64, to: f64, wide: f64| {
        with(board(12.0, 16.0), face, DefectKind::Wane, area((from, to), (0.0, wide)))
    };
    // Half of 16 ft is 96 in.
    check(&wane(0, 20.0, 116.0, 0.5), Grade::Fas);
    let found = graded(&wane(0, 20.0, 116.01, 0.5));
    let limits = &found.broken[0].1;
    let (got, most) = (hundredths(96.01), Length::inches(96));
    assert_eq!(limits[..], [Limit::WaneLength { face: 0, got, most }]);
    // As long on the other edge too is not more on either.
    let both =
        with(wane(0, 20.0, 116.0, 0.5), 0, DefectKind::Wane, area((0.0, 96.0), (11.6, 12.0)));
    check(&both, Grade::Fas);

    // The other face of F1F: a third of 12 in, both edges added.
    let other = |low: f64, high: f64, long: f64| {
        let one =
            with(board(12.0, 16.0), 1, DefectKind::Wane, area((40.0, 40.0 + long), (0.0, low)));
        with(one, 1, DefectKind::Wane, area((40.0, 40.0 + long), (12.0 - high, 12.0)))
    };
    check(&other(2.0, 2.0, 90.0), Grade::FasOneFace);
    let found = check(&other(2.0, 2.01, 90.0), Grade::No1Common);
    let (got, most) = (hundredths(4.01), Length::inches(4));
    assert!(found.broken[1].1.contains(&Limit::WaneWidth { face: 1, got, most }));
    check(&other(2.0, 2.0, 96.0), Grade::FasOneFace);
    check(&other(2.0, 2.0, 96.01), Grade::No1Common);
}

#[test]
fn pith_on_both_sides() {
    let pithy = |long: f64| {
        let mut one = board(12.0, 16.0);
        one.pith = vec![area((80.0, 80.0 + long), (6.0, 6.2))];
        one
    };
    // 16 ft of surface measure: 16 in; half of 16 ft: 96 in.
    check(&pithy(16.0), Grade::Fas);
    let found = check(&pithy(16.01), Grade::No1Common);
    let (got, most) = (hundredths(16.01), Length::inches(16));
    assert_eq!(found.broken[0].1, [Limit::Pith { got, most }]);
    check(&pithy(96.0), Grade::No1Common);
    check(&pithy(96.01), Grade::No2ACommon);
    // Two that lie beside each other count once.
    let mut twice = pithy(16.0);
    twice.pith.push(area((85.0, 96.0), (3.0, 3.2)));
    check(&twice, Grade::Fas);
}

#[test]
fn knots_on_both_sides() {
    // 12 ft of surface measure: a mean diameter of 4 in.
    let knot = |kind, from: f64, long: f64| {
        with(board(12.0, 12.0), 0, kind, area((from, from + long), (0.0, 3.0)))
    };
    for kind in [DefectKind::SoundKnot, DefectKind::UnsoundKnot, DefectKind::Hole] {
        check(&knot(kind, 70.0, 5.0), Grade::Fas);
        let found = graded(&knot(kind, 70.0, 5.01));
        let limits = &found.broken[0].1;
        assert!(matches!(limits[..], [Limit::Knot { face: 0, .. }]), "{limits:?}");
        assert_eq!(found.grade, Some(Grade::FasOneFace));
    }
    // Stain has no diameter, and a knot within the first foot is a matter of that foot.
    check(&knot(DefectKind::Stain, 70.0, 5.5), Grade::Fas);
    check(&knot(DefectKind::SoundKnot, 0.0, 12.0), Grade::Fas);
    check(&knot(DefectKind::SoundKnot, 132.0, 12.0), Grade::Fas);
    check(&knot(DefectKind::SoundKnot, 131.99, 12.0), Grade::FasOneFace);
}

#[test]
fn splits_on_both_sides() {
    let split = |width: f64, feet: f64, long: f64, aside: f64| {
        let mut one = board(width, feet);
        one.splits = vec![area((0.0, long), (1.0, 1.0 + aside))];
        one
    };
    // 16 ft of surface measure: 32 in.
    check(&split(12.0, 16.0, 32.0, 0.0), Grade::Fas);
    let found = check(&split(12.0, 16.0, 32.01, 0.0), Grade::No1Common);
    let (got, most) = (hundredths(32.01), Length::inches(32));
    assert_eq!(found.broken[0].1, [Limit::Splits { got, most }]);
    // 5 ft: 12 in is more than twice 5.
    check(&split(6.0, 10.0, 12.0, 0.0), Grade::Fas);
    check(&split(6.0, 10.0, 12.01, 0.0), Grade::No1Common);
    // An inch aside in a foot.
    check(&split(12.0, 16.0, 24.0, 2.0), Grade::Fas);
    let found = check(&split(12.0, 16.0, 24.0, 2.01), Grade::No1Common);
    assert_eq!(found.broken[0].1, [Limit::SplitRunsAside]);
}

#[test]
fn the_end_foot_on_both_sides() {
    let end = |kind, wide: f64, from: f64| {
        let across = (0.0, wide);
        with(board(12.0, 16.0), 0, kind, area((from, from + 12.0), across))
    };
    for from in [0.0, 180.0] {
        // Half of the foot is clear, a quarter may be unsound.
        check(&end(DefectKind::Stain, 6.0, from), Grade::Fas);
        let found = check(&end(DefectKind::Stain, 6.01, from), Grade::FasOneFace);
        assert_eq!(found.broken[0].1, [Limit::EndNotClear { face: 0 }]);
        check(&end(DefectKind::Rot, 3.0, from), Grade::Fas);
        let found = check(&end(DefectKind::Rot, 3.01, from), Grade::FasOneFace);
        assert_eq!(found.broken[0].1, [Limit::EndUnsound { face: 0 }]);
    }
    check(&end(DefectKind::Rot, 6.0, 60.0), Grade::Fas);
}

#[test]
fn no_board_at_all_is_below_grade() {
    for (width, length) in [(0, 96), (6, 0), (-6, 96), (6, -96)] {
        let none = Board::clear(Length::inches(width), Length::inches(length));
        assert_eq!(graded(&none).grade, None);
    }
    let inside_out = with(board(8.0, 12.0), 0, DefectKind::Rot, area((50.0, 40.0), (6.0, 2.0)));
    check(&inside_out, Grade::Fas);
    let beside = with(board(8.0, 12.0), 0, DefectKind::Rot, area((150.0, 400.0), (-6.0, 20.0)));
    check(&beside, Grade::Fas);

    // No size and no place is too much for the sums.
    let far = (-Length::MAX, Length::MAX);
    let all = Area::new(far, far);
    let mut huge = Board::clear(Length::MAX, Length::MAX);
    assert_eq!(graded(&huge).grade, Some(Grade::Fas));
    huge.faces =
        [DefectKind::SoundKnot, DefectKind::Wane].map(|kind| vec![Defect { kind, area: all }]);
    (huge.pith, huge.splits) = (vec![all, all], vec![all, all]);
    assert_eq!(graded(&huge).grade, None);
}

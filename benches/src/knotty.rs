//! Hardwood logs with defects, and boards that are paid by grade: invented, the same in every run.

use crate::{random_width, yard::Random};
use pithward_geometry::{Angle, Defect, Log};
use pithward_measure::Length;
use pithward_optimizer::{Grading, Want};
use pithward_trade::grade::Prices;

/// Millionths of a dollar for a board foot of each grade, the best first; invented, no market's.
const PRICES: [i64; 7] = [2_900_000, 2_800_000, 2_750_000, 1_700_000, 950_000, 600_000, 400_000];

/// The same for what is below all grades.
const BELOW: i64 = 250_000;

/// A board of the first thickness in whole feet and inches, and of the second, both by grade.
pub fn by_grade(widest_in: i64, longest_ft: i64) -> Vec<Want> {
    let prices = Prices::new(PRICES.map(Some), BELOW);
    let want = |thickness: i64| {
        let mut want = random_width(thickness, widest_in, longest_ft);
        want.cuts.retain(|cut| cut.length >= Length::feet(8));
        for cut in &mut want.cuts {
            let worth = i128::from(prices.dearest()) * i128::from(cut.board_feet) / 1_000_000;
            cut.worth = i64::try_from(worth).unwrap_or(i64::MAX);
            cut.extra = cut.worth;
        }
        Want { grading: Some(Grading { least: None, prices }), ..want }
    };
    vec![want(1), want(2)]
}

/// A round log of about this diameter and length with so many knots, most of them on one side, a seam, and a clear shell
/// about a knotty core.
///
/// # Panics
/// Never: every figure is within what a log may measure.
pub fn log(seed: u64, small_in: i64, feet: i64, knots: i64) -> Log {
    let mut random = Random(seed);
    let sixteenth = Length::sixty_fourths(4);
    let small = sixteenth * (small_in * 16 + random.within(-16, 16));
    let length = Length::inches(feet * 12 + 4);
    let log = Log::new(
        small,
        small + sixteenth * random.within(8, 40),
        length,
        Length::ZERO,
        Length::ZERO,
    )
    .expect("between the limits of what a log measures");
    let mut angle = |from: i64, to: i64| {
        Angle::degrees(i32::try_from(random.within(from, to)).unwrap_or(0).rem_euclid(360))
    };
    let bad = i64::from(angle(0, 359).as_millidegrees() / 1000);
    let clocks: Vec<Angle> = (0..knots)
        .map(|n| if n % 3 == 0 { angle(0, 359) } else { angle(bad - 60, bad + 60) })
        .collect();
    let seam = angle(bad - 20, bad + 20);
    let mut defects: Vec<Defect> = Vec::new();
    for clock in clocks {
        let at = Length::inches(random.within(6, feet * 12 - 6));
        let across = sixteenth * random.within(8, 48);
        let clear = sixteenth * random.within(0, 3) * random.within(0, 12);
        defects.push(Defect::Knot { at, clock, across, rise: Length::inches(2), clear });
    }
    defects.push(Defect::Seam {
        from: length - Length::inches(random.within(24, 48)),
        to: length,
        clock: seam,
        depth: Length::inches(3),
    });
    let clear = [(); 4].map(|()| Length::inches(random.within(2, 5)));
    defects.push(Defect::Core { from: Length::ZERO, to: length, clear });
    log.with_defects(defects)
}

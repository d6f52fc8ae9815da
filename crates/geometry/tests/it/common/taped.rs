//! Random taped logs, and what their figures say of a section by the formulas alone.

use pithward_geometry::trig::sin_cos;
use pithward_geometry::{Angle, Crook, End, Flare, Sweep, Taped};
use pithward_measure::Length;
use proptest::prelude::*;

/// The section of a taped log at one station, in the log frame.
pub(crate) struct Oval {
    pub(crate) middle: [f64; 2],
    /// Half of the longer and of the shorter axis.
    pub(crate) half: (f64, f64),
    /// Direction of the longer one.
    pub(crate) axis: [f64; 2],
    pub(crate) pith: [f64; 2],
    pub(crate) bark: f64,
}

/// A 12-ft log of 12 in, without taper or bark.
pub(crate) fn cylinder() -> Taped {
    let end = End {
        longer: Length::inches(12),
        shorter: Length::inches(12),
        clock: Angle::ZERO,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark: Length::ZERO,
    };
    Taped { length: Length::feet(12), small: end, butt: end, sweep: None, crook: None, flare: None }
}

/// Sweep up, greatest half-way of a 12-ft log.
pub(crate) fn sweep(depth: Length) -> Option<Sweep> {
    Some(Sweep { depth, clock: Angle::ZERO, at: Length::feet(6) })
}

fn sixteenths(range: std::ops::Range<i64>) -> impl Strategy<Value = Length> {
    range.prop_map(|n| Length::sixty_fourths(4 * n))
}

fn clock() -> impl Strategy<Value = Angle> {
    (0..360i32).prop_map(Angle::degrees)
}

/// Ends up to 1.5 : 1, any sweep, crook and flare, in any combination; now and then none of them.
pub(crate) fn a_log() -> impl Strategy<Value = Taped> {
    let end = || (0..50i64, clock(), 0..60i64, clock(), sixteenths(0..20));
    let bow = || (sixteenths(1..80), clock(), 10..90i64);
    let flare = (sixteenths(80..600), sixteenths(1..160));
    (
        sixteenths(16 * 5..16 * 26),
        sixteenths(0..80),
        sixteenths(16 * 62..16 * 220),
        (prop::option::weighted(0.9, end()), prop::option::weighted(0.9, end())),
        (prop::option::of(bow()), prop::option::of(bow()), prop::option::of(flare)),
    )
        .prop_map(|(shorter, grows, length, (small, butt), (sweep, crook, flare))| {
            let end = |shorter: Length, figures: Option<(i64, Angle, i64, Angle, Length)>| {
                let (oval, clock, off, pith_clock, bark) =
                    figures.unwrap_or((0, Angle::ZERO, 0, Angle::ZERO, Length::ZERO));
                End {
                    longer: Length::nm(shorter.as_nm() / 100 * (100 + oval)),
                    shorter,
                    clock,
                    pith_off: Length::nm(shorter.as_nm() / 200 * off),
                    pith_clock,
                    bark,
                }
            };
            let small = end(shorter, small);
            let mut butt = end(shorter + grows, butt);
            // Never by a quarter: that might go either way.
            butt.clock = Angle::millidegrees(butt.clock.as_millidegrees() + 1);
            // The butt of a log is no smaller, whatever its oval.
            let lacks = (small.longer + small.shorter - butt.longer - butt.shorter).half();
            if lacks >= Length::ZERO {
                butt.longer += lacks + Length::nm(1);
                butt.shorter += lacks + Length::nm(1);
            }
            let at = |percent: i64| Length::nm(length.as_nm() / 100 * percent);
            let depth = |depth: Length| depth.min(small.shorter.half());
            Taped {
                length,
                small,
                butt,
                sweep: sweep.map(|(d, clock, n)| Sweep { depth: depth(d), clock, at: at(n) }),
                crook: crook.map(|(d, clock, n)| Crook { depth: depth(d), clock, at: at(n) }),
                flare: flare.map(|(long, extra)| Flare {
                    length: long.min(length.half()),
                    extra: extra.min(butt.shorter.half()),
                }),
            }
        })
}

fn of(clock: Angle) -> [f64; 2] {
    let (sin, cos) = clock.sin_cos();
    [sin, cos]
}

/// What the formulas say of a station.
pub(crate) fn oval(taped: &Taped, z: f64) -> Oval {
    let Taped { length, small, butt, sweep, crook, flare } = *taped;
    let long = length.inches_f64();
    let way = z / long;
    let mix = |a: f64, b: f64| a * (1.0 - way) + b * way;
    let wider = flare.map_or(0.0, |flare| {
        let run = flare.length.inches_f64();
        let into = ((z - long + run) / run).max(0.0);
        flare.extra.inches_f64() / 2.0 * into * into
    });
    let half = |a: Length, b: Length| mix(a.inches_f64() / 2.0, b.inches_f64() / 2.0) + wider;
    // From where it is greatest, the share of the way to the end on that side.
    let off = |at: Length| {
        let at = at.inches_f64();
        if z < at { 1.0 - z / at } else { (z - at) / (long - at) }
    };
    let mut pith = [0.0, 0.0];
    if let Some(Sweep { depth, clock, at }) = sweep {
        let by = depth.inches_f64() * (1.0 - off(at).powi(2));
        pith = [0, 1].map(|n| pith[n] + by * of(clock)[n]);
    }
    if let Some(Crook { depth, clock, at }) = crook {
        let by = depth.inches_f64() * (1.0 - off(at));
        pith = [0, 1].map(|n| pith[n] + by * of(clock)[n]);
    }
    let from_middle = |n: usize| {
        let end = |end: &End| end.pith_off.inches_f64() * of(end.pith_clock)[n];
        mix(end(&small), end(&butt))
    };
    let middle = [0, 1].map(|n| pith[n] - from_middle(n));
    // An end that is round has no axis; else the axis turns by a quarter at most.
    let degrees = |end: &End| end.clock.degrees_f64();
    let (from, to) = match (small.longer > small.shorter, butt.longer > butt.shorter) {
        (true, true) => {
            let turned = (degrees(&butt) - degrees(&small) + 90.0).rem_euclid(180.0) - 90.0;
            (degrees(&small), degrees(&small) + turned)
        }
        (true, false) => (degrees(&small), degrees(&small)),
        (false, _) => (degrees(&butt), degrees(&butt)),
    };
    let (sin, cos) = sin_cos(mix(from, to).to_radians());
    Oval {
        middle,
        half: (half(small.longer, butt.longer), half(small.shorter, butt.shorter)),
        axis: [sin, cos],
        pith,
        bark: mix(small.bark.inches_f64(), butt.bark.inches_f64()),
    }
}

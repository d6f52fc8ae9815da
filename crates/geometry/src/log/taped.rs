//! A log from a tape's figures: oval ends, sweep, crook, flare, pith off the middle.
//!
//! # Formula
//! With `L` the length, `w` a value's way from the small end to the butt by the share `z / L`, and all directions on the
//! clock:
//! ```text
//! half axes     a(z), b(z)   w of the ends' half diameters, + extra / 2 ((z - (L - l)) / l)^2 in a flare of length l
//! clock         w of the ends' clocks, the short way round; an end that is round takes the other's
//! middle        m(z) = depth (1 - ((z - at) / run)^2) for a sweep, depth (1 - |z - at| / run) for a crook,
//!               run from where it is greatest to the end on that side
//! pith          m(z) + w of the ends' offsets
//! ```
//! The log's axis is then drawn through the pith at both ends. The string that tells a sweep's depth runs above any
//! flare.
//!
//! # Outlines
//! That of the wood is a polygon with its [`POINTS`] on the ellipse, that of the bark one whose sides touch it from
//! without, so no wood is there that the formula has not, and all bark is. Between two stations every point moves
//! straight on, where the formula bends: stations are so near that the two are at most [`BENT`] apart.

use super::{Log, Section, section};
use crate::trig::{norm, sin_cos};
use crate::{Angle, LogFault};
use pithward_measure::Length;

/// Points of an outline: in a section of 24 in the middle of a side lies 4 thousandths of an inch within the ellipse,
/// a quarter of that with twice as many.
pub(crate) const POINTS: u32 = 120;

/// Distance of the stations at most, inches.
const APART: f64 = 6.0;

/// How far a log may bend away from the straight way between two stations, inches: what nobody saws to. A quarter of it
/// takes twice as many stations.
const BENT: f64 = 0.001;

/// Stations nearer to each other than this are one, inches.
const NEAREST: f64 = 1e-3;

/// One end of a log as a tape measures it, inside the bark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct End {
    /// The longer of two diameters at right angles.
    pub longer: Length,
    /// The shorter one.
    pub shorter: Length,
    /// Direction of the longer one.
    pub clock: Angle,
    /// How far the pith is from the middle.
    pub pith_off: Length,
    /// In which direction from the middle.
    pub pith_clock: Angle,
    /// Thickness of the bark.
    pub bark: Length,
}

/// A bow of the whole log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sweep {
    /// Greatest gap between a string from end to end and the hollow side of the log.
    pub depth: Length,
    /// Direction in which the log bows: the side of the belly.
    pub clock: Angle,
    /// Where it is greatest, from the small end.
    pub at: Length,
}

/// A sharp bend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crook {
    /// How far the middle of the log stands off the straight line between its ends at the bend.
    pub depth: Length,
    /// Direction.
    pub clock: Angle,
    /// Where, from the small end.
    pub at: Length,
}

/// A butt that widens below the stem.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flare {
    /// Over which length from the butt end.
    pub length: Length,
    /// How much it adds to the diameter at the butt end.
    pub extra: Length,
}

/// A log from a tape's figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taped {
    /// Length from end to end.
    pub length: Length,
    /// The small end.
    pub small: End,
    /// The butt, above any flare.
    pub butt: End,
    /// A bow.
    pub sweep: Option<Sweep>,
    /// A bend.
    pub crook: Option<Crook>,
    /// A widening at the butt.
    pub flare: Option<Flare>,
}

impl Log {
    /// The log of a tape's figures. One that turns out round and straight is the same as that of [`Log::new`].
    ///
    /// # Errors
    /// The first measurement that no log can have.
    pub fn taped(taped: &Taped) -> Result<Self, LogFault> {
        let Taped { length, small, butt, sweep, crook, flare } = *taped;
        let mean = |end: &End| (end.longer + end.shorter).half();
        let round = Self::new(mean(&small), mean(&butt), length, small.bark, butt.bark)?;
        check(taped)?;
        let plain = |end: &End| end.longer == end.shorter && end.pith_off == Length::ZERO;
        let bows = sweep.is_some_and(|sweep| sweep.depth > Length::ZERO)
            || crook.is_some_and(|crook| crook.depth > Length::ZERO)
            || flare.is_some_and(|flare| flare.extra > Length::ZERO);
        if plain(&small) && plain(&butt) && !bows {
            return Ok(round);
        }
        let figures = Figures::new(taped);
        let sections = stations(taped).into_iter().map(|z| figures.section(z)).collect();
        let (diameters, barks) = ((mean(&small), mean(&butt)), (small.bark, butt.bark));
        Ok(Self { even: true, ..Self::of_sections(diameters, length, barks, sections)? })
    }
}

/// What no log can be.
fn check(taped: &Taped) -> Result<(), LogFault> {
    let Taped { length, small, butt, sweep, crook, flare } = *taped;
    for (end, name) in [(&small, "small end"), (&butt, "butt")] {
        let End { longer, shorter, pith_off, .. } = *end;
        if longer < shorter || longer > shorter * 2 {
            return Err(LogFault::Oval { end: name, longer, shorter });
        }
        let radius = end.reach(end.pith_clock);
        if !(Length::ZERO..radius).contains(&pith_off) {
            return Err(LogFault::Pith { end: name, off: pith_off, radius });
        }
    }
    let bows = [
        sweep.map(|sweep| ("sweep", sweep.depth, sweep.at)),
        crook.map(|crook| ("crook", crook.depth, crook.at)),
    ];
    for (what, depth, at) in bows.into_iter().flatten() {
        let most = (small.longer + small.shorter).half();
        if !(Length::ZERO..=most).contains(&depth) {
            return Err(LogFault::Bow { what, depth, most });
        }
        if at <= Length::ZERO || at >= length {
            return Err(LogFault::BowPlace { what, at, length });
        }
    }
    if let Some(Flare { length: long, extra }) = flare {
        let most = butt.longer;
        let possible = long > Length::ZERO && long < length && extra >= Length::ZERO;
        if !possible || extra > most {
            return Err(LogFault::Flare { extra, long, most });
        }
    }
    Ok(())
}

impl End {
    /// How far the surface of the wood is from the middle in a direction, rounded down to the nanometre.
    fn reach(&self, clock: Angle) -> Length {
        let [x, y] = of(clock);
        let [lx, ly] = of(self.clock);
        let (along, across) = (x * lx + y * ly, x * ly - y * lx);
        let (a, b) = (self.longer.inches_f64() / 2.0, self.shorter.inches_f64() / 2.0);
        Length::from_inches_f64_down(1.0 / norm(along / a, across / b))
    }
}

/// Where a log has sections: where its shape has a corner, and between these as near to each other as it bends.
///
/// # Formula
/// A curve of second derivative `f` is at most `f d^2 / 8` off the straight way between two of its points that are `d`
/// apart. Of an ellipse whose longer axis turns by `t` from station to station, and whose half axes differ by `e`, a
/// point that stays on its side goes round a circle of radius `e / 2` by twice that: `f = 2 e t^2`, and where `e` grows
/// by `g`, `2 g t` more.
fn stations(taped: &Taped) -> Vec<f64> {
    let length = taped.length.inches_f64();
    let twist = {
        let (small, butt) = clocks(taped);
        let turn = (butt - small).abs() * (std::f64::consts::PI / 180_000.0) / length;
        let differ = |end: &End| (end.longer - end.shorter).inches_f64() / 2.0;
        let (small, butt) = (differ(&taped.small), differ(&taped.butt));
        2.0 * turn * (small.max(butt) * turn + (butt - small).abs() / length)
    };
    let flare = taped.flare.map(|flare| (length - flare.length.inches_f64(), flare));
    let mut corners = vec![0.0, length];
    corners.extend(taped.sweep.map(|sweep| sweep.at.inches_f64()));
    corners.extend(taped.crook.map(|crook| crook.at.inches_f64()));
    corners.extend(flare.map(|(from, _)| from));
    corners.sort_by(f64::total_cmp);
    let mut all = vec![0.0];
    for pair in corners.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let sweep = taped.sweep.map_or(0.0, |Sweep { depth, at, .. }| {
            let at = at.inches_f64();
            let run = if to <= at { at } else { length - at };
            2.0 * depth.inches_f64() / (run * run)
        });
        let flare = flare.filter(|(begins, _)| *begins <= from).map_or(0.0, |(_, flare)| {
            let run = flare.length.inches_f64();
            flare.extra.inches_f64() / (run * run)
        });
        let by_bend = (to - from) * ((sweep + flare + twist) / (8.0 * BENT)).sqrt();
        let parts = section::steps(by_bend.max((to - from) / APART));
        all.extend((1..=parts).map(|n| from + (to - from) * (f64::from(n) / f64::from(parts))));
    }
    // Corners may fall together.
    all.dedup_by(|a, b| (*a - *b).abs() < NEAREST);
    if let Some(last) = all.last_mut() {
        *last = length;
    }
    all
}

/// A tape's figures as numbers, inches.
struct Figures<'t> {
    taped: &'t Taped,
    length: f64,
    /// Clocks of the longer axis at the small end and at the butt, thousandths of a degree, the short way round.
    clocks: (f64, f64),
}

/// The direction on the clock.
fn of(clock: Angle) -> [f64; 2] {
    let (sin, cos) = clock.sin_cos();
    [sin, cos]
}

/// Clocks of the longer axis at the small end and at the butt, thousandths of a degree, the short way round.
fn clocks(taped: &Taped) -> (f64, f64) {
    let is_round = |end: &End| end.longer == end.shorter;
    let clock = |end: &End| f64::from(end.clock.as_millidegrees());
    let (mut small, mut butt) = (clock(&taped.small), clock(&taped.butt));
    if is_round(&taped.small) {
        small = butt;
    } else if is_round(&taped.butt) {
        butt = small;
    }
    // An axis has no front: it turns by a quarter at most.
    while butt - small > 90_000.0 {
        butt -= 180_000.0;
    }
    while butt - small < -90_000.0 {
        butt += 180_000.0;
    }
    (small, butt)
}

impl<'t> Figures<'t> {
    fn new(taped: &'t Taped) -> Self {
        Self { taped, length: taped.length.inches_f64(), clocks: clocks(taped) }
    }

    fn section(&self, z: f64) -> Section {
        let (taped, share) = (self.taped, z / self.length);
        let mix = |a: f64, b: f64| a + share * (b - a);
        let flare = taped.flare.map_or(0.0, |flare| {
            let run = flare.length.inches_f64();
            let into = (z - (self.length - run)).max(0.0) / run;
            flare.extra.inches_f64() * into * into
        });
        let half = |a: Length, b: Length| 0.5 * (mix(a.inches_f64(), b.inches_f64()) + flare);
        let (a, b) = (
            half(taped.small.longer, taped.butt.longer),
            half(taped.small.shorter, taped.butt.shorter),
        );
        let middle = self.bow(z);
        let off = |end: &End| {
            let [x, y] = of(end.pith_clock);
            [x, y].map(|c| c * end.pith_off.inches_f64())
        };
        let (small, butt) = (off(&taped.small), off(&taped.butt));
        let pith = [0, 1].map(|n| middle[n] + mix(small[n], butt[n]));
        let radians = mix(self.clocks.0, self.clocks.1) * (std::f64::consts::PI / 180_000.0);
        let (s, c) = sin_cos(radians);
        let bark = mix(taped.small.bark.inches_f64(), taped.butt.bark.inches_f64());
        // The longer axis points to (s, c), the shorter a quarter turn counterclockwise of it.
        let place = |along: f64, across: f64| {
            [middle[0] + along * s - across * c, middle[1] + along * c + across * s]
        };
        // Toward the same side at every station, however the longer axis turns: what lies between two points of
        // neighbours is then next to straight.
        let turn = |halves: u32| {
            sin_cos(std::f64::consts::PI * f64::from(halves) / f64::from(POINTS) + radians)
        };
        // A point `out` times as far from the middle as that of the ellipse.
        let point = |halves: u32, out: f64| {
            let (sin, cos) = turn(halves);
            (out * a * cos, out * b * sin)
        };
        // The ellipse's own normal.
        let normal = |halves: u32| {
            let (sin, cos) = turn(halves);
            let (x, y) = (cos / a, sin / b);
            let long = norm(x, y);
            (x / long, y / long)
        };
        let wood = |n: u32| {
            let (along, across) = point(2 * n, 1.0);
            place(along, across)
        };
        // Where the sides that touch the ellipse half-way to the next point on either side meet, both moved out.
        let out = 1.0 / sin_cos(std::f64::consts::PI / f64::from(POINTS)).1;
        let over_bark = |n: u32| {
            let (along, across) = point(2 * n, out);
            let before = (2 * n + 2 * POINTS - 1) % (2 * POINTS);
            let ((ax, ay), (bx, by)) = (normal(before), normal(2 * n + 1));
            let run = bark / (1.0 + ax * bx + ay * by);
            place(along + run * (ax + bx), across + run * (ay + by))
        };
        let wood = (0..POINTS).map(wood).collect();
        let bark = (0..POINTS).map(over_bark).collect();
        Section { z, wood, bark, pith }
    }

    /// Where the middle of a section lies off the straight line between the ends' middles.
    fn bow(&self, z: f64) -> [f64; 2] {
        let run = |at: Length| {
            let at = at.inches_f64();
            if z < at { (at - z) / at } else { (z - at) / (self.length - at) }
        };
        let mut bow = [0.0, 0.0];
        let mut add = |depth: Length, share: f64, clock: Angle| {
            let by = depth.inches_f64() * share;
            let [x, y] = of(clock);
            bow = [bow[0] + by * x, bow[1] + by * y];
        };
        if let Some(Sweep { depth, clock, at }) = self.taped.sweep {
            add(depth, 1.0 - run(at) * run(at), clock);
        }
        if let Some(Crook { depth, clock, at }) = self.taped.crook {
            add(depth, 1.0 - run(at), clock);
        }
        bow
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn end(longer: i64, shorter: i64) -> End {
        End {
            longer: Length::inches(longer),
            shorter: Length::inches(shorter),
            clock: Angle::degrees(90),
            pith_off: Length::ZERO,
            pith_clock: Angle::ZERO,
            bark: Length::inches(1),
        }
    }

    fn plain() -> Taped {
        let (small, butt) = (end(12, 12), end(14, 14));
        let length = Length::feet(12);
        Taped { length, small, butt, sweep: None, crook: None, flare: None }
    }

    #[test]
    fn one_that_is_round_and_straight_is_a_frustum() {
        let bark = Length::inches(1);
        let [small, butt] = [12, 14].map(Length::inches);
        let round = Log::new(small, butt, Length::feet(12), bark, bark).unwrap();
        assert_eq!(Log::taped(&plain()).unwrap(), round);
        // A bow and a flare of nothing are none.
        let sweep = Sweep { depth: Length::ZERO, clock: Angle::ZERO, at: Length::feet(4) };
        let flare = Flare { length: Length::feet(1), extra: Length::ZERO };
        let none = Taped { sweep: Some(sweep), flare: Some(flare), ..plain() };
        assert_eq!(Log::taped(&none).unwrap(), round);
    }

    #[test]
    fn ends_are_as_taped() {
        let flare = Flare { length: Length::feet(2), extra: Length::inches(4) };
        let pith_off = Length::inches(2);
        let small = End { pith_off, ..end(14, 10) };
        let log = Log::taped(&Taped { small, flare: Some(flare), ..plain() }).unwrap();
        assert_eq!((log.small_end(), log.butt()), (Length::inches(12), Length::inches(14)));
        // 14 in from side to side at 3 o'clock; 2 in of pith toward 12 o'clock leave 3 in of wood above it.
        let first = log.section_at(0.0);
        let reach = |outline: &[[f64; 2]], axis: usize, sign: f64| {
            outline.iter().map(|p| sign * p[axis]).fold(f64::NEG_INFINITY, f64::max)
        };
        assert!((reach(&first.wood, 0, 1.0) - 7.0).abs() < 1e-9);
        assert!((reach(&first.wood, 1, 1.0) - 3.0).abs() < 1e-9);
        assert!((reach(&first.wood, 1, -1.0) - 7.0).abs() < 1e-9);
        assert!((reach(&first.bark, 1, 1.0) - 4.0).abs() < 0.005);
        assert!(norm(first.pith[0], first.pith[1]) < 1e-12);
        // With the flare and the bark on either side.
        assert!((log.widest_over_bark() - Length::inches(20)).abs() < Length::nm(25_400));
        assert!((reach(&log.section_at(144.0).wood, 0, 1.0) - 9.0).abs() < 1e-9);
    }

    /// What the log bows by at its deepest is the gap under a string along its hollow side.
    #[test]
    fn sweep_is_the_gap_under_a_string() {
        let depth = Length::inches(3);
        let sweep = Sweep { depth, clock: Angle::ZERO, at: Length::feet(5) };
        let log = Log::taped(&Taped { sweep: Some(sweep), ..plain() }).unwrap();
        // The hollow side is at 6 o'clock.
        let side = |z: f64| {
            let section = log.section_at(z);
            section.wood.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min)
        };
        let string = |z: f64| side(0.0) + (side(144.0) - side(0.0)) * z / 144.0;
        let gaps = (0..=144).map(|z| (z, side(f64::from(z)) - string(f64::from(z))));
        let (at, most) = gaps.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
        assert_eq!(at, 60);
        assert!((most - 3.0).abs() < 0.002, "{most}");
    }

    #[test]
    fn what_no_log_can_be_is_refused_by_its_field() {
        type Change = fn(&mut Taped);
        let cases: [(Change, &str, &str); 17] = [
            (|t| t.small = end(11, 12), "small end", "11.0000 in by 12.0000 in"),
            (|t| t.butt = end(29, 14), "butt", "29.0000 in by 14.0000 in"),
            (|t| t.small = end(0, 0), "small end", "got 0.0000"),
            (|t| t.small = end(16, 16), "butt", "swap the two"),
            (|t| t.length = Length::inches(3), "length", "got 0.2500"),
            (|t| t.butt.bark = Length::inches(5), "bark", "got 5.0000"),
            (|t| t.small.pith_off = Length::inches(6), "pith", "ends 6.0000 in from it"),
            (|t| t.butt.pith_off = Length::inches(-1), "pith", "-1.0000 in off"),
            (|t| t.sweep = sweep(13, 6), "sweep", "12.0000 in, got 13.0000 in"),
            (|t| t.sweep = sweep(-1, 6), "sweep", "got -1.0000 in"),
            (|t| t.sweep = sweep(1, 12), "sweep", "12.0000 ft from the small end"),
            (|t| t.crook = crook(13, 6), "crook", "12.0000 in, got 13.0000 in"),
            (|t| t.crook = crook(1, 0), "crook", "0.0000 ft from the small end"),
            (|t| t.flare = flare(144, 2), "flare", "2.0000 in over 144.0000 in"),
            (|t| t.flare = flare(0, 2), "flare", "2.0000 in over 0.0000 in"),
            (|t| t.flare = flare(20, 15), "flare", "14.0000 in, got 15.0000 in"),
            (|t| t.flare = flare(20, -1), "flare", "got -1.0000 in"),
        ];
        fn sweep(depth: i64, at: i64) -> Option<Sweep> {
            let (depth, at) = (Length::inches(depth), Length::feet(at));
            Some(Sweep { depth, clock: Angle::ZERO, at })
        }
        fn crook(depth: i64, at: i64) -> Option<Crook> {
            let (depth, at) = (Length::inches(depth), Length::feet(at));
            Some(Crook { depth, clock: Angle::ZERO, at })
        }
        fn flare(length: i64, extra: i64) -> Option<Flare> {
            Some(Flare { length: Length::inches(length), extra: Length::inches(extra) })
        }
        for (change, field, said) in cases {
            let mut taped = plain();
            change(&mut taped);
            let fault = Log::taped(&taped).unwrap_err();
            assert_eq!(fault.field(), field, "{fault}");
            assert!(fault.to_string().contains(said), "{fault}");
        }
    }

    #[test]
    fn the_pith_of_an_oval_end_may_lie_far_along_it() {
        let pith_off = Length::inches(6);
        let along = End { pith_off, pith_clock: Angle::degrees(270), ..end(16, 10) };
        let butt = end(16, 16);
        assert!(Log::taped(&Taped { small: along, butt, ..plain() }).is_ok());
        let across = End { pith_clock: Angle::ZERO, ..along };
        let fault = Log::taped(&Taped { small: across, butt, ..plain() }).unwrap_err();
        assert!(matches!(fault, LogFault::Pith { radius, .. } if radius == Length::inches(5)));
    }
}

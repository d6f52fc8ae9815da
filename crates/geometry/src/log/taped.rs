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

/// How far the longer axis of an oval turns between two stations at most, thousandths of a degree.
const TURNED: f64 = 2_500.0;

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
/// apart.
fn stations(taped: &Taped) -> Vec<f64> {
    let length = taped.length.inches_f64();
    let flare = taped.flare.map(|flare| (length - flare.length.inches_f64(), flare));
    let mut corners = vec![0.0, length];
    corners.extend(taped.sweep.map(|sweep| sweep.at.inches_f64()));
    corners.extend(taped.crook.map(|crook| crook.at.inches_f64()));
    corners.extend(flare.map(|(from, _)| from));
    corners.sort_by(f64::total_cmp);
    let (first, last) = clocks(taped);
    let turned = (last - first).abs();
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
        let by_bend = (to - from) * ((sweep + flare) / (8.0 * BENT)).sqrt();
        let by_turn = (to - from) / length * turned / TURNED;
        let parts = section::steps(by_bend.max(by_turn).max((to - from) / APART));
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

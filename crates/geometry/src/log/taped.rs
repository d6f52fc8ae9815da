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
//! The log's axis is then drawn through the pith at both ends. Outlines are polygons on the ellipse, at stations a few
//! inches apart, so the wood between is never more than there is: a chord of [`POINTS`] is within a ten-thousandth of
//! the diameter of its arc, and a sweep of 3 in within five thousandths of an inch of its curve.

use super::{Log, Section, section};
use crate::trig::{norm, sin_cos};
use crate::{Angle, LogFault};
use pithward_measure::Length;

/// Points of an outline. Twice as many change a 24-in section by a thousandth of an inch.
pub(crate) const POINTS: u32 = 120;

/// Distance of the stations at most, inches.
const APART: f64 = 6.0;

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
        check(taped)?;
        let mean = |end: &End| (end.longer + end.shorter).half();
        let round = Self::new(mean(&small), mean(&butt), length, small.bark, butt.bark)?;
        let plain = |end: &End| end.longer == end.shorter && end.pith_off == Length::ZERO;
        let bows = sweep.is_some_and(|sweep| sweep.depth > Length::ZERO)
            || crook.is_some_and(|crook| crook.depth > Length::ZERO)
            || flare.is_some_and(|flare| flare.extra > Length::ZERO);
        if plain(&small) && plain(&butt) && !bows {
            return Ok(round);
        }
        let figures = Figures::new(taped);
        let sections = stations(taped).into_iter().map(|z| figures.section(z)).collect();
        Self::of_sections((mean(&small), mean(&butt)), length, (small.bark, butt.bark), sections)
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
        let radius = shorter.half();
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

/// Where a log has sections: a few inches apart, and where its shape has a corner.
fn stations(taped: &Taped) -> Vec<f64> {
    let length = taped.length.inches_f64();
    let count = section::steps(length / APART).max(2);
    let mut all: Vec<f64> = (0..=count).map(|n| length * f64::from(n) / f64::from(count)).collect();
    all.extend(taped.sweep.map(|sweep| sweep.at.inches_f64()));
    all.extend(taped.crook.map(|crook| crook.at.inches_f64()));
    if let Some(flare) = taped.flare {
        let run = flare.length.inches_f64();
        let parts = section::steps(run / 2.0).max(4);
        all.extend((0..parts).map(|n| length - run * f64::from(n + 1) / f64::from(parts)));
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 0.01);
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

impl<'t> Figures<'t> {
    fn new(taped: &'t Taped) -> Self {
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
        Self { taped, length: taped.length.inches_f64(), clocks: (small, butt) }
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
        let outline = |bark: f64| -> Vec<[f64; 2]> {
            let point = |n: u32| {
                let turn = std::f64::consts::TAU * f64::from(n) / f64::from(POINTS);
                let (sin, cos) = sin_cos(turn);
                // The ellipse's own normal.
                let (nx, ny) = (cos / a, sin / b);
                let run = bark / norm(nx, ny);
                let (along, across) = (a * cos + nx * run, b * sin + ny * run);
                // The longer axis points to (s, c), the shorter a quarter turn counterclockwise of it.
                [middle[0] + along * s - across * c, middle[1] + along * c + across * s]
            };
            (0..POINTS).map(point).collect()
        };
        Section { z, wood: outline(0.0), bark: outline(bark), pith }
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

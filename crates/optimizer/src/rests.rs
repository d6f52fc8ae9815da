//! Which way up, and how far raised: the frames in which a log that is not round and clean may be sawn.
//!
//! # Problem
//! The worth of a log's best pattern jumps with every degree that it is turned, by a per cent or so, and swells with its
//! ovals and bows, by ten. All frames cannot be searched in the time that a sawyer has.
//!
//! # Method
//! Frames are ranked by a rough search ([`Search::roughly`]), and the best few by the full one.
//!
//! 1. **Round.** Turns [`COARSE`] apart through half a turn, and those that the shape itself suggests: along and across the
//!    longest axis and the bow. Half a turn more gives the same planes.
//! 2. **Refine.** About each of the [`LEADERS`] best, ever closer turns.
//! 3. **Taper.** With the best turns, the axis along the bark on one side or the other of either plane instead of along
//!    the pith: full taper.
//! 4. **This way up.** Of the two ways to lay the same planes the one that comes near metal last, on the face that is
//!    opened last; else the horns of a bow up, so that its belly lies on the bed (E. Wengert, on dealing with crooked
//!    logs, 2001).

use crate::column::{Care, Columns, Prices};
use crate::family::{Method, Search};
use crate::plan::Rests;
use crate::site::Site;
use crate::want::Want;
use pithward_geometry::{Angle, Flaw, FlawKind, Frame, Log, Mill, Region, Section, View};
use pithward_measure::Length;

/// Distance of the turns that are searched first, degrees. Half of it finds what refining finds, in twice the time.
const COARSE: i32 = 15;

/// How many turns are refined.
const LEADERS: usize = 3;

/// Distances at which a turn is refined, degrees.
const CLOSER: [i32; 3] = [6, 3, 1];

/// The frames of one log, searched under some prices.
pub(crate) struct Laying<'a> {
    log: &'a Log,
    mill: &'a Mill,
    wants: &'a [Want],
    methods: &'a [Method],
    prices: &'a Prices,
    /// Every frame searched and what it is worth, roughly.
    seen: Vec<(Frame, i64)>,
    /// States that the searches made.
    pub(crate) states: u64,
}

impl<'a> Laying<'a> {
    pub(crate) fn new(
        log: &'a Log,
        mill: &'a Mill,
        wants: &'a [Want],
        methods: &'a [Method],
        prices: &'a Prices,
    ) -> Self {
        Self { log, mill, wants, methods, prices, seen: Vec::new(), states: 0 }
    }

    /// Searches the frames that matter; the best of them first.
    pub(crate) fn search(&mut self) -> Vec<Frame> {
        if self.log.is_round() {
            return vec![Frame::LEVEL];
        }
        let mut turns: Vec<i32> = (0..180).step_by(usize::try_from(COARSE).unwrap_or(15)).collect();
        if let Some(sections) = self.log.sections() {
            for suggested in suggested(sections) {
                if turns.iter().all(|turn| apart(*turn, suggested) > 2) {
                    turns.push(suggested);
                }
            }
        } else {
            // Round wood with flaws: the flaws alone make one side differ from another.
            turns.extend(self.log.flaws().iter().filter_map(|flaw| flaw_turn(&flaw.region)));
            turns.sort_unstable();
            turns.dedup();
        }
        for turn in turns {
            self.worth(Frame::turned(Angle::degrees(turn)));
        }
        let leaders: Vec<Frame> = self.best(LEADERS);
        for step in CLOSER {
            for leader in &leaders {
                let centre = self.nearest_best(*leader);
                for by in [-step, step] {
                    let turn = (centre.turn.as_millidegrees() / 1000 + by).rem_euclid(180);
                    self.worth(Frame { turn: Angle::degrees(turn), ..centre });
                }
            }
        }
        for leader in self.best(1) {
            for (drift_u, drift_h) in drifts(self.log, leader) {
                self.worth(Frame { drift_u, drift_h, ..leader });
            }
        }
        let best = self.best(LEADERS);
        best.into_iter().map(|frame| self.this_way_up(frame)).collect()
    }

    /// What is known of the search: how many frames, and the poorest of them.
    pub(crate) fn rests(&self) -> Rests {
        let tried = u32::try_from(self.seen.len()).unwrap_or(u32::MAX);
        let worst = self.seen.iter().min_by_key(|(_, worth)| *worth);
        let worst = worst.filter(|_| !self.log.is_round());
        let best = self.seen.iter().map(|(_, worth)| worth.div_euclid(crate::column::UNIT)).max();
        Rests {
            tried: tried.max(1),
            ruled_out: 0,
            best: best.filter(|_| worst.is_some()),
            worst: worst.map(|(frame, worth)| (*frame, worth.div_euclid(crate::column::UNIT))),
        }
    }

    /// The best frames so far, no two of them within a few degrees of each other.
    fn best(&self, count: usize) -> Vec<Frame> {
        let ranked = self.seen.iter().enumerate().map(|(n, (_, worth))| (-worth, n));
        let mut ranked: Vec<(i64, usize)> = ranked.collect();
        ranked.sort_unstable();
        let mut best: Vec<Frame> = Vec::new();
        for (_, n) in ranked {
            let frame = self.seen[n].0;
            let turn = |frame: &Frame| frame.turn.as_millidegrees() / 1000;
            if best.iter().all(|other| apart(turn(other), turn(&frame)) > COARSE / 2) {
                best.push(frame);
            }
            if best.len() == count {
                break;
            }
        }
        best
    }

    /// The best frame within half of a coarse step of another.
    fn nearest_best(&self, leader: Frame) -> Frame {
        let turn = |frame: &Frame| frame.turn.as_millidegrees() / 1000;
        let near =
            self.seen.iter().filter(|(frame, _)| apart(turn(frame), turn(&leader)) <= COARSE / 2);
        let best = near.max_by_key(|(frame, worth)| (*worth, -turn(frame)));
        best.map_or(leader, |(frame, _)| *frame)
    }

    /// Searches a frame roughly unless that was done.
    fn worth(&mut self, frame: Frame) {
        if self.seen.iter().any(|(seen, _)| *seen == frame) {
            return;
        }
        let view = View::new(self.log, frame);
        let columns = Columns::seen(&view, self.mill.crosscut_kerf, self.wants, Care::Rough);
        let site = Site::new(&view, self.mill, &columns);
        let mut search = Search::new(&site, self.wants, self.prices);
        let worth = search.roughly(self.methods);
        self.states += search.states();
        self.seen.push((frame, worth));
    }

    /// Of the two ways to lay the same planes the one that comes near metal last; else the one with the horns of a bow up.
    fn this_way_up(&self, frame: Frame) -> Frame {
        let half = Angle::millidegrees((frame.turn.as_millidegrees() + 180_000) % 360_000);
        let other = Frame { turn: half, drift_u: -frame.drift_u, drift_h: -frame.drift_h };
        let order = |frame: Frame| (self.metal(frame), self.horns(frame));
        let ((metal, horns), (other_metal, other_horns)) = (order(frame), order(other));
        let first = metal.total_cmp(&other_metal).then(horns.total_cmp(&other_horns));
        if first.is_ge() { frame } else { other }
    }

    /// How far metal lies from the faces that are opened first: toward the last one, or the second one.
    fn metal(&self, frame: Frame) -> f64 {
        let (sin, cos) = frame.turn.sin_cos();
        let away = |flaw: &Flaw| match flaw.region {
            Region::Side { clock, .. } | Region::Radial { clock, .. } => {
                let (x, y) = clock.sin_cos();
                // The faces are opened upward, downward, to the right and to the left, as the frame has them.
                let (up, right) = (x * sin + y * cos, x * cos - y * sin);
                if up.abs() > right.abs() { -up } else { -right }
            }
            Region::Heart { .. } | Region::Ring { .. } => 0.0,
        };
        let metal = self.log.flaws().iter().filter(|flaw| flaw.kind == FlawKind::Metal);
        metal.map(away).sum()
    }

    /// How much higher the ends lie than the middle, inches.
    fn horns(&self, frame: Frame) -> f64 {
        let (sin, cos) = frame.turn.sin_cos();
        let height = |z: f64| {
            let pith = self.log.section_at(z).pith;
            sin * pith[0] + cos * pith[1]
        };
        -height(self.log.length().inches_f64() / 2.0)
    }
}

/// How far apart two turns are when half a turn changes nothing, degrees.
fn apart(a: i32, b: i32) -> i32 {
    let by = (a - b).rem_euclid(180);
    by.min(180 - by)
}

/// Whole degrees of a direction, within half a turn.
#[allow(clippy::cast_possible_truncation, reason = "an angle in degrees is below 2^31")]
fn turn_of(x: f64, y: f64) -> i32 {
    let degrees = pithward_geometry::trig::atan2(x, y) * 180.0 / std::f64::consts::PI;
    (degrees.round() as i32).rem_euclid(180)
}

/// The turns along and across the longest axis of the middle section, and those of the bow.
fn suggested(sections: &[Section]) -> Vec<i32> {
    let middle = &sections[sections.len() / 2];
    let longest = middle.wood.iter().enumerate().max_by(|(_, a), (_, b)| {
        let away = |p: &[f64; 2]| {
            let (x, y) = (p[0] - middle.pith[0], p[1] - middle.pith[1]);
            x * x + y * y
        };
        away(a).total_cmp(&away(b))
    });
    let mut turns = Vec::new();
    if let Some((_, p)) = longest {
        let turn = turn_of(p[0] - middle.pith[0], p[1] - middle.pith[1]);
        turns.extend([turn, (turn + 90) % 180]);
    }
    let [x, y] = middle.pith;
    if x * x + y * y > 0.01 {
        let turn = turn_of(x, y);
        turns.extend([turn, (turn + 90) % 180]);
    }
    turns
}

/// The turn that puts a flaw upright.
fn flaw_turn(region: &Region) -> Option<i32> {
    match region {
        Region::Radial { clock, .. } | Region::Side { clock, .. } => {
            Some((clock.as_millidegrees() / 1000).rem_euclid(180))
        }
        Region::Heart { .. } | Region::Ring { .. } => None,
    }
}

/// How far the axis drifts when it follows the bark on one side instead of the pith, in either plane and in both.
fn drifts(log: &Log, frame: Frame) -> Vec<(Length, Length)> {
    let view = View::new(log, Frame { drift_u: Length::ZERO, drift_h: Length::ZERO, ..frame });
    let slope = |along: [f64; 3]| -> [Length; 2] {
        // How much further the wood reaches at the butt than at the small end, on either side.
        let reach = |z: f64, sign: f64| {
            let wood = log.section_at(z).wood;
            let out = wood.iter().map(|p| sign * (along[0] * p[0] + along[1] * p[1]));
            out.fold(f64::NEG_INFINITY, f64::max)
        };
        let butt = log.length().inches_f64();
        [1.0, -1.0]
            .map(|sign| Length::from_inches_f64(sign * (reach(butt, sign) - reach(0.0, sign))))
    };
    let (u, h) = (slope(view.basis().u), slope(view.basis().h));
    let mut drifts = Vec::new();
    for drift_u in [Length::ZERO, u[0], u[1]] {
        for drift_h in [Length::ZERO, h[0], h[1]] {
            if drift_u != Length::ZERO || drift_h != Length::ZERO {
                drifts.push((drift_u, drift_h));
            }
        }
    }
    drifts
}

//! Invented histories of jobs done at a pace that is known, to hold what is learned from them against.
//!
//! Everything is drawn: the mill's true figures about the defaults, the yards, the logs and what of their plans takes time,
//! how each day and each log went, how long each blade lasted, what came out.

use pithward_day::hours::LogHours;
use pithward_job::{Ground, LogsLie, Pace, PassCount, PlanCounts, Residue, Stacking, Yard};
use pithward_learn::{BladeDone, BladeLog, DayDone, Figure, LogDone, Observed, Outcome};
use pithward_trade::species::Kind;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

/// A stream of random numbers.
pub(crate) struct Draw(ChaCha8Rng);

impl Draw {
    pub(crate) fn new(seed: u64, stream: u64) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        rng.set_stream(stream);
        Self(rng)
    }

    /// From 0 to less than 1.
    pub(crate) fn uniform(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.uniform()
    }

    pub(crate) fn whole(&mut self, from: u32, to: u32) -> u32 {
        let drawn = self.between(f64::from(from), f64::from(to) + 1.0);
        (from..=to).rev().find(|n| f64::from(*n) <= drawn).unwrap_or(from)
    }

    /// Normal, by the sum of twelve uniform numbers: enough for these tails.
    pub(crate) fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// How the mill really is.
pub(crate) struct Truth {
    /// Its pace.
    pub(crate) pace: Pace,
    /// How much a day goes faster or slower.
    pub(crate) day: f64,
    /// The same of a log.
    pub(crate) log: f64,
    /// How many planned pieces come out.
    pub(crate) recovery: f64,
}

impl Truth {
    /// Drawn about the defaults, as far off as is taken to be likely before anything is learned.
    pub(crate) fn drawn(draw: &mut Draw) -> Self {
        Self::about(&Pace::default(), draw)
    }

    /// A mill that is worked by hand: about twice the times and half the speeds of the defaults, drawn about that as others
    /// are. Hardly one that is drawn about the defaults is as far off in all figures at once.
    #[allow(dead_code, reason = "what shares this file does not use all of it")]
    pub(crate) fn by_hand(draw: &mut Draw) -> Self {
        Self::about(&by_hand(), draw)
    }

    fn about(middle: &Pace, draw: &mut Draw) -> Self {
        let plain = Pace::default();
        let mut pace = *middle;
        for figure in Figure::all() {
            let by = figure.spread(&plain) * draw.normal();
            figure.set(&mut pace, figure.moved(figure.get(middle), by));
        }
        let spread = |of: f64, draw: &mut Draw| of * libm::exp(0.5 * draw.normal());
        let (day, log) = (spread(0.10, draw), spread(0.20, draw));
        Self { pace, day, log, recovery: 1.0 - 0.1 * draw.uniform() }
    }
}

/// The pace of a mill that is worked by hand.
pub(crate) fn by_hand() -> Pace {
    let plain = Pace::default();
    let mut pace = plain;
    for figure in Figure::all() {
        let by = match figure.field() {
            "softwood_feed" | "hardwood_feed" | "fastest_feed" | "return" => -0.7,
            "load" | "level" | "turn" | "set" | "edging_batch" => 0.7,
            _ => 0.0,
        };
        figure.set(&mut pace, figure.moved(figure.get(&plain), by));
    }
    pace
}

/// A job as it was planned.
pub(crate) struct Planned {
    pub(crate) yard: Yard,
    pub(crate) logs: Vec<PlanCounts>,
}

impl Planned {
    pub(crate) fn drawn(draw: &mut Draw) -> Self {
        let helpers = draw.whole(0, 2);
        let yard = Yard {
            logs: if draw.uniform() < 0.3 { LogsLie::Piled } else { LogsLie::Staged },
            ground: if draw.uniform() < 0.3 { Ground::Soft } else { Ground::Firm },
            residue: if draw.uniform() < 0.3 { Residue::Tarp } else { Residue::Leave },
            dirty: draw.uniform() < 0.3,
            frozen: draw.uniform() < 0.2,
            helpers: Some(helpers),
            stacking: (draw.uniform() < 0.3).then_some(Stacking::Sawyer),
            ..Yard::default()
        };
        let wood = if draw.uniform() < 0.5 { Kind::Softwood } else { Kind::Hardwood };
        let logs = (0..draw.whole(6, 20)).map(|_| counts(wood, draw)).collect();
        Self { yard, logs }
    }

    /// The logs as they are asked for.
    pub(crate) fn asked(&self) -> Vec<(&PlanCounts, &Yard)> {
        self.logs.iter().map(|counts| (counts, &self.yard)).collect()
    }

    /// What its logs take at a pace, in the middle.
    pub(crate) fn minutes(&self, pace: &Pace) -> f64 {
        self.logs.iter().map(|counts| LogHours::of(counts, pace, &self.yard).minutes).sum()
    }

    /// The middle of what its logs take together by a fit, and how far that may be off, one standard deviation of its
    /// logarithm: of logs that are each off by a factor the sum is more than the sum of their middles.
    pub(crate) fn forecast(&self, fit: &pithward_learn::Fit) -> (f64, f64) {
        let asked = self.asked();
        let (log, day) = (fit.log_to_reckon(), fit.day.to_reckon());
        let unsure = fit.unsure_of(&asked);
        let of_logs = (libm::exp(log * log) - 1.0) / self.even_logs(&fit.after);
        let middle = fit.minutes(&asked) * libm::exp(0.5 * (log * log - of_logs));
        (middle, (unsure * unsure + day * day + of_logs).sqrt())
    }

    /// How many logs of the same size would be as steady together.
    pub(crate) fn even_logs(&self, pace: &Pace) -> f64 {
        let minutes = |counts| LogHours::of(counts, pace, &self.yard).minutes;
        let squares: f64 = self.logs.iter().map(|counts| minutes(counts) * minutes(counts)).sum();
        self.minutes(pace) * self.minutes(pace) / squares
    }

    /// The same on a day that goes as it goes.
    pub(crate) fn took(&self, truth: &Truth, draw: &mut Draw) -> f64 {
        let day = truth.day * draw.normal();
        let logs = self.logs.iter().map(|counts| {
            let minutes = LogHours::of(counts, &truth.pace, &self.yard).minutes;
            minutes * libm::exp(day + truth.log * draw.normal())
        });
        logs.sum()
    }
}

fn counts(wood: Kind, draw: &mut Draw) -> PlanCounts {
    let (passes, batches) = (draw.whole(5, 18), draw.whole(0, 3));
    let thick = draw.between(8.0, 22.0);
    let of_log = (0..passes).map(|_| PassCount { width: thick * draw.between(0.35, 0.95) });
    let of_log: Vec<PassCount> = of_log.collect();
    let edged = batches * draw.whole(1, 4);
    let of_edging = (0..edged).map(|_| PassCount { width: draw.between(2.0, 6.0) }).collect();
    PlanCounts {
        length: 12.0 * draw.between(8.0, 16.0),
        wood: Some(wood),
        turns: draw.whole(1, 4),
        of_log,
        of_edging,
        batches,
        shifts: if draw.uniform() < 0.2 { 2 } else { 0 },
        pieces: draw.whole(4, passes.max(4)),
    }
}

/// What some jobs came to.
pub(crate) fn history(truth: &Truth, jobs: u32, draw: &mut Draw) -> Observed {
    let mut all = Observed::default();
    for _ in 0..jobs {
        all.add(done(truth, &Planned::drawn(draw), draw));
    }
    all
}

/// What one job came to. A day has nine logs.
pub(crate) fn done(truth: &Truth, planned: &Planned, draw: &mut Draw) -> Observed {
    let minutes = |time: std::time::Duration| time.as_secs_f64() / 60.0;
    let (pace, yard) = (&truth.pace, &planned.yard);
    let mut all = Observed { yards: vec![yard.clone()], ..Observed::default() };
    let days = planned.logs.chunks(9).count();
    let part = |of: f64, draw: &mut Draw| Some(of * libm::exp(0.35 * draw.normal()));
    let tidy = if yard.residue == Residue::Tarp { minutes(pace.day.tidy) } else { 0.0 };
    let night = minutes(pace.day.overnight) / 2.0;
    let mut blade = BladeDone::default();
    let mut lasts = libm::exp(0.35 * draw.normal());
    for (day, logs) in planned.logs.chunks(9).enumerate() {
        let (first, last) = (day == 0, day + 1 == days);
        let opening = part(if first { yard.set_up(pace) } else { night }, draw);
        let closing = part(tidy + if last { minutes(pace.day.pack_up) } else { night }, draw);
        all.days.push(DayDone { job: 0, first, last, opening, closing });
        let of_day = truth.day * draw.normal();
        for counts in logs {
            let hours = LogHours::of(counts, pace, yard);
            let (area, time) =
                (hours.wear, hours.steps.sawing / pace.blade.minutes(yard.dirty, yard.frozen));
            // Where the blade is dull before half of the log, it is changed for it.
            let mut changes = 0;
            let dull = worn(&blade, &all, pace, yard) + 0.5 * area.max(time) > lasts;
            if dull && !blade.logs.is_empty() {
                blade.dull = true;
                all.blades.push(std::mem::take(&mut blade));
                lasts = libm::exp(0.35 * draw.normal());
                changes = 1;
            }
            blade.logs.push(BladeLog { log: all.logs.len(), share: 1.0 });
            let took = (hours.minutes + f64::from(changes) * minutes(pace.blade.change))
                * libm::exp(of_day + truth.log * draw.normal());
            let came = (0..counts.pieces).filter(|_| draw.uniform() < truth.recovery).count();
            let came = u32::try_from(came).unwrap_or_default();
            let feet = |pieces: u32| i64::from(pieces) * 8_000_000;
            all.logs.push(LogDone {
                job: 0,
                id: (all.logs.len() + 1).to_string(),
                day,
                counts: counts.clone(),
                minutes: Some(took),
                changes,
                outcome: Some(Outcome {
                    planned: counts.pieces,
                    came,
                    planned_feet: feet(counts.pieces),
                    came_feet: feet(came),
                }),
            });
        }
    }
    all.blades.push(blade);
    all
}

/// How much of a blade is gone, by area or by time.
fn worn(blade: &BladeDone, all: &Observed, pace: &Pace, yard: &Yard) -> f64 {
    let lasts = pace.blade.minutes(yard.dirty, yard.frozen);
    let of = blade.logs.iter().map(|of| LogHours::of(&all.logs[of.log].counts, pace, yard));
    let (area, time) = of.fold((0.0, 0.0), |(area, time), hours| {
        (area + hours.wear, time + hours.steps.sawing / lasts)
    });
    f64::max(area, time)
}

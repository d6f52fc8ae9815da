//! Random numbers, and a pile as it may be instead of as it was measured.
//!
//! Every pile has a stream of its own, and within it every log takes as many numbers whatever is in doubt. So a pile is the
//! same on any number of threads, and one source of doubt can be changed without moving the others.
//!
//! # Shapes
//! With `z` normal numbers, `g` those that all logs share which were measured alike, and the spreads of [`Spread`]:
//! ```text
//! small end + shared g + diameter z1      butt + shared g + diameter z1 + taper z2      length + length z3
//! ```
//! A butt is never thinner than its small end. A log that is not round, straight and sound is made thicker or thinner as a
//! whole, and longer or shorter, each in steps: it is searched by itself, and so the shapes to search stay few. Which of the
//! two steps next to its error it takes is drawn too, so that it comes out right in the mean. Its taper is as measured, or
//! more or less by one step, in one of six such logs each: a step is so long that this spreads as normal errors do.
//!
//! # Source
//! Streams: Bernstein, "`ChaCha`, a variant of Salsa20", 2008, with 8 rounds. Normal numbers: Box and Muller, "A note on the
//! generation of random normal deviates", Annals of Mathematical Statistics 29(2), 1958.

use pithward_geometry::Log;
use pithward_geometry::trig::sin_cos;
use pithward_job::{Doubt, Measured, PileJob, Spread};
use pithward_measure::Length;
use pithward_optimizer::Hidden;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

/// Most steps that a log which is not round is made thicker or thinner, or longer or shorter.
const MOST_STEPS: f64 = 3.0;
/// How far from the pith metal lies at least, as a share of the radius: what a tree has grown over lies outside of what it was
/// then. Common practice, no source.
const METAL_FROM: f64 = 0.4;
/// Up to where on the butt log metal is, feet: most nails sit no higher than a person reaches. Common practice, no source.
const METAL_HEIGHT: f64 = 6.0;
/// How near metal a piece is lost, inches. Common practice, no source.
const METAL_CLEAR: f64 = 1.0;

/// A stream of random numbers.
#[derive(Debug)]
pub(super) struct Draw(ChaCha8Rng);

impl Draw {
    /// The stream of one pile.
    pub(super) fn new(seed: u64, pile: u64) -> Self {
        let mut stream = ChaCha8Rng::seed_from_u64(seed);
        stream.set_stream(pile);
        Self(stream)
    }

    /// From 0 to less than 1.
    pub(super) fn uniform(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Normal, with mean 0 and standard deviation 1; always two numbers of the stream.
    pub(super) fn normal(&mut self) -> f64 {
        let (one, two) = (1.0 - self.uniform(), self.uniform());
        let (_, cos) = sin_cos(std::f64::consts::TAU * two);
        (-2.0 * libm::log(one)).sqrt() * cos
    }
}

/// A pile as it may be.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// The logs, in the order of the job.
    pub logs: Vec<Log>,
    /// What is hidden in them.
    pub hidden: Vec<Hidden>,
    /// Of every log, whether metal is hidden in it.
    pub metal: Vec<bool>,
    /// How much longer than stated the whole day takes, as a factor.
    pub day: f64,
    /// The same of every log, beside that of its day.
    pub paces: Vec<f64>,
    /// How far it is off by each source of doubt, in the order of [`Source::ALL`](super::Source::ALL).
    pub off: [f64; 8],
}

/// The pile of a job as it may be, one of the many of a seed: the same that [`forecast`](super::forecast) draws where the doubt
/// is that of the job.
pub fn draw_pile(job: &PileJob, doubt: &Doubt, seed: u64, pile: u64) -> Drawn {
    drawn(job, doubt, &mut Draw::new(seed, pile))
}

fn drawn(job: &PileJob, doubt: &Doubt, draw: &mut Draw) -> Drawn {
    let day = doubt.pace_day * draw.normal();
    let shared: Vec<(Measured, f64)> =
        Measured::ALL.into_iter().map(|measured| (measured, draw.normal())).collect();
    let mut all = Drawn {
        logs: Vec::with_capacity(job.logs.len()),
        hidden: Vec::new(),
        metal: Vec::with_capacity(job.logs.len()),
        day: libm::exp(day),
        paces: Vec::with_capacity(job.logs.len()),
        off: [0.0; 8],
    };
    all.off[6] = day;
    for (place, of) in job.logs.iter().enumerate() {
        let measured = doubt.measured(&of.id);
        let together = shared.iter().find(|(known, _)| *known == measured).map_or(0.0, |it| it.1);
        let round = of.log.is_round() && of.log.defects().is_empty();
        let error = Error::new(doubt.spread(&of.id), together, round, draw);
        let (small, long) = (of.log.small_end().inches_f64(), of.log.length().inches_f64());
        // What a change of each does to the log's volume, up to a factor that is the same for all.
        all.off[0] += error.diameter * small * long;
        all.off[1] += error.shared * small * long;
        all.off[2] += error.taper * small * long;
        all.off[3] += error.length * small * small;
        let log = error.of(&of.log);
        let rot = rot(doubt, place, &log, draw);
        all.off[4] += rot.map_or(0.0, |rot| rot.radius * rot.radius * rot.to.inches_f64());
        let metal = metal(doubt, place, &log, draw);
        all.off[5] += f64::from(u8::from(metal.is_some()));
        all.metal.push(metal.is_some());
        all.hidden.extend(rot.into_iter().chain(metal));
        let pace = doubt.pace_log * draw.normal();
        all.off[7] += pace;
        all.paces.push(libm::exp(pace));
        all.logs.push(log);
    }
    all
}

/// By how much a log is off, inches.
struct Error {
    spread: Spread,
    diameter: f64,
    shared: f64,
    taper: f64,
    length: f64,
    /// Which of two steps it takes, from 0 to 1: in thickness and in length.
    steps: [f64; 2],
}

impl Error {
    fn new(spread: Spread, together: f64, round: bool, draw: &mut Draw) -> Self {
        let of_taper = |z: f64| if round { z } else { in_three(z) };
        Self {
            spread,
            shared: spread.shared.inches_f64() * together,
            diameter: spread.diameter.inches_f64() * draw.normal(),
            taper: spread.taper.inches_f64() * of_taper(draw.normal()),
            length: spread.length.inches_f64() * draw.normal(),
            steps: [draw.uniform(), draw.uniform()],
        }
    }

    /// A log as it may be; itself where that is no log.
    fn of(&self, log: &Log) -> Log {
        let round = log.is_round() && log.defects().is_empty();
        if round { self.of_round(log) } else { self.of_other(log) }.unwrap_or_else(|| log.clone())
    }

    fn of_round(&self, log: &Log) -> Option<Log> {
        let by = |inches: f64| Length::from_inches_f64(inches);
        let (thick, long) = (self.shared + self.diameter, log.length() + by(self.length));
        let small = (log.small_end() + by(thick)).max(Log::LEAST_DIAMETER);
        let butt = (log.butt() + by(thick + self.taper)).max(small);
        Log::new(small, butt, long, log.bark_small(), log.bark_butt()).ok()
    }

    fn of_other(&self, log: &Log) -> Option<Log> {
        let Spread { diameter, shared, length, .. } = self.spread;
        let (own, all) = (diameter.inches_f64(), shared.inches_f64());
        let thick = (own * own + all * all).sqrt();
        let [one, two] = self.steps;
        let thicker = stepped(self.shared + self.diameter, thick, one);
        let log = if thicker == Length::ZERO { log.clone() } else { log.thicker(thicker).ok()? };
        // What a tape says of it goes from a small end to a butt that is no thinner, and so it does here.
        let least = (log.small_end() - log.butt()).min(Length::ZERO);
        let tapered = Length::from_inches_f64(self.taper).max(least);
        let log = if tapered == Length::ZERO { log } else { log.tapered(tapered).ok()? };
        let longer = stepped(self.length, length.inches_f64(), two);
        if longer == Length::ZERO { Some(log) } else { log.longer(longer).ok() }
    }
}

/// Two in three normal numbers are nearer to 0.
const TWO_IN_THREE: f64 = 0.967_421_566;

/// A normal number as one of three, 0 and the square root of 3 either way: with the same mean, variance and fourth moment.
fn in_three(z: f64) -> f64 {
    if z.abs() < TWO_IN_THREE { 0.0 } else { z.signum() * 3.0_f64.sqrt() }
}

/// An error in whole steps, one of the two next to it.
fn stepped(error: f64, step: f64, draw: f64) -> Length {
    if step <= 0.0 {
        return Length::ZERO;
    }
    let steps = (error / step).clamp(-MOST_STEPS, MOST_STEPS);
    let down = steps.floor();
    let steps = if draw < steps - down { down + 1.0 } else { down };
    Length::from_inches_f64(steps * step)
}

fn rot(doubt: &Doubt, log: usize, of: &Log, draw: &mut Draw) -> Option<Hidden> {
    let rot = doubt.rot;
    let is_there = draw.uniform() < rot.share;
    let radius = rot.radius * of.butt().inches_f64() / 2.0;
    let to = rot.length.min(of.length());
    (is_there && radius > 0.0 && to > Length::ZERO).then_some(Hidden {
        log,
        from: Length::ZERO,
        to,
        middle: [0.0; 2],
        radius,
    })
}

fn metal(doubt: &Doubt, log: usize, of: &Log, draw: &mut Draw) -> Option<Hidden> {
    let metal = doubt.metal;
    let is_there = draw.uniform() < metal.share;
    let [height, off, turn] = [draw.uniform(), draw.uniform(), draw.uniform()];
    let half = metal.stretch.inches_f64() / 2.0;
    let at = height * (METAL_HEIGHT * 12.0).min(of.length().inches_f64());
    let along = of.length().inches_f64() - at;
    let off = (METAL_FROM + (1.0 - METAL_FROM) * off) * of.wood_radius(along.max(0.0));
    let (sin, cos) = sin_cos(std::f64::consts::TAU * turn);
    let (from, to) = (Length::from_inches_f64(at - half), Length::from_inches_f64(at + half));
    let middle = [off * sin, off * cos];
    is_there.then_some(Hidden { log, from, to, middle, radius: METAL_CLEAR })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn normal_numbers_have_mean_0_and_deviation_1() {
        let mut draw = Draw::new(7, 0);
        let all: Vec<f64> = (0..20_000).map(|_| draw.normal()).collect();
        let mean = all.iter().sum::<f64>() / 20_000.0;
        let variance = all.iter().map(|z| (z - mean) * (z - mean)).sum::<f64>() / 20_000.0;
        let within = all.iter().filter(|z| z.abs() < 1.281_551_6).count();
        // Four standard errors of each.
        assert!(mean.abs() < 0.029, "{mean}");
        assert!((variance - 1.0).abs() < 0.04, "{variance}");
        assert!((within as f64 / 20_000.0 - 0.8).abs() < 0.012, "{within}");
    }

    #[test]
    fn streams_differ_and_are_the_same_in_every_run() {
        let first = |seed, pile| Draw::new(seed, pile).uniform().to_bits();
        assert_eq!(first(1, 2), first(1, 2));
        assert_ne!(first(1, 2), first(1, 3));
        assert_ne!(first(1, 2), first(2, 2));
    }

    #[test]
    fn one_of_three_spreads_as_normal_numbers_do() {
        let mut draw = Draw::new(2, 0);
        let all: Vec<f64> = (0..20_000).map(|_| in_three(draw.normal())).collect();
        let moment = |n: i32| all.iter().map(|z| z.powi(n)).sum::<f64>() / 20_000.0;
        assert!(moment(1).abs() < 0.029 && (moment(2) - 1.0).abs() < 0.04, "{}", moment(2));
        assert!((moment(4) - 3.0).abs() < 0.13, "{}", moment(4));
    }

    #[test]
    fn steps_are_right_in_the_mean() {
        let mut draw = Draw::new(1, 1);
        let sum: f64 = (0..4_000).map(|_| stepped(0.3, 0.25, draw.uniform()).inches_f64()).sum();
        assert!((sum / 4_000.0 - 0.3).abs() < 0.01);
        assert_eq!(stepped(0.5, 0.25, 0.99), Length::sixty_fourths(32));
        assert_eq!(stepped(0.5, 0.0, 0.5), Length::ZERO);
        assert_eq!(stepped(-9.0, 0.25, 0.5), -Length::sixty_fourths(48));
    }
}

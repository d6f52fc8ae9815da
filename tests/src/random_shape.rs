//! Random real logs: oval, bowed, crooked, flared, the pith off the middle, with bark and flaws, each made from one
//! number.

use crate::random::{Case, Random, mill, want};
use crate::real_wood::RealWood;
use pithward_geometry::{
    Angle, Crook, End, Flare, Flaw, FlawKind, FlawKinds, Frame, Heart, Log, Region, Sweep, Taped,
};
use pithward_measure::Length;
use pithward_optimizer::Want;

/// A case with a log that is not round and straight, and the tape's figures that it was made from.
#[derive(Clone, Debug)]
pub struct RealCase {
    /// The log, a mill and some wants.
    pub case: Case,
    /// The tape's figures.
    pub taped: Taped,
    /// The same log in plain coordinates.
    pub wood: RealWood,
}

const SIXTEENTH: Length = Length::sixty_fourths(4);

impl RealCase {
    /// The case of this number.
    ///
    /// # Panics
    /// Never: every number is within what a log may measure.
    pub fn new(number: u64) -> Self {
        let mut random = Random::new(number ^ 0x5eed_0f1e);
        let taped = taped(&mut random);
        let log = Log::taped(&taped).expect("a log that a tree can have");
        let log = log.with_flaws(flaws(&mut random, &taped));
        let mill = mill(&mut random);
        let lines = random.within(1, 3);
        let wants = (0..lines).map(|_| picky(&mut random, &log)).collect();
        let wood = RealWood::new(&taped);
        Self { case: Case { log, mill, wants }, taped, wood }
    }
}

fn degrees(random: &mut Random, least: i64, most: i64) -> Angle {
    Angle::degrees(i32::try_from(random.within(least, most)).unwrap_or(0))
}

/// Figures to a sixteenth of an inch: ovals up to 1.3 : 1, sweep up to 4 in, a pith up to a sixth of the diameter off.
pub fn taped(random: &mut Random) -> Taped {
    let shorter = SIXTEENTH * random.within(16 * 6, 16 * 15);
    let length = Length::inches(random.within(60, 168));
    let at = |random: &mut Random| {
        SIXTEENTH * (length.div_floor(SIXTEENTH * 100) * random.within(30, 70))
    };
    let oval = random.pick(&[0, 0, 5, 10, 20, 30]);
    let axis = degrees(random, 0, 179);
    let bark = SIXTEENTH * random.pick(&[0, 4, 8, 16]);
    let mut end = |shorter: Length| End {
        longer: (shorter + Length::nm(shorter.as_nm() * oval / 100)).floor_to(SIXTEENTH),
        shorter,
        clock: axis,
        pith_off: SIXTEENTH
            * (shorter.div_floor(SIXTEENTH * 100) * random.pick(&[0, 0, 4, 10, 16])),
        pith_clock: degrees(random, 0, 359),
        bark,
    };
    let small = end(shorter);
    let mut butt = end(shorter);
    let grows = SIXTEENTH * random.within(4, 46);
    (butt.longer, butt.shorter) = (butt.longer + grows, butt.shorter + grows);
    let twist = random.pick(&[0, 0, 20, -35]);
    butt.clock = Angle::degrees((butt.clock.as_millidegrees() / 1000 + twist).rem_euclid(180));
    butt.bark += SIXTEENTH * random.pick(&[0, 2]);
    let depth = SIXTEENTH * random.within(4, 64);
    let sweep = (!random.one_in(3)).then(|| Sweep {
        depth,
        clock: degrees(random, 0, 359),
        at: at(random),
    });
    let crook = random.one_in(5).then(|| Crook {
        depth: SIXTEENTH * random.within(4, 32),
        clock: degrees(random, 0, 359),
        at: at(random),
    });
    let flare = random.one_in(4).then(|| Flare {
        length: Length::inches(random.within(12, 30)),
        extra: SIXTEENTH * random.within(8, 64),
    });
    Taped { length, small, butt, sweep, crook, flare }
}

/// None, one or two flaws somewhere in the log.
fn flaws(random: &mut Random, taped: &Taped) -> Vec<Flaw> {
    let number = random.pick(&[0, 0, 1, 1, 2]);
    let least = taped.small.shorter.div_floor(SIXTEENTH * 2);
    (0..number)
        .map(|_| {
            let length = taped.length.div_floor(SIXTEENTH);
            let (a, b) = (random.within(0, length), random.within(0, length));
            let (from, to) = (SIXTEENTH * a.min(b), SIXTEENTH * (a.max(b) + 1).min(length));
            let far =
                |random: &mut Random, share: i64| SIXTEENTH * random.within(8, least * share / 100);
            let region = match random.within(0, 3) {
                0 => Region::Heart { radius: far(random, 40) },
                1 => {
                    let inner = far(random, 50);
                    Region::Ring { inner, outer: inner + SIXTEENTH * random.within(2, 12) }
                }
                2 => Region::Radial {
                    clock: degrees(random, 0, 359),
                    from: Length::ZERO,
                    to: far(random, 90),
                },
                _ => Region::Side {
                    clock: degrees(random, 0, 359),
                    width: degrees(random, 10, 90),
                    depth: far(random, 50),
                },
            };
            Flaw { kind: random.pick(&FlawKind::ALL), from, to, region }
        })
        .collect()
}

/// A want that may be picky about the pith, or easy about stain.
fn picky(random: &mut Random, log: &Log) -> Want {
    let heart = heart(random);
    let tolerates = tolerates(random);
    Want { heart, tolerates, ..want(random, log) }
}

/// Any rule for the pith, most often none.
pub fn heart(random: &mut Random) -> Heart {
    match random.within(0, 5) {
        0 => Heart::Free { clear: SIXTEENTH * random.pick(&[0, 8, 16]) },
        1 => Heart::Boxed { within: SIXTEENTH * random.within(4, 40) },
        _ => Heart::Any,
    }
}

/// Kinds of flaw that a want takes.
pub fn tolerates(random: &mut Random) -> FlawKinds {
    match random.within(0, 3) {
        0 => FlawKinds::NONE.with(FlawKind::Stain),
        1 => FlawKinds::NONE.with(FlawKind::Split).with(FlawKind::Shake),
        _ => FlawKinds::NONE,
    }
}

/// A frame turned anyhow, its axis drifting by up to some inches.
pub fn frame(random: &mut Random) -> Frame {
    let turn = Angle::millidegrees(i32::try_from(random.within(0, 359_999)).unwrap_or(0));
    if random.one_in(3) {
        return Frame::turned(turn);
    }
    let drift = |random: &mut Random| SIXTEENTH * random.within(-40, 40);
    Frame { turn, drift_u: drift(random), drift_h: drift(random) }
}

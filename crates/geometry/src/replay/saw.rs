//! The blade's way through one body: how it lies in each stage, and what each pass frees.

use super::{Hangs, MICROMETRE, PassFact, Place, ReplayFault, Setting, metal::Metal};
use crate::{
    Body, Covering, Frame, HalfSpace, Mill, PartId, Pass, Pose, Rest, Stage, Support,
    frame::dot,
    lift_to_level,
    rest::{reach, reach_at},
    trig::norm,
};
use pithward_measure::Length;

/// A lift is told as exactly as this.
const SET: Length = Length::nm(1_000);

/// A body after its stages.
#[derive(Default)]
pub(super) struct SawnBody<'a> {
    pub(super) parts: Vec<(PartId, Body<'a>)>,
    pub(super) passes: Vec<Vec<PassFact>>,
    /// Height of the pith in each stage, at the small end and at the butt.
    pub(super) pith: Vec<(f64, f64)>,
    /// Height of the frame's axis in each stage.
    pub(super) axis: Vec<f64>,
    /// First and last station at which it touches the bed, in each stage of a log or of a part of it put back.
    pub(super) carried: Vec<(f64, f64)>,
    /// How high its ends hang over the bed, in each of the same.
    pub(super) hangs: Vec<Option<Hangs>>,
    /// How high the middle of its width stands, in each stage of an edging.
    pub(super) middle: Vec<Option<(f64, f64)>>,
    /// Passes near metal.
    pub(super) metal: Vec<(Place, usize)>,
}

/// The saw at one setting.
pub(super) struct Saw<'m> {
    pub(super) mill: &'m Mill,
    pub(super) setting: Setting,
    pub(super) frame: Frame,
}

impl Saw<'_> {
    fn height(&self, pass: &Pass) -> f64 {
        match self.setting {
            Setting::Exact => pass.height,
            Setting::Printed { .. } => pass.printed,
        }
        .inches_f64()
    }

    /// Carries a body through its stages; the parts in the order in which they fall off, the one left
    /// on the bed last. `marks` holds how high the frame's axis should be over the bed where it lies on bark.
    pub(super) fn stages<'a>(
        &self,
        mut body: Body<'a>,
        stages: &[Stage],
        marks: &[f64],
        place: impl Fn(usize) -> Place,
    ) -> Result<SawnBody<'a>, ReplayFault> {
        let mut sawn = SawnBody::default();
        let length = body.log().length().inches_f64();
        let metal = Metal::of(body.log());
        // An edging names no faces. A part that is put back brings those along that are open already.
        let is_resaw = matches!(place(1), Place::Resaw { .. });
        let mut faces: Vec<HalfSpace> = if is_resaw { body.cuts().to_vec() } else { Vec::new() };
        for (i, stage) in stages.iter().enumerate() {
            let place = place(i + 1);
            let pose = self.lay_down(&body, &stage.rest, &faces, place)?;
            let centre = marks.get(i).filter(|_| stage.rest.on == Support::Bark);
            let shift = centre.map_or(0.0, |mark| pose.axis_height() - mark);
            let exact = self.setting == Setting::Exact;
            match place {
                Place::Log { .. } | Place::Resaw { .. } => {
                    sawn.carried.push(pose.carried(&body).ok_or(ReplayFault::NoPose { place })?);
                    if exact {
                        sawn.hangs.push(self.hangs(&body, &pose));
                    }
                }
                Place::Edging { .. } if exact => sawn.middle.push(middle(&body, &pose)),
                Place::Edging { .. } => {}
            }
            let mut passes = Vec::new();
            for (j, pass) in stage.passes.iter().enumerate() {
                let height = self.height(pass) + shift;
                let freed = body.cut(pose.above(height + self.mill.kerf.inches_f64()));
                let fact = self.pass_fits(&body, &pose, (pass, height), place, j + 1)?;
                passes.extend(fact);
                let (plane, kerf) = (height - pose.axis_height(), self.mill.kerf.inches_f64());
                if metal.is_near(&body, pose.up(), plane, kerf) {
                    sawn.metal.push((place, j + 1));
                }
                let number = u32::try_from(sawn.parts.len() + 1).unwrap_or(u32::MAX);
                sawn.parts.push((PartId::Freed(number), freed));
                body = body.cut(pose.below(height));
            }
            if let Some(last) = stage.passes.last() {
                open(&mut faces, pose.below(self.height(last) + shift));
            }
            sawn.pith.push((pose.pith_height(0.0), pose.pith_height(length)));
            sawn.axis.push(pose.axis_height());
            sawn.passes.push(passes);
        }
        sawn.parts.push((PartId::Left, body));
        Ok(sawn)
    }

    /// How high the ends of a body hang over the bed, and what hangs over the toe board.
    fn hangs(&self, body: &Body<'_>, pose: &Pose) -> Option<Hangs> {
        let (from, to) = body.stations(Covering::Bark)?;
        let board = self.mill.toe_board.map(|toe| to - toe.inches_f64()).filter(|z| *z >= from);
        Some(Hangs {
            small_end: pose.hangs(body, from)?,
            butt: pose.hangs(body, to)?,
            toe_board: board.and_then(|z| pose.hangs(body, z)),
        })
    }

    /// Lays the body down and holds the rest's own words against where it comes to lie.
    fn lay_down(
        &self,
        body: &Body<'_>,
        rest: &Rest,
        faces: &[HalfSpace],
        place: Place,
    ) -> Result<Pose, ReplayFault> {
        let edging = matches!(place, Place::Edging { .. });
        let length = body.log().length();
        let basis = self.frame.turned_to(rest.turn, length).ok_or(ReplayFault::Turn { place })?;
        let pose = Pose::levelled(body, basis).ok_or(ReplayFault::NoPose { place })?;
        // At printed heights the planes lie up to half a step off, and with them what levels the body. The
        // sawyer levels by the pith's marks, or by the centre line of a flitch, whatever lift that takes.
        if self.setting == Setting::Exact {
            let takes =
                lift_to_level(body, &self.frame, rest.turn).ok_or(ReplayFault::NoPose { place })?;
            if (takes - rest.lift).abs() > SET {
                return Err(ReplayFault::Lift { place, told: rest.lift, takes });
            }
        }
        let down = pose.up().map(|c| -c);
        let on_bed = |plane: HalfSpace| {
            let below = pose.below(0.0);
            aligned(plane.normal, down) && (plane.offset + below.offset).abs() < MICROMETRE
        };
        let lies = match rest.on {
            Support::Bark => body.plane_facing(down).is_none_or(|plane| !on_bed(plane)),
            Support::Face(face) => !edging && faces.get(face as usize).copied().is_some_and(on_bed),
            Support::SawnEdge => edging && body.plane_facing(down).is_some_and(on_bed),
        };
        // Half a step decides whether a barely squared face still touches the bed; the exact setting tells.
        if !lies && self.setting == Setting::Exact {
            return Err(ReplayFault::Support { place });
        }
        let stops = pose.right().map(|c| -c);
        let stands = match rest.against {
            None => true,
            Some(face) => {
                faces.get(face as usize).is_some_and(|plane| aligned(plane.normal, stops))
                    && body.plane_facing(stops).is_some()
            }
        };
        if stands { Ok(pose) } else { Err(ReplayFault::Stops { place }) }
    }

    /// One pass against what the mill can do; `None` when nothing stands at the blade or above it.
    fn pass_fits(
        &self,
        body: &Body<'_>,
        pose: &Pose,
        (pass, height): (&Pass, f64),
        place: Place,
        number: usize,
    ) -> Result<Option<PassFact>, ReplayFault> {
        let mill = self.mill;
        if pass.printed != pass.height.round_to(mill.step) {
            return Err(ReplayFault::Printed {
                place,
                pass: number,
                exact: pass.height,
                printed: pass.printed,
            });
        }
        // The scale shows a lowest height too: it is the printed one that must not be below it.
        let set = if self.setting == Setting::Exact { pass.height } else { pass.printed };
        if set < mill.lowest_blade {
            return Err(ReplayFault::TooLow {
                place,
                pass: number,
                height: set,
                lowest: mill.lowest_blade,
            });
        }
        let fact = match pass_fact(body, pose, height).filter(|fact| fact.above > MICROMETRE) {
            Some(fact) => fact,
            // Half a step may lift the blade over wood that it barely touched.
            None if self.setting != Setting::Exact => return Ok(None),
            None => return Err(ReplayFault::Nothing { place, pass: number }),
        };
        // Printing may move the blade by half a step; the limits have slack for that, sizes do not.
        let slack = match self.setting {
            Setting::Exact => MICROMETRE,
            Setting::Printed { .. } => mill.step.inches_f64(),
        };
        let (widest, above) = (mill.widest_cut.inches_f64(), mill.deepest_above.inches_f64());
        if fact.widest > widest + slack {
            return Err(ReplayFault::TooWide {
                place,
                pass: number,
                widest: fact.widest,
                limit: widest,
            });
        }
        if fact.above > above + slack {
            return Err(ReplayFault::TooDeep {
                place,
                pass: number,
                above: fact.above,
                limit: above,
            });
        }
        Ok(Some(fact))
    }
}

/// How wide and how deep the stock is at a pass; `None` when the blade meets nothing.
fn pass_fact(body: &Body<'_>, pose: &Pose, height: f64) -> Option<PassFact> {
    let stock = body.cut(pose.above(height));
    let (right, up) = (pose.right(), pose.up());
    let widest =
        reach(&stock, Covering::Bark, right)? + reach(&stock, Covering::Bark, right.map(|c| -c))?;
    let top = reach(&stock, Covering::Bark, up)?;
    let plane = pose.below(height);
    let flat = norm(up[0], up[1]);
    let [x, y] = [up[0] / flat, up[1] / flat];
    let opening = |z: f64| {
        let away = (plane.offset - up[2] * z) / flat;
        let line = body.interval(Covering::Wood, z, [x * away, y * away], [y, -x]);
        line.map_or(0.0, |(from, to)| to - from)
    };
    Some(PassFact {
        opening_small_end: opening(0.0),
        opening_butt: opening(body.log().length().inches_f64()),
        widest,
        above: top - plane.offset,
    })
}

/// Height over the bed of the middle of the wood, at either end of it.
fn middle(body: &Body<'_>, pose: &Pose) -> Option<(f64, f64)> {
    let (from, to) = body.stations(Covering::Wood)?;
    let ground = pose.axis_height();
    let at = |z: f64| {
        let (up, down) = (pose.up(), pose.up().map(|c| -c));
        let high = reach_at(body, Covering::Wood, z, up)?;
        let low = -reach_at(body, Covering::Wood, z, down)?;
        Some(0.5 * (high + low) + ground)
    };
    Some((at(from)?, at(to)?))
}

/// Opens a face: a new side, or one that is open already further in.
fn open(faces: &mut Vec<HalfSpace>, plane: HalfSpace) {
    match faces.iter_mut().find(|face| aligned(face.normal, plane.normal)) {
        Some(face) => *face = plane,
        None => faces.push(plane),
    }
}

fn aligned(a: [f64; 3], b: [f64; 3]) -> bool {
    dot(a, b) > 1.0 - 1e-12
}

//! What the blade makes of one section of a log, outline by outline: for drawings.
//!
//! Every pass parts the section of the body on the bed into what it frees, what it turns to sawdust and what stays, all
//! clipped from the section's own outline. So what the last pass leaves, the parts, and all sawdust make up the section
//! again. Round wood is drawn as a polygon of [`CORNERS`] corners.

use super::walk::{Step, Walk};
use super::{Place, ReplayFault};
use crate::{Body, Claim, Covering, Frame, Log, PartId, Piece, Pose, SawingOrder};
use pithward_measure::Length;

/// Corners of the polygon that stands for a round section: it is nowhere a thousandth of the radius within the circle.
pub const CORNERS: u32 = 72;

/// A section in the log frame, `[x, y]` as seen at the small end; both are empty where there is nothing of the body.
///
/// # Units
/// Inches.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outlines {
    /// Inside the bark.
    pub wood: Vec<[f64; 2]>,
    /// Over the bark.
    pub bark: Vec<[f64; 2]>,
}

impl Outlines {
    fn of(body: &Body<'_>, z: f64) -> Self {
        let [wood, bark] = [Covering::Wood, Covering::Bark].map(|it| body.outline_at(it, z));
        Self { wood, bark }
    }
}

/// One pass through a section.
#[derive(Clone, Debug, PartialEq)]
pub struct PassParting {
    /// Its height over the bed, exactly, inches.
    pub height: f64,
    /// What it frees.
    pub frees: PartId,
    /// What becomes sawdust.
    pub kerf: Outlines,
    /// The section of what it frees.
    pub freed: Outlines,
}

/// A body on the mill in one of its stages.
#[derive(Clone, Debug, PartialEq)]
pub struct StageParting {
    /// The stage.
    pub place: Place,
    /// The direction that is up, in the section.
    pub up: [f64; 2],
    /// The direction away from the side stops.
    pub right: [f64; 2],
    /// How high the middle of the section's frame, where the log's own axis goes, stands over the bed: a point `p` stands
    /// `up . p` higher. Inches.
    pub axis: f64,
    /// The body before the first pass.
    pub before: Outlines,
    /// Its passes.
    pub passes: Vec<PassParting>,
}

/// What is left of a section when all is sawn.
#[derive(Clone, Debug, PartialEq)]
pub struct PartParting {
    /// The part.
    pub part: PartId,
    /// Its strip, where it is edged.
    pub strip: Option<PartId>,
    /// Its section.
    pub outlines: Outlines,
}

/// What the blade makes of one section.
#[derive(Clone, Debug, PartialEq)]
pub struct Parting {
    /// The whole section.
    pub whole: Outlines,
    /// Every stage in the order in which it is sawn: of the log, of what is put back, of the edgings.
    pub stages: Vec<StageParting>,
    /// All that is left, in the order in which it falls off.
    pub parts: Vec<PartParting>,
}

/// A body on the mill, before the first pass of one of its stages.
#[derive(Clone, Debug)]
pub struct Laid<'a> {
    /// The stage.
    pub place: Place,
    /// How it lies.
    pub pose: Pose,
    /// What lies there.
    pub body: Body<'a>,
    frame: Frame,
}

impl Laid<'_> {
    /// The corners of a piece's box at a station of it, `[x, y, z]` in the log frame; `None` where its frame is no whole
    /// number of quarter turns from that in which it lies.
    ///
    /// # Units
    /// Inches.
    pub fn corners(&self, piece: &Piece, z: f64) -> Option<[[f64; 3]; 4]> {
        let corners = piece.claim.corners_at(&self.frame, self.body.log().length(), z)?;
        Some(corners.map(|[x, y]| [x, y, z]))
    }
}

/// All that lies on the mill one after another in an order that replays, with a kerf: the log, what is put back of it, its
/// flitches, each in all its stages.
///
/// # Errors
/// A part that nothing frees, a turn or a rest that cannot be.
pub fn laid<'a>(
    log: &'a Log,
    kerf: Length,
    order: &SawingOrder,
) -> Result<Vec<Laid<'a>>, ReplayFault> {
    let mut all: Vec<Laid<'a>> = Vec::new();
    let walk = Walk { order, kerf: kerf.inches_f64() };
    walk.all(log, &mut |step: Step<'_, 'a>| {
        if step.pass == 1 {
            let (pose, body) = (*step.pose, step.before.clone());
            all.push(Laid { place: step.place, pose, body, frame: order.frame });
        }
    })?;
    Ok(all)
}

/// What an order that replays makes, with a kerf, of the section at a station, inches from the small end.
///
/// # Errors
/// A part that nothing frees, a turn or a rest that cannot be.
pub fn parting(
    log: &Log,
    kerf: Length,
    order: &SawingOrder,
    z: f64,
) -> Result<Parting, ReplayFault> {
    let mut stages: Vec<StageParting> = Vec::new();
    let walk = Walk { order, kerf: kerf.inches_f64() };
    let walked = walk.all(log, &mut |step: Step<'_, '_>| {
        if step.pass == 1 {
            let flat = |[x, y, _]: [f64; 3]| [x, y];
            stages.push(StageParting {
                place: step.place,
                up: flat(step.pose.up()),
                right: flat(step.pose.right()),
                axis: step.pose.pith_height(z),
                before: Outlines::of(step.before, z),
                passes: Vec::new(),
            });
        }
        let Some(stage) = stages.last_mut() else { return };
        stage.passes.push(PassParting {
            height: step.height,
            frees: step.id,
            kerf: Outlines::of(step.dust, z),
            freed: Outlines::of(step.freed, z),
        });
    })?;
    let mut parts = Vec::new();
    for (part, body) in &walked.parts {
        match walked.strips.iter().find(|(edged, _)| edged == part) {
            None => {
                let outlines = Outlines::of(body, z);
                parts.push(PartParting { part: *part, strip: None, outlines });
            }
            Some((_, strips)) => parts.extend(strips.iter().map(|(strip, body)| PartParting {
                part: *part,
                strip: Some(*strip),
                outlines: Outlines::of(body, z),
            })),
        }
    }
    Ok(Parting { whole: Outlines::of(&Body::whole(log), z), stages, parts })
}

impl Claim {
    /// The corners of the box in the section at a station, `[x, y]` in the log frame; `None` where its frame is no whole
    /// number of quarter turns from the order's. Whether the box reaches the station is not looked at.
    ///
    /// # Units
    /// Inches.
    pub fn corners_at(&self, frame: &Frame, length: Length, z: f64) -> Option<[[f64; 2]; 4]> {
        let basis = frame.turned_to(self.turn, length)?;
        let [u, h] = [self.u, self.h].map(|span| [span.from.inches_f64(), span.to.inches_f64()]);
        let corner = |u: f64, h: f64| {
            // Along the frame's axis to the section.
            let along = (z - u * basis.u[2] - h * basis.h[2]) / basis.along[2];
            let at = |n: usize| u * basis.u[n] + h * basis.h[n] + along * basis.along[n];
            [at(0), at(1)]
        };
        Some([corner(u[0], h[0]), corner(u[1], h[0]), corner(u[1], h[1]), corner(u[0], h[1])])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::section::area;
    use crate::{Angle, Heart, Pass, Rest, Span, Stage, Support};

    fn stage(up: i32, on: Support, heights: &[i64]) -> Stage {
        let pass = |height: &i64| {
            let height = Length::inches(*height);
            Pass { height, printed: height }
        };
        let rest = Rest { turn: Angle::degrees(up), lift: Length::ZERO, on, against: None };
        Stage { rest, passes: heights.iter().map(pass).collect() }
    }

    fn order() -> SawingOrder {
        let span = |from, to| Span::new(Length::inches(from), Length::inches(to));
        let claim = Claim {
            turn: Angle::ZERO,
            u: span(-5, 5),
            h: span(2, 4),
            z: span(0, 96),
            wane_u: Length::ZERO,
            wane_h: Length::ZERO,
            heart: Heart::Any,
            tolerates: crate::FlawKinds::NONE,
        };
        let stages = vec![stage(0, Support::Bark, &[15, 12]), stage(180, Support::Bark, &[14, 8])];
        let piece = Piece { part: PartId::Freed(2), strip: None, claim };
        SawingOrder { stages, pieces: vec![piece], ..SawingOrder::default() }
    }

    fn log() -> Log {
        let across = Length::inches(20);
        Log::new(across, across, Length::feet(8), Length::ZERO, Length::ZERO).unwrap()
    }

    #[test]
    fn parts_and_sawdust_make_up_the_section() {
        let (log, order) = (log(), order());
        let parting = parting(&log, Length::inches(1), &order, 0.0).unwrap();
        let kerfs = parting.stages.iter().flat_map(|stage| &stage.passes).map(|pass| &pass.kerf);
        let parts = parting.parts.iter().map(|part| &part.outlines);
        let sum: f64 = kerfs.chain(parts).map(|outlines| area(&outlines.wood)).sum();
        let whole = area(&parting.whole.wood);
        assert!((sum - whole).abs() < 1e-9, "{sum} of {whole}");
        assert_eq!((parting.stages.len(), parting.parts.len()), (2, 5));
        // The second rest has the log the other way up, on the face that the first one opened: the axis is 2 in over it.
        let second = &parting.stages[1];
        assert!((second.up[1] + 1.0).abs() < 1e-12 && (second.axis - 2.0).abs() < 1e-12);
        assert!(second.before.wood.iter().all(|p| p[1] < 2.0 + 1e-9));
    }

    #[test]
    fn a_box_has_its_corners_where_it_says() {
        let order = order();
        let claim = &order.pieces[0].claim;
        let at = |frame: &Frame, z| claim.corners_at(frame, Length::feet(8), z).unwrap();
        let plain = [[-5.0, 2.0], [5.0, 2.0], [5.0, 4.0], [-5.0, 4.0]];
        assert_eq!(at(&Frame::LEVEL, 30.0), plain);
        let drifting = Frame { drift_h: Length::inches(1), ..Frame::LEVEL };
        let corners = at(&drifting, 48.0);
        // Half way along it has drifted up by half an inch, but for what it leans.
        assert!((corners[0][1] - 2.5).abs() < 1e-3 && (corners[2][1] - 4.5).abs() < 1e-3);
        assert!(
            claim.corners_at(&Frame::turned(Angle::degrees(30)), Length::feet(8), 0.0).is_none()
        );
    }
}

//! Wane on the edges of a board: where its faces leave the wood.

use pithward_geometry::{Body, Covering, Log, PieceBox};
use pithward_measure::Length;
use pithward_trade::grade::{Area, Board, Defect, DefectKind};

/// Parts of a board's length that are looked at: in each the wane counts as wide as at its wider end.
const PARTS: u32 = 8;

/// Less is rounding, inches.
const LEAST: f64 = 1e-3;

/// Adds the wane of both faces.
pub(super) fn add(log: &Log, piece: &PieceBox, board: &mut Board) {
    let body = Body::whole(log);
    let on_h = piece.u.size() >= piece.h.size();
    let (across, up, width, planes) = if on_h {
        (piece.basis.u, piece.basis.h, piece.u, piece.h)
    } else {
        (piece.basis.h, piece.basis.u, piece.h, piece.u)
    };
    let (from, to) = (piece.z.from.inches_f64(), piece.z.to.inches_f64());
    let (low, high) = (width.from.inches_f64(), width.to.inches_f64());
    for (face, plane) in [planes.from, planes.to].into_iter().enumerate() {
        // How much is missing at either edge of the face, at a station.
        let missing = |z: f64| -> [f64; 2] {
            let at = plane.inches_f64() - up[2] * z;
            let along = [across[0], across[1]];
            let origin = [up[0] * at, up[1] * at];
            let shift = across[2] * z;
            match body.interval(Covering::Wood, z, origin, along) {
                Some((first, last)) => {
                    [(first + shift - low).max(0.0), (high - last - shift).max(0.0)]
                }
                None => [high - low; 2],
            }
        };
        let station = |n: u32| from + (to - from) * f64::from(n) / f64::from(PARTS);
        for n in 0..PARTS {
            let (near, far) = (missing(station(n)), missing(station(n + 1)));
            for edge in 0..2 {
                let wide = near[edge].max(far[edge]);
                if wide <= LEAST {
                    continue;
                }
                let wide = Length::from_inches_f64(wide).min(board.width);
                let along = [n, n + 1].map(|n| Length::from_inches_f64(station(n) - from));
                let side = if edge == 0 {
                    (Length::ZERO, wide)
                } else {
                    (board.width - wide, board.width)
                };
                let area = Area::new((along[0], along[1]), side);
                join(&mut board.faces[face], area);
            }
        }
    }
}

/// Adds wane, as one with what it goes on from where that is as wide.
fn join(defects: &mut Vec<Defect>, area: Area) {
    let goes_on = |defect: &&mut Defect| {
        defect.kind == DefectKind::Wane
            && defect.area.across == area.across
            && defect.area.along.1 == area.along.0
    };
    match defects.iter_mut().find(goes_on) {
        Some(defect) => defect.area.along.1 = area.along.1,
        None => defects.push(Defect { kind: DefectKind::Wane, area }),
    }
}

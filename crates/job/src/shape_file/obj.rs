//! Triangles or points from an OBJ file.
//!
//! Only two kinds of lines say something of a shape: `v x y z` is a point, `f a b c ...` a face by the numbers of its
//! points, from 1, or back from the last one where they are negative; what stands behind a slash is for colours.
//! Everything else is left alone. Libraries for this form read all of it, leave out points without a face, and tell of
//! no line.

use pithward_geometry::Mesh;
use pithward_measure::Excerpt;

use super::ply::fan;
use super::{nowhere, on_line};
use crate::fault::{Fault, Misread, ShapeFileFault};

/// So many lines are told of one by one.
const MOST_LINES: usize = 20;

const POINT_HELP: &str = "write a point as v 1.5 20 -3, or export the scan as OBJ once more";
const FACE_HELP: &str = "write a face as f 1 2 3, or export the scan as OBJ once more";

/// The mesh of an OBJ file.
pub(super) fn read(name: &str, bytes: &[u8]) -> Result<Mesh, Vec<Fault>> {
    let mut mesh = Mesh::default();
    let (mut faulty, mut corners) = (Vec::new(), Vec::new());
    for (line, written) in (1..).zip(bytes.split(|byte| *byte == b'\n')) {
        let (kind, help) = match written.trim_ascii() {
            [b'v', b' ' | b'\t', rest @ ..] => match point(rest) {
                Some(point) => {
                    mesh.points.push(point);
                    continue;
                }
                None => (ShapeFileFault::NoPoint { got: excerpt(written) }, POINT_HELP),
            },
            [b'f', b' ' | b'\t', rest @ ..] => match face(rest, mesh.points.len(), &mut corners) {
                Ok(()) => {
                    fan(&corners, &mut mesh.triangles);
                    continue;
                }
                Err(Some(corner)) => {
                    (ShapeFileFault::NoCorner { corner, corners: mesh.points.len() }, FACE_HELP)
                }
                Err(None) => (ShapeFileFault::NoFace { got: excerpt(written) }, FACE_HELP),
            },
            _ => continue,
        };
        faulty.push((line, Misread::new(kind, 0..0, help)));
    }
    if faulty.is_empty() {
        return Ok(mesh);
    }
    let more = faulty.len().saturating_sub(MOST_LINES);
    let told = faulty.into_iter().take(MOST_LINES);
    let mut faults: Vec<Fault> =
        told.map(|(line, misread)| on_line(name, bytes, line, misread)).collect();
    if more > 0 {
        faults.push(nowhere(
            name,
            Misread::new(ShapeFileFault::MoreLines { more }, 0..0, POINT_HELP),
        ));
    }
    Err(faults)
}

fn excerpt(line: &[u8]) -> Excerpt {
    Excerpt::new(&String::from_utf8_lossy(line))
}

fn words(rest: &[u8]) -> impl Iterator<Item = &[u8]> {
    rest.split(u8::is_ascii_whitespace).filter(|word| !word.is_empty())
}

fn number<T: std::str::FromStr>(word: &[u8]) -> Option<T> {
    std::str::from_utf8(word).ok()?.parse().ok()
}

/// Three numbers; what follows them is a weight or a colour.
fn point(rest: &[u8]) -> Option<[f64; 3]> {
    let mut words = words(rest);
    let mut next = || number(words.next()?);
    Some([next()?, next()?, next()?])
}

/// The corners of a face, from 0. The fault is the corner that is not there, or none where it is no face.
fn face(rest: &[u8], points: usize, corners: &mut Vec<u32>) -> Result<(), Option<i64>> {
    corners.clear();
    for word in words(rest) {
        let first = word.split(|byte| *byte == b'/').next().unwrap_or_default();
        let written: i64 = number(first).ok_or(None)?;
        let all = i64::try_from(points).unwrap_or(i64::MAX);
        let corner = if written < 0 { all.saturating_add(written) } else { written - 1 };
        let known =
            (0..all).contains(&corner).then_some(corner).and_then(|n| u32::try_from(n).ok());
        corners.push(known.ok_or(Some(written))?);
    }
    if corners.len() < 3 { Err(None) } else { Ok(()) }
}

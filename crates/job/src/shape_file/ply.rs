//! Triangles or points from a PLY file.

use std::io::Cursor;

use pithward_geometry::Mesh;
use ply_rs_bw::parser::{ParseError, Parser, Reader};
use ply_rs_bw::ply::{Property, PropertyAccess, PropertyAccessResult};

use super::{nowhere, on_line};
use crate::fault::{Fault, Misread, ShapeFileFault};

const HELP: &str = "export the scan as PLY once more";

/// The longest that the reader's own words are quoted, in characters.
const LONGEST: usize = 160;

/// A point; a coordinate that is not written is no number.
struct Point([f64; 3]);

/// A face.
struct Face(Vec<u32>);

/// Anything else.
struct Other;

impl PropertyAccess for Point {
    fn new() -> Self {
        Self([f64::NAN; 3])
    }

    fn set_float(&mut self, name: &str, value: f32) -> PropertyAccessResult {
        self.set_double(name, f64::from(value))
    }

    fn set_double(&mut self, name: &str, value: f64) -> PropertyAccessResult {
        match name {
            "x" => self.0[0] = value,
            "y" => self.0[1] = value,
            "z" => self.0[2] = value,
            _ => return PropertyAccessResult::Ignored,
        }
        PropertyAccessResult::Set
    }

    fn set_property(&mut self, name: &str, property: Property) -> PropertyAccessResult {
        let value = match property {
            Property::Char(value) => f64::from(value),
            Property::UChar(value) => f64::from(value),
            Property::Short(value) => f64::from(value),
            Property::UShort(value) => f64::from(value),
            Property::Int(value) => f64::from(value),
            Property::UInt(value) => f64::from(value),
            _ => return PropertyAccessResult::Ignored,
        };
        self.set_double(name, value)
    }
}

impl PropertyAccess for Face {
    fn new() -> Self {
        Self(Vec::new())
    }

    fn set_property(&mut self, name: &str, property: Property) -> PropertyAccessResult {
        if !matches!(name, "vertex_indices" | "vertex_index") {
            return PropertyAccessResult::Ignored;
        }
        match property.to_u32_list() {
            Some(corners) => {
                self.0 = corners;
                PropertyAccessResult::Set
            }
            None => PropertyAccessResult::UnsupportedType,
        }
    }
}

impl PropertyAccess for Other {
    fn new() -> Self {
        Self
    }
}

/// The mesh of a PLY file. A face of more than three corners becomes a fan of triangles.
pub(super) fn read(name: &str, bytes: &[u8]) -> Result<Mesh, Vec<Fault>> {
    let no_ply = |error: ParseError| vec![no_ply(name, bytes, &error)];
    let mut reader = Reader::new(Cursor::new(bytes));
    let (points, faces, others) =
        (Parser::<Point>::new(), Parser::<Face>::new(), Parser::<Other>::new());
    let header = points.read_header(&mut reader).map_err(no_ply)?;
    let (mut mesh, mut faulty) = (Mesh::default(), None);
    for (element, definition) in &header.elements {
        let mut read = || match element.as_str() {
            "vertex" => {
                let read = points.read_payload_for_element(&mut reader, definition, &header)?;
                mesh.points = read.into_iter().map(|Point(at)| at).collect();
                Ok(())
            }
            "face" => {
                let read = faces.read_payload_for_element(&mut reader, definition, &header)?;
                for Face(corners) in read {
                    fan(&corners, &mut mesh.triangles);
                }
                Ok(())
            }
            _ => others.read_payload_for_element(&mut reader, definition, &header).map(|_| ()),
        };
        if let Err(error) = read() {
            faulty = Some(error);
            break;
        }
    }
    if let Some(error) = faulty {
        return Err(no_ply(error));
    }
    let corners = mesh.points.len();
    let most = mesh.triangles.iter().flatten().max();
    if let Some(corner) = most.filter(|corner| **corner as usize >= corners) {
        let kind = ShapeFileFault::NoCorner { corner: i64::from(*corner), corners };
        return Err(vec![nowhere(name, Misread::new(kind, 0..0, HELP))]);
    }
    Ok(mesh)
}

/// A face as triangles about its first corner.
pub(super) fn fan(corners: &[u32], triangles: &mut Vec<[u32; 3]>) {
    if let [first, rest @ ..] = corners {
        triangles.extend(rest.windows(2).map(|pair| [*first, pair[0], pair[1]]));
    }
}

/// What the reader says, in one line, and where it stands.
fn no_ply(name: &str, bytes: &[u8], error: &ParseError) -> Fault {
    let said = error.to_string();
    let said = match error.line() {
        Some(line) => said.strip_prefix(&format!("Line {line}: ")).unwrap_or(&said),
        None => &said,
    };
    let first = said.lines().next().unwrap_or_default();
    let clean = first.chars().filter(|c| !c.is_control()).take(LONGEST).collect();
    let misread = Misread::new(ShapeFileFault::Ply(clean), 0..0, HELP);
    let text = match std::str::from_utf8(bytes) {
        Ok(_) => bytes,
        // The heading is text, whatever follows it.
        Err(error) => bytes.get(..error.valid_up_to()).unwrap_or_default(),
    };
    match error.line() {
        Some(line) => on_line(name, text, line, misread),
        None => nowhere(name, misread),
    }
}

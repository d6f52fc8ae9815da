//! A log that was measured all round, from the file that a scanner or a person wrote.
//!
//! | ending | what it holds | read by |
//! |---|---|---|
//! | `.ply` | triangles or points, as text or as bytes of either order | a library |
//! | `.obj` | triangles or points, as text | [`obj`] |
//! | `.csv` | outlines at stations | [`outlines`] |
//!
//! A file with points and no faces is a cloud of points. What is made of either is told by
//! [`pithward_geometry::measured`].
//!
//! # Faults
//! Those of a line stand in that line; those of the shape as a whole stand nowhere, and their field is the file's name:
//! whoever reads the job knows where the file is named.

mod obj;
mod outlines;
mod ply;

use std::borrow::Cow;
use std::path::Path;

use pithward_geometry::measured::from_mesh;
use pithward_geometry::{Measured, ShapeRequest};
use pithward_measure::Excerpt;

use crate::fault::{Fault, FaultKind, FileFault, Misread, ShapeFileFault};
use crate::file::{FileKind, TextFile, bytes_of};
use crate::place::Place;

/// What a shape file is called, and what helps whoever named none.
pub(crate) const SHAPE_FILE: FileKind = FileKind {
    what: "shape file",
    written: "in PLY, OBJ or, for outlines, CSV",
    // Ten million triangles as text.
    most: 1 << 30,
    none: "name a file that exists; in a job file or a sheet its place is reckoned from that of the job file",
    empty: "write outlines under a heading such as station (in),angle,radius (in), or export the scan once more",
    toml: "",
    json: "",
};

/// The log of a shape file, from its place. `name` is how the person wrote its name.
///
/// # Errors
/// Every fault of the file.
pub fn read_shape_file(
    path: &Path,
    name: &str,
    request: &ShapeRequest,
) -> Result<Measured, Vec<Fault>> {
    let bytes =
        bytes_of(path, name, &SHAPE_FILE).map_err(|misread| vec![nowhere(name, misread)])?;
    read_shape(name, &bytes, request)
}

/// The log of a shape file, from its bytes. `name` is how the person wrote its name; its ending tells what the file is.
///
/// # Errors
/// Every fault of the file.
pub fn read_shape(
    name: &str,
    bytes: &[u8],
    request: &ShapeRequest,
) -> Result<Measured, Vec<Fault>> {
    let whole = |kind: FaultKind, help: Cow<'static, str>| {
        vec![nowhere(name, Misread { kind: Box::new(kind), span: 0..0, help })]
    };
    if bytes.len() as u64 > SHAPE_FILE.most {
        let kind = FileFault::FileTooLarge {
            file: Excerpt::new(name),
            what: SHAPE_FILE.what,
            most: SHAPE_FILE.most,
        };
        return Err(whole(
            kind.into(),
            "thin out the scan: a point for every tenth of an inch is plenty".into(),
        ));
    }
    if bytes.iter().all(u8::is_ascii_whitespace) {
        let kind = FileFault::EmptyFile { file: Excerpt::new(name) };
        return Err(whole(kind.into(), SHAPE_FILE.empty.into()));
    }
    let ending = Path::new(name).extension();
    let mesh = match ending.map(|ending| ending.to_string_lossy().to_lowercase()).as_deref() {
        Some("ply") => ply::read(name, bytes)?,
        Some("obj") => obj::read(name, bytes)?,
        Some("csv") => return outlines::read(name, bytes, request),
        _ => {
            let help = "export the scan as PLY or OBJ, or write outlines into a sheet saved as CSV";
            return Err(whole(ShapeFileFault::NoShapeFile.into(), help.into()));
        }
    };
    from_mesh(mesh, request).map_err(|fault| {
        let help = fault.help();
        whole(FaultKind::Shape(fault), help.into())
    })
}

/// A fault of the file as a whole.
pub(crate) fn nowhere(name: &str, misread: Misread) -> Fault {
    Fault { field: name.to_owned(), kind: misread.kind, help: misread.help, place: Place::Nowhere }
}

/// A fault of a line, from 1, of a file whose beginning at least is text; of the whole where there is no such line.
fn on_line(name: &str, bytes: &[u8], line: usize, misread: Misread) -> Fault {
    let fault = nowhere(name, misread);
    let text = String::from_utf8_lossy(bytes);
    let Ok(file) = TextFile::new(text.as_bytes(), name, &SHAPE_FILE) else { return fault };
    let start: usize =
        file.text().split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let Some(written) = file.text().get(start..).and_then(|rest| rest.lines().next()) else {
        return fault;
    };
    Fault { place: file.place(start..start + written.trim_end().len()), ..fault }
}

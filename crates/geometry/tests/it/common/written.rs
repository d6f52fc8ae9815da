//! Meshes as files of the usual forms hold them.

use pithward_geometry::Mesh;
use std::fmt::Write as _;

/// The three forms of PLY.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    Ascii,
    Little,
    Big,
}

fn ply_heading(mesh: &Mesh, format: &str, coordinate: &str) -> String {
    let mut text = format!(
        "ply\nformat {format} 1.0\ncomment invented\nelement vertex {}\n",
        mesh.points.len()
    );
    for axis in ["x", "y", "z"] {
        let _ = writeln!(text, "property {coordinate} {axis}");
    }
    if !mesh.triangles.is_empty() {
        let _ = writeln!(
            text,
            "element face {}\nproperty list uchar int vertex_indices",
            mesh.triangles.len()
        );
    }
    text + "end_header\n"
}

/// A PLY file: decimals as text, four bytes for each number otherwise.
pub(crate) fn ply(mesh: &Mesh, form: Form) -> Vec<u8> {
    match form {
        Form::Ascii => {
            let mut text = ply_heading(mesh, "ascii", "double");
            for [x, y, z] in &mesh.points {
                let _ = writeln!(text, "{x:.6} {y:.6} {z:.6}");
            }
            for [a, b, c] in &mesh.triangles {
                let _ = writeln!(text, "3 {a} {b} {c}");
            }
            text.into_bytes()
        }
        Form::Little => {
            let mut bytes = ply_heading(mesh, "binary_little_endian", "float").into_bytes();
            bytes.extend(mesh.points.iter().flatten().flat_map(|c| (*c as f32).to_le_bytes()));
            for triangle in &mesh.triangles {
                bytes.push(3);
                bytes.extend(triangle.iter().flat_map(|corner| corner.to_le_bytes()));
            }
            bytes
        }
        Form::Big => {
            let mut bytes = ply_heading(mesh, "binary_big_endian", "double").into_bytes();
            bytes.extend(mesh.points.iter().flatten().flat_map(|c| c.to_be_bytes()));
            for triangle in &mesh.triangles {
                bytes.push(3);
                bytes.extend(triangle.iter().flat_map(|corner| corner.to_be_bytes()));
            }
            bytes
        }
    }
}

/// An OBJ file.
pub(crate) fn obj(mesh: &Mesh) -> String {
    let mut text = "# invented\no log\n".to_owned();
    for [x, y, z] in &mesh.points {
        let _ = writeln!(text, "v {x:.6} {y:.6} {z:.6}");
    }
    text += "vn 0 0 1\ns off\n";
    for triangle in &mesh.triangles {
        let [a, b, c] = triangle.map(|corner| corner + 1);
        let _ = writeln!(text, "f {a}//1 {b}//1 {c}//1");
    }
    text
}

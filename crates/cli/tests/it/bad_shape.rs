//! Files that are no shape of a log: each is told where it is named, with what would be right; the command ends with 2.

use std::fs;

use crate::common::{file, pithward, printed, refused};

/// A scan that is invented, in millimetres.
const CROOKED: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/shapes/crooked.ply");

/// Text without the breaks of its lines.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn no_scale(arguments: &[&str], said: &[&str]) -> String {
    let stderr =
        refused(&pithward(&[&["scale"], arguments].concat()), &[said, &["help: "]].concat());
    assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
    stderr
}

#[test]
fn files_that_are_no_shape() {
    no_scale(
        &["--shape", "no-such.ply"],
        &["--shape: there is no file \"no-such.ply\"", "--shape \"no-such.ply\""],
    );
    let here = env!("CARGO_TARGET_TMPDIR");
    no_scale(&["--shape", here], &["--shape: ", "is a directory"]);
    let empty = file("shape-empty.ply", b" \n");
    no_scale(&["--shape", &empty], &["is empty"]);
    let text = file("shape-text.txt", b"a log\n");
    no_scale(&["--shape", &text], &["ends in neither .ply, .obj nor .csv"]);
    let no_ply = file("shape-none.ply", b"a log, I think\n");
    no_scale(&["--shape", &no_ply], &["is not PLY"]);
    let half = fs::read(CROOKED).unwrap();
    let half = file("shape-half.ply", &half[..half.len() / 2]);
    no_scale(&["--shape", &half], &["is not PLY"]);
    let points = file("shape-points.obj", b"v 1 2 3\nv 1 2\n");
    let stderr = no_scale(&["--shape", &points], &["\"v 1 2\" is no point"]);
    assert!(stderr.contains("shape-points.obj:2:1"), "{stderr}");
    let few = file("shape-few.obj", b"v 1 2 3\nv 1 2 4\n");
    no_scale(&["--shape", &few], &["--shape has 2 points"]);
}

/// A round log of 8 ft in inches as triangles, its side left open over some of its corners.
fn tube(open: usize) -> String {
    const RINGS: usize = 33;
    const CORNERS: usize = 16;
    // The cosines of sixteenths of a turn; the sine is that of a quarter before.
    let cos = [1.0, 0.923_879_53, std::f64::consts::FRAC_1_SQRT_2, 0.382_683_43];
    let cosine = |n: usize| match n % CORNERS {
        n @ 0..4 => cos[n],
        4 | 12 => 0.0,
        n @ 5..=8 => -cos[8 - n],
        n @ 9..12 => -cos[n - 8],
        n => cos[16 - n],
    };
    let mut text = String::new();
    for ring in 0..RINGS {
        let radius = 6.0 + ring as f64 / 32.0;
        for n in 0..CORNERS {
            let (x, y) = (radius * cosine(n), radius * cosine(n + 12));
            text += &format!("v {x} {y} {}\n", 3 * ring);
        }
    }
    for ring in 0..RINGS - 1 {
        for n in 0..CORNERS - open {
            let corner = |ring: usize, n: usize| ring * CORNERS + n % CORNERS + 1;
            let [a, b] = [corner(ring, n), corner(ring, n + 1)];
            let [c, d] = [corner(ring + 1, n + 1), corner(ring + 1, n)];
            text += &format!("f {a} {b} {c} {d}\n");
        }
    }
    text
}

#[test]
fn a_surface_with_open_ends_is_closed_and_one_with_an_open_side_is_not() {
    let whole = file("shape-tube.obj", tube(0).as_bytes());
    let shape = ["scale", "--shape", &whole, "--unit", "in"];
    let said = flat(&printed(&pithward(&shape)));
    assert!(said.contains("open at the small end: taken as cut flat"), "{said}");
    assert!(said.contains("open at the butt: taken as cut flat"), "{said}");
    let open = file("shape-open.obj", tube(6).as_bytes());
    no_scale(&["--shape", &open, "--unit", "in"], &["--shape is not a closed log"]);
}

#[test]
fn a_wrong_unit_is_told_with_the_right_one() {
    // Millimetres read as inches are 25.4 times too large, as metres a thousand times.
    for (unit, said) in [("in", "253.8708 ft long"), ("m", "9994.9"), ("cm", "99.949")] {
        let arguments = ["--shape", CROOKED, "--unit", unit];
        no_scale(
            &arguments,
            &[said, "--unit is ", "in mm it would be 10.0 ft long and 15.4 in through"],
        );
    }
    // Inches that nobody states may be centimetres as well.
    let tube = file("shape-unit.obj", tube(0).as_bytes());
    no_scale(&["--shape", &tube], &["--shape may be in any unit", "in in it would be 8.0 ft long"]);
    no_scale(
        &["--shape", CROOKED, "--unit", "yards"],
        &["--unit: \"yards\" is no unit of length", "mm, cm, m, in or ft"],
    );
    no_scale(&["--shape", CROOKED, "--up", "up"], &["\"up\" is no direction", "+y"]);
}

//! Points on paper: an outline turned as it lies, rounded, and written.

use std::fmt::Write as _;

/// A section as it is looked at: this direction is up on paper, and so far above its middle is the paper's zero.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Paper {
    /// Up, in the section.
    pub(crate) up: [f64; 2],
    /// To the right.
    pub(crate) right: [f64; 2],
    /// Height on paper of the section's middle.
    pub(crate) middle: f64,
}

impl Paper {
    /// A point on paper, y downward.
    pub(crate) fn at(&self, p: [f64; 2]) -> [f64; 2] {
        let along = |d: [f64; 2]| d[0] * p[0] + d[1] * p[1];
        [along(self.right), -(along(self.up) + self.middle)]
    }

    /// An outline on paper.
    pub(crate) fn all(&self, outline: &[[f64; 2]]) -> Vec<[f64; 2]> {
        outline.iter().map(|p| self.at(*p)).collect()
    }

    /// The same as a path.
    pub(crate) fn path(&self, outline: &[[f64; 2]]) -> String {
        path(&self.all(outline))
    }

    /// The same, as near as a broken or dotted line shows.
    pub(crate) fn rough(&self, outline: &[[f64; 2]]) -> String {
        rough(&self.all(outline))
    }

    /// The corners of a box, exactly.
    pub(crate) fn corners(&self, corners: &[[f64; 2]]) -> String {
        corners_of(&self.all(corners))
    }
}

/// The corners of a box on paper, exactly.
pub(crate) fn corners_of(corners: &[[f64; 2]]) -> String {
    corners.iter().fold(String::new(), |mut text, at| {
        let [x, y] = at.map(|at| at * UNITS);
        let _ = write!(text, "{}{},{}", if text.is_empty() { "" } else { " " }, exact(x), exact(y));
        text
    })
}

/// A coordinate to a ten-thousandth of an inch, without idle zeros.
fn exact(x: f64) -> String {
    let text = format!("{x:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// The class of cuts at these heights in a picture that is so wide: what lies close together is drawn thinner, so that wood is
/// seen between.
pub(crate) fn cut_class(heights: &[f64], wide: f64) -> &'static str {
    let mut heights = heights.to_vec();
    heights.sort_by(f64::total_cmp);
    let gaps = heights.windows(2).map(|pair| pair[1] - pair[0]);
    // A phone shows it so wide, in its points.
    let apart = gaps.fold(f64::INFINITY, f64::min) * 340.0 / wide;
    match apart {
        apart if apart < 4.0 => "cut hair",
        apart if apart < 9.0 => "cut thin",
        _ => "cut",
    }
}

/// A hundredth of an inch is a unit: whole numbers take half the room.
pub(crate) const UNITS: f64 = 100.0;

/// An outline as a closed path, to a hundredth of an inch, and of no more points than that takes.
pub(crate) fn path(outline: &[[f64; 2]]) -> String {
    closed(&thinned(outline, WITHIN))
}

/// The same, as near as a broken or dotted line shows.
pub(crate) fn rough(outline: &[[f64; 2]]) -> String {
    closed(&thinned(outline, ROUGHLY))
}

/// How far an outline may be off, inches; and one that only says where something else is.
const WITHIN: f64 = 0.012;
const ROUGHLY: f64 = 0.05;

fn closed(points: &[[f64; 2]]) -> String {
    let text = line(points);
    if text.is_empty() { text } else { text + "z" }
}

/// The same of an open line, through all its points.
pub(crate) fn line(points: &[[f64; 2]]) -> String {
    let mut text = String::new();
    let mut last = [0, 0];
    for (n, point) in points.iter().enumerate() {
        let at = point.map(|at| whole(at * UNITS));
        if n == 0 {
            let _ = write!(text, "M{} {}", at[0], at[1]);
        } else {
            let [x, y] = [at[0] - last[0], at[1] - last[1]];
            if [x, y] == [0, 0] {
                continue;
            }
            let command = if text.contains('l') { "" } else { "l" };
            let between = |figure: i64, first: bool| if figure < 0 || first { "" } else { " " };
            let first = !command.is_empty();
            let _ = write!(text, "{command}{}{x}{}{y}", between(x, first), between(y, false));
        }
        last = at;
    }
    text
}

#[allow(clippy::cast_possible_truncation, reason = "a place on paper; `as` saturates")]
fn whole(figure: f64) -> i64 {
    figure.round() as i64
}

/// A coordinate or a size, in hundredths of an inch.
pub(crate) fn short(x: f64) -> String {
    whole(x * UNITS).to_string()
}

/// An outline without the points that lie so near the line between their neighbours.
fn thinned(outline: &[[f64; 2]], within: f64) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = Vec::with_capacity(outline.len());
    let mut last = 0;
    for n in 1..outline.len() {
        // Whether everything since the last point kept lies on the line to the next one.
        let next = outline[(n + 1) % outline.len()];
        let from = outline[last];
        if (last + 1..=n).any(|m| off_line(from, next, outline[m]) > within) {
            kept.push(from);
            last = n;
        }
    }
    kept.extend(outline.get(last));
    kept
}

/// How far a point lies from the line between two others.
fn off_line(a: [f64; 2], b: [f64; 2], p: [f64; 2]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let long = (dx * dx + dy * dy).sqrt();
    let (px, py) = (p[0] - a[0], p[1] - a[1]);
    if long <= 0.0 { (px * px + py * py).sqrt() } else { (dx * py - dy * px).abs() / long }
}

/// The box about some points: from the left, from the top, to the right, to the bottom.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame {
    pub(crate) from: [f64; 2],
    pub(crate) to: [f64; 2],
}

impl Frame {
    /// About nothing.
    pub(crate) const EMPTY: Self = Self { from: [f64::INFINITY; 2], to: [f64::NEG_INFINITY; 2] };

    /// About this too.
    pub(crate) fn with(mut self, points: &[[f64; 2]]) -> Self {
        for p in points {
            self.from = [self.from[0].min(p[0]), self.from[1].min(p[1])];
            self.to = [self.to[0].max(p[0]), self.to[1].max(p[1])];
        }
        self
    }

    pub(crate) fn width(&self) -> f64 {
        (self.to[0] - self.from[0]).max(0.0)
    }

    pub(crate) fn height(&self) -> f64 {
        (self.to[1] - self.from[1]).max(0.0)
    }

    /// With more room on each side: left, top, right, bottom.
    pub(crate) fn padded(&self, [left, top, right, bottom]: [f64; 4]) -> Self {
        Self {
            from: [self.from[0] - left, self.from[1] - top],
            to: [self.to[0] + right, self.to[1] + bottom],
        }
    }

    /// As an SVG names what it shows.
    pub(crate) fn view_box(&self) -> String {
        let [x, y] = self.from.map(short);
        format!("{x} {y} {} {}", short(self.width()), short(self.height()))
    }
}

/// The path of an upright cross.
pub(crate) fn cross([x, y]: [f64; 2], arm: f64) -> String {
    let [left, right, top, foot] = [x - arm, x + arm, y - arm, y + arm].map(short);
    format!("M{left} {}H{right}M{} {top}V{foot}", short(y), short(x))
}

/// The middle of some points; nothing of none.
pub(crate) fn middle(points: &[[f64; 2]]) -> Option<[f64; 2]> {
    let frame = Frame::EMPTY.with(points);
    (!points.is_empty()).then(|| [0, 1].map(|n| f64::midpoint(frame.from[n], frame.to[n])))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_up_in_the_section_is_up_on_paper() {
        // The log lies with 3 o'clock up.
        let paper = Paper { up: [1.0, 0.0], right: [0.0, -1.0], middle: 10.0 };
        assert_eq!(paper.corners(&[[2.0, 1.0]]), "-100,-1200");
    }

    #[test]
    fn points_on_a_line_are_left_out() {
        let square = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [2.0, 2.0], [1.0, 2.001], [0.0, 2.0]];
        assert_eq!(path(&square), "M0 0l200 0 0 200-200 0z");
        assert_eq!(path(&[]), "");
        assert_eq!(line(&[[0.0, 0.0], [0.5, -1.0], [0.5, -1.0], [1.0, 1.0]]), "M0 0l50-100 50 200");
    }
}

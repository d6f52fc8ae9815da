//! A taped log in plain coordinates: what a tape's figures say of any point, by the formulas themselves.
//!
//! Geometry keeps a row of outlines; here an ellipse is an ellipse. With `s = z / L`, `w` the way from the small end
//! to the butt by a share, and all directions on the clock:
//! ```text
//! half axes     a(z), b(z)   w of the ends' half diameters, + flare (z - (L - l))^2 / l^2 / 2 beyond L - l
//! clock         w of the ends' clocks, the short way round; an end that is round takes the other's
//! middle        m(z) = sweep + crook:  depth (1 - ((z - at) / run)^2),  depth (1 - |z - at| / run),  run to that end
//! pith          p(z) = m(z) + w of the ends' offsets
//! log frame     (x, y) - w of (p(0), p(L))
//! ```

use pithward_geometry::{Angle, End, Frame, Region, Taped};
use pithward_measure::Length;

/// Half the thickness that a plane of split wood counts with, inches.
const HALF_SPLIT: f64 = 1.0 / 16.0;

/// A taped log.
#[derive(Clone, Copy, Debug)]
pub struct RealWood {
    taped: Taped,
    length: f64,
    /// Clocks of the longer axis at the small end and at the butt, degrees, the short way from one to the other.
    clocks: (f64, f64),
    /// Where the pith lies at both ends before the log's axis is drawn through it.
    ends: ([f64; 2], [f64; 2]),
}

/// The section of a taped log at one station, in the log frame.
#[derive(Clone, Copy, Debug)]
pub struct Oval {
    /// The middle of the ellipse.
    pub middle: [f64; 2],
    /// Half of the longer and of the shorter axis.
    pub half: (f64, f64),
    /// Direction of the longer one.
    pub axis: [f64; 2],
    /// The pith.
    pub pith: [f64; 2],
    /// Thickness of the bark.
    pub bark: f64,
}

/// The direction on the clock, degrees.
fn clock(degrees: f64) -> [f64; 2] {
    let (sin, cos) = pithward_geometry::trig::sin_cos(degrees.to_radians());
    [sin, cos]
}

fn of(angle: Angle) -> [f64; 2] {
    clock(angle.degrees_f64())
}

fn add(a: [f64; 2], by: f64, b: [f64; 2]) -> [f64; 2] {
    [a[0] + by * b[0], a[1] + by * b[1]]
}

fn mix(a: f64, b: f64, share: f64) -> f64 {
    a + (b - a) * share
}

/// Length of a vector.
pub fn long([x, y]: [f64; 2]) -> f64 {
    (x * x + y * y).sqrt()
}

impl RealWood {
    /// The wood of a tape's figures.
    pub fn new(taped: &Taped) -> Self {
        let is_round = |end: &End| end.longer == end.shorter;
        let (mut small, mut butt) =
            (taped.small.clock.degrees_f64(), taped.butt.clock.degrees_f64());
        if is_round(&taped.small) {
            small = butt;
        } else if is_round(&taped.butt) {
            butt = small;
        }
        // An axis has no front: it turns by a quarter at most.
        while butt - small > 90.0 {
            butt -= 180.0;
        }
        while butt - small < -90.0 {
            butt += 180.0;
        }
        let length = taped.length.inches_f64();
        let off = |end: &End| add([0.0; 2], end.pith_off.inches_f64(), of(end.pith_clock));
        let ends = (off(&taped.small), off(&taped.butt));
        Self { taped: *taped, length, clocks: (small, butt), ends }
    }

    /// Its length, inches.
    pub fn length(&self) -> f64 {
        self.length
    }

    /// How far geometry's outlines of it may lie from the formulas, inches: between two stations, at most half a foot
    /// apart, the straight line cuts a bow short; flares, twists and polygons take a little more.
    pub fn slack(&self) -> f64 {
        let short = self.taped.sweep.map_or(0.0, |sweep| {
            let at = sweep.at.inches_f64();
            let off = 3.0 / at.min(self.length - at);
            sweep.depth.inches_f64() * off * off
        });
        0.03 + short
    }

    /// Its section at a station.
    pub fn at(&self, z: f64) -> Oval {
        let (taped, share) = (&self.taped, z / self.length);
        let inches = |a: Length, b: Length| mix(a.inches_f64(), b.inches_f64(), share);
        let flare = taped.flare.map_or(0.0, |flare| {
            let run = flare.length.inches_f64();
            let into = (z - (self.length - run)).max(0.0) / run;
            flare.extra.inches_f64() * into * into
        });
        let half = |a: Length, b: Length| 0.5 * (inches(a, b) + flare);
        let run = |at: Length| {
            let at = at.inches_f64();
            if z < at { (at - z) / at } else { (z - at) / (self.length - at) }
        };
        let mut bow = [0.0; 2];
        if let Some(sweep) = taped.sweep {
            let off = run(sweep.at);
            bow = add(bow, sweep.depth.inches_f64() * (1.0 - off * off), of(sweep.clock));
        }
        if let Some(crook) = taped.crook {
            bow = add(bow, crook.depth.inches_f64() * (1.0 - run(crook.at)), of(crook.clock));
        }
        // The axis goes through the pith at both ends, and the bow is nothing there.
        let axis = [0, 1].map(|n| mix(self.ends.0[n], self.ends.1[n], share));
        Oval {
            middle: add(bow, -1.0, axis),
            half: (
                half(taped.small.longer, taped.butt.longer),
                half(taped.small.shorter, taped.butt.shorter),
            ),
            axis: clock(mix(self.clocks.0, self.clocks.1, share)),
            pith: bow,
            bark: inches(taped.small.bark, taped.butt.bark),
        }
    }

    /// Volume, cubic inches: Simpson's rule over a great many slices.
    pub fn volume(&self) -> f64 {
        let slices = 2_000u32;
        let area = |n: u32| {
            let (a, b) = self.at(self.length * f64::from(n) / f64::from(slices)).half;
            std::f64::consts::PI * a * b
        };
        let weight = |n: u32| {
            if n == 0 || n == slices {
                1.0
            } else if n % 2 == 1 {
                4.0
            } else {
                2.0
            }
        };
        (0..=slices).map(|n| weight(n) * area(n)).sum::<f64>() * self.length
            / (3.0 * f64::from(slices))
    }
}

impl Oval {
    /// How deep a point lies below the surface at the least; negative outside: how far at the least.
    pub fn depth(&self, p: [f64; 2]) -> f64 {
        let (x, y) = (p[0] - self.middle[0], p[1] - self.middle[1]);
        let [c, s] = self.axis;
        let (along, across) = (x * c + y * s, x * s - y * c);
        // An ellipse that is smaller by a share of itself is within it by that share of its shorter half axis.
        let share = long([along / self.half.0, across / self.half.1]);
        (1.0 - share) * self.half.1
    }

    /// Points of the outline, over the bark or under it, counterclockwise or not, a closed round.
    pub fn outline(&self, over_bark: bool, points: u32) -> Vec<[f64; 2]> {
        let [c, s] = self.axis;
        let (a, b) = self.half;
        let bark = if over_bark { self.bark } else { 0.0 };
        (0..points)
            .map(|n| {
                let turn = std::f64::consts::TAU * f64::from(n) / f64::from(points);
                let (sin, cos) = pithward_geometry::trig::sin_cos(turn);
                // The ellipse's own normal.
                let (nx, ny) = (cos / a, sin / b);
                let run = bark / long([nx, ny]);
                let (x, y) = (a * cos + nx * run, b * sin + ny * run);
                [self.middle[0] + x * c + y * s, self.middle[1] + x * s - y * c]
            })
            .collect()
    }

    /// How far the surface of the wood is from the pith in a direction.
    pub fn surface(&self, direction: [f64; 2]) -> f64 {
        let (mut inside, mut outside) = (0.0, 4.0 * self.half.0);
        for _ in 0..50 {
            let middle = 0.5 * (inside + outside);
            if self.depth(add(self.pith, middle, direction)) > 0.0 {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        inside
    }

    /// How far a point is from a flaw's region, at the least; 0 in it.
    pub fn from_region(&self, region: &Region, p: [f64; 2]) -> f64 {
        let off = [p[0] - self.pith[0], p[1] - self.pith[1]];
        let away = long(off);
        match region {
            Region::Heart { radius } => (away - radius.inches_f64()).max(0.0),
            Region::Ring { inner, outer } => {
                (inner.inches_f64() - away).max(away - outer.inches_f64()).max(0.0)
            }
            Region::Radial { clock, from, to } => {
                let [x, y] = of(*clock);
                let (along, across) = (off[0] * x + off[1] * y, (off[0] * y - off[1] * x).abs());
                let beside = (from.inches_f64() - along).max(along - to.inches_f64()).max(0.0);
                long([beside, (across - HALF_SPLIT).max(0.0)])
            }
            Region::Spot { clock, away: middle, radius } => {
                let [x, y] = of(*clock);
                let middle = middle.inches_f64();
                let off = long([off[0] - middle * x, off[1] - middle * y]);
                (off - radius.inches_f64()).max(0.0)
            }
            Region::Side { clock, width, depth } => {
                let direction =
                    if away > 0.0 { [off[0] / away, off[1] / away] } else { of(*clock) };
                let [x, y] = of(*clock);
                let turn = pithward_geometry::trig::acos(
                    (direction[0] * x + direction[1] * y).clamp(-1.0, 1.0),
                );
                let beside = turn - width.degrees_f64().to_radians() / 2.0;
                if beside > 0.0 {
                    // At least as far as the ray that bounds the sector.
                    let quarter = std::f64::consts::FRAC_PI_2;
                    return away * pithward_geometry::trig::sin_cos(beside.min(quarter)).0;
                }
                (self.surface(direction) - away - depth.inches_f64()).max(0.0)
            }
        }
    }
}

/// The directions of a frame in a log of some length: a vector `along`, and two square to it and to each other.
#[derive(Clone, Copy, Debug)]
pub struct Axes {
    u: [f64; 3],
    h: [f64; 3],
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Axes {
    /// The frame's, seen with a quarter turn that it is turned on by: `turn` degrees.
    pub fn new(frame: &Frame, length: f64, quarters: usize) -> Self {
        let ([hx, hy], [ux, uy]) = {
            let [sin, cos] = of(frame.turn);
            ([sin, cos], [cos, -sin])
        };
        let (du, dh) = (frame.drift_u.inches_f64(), frame.drift_h.inches_f64());
        let along = [du * ux + dh * hx, du * uy + dh * hy, length];
        let unit = |a: [f64; 3]| {
            let size = dot(a, a).sqrt();
            a.map(|c| c / size)
        };
        let along = unit(along);
        let off = hx * along[0] + hy * along[1];
        let h = unit([hx - off * along[0], hy - off * along[1], -off * along[2]]);
        // u is square to both, and on the side of the clock's quarter turn.
        let u = [
            h[1] * along[2] - h[2] * along[1],
            h[2] * along[0] - h[0] * along[2],
            h[0] * along[1] - h[1] * along[0],
        ];
        let minus = |a: [f64; 3]| a.map(|c| -c);
        let (u, h) = match quarters % 4 {
            0 => (u, h),
            1 => (minus(h), u),
            2 => (minus(u), minus(h)),
            _ => (h, minus(u)),
        };
        Self { u, h }
    }

    /// Place of a point across and upward from the frame's axis.
    pub fn place(&self, [x, y]: [f64; 2], z: f64) -> [f64; 2] {
        [dot(self.u, [x, y, z]), dot(self.h, [x, y, z])]
    }

    /// The point of the section at a station that has this place.
    pub fn point(&self, [a, b]: [f64; 2], z: f64) -> [f64; 2] {
        let (a, b) = (a - self.u[2] * z, b - self.h[2] * z);
        let det = self.u[0] * self.h[1] - self.u[1] * self.h[0];
        [(a * self.h[1] - b * self.u[1]) / det, (b * self.u[0] - a * self.h[0]) / det]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn end(longer: i64, shorter: i64, degrees: i32) -> End {
        let inch = Length::inches;
        End {
            longer: inch(longer),
            shorter: inch(shorter),
            clock: Angle::degrees(degrees),
            pith_off: Length::ZERO,
            pith_clock: Angle::ZERO,
            bark: inch(1),
        }
    }

    #[test]
    fn an_oval_is_as_long_and_as_wide_as_its_axes() {
        let taped = Taped {
            length: Length::feet(8),
            small: end(12, 10, 90),
            butt: end(12, 10, 90),
            sweep: None,
            crook: None,
            flare: None,
        };
        let wood = RealWood::new(&taped);
        let oval = wood.at(40.0);
        // 3 o'clock is +x.
        assert!(oval.depth([5.99, 0.0]) > 0.0 && oval.depth([6.01, 0.0]) < 0.0);
        assert!(oval.depth([0.0, 4.99]) > 0.0 && oval.depth([0.0, 5.01]) < 0.0);
        assert!((oval.surface([0.0, 1.0]) - 5.0).abs() < 1e-9);
        assert!((wood.volume() - std::f64::consts::PI * 30.0 * 96.0).abs() < 1e-6);
        let widest = oval.outline(true, 360).iter().map(|p| p[0]).fold(0.0, f64::max);
        assert!((widest - 7.0).abs() < 1e-9);
    }

    #[test]
    fn places_and_points_are_each_others_inverse() {
        let drift = Length::inches(3);
        let frame = Frame { turn: Angle::degrees(25), drift_u: drift, drift_h: -drift };
        for quarters in 0..4 {
            let axes = Axes::new(&frame, 96.0, quarters);
            let [x, y] = axes.point(axes.place([2.0, -3.0], 50.0), 50.0);
            assert!((x - 2.0).abs() < 1e-12 && (y + 3.0).abs() < 1e-12);
        }
    }
}

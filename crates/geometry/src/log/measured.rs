//! A log from measured sections.

use super::section::area;
use super::{Log, Section};
use crate::LogFault;
use crate::measured::ShapeFault;
use crate::trig::norm;
use pithward_measure::Length;
use std::f64::consts::PI;

/// Fewer points are no outline.
const LEAST_POINTS: usize = 8;

/// How far the pith at an end may be from the axis, inches.
const ON_AXIS: f64 = 1e-6;

/// A butt that is thicker than the rest of the log lets expect by more than this share is flared.
const FLARED: f64 = 0.03;

impl Log {
    /// The log of measured sections, from the small end to the butt, in its own frame: the pith on the axis at both
    /// ends, the first section at 0.
    ///
    /// A measured end is so many inches through as the circle of its area. A butt that flares is taken as thick as the
    /// line through the mean diameters of all sections makes it there: the median of the slopes of all pairs, and the
    /// median height.
    ///
    /// # Source
    /// Theil, "A rank-invariant method of linear and polynomial regression analysis", Proc. Kon. Ned. Akad. Wet. 53,
    /// 1950, for the line.
    ///
    /// # Errors
    /// The first section that is none, or measurements that no log has.
    pub fn measured(mut sections: Vec<Section>) -> Result<Self, ShapeFault> {
        let wrong = |what| ShapeFault::Sections { what };
        let (first, last) = match &sections[..] {
            [first, .., last] => (first, last),
            _ => return Err(wrong("there are fewer than two")),
        };
        let (points, length) = (first.wood.len(), Length::from_inches_f64_down(last.z));
        if points < LEAST_POINTS {
            return Err(wrong("an outline has fewer than 8 points"));
        }
        if sections
            .iter()
            .any(|section| section.wood.len() != points || section.bark.len() != points)
        {
            return Err(wrong("their outlines have different numbers of points"));
        }
        let numbers = |section: &Section| {
            let outlines = section.wood.iter().chain(&section.bark).chain([&section.pith]);
            outlines.flatten().chain([&section.z]).all(|c| c.is_finite())
        };
        if !sections.iter().all(numbers) {
            return Err(wrong("a coordinate is no number"));
        }
        if first.z != 0.0 || sections.windows(2).any(|pair| pair[0].z >= pair[1].z) {
            return Err(wrong("their stations do not rise from 0"));
        }
        if [first, last].iter().any(|end| norm(end.pith[0], end.pith[1]) > ON_AXIS) {
            return Err(wrong("the axis does not run through the pith at both ends"));
        }
        for section in &sections {
            let station = section.z;
            if !runs_round(&section.wood) || !runs_round(&section.bark) {
                return Err(ShapeFault::Crossing { station });
            }
            if !is_within(section.pith, &section.wood) {
                return Err(ShapeFault::Pith { station });
            }
            let thickness = (across(&section.bark) - across(&section.wood)) / 2.0;
            // Outlines that are the same differ by nothing.
            if thickness < 0.0 || thickness > Self::GREATEST_BARK.inches_f64() {
                return Err(ShapeFault::Bark {
                    station,
                    bark: thickness,
                    across: across(&section.bark),
                });
            }
        }
        let bark = |end: &Section| {
            // Rounded up: the mill has to clear it.
            -Length::from_inches_f64_down((across(&end.wood) - across(&end.bark)) / 2.0)
        };
        let (bark_small, bark_butt) = (bark(first), bark(last));
        let ends = [across(&first.wood), unflared(&sections)];
        let [small_end, butt] = ends.map(Length::from_inches_f64_down);
        if small_end > butt && across(&last.wood) < across(&first.wood) {
            let butt = Length::from_inches_f64_down(across(&last.wood));
            return Err(LogFault::ButtBelowSmallEnd { small_end, butt }.into());
        }
        if let Some(last) = sections.last_mut() {
            last.z = length.inches_f64();
        }
        let ends = (small_end, butt.max(small_end));
        Ok(Self::of_sections(ends, length, (bark_small, bark_butt), sections)?)
    }
}

/// Diameter of the circle of an outline's area.
fn across(outline: &[[f64; 2]]) -> f64 {
    2.0 * (area(outline) / PI).sqrt()
}

/// Diameter at the butt without its flare.
fn unflared(sections: &[Section]) -> f64 {
    let at: Vec<(f64, f64)> =
        sections.iter().map(|section| (section.z, across(&section.wood))).collect();
    let pairs = at.iter().enumerate().flat_map(|(n, a)| at[n + 1..].iter().map(move |b| (a, b)));
    let slope = median(pairs.map(|(a, b)| (b.1 - a.1) / (b.0 - a.0)).collect());
    let height = median(at.iter().map(|(z, across)| across - slope * z).collect());
    let (end, butt) = at.last().copied().unwrap_or_default();
    let expected = height + slope * end;
    if butt > (1.0 + FLARED) * expected { expected } else { butt }
}

fn median(mut values: Vec<f64>) -> f64 {
    let middle = values.len() / 2;
    let (_, value, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    *value
}

/// Whether an outline runs once round, counterclockwise, and nowhere crosses itself.
fn runs_round(outline: &[[f64; 2]]) -> bool {
    let n = outline.len();
    if area(outline) <= 0.0 {
        return false;
    }
    let side = |i: usize| (outline[i], outline[(i + 1) % n]);
    let bounds = |(a, b): ([f64; 2], [f64; 2])| [0, 1].map(|k| (a[k].min(b[k]), a[k].max(b[k])));
    let boxes: Vec<[(f64, f64); 2]> = (0..n).map(|i| bounds(side(i))).collect();
    let apart = |a: &(f64, f64), b: &(f64, f64)| a.1 < b.0 || b.1 < a.0;
    (0..n).all(|i| {
        // Neighbours share a corner.
        let end = if i == 0 { n - 1 } else { n };
        (i + 2..end).all(|k| {
            boxes[i].iter().zip(&boxes[k]).any(|(a, b)| apart(a, b)) || !cross(side(i), side(k))
        })
    })
}

/// Whether two sides cross.
fn cross((a, b): ([f64; 2], [f64; 2]), (c, d): ([f64; 2], [f64; 2])) -> bool {
    let left = |a: [f64; 2], b: [f64; 2], p: [f64; 2]| {
        (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    };
    left(a, b, c) * left(a, b, d) < 0.0 && left(c, d, a) * left(c, d, b) < 0.0
}

/// Whether a point lies within an outline: a line from it to the right crosses it an odd number of times.
fn is_within(point: [f64; 2], outline: &[[f64; 2]]) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossings = outline.iter().zip(next).filter(|(a, b)| {
        let level = |c: &[f64; 2]| c[1] > point[1];
        level(a) != level(b) && point[0] < a[0] + (point[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
    });
    crossings.count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::{Log, Section, runs_round};
    use crate::measured::ShapeFault;
    use crate::trig::sin_cos;
    use std::f64::consts::TAU;

    fn circle(radius: f64) -> Vec<[f64; 2]> {
        let point = |n: i32| {
            let (sin, cos) = sin_cos(TAU * f64::from(n) / 120.0);
            [radius * cos, radius * sin]
        };
        (0..120).map(point).collect()
    }

    fn cone(flare: f64) -> Vec<Section> {
        let section = |n: i32| {
            let z = 3.0 * f64::from(n);
            let near = (z - 80.0).max(0.0) / 16.0;
            let radius = 6.0 + z / 96.0 + flare * near * near;
            Section { z, wood: circle(radius), bark: circle(radius + 0.5), pith: [0.0, 0.0] }
        };
        (0..=32).map(section).collect()
    }

    #[test]
    fn ends_are_the_circles_of_their_areas() {
        let log = Log::measured(cone(0.0)).unwrap();
        assert!((log.small_end().inches_f64() - 12.0).abs() < 0.01);
        assert!((log.butt().inches_f64() - 14.0).abs() < 0.01);
        assert!((log.bark_butt().inches_f64() - 0.5).abs() < 0.001);
        assert_eq!(log.sections().map(<[Section]>::len), Some(33));
    }

    #[test]
    fn a_flare_does_not_make_the_butt_thicker() {
        let log = Log::measured(cone(2.0)).unwrap();
        assert!((log.butt().inches_f64() - 14.0).abs() < 0.05, "{:?}", log.butt());
    }

    #[test]
    fn what_is_no_row_of_sections_is_refused() {
        type Change = fn(&mut Vec<Section>);
        let cases: [(Change, &str); 9] = [
            (|s| s.truncate(1), "fewer than two"),
            (|s| s[3].wood.truncate(100), "different numbers"),
            (|s| s[3].z = 300.0, "do not rise"),
            (|s| s[0].z = -1.0, "do not rise"),
            (|s| s[4].bark[7][1] = f64::NAN, "no number"),
            (|s| s[0].pith = [0.1, 0.0], "axis"),
            (|s| s[9].wood.reverse(), "runs the wrong way"),
            (|s| s[9].wood.swap(0, 40), "crosses itself"),
            (|s| s[9].pith = [7.0, 0.0], "pith outside the wood at 27.0 in"),
        ];
        for (change, said) in cases {
            let mut sections = cone(0.0);
            change(&mut sections);
            let fault = Log::measured(sections).unwrap_err();
            assert!(fault.to_string().contains(said), "{fault}");
            assert!(!fault.help().is_empty());
        }
        let mut swapped = cone(0.0);
        swapped.reverse();
        for (n, section) in swapped.iter_mut().enumerate() {
            section.z = 3.0 * n as f64;
        }
        assert!(matches!(Log::measured(swapped), Err(ShapeFault::Log(_))));
    }

    #[test]
    fn an_outline_may_bend_but_not_cross() {
        let mut bent = circle(5.0);
        bent[10] = [0.5, 0.2];
        assert!(runs_round(&bent));
        bent.swap(30, 33);
        assert!(!runs_round(&bent));
    }
}

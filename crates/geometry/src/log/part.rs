//! Logs made from another: a part of it, or the same a little thicker or longer.

use super::{Flaw, Log, Section, Shape, section};
use crate::trig::norm;
use crate::{Defect, LogFault};
use pithward_measure::Length;
use std::sync::Arc;

impl Log {
    /// The same log thicker (or thinner) by one amount in diameter, all along.
    ///
    /// # Errors
    /// When that is no log any more.
    pub fn thicker(&self, by: Length) -> Result<Self, LogFault> {
        let half = by.inches_f64() / 2.0;
        let thicker = |section: &Section| Section {
            wood: section::outward(&section.wood, half),
            bark: section::outward(&section.bark, half),
            ..section.clone()
        };
        self.like((self.small_end + by, self.butt + by), self.length, thicker)
    }

    /// The same log with a butt that is thicker (or thinner) by some diameter, and every section between it and the small end
    /// by its part of that.
    ///
    /// # Errors
    /// When that is no log any more.
    pub fn tapered(&self, by: Length) -> Result<Self, LogFault> {
        let (half, long) = (by.inches_f64() / 2.0, self.length.inches_f64());
        let tapered = |section: &Section| {
            let by = half * (section.z / long).clamp(0.0, 1.0);
            Section {
                wood: section::outward(&section.wood, by),
                bark: section::outward(&section.bark, by),
                ..section.clone()
            }
        };
        self.like((self.small_end, self.butt + by), self.length, tapered)
    }

    /// The same log drawn out to be longer (or pressed to be shorter) by some length, with all that is in it.
    ///
    /// # Errors
    /// When that is no log any more.
    pub fn longer(&self, by: Length) -> Result<Self, LogFault> {
        let length = self.length + by;
        let (new, old) = (length.inches_f64(), self.length.inches_f64());
        let drawn = |section: &Section| Section { z: section.z / old * new, ..section.clone() };
        let log = self.like((self.small_end, self.butt), length, drawn)?;
        let flaw = |flaw: &Flaw| Flaw {
            from: share(Length::ZERO, length, flaw.from, self.length),
            to: -share(Length::ZERO, -length, flaw.to, self.length),
            ..*flaw
        };
        let drawn = |defect: &Defect| {
            defect.with_stations(|at| share(Length::ZERO, length, at, self.length))
        };
        let defects = self.defects.iter().map(drawn).collect();
        Ok(log.with_flaws(self.flaws.iter().map(flaw).collect()).with_defects(defects))
    }

    /// The part of the log between two stations as a log of its own, with the flaws and the defects that lie in it. The pith at both its
    /// ends is on its axis. Of round wood it is round again; where a tape's diameters go evenly, so do its own.
    ///
    /// # Tilt
    /// The axis of a part of a bowed log is tilted against that of the whole, while its sections stay where they are.
    /// Seen along its own axis, wood is narrower in the plane of the tilt by its cosine, and so are the sections; that it
    /// is longer by as much is left out.
    ///
    /// # Errors
    /// When that is no log, or not within this one.
    pub fn bucked(&self, from: Length, to: Length) -> Result<Self, LogFault> {
        if from < Length::ZERO || from >= to || to > self.length {
            return Err(LogFault::Part { from, to, length: self.length });
        }
        let [first, last] = [from, to].map(|at| self.end_at(at));
        let (diameters, barks) = ((first.0, last.0), (first.1, last.1));
        let part = match &self.shape {
            Shape::Round => Self::new(diameters.0, diameters.1, to - from, barks.0, barks.1)?,
            Shape::Sections(sections) => {
                let (low, high) = (from.inches_f64(), to.inches_f64());
                let inside = sections.iter().filter(|section| section.z > low && section.z < high);
                let ends = [low, high].map(|z| self.section_at(z));
                let tilt = [0, 1].map(|n| (ends[1].pith[n] - ends[0].pith[n]) / (high - low));
                let begins = ends[0].pith;
                let [first, last] = ends;
                let all = std::iter::once(first).chain(inside.cloned()).chain([last]);
                let moved = |section: Section| {
                    let z = section.z - low;
                    let axis = [0, 1].map(|n| begins[n] + z * tilt[n]);
                    Section { z, ..section.narrowed(axis, tilt) }
                };
                let all = all.map(moved).collect();
                Self { even: self.even, ..Self::of_sections(diameters, to - from, barks, all)? }
            }
        };
        let within = |flaw: &Flaw| {
            let (first, last) = (flaw.from.max(from), flaw.to.min(to));
            (first < last).then(|| Flaw { from: first - from, to: last - from, ..*flaw })
        };
        let defects = self.defects.iter().filter_map(|defect| defect.within(from, to)).collect();
        Ok(part.with_flaws(self.flaws.iter().filter_map(within).collect()).with_defects(defects))
    }

    /// What a tape would say at a station: the diameter inside the bark, and the bark's thickness.
    fn end_at(&self, at: Length) -> (Length, Length) {
        let even = self.even || self.sections().is_none();
        if even || at == Length::ZERO || at == self.length {
            // Wood rounds down, bark up.
            let wood = share(self.small_end, self.butt, at, self.length);
            return (wood, -share(-self.bark_small, -self.bark_butt, at, self.length));
        }
        let section = self.section_at(at.inches_f64());
        let across =
            |outline: &[[f64; 2]]| 2.0 * (section::area(outline) / std::f64::consts::PI).sqrt();
        let (wood, bark) = (across(&section.wood), across(&section.bark));
        let thickness = -Length::from_inches_f64_down((wood - bark) / 2.0);
        (Length::from_inches_f64_down(wood), thickness.max(Length::ZERO))
    }

    /// A log of the same kind as this, with changed sections and the same flaws and defects.
    fn like(
        &self,
        (small_end, butt): (Length, Length),
        length: Length,
        change: impl Fn(&Section) -> Section,
    ) -> Result<Self, LogFault> {
        // Of a measured log the butt may be the smaller.
        let larger = butt.max(small_end);
        let round = Self::new(small_end, larger, length, self.bark_small, self.bark_butt)?;
        let shape = match &self.shape {
            Shape::Round => Shape::Round,
            Shape::Sections(sections) => Shape::Sections(sections.iter().map(change).collect()),
        };
        let (flaws, defects) = (Arc::clone(&self.flaws), Arc::clone(&self.defects));
        Ok(Self { butt, shape, even: self.even, flaws, defects, ..round })
    }

    /// A log of sections from the small end to the butt, which begin at station 0; the diameters are what a tape would
    /// say. The log's axis is drawn through the pith at both ends.
    ///
    /// # Errors
    /// Diameters, length or bark that no log can have.
    pub(crate) fn of_sections(
        (small_end, butt): (Length, Length),
        length: Length,
        (bark_small, bark_butt): (Length, Length),
        sections: Vec<Section>,
    ) -> Result<Self, LogFault> {
        let round = Self::new(small_end, butt.max(small_end), length, bark_small, bark_butt)?;
        let (Some(first), Some(last)) = (sections.first(), sections.last()) else {
            return Ok(round);
        };
        let (from, to, long) = (first.pith, last.pith, last.z - first.z);
        let onto_axis = |section: &Section| {
            let share = if long > 0.0 { (section.z - first.z) / long } else { 0.0 };
            // Written so that it is exact at both ends.
            let off = [0, 1].map(|n| (1.0 - share) * from[n] + share * to[n]);
            section.moved([-off[0], -off[1]])
        };
        let sections: Vec<Section> = sections.iter().map(onto_axis).collect();
        Ok(Self { butt, shape: Shape::Sections(sections.into()), ..round })
    }
}

impl Section {
    /// The section seen along a line that is tilted by so much from station to station: narrower in that plane by the
    /// cosine of the tilt, about a point.
    fn narrowed(self, about: [f64; 2], tilt: [f64; 2]) -> Self {
        let steep = norm(tilt[0], tilt[1]);
        if steep <= 0.0 {
            return self;
        }
        let by = 1.0 - 1.0 / norm(1.0, steep);
        let [x, y] = tilt.map(|c| c / steep);
        let narrowed = |p: [f64; 2]| {
            let off = by * ((p[0] - about[0]) * x + (p[1] - about[1]) * y);
            [p[0] - off * x, p[1] - off * y]
        };
        Self {
            z: self.z,
            wood: self.wood.into_iter().map(narrowed).collect(),
            bark: self.bark.into_iter().map(narrowed).collect(),
            pith: narrowed(self.pith),
        }
    }
}

/// What lies between two lengths at a share of the way, `at` of `length`, rounded down to the nanometre.
fn share(from: Length, to: Length, at: Length, length: Length) -> Length {
    let [from, to, at, length] = [from, to, at, length].map(|length| i128::from(length.as_nm()));
    let way = ((to - from) * at).div_euclid(length);
    // Between two lengths there is no number that is larger than both.
    Length::nm(i64::try_from(from + way).unwrap_or(i64::MAX / 4))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Angle, Crook, End, FlawKind, Region, Taped};

    fn cone() -> Log {
        let [small, butt] = [12, 16].map(Length::inches);
        let (thin, thick) = (Length::sixty_fourths(32), Length::inches(1));
        Log::new(small, butt, Length::feet(8), thin, thick).unwrap()
    }

    /// A straight 8-ft log of 10 in that bends 4 in up at 2 ft.
    fn bent() -> Log {
        let end = End {
            longer: Length::inches(10),
            shorter: Length::inches(10),
            clock: Angle::ZERO,
            pith_off: Length::ZERO,
            pith_clock: Angle::ZERO,
            bark: Length::ZERO,
        };
        let (depth, at) = (Length::inches(4), Length::feet(2));
        let crook = Some(Crook { depth, clock: Angle::ZERO, at });
        let (length, sweep, flare) = (Length::feet(8), None, None);
        Log::taped(&Taped { length, small: end, butt: end, sweep, crook, flare }).unwrap()
    }

    #[test]
    fn a_part_of_a_frustum_is_a_frustum() {
        let part = cone().bucked(Length::feet(2), Length::feet(6)).unwrap();
        let [small, butt] = [13, 15].map(Length::inches);
        let (thin, thick) = (Length::sixty_fourths(40), Length::sixty_fourths(56));
        assert_eq!(part, Log::new(small, butt, Length::feet(4), thin, thick).unwrap());
        assert!(part.sections().is_none());
    }

    #[test]
    fn flaws_go_with_their_part() {
        let shake = Flaw {
            kind: FlawKind::Shake,
            from: Length::feet(1),
            to: Length::feet(4),
            region: Region::Heart { radius: Length::inches(2) },
        };
        let log = cone().with_flaws(vec![shake]);
        let part = |from, to| log.bucked(Length::feet(from), Length::feet(to)).unwrap();
        let spans = |log: Log| log.flaws().iter().map(|f| (f.from, f.to)).collect::<Vec<_>>();
        assert_eq!(spans(part(0, 2)), [(Length::feet(1), Length::feet(2))]);
        assert_eq!(spans(part(2, 8)), [(Length::ZERO, Length::feet(2))]);
        assert_eq!(spans(part(4, 8)), []);
        // Drawn out to twice its length, all that is in it is twice as far on.
        let longer = log.longer(Length::feet(8)).unwrap();
        assert_eq!(spans(longer), [(Length::feet(2), Length::feet(8))]);
    }

    #[test]
    fn defects_go_with_their_part() {
        let [inch, feet] = [Length::inches, Length::feet];
        let knot = Defect::Knot {
            at: feet(3),
            clock: Angle::degrees(75),
            across: inch(2),
            rise: inch(4),
            clear: Length::ZERO,
        };
        let seam = Defect::Seam { from: feet(1), to: feet(4), clock: Angle::ZERO, depth: inch(2) };
        let log = cone().with_defects(vec![knot, seam]);
        let part = |from, to| log.bucked(from, to).unwrap().defects().to_vec();
        let moved = |by: Length| match knot {
            Defect::Knot { clock, across, rise, clear, .. } => {
                Defect::Knot { at: feet(3) - by, clock, across, rise, clear }
            }
            other => other,
        };
        let seam = |from: Length, to: Length| Defect::Seam {
            from,
            to,
            clock: Angle::ZERO,
            depth: inch(2),
        };
        let first = [moved(feet(2)), seam(Length::ZERO, feet(2))];
        assert_eq!(part(feet(2), feet(8)), first);
        // A cut through a knot leaves some of it on both sides: an inch below its end, and its tip beyond.
        let cut = feet(3) + inch(1);
        assert_eq!(part(Length::ZERO, cut), [moved(Length::ZERO), seam(feet(1), cut)]);
        assert_eq!(part(cut, feet(8)), [moved(cut), seam(Length::ZERO, feet(4) - cut)]);
        assert_eq!(part(feet(3) + inch(4), feet(8)).len(), 1);
        assert_eq!(part(feet(4), feet(8)), []);
        assert_eq!(part(Length::ZERO, feet(3) - inch(1)), [seam(feet(1), feet(3) - inch(1))]);
        // Drawn out to twice its length, all of it is twice as far on and as thick as before.
        let longer = log.longer(feet(8)).unwrap();
        assert_eq!(longer.defects(), [moved(-feet(3)), seam(feet(2), feet(8))]);
        assert_eq!(log.thicker(inch(1)).unwrap().defects(), log.defects());
    }

    #[test]
    fn a_part_that_is_not_in_the_log_is_refused() {
        for (from, to) in [(-1, 4), (4, 4), (5, 4), (4, 9)] {
            let fault = cone().bucked(Length::feet(from), Length::feet(to)).unwrap_err();
            assert!(matches!(fault, LogFault::Part { .. }), "{fault}");
            assert_eq!(fault.field(), "length");
            assert!(fault.to_string().contains("within the log's 8.0000 ft"), "{fault}");
        }
        let short = cone().bucked(Length::ZERO, Length::inches(2)).unwrap_err();
        assert!(matches!(short, LogFault::Length(_)));
    }

    #[test]
    fn cut_at_its_bend_a_log_is_two_straight_ones() {
        let log = bent();
        // 4 in in 2 ft: a tenth of an inch less than 10 in is left in the plane of the bend.
        for (from, to, steep) in [(0, 2, 4.0 / 24.0), (2, 8, 4.0 / 72.0)] {
            let part = log.bucked(Length::feet(from), Length::feet(to)).unwrap();
            let narrow = 5.0 / norm(1.0, steep);
            for section in part.sections().unwrap() {
                let reach = |axis: usize, sign: f64| {
                    section.wood.iter().map(|p| sign * p[axis]).fold(f64::NEG_INFINITY, f64::max)
                };
                assert!(norm(section.pith[0], section.pith[1]) < 1e-12);
                for sign in [-1.0, 1.0] {
                    assert!((reach(0, sign) - 5.0).abs() < 1e-9);
                    assert!((reach(1, sign) - narrow).abs() < 1e-9, "{}", reach(1, sign));
                }
            }
        }
    }

    /// A measured log says at every station how thick it is; between its ends it need not go evenly.
    #[test]
    fn a_part_of_a_measured_log_is_as_thick_as_its_own_ends() {
        let section = |n: u32| {
            let circle = |radius: f64| Section::round(0.0, radius, radius + 0.5);
            // 10 in up to the middle, then an inch more of diameter every foot.
            let z = 6.0 * f64::from(n);
            Section { z, ..circle(5.0 + (z - 48.0).max(0.0) / 24.0) }
        };
        let log = Log::measured((0..=16).map(section).collect()).unwrap();
        let part = log.bucked(Length::ZERO, Length::feet(4)).unwrap();
        assert_eq!(part.small_end(), log.small_end());
        let near = |a: Length, b: i64| (a - Length::inches(b)).abs() < Length::sixty_fourths(1);
        assert!(near(part.butt(), 10), "{:?}", part.butt());
        assert!(part.butt_over_bark() > Length::inches(11) - Length::sixty_fourths(1));
        let rest = log.bucked(Length::feet(6), Length::feet(8)).unwrap();
        assert!(near(rest.small_end(), 12), "{:?}", rest.small_end());
        assert!((part.volume() / (std::f64::consts::PI * 25.0 * 48.0) - 1.0).abs() < 1e-3);
    }

    /// No piece of a length is thicker than the thinnest section of the thickest stretch.
    #[test]
    fn the_radius_over_a_length_of_a_taped_log() {
        let end = |across: i64| End {
            longer: Length::inches(across),
            shorter: Length::inches(across),
            clock: Angle::ZERO,
            pith_off: Length::ZERO,
            pith_clock: Angle::ZERO,
            bark: Length::ZERO,
        };
        let (depth, at) = (Length::inches(2), Length::feet(5));
        let crook = Some(Crook { depth, clock: Angle::ZERO, at });
        let (length, small, butt) = (Length::feet(10), end(10), end(20));
        let log = Log::taped(&Taped { length, small, butt, sweep: None, crook, flare: None });
        let log = log.unwrap();
        // An inch of diameter a foot; stations are half a foot apart.
        for (feet, diameter) in [(10, 10.0), (8, 12.0), (5, 15.0), (1, 19.0)] {
            let radius = log.radius_over_length(Length::feet(feet)).unwrap();
            let least = diameter / 2.0;
            assert!(radius > least - 0.01 && radius < least + 0.26, "{feet} ft: {radius}");
        }
        assert_eq!(log.radius_over_length(Length::feet(11)), None);
    }
}

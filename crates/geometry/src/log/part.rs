//! Logs made from another: a part of it, or the same a little thicker or longer.

use super::{Flaw, Log, Section, Shape, section};
use crate::LogFault;
use crate::trig::norm;
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
        Ok(log.with_flaws(self.flaws.iter().map(flaw).collect()))
    }

    /// The part of the log between two stations as a log of its own, with the flaws that lie in it. The pith at both its
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
        Ok(part.with_flaws(self.flaws.iter().filter_map(within).collect()))
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

    /// A log of the same kind as this, with changed sections and the same flaws.
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
        Ok(Self { butt, shape, even: self.even, flaws: Arc::clone(&self.flaws), ..round })
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

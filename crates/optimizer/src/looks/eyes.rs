//! What the strips of a board are worth less than at their best, where they lie.

use super::{Giver, Giving, Looking};
use crate::column::{Lengths, UNIT};
use crate::flitch::Strip;
use crate::site::{Lie, Site};
use crate::want::Want;
use pithward_geometry::{Angle, Claim, Quarter, Span};
use pithward_measure::Length;

/// Looks at the strips of boards.
#[derive(Debug)]
pub(crate) struct Eyes<'a> {
    looking: &'a Looking<'a>,
    wants: &'a [Want],
    /// The same at their best.
    clear: &'a [Want],
}

impl<'a> Eyes<'a> {
    pub(crate) fn new(looking: &'a Looking<'a>, wants: &'a [Want], clear: &'a [Want]) -> Self {
        Self { looking, wants, clear }
    }

    /// What the strips of a board between two planes are worth less than at their best, in [`UNIT`]ths; in the middle of
    /// their room, as they are sawn.
    pub(crate) fn loss(
        &self,
        site: &Site<'_>,
        lengths: &[Lengths],
        strips: &[Strip],
        lie: Lie,
        planes: (i64, i64),
    ) -> i64 {
        let Some((from, to)) = site.room(strips, lie, planes) else { return 0 };
        let mut at = from + (to - from) / 2;
        let mut loss = 0;
        for strip in strips {
            loss += self.loss_of(site, lengths, (strip, at), lie, planes);
            at += strip.width + site.kerf;
        }
        loss
    }

    /// The same of one strip whose `-u` edge lies at a place.
    pub(crate) fn loss_of(
        &self,
        site: &Site<'_>,
        lengths: &[Lengths],
        (strip, at): (&Strip, i64),
        lie: Lie,
        planes: (i64, i64),
    ) -> i64 {
        let Some(place) = strip.place else { return 0 };
        let (frame, basis) = (site.view.frame(), site.view.basis());
        let (quarter, across, upward) = match lie.quarter {
            Quarter::First => (Angle::ZERO, basis.u, basis.h),
            Quarter::Second => (Angle::degrees(90), basis.h.map(|c| -c), basis.u),
        };
        let [across, upward] = [across, upward].map(|direction| site.view.origin_toward(direction));
        let span =
            |from: i64, to: i64, by: i64| Span::new(Length::nm(from + by), Length::nm(to + by));
        let column = &site.columns.all[place.column];
        let level = &column.levels[place.level];
        let mut end = site.log().length() - Length::nm(level.stretches[place.stretch].butt);
        let mut loss = 0;
        let mut giver = Giver::new(self.wants, &Giving::Worth);
        for id in lengths[place.column].cuts(place.level, place.allowance) {
            let want = &self.wants[id.want.0];
            let take = want.cuts[id.cut].take;
            let claim = Claim {
                turn: frame.turn.turned_by(quarter),
                u: span(at, at + strip.width, across),
                h: span(planes.0, planes.1, upward),
                z: Span::new(end - take, end),
                wane_u: Length::nm(crate::column::floor(column.wane_width)),
                wane_h: Length::nm(crate::column::floor(column.wane_thickness)),
                heart: want.heart,
                tolerates: want.tolerates,
            };
            end = end - take - site.mill.crosscut_kerf;
            let best = self.clear[id.want.0].cuts[id.cut].worth;
            let given = giver.give(id, || self.looking.expected(&claim, &frame).grade);
            loss += (best - given.map_or(0, |given| given.worth)).max(0) * UNIT;
        }
        loss
    }
}

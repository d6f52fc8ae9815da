//! What a part that lies between sawn planes is best ripped into, as things are now.
//!
//! # Problem
//! The planes of a flitch are sawn: its thickness is what it is, and where it lies in the log is known exactly. Of the wants
//! of that thickness, which strips lie side by side in it, clear of all that was found?
//!
//! # Method
//! The exact search of [`crate::flitch`] at its own planes. A part between four sawn planes may lie either way. Counts are
//! met part by part: a want that has its count is worth what a piece beyond it is worth from then on.

use super::way::{Freed, Piece, Way};
use crate::allowance::Allowances;
use crate::column::{Lengths, Prices, Work};
use crate::family::Rip;
use crate::flitch::{Ripping, Strip};
use crate::site::Site;
use crate::want::{CutId, Want};
use pithward_geometry::PartId;
use pithward_measure::Length;
use std::rc::Rc;

/// Rips parts, each want up to its count.
pub(super) struct Ripper<'s, 'a> {
    site: &'s Site<'a>,
    wants: &'s [Want],
    /// How far a thickness may be off.
    tolerance: Length,
    /// Pieces of every want so far.
    given: Vec<u32>,
}

/// So much is taken off the worth of a piece whose want has its count: what a piece beyond it is worth is left.
const BEYOND: i64 = i64::MAX / 4;

impl<'s, 'a> Ripper<'s, 'a> {
    /// Where these pieces are given already.
    pub(super) fn new(
        site: &'s Site<'a>,
        wants: &'s [Want],
        tolerance: Length,
        given: &[CutId],
    ) -> Self {
        let mut ripper = Self { site, wants, tolerance, given: vec![0; wants.len()] };
        ripper.give(given);
        ripper
    }

    /// These pieces are given too.
    pub(super) fn give(&mut self, cuts: &[CutId]) {
        for cut in cuts {
            self.given[cut.want.0] += 1;
        }
    }

    /// The wants with what is left of their counts.
    pub(super) fn left(&self) -> Vec<Want> {
        let mut wants = self.wants.to_vec();
        for (want, given) in wants.iter_mut().zip(&self.given) {
            want.count = want.count.map(|count| count.saturating_sub(*given));
        }
        wants
    }

    /// The boards that these parts are worth most as; those that hold nothing wanted are left out.
    pub(super) fn boards(
        &mut self,
        way: &Way<'_, '_>,
        parts: &[Freed<'_>],
    ) -> Vec<(PartId, Piece)> {
        let mut boards = Vec::new();
        for part in parts {
            if let Some(piece) = self.board(way, part) {
                self.give(&piece.cuts().collect::<Vec<CutId>>());
                boards.push((part.id, piece));
            }
        }
        boards
    }

    fn board(&self, way: &Way<'_, '_>, part: &Freed<'_>) -> Option<Piece> {
        let pieces = part.boards();
        if pieces.is_empty() || !part.is_wood() {
            return None;
        }
        let (site, none) = (self.site, Allowances::none());
        let full = |(want, given): (&Want, &u32)| want.count.is_some_and(|count| *given >= count);
        let discount =
            self.wants.iter().zip(&self.given).map(|pair| if full(pair) { BEYOND } else { 0 });
        let prices = Prices::of(discount.collect(), Work::TIES);
        let columns = site.columns.all.iter();
        let lengths: Rc<[Lengths]> =
            columns.map(|column| Lengths::new(column, self.wants, &prices)).collect();
        let mut ripping = Ripping::new(site, Rc::clone(&lengths), &none, Work::TIES.pass);
        let rip = |strip: &Strip| Rip::of(site, &lengths, strip);
        let mut best: Option<(i64, Piece)> = None;
        for piece in pieces {
            let placed = way.placed(part.id, &piece);
            let thick = placed.to - placed.from;
            let near = |thickness: i64| (thickness - thick).abs() <= self.tolerance.as_nm();
            for (group, own) in site.columns.groups.iter().enumerate() {
                if !near(own.thickness) {
                    continue;
                }
                let (value, strips) = ripping.at(group, placed.lie, (placed.from, placed.to));
                let fits = site.room(&strips, placed.lie, (placed.from, placed.to)).is_some();
                if value > best.as_ref().map_or(0, |(value, _)| *value) && fits {
                    let strips = strips.iter().map(rip).collect();
                    best = Some((value, Piece { strips, ..piece.clone() }));
                }
            }
        }
        best.map(|(_, piece)| piece)
    }
}

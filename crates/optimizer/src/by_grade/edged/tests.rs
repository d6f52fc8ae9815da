//! Rows of strips against every row there is, and what is edged sawn and replayed.

use super::*;
use crate::column::Columns;
use crate::family::{Method, Search};
use crate::invented::{self, Random, SIXTEENTH, cut, want};
use crate::looks::{Looking, at_best};
use crate::sawing::saw;
use crate::want::Grading;
use pithward_geometry::{Defect, Frame, Log, View, confirm};
use pithward_measure::Length;
use pithward_trade::grade::Prices as GradePrices;
use std::sync::Arc;

/// Boards of every whole inch, paid by grade.
fn boards() -> Want {
    let sizes = [8, 10].into_iter().flat_map(|feet| (4..=9).map(move |width| (width, feet)));
    let board = |(width, feet)| cut((Length::inches(1), Length::inches(width)), feet);
    let prices = [1_000_000, 950_000, 900_000, 600_000, 350_000, 200_000, 150_000];
    let prices = GradePrices::new(prices.map(Some), 100_000);
    Want { grading: Some(Grading { least: None, prices }), ..want(sizes.map(board).collect()) }
}

fn knotty(random: &mut Random) -> Log {
    let small = SIXTEENTH * random.within(9 * 16, 14 * 16);
    let (length, none) = (Length::inches(124), Length::ZERO);
    let log = Log::new(small, small + SIXTEENTH * random.within(0, 32), length, none, none);
    let knot = |_| Defect::Knot {
        at: Length::inches(random.within(6, 118)),
        clock: random.clock(),
        across: SIXTEENTH * random.within(8, 48),
        rise: Length::inches(2),
        clear: none,
    };
    log.unwrap().with_defects((0..8).map(knot).collect())
}

/// What each row that begins at a place is worth when all of its strips were looked at.
fn each_row(rows: &Rows, worth: &[i64], at: usize, before: i64, see: &mut dyn FnMut(i64)) {
    for (n, spot) in rows.spots.iter().enumerate().filter(|(_, spot)| spot.here == at) {
        see(before + worth[n]);
        if let Some(next) = spot.next {
            each_row(rows, worth, next, before + worth[n], see);
        }
    }
}

#[test]
fn no_row_is_worth_more_and_what_is_edged_is_confirmed() {
    let (mut random, mut better, mut some) = (Random(23), 0, 0);
    for _ in 0..6 {
        let (log, mill, wants) = (knotty(&mut random), invented::mill(SIXTEENTH), [boards()]);
        let clear = at_best(&wants);
        let view = View::new(&log, Frame::turned(random.clock()));
        let columns = Columns::new(&view, mill.crosscut_kerf, &clear);
        let site = Site::new(&view, &mill, &columns);
        let prices = Prices::full(&clear);
        let mut search = Search::new(&site, &clear, &prices);
        let found = search.best(&[Method::Through, Method::FourSidedCant]);
        let looking = Looking::rough(&log, &Arc::default());
        let eyes = Eyes::new(&looking, &wants, &clear);
        let edging = Edging::new(&site, (&clear, Work::TIES), &eyes);
        for found in found {
            for board in placed(&site, &found).unwrap() {
                let planes = (board.from, board.to);
                let looked = |strip: &Strip, at: i64| {
                    edging.clear(strip.place.unwrap())
                        - edging.cost(strip, &board)
                        - eyes.loss_of(&site, &edging.lengths, (strip, at), board.lie, planes)
                };
                let worth = |strips: &[Rip], mut at: i64| -> i64 {
                    let strips = site.strips(strips).unwrap();
                    let worth = strips.iter().map(|strip| {
                        let worth = looked(strip, at);
                        at += strip.width + site.kerf;
                        worth
                    });
                    worth.sum()
                };
                let own = site.strips(&board.board.strips).unwrap();
                let Some((from, to)) = site.room(&own, board.lie, planes) else { continue };
                let least = worth(&board.board.strips, from + (to - from) / 2);
                let rows = edging.rows(&board);
                let worths: Vec<i64> =
                    rows.spots.iter().map(|s| looked(&s.strip, rows.places[s.here])).collect();
                let mut most = 0;
                for at in 0..rows.places.len() {
                    each_row(&rows, &worths, at, 0, &mut |worth| most = most.max(worth));
                }
                let edged = edging.edged(&board, usize::MAX);
                let value = edged.as_ref().map_or(least, |e| worth(&e.strips, e.at));
                assert_eq!(value, most.max(least));
                let few = edging.edged(&board, 10).map_or(least, |e| worth(&e.strips, e.at));
                assert!((least..=value).contains(&few), "{least} {few} {value}");
                better += usize::from(value > least);
                some += usize::from(few > least);
            }
            let Some(edged) = edging.edge(&found, 40) else { continue };
            let sawn = saw(&site, &clear, &edged).unwrap();
            confirm(&log, &mill, &sawn.order, mill.step).unwrap();
        }
    }
    assert!(better > 40 && some > 20, "{better} and {some} boards are edged otherwise");
}

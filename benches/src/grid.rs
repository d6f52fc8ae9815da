//! The plain way to saw through and through, as a baseline for the benches: planes on a fixed grid, each flitch
//! ripped by an ordinary knapsack over one length.
//!
//! # Recurrence
//! `F(y) = max { F(y + step), max over t of F(y + t + kerf) + v(y, y + t) }`, `v` the best over lengths of a
//! knapsack of widths in the chord over that length.
//!
//! # Grid and cost
//! Planes and widths on `step`; a thickness and a kerf count as the next whole step. With `N` planes and `T`
//! thicknesses `O(N T)` knapsacks. It knows no strips of different lengths side by side, no cants, and no
//! order of sawing: a small part of what `open` answers.

use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_optimizer::{Cut, Want};

/// The worth of the best pattern on the grid, millionths.
pub fn through(log: &Log, kerf: Length, wants: &[Want], step: Length) -> i64 {
    let steps = |length: Length| usize::try_from(length.ceil_to(step).div_floor(step)).unwrap_or(0);
    let cuts: Vec<&Cut> = wants.iter().flat_map(|want| &want.cuts).collect();
    let mut thicknesses: Vec<Length> = cuts.iter().map(|cut| cut.thickness).collect();
    thicknesses.sort_unstable();
    thicknesses.dedup();
    let mut lengths: Vec<Length> = cuts.iter().map(|cut| cut.take).collect();
    lengths.sort_unstable();
    lengths.dedup();
    let radius = log.butt().half();
    let planes = steps(radius * 2);
    // For every thickness and length, the most that a chord of so many steps holds.
    let rips: Vec<Vec<Vec<i64>>> = thicknesses
        .iter()
        .map(|thickness| {
            let rip = |length: &Length| {
                let strips: Vec<(usize, i64)> = cuts
                    .iter()
                    .filter(|cut| cut.thickness == *thickness && cut.take == *length)
                    .map(|cut| (steps(cut.width + kerf), cut.worth))
                    .collect();
                knapsack(planes + steps(kerf), &strips)
            };
            lengths.iter().map(rip).collect()
        })
        .collect();
    let inches = step.inches_f64();
    let chord = |length: Length, plane: f64| -> Option<usize> {
        let radius = log.radius_over_length(length)?;
        let square = radius * radius - plane * plane;
        let width = Length::from_inches_f64_down(2.0 * square.max(0.0).sqrt());
        usize::try_from((width + kerf).div_floor(step)).ok()
    };
    let mut best = vec![0i64; planes + 1];
    for y in (0..planes).rev() {
        best[y] = best[y + 1];
        for (t, thickness) in thicknesses.iter().enumerate() {
            let top = y + steps(*thickness);
            if top > planes {
                continue;
            }
            let place = |step: usize| step as f64 * inches - radius.inches_f64();
            let plane = place(y).abs().max(place(top).abs());
            let flitch = lengths.iter().zip(&rips[t]).filter_map(|(length, rip)| {
                chord(*length, plane).map(|chord| rip[chord.min(rip.len() - 1)])
            });
            let beyond = best[(top + steps(kerf)).min(planes)];
            best[y] = best[y].max(flitch.max().unwrap_or(0) + beyond);
        }
    }
    best[0]
}

fn knapsack(room: usize, strips: &[(usize, i64)]) -> Vec<i64> {
    let mut best = vec![0i64; room + 1];
    for x in 1..=room {
        best[x] = best[x - 1];
        for (width, worth) in strips {
            if let Some(rest) = x.checked_sub(*width) {
                best[x] = best[x].max(best[rest] + worth);
            }
        }
    }
    best
}

//! Passes that come near metal.

use super::across::within;
use super::sound::stations;
use crate::{Body, Flaw, FlawKind, Log};

/// A blade nearer to metal than this, inches, is told: where a nail was seen is known no better. Common practice, no
/// source.
const NEAR: f64 = 1.0;

/// Where there is metal in a log, or may be: convex polygons in sections, each with its station.
#[derive(Clone, Debug)]
pub struct Metal {
    regions: Vec<(f64, Vec<[f64; 2]>)>,
}

impl Metal {
    /// Of a log by its flaws.
    pub fn of(log: &Log) -> Self {
        let metal = log.flaws().iter().filter(|flaw| flaw.kind == FlawKind::Metal);
        let regions = |flaw: &Flaw| {
            let (from, to) = (flaw.from.inches_f64(), flaw.to.inches_f64());
            stations(log, from, to)
                .into_iter()
                .flat_map(|z| {
                    flaw.regions(&log.section_at(z)).into_iter().map(move |region| (z, region))
                })
                .collect::<Vec<_>>()
        };
        Self { regions: metal.flat_map(regions).collect() }
    }

    /// Whether a kerf that begins this far from the frame's axis in a direction meets any of the metal that is still in the
    /// body, or comes near it.
    ///
    /// # Units
    /// Inches.
    pub fn is_near(&self, body: &Body<'_>, direction: [f64; 3], plane: f64, kerf: f64) -> bool {
        let [dx, dy, dz] = direction;
        self.regions.iter().any(|(z, region)| {
            let mut left = region.clone();
            for cut in body.cuts() {
                let [x, y, along] = cut.normal;
                left = within(&left, [x, y], cut.offset - along * z);
            }
            let away = left.iter().map(|[x, y]| x * dx + y * dy + z * dz);
            let (low, high) = away.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            });
            low < plane + kerf + NEAR && high > plane - NEAR
        })
    }
}

//! What the planes of a body leave of the log's sections, and between which stations, found once and kept: a body is asked
//! for its reach many times over, and what a further plane leaves is cut from what the others left.

use super::outline::{clip, over};
use super::{Body, Covering, HalfSpace};
use std::sync::{Arc, OnceLock};

/// What is left of each section of the log, in their order.
type Sections = Vec<Left>;

/// What is left of one section: `None` for all of it.
pub(super) type Left = Option<Arc<Vec<[f64; 2]>>>;

/// The first and the last station at which a body has a section.
type Stations = Option<(f64, f64)>;

/// What is known of a body, for its wood and for its bark; of sections only where they are polygons.
#[derive(Debug, Default)]
pub(super) struct Kept {
    /// The body that it was cut from, and the plane.
    from: Option<(Arc<Self>, HalfSpace)>,
    sections: [OnceLock<Sections>; 2],
    stations: [OnceLock<Stations>; 2],
}

impl Kept {
    /// The same of what a plane leaves of it.
    pub(super) fn cut(from: &Arc<Self>, plane: HalfSpace) -> Arc<Self> {
        Arc::new(Self { from: Some((Arc::clone(from), plane)), ..Self::default() })
    }

    /// The outermost stations at which there is anything of the body, found once.
    pub(super) fn stations(&self, covering: Covering, find: impl FnOnce() -> Stations) -> Stations {
        *self.stations[covering as usize].get_or_init(find)
    }
}

impl Body<'_> {
    /// What the planes leave of each section of the log.
    pub(super) fn left(&self, covering: Covering) -> &[Left] {
        self.left_of(&self.kept, covering)
    }

    fn left_of<'k>(&self, kept: &'k Kept, covering: Covering) -> &'k [Left] {
        kept.sections[covering as usize].get_or_init(|| {
            let sections = self.log.sections().unwrap_or_default();
            let Some((from, plane)) = &kept.from else { return vec![None; sections.len()] };
            let cut = |(before, section): (&Left, &crate::log::Section)| {
                let outline = before.as_ref().map_or(covering.of(section), |left| &left[..]);
                let [x, y, slope] = plane.normal;
                let side = ([x, y], plane.offset - slope * section.z);
                // Most planes are far from most sections.
                if outline.iter().all(|p| over(side, *p) <= 0.0) {
                    return before.clone();
                }
                Some(Arc::new(clip(outline, side)))
            };
            self.left_of(from, covering).iter().zip(sections).map(cut).collect()
        })
    }
}

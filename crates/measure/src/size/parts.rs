//! Where in a text the parts of a size are.

use std::ops::Range;

use super::fault::{Dimension, SizeFault};
use crate::fault::Excerpt;

/// Where thickness, width and length are written, the blanks around each left out. Those that are
/// there come first; none of them is blank.
pub(super) fn split(text: &str) -> Result<[Option<Range<usize>>; 3], SizeFault> {
    const DIMENSIONS: [Dimension; 3] = [Dimension::Thickness, Dimension::Width, Dimension::Length];
    let mut sides = [None, None, None];
    if text.trim().is_empty() {
        return Ok(sides);
    }
    let mut rest = Some(0..text.len());
    for (side, dimension) in sides.iter_mut().zip(DIMENSIONS) {
        let Some(Range { start, end }) = rest else { break };
        let sign = text[start..].match_indices(['x', 'X', '×']).next();
        let piece = match sign {
            Some((length, sign)) => {
                rest = Some(start + length + sign.len()..end);
                &text[start..start + length]
            }
            None => {
                rest = None;
                &text[start..]
            }
        };
        let from = start + piece.len() - piece.trim_start().len();
        let at = from..from + piece.trim().len();
        if at.is_empty() {
            return Err(SizeFault::Missing { text: Excerpt::new(text), dimension, at });
        }
        *side = Some(at);
    }
    match rest {
        None => Ok(sides),
        Some(at) => Err(SizeFault::TooManyDimensions { text: Excerpt::new(text), at }),
    }
}

/// Whether a thickness is written in quarters of an inch, four of them or more.
pub(super) fn is_quarters(text: &str) -> bool {
    let Some((over, under)) = text.split_once('/') else { return false };
    let fourths = under.strip_prefix('4').is_some_and(|behind| {
        // What else stands there is a unit, or was refused when the length was read.
        !behind.starts_with(|c: char| c.is_ascii_digit())
    });
    fourths && over.parse::<u16>().is_ok_and(|over| over >= 4)
}

/// Where the number of a random width ends and where what stands behind its `up` begins.
pub(super) fn split_up(text: &str) -> Option<(usize, usize)> {
    let lower = text.to_ascii_lowercase();
    ["and up", "& up", "&up", "up", "+"]
        .iter()
        .find_map(|up| lower.find(up).map(|at| (at, at + up.len())))
}

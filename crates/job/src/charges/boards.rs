//! Paid by the board: `4 GBP up to 4x8x20`, and what a larger one costs.
//!
//! A fixed sum for every board up to a size, and more above it, is a form that sawyers in Britain were seen to use (from
//! custom sawyers' own talk of their rates, 2001). A board is billed by the first line whose size it is not above, by the
//! sizes that boards are named by; it does not matter which side of it is called thickness.

use pithward_measure::{Excerpt, Length, Money, Size, Width};

use super::text::{BOARD_HELP, before, not_negative};
use crate::fault::{ChargeFault, FaultKind, Misread};

/// What a board costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoardPrice {
    /// Of one.
    pub price: Money,
    /// Up to this size, with its length where it has one; `None` for all that are larger than those before.
    pub up_to: Option<Size>,
}

impl BoardPrice {
    /// Whether a board of a thickness, a width and a length is billed by it, where none before it does.
    pub fn takes(&self, [thickness, width, length]: [Length; 3]) -> bool {
        let Some(size) = self.up_to else { return true };
        let (thin, wide) = (thickness.min(width), thickness.max(width));
        let (own, other) = (size.thickness, size.width.least());
        thin <= own.min(other)
            && wide <= own.max(other)
            && size.length.is_none_or(|longest| length <= longest)
    }

    /// Whether all that it takes is taken by another, too.
    fn is_within(&self, other: &Self) -> bool {
        let Some(size) = self.up_to else { return other.up_to.is_none() };
        let longest = Length::nm(i64::MAX);
        other.takes([size.thickness, size.width.least(), size.length.unwrap_or(longest)])
    }
}

const AN_EACH: [&str; 6] = ["/board", "each", "per board", "a board", "/each", "per piece"];

/// Reads one line of what boards cost, behind those that are known.
pub(super) fn board(text: &str, known: &[BoardPrice]) -> Result<BoardPrice, Misread> {
    let lower = text.trim().to_lowercase();
    let (price, up_to) = match lower.split_once("up to") {
        Some((price, size)) => (price.trim_end(), Some(size.trim())),
        None => {
            let price = ["above", "for all larger", "for larger"];
            (before(&lower, &price).unwrap_or(&lower).trim_end(), None)
        }
    };
    let price = not_negative(before(price, &AN_EACH).unwrap_or(price), BOARD_HELP)?;
    let none = || {
        let kind = ChargeFault::NoLimit { got: Excerpt::new(text) };
        Misread::new(kind, 0..0, BOARD_HELP)
    };
    let up_to = up_to.map(Size::parse).transpose().map_err(|_| none())?;
    if up_to.is_some_and(|size| matches!(size.width, Width::AtLeast(_))) {
        return Err(none());
    }
    let line = BoardPrice { price, up_to };
    if known.iter().any(|other| line.is_within(other)) {
        let kind = FaultKind::from(ChargeFault::NeverBilled { got: Excerpt::new(text) });
        return Err(Misread::new(kind, 0..0, BOARD_HELP));
    }
    Ok(line)
}

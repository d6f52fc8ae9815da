//! Through and through: all passes parallel, the log never squared.
//!
//! # Recurrence
//! One line of flitches across the whole log. Either side of the pith is a stack
//! ([`crate::stack`]) whose kinds are the thicknesses and whose worth is that of the best strips
//! ([`crate::flitch`]); the two sides meet a kerf apart at the best place.
//!
//! # Grid and cost
//! Exact in whole nanometres for round straight logs. `O(T^2 S)` with `T` thicknesses and `S` states.

use super::{Found, Method, Search, Shape, line};

/// Passes that open faces.
pub(super) const PASSES: i64 = 1;

/// The best pattern; `None` when the round does not pass between the guides.
///
/// Without the turn the lowest plane stays as high over the bed as the blade can go.
pub(crate) fn best(search: &Search<'_>, method: Method) -> Option<Found> {
    if search.site.nearest_plane(true) > 0 {
        return None;
    }
    let offers = line::Offers::new(search, &search.round);
    let full = search.allowances.full();
    let best = |sides: &line::Sides<'_>| {
        let value = sides.values()[full];
        (value > 0).then(|| (value, sides.line(search, full)))
    };
    let (value, line) = if method == Method::Through {
        best(&line::straight(search, &offers))
    } else {
        line::turned(search, offers, best)
    }?;
    Some(search.found(method, value - search.work.fixed(method, PASSES), Shape::Through(line)))
}

//! Through and through: all passes parallel, the log never squared.
//!
//! # Recurrence
//! One line of flitches across the whole log. Either side of the pith is a stack
//! ([`crate::stack`]) whose kinds are the thicknesses and whose worth is that of the best strips
//! ([`crate::flitch`]); the two sides meet a kerf apart at the best place.
//!
//! # Grid and cost
//! Exact in whole nanometres for straight logs. `O(T^2 S)` with `T` thicknesses and `S` states.

use super::{Found, Method, Search, Shape, kinds, line, only};
use crate::stack::{Room, Stacks};

/// The best pattern; `None` when the round does not pass between the guides.
///
/// Without the turn the lowest plane stays as high over the bed as the blade can go.
pub(crate) fn best(search: &Search<'_>, method: Method) -> Option<Found> {
    if search.site.nearest_plane() > 0 {
        return None;
    }
    let (allowances, kerf) = (search.allowances, search.site.kerf);
    let kinds = kinds(search.site.columns, &search.round, allowances);
    let plain = only(&kinds);
    let mut limited = Stacks::default();
    let lower = if method == Method::Through {
        let room = Room {
            outer: search.site.lowest_plane().min(search.site.limit),
            past: search.site.limit,
        };
        limited.sweep(&plain, kerf, room, allowances);
        &limited
    } else {
        &search.outer
    };
    let meeting = Stacks::meet(&search.outer, lower, kerf, allowances, allowances.full());
    if meeting.value == 0 {
        return None;
    }
    let shape = Shape::Through(line(search, &kinds, &search.outer, lower, &meeting));
    Some(search.found(method, meeting.value - search.work.fixed(method, 1), shape))
}

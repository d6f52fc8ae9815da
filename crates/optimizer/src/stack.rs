//! The most valuable stack of boards on one side of the pith.
//!
//! # Problem
//! Boards of given thicknesses lie parallel to a line through the pith, a kerf between neighbours. A
//! board whose outer plane is at distance `b` from the pith is worth `v_t(b)`, a step function that only
//! falls as `b` grows: further out a round log is narrower. Where the wood is not round, or not sound, it may rise too;
//! then a step says what a board is worth between the next step inward and its own place. Find, for every `y`, the most
//! that boards lying wholly at or beyond `y` can be worth.
//!
//! The same question is asked three times in one log: of flitches between the faces, of planks in a
//! cant, and of the strips that a flitch is ripped into. All three call this one kernel.
//!
//! # Recurrence
//! ```text
//! F(y) = max { F(y+), max over t of v_t(y + t) + F(y + t + k) }
//! ```
//! A board that could move outward without losing worth may as well do so, until its own `v_t` falls or
//! it meets its neighbour. So `F` steps only where `y + t` is a step of some `v_t`, where `y + t + k` is a
//! step of `F`, or at the outer limit: no grid is needed, and none is used. The steps are swept from the
//! outside in; `F` is kept as its list of steps, the dominated states never arise.
//!
//! A board belongs to the side on which its middle lies, so one that straddles the pith reaches past it
//! by at most half its thickness; [`Stacks::meet`] joins two sides at every place where they can meet.
//!
//! # Grid and cost
//! Exact in whole nanometres. With `T` kinds and `S` steps of `F`: `O(T^2 S)` time, `O(S)` memory, for
//! each allowance (see [`crate::allowance`]).
//!
//! # Source
//! The nested recurrence over planes is that of Faaland and Briggs, "Log bucking and lumber
//! manufacturing using dynamic programming", Management Science 30(2), 1984, and Reinders and Hendriks,
//! "Lumber production optimization", EJOR 42, 1989, both on a grid of planes. Sweeping the steps instead
//! of a grid, and the two half-lines, are ours; `sweep_equals_every_way_of_stacking` checks them.

use crate::allowance::Allowances;

/// One step of a kind's worth: at outer planes up to `at`, beyond the next step inward, the board is worth `value`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Furthest outer plane, nanometres from the pith.
    pub at: i64,
    /// Worth.
    pub value: i64,
}

/// One kind of board: a thickness, what it uses of the counted wants, and its worth by place.
#[derive(Clone, Debug)]
pub struct Kind<'a> {
    /// Thickness, nanometres.
    pub size: i64,
    /// What it uses of the allowance.
    pub uses: usize,
    /// Steps from the outermost in: `at` falls, and in round wood `value` rises.
    pub steps: &'a [Step],
}

/// One state: boards worth `value` lie at or beyond `at`.
#[derive(Clone, Copy, Debug)]
struct Node {
    at: i64,
    value: i64,
    kind: u32,
    step: u32,
    /// The boards further out, as a place in the frontier of `allowance - uses`; [`NONE`] for none.
    outer: u32,
}

/// Room for the boards of one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// No outer plane beyond this, nanometres from the pith.
    pub outer: i64,
    /// A board that straddles the pith reaches at most this far past it.
    pub past: i64,
}

/// The best stacks of one side, for every allowance.
#[derive(Debug, Default)]
pub struct Stacks {
    frontiers: Vec<Vec<Node>>,
    cursors: Vec<Cursor>,
    /// States made, a count of work.
    pub states: u64,
}

/// How far the sweep has come for one kind.
#[derive(Clone, Copy, Debug)]
struct Cursor {
    /// The next inner plane at which something changes for the kind, or [`CLOSED`].
    next: i64,
    /// The allowance of what lies further out.
    beyond: usize,
    /// Steps of the kind that are open.
    step: usize,
    /// States further out that leave room for it.
    outer: usize,
}

impl Cursor {
    /// The next inner plane at which something changes for the kind, as far as is known.
    fn next(&self, kind: &Kind<'_>, kerf: i64, beyond: &[Node]) -> i64 {
        let step = kind.steps.get(self.step).map_or(CLOSED, |step| step.at - kind.size);
        step.max(beyond.get(self.outer).map_or(CLOSED, |node| node.at - kerf - kind.size))
    }
}

/// Nothing changes any more.
const CLOSED: i64 = i64::MIN;

/// No state.
const NONE: u32 = u32::MAX;

/// A place in a list: the lists of one log are far shorter than 2^32.
fn index(place: usize) -> u32 {
    u32::try_from(place).expect("fewer than 2^32 states fit in memory")
}

/// One board of a stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// Its kind, as a place in the slice that the stacks were made from.
    pub kind: usize,
    /// The step of that kind.
    pub step: usize,
    /// Its inner plane where it lies as far out as it may.
    pub at: i64,
}

/// The best way for two sides to meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Meeting {
    /// What both sides are worth.
    pub value: i64,
    /// Where the upper side begins when the two are pushed together: as near the pith as both allow.
    pub at: i64,
    upper: (usize, u32),
    lower: (usize, u32),
}

impl Stacks {
    /// Sweeps the stacks of one side. Old contents are dropped, their memory is used again.
    pub fn sweep(&mut self, kinds: &[Kind<'_>], kerf: i64, room: Room, allowances: &Allowances) {
        self.frontiers.resize_with(allowances.size(), Vec::new);
        for frontier in &mut self.frontiers {
            frontier.clear();
        }
        for allowance in 0..allowances.size() {
            self.sweep_one(kinds, kerf, room, allowances, allowance);
            self.states += self.frontiers[allowance].len() as u64;
        }
    }

    fn sweep_one(
        &mut self,
        kinds: &[Kind<'_>],
        kerf: i64,
        room: Room,
        allowances: &Allowances,
        allowance: usize,
    ) {
        let mut frontier = std::mem::take(&mut self.frontiers[allowance]);
        let mut cursors = std::mem::take(&mut self.cursors);
        cursors.clear();
        cursors.extend(kinds.iter().map(|kind| {
            let beyond = allowances.minus(allowance, kind.uses).filter(|_| !kind.steps.is_empty());
            let next = beyond.map_or(CLOSED, |_| room.outer.min(kind.steps[0].at) - kind.size);
            Cursor { next, beyond: beyond.unwrap_or(allowance), step: 0, outer: 0 }
        }));
        let mut best = 0;
        loop {
            // The kind whose next change gives the outermost inner plane; ties by order.
            let (mut n, mut y) = (0, CLOSED);
            for (kind, cursor) in cursors.iter().enumerate() {
                if cursor.next > y {
                    (n, y) = (kind, cursor.next);
                }
            }
            if y == CLOSED {
                break;
            }
            let (kind, cursor) = (&kinds[n], &mut cursors[n]);
            let plane = y + kind.size;
            if 2 * plane < kind.size || y < -room.past {
                cursor.next = CLOSED;
                continue;
            }
            let own = cursor.beyond == allowance;
            let beyond = if own { &frontier } else { &self.frontiers[cursor.beyond] };
            while kind.steps.get(cursor.step).is_some_and(|step| step.at >= plane) {
                cursor.step += 1;
            }
            while beyond.get(cursor.outer).is_some_and(|node| node.at - kerf >= plane) {
                cursor.outer += 1;
            }
            let outer = cursor.outer.checked_sub(1);
            let value =
                kind.steps[cursor.step - 1].value + outer.map_or(0, |place| beyond[place].value);
            let step = index(cursor.step - 1);
            cursor.next = cursor.next(kind, kerf, beyond);
            if value > best {
                best = value;
                let replaced = frontier.last().is_some_and(|last| last.at == y);
                if replaced {
                    frontier.pop();
                }
                let outer = outer.map_or(NONE, index);
                frontier.push(Node { at: y, value, kind: index(n), step, outer });
                // Kinds that have used every state so far may now lie against this one.
                let newest = frontier.len() - 1;
                for (kind, cursor) in kinds.iter().zip(&mut cursors) {
                    if cursor.outer == newest
                        && cursor.beyond == allowance
                        && cursor.step > 0
                        && !replaced
                    {
                        cursor.next = cursor.next.max(y - kerf - kind.size);
                    }
                }
            }
        }
        self.frontiers[allowance] = frontier;
        self.cursors = cursors;
    }

    /// The most that boards at or beyond `y` are worth.
    pub fn value_beyond(&self, allowance: usize, y: i64) -> i64 {
        self.place_beyond(allowance, y)
            .map_or(0, |place| self.frontiers[allowance][place as usize].value)
    }

    fn place_beyond(&self, allowance: usize, y: i64) -> Option<u32> {
        let reached = self.frontiers[allowance].partition_point(|node| node.at >= y);
        reached.checked_sub(1).map(index)
    }

    /// Where the worth steps, from the outside in.
    pub fn steps(&self, allowance: usize) -> impl Iterator<Item = Step> + '_ {
        self.frontiers[allowance].iter().map(|node| Step { at: node.at, value: node.value })
    }

    /// The boards at or beyond `y` that are worth most, from the inside out.
    pub fn boards_beyond<'s>(
        &'s self,
        kinds: &'s [Kind<'_>],
        allowances: &'s Allowances,
        allowance: usize,
        y: i64,
    ) -> impl Iterator<Item = Chosen> + 's {
        let place = self.place_beyond(allowance, y).unwrap_or(NONE);
        self.walk(kinds, allowances, (allowance, place))
    }

    fn walk<'s>(
        &'s self,
        kinds: &'s [Kind<'_>],
        allowances: &'s Allowances,
        (mut allowance, mut place): (usize, u32),
    ) -> impl Iterator<Item = Chosen> + 's {
        std::iter::from_fn(move || {
            let node = *self.frontiers.get(allowance)?.get(place as usize)?;
            allowance = allowances.minus(allowance, kinds[node.kind as usize].uses)?;
            place = node.outer;
            Some(Chosen { kind: node.kind as usize, step: node.step as usize, at: node.at })
        })
    }

    /// The best way for an upper and a lower side to share the line, `gap` apart where they meet.
    ///
    /// For each state of the upper side the lower one may use everything that lies `gap` below it.
    pub fn meet(
        upper: &Self,
        lower: &Self,
        gap: i64,
        allowances: &Allowances,
        allowance: usize,
    ) -> Meeting {
        let mut best = Meeting { value: 0, at: 0, upper: (0, NONE), lower: (0, NONE) };
        for (above, below) in allowances.shares(allowance) {
            let under = &lower.frontiers[below];
            if let Some(last) = under.last().filter(|last| last.value > best.value) {
                let place = index(under.len() - 1);
                best = Meeting {
                    value: last.value,
                    at: 0,
                    upper: (above, NONE),
                    lower: (below, place),
                };
            }
            // Both lists run from the outside in, so the place below only moves back as `at` comes in.
            let mut reached = under.len();
            for (place, node) in upper.frontiers[above].iter().enumerate() {
                if place == 0 {
                    reached = under.partition_point(|other| other.at >= gap - node.at);
                }
                while reached > 0 && under[reached - 1].at < gap - node.at {
                    reached -= 1;
                }
                let value = node.value + if reached == 0 { 0 } else { under[reached - 1].value };
                if value > best.value {
                    let low = reached.checked_sub(1).map_or(NONE, index);
                    best =
                        Meeting { value, at: 0, upper: (above, index(place)), lower: (below, low) };
                }
            }
        }
        // Pushing inward costs nothing up to the pith; past it a board would lose on its other side.
        let place = |side: &Self, (allowance, place): (usize, u32)| {
            side.frontiers
                .get(allowance)
                .and_then(|frontier| frontier.get(place as usize))
                .map(|node| node.at)
        };
        let most = place(upper, best.upper).unwrap_or(i64::MAX);
        let least = place(lower, best.lower).map_or(i64::MIN, |at| gap - at);
        best.at = (gap / 2).min(most).max(least);
        best
    }

    /// The boards of the upper side of a meeting, from the inside out.
    pub fn upper_boards<'s>(
        &'s self,
        kinds: &'s [Kind<'_>],
        allowances: &'s Allowances,
        meeting: &Meeting,
    ) -> impl Iterator<Item = Chosen> + 's {
        self.walk(kinds, allowances, meeting.upper)
    }

    /// The boards of the lower side of a meeting, from the inside out.
    pub fn lower_boards<'s>(
        &'s self,
        kinds: &'s [Kind<'_>],
        allowances: &'s Allowances,
        meeting: &Meeting,
    ) -> impl Iterator<Item = Chosen> + 's {
        self.walk(kinds, allowances, meeting.lower)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Every way of stacking boards on the whole line with all planes on whole units, `kerf` apart.
    fn every_way(kinds: &[(i64, Vec<Step>)], kerf: i64, reach: i64) -> i64 {
        // best[y + reach]: most for boards at or above y, from the top down.
        let places = usize::try_from(2 * reach + 1).unwrap();
        let mut best = vec![0i64; places];
        let at = |y: i64| usize::try_from(y + reach).unwrap();
        for y in (-reach..reach).rev() {
            let mut value = best[at(y + 1)];
            for (size, steps) in kinds {
                let top = y + size;
                let plane = top.max(-y);
                if top <= reach {
                    let own =
                        steps.iter().filter(|step| step.at >= plane).map(|step| step.value).max();
                    let rest = if top + kerf <= reach { best[at(top + kerf)] } else { 0 };
                    value = value.max(own.map_or(0, |own| own + rest));
                }
            }
            best[at(y)] = value;
        }
        best[0]
    }

    fn kind() -> impl Strategy<Value = (i64, Vec<Step>)> {
        (1i64..12, prop::collection::vec((1i64..40, 1i64..20), 1..5)).prop_map(|(size, raw)| {
            let mut at: Vec<i64> = raw.iter().map(|(at, _)| at + (size + 1) / 2).collect();
            at.sort_unstable_by(|a, b| b.cmp(a));
            at.dedup();
            let mut value = 0;
            let steps = at
                .into_iter()
                .zip(raw)
                .map(|(at, (_, more))| {
                    value += more;
                    Step { at, value }
                })
                .collect();
            (size, steps)
        })
    }

    fn meet(kinds: &[Kind<'_>], kerf: i64, reach: i64, allowances: &Allowances) -> Meeting {
        let mut side = Stacks::default();
        side.sweep(kinds, kerf, Room { outer: reach, past: reach }, allowances);
        Stacks::meet(&side, &side, kerf, allowances, allowances.full())
    }

    proptest! {
        #[test]
        fn sweep_equals_every_way_of_stacking(raw in prop::collection::vec(kind(), 1..4), kerf in 1i64..4, reach in 10i64..45) {
            let kinds: Vec<Kind<'_>> = raw.iter().map(|(size, steps)| Kind { size: *size, uses: 0, steps }).collect();
            let none = Allowances::none();
            let meeting = meet(&kinds, kerf, reach, &none);
            prop_assert_eq!(meeting.value, every_way(&raw, kerf, reach));
            // The boards that it names are worth what it says.
            let mut side = Stacks::default();
            side.sweep(&kinds, kerf, Room { outer: reach, past: reach }, &none);
            let boards = side.upper_boards(&kinds, &none, &meeting).chain(side.lower_boards(&kinds, &none, &meeting));
            prop_assert_eq!(boards.map(|b| kinds[b.kind].steps[b.step].value).sum::<i64>(), meeting.value);
        }
    }

    #[test]
    fn a_count_limits_how_many_are_used() {
        // A kind worth 10 of which two may be used, and one worth 3 of which any number may.
        let (dear, cheap) = ([Step { at: 20, value: 10 }], [Step { at: 20, value: 3 }]);
        let allowances = Allowances::new(vec![2]);
        let kinds =
            [Kind { size: 4, uses: 1, steps: &dear }, Kind { size: 4, uses: 0, steps: &cheap }];
        // 41 units hold eight boards of 4 with a kerf of 1 between them: 8 * 5 - 1 = 39.
        assert_eq!(meet(&kinds, 1, 20, &allowances).value, 2 * 10 + 6 * 3);
        let free = [Kind { uses: 0, ..kinds[0].clone() }, kinds[1].clone()];
        assert_eq!(meet(&free, 1, 20, &Allowances::none()).value, 8 * 10);
    }
}

//! How the lumber stands in the yard: layers on stickers, stacks, the ground that they take.
//!
//! # Method
//! A layer has boards of one thickness, the longest first, side by side with a gap for the air up to the width of the
//! stack. Below every layer lie stickers across it, `ceil(length / spacing) + 1` of them, as long as the stack is wide.
//! Layers lie with the longest at the bottom, on blocking of 6 in, until the stack is as high as it may be. All of it is
//! common practice, no source.

use pithward_job::Lumber;
use pithward_measure::{Length, Weight};

/// Between two boards of a layer, for the air. Common practice, no source.
pub const GAP: Length = Length::sixty_fourths(32);
/// Height of the blocking below a stack. Common practice, no source.
pub const BLOCKING: Length = Length::inches(6);

/// A board as it is stacked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Board {
    /// Its smaller dimension, green.
    pub thickness: Length,
    /// Its larger one.
    pub width: Length,
    /// As it is cut.
    pub length: Length,
    /// Green.
    pub weight: Weight,
}

/// All stacks of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Stacks {
    /// The stacks, those with the longest boards first.
    pub stacks: Vec<Stack>,
    /// Stickers below all layers.
    pub stickers: u32,
    /// How long each is: the width of a stack.
    pub sticker_length: Length,
    /// Their thickness.
    pub sticker: Length,
}

/// One stack.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stack {
    /// Of its longest boards.
    pub length: Length,
    /// Of its widest layer: the width of a stack, or that of a board that is wider.
    pub width: Length,
    /// Over the ground, blocking and stickers included.
    pub height: Length,
    /// Layers.
    pub layers: u32,
    /// Boards.
    pub boards: u32,
    /// Stickers.
    pub stickers: u32,
    /// Of its boards, green.
    pub weight: Weight,
}

/// One layer.
#[derive(Clone, Copy, Debug)]
struct Layer {
    thickness: Length,
    length: Length,
    width: Length,
    boards: u32,
    weight: Weight,
}

impl Stacks {
    /// The stacks of some boards.
    pub fn of(boards: &[Board], lumber: &Lumber) -> Self {
        let mut boards = boards.to_vec();
        boards.sort_by_key(|board| {
            let longest = (std::cmp::Reverse(board.length), std::cmp::Reverse(board.width));
            (std::cmp::Reverse(board.thickness), longest, board.weight)
        });
        let mut layers: Vec<Layer> = Vec::new();
        for board in boards {
            let fits = layers.last_mut().filter(|layer| {
                let wide = layer.width + GAP + board.width;
                layer.thickness == board.thickness && wide <= lumber.stack_width
            });
            if let Some(layer) = fits {
                layer.width += GAP + board.width;
                layer.boards += 1;
                layer.weight += board.weight;
            } else {
                let Board { thickness, width, length, weight } = board;
                layers.push(Layer { thickness, length, width, boards: 1, weight });
            }
        }
        layers.sort_by_key(|layer| std::cmp::Reverse((layer.length, layer.thickness)));
        let mut all =
            Self { sticker_length: lumber.stack_width, sticker: lumber.sticker, ..Self::default() };
        for layer in layers {
            let high = layer.thickness + lumber.sticker;
            let most = lumber.stack_height + BLOCKING;
            let room = all.stacks.last().is_some_and(|stack| stack.height + high <= most);
            if !room {
                let (length, height) = (layer.length, BLOCKING);
                all.stacks.push(Stack { length, height, ..Stack::default() });
            }
            let Some(stack) = all.stacks.last_mut() else { continue };
            let stickers = stickers(layer.length, lumber.spacing(layer.thickness));
            stack.height += high;
            stack.width = stack.width.max(layer.width).max(lumber.stack_width);
            stack.layers += 1;
            stack.boards += layer.boards;
            stack.stickers += stickers;
            stack.weight += layer.weight;
            all.stickers += stickers;
        }
        all
    }

    /// The ground below all stacks, without room to walk between them.
    ///
    /// # Units
    /// Square feet.
    pub fn ground(&self) -> f64 {
        self.stacks.iter().map(|stack| stack.length.feet_f64() * stack.width.feet_f64()).sum()
    }
}

/// Stickers below boards of a length.
fn stickers(length: Length, spacing: Length) -> u32 {
    let spaces = -(-length).div_floor(spacing.max(Length::nm(1)));
    u32::try_from(spaces.max(1)).unwrap_or(u32::MAX).saturating_add(1)
}

#[cfg(test)]
mod tests {
    use super::{BLOCKING, Board, Stacks};
    use pithward_job::Lumber;
    use pithward_measure::{Length, Weight};
    use proptest::prelude::*;

    fn boards(count: usize, thickness: i64, width: i64, feet: i64) -> Vec<Board> {
        let (thickness, width) = (Length::inches(thickness), Length::inches(width));
        vec![Board { thickness, width, length: Length::feet(feet), weight: Weight::lb(30) }; count]
    }

    #[test]
    fn layers_stickers_and_height_by_hand() {
        // Seven boards of 6 in with 6 gaps are 45 in: 20 boards take three layers. Stickers every 16 in of 8 ft: 7.
        let lumber = Lumber::default();
        let stacks = Stacks::of(&boards(20, 1, 6, 8), &lumber);
        assert_eq!((stacks.stacks.len(), stacks.stickers), (1, 21));
        let stack = stacks.stacks[0];
        assert_eq!((stack.layers, stack.boards, stack.weight), (3, 20, Weight::lb(600)));
        assert_eq!(stack.height, BLOCKING + (Length::inches(1) + lumber.sticker) * 3);
        assert!((stacks.ground() - 32.0).abs() < 1e-9);
        // Planks of 2 in lie on stickers every 24 in: 12 ft take 7.
        assert_eq!(Stacks::of(&boards(4, 2, 10, 12), &lumber).stickers, 7);
        // 27 layers of an inch on 3/4 in are 47 1/4 in; one more is another stack.
        assert_eq!(Stacks::of(&boards(7 * 27, 1, 6, 8), &lumber).stacks.len(), 1);
        assert_eq!(Stacks::of(&boards(7 * 28, 1, 6, 8), &lumber).stacks.len(), 2);
    }

    #[test]
    fn the_longest_lie_at_the_bottom_and_no_layer_is_of_two_thicknesses() {
        let lumber = Lumber::default();
        let mixed = [boards(3, 1, 8, 8), boards(3, 2, 8, 16), boards(2, 1, 8, 16)].concat();
        let stacks = Stacks::of(&mixed, &lumber);
        assert_eq!(stacks.stacks[0].length, Length::feet(16));
        // Boards of an inch of both lengths share a layer; stickers for its longest.
        assert_eq!(stacks.stacks[0].layers, 2);
        assert_eq!(
            Stacks::of(&[], &lumber),
            Stacks {
                sticker_length: lumber.stack_width,
                sticker: lumber.sticker,
                ..Stacks::default()
            }
        );
    }

    proptest! {
        #[test]
        fn prop_every_board_is_stacked_once_and_no_stack_is_too_high(
            sizes in prop::collection::vec((1..9i64, 2..20i64, 4..20i64, 1..40usize), 0..8),
            width in 3..8i64,
            height in 2..8i64,
        ) {
            let lumber = Lumber {
                stack_width: Length::feet(width),
                stack_height: Length::feet(height),
                ..Lumber::default()
            };
            let all: Vec<Board> = sizes.iter().flat_map(|(t, w, feet, n)| boards(*n, *t, *w, *feet)).collect();
            let stacks = Stacks::of(&all, &lumber);
            let stacked: u32 = stacks.stacks.iter().map(|stack| stack.boards).sum();
            prop_assert_eq!(stacked as usize, all.len());
            for stack in &stacks.stacks {
                prop_assert!(stack.layers == 1 || stack.height <= lumber.stack_height + BLOCKING);
                prop_assert!(stack.stickers >= 2 * stack.layers);
                // Boards lie beside each other, so they are no wider than the layers they lie in.
                prop_assert!(stack.width >= lumber.stack_width);
            }
            let longest = all.iter().map(|board| board.length).max();
            prop_assert_eq!(stacks.stacks.first().map(|stack| stack.length), longest);
        }
    }
}

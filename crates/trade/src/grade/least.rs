//! The smallest cutting that a grade takes.

use super::{Area, Units};
use pithward_measure::Length;

/// The smallest cutting that a grade takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Least {
    /// At least as wide and as long as one of these: width, length.
    Sizes(Vec<(Length, Length)>),
    /// At least so wide, and of at least this content.
    Content {
        /// Width.
        width: Length,
        /// Content.
        content: Units,
    },
}

impl Least {
    /// At least as wide and as long as one of these.
    pub fn sizes(sizes: &[(Length, Length)]) -> Self {
        Self::Sizes(sizes.to_vec())
    }

    /// Whether a cutting is large enough.
    pub fn takes(&self, area: &Area) -> bool {
        self.shortest(area.width()).is_some_and(|shortest| area.length() >= shortest)
    }

    /// The shortest cutting of this width; `None` if it is too narrow.
    pub(super) fn shortest(&self, wide: Length) -> Option<Length> {
        match self {
            Self::Sizes(sizes) => {
                sizes.iter().filter(|(width, _)| *width <= wide).map(|(_, length)| *length).min()
            }
            Self::Content { width, content } => (*width <= wide).then(|| content.over(wide)),
        }
    }

    /// The narrowest cutting of this length; `None` if it is too short.
    pub(super) fn narrowest(&self, long: Length) -> Option<Length> {
        match self {
            Self::Sizes(sizes) => {
                sizes.iter().filter(|(_, length)| *length <= long).map(|(width, _)| *width).min()
            }
            Self::Content { width, content } => {
                (long > Length::ZERO).then(|| content.over(long).max(*width))
            }
        }
    }

    /// The content of the smallest.
    pub(super) fn content(&self) -> Units {
        match self {
            Self::Sizes(sizes) => {
                let content = |(width, length): &(Length, Length)| {
                    Area::new((Length::ZERO, *length), (Length::ZERO, *width)).units()
                };
                sizes.iter().map(content).min().unwrap_or(Units::ZERO)
            }
            Self::Content { content, .. } => *content,
        }
    }

    /// The least lengths and the least widths that an end may hang on, for areas such as these.
    pub(super) fn steps(&self, areas: &[Area]) -> (Vec<Length>, Vec<Length>) {
        match self {
            Self::Sizes(sizes) => sizes.iter().map(|(width, length)| (*length, *width)).unzip(),
            Self::Content { width, content } => {
                let long = areas.iter().map(|area| content.over(area.width()));
                let wide = areas.iter().map(|area| content.over(area.length()).max(*width));
                (long.chain([content.over(*width)]).collect(), wide.chain([*width]).collect())
            }
        }
    }
}

//! What a job of one log and a job of a pile have in common, so that both are said in the same words.

use crate::names;
use pithward_geometry::Mill;
use pithward_job::{JobWant, LogJob, MillSource, PileJob};
use pithward_measure::{Length, Scale, Size};
use pithward_optimizer::WantId;
use pithward_trade::SizePolicy;

/// The terms of a job: its mill, its scale, what is taken off, and how its wants are named.
pub(crate) trait Terms {
    /// The mill's scale, in which heights are printed.
    fn scale(&self) -> Scale;
    /// The mill.
    fn mill(&self) -> &Mill;
    /// Where the mill's figures come from.
    fn mill_source(&self) -> &MillSource;
    /// How named sizes become sawn ones.
    fn policy(&self) -> SizePolicy;
    /// What is taken off beyond the length that counts.
    fn trim(&self) -> Length;
    /// How far a thickness or width may be off.
    fn tolerance(&self) -> Length;
    /// The size of a want as it was named, and its accepted lengths, shortest first.
    fn named(&self, id: WantId) -> Option<(Size, &[Length])>;

    /// What tells a want from another of the same size: `white oak`; `None` where its size does.
    fn which(&self, _: WantId) -> Option<String> {
        None
    }
}

macro_rules! terms {
    ($job:ty, $($which:tt)*) => {
        impl Terms for $job {
            fn scale(&self) -> Scale {
                self.scale
            }

            fn mill(&self) -> &Mill {
                &self.mill
            }

            fn mill_source(&self) -> &MillSource {
                &self.mill_source
            }

            fn policy(&self) -> SizePolicy {
                self.policy
            }

            fn trim(&self) -> Length {
                self.trim
            }

            fn tolerance(&self) -> Length {
                self.settings.tolerance
            }

            fn named(&self, id: WantId) -> Option<(Size, &[Length])> {
                self.wants.get(id.0).map(|want| (want.size, want.lengths.as_slice()))
            }

            $($which)*
        }
    };
}

terms!(LogJob,);
terms!(
    PileJob,
    fn which(&self, id: WantId) -> Option<String> {
        let want = self.wants.get(id.0)?;
        let wood = |want: &JobWant| names::woods(&want.species);
        let mut alike = self.wants.iter().enumerate().filter(|(n, other)| {
            *n != id.0 && (&other.size, &other.lengths) == (&want.size, &want.lengths)
        });
        alike.clone().next()?;
        let told_by_wood =
            !want.species.is_empty() && alike.all(|(_, other)| wood(other) != wood(want));
        Some(if told_by_wood { wood(want) } else { format!("line {}", id.0 + 1) })
    }
);

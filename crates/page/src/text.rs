//! What the page says that no card says: all of it in one place.

pub(crate) const SUMMARY: &str = "Summary";
pub(crate) const ORDER: &str = "Order of sawing";
pub(crate) const WANT: &str = "want";
pub(crate) const WANTED: &str = "wanted";
pub(crate) const COMES: &str = "comes";
pub(crate) const STILL: &str = "short";
pub(crate) const ANY: &str = "any";
pub(crate) const NOT_SAWN: &str = "Not sawn";
pub(crate) const WALK: &str = "Step by step";
pub(crate) const ALL: &str = "Show all";
pub(crate) const BACK: &str = "Back";
pub(crate) const NEXT: &str = "Next";
pub(crate) const SAVE: &str = "Save the marks";
pub(crate) const SAVE_SAYS: &str = "Marks stay on this device. Saved, they are a file that `pithward tally JOB read FILE` adds \
     to the tally.";
pub(crate) const PRINT: &str = "Print";
pub(crate) const TOP: &str = "All logs";
pub(crate) const END: &str = "Small end, with all cuts and pieces; ringed numbers are the passes";
pub(crate) const LIES: &str = "How it lies at the small end, with the passes of this step";
pub(crate) const SIDE: &str = "From the side, the small end at the left";
pub(crate) const EDGE: &str = "On edge from the open side, the small end at the left";
pub(crate) const HATCHED: &str = "Hatched is waste, black is sawdust, broken lines are pieces that do not reach the small end; the \
     outer broken circle is the butt.";
pub(crate) const AT: &str = "blade at";
pub(crate) const DROP: &str = "drop";
pub(crate) const COMES_OFF: &str = "what comes off";

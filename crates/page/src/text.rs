//! What the page says that no card and no paper says: all of it in one place.

pub(crate) const SUMMARY: &str = "What comes out";
pub(crate) const ORDER: &str = "Order of sawing";
pub(crate) const ON_THIS_PAGE: &str = "On this page";
pub(crate) const PAPERS: &str = "Papers";
pub(crate) const MARKS: &str = "Marks";
pub(crate) const WANT: &str = "want";
pub(crate) const WANTED: &str = "wanted";
pub(crate) const COMES: &str = "comes";
pub(crate) const STILL: &str = "short";
pub(crate) const ANY: &str = "any";
pub(crate) const NOT_SAWN: &str = "Not sawn";
pub(crate) const LOG: &str = "Log";
pub(crate) const WALK: &str = "Step by step";
pub(crate) const ALL: &str = "All steps";
pub(crate) const BACK: &str = "Back";
pub(crate) const NEXT: &str = "Next";
pub(crate) const SAVE: &str = "Save the marks";
pub(crate) const SAVE_SAYS: &str = "Marks stay on this device. Saved, they are a file that `pithward tally JOB read FILE` adds \
     to the tally.";
pub(crate) const PRINT: &str = "Print";
pub(crate) const CARDS: &str = "List, order and the cards of all logs";
/// What the sheets on top of the cards are called, at their heads.
pub(crate) const FRONT_NAME: &str = "List and order";
pub(crate) const NO_SITE: &str = "Logs to be sawn";
pub(crate) const FRONT: &str = "List and order alone";
pub(crate) const PRINTED: &str = "What is open is what is printed, here all cards. A log alone is printed from its own view. Sheets are \
     A4 or Letter, black on white.";
pub(crate) const TO_JOB: &str = "All logs";
pub(crate) const END: &str = "Small end, with all cuts and pieces; ringed numbers are the passes";
pub(crate) const LIES: &str = "How it lies at the small end, with its passes";
pub(crate) const SIDE: &str = "From the side, the small end at the left";
pub(crate) const EDGE: &str = "On edge from the open side, the small end at the left";
pub(crate) const FLAT: &str =
    "Flat, from above, the edger's cuts, and dotted where it is cut to length";
pub(crate) const TURNS: &str = "What is on the mill after each turn; the thickest lines are the faces that were sawn just before";
pub(crate) const FIRST: &str = "as laid";
pub(crate) const PUT_BACK: &str = "put back";
pub(crate) const MADE: &str = "made";
pub(crate) const HATCHED: &str = "Ringed numbers are the passes. Hatched is waste, black is sawdust; a piece in broken lines does not reach \
     the small end; the outer broken circle is the butt.";
pub(crate) const AT: &str = "blade at";
pub(crate) const DROP: &str = "drop";
pub(crate) const COMES_OFF: &str = "what comes off";
pub(crate) const CAUTION: &str = "Caution.";
pub(crate) const RANGE: &str = "low to high";
pub(crate) const RANGES: &str = "Each range is drawn on a scale of its own that begins at nothing: the bar goes from low to high, the ring is likely, \
     the diamond planned.";
/// A name or a number takes the place of the braces.
pub(crate) const GO_ON: &str = "Go on with log {}";
pub(crate) const BEGIN: &str = "Begin with log {}";
pub(crate) const ALL_DONE: &str = "All logs are marked";
pub(crate) const OF: &str = "{} of {}";
pub(crate) const STEP_OF: &str = "step {} of {}";
pub(crate) const NEXT_LOG: &str = "Log {}";

pub(crate) const QUOTE: &str = "Quote";
pub(crate) const CUSTOMER: &str = "Customer's sheet";
pub(crate) const TERMS: &str = "Terms";
pub(crate) const PACK: &str = "To take along";
pub(crate) const WORK_ORDER: &str = "Work order";
pub(crate) const BILL: &str = "Bill";

/// `1 sheet`, `3 sheets`.
pub(crate) fn sheets(count: usize) -> String {
    match count {
        1 => "1 sheet".to_owned(),
        count => format!("{count} sheets"),
    }
}

/// `turn 90`.
pub(crate) fn turned(degrees: i32) -> String {
    // The shorter way round.
    let by = if degrees > 180 { 360 - degrees } else { degrees };
    format!("turn {by}")
}

/// `1 pass`, `3 passes`.
pub(crate) fn passes(count: usize) -> String {
    match count {
        1 => "1 pass".to_owned(),
        count => format!("{count} passes"),
    }
}

/// Which sheet of how many.
pub(crate) fn sheet_of(number: usize, count: usize) -> String {
    format!("sheet {number} of {count}")
}

/// A log's place in the order.
pub(crate) fn number_of(number: usize, count: usize) -> String {
    format!("number {number} of {count}")
}

/// The picture of a range, for whoever cannot see it.
pub(crate) fn range_of(what: &str) -> String {
    format!("{what}: the range of this row")
}

/// With a capital at its head.
pub(crate) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

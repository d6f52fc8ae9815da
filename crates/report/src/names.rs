//! How a length, a want, a piece, a part and a method are called on paper.

use crate::terms::Terms;
use pithward_geometry::{Angle, Log, PartId};
use pithward_job::{LogJob, clock_words};
use pithward_measure::{Length, Scale, Size, board_feet_micro};
use pithward_optimizer::{LogPlan, Method, Product, Taper, WantId};
use pithward_trade::{CubicFeet, Species, Wane, WaneLimit};

pub(crate) const CUBIC_INCHES_PER_CUBIC_FOOT: f64 = 1728.0;

/// More accepted lengths than this are said as a range.
const FEW_LENGTHS: usize = 4;

/// A length on the mill's scale, with its unit.
pub(crate) fn height(job: &impl Terms, length: Length) -> String {
    job.scale().show(length).to_string()
}

/// A length that was given or computed, exactly where a tape has marks that fine; in decimals else.
pub(crate) fn exact(job: &impl Terms, length: Length) -> String {
    marked(job, length).unwrap_or_else(|| decimal(job, length))
}

/// A diameter of a log: exactly where a tape has marks that fine, else, with the bark taken off by a share or as a scan has
/// it, to the mark of the mill's scale.
pub(crate) fn diameter(job: &impl Terms, length: Length) -> String {
    marked(job, length).unwrap_or_else(|| height(job, length))
}

/// A length that is a mark of some tape.
fn marked(job: &impl Terms, length: Length) -> Option<String> {
    let metric = job.scale().is_metric();
    Scale::ALL
        .into_iter()
        .filter(|scale| scale.is_metric() == metric && scale.step() <= Length::mm(2))
        .find(|scale| length.round_to(scale.step()) == length)
        .map(|scale| scale.show(length).to_string())
}

/// A length that is no mark of a tape, in decimals.
pub(crate) fn decimal(job: &impl Terms, length: Length) -> String {
    let (figure, unit) =
        if job.scale().is_metric() { (length.mm_f64(), "mm") } else { (length.inches_f64(), "in") };
    let digits = format!("{figure:.3}");
    format!("{} {unit}", digits.trim_end_matches('0').trim_end_matches('.'))
}

/// A length along the log: feet and inches, or metres.
pub(crate) fn long(job: &impl Terms, length: Length) -> String {
    job.scale().show_long(length).to_string()
}

/// A width to look for with a tape: no finer than a person can read on bark and sawdust.
pub(crate) fn width(job: &impl Terms, inches: f64) -> String {
    let scale = if job.scale().is_metric() { Scale::Millimetres } else { Scale::Eighths };
    scale.show(Length::from_inches_f64(inches)).to_string()
}

/// A direction to the nearest half hour of the clock.
pub(crate) fn half_hour(direction: Angle) -> String {
    clock_words(nearest_half_hour(direction))
}

/// The nearest half hour, at least 12 and less than 12 again.
pub(crate) fn nearest_half_hour(direction: Angle) -> Angle {
    const HALF_HOUR: i32 = 15_000;
    let hours = (direction.as_millidegrees() + HALF_HOUR / 2).div_euclid(HALF_HOUR);
    Angle::millidegrees((hours * HALF_HOUR).rem_euclid(360_000))
}

/// Millionths to one decimal, `236` or `236.5`.
pub(crate) fn tenths(millionths: i64) -> String {
    let tenths = (i128::from(millionths) + 50_000).div_euclid(100_000);
    match tenths % 10 {
        0 => format!("{}", tenths / 10),
        over => format!("{}.{over}", tenths / 10),
    }
}

/// The same, rounded up: what is promised not to be passed.
pub(crate) fn tenths_up(millionths: i64) -> String {
    tenths(millionths.saturating_add(49_999))
}

/// Millionths exactly, without zeros at the end: `1.25`.
pub(crate) fn figure(millionths: i64) -> String {
    let sign = if millionths < 0 { "-" } else { "" };
    let (whole, part) =
        (millionths.unsigned_abs() / 1_000_000, millionths.unsigned_abs() % 1_000_000);
    let digits = format!("{sign}{whole}.{part:06}");
    digits.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Worth in its unit, to a tenth: `236.5 board feet`.
pub(crate) fn amount(millionths: i64, unit: &str) -> String {
    format!("{} {unit}", tenths(millionths))
}

/// A small number as a word.
pub(crate) fn number(n: u32) -> String {
    const WORDS: [&str; 13] = [
        "none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    let word = usize::try_from(n).ok().and_then(|n| WORDS.get(n));
    word.map_or_else(|| n.to_string(), |word| (*word).to_owned())
}

/// A volume of solid wood, given in cubic inches.
pub(crate) fn solid(job: &impl Terms, cubic_inches: f64) -> String {
    let volume = CubicFeet::new(cubic_inches / CUBIC_INCHES_PER_CUBIC_FOOT);
    if job.scale().is_metric() {
        format!("{:.2} m3", volume.cubic_metres())
    } else {
        format!("{:.0} cubic feet", volume.get())
    }
}

/// A share, in whole percent.
pub(crate) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// `one`, `2 and 3`, `2, 3 and 6`.
pub(crate) fn list<S: AsRef<str>>(names: &[S]) -> String {
    match names {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", most.join(", "), last.as_ref())
        }
    }
}

/// A count and a noun: `1 pass`, `3 passes`.
pub(crate) fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The species as it is spoken of, `white oak`; the tables name the genus first.
pub(crate) fn species(species: &Species) -> String {
    let Some((genus, which)) = species.name.split_once(", ") else {
        return species.name.to_lowercase();
    };
    // A person's name keeps its capital.
    let genus = if genus.starts_with("Douglas") { genus.to_owned() } else { genus.to_lowercase() };
    if which.ends_with(&genus) { which.to_owned() } else { format!("{which} {genus}") }
}

/// Woods in a sentence: `white oak or red oak`.
pub(crate) fn woods(woods: &[&'static Species]) -> String {
    let names: Vec<String> = woods.iter().map(|wood| species(wood)).collect();
    list(&names).replace(" and ", " or ")
}

/// The log's size in words.
pub(crate) fn log(job: &impl Terms, log: &Log) -> String {
    let [small, butt] = [log.small_end(), log.butt()].map(|end| diameter(job, end));
    format!("{small} small end, {butt} butt, {} long", long(job, log.length()))
}

/// A want in a sentence: `2x6x12`, or `2x6` where more than one length serves it.
pub(crate) fn want(job: &impl Terms, id: WantId) -> String {
    match job.named(id) {
        Some((size, lengths)) => {
            let which = job.which(id).map_or(String::new(), |which| format!(" ({which})"));
            sized(size, lengths) + &which
        }
        None => format!("want {}", id.0 + 1),
    }
}

/// A size with its length where it has only one.
pub(crate) fn sized(size: Size, lengths: &[Length]) -> String {
    match lengths {
        [one] => Size { length: Some(*one), ..size }.to_string(),
        _ => size.to_string(),
    }
}

/// A want with its lengths, as a table names its row: `2x6, 8 ft to 16 ft`.
pub(crate) fn want_row(job: &impl Terms, id: WantId) -> String {
    let name = want(job, id);
    match job.named(id).map_or(&[][..], |(_, lengths)| lengths) {
        [] | [_] => name,
        [shortest, between @ .., longest] if between.len() + 2 > FEW_LENGTHS => {
            format!("{name}, {} to {}", long(job, *shortest), long(job, *longest))
        }
        lengths => {
            let lengths: Vec<String> = lengths.iter().map(|length| long(job, *length)).collect();
            format!("{name}, {}", list(&lengths).replace(" and ", " or "))
        }
    }
}

/// What a finished piece is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Named {
    /// Want that it serves.
    pub(crate) want: usize,
    /// Its named size, width and length filled in.
    pub(crate) size: Size,
}

impl Named {
    /// Board feet by its named size, millionths.
    pub(crate) fn board_feet(&self) -> i64 {
        let length = self.size.length.unwrap_or(Length::ZERO);
        board_feet_micro(self.size.thickness, self.size.width.least(), length)
    }

    /// Its named size as a volume, for those who do not count in board feet.
    pub(crate) fn cubic_metres(&self) -> f64 {
        let length = self.size.length.unwrap_or(Length::ZERO);
        let sides = [self.size.thickness, self.size.width.least(), length];
        sides.iter().map(|side| side.mm_f64() / 1000.0).product()
    }
}

/// The name of one piece.
pub(crate) fn piece(job: &LogJob, product: &Product) -> Option<Named> {
    let size = job.named_size(product.cut)?;
    Some(Named { want: product.cut.want.0, size })
}

/// Every piece of a plan, named; in the order's own order.
pub(crate) fn pieces(job: &LogJob, plan: &LogPlan) -> Vec<Option<Named>> {
    plan.products.iter().map(|product| piece(job, product)).collect()
}

/// Pieces in the order of the list, the longest first.
pub(crate) fn by_want(pieces: impl IntoIterator<Item = Named>) -> Vec<Named> {
    let mut pieces: Vec<Named> = pieces.into_iter().collect();
    pieces.sort_by_key(|piece| (piece.want, std::cmp::Reverse(*piece)));
    pieces
}

/// Sizes in words, alike together: `2x8x12 + 2 of 1x4x8`.
pub(crate) fn sizes(named: impl IntoIterator<Item = Named>) -> String {
    let mut counts: Vec<(Size, usize)> = Vec::new();
    for piece in named {
        match counts.iter_mut().find(|(size, _)| *size == piece.size) {
            Some((_, n)) => *n += 1,
            None => counts.push((piece.size, 1)),
        }
    }
    let words = counts.iter().map(|(size, n)| match n {
        1 => size.to_string(),
        n => format!("{n} of {size}"),
    });
    words.collect::<Vec<_>>().join(" + ")
}

/// Passes in words: `3, 5 to 8 and the last on the bed`; a part with two such strips is said once.
pub(crate) fn numbers(parts: &[PartId]) -> String {
    let mut parts = parts.to_vec();
    parts.sort_unstable();
    parts.dedup();
    let mut names: Vec<String> = Vec::new();
    let mut run: Option<(u32, u32)> = None;
    let close = |run: &mut Option<(u32, u32)>, names: &mut Vec<String>| match run.take() {
        Some((from, to)) if to > from + 1 => names.push(format!("{from} to {to}")),
        Some((from, to)) => names.extend((from..=to).map(|n| n.to_string())),
        None => {}
    };
    let mut last = false;
    for part in parts {
        let PartId::Freed(n) = part else {
            last = true;
            continue;
        };
        match &mut run {
            Some((_, to)) if *to + 1 == n => *to = n,
            _ => {
                close(&mut run, &mut names);
                run = Some((n, n));
            }
        }
    }
    close(&mut run, &mut names);
    if last {
        names.push("the last on the bed".to_owned());
    }
    list(&names)
}

/// How much wane a want allows.
pub(crate) fn wane_limit(job: &impl Terms, limit: WaneLimit) -> String {
    match limit {
        WaneLimit::Legs(Length::ZERO) => "no wane".to_owned(),
        WaneLimit::Legs(leg) => format!("wane up to {} on a corner", exact(job, leg)),
        WaneLimit::Share { numerator, denominator } => {
            format!("wane up to {numerator}/{denominator} of thickness and of width on a corner")
        }
    }
}

/// Legs of wane in words.
pub(crate) fn wane(job: &impl Terms, wane: Wane) -> String {
    if wane.thickness == wane.width {
        return format!("{} of wane", exact(job, wane.width));
    }
    let (thickness, width) = (exact(job, wane.thickness), exact(job, wane.width));
    format!("wane of {thickness} by the thickness and {width} by the width")
}

/// A method in the lines of a table's heading.
pub(crate) fn method_head(method: Method) -> &'static [&'static str] {
    match method {
        Method::Through => &["through", "and", "through"],
        Method::ThroughTurned => &["through", "and", "through,", "turned"],
        Method::TwoSidedCant => &["two-", "sided", "cant"],
        Method::FourSidedCant => &["four-", "sided", "cant"],
        Method::BoxedHeart => &["boxed", "heart"],
        Method::Around => &["around"],
        Method::Quarter => &["quarter", "sawing"],
    }
}

/// What was searched, in words: methods, and the ways to lay a round log where there are several.
pub(crate) fn searched(searched: &[Method], taper: Taper) -> String {
    let methods = methods(searched);
    match taper {
        Taper::Level => methods,
        Taper::Searched => format!("{methods}; round logs level and along the bark"),
    }
}

/// Methods in words.
pub(crate) fn methods(methods: &[Method]) -> String {
    let both = [Method::Through, Method::ThroughTurned].iter().all(|m| methods.contains(m));
    let names: Vec<String> = methods
        .iter()
        .filter(|method| !both || **method != Method::ThroughTurned)
        .map(|method| match method {
            Method::Through if both => "through and through with or without a turn".to_owned(),
            // A comma inside a name would read as the next method.
            method => method.name().replace(", ", " "),
        })
        .collect();
    list(&names)
}

/// Methods in words, with what a proof of them does not look at.
pub(crate) fn spoken_for(methods: &[Method]) -> String {
    let names = self::methods(methods);
    if methods.contains(&Method::Quarter) {
        format!(
            "{names} (in quarters pairs of boards of one thickness, about the pith packs of one)"
        )
    } else {
        names
    }
}

/// A word with a capital.
pub(crate) fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_rounded_the_way_they_are_meant() {
        assert_eq!((tenths(236_000_000).as_str(), tenths(236_450_000).as_str()), ("236", "236.5"));
        assert_eq!(tenths(236_449_999), "236.4");
        assert_eq!(tenths_up(236_400_001), "236.5");
        assert_eq!(tenths_up(236_400_000), "236.4");
    }

    #[test]
    fn lists_are_spoken() {
        assert_eq!(list(&["2"]), "2");
        assert_eq!(list(&["2", "3"]), "2 and 3");
        assert_eq!(list(&["2", "3", "6"]), "2, 3 and 6");
        assert_eq!(list::<&str>(&[]), "");
    }

    #[test]
    fn every_method_has_a_heading_that_fits_a_column() {
        for method in Method::ALL {
            assert!(method_head(method).iter().all(|line| line.len() <= 8));
        }
    }

    #[test]
    fn runs_of_passes_are_said_short() {
        let parts = [3, 5, 6, 7, 9, 10].map(PartId::Freed);
        assert_eq!(numbers(&parts), "3, 5 to 7, 9 and 10");
        assert_eq!(numbers(&[PartId::Left, PartId::Freed(2)]), "2 and the last on the bed");
    }
}

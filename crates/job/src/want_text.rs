//! One want as a person types it.
//!
//! ```text
//! want   = size [ "=" count [ "+" ] ] { "," option }
//! option = "wane=" ( length | share ) | "lengths=" length { "/" length }
//!        | "heart=" ( "boxed" | "free" | "any" ) | "centred=" length | "clear=" length
//!        | "tolerates=" kind { "/" kind } | "grade=" grade | "rings=" class { "/" class }
//! ```
//! | typed | means |
//! |---|---|
//! | `2x8x12=6` | six |
//! | `2x8x12=6+` | six, and more are welcome |
//! | `1x6` | as many as come |
//! | `2x6x12=8,wane=1/2 in` | with up to 1/2 in of wood missing at a corner |
//! | `2x6x12=8,wane=1/3` | with up to a third of the thickness and of the width missing |
//! | `2x6=8,lengths=8/10/12` | in any of these lengths |
//! | `6x6x8=4,heart=boxed` | with the pith inside each |
//! | `6x6x8=4,heart=boxed,centred=1/2 in` | with the pith within 1/2 in of the middle |
//! | `2x6x12=8,heart=free` | without the pith; `clear=1/2 in` keeps farther away from it |
//! | `1x6,tolerates=stain/split` | stain and splits may be in it |
//! | `4/4x6up,grade=1 common` | expected to grade No. 1 Common or better |
//! | `4/4x6up,rings=rift/quarter` | rift or quarter sawn |
//!
//! A share is a bare fraction and a length has a unit, so neither is taken for the other.

use std::borrow::Cow;
use std::ops::Range;

use pithward_geometry::FlawKinds;
use pithward_measure::{Excerpt, Length, Size, Unit, Writing};
use pithward_trade::{Grade, RingClass, WaneFault, WaneLimit, nearest_word};

use crate::fault::{Fault, FaultKind, Misread};
use crate::flaw_text::tolerated;
use crate::grade_text::{grade, rings};
use crate::heart_text::{HeartRule, heart};
use crate::length_list;
use crate::place::Place;
use crate::typed::Typed;

/// The most pieces of one size that can be asked for; more is a slip of the pen.
pub const MOST_PIECES: u32 = 10_000;

const OPTIONS: [&str; 8] =
    ["wane", "lengths", "heart", "centred", "clear", "tolerates", "grade", "rings"];

/// What to write for a size.
pub(crate) const SIZE_HELP: &str =
    "write thickness x width x length, as in 2x6x12, 1x6, 4/4x6up or 50x150x3000 mm";
const COUNT_HELP: &str = "write how many, as in 2x8x12=6, or 2x8x12=6+ where more are welcome, or no = for as many as come";
const WANE_HELP: &str =
    "write how much wood may be missing at a corner, as in wane=1/2 in, or a share as in wane=1/3";

/// One want as it was typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WantText {
    /// The size.
    pub size: Size,
    /// How many; `None` for as many as come.
    pub count: Option<u32>,
    /// More than the count is welcome.
    pub more_welcome: bool,
    /// Wood that may be missing at a corner; none where nothing is said.
    pub wane: WaneLimit,
    /// Lengths that are accepted, shortest first; `None` where nothing is said.
    pub lengths: Option<Vec<Length>>,
    /// Where the pith may be; `None` where nothing is said.
    pub heart: Option<HeartRule>,
    /// Flaws that a piece may hold; `None` where nothing is said.
    pub tolerates: Option<FlawKinds>,
    /// The poorest expected grade that is accepted; any where nothing is said.
    pub grade: Option<Grade>,
    /// Classes of rings that are accepted; all where nothing is said.
    pub rings: Vec<RingClass>,
}

impl WantText {
    /// Reads one want.
    ///
    /// # Errors
    /// Every fault of it, in the order in which they stand.
    ///
    /// ```
    /// let want = pithward_job::WantText::parse("2x8x12=6+,wane=1/2 in").unwrap();
    /// assert_eq!((want.count, want.more_welcome), (Some(6), true));
    /// ```
    pub fn parse(text: &str) -> Result<Self, Vec<Misread>> {
        let mut faults = Vec::new();
        let mut parts = split(text, ',');
        let head = parts.next().unwrap_or(0..0);
        let (size_at, count_at) = match text[head.clone()].find('=') {
            Some(at) => (head.start..head.start + at, Some(head.start + at + 1..head.end)),
            None => (head, None),
        };
        let size = keep(read_size(text, size_at.clone()), &mut faults);
        let (count, more_welcome) = count_at
            .and_then(|at| keep(read_count(text, at), &mut faults))
            .map_or((None, false), |(count, more)| (Some(count), more));
        let metric = size.is_some_and(|size| size.writing == Writing::Metric);
        let (mut wane, mut lengths) = (None, None);
        let whole = Typed::new("want", Some(text.to_owned()));
        let none = || Typed::new("want", None);
        let (mut word, mut centred, mut clear, mut flaws) = (none(), none(), none(), none());
        let (mut least, mut classes) = (none(), none());
        for part in parts {
            let (name, value) = match text[part.clone()].find('=') {
                Some(at) => (part.start..part.start + at, part.start + at + 1..part.end),
                None => (part.clone(), part.end..part.end),
            };
            match text[name.clone()].trim() {
                "wane" if wane.is_none() => {
                    wane = Some(keep(read_wane(text, value), &mut faults));
                }
                "lengths" if lengths.is_none() => {
                    let bare = if metric { Unit::Millimetre } else { Unit::Foot };
                    lengths = Some(keep(read_lengths(text, value, bare), &mut faults));
                }
                "heart" if !word.is_given() => word = whole.part(trimmed(text, value)),
                "centred" if !centred.is_given() => centred = whole.part(trimmed(text, value)),
                "clear" if !clear.is_given() => clear = whole.part(trimmed(text, value)),
                "tolerates" if !flaws.is_given() => flaws = whole.part(trimmed(text, value)),
                "grade" if !least.is_given() => least = whole.part(trimmed(text, value)),
                "rings" if !classes.is_given() => classes = whole.part(trimmed(text, value)),
                known if OPTIONS.contains(&known) => {
                    let kind = FaultKind::Repeated { what: Excerpt::new(known) };
                    faults.push(Misread::new(kind, part, "say it once"));
                }
                other => faults.push(unknown_option(other, trimmed(text, name))),
            }
        }
        let mut found = Vec::new();
        let heart = heart(&word, &centred, &clear, &mut found);
        let tolerates = flaws.is_given().then(|| tolerated(&flaws, FlawKinds::NONE, &mut found));
        let grade = least.read(&mut found, grade);
        let mut of_rings = Vec::new();
        if classes.is_given() {
            rings(&classes, &mut of_rings, &mut found);
        }
        faults.extend(found.into_iter().map(misread));
        if let (Some(size), Some(Some(_))) = (size, &lengths)
            && size.length.is_some()
        {
            let size = Excerpt::new(&text[size_at.clone()]);
            let help =
                "name the length in the size, or leave it out and list lengths= that are accepted";
            faults.push(Misread::new(
                FaultKind::LengthTwice { size },
                trimmed(text, size_at),
                help,
            ));
        }
        let (Some(size), true) = (size, faults.is_empty()) else { return Err(faults) };
        let wane = wane.flatten().unwrap_or(WaneLimit::Legs(Length::ZERO));
        let lengths = lengths.flatten();
        let rings = of_rings;
        Ok(Self { size, count, more_welcome, wane, lengths, heart, tolerates, grade, rings })
    }
}

/// A fault of a part of the text, before it is known which field that is.
fn misread(fault: Fault) -> Misread {
    let span = match fault.place {
        Place::Value { span, .. } => span,
        Place::Nowhere | Place::File(_) => 0..0,
    };
    Misread { kind: fault.kind, span, help: fault.help }
}

/// The value of what could be read; its fault goes to the others.
fn keep<T>(read: Result<T, Misread>, faults: &mut Vec<Misread>) -> Option<T> {
    read.map_err(|fault| faults.push(fault)).ok()
}

/// The bytes of each part between separators.
fn split(text: &str, separator: char) -> impl Iterator<Item = Range<usize>> {
    let mut from = 0;
    text.split(separator).map(move |part| {
        let at = from..from + part.len();
        from = at.end + separator.len_utf8();
        at
    })
}

/// The same bytes without the blanks around them.
fn trimmed(text: &str, at: Range<usize>) -> Range<usize> {
    let part = &text[at.clone()];
    let start = at.start + part.len() - part.trim_start().len();
    start..start + part.trim().len()
}

/// The bytes of the whole text that a fault inside a part of it means.
fn inside(part: &Range<usize>, inner: Option<Range<usize>>) -> Range<usize> {
    match inner {
        Some(inner) if !inner.is_empty() => part.start + inner.start..part.start + inner.end,
        _ => part.clone(),
    }
}

/// Reads the size in a part of a text.
pub(crate) fn read_size(text: &str, at: Range<usize>) -> Result<Size, Misread> {
    Size::parse(&text[at.clone()])
        .map_err(|fault| Misread::new(fault.clone(), inside(&at, fault.span()), SIZE_HELP))
}

fn read_count(text: &str, at: Range<usize>) -> Result<(u32, bool), Misread> {
    let at = trimmed(text, at);
    let typed = &text[at.clone()];
    let (digits, more) = match typed.strip_suffix('+') {
        Some(digits) => (digits.trim_end(), true),
        None => (typed, false),
    };
    let whole = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    match digits.parse() {
        Ok(count) if whole && (1..=MOST_PIECES).contains(&count) => Ok((count, more)),
        _ => {
            let got = Excerpt::new(typed);
            let kind = FaultKind::Count { least: 1, greatest: MOST_PIECES, got };
            Err(Misread::new(kind, at, COUNT_HELP))
        }
    }
}

/// Reads the limit on wane in a part of a text.
pub(crate) fn read_wane(text: &str, at: Range<usize>) -> Result<WaneLimit, Misread> {
    let at = trimmed(text, at);
    let typed = &text[at.clone()];
    let refuse = |kind: FaultKind, at: Range<usize>| Misread::new(kind, at, WANE_HELP);
    let no_wane = || refuse(FaultKind::NoWane { got: Excerpt::new(typed) }, at.clone());
    if typed.is_empty() {
        return Err(no_wane());
    }
    if let Some((numerator, denominator)) = share(typed) {
        if u64::from(numerator) * 2 >= u64::from(denominator) {
            let fault = WaneFault::Share { numerator, denominator };
            return Err(refuse(fault.into(), at.clone()));
        }
        return Ok(WaneLimit::Share { numerator, denominator });
    }
    let leg = Length::parse(typed, Unit::Inch)
        .map_err(|fault| refuse(fault.clone().into(), inside(&at, fault.span())))?;
    if leg < Length::ZERO {
        return Err(refuse(WaneFault::Negative { got: leg }.into(), at.clone()));
    }
    if Length::parse(typed, Unit::Metre) != Ok(leg) {
        return Err(no_wane());
    }
    Ok(WaneLimit::Legs(leg))
}

/// A bare fraction: digits, a stroke, digits.
fn share(typed: &str) -> Option<(u32, u32)> {
    let (numerator, denominator) = typed.split_once('/')?;
    let number = |digits: &str| digits.trim().parse().ok();
    Some((number(numerator)?, number(denominator)?))
}

fn read_lengths(text: &str, at: Range<usize>, bare: Unit) -> Result<Vec<Length>, Misread> {
    length_list::read(&text[at.clone()], bare).map_err(|fault| {
        let span = inside(&trimmed(text, at.clone()), None);
        let span = if fault.span.is_empty() { span } else { inside(&at, Some(fault.span)) };
        Misread { span, ..fault }
    })
}

fn unknown_option(name: &str, at: Range<usize>) -> Misread {
    let nearest = nearest_word(name, &OPTIONS);
    let got = Excerpt::new(name);
    let help: Cow<'static, str> =
        "behind the size there may be ,wane=1/2 in ,lengths=8/10/12 ,heart=boxed ,centred=1/2 in ,clear=1/2 in ,tolerates=stain ,grade=1 common and ,rings=quarter".into();
    Misread::new(FaultKind::Unknown { what: "part of a want", got, nearest }, at, help)
}

#[cfg(test)]
mod tests {
    use super::{HeartRule, MOST_PIECES, WantText};
    use pithward_geometry::{FlawKind, FlawKinds};
    use pithward_measure::{Length, Size};
    use pithward_trade::{Grade, RingClass, WaneLimit};
    use proptest::prelude::*;

    fn plain(size: &str) -> WantText {
        let wane = WaneLimit::Legs(Length::ZERO);
        let size = Size::parse(size).unwrap();
        WantText {
            size,
            count: None,
            more_welcome: false,
            wane,
            lengths: None,
            heart: None,
            tolerates: None,
            grade: None,
            rings: Vec::new(),
        }
    }

    #[track_caller]
    fn check(text: &str, expected: &WantText) {
        assert_eq!(&WantText::parse(text).unwrap(), expected);
    }

    /// Every fault: what is pointed at, and a part of what is said.
    #[track_caller]
    fn check_faults(text: &str, expected: &[(&str, &str)]) {
        let faults = WantText::parse(text).unwrap_err();
        assert_eq!(faults.len(), expected.len(), "{faults:?}");
        for (fault, (at, said)) in faults.iter().zip(expected) {
            assert_eq!(&text[fault.span.clone()], *at, "{}", fault.kind);
            assert!(fault.kind.to_string().contains(said), "{}", fault.kind);
            assert!(!fault.help.is_empty());
        }
    }

    #[test]
    fn wants_as_people_type_them() {
        check("1x6", &plain("1x6"));
        check(" 4/4x6up ", &plain("4/4x6up"));
        check("2x8x12=6", &WantText { count: Some(6), ..plain("2x8x12") });
        check("2x8x12 = 6 +", &WantText { count: Some(6), more_welcome: true, ..plain("2x8x12") });
        let wane = WaneLimit::Legs(Length::sixty_fourths(32));
        for text in ["1x6,wane=1/2in", "1x6, wane = 1/2 in", "1x6,wane=½\""] {
            check(text, &WantText { wane, ..plain("1x6") });
        }
        let wane = WaneLimit::Share { numerator: 1, denominator: 3 };
        check("1x6,wane=1/3", &WantText { wane, ..plain("1x6") });
        let lengths = Some([8, 10, 12].map(Length::feet).to_vec());
        check("2x6=8,lengths=8/10/12", &WantText { count: Some(8), lengths, ..plain("2x6") });
        let lengths = Some(vec![Length::mm(2400), Length::mm(3000)]);
        for text in ["50x150 mm,lengths=2400/3000", "50x150 mm,lengths=2.4/3 m"] {
            check(text, &WantText { lengths: lengths.clone(), ..plain("50x150 mm") });
        }
    }

    #[test]
    fn the_grade_and_the_rings_of_a_want() {
        let grade = Some(Grade::No1Common);
        check("4/4x6up,grade=No. 1 Common", &WantText { grade, ..plain("4/4x6up") });
        let rings = vec![RingClass::Rift, RingClass::Quarter];
        check("4/4x6up, rings = rift/quarter", &WantText { rings, ..plain("4/4x6up") });
        check_faults("4/4x6up,grade=1 comon", &[("1 comon", "perhaps 1 common?")]);
        check_faults("4/4x6up,rings=rift/rift", &[("rift", "\"rift\" is said twice")]);
        check_faults("4/4x6up,rings=", &[("", "\"\" is no class of rings")]);
        check_faults("1x6,grade=fas,grade=fas", &[("grade=fas", "\"grade\" is said twice")]);
    }

    #[test]
    fn the_pith_and_flaws_of_a_want() {
        let inch = Length::inches(1);
        let with = |heart| WantText { heart: Some(heart), ..plain("6x6x8") };
        check("6x6x8,heart=boxed", &with(HeartRule::Boxed { within: None }));
        check("6x6x8, heart = Boxed, centred=1", &with(HeartRule::Boxed { within: Some(inch) }));
        check("6x6x8,heart=free", &with(HeartRule::Free { clear: Length::sixty_fourths(8) }));
        check("6x6x8,clear=1 in,heart=free", &with(HeartRule::Free { clear: inch }));
        check("6x6x8,heart=any", &with(HeartRule::Any));
        let tolerates = Some(FlawKinds::NONE.with(FlawKind::Stain).with(FlawKind::Rot));
        check("6x6x8,tolerates=rot/stain", &WantText { tolerates, ..plain("6x6x8") });
        check_faults("6x6x8,heart=box", &[("box", "\"box\" is no rule on the heart")]);
        check_faults("6x6x8,heart=boxed,heart=free", &[("heart=free", "\"heart\" is said twice")]);
        check_faults("6x6x8,heart=free,centred=1/2 in", &[("1/2 in", "is only for boxed heart")]);
        check_faults("6x6x8,clear=1/2 in", &[("1/2 in", "is only for free heart")]);
        check_faults("6x6x8,heart=boxed,centred=40 in", &[("40 in", "between 0 in and 12 in")]);
        check_faults("6x6x8,heart=free,clear=1/16 in", &[("1/16 in", "between 1/8 in and 12 in")]);
        check_faults("6x6x8,tolerates=metal", &[("metal", "is tolerated in no piece")]);
        check_faults("6x6x8,tolerates=rot / rot", &[("rot", "is said twice")]);
        check_faults(
            "6x6x8,tolerates=knots/stainn",
            &[("knots", "is no kind of flaw"), ("stainn", "perhaps stain?")],
        );
    }

    #[test]
    fn every_fault_of_a_want_is_pointed_at() {
        check_faults("", &[("", "a size is missing")]);
        check_faults("2x", &[("2x", "has no width")]);
        check_faults("=6", &[("", "a size is missing")]);
        check_faults("2x6=", &[("", "must be a whole number between 1 and 10000")]);
        check_faults("2x6=0", &[("0", "between 1 and 10000, got \"0\"")]);
        check_faults("2x6=-4", &[("-4", "got \"-4\"")]);
        check_faults("2x6=10001", &[("10001", "got \"10001\"")]);
        check_faults("2x6=+6", &[("+6", "got \"+6\"")]);
        check_faults("2x6=1.5", &[("1.5", "got \"1.5\"")]);
        check_faults("2x6,wane=1/2", &[("1/2", "under half of the piece, got 1/2")]);
        check_faults("2x6,wane=1", &[("1", "\"1\" is no limit on wane")]);
        check_faults("2x6,wane=-1 in", &[("-1 in", "must be 0 in or more")]);
        check_faults("2x6,wane", &[("", "is no limit on wane")]);
        check_faults("2x6,wane=1/4 in,wane=1/3", &[("wane=1/3", "said twice")]);
        check_faults("2x6,wan=1/4 in", &[("wan", "perhaps wane?")]);
        check_faults("2x6,", &[("", "is no part of a want")]);
        check_faults("2x6x12,lengths=8", &[("2x6x12", "has its length already")]);
        check_faults(
            "2xb=none,wane=lots,lengths=8/x",
            &[
                ("b", "the width in \"2xb\""),
                ("none", "got \"none\""),
                ("lots", "is no number"),
                ("x", "is no number"),
            ],
        );
    }

    fn nearly_a_want() -> impl Strategy<Value = String> {
        let parts = "2|6|12|x|=|+|,|wane|lengths|heart|boxed|centred|clear|tolerates|stain|metal|/|1/2|in| |mm|up|-|é|99999999999|\"|'";
        let parts: Vec<&str> = parts.split('|').collect();
        proptest::collection::vec(proptest::sample::select(parts), 0..14)
            .prop_map(|parts| parts.concat())
    }

    proptest! {
        #[test]
        fn prop_no_text_panics_and_every_span_is_in_it(
            text in prop_oneof![any::<String>(), nearly_a_want()],
        ) {
            match WantText::parse(&text) {
                Ok(want) => prop_assert!(want.count.is_none_or(|n| (1..=MOST_PIECES).contains(&n))),
                Err(faults) => {
                    prop_assert!(!faults.is_empty());
                    for fault in faults {
                        prop_assert!(text.get(fault.span).is_some());
                        prop_assert!(!fault.kind.to_string().is_empty() && !fault.help.is_empty());
                    }
                }
            }
        }
    }
}

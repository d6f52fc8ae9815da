//! What makes a log other than round, straight and sound, and what a want says of the pith and of flaws, in words.

use crate::names::{self, exact, long, width};
use crate::terms::Terms;
use pithward_geometry::{Across, Angle, End, Flaw, FlawKind, FlawKinds, Log, Looks, Taped};
use pithward_job::{HeartRule, Scanned, Told, clock_words};
use pithward_measure::Length;

/// An oval or a bow of less is not worth a word.
const LEAST: Length = Length::sixty_fourths(16);

/// What an end is taken for that was measured across twice, where nobody says which way the longer diameter lies; and
/// what would make it the oval that it is.
pub(crate) const BY_MEAN: &str = "measured across twice and taken as round, with the mean of the two, as nobody says \
                                  which way the longer one points: add that (long axis, an hour of the clock) and it \
                                  is sawn as the oval that it is";

/// Shape and flaws on one line; `None` of a log that is round, straight and sound.
pub(crate) fn words(job: &impl Terms, log: &Log, told: &Told) -> Option<String> {
    let said: Vec<String> = shape(job, log, told).into_iter().chain(flaws(told)).collect();
    (!said.is_empty()).then(|| said.join("; "))
}

/// Its shape, as it was told; as it looks where it was measured all round.
pub(crate) fn shape(job: &impl Terms, log: &Log, told: &Told) -> Vec<String> {
    match (&told.taped, log.looks()) {
        (Some(taped), _) => as_taped(job, taped),
        (None, Some(looks)) => as_measured(job, log, &looks, told),
        (None, None) => Vec::new(),
    }
}

/// From which file its shape is, and what was put right in it; `None` of a log that was taped.
pub(crate) fn scanned(told: &Told) -> Option<String> {
    let Scanned { file, repairs, .. } = told.scanned.as_ref()?;
    let done = if repairs.is_empty() {
        "nothing had to be put right".to_owned()
    } else {
        repairs.join("; ")
    };
    let of = if told.of_stem { "its stem, " } else { "" };
    Some(format!("{of}{file}: {done}"))
}

/// Its flaws, each as it was written.
pub(crate) fn flaws(told: &Told) -> impl Iterator<Item = String> {
    told.flaws.iter().map(|flaw| flaw.words.clone())
}

/// Whether a log is the same whichever side is up: round, straight and sound, and nothing was seen on one side of it.
pub(crate) fn any_side_up(log: &Log) -> bool {
    log.is_round() && log.defects().is_empty()
}

/// What stands out, in a word or two for a table; `None` of a log that is round, straight and sound.
pub(crate) fn short(job: &impl Terms, log: &Log, told: &Told) -> Option<String> {
    let mut said: Vec<String> = Vec::new();
    match (told.taped, log.looks()) {
        (Some(_), Some(looks)) => said.extend(outstanding(job, &looks)),
        (None, Some(looks)) => {
            said.extend(outstanding(job, &looks));
            if said.is_empty() && !told.of_stem {
                said.push("measured".to_owned());
            }
        }
        (_, None) => {}
    }
    if told.taped.is_some_and(|taped| taped.flare.is_some()) {
        said.push("flared".to_owned());
    }
    for kind in FlawKind::ALL {
        if log.flaws().iter().any(|flaw| flaw.kind == kind) {
            said.push(kind.name().to_owned());
        }
    }
    (!said.is_empty()).then(|| said.join(", "))
}

/// Its oval and its bow, where they are worth a word.
fn outstanding(job: &impl Terms, looks: &Looks) -> Vec<String> {
    let Looks { small_end, bow, .. } = looks;
    let mut said = Vec::new();
    if is_oval(small_end) {
        said.push(format!("oval {}", across(job, small_end)));
    }
    if bow.depth >= LEAST {
        said.push(format!("bowed {}", width(job, bow.depth.inches_f64())));
    }
    said
}

/// Whether an end is worth calling oval.
pub(crate) fn is_oval(end: &Across) -> bool {
    end.longer - end.shorter >= LEAST
}

/// Whether a log bows enough for its belly to be spoken of.
pub(crate) fn is_bowed(looks: &Looks) -> bool {
    looks.bow.depth >= LEAST
}

/// Two diameters at right angles, the unit once: `16 x 14 in`.
fn across(job: &impl Terms, end: &Across) -> String {
    let [longer, shorter] = [end.longer, end.shorter].map(|across| width(job, across.inches_f64()));
    let unit = longer.rsplit(' ').next().unwrap_or_default();
    let bare = longer.strip_suffix(unit).map_or(longer.as_str(), str::trim_end);
    format!("{bare} x {shorter}")
}

fn as_taped(job: &impl Terms, taped: &Taped) -> Vec<String> {
    let mut said = Vec::new();
    let ends = [(&taped.small, "small end"), (&taped.butt, "butt")];
    for (end, which) in ends {
        let End { longer, shorter, clock, .. } = end;
        if longer > shorter {
            let [longer, shorter] = [*longer, *shorter].map(|end| names::diameter(job, end));
            let toward = clock_words(*clock);
            said.push(format!("{which} {longer} by {shorter}, the longer toward {toward}"));
        }
    }
    let off_butt = |at: Length| long(job, taped.length - at);
    if let Some(sweep) = taped.sweep {
        let (depth, toward) = (exact(job, sweep.depth), clock_words(sweep.clock));
        said.push(format!(
            "bowed {depth} toward {toward}, most at {} from the butt",
            off_butt(sweep.at)
        ));
    }
    if let Some(crook) = taped.crook {
        let (depth, toward) = (exact(job, crook.depth), clock_words(crook.clock));
        said.push(format!("bent {depth} toward {toward} at {} from the butt", off_butt(crook.at)));
    }
    for (end, which) in ends {
        if end.pith_off > Length::ZERO {
            said.push(pith_words(job, end.pith_off, end.pith_clock, which));
        }
    }
    if let Some(flare) = taped.flare {
        let (extra, over) = (exact(job, flare.extra), long(job, flare.length));
        said.push(format!("flares by {extra} over {over}"));
    }
    said
}

fn as_measured(job: &impl Terms, log: &Log, looks: &Looks, told: &Told) -> Vec<String> {
    let stations = log.sections().map_or(0, <[_]>::len);
    let mut said = if told.of_stem {
        vec!["as it is cut from its stem".to_owned()]
    } else {
        vec![format!("measured all round at {stations} stations")]
    };
    for (end, which) in [(&looks.small_end, "small end"), (&looks.butt, "butt")] {
        if is_oval(end) {
            let (size, toward) = (across(job, end), names::half_hour(end.clock));
            said.push(format!("{which} {size}, the longer toward {toward}"));
        }
    }
    if is_bowed(looks) {
        let (depth, at) = (looks.bow.depth, log.length() - looks.bow.at);
        said.push(format!(
            "bowed {} toward {}, most at {} from the butt",
            width(job, depth.inches_f64()),
            names::half_hour(looks.bow.clock),
            long(job, at)
        ));
    }
    // Said of the ends of a stem, it is not where the log's ends are.
    let scanned = told.scanned.as_ref().filter(|_| !told.of_stem);
    let pith = scanned.map_or([None; 2], |scanned| scanned.pith);
    for (pith, which) in pith.into_iter().zip(["small end", "butt"]) {
        said.extend(pith.map(|pith| pith_words(job, pith.off, pith.clock, which)));
    }
    said
}

fn pith_words(job: &impl Terms, off: Length, clock: Angle, which: &str) -> String {
    format!("pith {} toward {} at the {which}", exact(job, off), clock_words(clock))
}

/// Over which stretch a flaw goes, as one reads it off the log from the butt.
pub(crate) fn stretch(job: &impl Terms, log: &Log, flaw: &Flaw) -> String {
    let [near, far] = [flaw.to, flaw.from].map(|at| log.length() - at);
    match (near, far) {
        (Length::ZERO, far) if far == log.length() => "from end to end".to_owned(),
        (Length::ZERO, far) => format!("from the butt to {}", long(job, far)),
        (near, far) if far == log.length() => {
            format!("from {} from the butt to the small end", long(job, near))
        }
        (near, far) => format!("{} to {} from the butt", long(job, near), long(job, far)),
    }
}

/// Where the pith may be in the pieces of a want, and which flaws; nothing where the want says nothing.
pub(crate) fn allowed(job: &impl Terms, heart: HeartRule, tolerates: FlawKinds) -> Vec<String> {
    let heart = match heart {
        HeartRule::Any => None,
        HeartRule::Free { clear } => {
            Some(format!("free of heart, the pith {} away or more", exact(job, clear)))
        }
        HeartRule::Boxed { within: None } => Some("boxed heart".to_owned()),
        HeartRule::Boxed { within: Some(within) } => {
            Some(format!("boxed heart, the pith within {} of the middle", exact(job, within)))
        }
    };
    let kinds = kinds(tolerates);
    let tolerates = (!kinds.is_empty()).then(|| format!("may hold {}", names::list(&kinds)));
    heart.into_iter().chain(tolerates).collect()
}

/// Kinds of flaw by their words.
pub(crate) fn kinds(of: FlawKinds) -> Vec<&'static str> {
    FlawKind::ALL.into_iter().filter(|kind| of.holds(*kind)).map(FlawKind::name).collect()
}

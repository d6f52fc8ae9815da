//! What was seen on a log, in words.

use pithward_geometry::{Angle, Defect, Log};
use pithward_job::{AllSeen, Guess, Quality, Quarters, Seen, clock_words};
use pithward_measure::Length;

use crate::grade_words;
use crate::names::{self, exact, long};
use crate::terms::Terms;

/// One thing that was seen, where and how large: `knot at 2:30, 3 ft 2 in from the butt, 2 in across`.
pub(crate) fn words(job: &impl Terms, log: &Log, seen: &Seen) -> String {
    let off = |at: Length| log.length() - at;
    let place = |at: Length| match off(at) {
        Length::ZERO => "at the butt".to_owned(),
        off if off == log.length() => "at the small end".to_owned(),
        off => format!("{} from the butt", long(job, off)),
    };
    let stretch = |from: Length, to: Length| match (off(to), off(from)) {
        (Length::ZERO, far) if far == log.length() => "from end to end".to_owned(),
        (Length::ZERO, far) => format!("from the butt to {}", long(job, far)),
        (near, far) if far == log.length() => {
            format!("from {} from the butt to the small end", long(job, near))
        }
        (near, far) => format!("{} to {} from the butt", long(job, near), long(job, far)),
    };
    let deep = |depth: Length| match seen.guess {
        Some(Guess::ToThePith) => "taken to go to the pith".to_owned(),
        _ => format!("{} deep", exact(job, depth)),
    };
    match seen.defect {
        Defect::Knot { at, clock, across, rise, clear } => {
            let across = exact(job, across);
            let (clock, place) = (clock_words(clock), place(at));
            let (name, mut more) = match (clear, seen.guess) {
                (Length::ZERO, _) => ("knot", String::new()),
                (_, Some(_)) => {
                    ("bump", ", taken to be grown over by a quarter of the way to the pith".into())
                }
                (clear, None) => ("bump", format!(", grown over by {}", exact(job, clear))),
            };
            if rise > Length::ZERO {
                more += &format!(", {} nearer to the butt at the pith", exact(job, rise));
            }
            format!("{name} at {clock}, {place}, {across} across{more}")
        }
        Defect::Seam { from, to, clock, depth } => {
            format!("seam at {}, {}, {}", clock_words(clock), stretch(from, to), deep(depth))
        }
        Defect::Scar { from, to, clock, width, depth } => format!(
            "scar about {}, {}, {} degrees of the round wide, {}",
            clock_words(clock),
            stretch(from, to),
            (width.as_millidegrees() + 500) / 1000,
            deep(depth)
        ),
        Defect::Hole { at, clock, across, depth } => {
            let (clock, place) = (clock_words(clock), place(at));
            format!("hole at {clock}, {place}, {} across, {}", exact(job, across), deep(depth))
        }
        Defect::Core { clear, .. } => {
            let [first, others @ ..] = clear;
            if others.iter().all(|other| *other == first) {
                return format!("clear wood {} thick over a knotty core", exact(job, first));
            }
            let each =
                HOURS.iter().zip(clear).map(|(hour, c)| format!("{} about {hour}", exact(job, c)));
            format!(
                "clear wood over a knotty core, {} thick",
                names::list(&each.collect::<Vec<_>>())
            )
        }
    }
}

/// The quarters by the hour in their middle.
const HOURS: [&str; 4] = ["12", "3", "6", "9"];

/// Its direction from the pith; `None` of what is all round.
pub(crate) fn clock(defect: &Defect) -> Option<Angle> {
    match *defect {
        Defect::Knot { clock, .. }
        | Defect::Seam { clock, .. }
        | Defect::Scar { clock, .. }
        | Defect::Hole { clock, .. } => Some(clock),
        Defect::Core { .. } => None,
    }
}

/// How each quarter looks: `12 o'clock clear, 3 a few knots, 6 unseen and taken as knotty`.
pub(crate) fn quarters(quarters: &Quarters) -> String {
    let taken = Quarters::taken(quarters.said);
    let one = |(hour, (said, taken)): (&&str, (&Option<Quality>, Quality))| match said {
        Some(quality) => format!("{hour} {}", look(*quality)),
        None => format!("{hour} unseen and taken as {}", look(taken)),
    };
    let all = HOURS.iter().zip(quarters.said.iter().zip(taken)).map(one);
    format!("quarters by their look: about {}", names::list(&all.collect::<Vec<_>>()))
}

fn look(quality: Quality) -> &'static str {
    match quality {
        Quality::Clear => "clear",
        Quality::Few => "with a few knots",
        Quality::Knotty => "knotty",
    }
}

/// All that was seen in one sentence each, for a list of logs.
pub(crate) fn all(job: &impl Terms, log: &Log, seen: &AllSeen) -> Vec<String> {
    let each = seen.each.iter().map(|one| words(job, log, one));
    each.chain(seen.quarters.as_ref().map(quarters)).collect()
}

/// What is taken for granted of what was seen on some logs; nothing where nothing was.
pub(crate) fn assumed(job: &impl Terms, seen: &[&AllSeen]) -> Option<String> {
    let each = || seen.iter().flat_map(|seen| &seen.each);
    let guessed = |guess| each().any(|seen| seen.guess == Some(guess));
    let quarters: Vec<&Quarters> = seen.iter().filter_map(|seen| seen.quarters.as_ref()).collect();
    if each().next().is_none() && quarters.is_empty() {
        return None;
    }
    let mut said = vec![grade_words::SEEN.to_owned()];
    if guessed(Guess::GrownOver) {
        said.push(format!("{}: {}", grade_words::GROWN_OVER, grade_words::NO_SOURCE));
    }
    if guessed(Guess::ToThePith) {
        said.push(format!("{}: {}", grade_words::TO_THE_PITH, grade_words::NO_SOURCE));
    }
    if !quarters.is_empty() {
        let of = [Quality::Few, Quality::Knotty];
        let of = of.into_iter().filter(|quality| {
            quarters.iter().any(|quarters| Quarters::taken(quarters.said).contains(quality))
        });
        let stands: Vec<String> =
            of.filter_map(|quality| grade_words::stands_for(job, quality)).collect();
        let stands =
            if stands.is_empty() { String::new() } else { format!(" ({})", stands.join(", ")) };
        let core = match quarters.iter().any(|quarters| quarters.core) {
            true => {
                ", with a knotty core of a third of the radius where nobody says how thick the clear wood is"
            }
            false => "",
        };
        said.push(format!(
            "the look of a quarter is taken for typical knots{stands}{core}: {}",
            grade_words::NO_SOURCE
        ));
    }
    Some(said.join("; "))
}

//! What keeps a log, a method or a want from being sawn, and what would make it possible.

use crate::card::setup;
use crate::names::{self, capital, height, list, long};
use crate::page::Page;
use pithward_geometry::ReplayFault;
use pithward_job::LogJob;
use pithward_measure::{Length, Scale};
use pithward_optimizer::{Method, Obstacle, WhyNone};

/// Where no single obstacle is known.
pub(crate) const NOTHING: &str = "No method gives a single piece of the list from this log. Ask for smaller or shorter \
                                  sizes, or allow some wane.";

/// Why nothing can be sawn from this log, and what would make it possible.
pub fn impossible(job: &LogJob, obstacles: &[Obstacle]) -> String {
    let mut page = Page::default();
    page.hang("NO PLAN   ", &setup::log(job));
    page.blank();
    if obstacles.is_empty() {
        page.say(NOTHING);
    }
    for sentences in told(job, obstacles, false) {
        page.item(&sentences);
    }
    page.blank();
    page.say(&format!("The limits are those of the mill: {}.", job.mill.name));
    page.finish()
}

/// On a card: what the mill's limits and the log decided; nothing when they decided nothing.
pub(crate) fn limits(page: &mut Page, job: &LogJob, obstacles: &[Obstacle]) {
    if obstacles.is_empty() {
        return;
    }
    page.heading("LIMITS", "what the mill or the log did not allow, and what would");
    for sentences in told(job, obstacles, true) {
        page.item(&sentences);
    }
}

/// Every obstacle in full sentences; those that say the same of several methods or wants once.
pub(crate) fn told(job: &LogJob, obstacles: &[Obstacle], planned: bool) -> Vec<String> {
    let mut told = Vec::new();
    let mut methods: Vec<Method> = Vec::new();
    let mut narrow: Option<(Length, Length)> = None;
    let mut outbid: Vec<String> = Vec::new();
    for obstacle in obstacles {
        match obstacle {
            Obstacle::Guides { method, width, limit } => {
                methods.push(*method);
                narrow = Some((*width, *limit));
            }
            Obstacle::NoPiece { want, why: WhyNone::Outbid } => {
                outbid.push(names::want(job, *want));
            }
            _ => told.push(sentence(job, obstacle)),
        }
    }
    if let Some((width, limit)) = narrow {
        told.insert(0, guides(job, &methods, width, limit));
    }
    if !outbid.is_empty() {
        let wants = list(&outbid).replace(" and ", " or ");
        told.push(if planned { outbid_by_others(&wants) } else { outbid_by_limits(&wants) });
    }
    told
}

/// One obstacle in full sentences: the reason, and what would make it possible.
pub(crate) fn sentence(job: &LogJob, obstacle: &Obstacle) -> String {
    match obstacle {
        Obstacle::TooThick { butt, limit, length_that_fits } => {
            too_thick(job, *butt, *limit, *length_that_fits)
        }
        Obstacle::TooLong { length, limit } => format!(
            "The log is {} long and the mill takes {}. Cut it to {} or less, at a length that the \
             list can use.",
            long(job, *length),
            long(job, *limit),
            long(job, *limit)
        ),
        Obstacle::TooShort { length, limit } => format!(
            "The log is {} long and the mill holds none under {}: bunks, stops and clamp would not \
             grip it. Buck the next log longer; this one is blocking or firewood.",
            long(job, *length),
            long(job, *limit)
        ),
        Obstacle::Guides { method, width, limit } => guides(job, &[*method], *width, *limit),
        Obstacle::NoPiece { want, why } => no_piece(job, &names::want(job, *want), *why),
        Obstacle::NoWant => {
            "No line of the list accepts its wood. Name its species with a want, or leave the log \
             out of the pile."
                .to_owned()
        }
        Obstacle::Unsawable { method, fault } => {
            format!("{}: {}", capital(method.name()), unsawable(job, fault))
        }
    }
}

fn too_thick(job: &LogJob, butt: Length, limit: Length, fits: Option<Length>) -> String {
    let why = format!(
        "The butt measures {} over the bark and the mill takes {}.",
        height(job, butt),
        height(job, limit)
    );
    // Below a step that a chain saw can keep, a length is no advice.
    let step = if job.scale.is_metric() { Length::mm(10) } else { Length::inches(1) };
    match fits.map(|length| length.floor_to(step)).filter(|length| *length > Length::ZERO) {
        Some(length) if length >= job.mill.shortest => format!(
            "{why} Cut the butt back until the log is {} long from the small end, trim the flare if \
             that is all that is too thick, or part the log lengthwise by chain saw.",
            long(job, length)
        ),
        Some(length) => format!(
            "{why} Only {} from the small end would go on, and that is too short to be held. Trim the \
             flare if that is all that is too thick, or part the log lengthwise by chain saw.",
            long(job, length)
        ),
        None => format!(
            "{why} Not even the small end goes on. Part the log lengthwise by chain saw, or take it to \
             a larger mill."
        ),
    }
}

fn guides(job: &LogJob, methods: &[Method], width: Length, limit: Length) -> String {
    format!(
        "{} cannot be sawn: the round is {} wide with its bark and the guides let {} through. Slab it \
         deeper on two opposite sides first, as a cant is, or part the log lengthwise by chain saw.",
        capital(&names::methods(methods)),
        height(job, width),
        height(job, limit)
    )
}

fn no_piece(job: &LogJob, want: &str, why: WhyNone) -> String {
    match why {
        WhyNone::TooShort { takes } => {
            let (with, less) = match job.trim {
                Length::ZERO => ("", ""),
                _ => (" with its trim", ", or less trim"),
            };
            format!(
                "No {want}: even the shortest takes {}{with} and the log is {} long. Accept a shorter \
                 length{less}, or take a longer log.",
                long(job, takes),
                long(job, job.log.length())
            )
        }
        WhyNone::TooThin { diameter, has } => {
            // What it takes is rounded up and what there is down, or they might read alike.
            let scale = if job.scale.is_metric() { Scale::Millimetres } else { Scale::Sixteenths };
            format!(
                "No {want}: it takes {} of wood across over its whole length and this log has {}. Ask \
                 for a smaller section, a shorter length or more wane, or take a thicker log.",
                height(job, diameter.ceil_to(scale.step())),
                height(job, has.floor_to(scale.step()))
            )
        }
        WhyNone::Outbid => outbid_by_others(want),
    }
}

fn outbid_by_others(wants: &str) -> String {
    format!(
        "No {wants}: it would fit, but other pieces of the list are worth more in this log, or the \
         mill's limits are in the way. If it must come from here, ask for it alone."
    )
}

fn outbid_by_limits(wants: &str) -> String {
    format!(
        "The wood would hold {wants}, but no method that was searched frees it within the mill's \
         limits. Search the other methods, or ask for thinner sizes."
    )
}

fn unsawable(job: &LogJob, fault: &ReplayFault) -> String {
    let inches = |inches: f64| height(job, Length::from_inches_f64(inches));
    match fault {
        ReplayFault::TooLow { height: at, lowest, .. } => format!(
            "its best pattern needs the blade at {} and the mill's lowest is {}. Lay a flat board of \
             known thickness under the cant and add its thickness to every height, or leave a thicker \
             last piece.",
            height(job, *at),
            height(job, *lowest)
        ),
        ReplayFault::TooWide { widest, limit, .. } => format!(
            "its best pattern has stock {} wide at the blade and the guides let {} through. Slab deeper \
             on the sides first, or turn sooner.",
            inches(*widest),
            inches(*limit)
        ),
        ReplayFault::TooDeep { above, limit, .. } => format!(
            "its best pattern leaves {} standing above the blade and the head clears {}. Take it off in \
             two passes, or saw a smaller timber.",
            inches(*above),
            inches(*limit)
        ),
        ReplayFault::Batch { count, limit, .. } => format!(
            "its best pattern edges {count} flitches at once and the clamp holds {limit}. Edge them in \
             two batches."
        ),
        ReplayFault::Log { .. }
        | ReplayFault::Frame { .. }
        | ReplayFault::Turn { .. }
        | ReplayFault::Lift { .. }
        | ReplayFault::NoPose { .. }
        | ReplayFault::Support { .. }
        | ReplayFault::Stops { .. }
        | ReplayFault::BatchDiffers { .. }
        | ReplayFault::Printed { .. }
        | ReplayFault::Nothing { .. }
        | ReplayFault::NoPart(_)
        | ReplayFault::Square { .. }
        | ReplayFault::Unsawn { .. }
        | ReplayFault::Size { .. }
        | ReplayFault::Unsound { .. }
        | ReplayFault::Flaw { .. }
        | ReplayFault::Heart { .. }
        | ReplayFault::Length { .. } => format!("the mill cannot saw its best pattern: {fault}."),
    }
}

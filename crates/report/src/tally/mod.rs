//! How the day stands, after an entry of the tally or when somebody asks: what is still wanted, how fast it goes, what it
//! costs so far, what is to go, and whether the promise stands.
//!
//! It is read on a phone beside the mill. So it is short: what is well is said in a line or left out, what needs somebody
//! stands first.

mod ahead;
mod file;
mod still;

use jiff::ZonedDateTime;
use pithward_day::kept::Kept;
use pithward_day::money::Bill;
use pithward_day::so_far::Ahead;
use pithward_job::PileJob;
use pithward_tally::{
    BladeEnd, Doing, Entry, LogState, Record, Recorded, Said, SoFar, Stretch, Warning,
};

use crate::names::{count, tenths};
use crate::paper::Paper;
use crate::quote::words;

/// Nobody saws so long without a word to the tally, in seconds.
const LONG: i64 = 4 * 3600;

/// After so long without a word nothing is counted any more, as [`SoFar`] says; in seconds.
const SILENT: i64 = 12 * 3600;

/// A job with its tally, and what follows.
#[derive(Clone, Copy, Debug)]
pub struct Standing<'a> {
    /// The job.
    pub job: &'a PileJob,
    /// The tally as it was read.
    pub record: &'a Record,
    /// What follows from it.
    pub so_far: &'a SoFar,
    /// How many of its last entries are new.
    pub new: usize,
    /// The remains of a line that was never kept, which the new entry has ended.
    pub ended: Option<&'a Warning>,
    /// The file could not be locked.
    pub unlocked: bool,
    /// Which entry is the last could not be written beside the file.
    pub unmarked: bool,
    /// What was promised, where that was kept.
    pub kept: Option<&'a Kept>,
    /// The fields of the mill file's charges that are not as they were promised; all is reckoned by those that were.
    pub charges_differ: &'a [&'static str],
    /// What is to be expected of the rest.
    pub ahead: Option<&'a Ahead>,
    /// What is owed for what was done so far.
    pub bill: Option<&'a Bill>,
}

/// How the day stands, for whoever is at the mill.
pub fn tally_page(standing: &Standing<'_>) -> Paper {
    let mut paper = Paper::new(title(standing));
    kept(&mut paper, standing);
    cautions(&mut paper, standing);
    file::warnings(&mut paper, standing);
    forgotten(&mut paper, standing);
    still::wanted(&mut paper, standing);
    paper.items(figures(standing));
    ahead::promise(&mut paper, standing);
    paper
}

/// What is done just now, and how many logs are done.
fn title(standing: &Standing<'_>) -> String {
    let so_far = standing.so_far;
    let done = so_far.logs.iter().filter(|log| log.state == LogState::Done).count();
    let logs = format!("{done} of {} done", count(so_far.logs.len(), "log", "logs"));
    let on = so_far.on_the_mill.and_then(|log| so_far.logs.get(log));
    let open = so_far.stretches.last().filter(|stretch| stretch.open);
    let rests = so_far.pauses.last().filter(|pause| pause.open);
    let now = match (open, rests, on) {
        (_, Some(pause), _) => match &pause.why {
            Some(why) => format!("Paused for {}: {why}", time(pause.seconds)),
            None => format!("Paused for {}", time(pause.seconds)),
        },
        (Some(Stretch { doing: Doing::Sawing, log: Some(_), .. }), _, Some(log)) => {
            format!("{} on the mill, {} of work", log.id, time(log.seconds))
        }
        (Some(stretch), ..) => format!("{} for {}", doing(stretch.doing), time(stretch.seconds)),
        (None, _, Some(log)) => format!("Stopped, {} on the mill", log.id),
        (None, _, None) if so_far.work.is_some() => "Stopped".to_owned(),
        (None, _, None) => "Nothing is said yet".to_owned(),
    };
    format!("{now}; {logs}")
}

fn doing(doing: Doing) -> &'static str {
    match doing {
        Doing::SettingUp => "Setting up",
        Doing::Sawing => "Sawing",
        Doing::MovingLogs => "Moving logs",
        Doing::MovingMill => "Moving the mill",
        Doing::PackingUp => "Packing up",
    }
}

/// The new entries, so that whoever typed sees what was understood.
fn kept(paper: &mut Paper, standing: &Standing<'_>) {
    const SHOWN: usize = 5;
    let entries = &standing.record.entries;
    let new = &entries[entries.len().saturating_sub(standing.new)..];
    for recorded in new.iter().take(SHOWN) {
        paper.say(format!("Kept: {}", entry(standing, &recorded.entry)));
    }
    if new.len() > SHOWN {
        paper.say(format!("Kept: {} entries more", new.len() - SHOWN));
    }
}

/// An entry in a line: number, time, and its words; of one that undoes, what it undid.
fn entry(standing: &Standing<'_>, entry: &Entry) -> String {
    let today = standing.so_far.now.as_ref().map(ZonedDateTime::date);
    let at = match today == Some(entry.at.date()) {
        true => clock(&entry.at),
        false => entry.at.strftime("%Y-%m-%d %H:%M").to_string(),
    };
    let undone = match &entry.said {
        Said::Undo { entry: number } => {
            let of = |one: &&Recorded| one.entry.number == *number;
            let undone = standing.record.entries.iter().rev().find(of);
            undone.map(|one| format!(" (was: {})", one.entry.said.line()))
        }
        _ => None,
    };
    format!("{} {at} {}{}", entry.number, entry.said.line(), undone.unwrap_or_default())
}

/// `9:40`, as a clock with twenty-four hours has it.
fn clock(at: &ZonedDateTime) -> String {
    format!("{}:{:02}", at.hour(), at.minute())
}

/// Seconds as hours and minutes.
fn time(seconds: i64) -> String {
    #[allow(clippy::cast_precision_loss, reason = "seconds of a job are far below 2^53")]
    let minutes = (seconds / 60) as f64;
    match seconds {
        ..7200 => words::time(minutes),
        _ => {
            let (hours, minutes) = (seconds / 3600, seconds % 3600 / 60);
            if minutes == 0 { format!("{hours} h") } else { format!("{hours} h {minutes} min") }
        }
    }
}

/// The same of what may be days.
fn long(seconds: i64) -> String {
    let days = usize::try_from(seconds / 86400).unwrap_or(0);
    if days < 2 { time(seconds) } else { count(days, "day", "days") }
}

/// What may hurt somebody after what was told just now.
fn cautions(paper: &mut Paper, standing: &Standing<'_>) {
    let entries = &standing.record.entries;
    let new = &entries[entries.len().saturating_sub(standing.new)..];
    let metal = |recorded: &Recorded| match &recorded.entry.said {
        Said::Blade { end, .. } => *end != BladeEnd::Dull,
        Said::Found { what, .. } => {
            let what = what.to_lowercase();
            ["metal", "nail", "wire", "staple", "bolt", "spike", "screw", "iron", "steel"]
                .iter()
                .any(|word| what.contains(word))
        }
        _ => false,
    };
    if new.iter().any(metal) {
        paper.caution(
            "Metal is seldom alone: blade stopped before you look, detector over the log before the next pass.",
        );
    }
}

/// Work that lasts since long ago: somebody forgot to stop.
fn forgotten(paper: &mut Paper, standing: &Standing<'_>) {
    let SoFar { now: Some(now), stretches, .. } = standing.so_far else { return };
    let open = stretches.last().is_some_and(|stretch| stretch.open);
    let Some(last) = standing.record.counted().max_by_key(|entry| entry.at.timestamp()) else {
        return;
    };
    let since = now.timestamp().as_second() - last.at.timestamp().as_second();
    if open && since >= LONG {
        let counted = if since > SILENT { " Nothing is counted since then." } else { "" };
        let date = match last.at.date() == now.date() {
            true => clock(&last.at),
            false => format!("\"{}\"", last.at.strftime("%Y-%m-%d %H:%M")),
        };
        paper.caution(format!(
            "Nothing was said for {}, and work still runs.{counted} If it stopped, say when: stop --at {date}",
            long(since)
        ));
    }
}

/// How fast it goes and what it costs.
fn figures(standing: &Standing<'_>) -> Vec<String> {
    let so_far = standing.so_far;
    let mut items = Vec::new();
    let pieces: u32 =
        so_far.pieces().fold(0, |sum: u32, piece| sum.saturating_add(piece.what.count));
    let board_feet = so_far.board_feet();
    if pieces > 0 {
        let pieces_said = count(pieces as usize, "piece", "pieces");
        let mut off = format!("Off: {pieces_said}, {} bf", tenths(board_feet));
        if let Some([pieces, feet]) =
            an_hour(so_far.spent.sawing, [i64::from(pieces) * 1_000_000, board_feet])
        {
            off += &format!("; an hour at the saw {} pieces, {} bf", tenths(pieces), whole(feet));
        }
        items.push(off);
    }
    let spent = so_far.spent;
    if spent.all() > 0 {
        let parts = Doing::ALL.into_iter().filter(|doing| spent.on(*doing) > 0);
        let mut parts: Vec<String> = parts
            .map(|on| format!("{} {}", doing(on).to_lowercase(), time(spent.on(on))))
            .collect();
        let rested: i64 = so_far.pauses.iter().map(|pause| pause.seconds).sum();
        if rested > 0 {
            parts.push(format!("paused {}, not counted", time(rested)));
        }
        items.push(format!("Worked: {} ({})", time(spent.all()), parts.join(", ")));
    }
    let blades = |end| so_far.blades(end);
    let [dull, struck, ruined] = BladeEnd::ALL.map(blades);
    if dull + struck + ruined > 0 {
        let parts = [(dull, "dull"), (struck, "struck"), (ruined, "ruined")];
        let parts: Vec<String> = parts
            .into_iter()
            .filter(|(blades, _)| *blades > 0)
            .map(|(blades, how)| format!("{blades} {how}"))
            .collect();
        items.push(format!("Blades off: {}", parts.join(", ")));
    }
    if let Some(bill) = standing.bill {
        items.push(format!("Cost so far: {}", bill.total));
    }
    items
}

/// So much in an hour, of some seconds; not before ten minutes, when it says nothing.
fn an_hour<const N: usize>(seconds: i64, of: [i64; N]) -> Option<[i64; N]> {
    const LEAST: i64 = 600;
    let rate = |amount: i64| {
        let product = i128::from(amount) * 3600;
        i64::try_from(product / i128::from(seconds.max(1))).unwrap_or(i64::MAX)
    };
    (seconds >= LEAST).then(|| of.map(rate))
}

/// Millionths, to the nearest whole.
fn whole(millionths: i64) -> String {
    ((i128::from(millionths) + 500_000).div_euclid(1_000_000)).to_string()
}

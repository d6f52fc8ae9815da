//! The road of a tally: job file, an entry to the file beside it, how the day stands.

use std::fs;
use std::path::Path;

use jiff::ZonedDateTime;
use pithward_day::kept::Kept;
use pithward_day::money::{Bill, Way};
use pithward_day::so_far::{Ahead, worked};
use pithward_job::{PileJob, read_job};
use pithward_report::{Standing, tally_json, tally_page};
use pithward_tally::{
    AppendFault, Appended, Draft, Import, Meant, MeantFault, NoPlan, Off, Planned, Record, Said,
    SizeCount, SoFar, Warning, WordFault, append, beside, open, read_at, split_words,
    whole_seconds,
};

use crate::arguments::TallyArguments;
use crate::fault_text;
use crate::outcome::Outcome;
use crate::pile::JOB;
use crate::promise;
use crate::written;

/// What the words of an entry are called where one of them is wrong.
const WORDS: &str = "tally";

/// The word that adds what a phone has exported.
const READ: &str = "read";

/// The longest export that is read, bytes.
const LONGEST_EXPORT: u64 = 16 << 20;

/// The most faults of an export that are told: one that is of another kind has one on every line.
const MOST_FAULTS: usize = 100;

/// Records what happened, and says how the day stands.
pub(crate) fn tally(arguments: &TallyArguments) -> Outcome {
    let now = whole_seconds(&ZonedDateTime::now());
    let mut job = match read_job(&arguments.job, JOB) {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let path = beside(&arguments.job);
    // What happened is kept, whatever became of the promise.
    let (kept, without) = match promise::beside(&arguments.job) {
        Ok(kept) => (kept, None),
        Err(Outcome::Unwritable { message, help }) => (None, Some(format!("{message} ({help})"))),
        Err(refused) => return refused,
    };
    // What was promised counts, whatever the mill file says now.
    let promised = kept.as_ref().and_then(Kept::promised_charges).cloned();
    let differ = promised.as_ref().map(|promised| job.charges.differences(promised));
    job.charges = promised.unwrap_or(job.charges);
    let at_hand = AtHand {
        job: &job,
        path: &path,
        kept: kept.as_ref(),
        charges_differ: &differ.unwrap_or_default(),
        now: &now,
    };
    let words = words(&arguments.words);
    let added = match words.split_first() {
        None => at_hand.nothing(),
        Some((read, [file])) if read.len() >= 2 && READ.starts_with(&read.to_lowercase()) => {
            at_hand.export(Path::new(file))
        }
        Some(_) => at_hand.entry(&words, arguments.at.as_deref()),
    };
    match added {
        Ok(mut added) => {
            added.says.extend(without);
            at_hand.told(&added, arguments.json)
        }
        Err(refused) => refused,
    }
}

/// The words as they were typed, whether in quotes as one or each by itself.
fn words(typed: &[String]) -> Vec<String> {
    match typed {
        [one] if one.contains(char::is_whitespace) => {
            split_words(one).unwrap_or_else(|| vec![one.clone()])
        }
        words => words.to_vec(),
    }
}

/// What an entry is about.
#[derive(Clone, Copy)]
struct AtHand<'a> {
    job: &'a PileJob,
    path: &'a Path,
    kept: Option<&'a Kept>,
    charges_differ: &'a [&'static str],
    now: &'a ZonedDateTime,
}

/// A tally, and what was added to it.
struct Added {
    record: Record,
    new: usize,
    ended: Option<Warning>,
    unlocked: bool,
    unmarked: bool,
    /// What else is to be said.
    says: Vec<String>,
}

/// Why nothing was added.
enum Refused {
    Append(AppendFault),
    Meant(MeantFault),
    /// A message, and what would be right.
    Said(String, &'static str),
}

impl From<AppendFault> for Refused {
    fn from(fault: AppendFault) -> Self {
        Self::Append(fault)
    }
}

impl AtHand<'_> {
    /// The tally as it is.
    fn nothing(self) -> Result<Added, Outcome> {
        match open(self.path) {
            Ok(record) => Ok(Added {
                record: record.unwrap_or_default(),
                new: 0,
                ended: None,
                unlocked: false,
                unmarked: false,
                says: Vec::new(),
            }),
            Err(fault) => Err(self.refused(Refused::Append(fault))),
        }
    }

    /// Adds an entry.
    fn entry(self, words: &[String], at: Option<&str>) -> Result<Added, Outcome> {
        let mut faults = Vec::new();
        let meant = Meant::read(words, self.job).map_err(|more| faults.extend(texts(words, &more)));
        let when = match at {
            None => Ok(self.now.clone()),
            Some(text) => read_at(text, self.now).map_err(|fault| {
                let message = format!("--at: {fault}");
                faults.push(fault_text::of_value(&message, "--at", text, 0..0, &fault.help()));
            }),
        };
        let (Ok(meant), Ok(when)) = (meant, when) else {
            return Err(Outcome::Refused(fault_text::together(&faults)));
        };
        let late = at.is_some();
        let drafts = |record: &Record, _| {
            let mut said = meant.said(record).map_err(Refused::Meant)?;
            if let Said::Off(off) = &said
                && off.planned
                && off.pieces.is_empty()
            {
                said = Said::Off(self.planned(off, record, late.then_some(&when))?);
            }
            Ok(vec![Draft { at: when.clone(), late, said }])
        };
        let added = append(self.path, drafts).map_err(|refused| self.refused(refused))?;
        Ok(of_appended(added, Vec::new()))
    }

    /// What the plan says comes of a log, less what is off already.
    fn planned(
        self,
        off: &Off,
        record: &Record,
        at: Option<&ZonedDateTime>,
    ) -> Result<Off, Refused> {
        let mut before = record.clone();
        if let Some(at) = at {
            before.entries.retain(|one| one.entry.at.timestamp() <= at.timestamp());
        }
        let so_far = SoFar::of(&before, self.job, self.planner(), self.now);
        let on = || so_far.on_the_mill.and_then(|log| so_far.logs.get(log));
        let Some(id) = off.log.clone().or_else(|| on().map(|log| log.id.clone())) else {
            let message = "no log is on the mill".to_owned();
            return Err(Refused::Said(message, "name the log, as in `off A3 planned`"));
        };
        let Some(kept) = self.kept else {
            let message =
                "no promise is kept for this job, so nobody knows what is planned".to_owned();
            return Err(Refused::Said(
                message,
                "say the pieces, as in `off 4 2x8x12`; `pithward quote JOB --keep` keeps the plan",
            ));
        };
        let Some(mut pieces) = Planned::pieces(kept, &id).filter(|pieces| !pieces.is_empty())
        else {
            let message = format!("nothing is planned of log {id}");
            return Err(Refused::Said(message, "say the pieces, as in `off 4 2x8x12`"));
        };
        let all = SoFar::of(record, self.job, self.planner(), self.now);
        if let Some(log) = all.logs.iter().find(|log| log.id == id) {
            for told in &log.pieces {
                take(&mut pieces, &told.what);
            }
        }
        pieces.retain(|piece| piece.count > 0);
        if pieces.is_empty() {
            let message = format!("all that is planned of log {id} is off already");
            return Err(Refused::Said(message, "say what else came off it, as in `off 1 2x8x12`"));
        }
        Ok(Off { log: Some(id), planned: true, pieces })
    }

    fn planner(&self) -> &dyn Planned {
        self.kept.map_or(&NoPlan as &dyn Planned, |kept| kept as &dyn Planned)
    }

    /// Adds what a phone has exported.
    fn export(self, file: &Path) -> Result<Added, Outcome> {
        let name = written::shown(file);
        let unreadable = |why: &str| Outcome::Unwritable {
            message: format!("{name} cannot be read: {why}"),
            help: "name the file that the page has saved",
        };
        let long = |found: &fs::Metadata| found.len() > LONGEST_EXPORT;
        let text = match fs::metadata(file) {
            Ok(found) if !found.is_file() => return Err(unreadable("it is no file")),
            Ok(found) if long(&found) => return Err(unreadable("it is longer than 16 MB")),
            _ => fs::read(file).map_err(|error| unreadable(&error.to_string()))?,
        };
        let text = String::from_utf8(text).map_err(|_| unreadable("it is no UTF-8 text"))?;
        let import = Import::read(&text, self.job, self.now).map_err(|faults| {
            let faults: Vec<String> = faults
                .iter()
                .take(MOST_FAULTS)
                .map(|fault| {
                    let (message, help) = (fault.to_string(), fault.kind.help());
                    fault_text::of_line(&message, &name, &text, fault.at.clone(), &help)
                })
                .collect();
            Outcome::Refused(fault_text::together(&faults))
        })?;
        let mut known = 0;
        let added = append(self.path, |record: &Record, next| {
            let imported = import.new_to(record, next);
            known = imported.known;
            Ok(imported.drafts)
        });
        let added = added.map_err(|refused: Refused| self.refused(refused))?;
        let says = match added.new {
            0 => format!("Nothing in {name} is new ({known} entries are here already)."),
            new => format!("{new} entries are new, {known} were here already."),
        };
        Ok(of_appended(added, vec![says]))
    }

    fn refused(self, refused: Refused) -> Outcome {
        let file = written::shown(self.path);
        let fault = match refused {
            Refused::Append(fault) => fault,
            Refused::Meant(fault) => {
                let help = match fault {
                    MeantFault::NothingToConfirm => "there is nothing more to do",
                    _ => "`pithward tally JOB --json` lists all entries with their numbers",
                };
                return Outcome::Unwritable { message: fault.to_string(), help };
            }
            Refused::Said(message, help) => return Outcome::Unwritable { message, help },
        };
        let message = format!("{file} {fault}");
        match fault {
            AppendFault::Write { taken_back, .. } => Outcome::NotKept {
                message: format!("{message}; the entry is not kept"),
                help: match taken_back {
                    true => {
                        "make room on the disk and say it again; all that was kept before is there"
                    }
                    false => {
                        "make room on the disk and say it again; all that was kept before is there, and what was written \
                         of this entry does not count"
                    }
                },
            },
            AppendFault::Read(_) | AppendFault::Held => Outcome::NotKept {
                message: format!("{message}; the entry is not kept"),
                help: "say it again once nobody else uses the file",
            },
            AppendFault::Open(_) => Outcome::Unwritable {
                message,
                help: "the tally is kept beside the job file: it needs a folder that can be written to",
            },
            AppendFault::NoTally(_) | AppendFault::NoFile | AppendFault::TooLong => {
                Outcome::Unwritable {
                    message,
                    help: "the tally of a job is the file beside it that ends in .tally: move away what is there",
                }
            }
        }
    }

    /// How the day stands now.
    fn told(self, added: &Added, json: bool) -> Outcome {
        let Self { job, kept, charges_differ, now, .. } = self;
        let so_far = SoFar::of(&added.record, job, self.planner(), now);
        let way = kept.and_then(|kept| kept.agreed).or_else(|| Way::first(&job.charges));
        let done = worked(job, kept, &so_far);
        let begun = so_far.work.is_some() || so_far.pieces().next().is_some();
        let bill = way.filter(|_| begun).and_then(|way| Bill::of(&done, &job.charges, way).ok());
        let ahead = kept.map(|kept| Ahead::of(job, kept, &so_far, way));
        let standing = Standing {
            job,
            record: &added.record,
            so_far: &so_far,
            new: added.new,
            ended: added.ended.as_ref(),
            unlocked: added.unlocked,
            unmarked: added.unmarked,
            kept,
            charges_differ,
            ahead: ahead.as_ref(),
            bill: bill.as_ref(),
        };
        if json {
            return Outcome::Done(tally_json(&standing));
        }
        let page = tally_page(&standing).text();
        let says = added.says.iter().map(|says| format!("{says}\n\n"));
        Outcome::Done(says.chain([page]).collect())
    }
}

fn of_appended(appended: Appended, says: Vec<String>) -> Added {
    let Appended { record, new, ended, unlocked, unmarked } = appended;
    Added { record, new, ended, unlocked, unmarked, says }
}

/// Takes pieces that are off away from those that are planned.
fn take(planned: &mut [SizeCount], off: &SizeCount) {
    let mut left = off.count;
    for piece in planned.iter_mut().filter(|piece| piece.size == off.size) {
        let taken = left.min(piece.count);
        piece.count -= taken;
        left -= taken;
    }
}

/// The faults of some words, each with the words underlined.
fn texts(words: &[String], faults: &[WordFault]) -> Vec<String> {
    let line = words.join(" ");
    let start = |n: usize| words.iter().take(n).map(|word| word.len() + 1).sum::<usize>();
    let text = |fault: &WordFault| {
        let end = start(fault.words.end).saturating_sub(1);
        let at = if fault.words.is_empty() { 0..0 } else { start(fault.words.start)..end };
        fault_text::of_value(&fault.to_string(), WORDS, &line, at, &fault.kind.help())
    };
    faults.iter().map(text).collect()
}

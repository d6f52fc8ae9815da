//! The road of learning: a folder of jobs, the fit, a new mill file.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use jiff::ZonedDateTime;
use jiff::civil::Date;
use pithward_day::kept::Kept;
use pithward_day::range::{Asked, ByHours, Forecast, forecast};
use pithward_job::{MillSource, Outfit, PileJob, read_job, read_mill};
use pithward_learn::{Fit, JobDone, Observed, Recovered, Why, built_otherwise};
use pithward_optimizer::PlanFault;
use pithward_report::{Ahead, LearnedJobs, LearnedMill, MillText, NotWritten, learned_page};
use pithward_tally::{Record, SoFar, open};

use crate::arguments::LearnArguments;
use crate::outcome::Outcome;
use crate::pile::{nothing, nothing_sawn, planned_under};
use crate::wait::waiting;
use crate::written::{shown, write_new};

/// Folders within folders that are looked through.
const DEEPEST: u32 = 8;
/// Files of one day beside each other.
const MOST_FILES: u32 = 99;

/// What the jobs of a folder say of the pace and of what comes out.
pub(crate) fn learn(arguments: &LearnArguments) -> Outcome {
    let outfit = read_mill(&arguments.mill, "--mill");
    let ahead = arguments.on.as_ref().map(|job| read_job(job, "--on")).transpose();
    let (outfit, ahead) = match (outfit, ahead) {
        (Ok(outfit), Ok(ahead)) => (outfit, ahead),
        (outfit, ahead) => {
            let faults = [outfit.err(), ahead.err()].into_iter().flatten().flatten();
            return Outcome::Faulty(faults.collect());
        }
    };
    if let Some(learned) = &outfit.learned {
        return Outcome::Unwritable {
            message: format!(
                "{} was learned itself, beside {}, and its jobs would count twice",
                shown(&arguments.mill),
                learned.from
            ),
            help: "name the mill file that it was learned beside, and a folder with all jobs",
        };
    }
    let on = match date(arguments.date.as_deref()) {
        Ok(date) => date.to_string(),
        Err(refused) => return refused,
    };
    let found = match Found::within(&arguments.directory, &outfit) {
        Ok(found) => found,
        Err(refused) => return refused,
    };
    if found.jobs.is_empty() {
        return Outcome::Impossible(found.nothing(&arguments.directory));
    }
    let fit = Fit::of(&outfit.pace, &found.observed);
    let recovered = Recovered::of(&found.observed);
    if fit.is_empty() && recovered.all.is_none() {
        return Outcome::Impossible(found.nothing(&arguments.directory));
    }
    let name = arguments.mill.file_name().map(|name| name.to_string_lossy().into_owned());
    let text = match fs::read_to_string(&arguments.mill) {
        Ok(text) => text,
        Err(error) => return refused(&arguments.mill, &error),
    };
    let new = MillText {
        text: &text,
        name: name.as_deref().unwrap_or("mill.toml"),
        on: &on,
        jobs: found.jobs.len(),
        fit: &fit,
        recovered: &recovered,
    };
    let new = new.write();
    let ahead = match ahead.map(|job| changes(job, &outfit, new.as_ref().ok(), &fit, &recovered)) {
        None => None,
        Some(Ok(ahead)) => Some(ahead),
        Some(Err(outcome)) => return outcome,
    };
    let written = match (&new, arguments.show) {
        (_, true) => Vec::new(),
        (Ok(new), false) => match written(&arguments.mill, &on, new) {
            Ok(lines) => lines,
            Err(refused) => return refused,
        },
        (Err(NotWritten::Json), false) => {
            vec![format!(
                "None was written: {}, and {} is none. Put the figures above into it by hand.",
                NotWritten::Json,
                shown(&arguments.mill)
            )]
        }
        (Err(fault), false) => vec![format!("None was written: {fault}.")],
    };
    let page = learned_page(&LearnedJobs {
        mill: &outfit.mill.name,
        jobs: &found.jobs,
        observed: &found.observed,
        fit: &fit,
        recovered: &recovered,
        ahead: ahead.as_ref(),
        left_out: &found.left_out,
        written: &written,
    });
    Outcome::Done(if arguments.markdown { page.markdown() } else { page.text() })
}

/// The day that the file is named by.
fn date(told: Option<&str>) -> Result<Date, Outcome> {
    let Some(told) = told else { return Ok(ZonedDateTime::now().date()) };
    told.trim().parse::<Date>().map_err(|_| Outcome::Unwritable {
        message: format!("--date: {told:?} is no date"),
        help: "write year, month and day, as in 2026-05-02; without it, today counts",
    })
}

/// The jobs of a folder.
#[derive(Debug, Default)]
struct Found {
    /// What each is called: the name of its file within the folder.
    jobs: Vec<String>,
    observed: Observed,
    /// What could not be learned from, and why.
    left_out: Vec<String>,
}

impl Found {
    fn within(directory: &Path, outfit: &Outfit) -> Result<Self, Outcome> {
        if !directory.is_dir() {
            return Err(Outcome::Unwritable {
                message: format!("{} is no folder", shown(directory)),
                help: "name the folder in which your job files, promises and tallies are",
            });
        }
        let mut found = Self::default();
        let mut tallies = Vec::new();
        found.look(directory, &mut tallies, 0);
        for tally in tallies {
            let called = tally.strip_prefix(directory).unwrap_or(&tally).display().to_string();
            match done(&tally, outfit) {
                Ok(job) => found.take(called, job),
                Err(why) => found.left_out.push(format!("{called}: {why}")),
            }
        }
        Ok(found)
    }

    /// The tallies of a folder and of those in it, by their names.
    fn look(&mut self, directory: &Path, tallies: &mut Vec<PathBuf>, depth: u32) {
        let entries = match fs::read_dir(directory) {
            Ok(entries) => entries,
            Err(error) => {
                self.left_out.push(format!("{}: cannot be read: {error}", shown(directory)));
                return;
            }
        };
        let mut paths: Vec<PathBuf> =
            entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
        paths.sort();
        for path in paths {
            // A folder that is reached by a link may hold itself.
            let is_folder = fs::symlink_metadata(&path).is_ok_and(|of| of.is_dir());
            if is_folder && depth < DEEPEST {
                self.look(&path, tallies, depth + 1);
            } else if path.extension().is_some_and(|ending| ending == "tally") {
                tallies.push(path);
            }
        }
    }

    fn take(&mut self, called: String, job: JobDone) {
        let mut why: Vec<(Why, Vec<String>)> = Vec::new();
        for (log, of) in job.left_out {
            match why.iter_mut().find(|(known, _)| *known == of) {
                Some((_, logs)) => logs.push(log),
                None => why.push((of, vec![log])),
            }
        }
        why.sort_by_key(|(of, _)| *of);
        for (of, logs) in why {
            let head = if logs.len() == 1 { "log" } else { "logs" };
            self.left_out.push(format!("{called}, {head} {}: {}", logs.join(", "), said(of)));
        }
        self.observed.add(job.observed);
        self.jobs.push(called);
    }

    /// That there is nothing to learn from, and why.
    fn nothing(&self, directory: &Path) -> String {
        let mut text = format!(
            "Nothing to learn from in {}: no job there has a job file, a kept promise and a tally with a log that is done.\n",
            shown(directory)
        );
        for line in &self.left_out {
            text += &format!("  {line}\n");
        }
        text
    }
}

fn said(why: Why) -> &'static str {
    match why {
        Why::NotPlanned => "no plan of it was kept",
        Why::NotDone => "it is not done",
        Why::NoTime => "the tally does not say how long it was on the mill",
        Why::TwoDays => "on the mill on two days, so its minutes do not count",
        Why::ClockBack => "the clock went back meanwhile, so its minutes do not count",
        Why::Found => "something was found in it, so it was not sawn as planned",
        Why::NoPieces => "nobody told what came out of it",
    }
}

/// What a job came to, by the files beside its tally; or why that cannot be known.
fn done(tally: &Path, outfit: &Outfit) -> Result<JobDone, String> {
    let file = ["toml", "json"].map(|ending| tally.with_extension(ending));
    let Some(file) = file.into_iter().find(|file| file.is_file()) else {
        return Err("there is no job file of that name beside it".to_owned());
    };
    let record: Record = match open(tally) {
        Ok(Some(record)) => record,
        Ok(None) => return Err("it is gone".to_owned()),
        Err(fault) => return Err(fault.to_string()),
    };
    let job = read_job(&file, "JOB").map_err(|faults| {
        let first = faults.first().map(ToString::to_string).unwrap_or_default();
        match faults.len() {
            0 | 1 => format!("its job file has a fault: {first}"),
            more => format!("its job file has {more} faults, the first: {first}"),
        }
    })?;
    if !matches!(job.mill_source, MillSource::Generic) && job.mill.name != outfit.mill.name {
        return Err(format!("sawn with another mill, {}", job.mill.name));
    }
    if !matches!(job.mill_source, MillSource::Generic) {
        let differ = built_otherwise(&job.mill, &outfit.mill);
        if !differ.is_empty() {
            return Err(format!(
                "sawn with a mill of the same name that is built otherwise ({}); if it is the same one, set right what its file says",
                differ.join(", ")
            ));
        }
    }
    let kept = kept(&tally.with_extension("promise"))?;
    // What was said last is all that is known; a stretch that was never ended does not last until today.
    let Some(last) = record.counted().map(|entry| entry.at.clone()).max() else {
        return Err("nothing was told in it".to_owned());
    };
    let so_far = SoFar::of(&record, &job, &kept, &last);
    Ok(JobDone::of(&job, &kept, &so_far))
}

fn kept(path: &Path) -> Result<Kept, String> {
    let text = fs::read_to_string(path).map_err(|error| match error.kind() {
        ErrorKind::NotFound => "its promise was not kept (pithward quote JOB --keep)".to_owned(),
        _ => format!("its kept promise cannot be read: {error}"),
    })?;
    Kept::read(&text).map_err(|fault| format!("its kept promise {fault}"))
}

/// What a job comes to by the old mill file and by the new one.
fn changes(
    job: PileJob,
    old: &Outfit,
    new: Option<&LearnedMill>,
    fit: &Fit,
    recovered: &Recovered,
) -> Result<Ahead, Outcome> {
    let called = Path::new(&job.file).file_name();
    let called =
        called.map_or_else(|| job.file.clone(), |name| name.to_string_lossy().into_owned());
    let reckoned = waiting(|wait| {
        let (job, _, plan) = planned_under(job, wait)?;
        if nothing_sawn(&plan) {
            return Ok(Err(nothing(&plan, format!("No log of {called} can be sawn.\n"))));
        }
        let helpers = job.yard.helpers(&old.pace);
        let mut before = job.clone();
        before.pace = pithward_job::Pace { helpers, ..old.pace };
        before.recovery = old.recovery;
        let mut after = job;
        let (pace, recovery) = match new {
            Some(new) => (new.outfit.pace, new.outfit.recovery),
            None => (fit.after, recovered.recovery().unwrap_or(old.recovery)),
        };
        after.pace = pithward_job::Pace { helpers, ..pace };
        after.recovery = recovery;
        // As a job is read that names the new file.
        for (field, figure, own) in [
            ("pace_day", &mut after.doubt.pace_day, fit.day_to_reckon()),
            ("pace_log", &mut after.doubt.pace_log, fit.log_to_reckon()),
        ] {
            if fit.logs > 0 && !before.doubt.is_stated(field) {
                *figure = (own * 1000.0).round() / 1000.0;
            }
        }
        let simulated = |job: &PileJob| -> Result<Forecast, PlanFault> {
            forecast(job, &plan, &ByHours::of(job), &Asked::default(), wait)
        };
        Ok(Ok((simulated(&before)?, simulated(&after)?)))
    });
    match reckoned {
        Ok(Ok((before, after))) => Ok(Ahead { job: called, before, after }),
        Ok(Err(outcome)) => Err(outcome),
        Err(fault) => Err(Outcome::Failed(fault)),
    }
}

/// Writes the new file beside the old one, under a name that is free.
fn written(old: &Path, on: &str, new: &LearnedMill) -> Result<Vec<String>, Outcome> {
    let stem = old.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    for n in 1..=MOST_FILES {
        let more = if n == 1 { String::new() } else { format!("-{n}") };
        let path = old.with_file_name(format!("{stem}-learned-{on}{more}.toml"));
        match write_new(&path, &new.text) {
            Ok(()) => {
                let changed = match new.changed.as_slice() {
                    [] => "No figure of the pace is another in it.".to_owned(),
                    fields => format!("Changed in it: {}.", fields.join(", ")),
                };
                return Ok(vec![format!(
                    "Wrote {}; {} is as it was. {changed} Each has a comment that says from what it was learned. Name the new \
                     file in your next jobs.",
                    shown(&path),
                    shown(old)
                )]);
            }
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                if fs::read(&path).is_ok_and(|there| there == new.text.as_bytes()) {
                    return Ok(vec![format!("{} is there already, word for word.", shown(&path))]);
                }
            }
            Err(error) => return Err(refused(&path, &error)),
        }
    }
    Err(Outcome::Unwritable {
        message: format!("there are {MOST_FILES} files learned on {on} beside {}", shown(old)),
        help: "move some of them elsewhere",
    })
}

fn refused(path: &Path, error: &std::io::Error) -> Outcome {
    Outcome::Unwritable {
        message: format!("{} cannot be written or read: {error}", shown(path)),
        help: "put the mill file into a folder of your own; the new one is written beside it; or use --show",
    }
}

//! What a plan was asked with, whole: it goes with the plan, so that whoever has the plan can go on from it.
//!
//! A plan says what is to be done; to be read back it must also say what was asked: who reads only the plan's own figures
//! would lack prices, grades and yards, and of a measured log what was rounded. So a job keeps what it was read from: the
//! bytes of its files, or what was typed, each under its name ([`words`]). Reading it back is reading it once more.
//!
//! A shape file may be larger than all the rest. One of more than [`KEPT_WHOLE`] bytes is kept by its mark alone, and must be
//! there, unchanged, when the plan is read.

mod files;
mod rest;
mod words;

pub(crate) use files::Folder;
pub use files::{AskedFile, Files, KEPT_WHOLE};
pub use words::Words;

use crate::fault::Fault;
use crate::job_file;
use crate::log_job::LogJob;
use crate::pile_job::PileJob;
use crate::rest_of_pile::Left;
use crate::sawing_request::OpenRequest;
use crate::stem::BuckRequest;
use crate::typed::Typed;
use pithward_optimizer::BuckedStem;
use std::path::Path;

/// What a job was asked with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskedFor {
    /// Who asked, and how.
    pub by: AskedBy,
    /// Every file that was read for it.
    pub files: Vec<AskedFile>,
}

/// How a job was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AskedBy {
    /// By a job file.
    Job {
        /// Its path, as the person wrote it.
        file: String,
        /// From where the files that it names are looked for.
        base: String,
        /// What was left of it, where the plan is of the rest of a pile.
        rest: Option<AskedRest>,
    },
    /// One log of a job file, for what the others leave.
    LogOf {
        /// The job file's path.
        file: String,
        /// From where the files that it names are looked for.
        base: String,
        /// How its stems had been cut; none where it had none.
        cut: Vec<BuckedStem>,
        /// What the log is called.
        id: String,
        /// For every want, how many are wanted of this log; `None` for as many as come.
        counts: Vec<Option<u32>>,
    },
    /// One log, by what was typed.
    Log(Words),
    /// One stem, by what was typed.
    Stem(Words),
}

/// What was left of a pile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskedRest {
    /// How its stems had been cut; none where it had none.
    pub cut: Vec<BuckedStem>,
    /// The logs and the wants that were left.
    pub left: Left,
}

impl AskedFor {
    /// The pile that was asked for, read once more; a stem is not yet cut. `None` where one log was asked for.
    ///
    /// # Errors
    /// Every fault of what was asked, as it was told when it was asked first.
    pub fn pile_job(&self) -> Option<Result<PileJob, Vec<Fault>>> {
        let files = Files::kept(&self.files);
        match &self.by {
            AskedBy::Log(_) | AskedBy::LogOf { .. } => None,
            AskedBy::Stem(words) => Some(words.buck(files).and_then(|request: BuckRequest| {
                let wants = Typed::new("wants", request.wants.texts.first().cloned());
                request.into_job()?.into_pile(&wants)
            })),
            AskedBy::Job { file, base, rest } => {
                let job = job_file::read_kept(file, Path::new(base), &files);
                Some(job.and_then(|job| match rest {
                    Some(AskedRest { cut, left }) => {
                        let job = job.cut_so(cut).map_or(job, |(job, _)| job);
                        Ok(job.rest(left)?.job)
                    }
                    None => Ok(job),
                }))
            }
        }
    }

    /// The one log that was asked for, read once more. `None` where a pile was.
    ///
    /// # Errors
    /// Every fault of what was asked.
    pub fn log_job(&self) -> Option<Result<LogJob, Vec<Fault>>> {
        match &self.by {
            AskedBy::Log(words) => {
                let request = words.open(Files::kept(&self.files));
                Some(request.and_then(OpenRequest::into_job))
            }
            AskedBy::LogOf { file, base, cut, id, counts } => {
                let job = job_file::read_kept(file, Path::new(base), &Files::kept(&self.files));
                Some(job.and_then(|job| {
                    let job = job.cut_so(cut).map_or(job, |(job, _)| job);
                    let log = job.log_called(&Typed::new("asked.log_of.id", Some(id.clone())));
                    Ok(job.half_job(log.map_err(|fault| vec![fault])?, counts))
                }))
            }
            AskedBy::Job { .. } | AskedBy::Stem(_) => None,
        }
    }

    /// The same where only a rest of the job that was asked for is left; `None` where it is no rest of a job file's.
    pub(crate) fn rest_of(&self, job: &PileJob, left: &Left) -> Option<Self> {
        let AskedBy::Job { file, base, rest: None } = &self.by else { return None };
        let rest = Some(AskedRest { cut: cut_of(job), left: left.clone() });
        let by = AskedBy::Job { file: file.clone(), base: base.clone(), rest };
        Some(Self { by, files: self.files.clone() })
    }

    /// The same of one of its logs.
    fn log_of(&self, job: &PileJob, log: usize, counts: &[Option<u32>]) -> Option<Self> {
        let AskedBy::Job { file, base, rest: None } = &self.by else { return None };
        let by = AskedBy::LogOf {
            file: file.clone(),
            base: base.clone(),
            cut: cut_of(job),
            id: job.logs.get(log)?.id.clone(),
            counts: counts.to_vec(),
        };
        Some(Self { by, files: self.files.clone() })
    }

    /// What was typed for one log, with the files that it names.
    pub(crate) fn of_log(request: &OpenRequest) -> Self {
        let log = &request.sawing.log;
        let files = typed_files(log.files(), request.sawing.mill.path.as_deref(), log.shape());
        Self { by: AskedBy::Log(Words::of_open(request)), files }
    }

    /// The same for a stem.
    pub(crate) fn of_stem(request: &BuckRequest) -> Self {
        let log = &request.sawing.log;
        let files = typed_files(log.files(), request.sawing.mill.path.as_deref(), log.shape());
        Self { by: AskedBy::Stem(Words::of_buck(request)), files }
    }
}

impl PileJob {
    /// One log of the job as a job of its own, of which so many of every want are wanted: `counts` has them in the order of the
    /// list, `None` for as many as come.
    ///
    /// # Panics
    /// Where the job has no such log.
    pub fn half_job(&self, log: usize, counts: &[Option<u32>]) -> LogJob {
        let mut job = self.log_job(log);
        for (want, count) in job.wants.iter_mut().zip(counts) {
            want.count = *count;
        }
        let asked = self.asked.as_deref().and_then(|asked| asked.log_of(self, log, counts));
        LogJob { asked: asked.map(Into::into), ..job }
    }
}

/// How the stems of a job are cut.
fn cut_of(job: &PileJob) -> Vec<BuckedStem> {
    job.cuts.as_ref().map_or_else(Vec::new, |cuts| cuts.stems.clone())
}

/// The files that were typed and could be read.
fn typed_files(files: &Files, mill: Option<&Path>, shape: Option<&str>) -> Vec<AskedFile> {
    let named = [mill, shape.map(Path::new)].into_iter().flatten();
    let mut read: Vec<AskedFile> = Vec::new();
    for path in named {
        if let Some(file) = files.again(path).filter(|file| !read.contains(file)) {
            read.push(file);
        }
    }
    read
}

//! What is left of a job once some of its logs are sawn: the same job with fewer logs and a shorter list.

use std::sync::Arc;

use pithward_geometry::FlawKinds;
use pithward_measure::{Length, Size};
use pithward_trade::WaneLimit;

use crate::as_grown::Extent;
use crate::fault::Fault;
use crate::flaw_text::{self, FLAW};
use crate::grade_text::GradeTerms;
use crate::heart_text::HeartRule;
use crate::log_job::PieceWorth;
use crate::parts::Parts;
use crate::pile_job::{JobLog, JobWant, PileJob};
use crate::place::Place;
use crate::sawing_request::usual_lengths;
use crate::typed::Typed;

/// What is left.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Left {
    /// The logs that are still to be sawn, by their places in the job.
    pub logs: Vec<usize>,
    /// The list as it is now, in the order of the job.
    pub wants: Vec<WantLeft>,
    /// What was found in logs that are still to be sawn: the log's place in the job, and the words.
    pub found: Vec<(usize, String)>,
}

/// A line of the list that is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WantLeft {
    /// Its place in the job; `None` for one that was added.
    pub want: Option<usize>,
    /// Its size.
    pub size: Size,
    /// How many are still wanted; `None` for as many as come.
    pub left: Option<u32>,
}

/// The rest of a job.
#[derive(Clone, Debug)]
pub struct RestJob {
    /// The job that is left.
    pub job: PileJob,
    /// What was found and could not be read as a flaw: the log, the words, what is wrong with them. Nothing is planned around
    /// it.
    pub unread: Vec<(String, String, Fault)>,
}

impl PileJob {
    /// The job with the logs and the wants that are left. A want of which nothing is left is kept where more than the count are
    /// welcome, for as many as come, and taken off the list where not. One that was added is worth a board foot what others
    /// are, and comes behind them.
    ///
    /// # Errors
    /// Wants whose worth cannot be weighed.
    pub fn rest(&self, left: &Left) -> Result<RestJob, Vec<Fault>> {
        let mut unread = Vec::new();
        let logs = left.logs.iter().filter_map(|place| {
            let mut log = self.logs.get(*place)?.clone();
            for (_, words) in left.found.iter().filter(|(of, _)| of == place) {
                if let Err(fault) = find(&mut log, words) {
                    unread.push((log.id.clone(), words.clone(), *fault));
                }
            }
            Some(log)
        });
        let asked = self.asked.as_deref().and_then(|asked| asked.rest_of(self, left));
        let asked = asked.map(Arc::new);
        let (stems, cuts) = (Vec::new(), None);
        let mut rest = Self { logs: logs.collect(), stems, cuts, asked, ..self.clone() };
        rest.wants =
            left.wants.iter().filter_map(|want| self.want_left(want, &rest.logs)).collect();
        match rest.put_list_first() {
            Ok(()) => Ok(RestJob { job: rest, unread }),
            Err(faults) => Err(faults
                .into_iter()
                .map(|(_, misread)| {
                    let place = Place::Nowhere;
                    Fault {
                        field: "wants".to_owned(),
                        kind: misread.kind,
                        help: misread.help,
                        place,
                    }
                })
                .collect()),
        }
    }

    fn want_left(&self, left: &WantLeft, logs: &[JobLog]) -> Option<JobWant> {
        let Some(want) = left.want.and_then(|want| self.wants.get(want)) else {
            return (left.left != Some(0)).then(|| self.added(left, logs));
        };
        match (left.left, want.extra) {
            (Some(0), None) => None,
            // More are welcome, for what one beyond the count is worth.
            (Some(0), Some(extra)) => {
                Some(JobWant { count: None, worth: extra, extra: None, first: 0, ..want.clone() })
            }
            (count, _) => Some(JobWant { count, ..want.clone() }),
        }
    }

    fn added(&self, left: &WantLeft, logs: &[JobLog]) -> JobWant {
        let longest = logs.iter().map(|log| log.log.length()).max().unwrap_or_default();
        let usual = || usual_lengths(&left.size, longest.min(self.mill.longest) - self.trim);
        JobWant {
            size: left.size,
            count: left.left,
            lengths: left.size.length.map_or_else(usual, |length| vec![length]),
            open_lengths: left.size.length.is_none(),
            wane: WaneLimit::Legs(Length::ZERO),
            heart: HeartRule::Any,
            tolerates: FlawKinds::NONE,
            worth: PieceWorth::BoardFoot(self.worth.board_foot),
            extra: None,
            first: 0,
            species: Vec::new(),
            grade: GradeTerms::default(),
            blocking: false,
        }
    }
}

/// Puts a flaw that was found into a log.
fn find(log: &mut JobLog, words: &str) -> Result<(), Box<Fault>> {
    let typed = Typed::new("found", Some(words.to_owned()));
    let mut faults = Vec::new();
    let extent = Extent {
        long: Some(log.log.length()),
        small: Some((log.log.small_end(), log.log.small_end())),
        butt: Some((log.log.butt(), log.log.butt())),
        twice: (false, false),
    };
    let flare = log.told.taped.and_then(|taped| taped.flare);
    let extra = flare.map_or(Length::ZERO, |flare| flare.extra);
    let parts = Parts::of_text(&typed, &FLAW, &mut faults);
    let named = parts.and_then(|parts| flaw_text::read(&parts, &extent, extra, &mut faults));
    let beyond = |named: &flaw_text::NamedFlaw| {
        named.flaws.iter().any(|flaw| flaw.fault(&log.log).is_some())
    };
    match named {
        Some(named) if faults.is_empty() && !beyond(&named) => {
            let flaws: Vec<_> =
                log.log.flaws().iter().copied().chain(named.flaws.iter().copied()).collect();
            log.log = log.log.clone().with_flaws(flaws);
            log.told.flaws.push(named);
            Ok(())
        }
        _ => Err(Box::new(faults.into_iter().next().unwrap_or_else(|| {
            let got = pithward_measure::Excerpt::new(words);
            typed.fault(
                crate::fault::FaultKind::Unknown { what: "flaw of this log", got, nearest: None },
                "write what is wrong and where, within the log",
            )
        }))),
    }
}

#[cfg(test)]
mod tests {
    use super::{Left, WantLeft};
    use crate::job_file::{parse_job, starter_job};
    use crate::pile_job::PileJob;
    use pithward_measure::Size;
    use std::path::Path;

    fn job() -> PileJob {
        parse_job(starter_job().as_bytes(), "job.toml", "JOB", Path::new("")).unwrap()
    }

    /// All of a job.
    fn all(job: &PileJob) -> Left {
        let want = |(n, want): (usize, &crate::pile_job::JobWant)| WantLeft {
            want: Some(n),
            size: want.size,
            left: want.count,
        };
        Left {
            logs: (0..job.logs.len()).collect(),
            wants: job.wants.iter().enumerate().map(want).collect(),
            found: Vec::new(),
        }
    }

    #[test]
    fn with_all_left_it_is_the_job() {
        let job = job();
        let rest = job.rest(&all(&job)).unwrap();
        assert_eq!((&rest.job.wants, &rest.job.logs), (&job.wants, &job.logs));
        assert!(rest.unread.is_empty());
    }

    #[test]
    fn logs_wants_and_findings_change_it() {
        let job = job();
        let mut left = all(&job);
        left.logs.remove(0);
        let counted = job.wants.iter().position(|want| want.count.is_some()).unwrap();
        left.wants[counted].left = Some(1);
        left.wants.push(WantLeft {
            want: None,
            size: Size::parse("3x3x8").unwrap(),
            left: Some(2),
        });
        left.wants.push(WantLeft {
            want: None,
            size: Size::parse("3x4x8").unwrap(),
            left: Some(0),
        });
        left.found = vec![
            (1, "rot radius 1 1/2 in from butt length 2 ft".to_owned()),
            (1, "an old nail somewhere".to_owned()),
            (0, "rot radius 2 in".to_owned()),
        ];
        let rest = job.rest(&left).unwrap();
        assert_eq!(rest.job.logs.len(), job.logs.len() - 1);
        let flaws = |job: &PileJob, n: usize| job.logs[n].log.flaws().len();
        assert_eq!(flaws(&rest.job, 0), flaws(&job, 1) + 1);
        assert_eq!(rest.unread.len(), 1);
        assert_eq!(rest.unread[0].1, "an old nail somewhere");
        assert_eq!(rest.job.wants[counted].count, Some(1));
        let added = rest.job.wants.last().unwrap();
        assert_eq!((added.size.to_string().as_str(), added.count), ("3x3x8", Some(2)));
        assert_eq!(rest.job.wants.len(), job.wants.len() + 1);
        assert!(added.first > 0);
    }

    #[test]
    fn a_filled_want_is_gone_unless_more_are_welcome() {
        let mut job = job();
        let counted: Vec<usize> =
            (0..job.wants.len()).filter(|n| job.wants[*n].count.is_some()).collect();
        job.wants[counted[0]].extra = None;
        let mut left = all(&job);
        left.wants[counted[0]].left = Some(0);
        assert_eq!(job.rest(&left).unwrap().job.wants.len(), job.wants.len() - 1);
        job.wants[counted[0]].extra = Some(job.wants[counted[0]].worth);
        let rest = job.rest(&left).unwrap().job;
        assert_eq!((rest.wants.len(), rest.wants[counted[0]].count), (job.wants.len(), None));
    }
}

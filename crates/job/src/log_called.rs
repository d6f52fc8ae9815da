//! A log of a job by the name that is written on its end.

use pithward_measure::Excerpt;

use crate::fault::{Fault, FaultKind};
use crate::pile_job::PileJob;
use crate::typed::Typed;

/// The most names that help lists whole.
const LISTED: usize = 12;

impl PileJob {
    /// The place in [`PileJob::logs`] of the log that is called so, blanks around the name left out.
    ///
    /// # Errors
    /// Nothing was typed, or no log is called so.
    #[allow(clippy::result_large_err, reason = "whoever asks puts it among the other faults")]
    pub fn log_called(&self, typed: &Typed) -> Result<usize, Fault> {
        let text = typed.text.as_deref().unwrap_or_default();
        let id = text.trim();
        self.logs.iter().position(|log| log.id == id).ok_or_else(|| {
            let kind = FaultKind::Unknown {
                what: "log of the job",
                got: Excerpt::new(text),
                nearest: None,
            };
            let mut ids: Vec<&str> = self.logs.iter().map(|log| log.id.as_str()).collect();
            let all = ids.len();
            ids.truncate(LISTED);
            let more =
                if all > LISTED { format!(" and {} more", all - LISTED) } else { String::new() };
            typed.fault(kind, format!("name a log as the job does: {}{more}", ids.join(", ")))
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::job_file::{parse_job, starter_job};
    use crate::typed::Typed;
    use std::path::Path;

    #[test]
    #[allow(clippy::result_large_err, reason = "it is looked at and dropped")]
    fn a_log_by_what_is_written_on_it() {
        let job =
            parse_job(starter_job().as_bytes(), "starter.toml", "JOB", Path::new("")).unwrap();
        let called = |id: &str| job.log_called(&Typed::new("--card", Some(id.to_owned())));
        for (n, log) in job.logs.iter().enumerate() {
            assert_eq!(called(&format!(" {} ", log.id)), Ok(n));
        }
        let fault = called("no such").unwrap_err();
        assert_eq!(fault.to_string(), "--card: \"no such\" is no log of the job");
        assert!(fault.help.ends_with(&job.logs.last().unwrap().id), "{}", fault.help);
        assert!(job.log_called(&Typed::new("--card", None)).is_err());
    }
}

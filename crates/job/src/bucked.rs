//! Stems on their way through the search: what is asked of it, and the job with the logs that it cut.

use std::collections::BTreeSet;

use pithward_geometry::{Flaw, Log};
use pithward_measure::Length;
use pithward_optimizer::{BuckTerms, Bucked, BuckedStem, PartKind, Pile, PileStem, StemPart};

use crate::along::Stretch;
use crate::fault::Fault;
use crate::flaw_text::NamedFlaw;
use crate::log_job::Told;
use crate::need::pile_of;
use crate::pile_job::{JobLog, PileJob};
use crate::stem::{JobStem, StemJob};
use crate::typed::Typed;

/// What a stem is called that nobody gave a name.
const STEM: &str = "S";

impl StemJob {
    /// The job of a pile that has no logs but those of this stem.
    ///
    /// # Errors
    /// Wants whose worth cannot be weighed; `wants` is what they are called.
    pub fn into_pile(self, wants: &Typed) -> Result<PileJob, Vec<Fault>> {
        let Self { job, cut_out, bucking } = self;
        let mut job = PileJob { bucking, ..pile_of(job) };
        let stem = job.logs.pop().map(|log| JobLog { id: STEM.to_owned(), ..log });
        job.stems.extend(stem.map(|stem| JobStem { stem, cut_out }));
        job.put_list_first().map_err(|found| {
            found.into_iter().map(|(_, misread)| wants.placed(misread)).collect::<Vec<_>>()
        })?;
        Ok(job)
    }
}

impl PileJob {
    /// What the search is asked where stems are to be cut: the logs of the pile, with a menu for every wood of logs and
    /// stems; the stems; and how they may be cut.
    pub fn with_stems(&self) -> (Pile, Vec<PileStem>, BuckTerms) {
        let (pile, menus) = self.pile_and_menus();
        let stems = self.stems.iter().zip(menus).map(|(of, menu)| pile_stem(of, menu)).collect();
        let lengths = self.bucking.log_lengths.as_ref();
        let terms = BuckTerms {
            chain_kerf: self.bucking.chain_kerf,
            lengths: lengths
                .map(|lengths| lengths.iter().map(|length| *length + self.trim).collect()),
            shortest: self.bucking.shortest,
            longest: self.bucking.longest,
        };
        (pile, stems, terms)
    }

    /// The job with the logs that a search cut from its stems behind its own, each named for its stem and its place in
    /// it, counted from the butt: `S1-1`, `S1-2`.
    #[must_use]
    pub fn bucked(&self, bucked: &Bucked) -> Self {
        let job = self.with_cut_logs(&bucked.cuts.stems, &bucked.pile);
        Self { cuts: Some(bucked.cuts.clone()), ..job }
    }

    /// The job with the logs of a pile that are cut from its stems.
    pub(crate) fn with_cut_logs(&self, cut: &[BuckedStem], pile: &Pile) -> Self {
        let mut taken: BTreeSet<String> = self.logs.iter().map(|log| log.id.clone()).collect();
        let mut logs = self.logs.clone();
        let mut doubt = self.doubt.clone();
        for (JobStem { stem, .. }, cut) in self.stems.iter().zip(cut) {
            let places = cut.parts.iter().filter_map(|part| match part.what {
                PartKind::Log(place) => Some((place, part)),
                _ => None,
            });
            for (n, (place, part)) in (1..).zip(places) {
                let Some(log) = pile.logs.get(place) else { continue };
                let mut id = format!("{}-{n}", stem.id);
                while !taken.insert(id.clone()) {
                    id.push('\'');
                }
                // A log is known as well as the stem that it is cut from.
                if let Some(measured) = self.doubt.otherwise.get(&stem.id) {
                    doubt.otherwise.insert(id.clone(), *measured);
                }
                logs.push(cut_from(stem, part, id, log.log.clone()));
            }
        }
        Self { logs, doubt, ..self.clone() }
    }
}

/// A log cut from a stem.
fn cut_from(stem: &JobLog, part: &StemPart, id: String, log: Log) -> JobLog {
    let end = stem.log.length();
    let (low, high) = (end - part.to, end - part.from);
    let within = |flaw: &Flaw| {
        let (from, to) = (flaw.from.max(low), flaw.to.min(high));
        (from < to).then(|| Flaw { from: from - low, to: to - low, ..*flaw })
    };
    let named = |named: &NamedFlaw| NamedFlaw {
        words: format!("{} (as said of stem {})", named.words, stem.id),
        flaws: named.flaws.iter().filter_map(within).collect(),
        ..named.clone()
    };
    let flaws = stem.told.flaws.iter().map(named).filter(|named| !named.flaws.is_empty());
    let scanned = stem.told.scanned.clone();
    let seen = stem.told.seen.within(low, high, &stem.id);
    let told = Told { taped: None, flaws: flaws.collect(), seen, of_stem: true, scanned };
    JobLog { id, log, told, notes: String::new(), two_diameters: false, ..stem.clone() }
}

/// A stem as the search has it: all places from the butt.
fn pile_stem(of: &JobStem, menu: usize) -> PileStem {
    let log = of.stem.log.clone();
    let end = log.length();
    let cut_out = of.cut_out.iter().map(|Stretch { from, to }| (end - *to, end - *from)).collect();
    let mut breaks: BTreeSet<Length> = BTreeSet::new();
    if let Some(taped) = of.stem.told.taped {
        breaks.extend(taped.crook.map(|crook| end - crook.at));
        breaks.extend(taped.sweep.map(|sweep| end - sweep.at));
        breaks.extend(taped.flare.map(|flare| flare.length));
    } else {
        breaks.extend(log.looks().map(|looks| end - looks.bow.at));
    }
    breaks.extend(log.flaws().iter().flat_map(|flaw| [end - flaw.to, end - flaw.from]));
    let breaks = breaks.into_iter().filter(|at| *at > Length::ZERO && *at < end).collect();
    PileStem { log, menu, cut_out, breaks }
}

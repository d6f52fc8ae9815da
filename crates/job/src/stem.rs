//! Long stems, and how they may be bucked into logs.
//!
//! A stem has all that a log has. Beyond that there are stretches that no log may hold, and the terms of bucking: what
//! the chain turns to sawdust, and how long logs may be.

use pithward_geometry::Mill;
use pithward_measure::{Excerpt, Length, Unit};

use crate::along::{Stretch, stretch};
use crate::asked::AskedFor;
use crate::fault::{Fault, FaultKind};
use crate::file::{Form, Right};
use crate::length_list;
use crate::log_job::LogJob;
use crate::parts::{Parts, PartsForm};
use crate::pile_job::JobLog;
use crate::sawing_request::SawingRequest;
use crate::typed::{Asked, Typed, TypedList};

/// What a chainsaw turns to sawdust where nobody says: common practice, no source.
pub const CHAIN_KERF: Length = Length::sixty_fourths(24);

/// The widest cut of a chain; more is a slip of the unit.
const MOST_CHAIN_KERF: Length = Length::inches(1);
/// The shortest and the longest log that anyone bucks.
const LOGS: (Length, Length) = (Length::feet(1), Length::feet(100));

const KERF: Asked = Asked {
    help: "write what one cut of the chainsaw turns to sawdust, as in 3/8 in or 9 mm",
    bare: Unit::Inch,
};
const SHORTEST: Asked =
    Asked { help: "write the shortest log that is wanted, as in 8 ft or 2.5 m", bare: Unit::Foot };
const LONGEST: Asked =
    Asked { help: "write the longest log that is wanted, as in 16 ft or 5 m", bare: Unit::Foot };
const LENGTHS_HELP: &str = "list lengths between the shortest log and the longest, the trim left out: the log is cut longer by it";

/// A stretch that no log may hold, as a text or as a table.
pub(crate) const CUT_OUT: PartsForm = PartsForm {
    form: Form { of: "a stretch", fields: &["from", "to", "length"] },
    head: "from",
    also: &[],
    right: Right {
        what: "a list of stretches",
        help: "write each in quotes, as in cut_out = [\"12 ft to 14 ft\"] (from the butt)",
        bare: false,
    },
};

/// One stem of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct JobStem {
    /// The stem itself, measured as a log is.
    pub stem: JobLog,
    /// Stretches that no log may hold, as they were written.
    pub cut_out: Vec<Stretch>,
}

/// How stems may be bucked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bucking {
    /// What one cut of the chainsaw turns to sawdust.
    pub chain_kerf: Length,
    /// Lengths that count of the logs, shortest first; each is cut longer by the trim. `None` for any length.
    pub log_lengths: Option<Vec<Length>>,
    /// The shortest log.
    pub shortest: Length,
    /// The longest log.
    pub longest: Length,
}

impl Bucking {
    /// Where nobody says otherwise: [`CHAIN_KERF`], and any log that the mill takes.
    pub fn on(mill: &Mill) -> Self {
        Self {
            chain_kerf: CHAIN_KERF,
            log_lengths: None,
            shortest: mill.shortest.max(LOGS.0),
            longest: mill.longest.min(LOGS.1),
        }
    }
}

/// One stem, its wants and its mill, checked and ready to be bucked.
#[derive(Clone, Debug)]
pub struct StemJob {
    /// The stem, in place of the log, and all else.
    pub job: LogJob,
    /// Stretches that no log may hold.
    pub cut_out: Vec<Stretch>,
    /// How it may be bucked.
    pub bucking: Bucking,
}

/// A request for how one stem is bucked.
#[derive(Clone, Debug)]
pub struct BuckRequest {
    /// The stem in place of the log, the mill and how to search.
    pub sawing: SawingRequest,
    /// The customer's list, each line in the form of [`WantText`](crate::WantText).
    pub wants: TypedList,
    /// Stretches that no log may hold: `12 ft to 14 ft`, from the butt.
    pub cut_out: TypedList,
    /// How it may be bucked.
    pub bucking: BuckingRequest,
}

/// How stems may be bucked, as it was typed.
#[derive(Clone, Debug)]
pub struct BuckingRequest {
    /// What one cut of the chainsaw turns to sawdust; a bare number is inches.
    pub chain_kerf: Typed,
    /// Lengths that count of the logs; bare numbers are feet.
    pub log_lengths: Vec<Typed>,
    /// The shortest log; a bare number is feet.
    pub shortest: Typed,
    /// The longest log; a bare number is feet.
    pub longest: Typed,
}

impl BuckRequest {
    /// The job.
    ///
    /// # Errors
    /// Every fault of the request and of the mill file.
    pub fn into_job(self) -> Result<StemJob, Vec<Fault>> {
        let mut faults = Vec::new();
        let stem = self.sawing.log.measure(&mut faults);
        let mut of_stem = Vec::new();
        let name = self.cut_out.name;
        let typed = self.cut_out.texts.iter().map(|text| Typed::new(name, Some(text.clone())));
        let cut_out = typed
            .filter_map(|typed| Parts::of_text(&typed, &CUT_OUT, &mut of_stem))
            .collect::<Vec<_>>();
        let long = stem.as_ref().map(|stem| stem.log.length());
        let cut_out = cut_outs(&cut_out, long, &mut of_stem);
        faults.extend(of_stem);
        let mill = self.sawing.chosen_mill();
        let trim = stem.as_ref().map_or(Length::ZERO, |stem| stem.trim);
        let bucking = self.bucking.read(mill.as_ref(), trim, &mut faults);
        let longest = bucking.as_ref().map(|bucking| bucking.longest);
        let job = self.sawing.stem_job(stem, longest, &self.wants, faults)?;
        let job = LogJob { asked: Some(AskedFor::of_stem(&self).into()), ..job };
        // Whatever had no value had a fault.
        bucking.map(|bucking| StemJob { job, cut_out, bucking }).ok_or_else(Vec::new)
    }
}

impl BuckingRequest {
    /// The terms; `None` where they have a fault, or where nobody knows the mill.
    pub(crate) fn read(
        &self,
        mill: Option<&Mill>,
        trim: Length,
        faults: &mut Vec<Fault>,
    ) -> Option<Bucking> {
        let before = faults.len();
        let plain = mill.map(Bucking::on);
        let limits = || LOGS.0..=LOGS.1;
        let chain_kerf = self.chain_kerf.length(faults, KERF, Length::mm(1)..=MOST_CHAIN_KERF);
        let mut lengths: Vec<Length> = Vec::new();
        for typed in &self.log_lengths {
            let read = typed.read(faults, |text| length_list::read(text, Unit::Foot));
            lengths.extend(read.unwrap_or_default());
        }
        let shortest = self.shortest.length(faults, SHORTEST, limits());
        let longest = self.longest.length(faults, LONGEST, limits());
        if let (Some(small), Some(large)) = (shortest, longest)
            && small > large
        {
            let kind = FaultKind::Contradiction { larger: "longest", small, large };
            faults.push(self.shortest.fault(kind, SHORTEST.help));
        }
        let plain = plain?;
        let shortest = shortest.unwrap_or(plain.shortest.min(longest.unwrap_or(plain.shortest)));
        let longest = longest.unwrap_or(plain.longest.max(shortest));
        let fits = |length: &Length| (shortest..=longest).contains(&(*length + trim));
        if let Some(typed) = self.log_lengths.first()
            && faults.len() == before
            && !lengths.iter().all(fits)
        {
            let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
            let (least, greatest) = (shortest - trim, (longest - trim).max(shortest - trim));
            faults.push(typed.fault(FaultKind::Range { least, greatest, got }, LENGTHS_HELP));
        }
        lengths.sort_unstable();
        lengths.dedup();
        (faults.len() == before).then_some(Bucking {
            chain_kerf: chain_kerf.unwrap_or(plain.chain_kerf),
            log_lengths: (!self.log_lengths.is_empty()).then_some(lengths),
            shortest,
            longest,
        })
    }
}

/// Stretches of a stem that is so long, from the small end; those with a fault are left out.
pub(crate) fn cut_outs(
    parts: &[Parts],
    long: Option<Length>,
    faults: &mut Vec<Fault>,
) -> Vec<Stretch> {
    parts.iter().filter_map(|parts| stretch(parts, long, faults)).collect()
}

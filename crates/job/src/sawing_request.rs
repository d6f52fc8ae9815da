//! A log, a mill and the wants as a person typed them, and the job that they make.
//!
//! Two requests share most of what they are told: [`OpenRequest`] asks for the best plan for a list of
//! wants, [`CountRequest`] for the most pieces of one size.

use std::collections::BTreeMap;

use pithward_geometry::Mill;
use pithward_measure::{Excerpt, Length, Scale, Size, Unit, Width, Writing};
use pithward_optimizer::{Method, Settings};
use pithward_trade::{SizePolicy, nearest_word, target};

use crate::fault::{Fault, FaultKind, Misread};
use crate::length_list;
use crate::log_job::{LogJob, MillSource, NamedWant};
use crate::log_request::{LogRequest, MeasuredLog};
use crate::mill_file::{generic_mill, read_mill};
use crate::size_policy::PolicyRequest;
use crate::typed::{Switch, Typed, TypedList, TypedPath, length};
use crate::want_text::WantText;

/// The methods by the words that are typed for them, in the order of [`Method::ALL`].
pub const METHOD_WORDS: [(&str, Method); 5] = [
    ("through", Method::Through),
    ("through-turned", Method::ThroughTurned),
    ("two-sided", Method::TwoSidedCant),
    ("four-sided", Method::FourSidedCant),
    ("boxed", Method::BoxedHeart),
];

/// Nobody's board may be off by more; a larger tolerance is a slip of the unit.
const MOST_TOLERANCE: Length = Length::sixty_fourths(32);

/// The shortest board that is sawn where nobody says otherwise, and the step to the next longer one:
/// common practice, from no source. Shorter boards would be given where a log is short or the taper leaves
/// them, and counted as yield that few can use.
const SHORTEST_IMPERIAL: Length = Length::feet(6);
const STEP_IMPERIAL: Length = Length::feet(1);
/// The same where the size is in millimetres.
const SHORTEST_METRIC: Length = Length::mm(1800);
const STEP_METRIC: Length = Length::mm(300);

const TOLERANCE_HELP: &str = "write how far a board may be off once the blade is set, at least one step of the \
    mill's scale, as in 1/16 in or 1 mm; a bare number is inches";
const METHOD_HELP: &str = "write through, through-turned, two-sided, four-sided or boxed";
const WANT_HELP: &str = "write at least one, as in 2x8x12=6 (six), 2x8x12=6+ (six, more are welcome) or 1x6 (as many as come)";
const SIZE_HELP: &str = "write one size, as in 2x6 or 2x6x12";
const TARGET_HELP: &str = "name a size that the policy knows, or choose full sizes";

/// What both requests are told.
#[derive(Clone, Debug)]
pub struct SawingRequest {
    /// The log.
    pub log: LogRequest,
    /// A mill file; the stated generic mill without one.
    pub mill: TypedPath,
    /// How named sizes become sawn ones.
    pub policy: PolicyRequest,
    /// Lengths that are accepted where a want names none; bare numbers are feet.
    pub lengths: Typed,
    /// How far a board may be off; one step of the scale without it. A bare number is inches.
    pub tolerance: Typed,
    /// Methods to search by the words of [`METHOD_WORDS`]; all of them where none is typed.
    pub methods: TypedList,
}

/// A request for the best plan for one log.
#[derive(Clone, Debug)]
pub struct OpenRequest {
    /// The log, the mill and how to search.
    pub sawing: SawingRequest,
    /// The customer's list, each line in the form of [`WantText`].
    pub wants: TypedList,
}

/// A request for the most pieces of one size from one log.
#[derive(Clone, Debug)]
pub struct CountRequest {
    /// The log, the mill and how to search.
    pub sawing: SawingRequest,
    /// The size, in the form of [`WantText`] without a count.
    pub size: Typed,
}

impl OpenRequest {
    /// A request for a log by its diameters at the small end and at the butt and its length, and for the
    /// lines of a list, as a person writes them; all else as where nobody says otherwise. What more is
    /// known goes into the fields.
    pub fn new(small_end: &str, butt: &str, length: &str, wants: &[&str]) -> Self {
        let typed = |name, text: &str| Typed::new(name, Some(text.to_owned()));
        let log = LogRequest {
            small_end: typed("small end", small_end),
            butt: typed("butt", butt),
            length: typed("length", length),
            species: Typed::new("species", None),
            bark: Typed::new("bark", None),
            over_bark: Switch { name: "over bark", on: false },
            trim: Typed::new("trim", None),
        };
        let policy = PolicyRequest {
            sizes: Typed::new("sizes", None),
            final_moisture: Typed::new("final moisture", None),
            planing: Typed::new("planing", None),
            sawing_deviation: Typed::new("sawing deviation", None),
            undersize: Typed::new("undersize", None),
        };
        let sawing = SawingRequest {
            log,
            mill: TypedPath { name: "mill", path: None },
            policy,
            lengths: Typed::new("lengths", None),
            tolerance: Typed::new("tolerance", None),
            methods: TypedList { name: "method", texts: Vec::new() },
        };
        let wants = wants.iter().map(|want| (*want).to_owned()).collect();
        Self { sawing, wants: TypedList { name: "want", texts: wants } }
    }

    /// The job.
    ///
    /// # Errors
    /// Every fault of the request and of the mill file.
    pub fn into_job(self) -> Result<LogJob, Vec<Fault>> {
        let mut faults = Vec::new();
        let log = self.sawing.log.measure(&mut faults);
        let wants = read_wants(&self.wants, &mut faults);
        let ground = self.sawing.ground(log, &mut faults);
        ground.job(wants, usual_lengths, faults)
    }
}

impl CountRequest {
    /// The job, and the one size that is its only want, as many as come. Where neither the size nor the
    /// request names a length, it is the full length of the log, in whole feet (whole 300 mm for a size in
    /// millimetres).
    ///
    /// # Errors
    /// Every fault of the request and of the mill file.
    pub fn into_job(self) -> Result<(LogJob, Size), Vec<Fault>> {
        let mut faults = Vec::new();
        let log = self.sawing.log.measure(&mut faults);
        let line = self.line(&mut faults);
        let size = line.as_ref().map(|line| line.want.size);
        let ground = self.sawing.ground(log, &mut faults);
        let job = ground.job(line.into_iter().collect(), full_length, faults)?;
        // Without a size there was a fault.
        size.map(|size| (job, size)).ok_or_else(Vec::new)
    }

    fn line(&self, faults: &mut Vec<Fault>) -> Option<Line> {
        self.size.require(faults, SIZE_HELP, |_| Ok(()))?;
        let (name, text) = (self.size.name, self.size.text.clone()?);
        match countable(&text) {
            Ok(want) => Some(Line { name, text, want }),
            Err(misread) => {
                faults.extend(misread.into_iter().map(|misread| misread.of(name, &text)));
                None
            }
        }
    }
}

/// One want, and what was typed for it.
struct Line {
    name: &'static str,
    text: String,
    want: WantText,
}

impl Line {
    fn fault(&self, kind: impl Into<FaultKind>, help: &'static str) -> Fault {
        Misread::new(kind, 0..0, help).of(self.name, &self.text)
    }
}

fn read_wants(wants: &TypedList, faults: &mut Vec<Fault>) -> Vec<Line> {
    if wants.texts.is_empty() {
        faults.push(Typed::new(wants.name, None).fault(FaultKind::Missing, WANT_HELP));
    }
    let mut lines: Vec<Line> = Vec::new();
    // By what makes two wants the same, the text of the first.
    let mut known: BTreeMap<_, String> = BTreeMap::new();
    for text in &wants.texts {
        let want = match WantText::parse(text) {
            Ok(want) => want,
            Err(misread) => {
                faults.extend(misread.into_iter().map(|misread| misread.of(wants.name, text)));
                continue;
            }
        };
        let line = Line { name: wants.name, text: text.clone(), want };
        let WantText { size, wane, lengths, .. } = &line.want;
        let lengths = size.length.map(|length| vec![length]).or_else(|| lengths.clone());
        let same = (size.thickness, size.width, *wane, lengths);
        if let Some(earlier) = known.get(&same) {
            let kind =
                FaultKind::SameWant { got: Excerpt::new(text), earlier: Excerpt::new(earlier) };
            let help = "put both into one, as in 2x6x12=8, or 2x6x12=8+ where more are welcome";
            faults.push(line.fault(kind, help));
            continue;
        }
        known.insert(same, text.clone());
        lines.push(line);
    }
    lines
}

/// A size whose pieces can be counted.
fn countable(text: &str) -> Result<WantText, Vec<Misread>> {
    let want = WantText::parse(text)?;
    let mut faults = Vec::new();
    let got = || Excerpt::new(text);
    if want.count.is_some() {
        faults.push(Misread::new(FaultKind::CountHere { got: got() }, 0..0, SIZE_HELP));
    }
    if matches!(want.size.width, Width::AtLeast(_)) {
        let kind = FaultKind::RandomWidthHere { got: got() };
        faults.push(Misread::new(kind, 0..0, "name one width, as in 4/4x6 or 1x6"));
    }
    if faults.is_empty() { Ok(want) } else { Err(faults) }
}

/// Everything of a job but its wants, as far as it could be read.
struct Ground {
    log: Option<MeasuredLog>,
    over_bark: bool,
    mill: Option<(Mill, Scale, MillSource)>,
    policy: Option<SizePolicy>,
    lengths: Option<Vec<Length>>,
    settings: Option<Settings>,
}

impl SawingRequest {
    fn ground(&self, log: Option<MeasuredLog>, faults: &mut Vec<Fault>) -> Ground {
        let species = log.as_ref().and_then(|log| log.species);
        let policy = self.policy.choose(species, &self.log.species, faults);
        let lengths = self.lengths.read(faults, |text| length_list::read(text, Unit::Foot));
        let methods = self.methods(faults);
        let mill = self.mill(faults);
        let step = mill.as_ref().map(|(mill, ..)| mill.step);
        let least = step.unwrap_or_default();
        let read = length(Unit::Inch, least..=MOST_TOLERANCE.max(least), TOLERANCE_HELP);
        let tolerance = self.tolerance.read(faults, read).or(step);
        let settings = tolerance.map(|tolerance| Settings { methods, tolerance });
        Ground { log, over_bark: self.log.over_bark.on, mill, policy, lengths, settings }
    }

    fn mill(&self, faults: &mut Vec<Fault>) -> Option<(Mill, Scale, MillSource)> {
        let (mill, source) = match &self.mill.path {
            None => (generic_mill(), MillSource::Generic),
            Some(path) => match read_mill(path, self.mill.name) {
                Ok(mill) => (mill, MillSource::File(path.to_string_lossy().into_owned())),
                Err(found) => {
                    faults.extend(found);
                    return None;
                }
            },
        };
        // Whoever read the mill has checked that there is such a scale.
        let scale = Scale::from_step(mill.step)?;
        Some((mill, scale, source))
    }

    fn methods(&self, faults: &mut Vec<Fault>) -> Vec<Method> {
        if self.methods.texts.is_empty() {
            return Method::ALL.to_vec();
        }
        let mut chosen = Vec::new();
        for text in &self.methods.texts {
            match METHOD_WORDS.iter().find(|(word, _)| *word == text.trim()) {
                Some((_, method)) => chosen.push(*method),
                None => {
                    let nearest = nearest_word(text, &METHOD_WORDS.map(|(word, _)| word));
                    let kind =
                        FaultKind::Unknown { what: "method", got: Excerpt::new(text), nearest };
                    faults.push(Misread::new(kind, 0..0, METHOD_HELP).of(self.methods.name, text));
                }
            }
        }
        Method::ALL.into_iter().filter(|method| chosen.contains(method)).collect()
    }
}

impl Ground {
    /// The job, if neither what was read before nor the wants have a fault. `open_lengths` says which
    /// lengths are accepted where nobody names any.
    fn job(
        self,
        lines: Vec<Line>,
        open_lengths: fn(&Size, &MeasuredLog) -> Vec<Length>,
        mut faults: Vec<Fault>,
    ) -> Result<LogJob, Vec<Fault>> {
        let mut wants = Vec::new();
        for line in &lines {
            let Some(policy) = self.policy else { break };
            let want = &line.want;
            let species = self.log.as_ref().and_then(|log| log.species);
            // The species has a fault already, and a finished size is nothing without it.
            if matches!(policy, SizePolicy::Finished(_)) && species.is_none() {
                break;
            }
            let target = match target(policy, &want.size, species) {
                Ok(target) => target,
                Err(fault) => {
                    faults.push(line.fault(fault, TARGET_HELP));
                    continue;
                }
            };
            if let Err(fault) = want.wane.on(target.thickness, target.width) {
                faults.push(line.fault(fault, "allow less wane, or none"));
                continue;
            }
            let Some(log) = &self.log else { continue };
            let named = want.size.length.map(|length| vec![length]);
            let lengths = named
                .or_else(|| want.lengths.clone())
                .or_else(|| self.lengths.clone())
                .unwrap_or_else(|| open_lengths(&want.size, log));
            wants.push(NamedWant {
                size: want.size,
                target,
                count: want.count,
                more_welcome: want.more_welcome,
                lengths,
                wane: want.wane,
            });
        }
        let (Some(measured), Some((mill, scale, mill_source)), Some(policy), Some(settings), true) =
            (self.log, self.mill, self.policy, self.settings, faults.is_empty())
        else {
            return Err(faults);
        };
        Ok(LogJob {
            log: measured.log,
            species: measured.species,
            bark: measured.bark,
            taped_over_bark: self.over_bark,
            mill,
            mill_source,
            scale,
            policy,
            trim: measured.trim,
            wants,
            settings,
        })
    }
}

/// Every usual length that the log gives; the shortest usual one where it gives none, so that whoever
/// plans can say that the log is too short.
fn usual_lengths(size: &Size, log: &MeasuredLog) -> Vec<Length> {
    let (shortest, step) = match size.writing {
        Writing::Metric => (SHORTEST_METRIC, STEP_METRIC),
        Writing::Imperial | Writing::Quarters => (SHORTEST_IMPERIAL, STEP_IMPERIAL),
    };
    let longer = (log.log.length() - log.trim - shortest).div_floor(step).max(0);
    (0..=longer).map(|steps| shortest + step * steps).collect()
}

/// The longest usual length that the log gives, or all of a log that is shorter than any.
fn full_length(size: &Size, log: &MeasuredLog) -> Vec<Length> {
    let step = if size.writing == Writing::Metric { STEP_METRIC } else { STEP_IMPERIAL };
    let all = log.log.length() - log.trim;
    let whole = all.floor_to(step);
    vec![if whole > Length::ZERO { whole } else { all }]
}

#[cfg(test)]
mod tests;

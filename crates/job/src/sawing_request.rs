//! A log, a mill and the wants as a person typed them, and the job that they make.
//!
//! Two requests share most of what they are told: [`OpenRequest`] asks for the best plan for a list of
//! wants, [`CountRequest`] for the most pieces of one size.

use std::collections::BTreeMap;

use pithward_geometry::{FlawKinds, Mill};
use pithward_measure::{Excerpt, Length, Size, Unit, Width, Writing};
use pithward_optimizer::{Method, Rings, Settings, Taper};
use pithward_trade::{
    RingClass, RingConvention, SizePolicy, Species, Target, WaneLimit, nearest_word, target,
};

use crate::as_grown::AsGrown;
use crate::asked::{AskedFor, Files};
use crate::fault::{Fault, FaultKind, Misread};
use crate::flaw_text::tolerated;
use crate::grade_text::WantGrade;
use crate::heart_text::{HeartRule, heart};
use crate::length_list;
use crate::log_job::{LogJob, MillSource, NamedWant, WantWeight};
use crate::log_request::{LogRequest, MeasuredLog};
use crate::mill_file::{ChosenMill, mill_in};
use crate::size_policy::PolicyRequest;
use crate::typed::{Asked, Switch, Typed, TypedList, TypedPath};
use crate::want_text::WantText;

/// The methods by the words that are typed for them, in the order of [`Method::ALL`].
pub const METHOD_WORDS: [(&str, Method); 7] = [
    ("through", Method::Through),
    ("through-turned", Method::ThroughTurned),
    ("two-sided", Method::TwoSidedCant),
    ("four-sided", Method::FourSidedCant),
    ("boxed", Method::BoxedHeart),
    ("around", Method::Around),
    ("quarter", Method::Quarter),
];

/// The words for how a round log may lie for its taper.
pub const TAPER_WORDS: [(&str, Taper); 2] = [("level", Taper::Level), ("search", Taper::Searched)];

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

const TOLERANCE: Asked = Asked {
    help: "write how far a board may be off once the blade is set, at least one step of the \
        mill's scale, as in 1/16 in or 1 mm",
    bare: Unit::Inch,
};
const METHOD_HELP: &str =
    "write through, through-turned, two-sided, four-sided, boxed, around or quarter";
const TAPER_HELP: &str =
    "write level (the pith level) or search (also along the bark, where that is worth more)";
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
    /// What pieces may hold.
    pub pieces: PieceRules,
    /// How far a board may be off; one step of the scale without it. A bare number is inches.
    pub tolerance: Typed,
    /// Methods to search by the words of [`METHOD_WORDS`]; all of them where none is typed.
    pub methods: TypedList,
    /// How a round log may lie for its taper, by the words of [`TAPER_WORDS`]; level without it.
    pub taper: Typed,
}

/// What pieces may hold whose want says nothing of it.
#[derive(Clone, Debug)]
pub struct PieceRules {
    /// Where the pith may be: `boxed`, `free` or `any`.
    pub heart: Typed,
    /// How far it may be from the middle of a piece that boxes it; a bare number is inches.
    pub centred: Typed,
    /// How far it must be from a piece that is free of it; a bare number is inches.
    pub clear: Typed,
    /// Kinds of flaw, with a stroke or a comma between them.
    pub tolerates: Typed,
}

impl PieceRules {
    /// Nothing said: each by its name in words.
    pub fn none() -> Self {
        let none = |name| Typed::new(name, None);
        Self {
            heart: none("heart"),
            centred: none("centred"),
            clear: none("clear"),
            tolerates: none("tolerates"),
        }
    }

    fn read(&self, faults: &mut Vec<Fault>) -> (HeartRule, FlawKinds) {
        let heart = heart(&self.heart, &self.centred, &self.clear, faults).unwrap_or_default();
        let tolerates = match self.tolerates.is_given() {
            true => tolerated(&self.tolerates, FlawKinds::NONE, faults),
            false => FlawKinds::NONE,
        };
        (heart, tolerates)
    }
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
            as_grown: AsGrown::nothing(),
            files: Files::OnDisk,
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
            pieces: PieceRules::none(),
            tolerance: Typed::new("tolerance", None),
            methods: TypedList { name: "method", texts: Vec::new() },
            taper: Typed::new("taper", None),
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
        let job = self.sawing.list_job(log, &self.wants, faults)?;
        Ok(LogJob { asked: Some(AskedFor::of_log(&self).into()), ..job })
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
    fn fault(&self, kind: FaultKind, help: &'static str) -> Fault {
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
        let WantText { size, wane, lengths, heart, tolerates, grade, rings, .. } = &line.want;
        let lengths = size.length.map(|length| vec![length]).or_else(|| lengths.clone());
        let graded = (*grade, rings.clone());
        let same = (size.thickness, size.width, *wane, lengths, *heart, *tolerates, graded);
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
pub(crate) fn countable(text: &str) -> Result<WantText, Vec<Misread>> {
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
    mill: Option<ChosenMill>,
    policy: Option<SizePolicy>,
    lengths: Option<Vec<Length>>,
    heart: HeartRule,
    tolerates: FlawKinds,
    settings: Option<Settings>,
}

impl SawingRequest {
    /// The job of one log, as far as it could be read, and of a list, if neither what was read before nor these have a
    /// fault.
    pub(crate) fn list_job(
        &self,
        log: Option<MeasuredLog>,
        wants: &TypedList,
        mut faults: Vec<Fault>,
    ) -> Result<LogJob, Vec<Fault>> {
        let wants = read_wants(wants, &mut faults);
        self.ground(log, &mut faults).job(wants, usual_lengths, faults)
    }

    /// The same for a stem that is bucked into logs of at most some length.
    pub(crate) fn stem_job(
        &self,
        stem: Option<MeasuredLog>,
        longest: Option<Length>,
        wants: &TypedList,
        mut faults: Vec<Fault>,
    ) -> Result<LogJob, Vec<Fault>> {
        let wants = read_wants(wants, &mut faults);
        let trim = stem.as_ref().map_or(Length::ZERO, |stem| stem.trim);
        let open_lengths = |size: &Size, has: Length| {
            usual_lengths(size, longest.map_or(has, |longest| has.min(longest - trim)))
        };
        self.ground(stem, &mut faults).job(wants, open_lengths, faults)
    }

    /// The mill, whose faults are told with the job's.
    pub(crate) fn chosen_mill(&self) -> Option<Mill> {
        self.mill(&mut Vec::new()).map(|chosen| chosen.mill)
    }

    fn ground(&self, log: Option<MeasuredLog>, faults: &mut Vec<Fault>) -> Ground {
        let species = log.as_ref().and_then(|log| log.species);
        let policy = self.policy.choose(species, &self.log.species, faults);
        let lengths = self.lengths.read(faults, |text| length_list::read(text, Unit::Foot));
        let (heart, tolerates) = self.pieces.read(faults);
        let name = self.methods.name;
        let typed = |text: &String| Typed::new(name, Some(text.clone()));
        let methods = methods(self.methods.texts.iter().map(typed), faults);
        let mill = self.mill(faults);
        let tolerance = tolerance(&self.tolerance, mill.as_ref().map(|mill| &mill.mill), faults);
        let taper = taper(&self.taper, faults);
        let settings = tolerance.map(|tolerance| Settings { methods, tolerance, taper });
        let over_bark = self.log.over_bark.on;
        Ground { log, over_bark, mill, policy, lengths, heart, tolerates, settings }
    }

    fn mill(&self, faults: &mut Vec<Fault>) -> Option<ChosenMill> {
        let Some(path) = &self.mill.path else { return ChosenMill::generic() };
        let file = path.to_string_lossy().into_owned();
        let read = mill_in(&self.log.files, path, self.mill.name);
        let read = read.map_err(|found| faults.extend(found)).ok()?;
        ChosenMill::of(read, MillSource::File(file))
    }
}

/// The methods where nobody names any: the usual ones, and quarter sawing where one of the wants asks for it by the classes
/// of rings that it accepts.
pub(crate) fn unnamed_methods<'w>(
    usual: &[Method],
    wants: impl IntoIterator<Item = &'w Vec<RingClass>>,
) -> Vec<Method> {
    let convention = RingConvention::default();
    let mut rings = wants.into_iter().map(|accepts| Rings { convention, accepts: accepts.clone() });
    let quarter = rings.any(|rings| rings.ask_for_quarter()).then_some(Method::Quarter);
    usual.iter().copied().chain(quarter).collect()
}

/// Methods by their words, in the order of [`Method::ALL`]; none where none is named.
pub(crate) fn methods(
    named: impl IntoIterator<Item = Typed>,
    faults: &mut Vec<Fault>,
) -> Vec<Method> {
    let mut named = named.into_iter().peekable();
    if named.peek().is_none() {
        return Vec::new();
    }
    let one = |text: &str| match METHOD_WORDS.iter().find(|(word, _)| *word == text.trim()) {
        Some((_, method)) => Ok(*method),
        None => {
            let nearest = nearest_word(text, &METHOD_WORDS.map(|(word, _)| word));
            let kind = FaultKind::Unknown { what: "method", got: Excerpt::new(text), nearest };
            Err(Misread::new(kind, 0..0, METHOD_HELP))
        }
    };
    let chosen: Vec<Method> = named.filter_map(|typed| typed.read(faults, one)).collect();
    Method::ALL.into_iter().filter(|method| chosen.contains(method)).collect()
}

/// How a round log may lie for its taper: level where nobody says so.
pub(crate) fn taper(typed: &Typed, faults: &mut Vec<Fault>) -> Taper {
    let one = |text: &str| match TAPER_WORDS.iter().find(|(word, _)| *word == text.trim()) {
        Some((_, taper)) => Ok(*taper),
        None => {
            let nearest = nearest_word(text, &TAPER_WORDS.map(|(word, _)| word));
            let kind =
                FaultKind::Unknown { what: "way to lay a taper", got: Excerpt::new(text), nearest };
            Err(Misread::new(kind, 0..0, TAPER_HELP))
        }
    };
    if !typed.is_given() {
        return Taper::default();
    }
    typed.read(faults, one).unwrap_or_default()
}

/// How far a board may be off: one step of the mill's scale where nobody says so.
pub(crate) fn tolerance(
    typed: &Typed,
    mill: Option<&Mill>,
    faults: &mut Vec<Fault>,
) -> Option<Length> {
    let step = mill.map(|mill| mill.step);
    let least = step.unwrap_or_default();
    typed.length(faults, TOLERANCE, least..=MOST_TOLERANCE.max(least)).or(step)
}

impl Ground {
    /// The job, if neither what was read before nor the wants have a fault. `open_lengths` says which
    /// lengths are accepted where nobody names any, of what a log has beside its trim.
    fn job(
        self,
        lines: Vec<Line>,
        open_lengths: impl Fn(&Size, Length) -> Vec<Length>,
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
            let target = match sound_target(policy, &want.size, species, want.wane) {
                Ok(target) => target,
                Err(misread) => {
                    faults.push(misread.of(line.name, &line.text));
                    continue;
                }
            };
            let heart = want.heart.unwrap_or(self.heart);
            if let Some(misread) = heart.fault_on(target, &line.text) {
                faults.push(misread.of(line.name, &line.text));
            }
            let Some(log) = &self.log else { continue };
            let named = want.size.length.map(|length| vec![length]);
            let lengths = named
                .or_else(|| want.lengths.clone())
                .or_else(|| self.lengths.clone())
                .unwrap_or_else(|| open_lengths(&want.size, log.log.length() - log.trim));
            wants.push(NamedWant {
                size: want.size,
                target,
                count: want.count,
                more_welcome: want.more_welcome,
                lengths,
                wane: want.wane,
                heart,
                tolerates: want.tolerates.unwrap_or(self.tolerates),
                weight: WantWeight::board_feet(want.count, want.more_welcome),
                grade: WantGrade {
                    least: want.grade,
                    rings: want.rings.clone(),
                    ..WantGrade::default()
                },
                accepted: true,
            });
        }
        let (Some(measured), Some(chosen), Some(policy), Some(mut settings), true) =
            (self.log, self.mill, self.policy, self.settings, faults.is_empty())
        else {
            return Err(faults);
        };
        let methods_named = !settings.methods.is_empty();
        if !methods_named {
            let rings = wants.iter().map(|want| &want.grade.rings);
            settings.methods = unnamed_methods(&Method::USUAL, rings);
        }
        Ok(LogJob {
            widest: measured.log.butt(),
            log: measured.log,
            species: measured.species,
            bark: measured.bark,
            taped_over_bark: self.over_bark,
            two_diameters: measured.two_diameters,
            mill: chosen.mill,
            mill_source: chosen.source,
            pace: chosen.pace,
            charges: chosen.charges,
            stores: chosen.stores,
            scale: chosen.scale,
            policy,
            trim: measured.trim,
            wants,
            settings,
            methods_named,
            told: measured.told,
            asked: None,
        })
    }
}

/// What is sawn for a size, once it is known that it bears the wane that is allowed on it.
pub(crate) fn sound_target(
    policy: SizePolicy,
    size: &Size,
    species: Option<&Species>,
    wane: WaneLimit,
) -> Result<Target, Misread> {
    let target =
        target(policy, size, species).map_err(|fault| Misread::new(fault, 0..0, TARGET_HELP))?;
    wane.on(target.thickness, target.width)
        .map_err(|fault| Misread::new(fault, 0..0, "allow less wane, or none"))?;
    Ok(target)
}

/// Every usual length up to what a log has; the shortest usual one where it has less, so that whoever
/// plans can say that the log is too short.
pub(crate) fn usual_lengths(size: &Size, has: Length) -> Vec<Length> {
    let (shortest, step) = match size.writing {
        Writing::Metric => (SHORTEST_METRIC, STEP_METRIC),
        Writing::Imperial | Writing::Quarters => (SHORTEST_IMPERIAL, STEP_IMPERIAL),
    };
    let longer = (has - shortest).div_floor(step).max(0);
    (0..=longer).map(|steps| shortest + step * steps).collect()
}

/// The longest usual length that a log gives, or all of a log that is shorter than any.
pub(crate) fn full_length(size: &Size, has: Length) -> Vec<Length> {
    let step = if size.writing == Writing::Metric { STEP_METRIC } else { STEP_IMPERIAL };
    let whole = has.floor_to(step);
    vec![if whole > Length::ZERO { whole } else { has }]
}

#[cfg(test)]
mod tests;

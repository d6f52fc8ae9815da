//! A whole job: a pile of logs, the customer's list, and the mill, checked and ready to be planned.

use std::sync::Arc;

use pithward_geometry::{FlawKinds, Log, Mill};
use pithward_measure::{Excerpt, Length, Scale, Size, Width, board_feet_micro};
use pithward_optimizer::{Demand, Effort, Pile, PileLog, Settings, StemCuts, Want};
use pithward_trade::grade::Prices;
use pithward_trade::{RingConvention, SizePolicy, Species, Target, WaneLimit, target};

use crate::asked::AskedFor;
use crate::charges::Charges;
use crate::doubt::Doubt;
use crate::fault::{FaultKind, Misread};
use crate::grade_text::{GradePrices, GradeTerms, WantGrade};
use crate::heart_text::HeartRule;
use crate::input_file::InputFile;
use crate::learned::Recovery;
use crate::list_first::list_first;
use crate::log_job::{
    BarkSource, First, LogJob, MillSource, NamedWant, PieceWorth, Told, WantWeight, width_step,
};
use crate::lumber::Lumber;
use crate::pace::Pace;
use crate::sawing_request::{sound_target, usual_lengths};
use crate::size_policy::shrinkage_is_known;
use crate::stem::{Bucking, JobStem};
use crate::stores::Stores;
use crate::worth_text::{GREATEST_WORTH, LEAST_WORTH};
use crate::yard::Yard;

/// What no piece may weigh, with all that puts the list first: past 2^53 a number of floating point, as the linear
/// program has them, is no longer exact.
const WEIGHT_LIMIT: i64 = 1 << 53;

/// A pile of logs, what is wanted from it, and the mill.
#[derive(Clone, Debug)]
pub struct PileJob {
    /// The file that it was read from, as the person wrote its name; empty where there is none.
    pub file: String,
    /// All files that it was read from, itself first; none where there is none.
    pub inputs: Vec<InputFile>,
    /// Where, as free text; may be empty.
    pub site: String,
    /// When, as free text; may be empty.
    pub date: String,
    /// What else whoever wrote the job wants to see on it; may be empty.
    pub notes: String,
    /// The mill.
    pub mill: Mill,
    /// Where the mill's figures come from.
    pub mill_source: MillSource,
    /// How long the steps of sawing take on it.
    pub pace: Pace,
    /// What it charges.
    pub charges: Charges,
    /// What is told of the yard.
    pub yard: Yard,
    /// What it takes with it and lifts.
    pub stores: Stores,
    /// How many of the planned pieces come out.
    pub recovery: Recovery,
    /// What becomes of the lumber.
    pub lumber: Lumber,
    /// The mill's scale, in which heights are printed.
    pub scale: Scale,
    /// How named sizes become sawn ones.
    pub policy: SizePolicy,
    /// What is taken off a log beyond the length that counts.
    pub trim: Length,
    /// Lengths that are accepted where a want names none; `None` for the usual ones.
    pub lengths: Option<Vec<Length>>,
    /// How to search.
    pub settings: Settings,
    /// Somebody said by which methods; where nobody did, those of `settings` are the usual ones.
    pub methods_named: bool,
    /// What worth is counted in.
    pub worth: WorthTerms,
    /// How far what is said of the pile may be off.
    pub doubt: Doubt,
    /// What is paid by grade.
    pub prices: GradePrices,
    /// How classes of rings are told apart.
    pub ring_convention: RingConvention,
    /// The logs, in the order of the job.
    pub logs: Vec<JobLog>,
    /// Stems, in the order of the job; they are bucked before anything is sawn.
    pub stems: Vec<JobStem>,
    /// How they may be bucked.
    pub bucking: Bucking,
    /// How they are bucked, once that was searched: their logs are then among `logs`.
    pub cuts: Option<StemCuts>,
    /// The customer's list, the most important first.
    pub wants: Vec<JobWant>,
    /// What all of it was read from; `None` where nobody asked for it as it is.
    pub asked: Option<Arc<AskedFor>>,
}

/// What worth is counted in, and what an hour of sawing weighs against it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorthTerms {
    /// The unit in words, `board feet` where nobody states another.
    pub unit: String,
    /// Worth of a board foot of a want that states no worth of its own, millionths of the unit.
    pub board_foot: i64,
    /// What an hour of sawing weighs, millionths of the unit; 0 where work only breaks ties.
    pub hour: i64,
    /// Seconds that a pass takes, with setting the blade and taking the board away.
    pub pass_seconds: u32,
    /// Seconds that a turn takes, with clamping.
    pub turn_seconds: u32,
}

/// One log of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct JobLog {
    /// What it is called, as written on its end.
    pub id: String,
    /// The log, inside its bark.
    pub log: Log,
    /// Its species, where it was named.
    pub species: Option<&'static Species>,
    /// Where the thickness of the bark comes from.
    pub bark: BarkSource,
    /// The diameters were taped over the bark; `log` has it taken off.
    pub taped_over_bark: bool,
    /// An end was measured across twice; `log` has the mean, or an oval end where it is told in which direction the
    /// longer diameter lies.
    pub two_diameters: bool,
    /// What was said of its shape and its flaws.
    pub told: Told,
    /// What else is known of it, as free text; may be empty.
    pub notes: String,
}

/// One line of the customer's list, as it was named.
#[derive(Clone, Debug, PartialEq)]
pub struct JobWant {
    /// The size.
    pub size: Size,
    /// How many; `None` for as many as come.
    pub count: Option<u32>,
    /// Lengths that are accepted, shortest first.
    pub lengths: Vec<Length>,
    /// Nobody named a length: `lengths` are the usual ones up to the longest log.
    pub open_lengths: bool,
    /// Wood that may be missing at a corner.
    pub wane: WaneLimit,
    /// Where the pith may be.
    pub heart: HeartRule,
    /// Flaws that a piece may hold.
    pub tolerates: FlawKinds,
    /// What a piece is worth.
    pub worth: PieceWorth,
    /// What a piece beyond the count is worth; `None` where no more than the count are welcome.
    pub extra: Option<PieceWorth>,
    /// What comes on top of the worth of a piece within the count, so that the list is filled in its order,
    /// millionths; 0 without a count.
    pub first: i64,
    /// Woods that are accepted; all of them where it is empty.
    pub species: Vec<&'static Species>,
    /// Which boards it takes by grade and by rings. One that is paid by grade has as `worth` what its poorest board is
    /// paid, at least.
    pub grade: GradeTerms,
    /// Blocking and stickers, sawn before the rest from the poorest logs.
    pub blocking: bool,
}

impl JobLog {
    /// Whether an end counts as round, with the mean of two diameters, for want of a direction of the longer one.
    pub fn is_by_mean(&self) -> bool {
        self.two_diameters && !self.told.has_oval_end()
    }
}

impl Default for WorthTerms {
    /// Board feet; work only breaks ties. A minute for a pass and a minute for a turn: common practice, no source.
    fn default() -> Self {
        Self {
            unit: Self::BOARD_FEET.to_owned(),
            board_foot: 1_000_000,
            hour: 0,
            pass_seconds: 60,
            turn_seconds: 60,
        }
    }
}

impl WorthTerms {
    /// The unit where nobody states another.
    pub const BOARD_FEET: &'static str = "board feet";

    /// What a pass and a turn weigh, rounded to the nearest millionth.
    fn effort(&self) -> Effort {
        let of = |seconds: u32| {
            let product = i128::from(self.hour) * i128::from(seconds);
            i64::try_from((product + 1800).div_euclid(3600)).unwrap_or(i64::MAX)
        };
        Effort { pass: of(self.pass_seconds), turn: of(self.turn_seconds) }
    }
}

impl JobWant {
    /// The named width of one of its boards, by the board's length and its board feet, millionths; of a random width the one
    /// that has so many.
    pub fn named_width(&self, length: Length, board_feet: i64) -> Length {
        let Width::AtLeast(least) = self.size.width else { return self.size.width.least() };
        let step = width_step(self.size.writing);
        let feet = |width| board_feet_micro(self.size.thickness, width, length);
        // Board feet rise with the width, and by far more than a millionth from step to step.
        let (mut low, mut high) = (0, 4096);
        while low < high {
            let middle = (low + high) / 2;
            if feet(least + step * middle) < board_feet { low = middle + 1 } else { high = middle }
        }
        least + step * low
    }

    /// Whether it takes a wood; one that nobody named serves only wants that take all.
    pub fn accepts(&self, species: Option<&Species>) -> bool {
        self.species.is_empty()
            || species.is_some_and(|wood| self.species.iter().any(|one| one.name == wood.name))
    }

    /// Why nothing can be sawn for it from any of some woods, why the wane that it allows is too much for it, or why it
    /// cannot box the pith.
    pub(crate) fn no_target(
        &self,
        policy: SizePolicy,
        woods: &[Option<&'static Species>],
    ) -> Option<Misread> {
        let target = |species| match sound_target(policy, &self.size, species, self.wane) {
            Ok(target) => self.heart.fault_on(target, &self.size.to_string()),
            Err(misread) => Some(misread),
        };
        if !matches!(policy, SizePolicy::Finished(_)) {
            return target(None);
        }
        // A log without a species, or with one that nobody knows to shrink, is a fault of its own.
        let sawn = |wood: &&Species| self.accepts(Some(wood)) && shrinkage_is_known(wood);
        woods.iter().copied().flatten().filter(sawn).find_map(|wood| target(Some(wood)))
    }
}

/// The logs of one wood: they share a menu.
#[derive(Debug)]
struct Wood<'a> {
    species: Option<&'static Species>,
    /// The first log of it.
    log: &'a JobLog,
    /// The thickest butt, up to which random widths run, so that all its logs have the same cuts.
    thickest: Length,
}

/// The menu of a log among those of some woods.
fn menu(woods: &[Wood<'_>], log: &JobLog) -> usize {
    woods.iter().position(|wood| same(wood.species, log.species)).unwrap_or_default()
}

impl PileJob {
    /// The pile in the numbers that the search needs: one menu for each wood, in the order in which the logs bring
    /// them; within a menu the wants in the order of the list.
    ///
    /// A want that does not accept a wood, or that has no target for it, has no cuts in its menu. A cut within a
    /// count is worth what it is worth and [`JobWant::first`]; beyond it, as [`JobWant::extra`] says; without a count
    /// both are what it is worth.
    pub fn pile(&self) -> Pile {
        self.pile_of(&self.woods(&self.logs))
    }

    /// The same with a menu for every wood of logs and stems, and for every stem its menu.
    pub(crate) fn pile_and_menus(&self) -> (Pile, Vec<usize>) {
        let woods = self.woods(self.trees());
        let menus = self.stems.iter().map(|of| menu(&woods, &of.stem)).collect();
        (self.pile_of(&woods), menus)
    }

    fn pile_of(&self, woods: &[Wood<'_>]) -> Pile {
        let pile_log = |log: &JobLog| PileLog { log: log.log.clone(), menu: menu(woods, log) };
        let menus = woods.iter().map(|wood| self.wood_job(wood).optimizer_wants());
        let demand = |want: &JobWant| Demand {
            count: want.count,
            first: want.first,
            blocking: want.blocking,
        };
        Pile {
            mill: self.mill.clone(),
            logs: self.logs.iter().map(pile_log).collect(),
            menus: menus.collect(),
            demands: self.wants.iter().map(demand).collect(),
            settings: self.settings.clone(),
            effort: self.worth.effort(),
        }
    }

    /// One log of the job as a job of its own, for its card: the whole list, with what is sawn from this wood. Its
    /// [`LogJob::optimizer_wants`] are the log's menu in [`PileJob::pile`].
    ///
    /// # Panics
    /// Where the job has no such log.
    pub fn log_job(&self, log: usize) -> LogJob {
        let log = &self.logs[log];
        self.wood_job(&Wood { species: log.species, log, thickest: self.thickest(log.species) })
    }

    /// The thickest butt of a wood, among logs and stems.
    fn thickest(&self, species: Option<&Species>) -> Length {
        let alike = self.trees().filter(|tree| same(tree.species, species));
        alike.map(|tree| tree.log.butt()).max().unwrap_or_default()
    }

    /// Logs, and the stems that logs are bucked from.
    pub(crate) fn trees(&self) -> impl Iterator<Item = &JobLog> {
        self.logs.iter().chain(self.stems.iter().map(|stem| &stem.stem))
    }

    /// A log of a wood, with the widths and targets that all logs of the wood share.
    fn wood_job(&self, wood: &Wood<'_>) -> LogJob {
        let log = wood.log;
        let wants = self.wants.iter().map(|want| self.named(want, wood.species)).collect();
        LogJob {
            log: log.log.clone(),
            species: log.species,
            bark: log.bark,
            taped_over_bark: log.taped_over_bark,
            two_diameters: log.two_diameters,
            mill: self.mill.clone(),
            mill_source: self.mill_source.clone(),
            pace: self.pace,
            charges: self.charges.clone(),
            stores: self.stores,
            scale: self.scale,
            policy: self.policy,
            trim: self.trim,
            wants,
            widest: wood.thickest,
            settings: self.settings.clone(),
            methods_named: self.methods_named,
            told: log.told.clone(),
            asked: None,
        }
    }

    /// A want as logs of one wood serve it.
    fn named(&self, want: &JobWant, species: Option<&'static Species>) -> NamedWant {
        let grade = self.want_grade(want, species);
        let paid = |prices: &Prices| PieceWorth::BoardFoot(prices.of(grade.least).max(LEAST_WORTH));
        let worth = grade.prices.as_ref().map_or(want.worth, paid);
        // Pieces beyond the count are paid by grade too, where they are welcome.
        let extra = want.extra.map(|extra| if want.grade.by_grade { worth } else { extra });
        let sawn = target(self.policy, &want.size, species).ok();
        let as_named = Target { thickness: want.size.thickness, width: want.size.width.least() };
        NamedWant {
            size: want.size,
            target: sawn.unwrap_or(as_named),
            count: want.count,
            more_welcome: want.count.is_none() || want.extra.is_some(),
            lengths: want.lengths.clone(),
            wane: want.wane,
            heart: want.heart,
            tolerates: want.tolerates,
            weight: WantWeight { worth, extra, first: First::Flat(want.first) },
            grade,
            accepted: sawn.is_some() && want.accepts(species),
        }
    }

    /// Which boards a want of the job takes from logs of one wood by grade and by rings, and what they are paid.
    pub fn want_grade(&self, want: &JobWant, species: Option<&Species>) -> WantGrade {
        let GradeTerms { least, rings, by_grade } = &want.grade;
        let prices = by_grade.then(|| self.prices.of(want.size.thickness, species).copied());
        let (least, convention) = (*least, self.ring_convention);
        WantGrade { least, rings: rings.clone(), convention, prices: prices.flatten() }
    }

    /// The woods in the order in which some logs bring them.
    fn woods<'a>(&self, logs: impl IntoIterator<Item = &'a JobLog>) -> Vec<Wood<'a>> {
        let mut woods: Vec<Wood<'_>> = Vec::new();
        for log in logs {
            if !woods.iter().any(|wood| same(wood.species, log.species)) {
                let thickest = self.thickest(log.species);
                woods.push(Wood { species: log.species, log, thickest });
            }
        }
        woods
    }

    /// Opens the lengths that nobody named, up to the longest log that the mill takes.
    pub(crate) fn open_lengths(&mut self) {
        let logs = self.logs.iter().map(|log| log.log.length());
        let bucked = self.stems.iter().map(|of| of.stem.log.length().min(self.bucking.longest));
        let longest = logs.chain(bucked).max().unwrap_or_default();
        let has = longest.min(self.mill.longest) - self.trim;
        for want in self.wants.iter_mut().filter(|want| want.open_lengths) {
            want.lengths = usual_lengths(&want.size, has);
        }
    }

    /// Puts the list first: fills in [`JobWant::first`].
    ///
    /// # Errors
    /// Wants, by their place, whose worth cannot be weighed.
    pub(crate) fn put_list_first(&mut self) -> Result<(), Vec<(usize, Misread)>> {
        for want in &mut self.wants {
            want.first = 0;
        }
        let woods = self.woods(self.trees());
        let menus: Vec<Vec<Want>> =
            woods.iter().map(|wood| self.wood_job(wood).optimizer_wants()).collect();
        let mut faults = Vec::new();
        let mut greatest = Vec::new();
        for (n, want) in self.wants.iter().enumerate() {
            let cuts = || menus.iter().filter_map(|menu| menu.get(n)).flat_map(|want| &want.cuts);
            let most = cuts().map(|cut| cut.worth).max().unwrap_or(0);
            let extra = want.extra.filter(|_| want.count.is_some());
            let dearer = extra.and_then(|extra| {
                cuts().map(|cut| (extra.of(cut.board_feet), cut)).find(|(e, cut)| *e > cut.worth)
            });
            if most > GREATEST_WORTH {
                faults.push((n, too_dear(want, most)));
            } else if let Some((extra, cut)) = dearer {
                let (within, extra) = (cut.worth, extra);
                let kind = FaultKind::ExtraAbove { within, extra, length: cut.length };
                faults.push((n, Misread::new(kind, 0..0, EXTRA_HELP)));
            }
            if want.count.is_some() {
                greatest.push(most);
            }
        }
        let firsts = list_first(&greatest);
        let counted = self.wants.iter_mut().enumerate().filter(|(_, want)| want.count.is_some());
        for (((n, want), first), most) in counted.zip(firsts).zip(greatest) {
            want.first = first;
            if faults.is_empty() && first.saturating_add(most) >= WEIGHT_LIMIT {
                let size = Excerpt::new(&want.size.to_string());
                let help = "state worth in a larger unit, or put what is worth most nearer to the end of the list";
                faults.push((n, Misread::new(FaultKind::TooMuchWeight { size }, 0..0, help)));
            }
        }
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }
}

const EXTRA_HELP: &str =
    "state no more for a piece beyond the count than for one within it, or ask for more of them";

fn too_dear(want: &JobWant, got: i64) -> Misread {
    let longest = want.lengths.last().copied().unwrap_or_default();
    let board_feet = board_feet_micro(want.size.thickness, want.size.width.least(), longest);
    let kind = FaultKind::TooDear { most: GREATEST_WORTH, got: got.max(want.worth.of(board_feet)) };
    Misread::new(kind, 0..0, "state worth in a larger unit, or look for a slip of the pen")
}

/// The woods of some logs, in the order in which they bring them.
pub(crate) fn woods_of<'a>(
    logs: impl IntoIterator<Item = &'a JobLog>,
) -> Vec<Option<&'static Species>> {
    let mut woods: Vec<Option<&'static Species>> = Vec::new();
    for log in logs {
        if !woods.iter().any(|wood| same(*wood, log.species)) {
            woods.push(log.species);
        }
    }
    woods
}

fn same(one: Option<&Species>, other: Option<&Species>) -> bool {
    one.map(|species| &species.name) == other.map(|species| &species.name)
}

//! One log to be opened: what was measured, what is wanted, and on which mill.

use std::sync::Arc;

use pithward_geometry::{FlawKinds, Log, Mill, PithAt, Taped};
use pithward_measure::{Length, Scale, Size, Width, Writing, board_feet_micro};
use pithward_optimizer::{Cut, CutId, Grading, Rings, Settings, Want};
use pithward_trade::grade::{Grade, Prices};
use pithward_trade::{SizePolicy, Species, Target, Wane, WaneLimit, target};

use crate::asked::AskedFor;
use crate::charges::Charges;
use crate::flaw_text::NamedFlaw;
use crate::grade_text::WantGrade;
use crate::heart_text::HeartRule;
use crate::pace::Pace;
use crate::seen::AllSeen;
use crate::stores::Stores;

/// How much more a piece within a count is worth than the same wood as it comes, so that the counts that
/// were asked for are met before wood goes to sizes that are wanted as they come. Moving it changes how
/// much else is given up for one more counted piece: at 10, up to ten times its board feet.
pub const COUNT_FIRST: i64 = 10;

/// What every piece is worth where pieces are counted, millionths.
const ONE_PIECE: i64 = 1_000_000;

/// From one random width to the next wider one that is sawn.
const WIDTH_STEP_IMPERIAL: Length = Length::inches(1);
/// The same where the size is in millimetres.
const WIDTH_STEP_METRIC: Length = Length::mm(25);

/// One log, its wants and its mill, checked and ready to be planned.
#[derive(Clone, Debug)]
pub struct LogJob {
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
    /// The mill.
    pub mill: Mill,
    /// Where the mill's figures come from.
    pub mill_source: MillSource,
    /// How long the steps of sawing take on it.
    pub pace: Pace,
    /// What it charges.
    pub charges: Charges,
    /// What it takes with it and lifts.
    pub stores: Stores,
    /// The mill's scale, in which heights are printed.
    pub scale: Scale,
    /// How named sizes become sawn ones.
    pub policy: SizePolicy,
    /// What is taken off the log beyond the length that counts.
    pub trim: Length,
    /// The customer's list.
    pub wants: Vec<NamedWant>,
    /// Up to where random widths run: the log's butt, or the thickest of all the logs that share these wants.
    pub widest: Length,
    /// How to search.
    pub settings: Settings,
    /// Somebody said by which methods; where nobody did, those of `settings` are the usual ones.
    pub methods_named: bool,
    /// What was said of its shape and its flaws.
    pub told: Told,
    /// What all of it was read from; `None` of a log that is part of a pile, or that nobody asked for.
    pub asked: Option<Arc<AskedFor>>,
}

/// What a person said of a log beyond its diameters and its length; nothing of one that is round, straight and sound.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// The tape's figures inside the bark, where they make it other than a round, straight cone.
    pub taped: Option<Taped>,
    /// Its flaws, each as it was written; of a log that was cut from a stem, as they were written of the stem.
    pub flaws: Vec<NamedFlaw>,
    /// What was seen on it that lowers what its boards are worth; of a log that was cut from a stem, as of the stem.
    pub seen: AllSeen,
    /// It is cut from a stem: its shape follows from that of the stem, and was not measured.
    pub of_stem: bool,
    /// The file that has its shape, where it was measured all round.
    pub scanned: Option<Scanned>,
}

impl Told {
    /// Whether an end was taped as an oval.
    pub(crate) fn has_oval_end(&self) -> bool {
        self.taped.is_some_and(|taped| {
            [taped.small, taped.butt].iter().any(|end| end.longer > end.shorter)
        })
    }
}

/// A log that was measured all round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scanned {
    /// The shape file, as the person wrote its name.
    pub file: String,
    /// What was put right in it, taken for granted or left out, each a short sentence in the order in which it was done.
    pub repairs: Vec<String>,
    /// Where the pith was said to be at the small end and at the butt, where it is off the middle.
    pub pith: [Option<PithAt>; 2],
}

/// Where the thickness of the bark comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BarkSource {
    /// It was given.
    Given,
    /// From the species' average share of bark.
    Species,
    /// No bark: neither given nor a species to go by.
    None,
}

/// Where the mill's figures come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MillSource {
    /// The stated generic mill that ships with the program.
    Generic,
    /// A file.
    File(String),
}

/// One line of the customer's list, as it was named.
#[derive(Clone, Debug)]
pub struct NamedWant {
    /// The size.
    pub size: Size,
    /// What is sawn for it, green.
    pub target: Target,
    /// How many; `None` for as many as come.
    pub count: Option<u32>,
    /// More than the count is welcome.
    pub more_welcome: bool,
    /// Lengths that are accepted, shortest first.
    pub lengths: Vec<Length>,
    /// Wood that may be missing at a corner.
    pub wane: WaneLimit,
    /// Where the pith may be.
    pub heart: HeartRule,
    /// Flaws that a piece may hold.
    pub tolerates: FlawKinds,
    /// What a piece is worth, and how far the list comes first.
    pub weight: WantWeight,
    /// Which boards it takes by grade and by rings, and what they are paid: that is then its worth, in the place of `weight`'s.
    pub grade: WantGrade,
    /// The log is of a wood that the want accepts and has a target for; if not, it has no cuts.
    pub accepted: bool,
}

/// What a piece is worth, in millionths of the job's unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceWorth {
    /// By the board foot of its named size.
    BoardFoot(i64),
    /// By the piece, whatever its length.
    Piece(i64),
}

impl PieceWorth {
    /// Whether every piece is worth nothing.
    pub(crate) fn is_nothing(self) -> bool {
        matches!(self, Self::BoardFoot(0) | Self::Piece(0))
    }

    /// A piece of so many millionths of a board foot, rounded to the nearest millionth.
    pub fn of(self, board_feet: i64) -> i64 {
        match self {
            Self::Piece(worth) => worth,
            Self::BoardFoot(worth) => {
                let product = i128::from(worth) * i128::from(board_feet);
                i64::try_from((product + 500_000).div_euclid(1_000_000)).unwrap_or(i64::MAX)
            }
        }
    }
}

/// What the pieces of a want weigh in a search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WantWeight {
    /// What a piece is worth.
    pub worth: PieceWorth,
    /// What a piece beyond the count is worth; `None` where no more than the count are welcome.
    pub extra: Option<PieceWorth>,
    /// What comes on top within the count, so that the list is filled first.
    pub first: First,
}

/// By how much one random width is wider than the next.
pub(crate) fn width_step(writing: Writing) -> Length {
    match writing {
        Writing::Metric => WIDTH_STEP_METRIC,
        Writing::Imperial | Writing::Quarters => WIDTH_STEP_IMPERIAL,
    }
}

/// What comes on top of the worth of a piece within a count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum First {
    /// So many times its worth.
    Times(i64),
    /// As much for every piece of the want, millionths.
    Flat(i64),
}

/// What the expected grade changes, as the search needs it.
fn grading(grade: &WantGrade) -> Option<Grading> {
    let none = Prices::new([None; Grade::ALL.len()], 0);
    let Grading { least, prices } =
        Grading { least: grade.least, prices: grade.prices.unwrap_or(none) };
    (least.is_some() || grade.prices.is_some()).then_some(Grading { least, prices })
}

impl WantWeight {
    /// Board feet of the named size; a piece within a count is worth [`COUNT_FIRST`] times that.
    pub fn board_feet(count: Option<u32>, more_welcome: bool) -> Self {
        let worth = PieceWorth::BoardFoot(1_000_000);
        let extra = (count.is_none() || more_welcome).then_some(worth);
        Self { worth, extra, first: First::Times(COUNT_FIRST - 1) }
    }

    /// What a piece of so many board feet weighs within and beyond a count, both in millionths.
    fn of(&self, count: Option<u32>, board_feet: i64) -> (i64, i64) {
        let worth = self.worth.of(board_feet);
        if count.is_none() {
            return (worth, worth);
        }
        let first = match self.first {
            First::Times(times) => worth.saturating_mul(times),
            First::Flat(first) => first,
        };
        let within = worth.saturating_add(first);
        (within, self.extra.map_or(0, |extra| extra.of(board_feet)).min(within))
    }
}

impl LogJob {
    /// Whether an end counts as round, with the mean of two diameters, for want of a direction of the longer one.
    pub fn is_by_mean(&self) -> bool {
        self.two_diameters && !self.told.has_oval_end()
    }

    /// The wants in the numbers that the search needs, in the order of the list.
    ///
    /// Worth is as each want's [`WantWeight`] says: for one log board feet of the **named** size, and ten times that
    /// for a piece within a count, so that counts come first. A random width is every whole inch (25 mm for a size in
    /// millimetres) from its least up to [`LogJob::widest`], as far as the size policy knows the width.
    ///
    /// A piece that is paid by grade is worth what is paid for its expected grade, here stated at the dearest; one that is
    /// poorer than its want asks serves it not.
    pub fn optimizer_wants(&self) -> Vec<Want> {
        let mut wants = self.wants_worth(|want, board_feet| {
            let paid = want.grade.prices.map(|prices| PieceWorth::BoardFoot(prices.dearest()));
            let weight = paid.map_or(want.weight, |worth| WantWeight {
                worth,
                extra: want.weight.extra.map(|_| worth),
                ..want.weight
            });
            weight.of(want.count, board_feet)
        });
        for (want, named) in wants.iter_mut().zip(&self.wants) {
            want.grading = grading(&named.grade);
        }
        wants
    }

    /// The same where the most pieces are sought: one piece is worth one, whatever its size.
    pub fn counting_wants(&self) -> Vec<Want> {
        self.wants_worth(|_, _| (ONE_PIECE, ONE_PIECE))
    }

    /// The named size of one of a want's cuts, its width and its length filled in. `None` for a cut that
    /// is none of [`LogJob::optimizer_wants`].
    pub fn named_size(&self, cut: CutId) -> Option<Size> {
        let want = self.wants.get(cut.want.0)?;
        // Lengths, and within each all widths: the order in which the cuts were made.
        let widths = self.widths(want);
        let length = *want.lengths.get(cut.cut.checked_div(widths.len())?)?;
        let (width, _) = widths.get(cut.cut % widths.len())?;
        Some(Size { width: Width::Exactly(*width), length: Some(length), ..want.size })
    }

    /// Every want with the worth and the extra worth of a piece of so many board feet.
    fn wants_worth(&self, worth: impl Fn(&NamedWant, i64) -> (i64, i64)) -> Vec<Want> {
        let cuts = |named: &NamedWant| {
            let mut cuts = Vec::new();
            if !named.accepted {
                return cuts;
            }
            for length in &named.lengths {
                for (width, target) in self.widths(named) {
                    let board_feet = board_feet_micro(named.size.thickness, width, *length);
                    let (worth, extra) = worth(named, board_feet);
                    let Target { thickness, width } = target;
                    let take = *length + self.trim;
                    cuts.push(Cut {
                        thickness,
                        width,
                        length: *length,
                        take,
                        board_feet,
                        worth,
                        extra,
                    });
                }
            }
            cuts
        };
        let want = |named: &NamedWant| Want {
            heart: named.heart.on(named.target),
            tolerates: named.tolerates,
            grading: None,
            rings: (!named.grade.rings.is_empty()).then(|| Rings {
                convention: named.grade.convention,
                accepts: named.grade.rings.clone(),
            }),
            count: named.count,
            // A limit that the size does not bear was refused with the request.
            wane: named.wane.on(named.target.thickness, named.target.width).unwrap_or(Wane::NONE),
            cuts: cuts(named),
        };
        self.wants.iter().map(want).collect()
    }

    /// Every named width of a want, the narrowest first, and what is sawn for it.
    pub(crate) fn widths(&self, want: &NamedWant) -> Vec<(Length, Target)> {
        let Width::AtLeast(least) = want.size.width else {
            return vec![(want.size.width.least(), want.target)];
        };
        let step = width_step(want.size.writing);
        let wider = (self.widest - least).div_floor(step).max(0);
        let widths = (1..=wider).filter_map(|steps| {
            let width = least + step * steps;
            let size = Size { width: Width::Exactly(width), ..want.size };
            // The standard does not list every width; those that it does not are not sawn.
            Some((width, target(self.policy, &size, self.species).ok()?))
        });
        std::iter::once((least, want.target)).chain(widths).collect()
    }
}

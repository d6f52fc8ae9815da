//! The hardwood factory grade that a board may be expected to have.
//!
//! A factory grade says how much of a board can be cut up into clear rectangles of a useful size: how many
//! **cutting units** (1 in by 1 ft) the poorer face yields, in at most so many **cuttings**, for each square
//! foot of its **surface measure**. [`expected`] is the best grade all of whose limits hold, given the defects
//! that the two faces show.
//!
//! It is *expected*, never a grade: only a person with the board in hand grades it, and sees what no
//! measurement of a log foretells.
//!
//! * [`surface_measure`]: the square feet of a board's face as the trade rounds them.
//! * [`Field`]: the best set of cuttings on a face, an exact search.
//! * [`rules`]: what each grade asks for, from the published tables.
//! * [`Limit`]: what is limited beside the yield.
//!
//! # Which face decides
//! FAS and the common grades are those of the poorer face. F1F and Selects need a better face that is FAS in
//! all and another that is not below No. 1 Common. A cutting is **clear** when its own side has no defect and
//! its reverse is sound; for F1F and Selects the reverse need not be sound. No cutting holds pith or a split.
//! **Sound** is free from rot, pith, shake and wane; it admits sound knots, stain and worm holes
//! ([`DefectKind::is_sound`]).
//!
//! # Where it is not the rule book
//! * Holes of a quarter of an inch and more may be in a sound cutting in small number; here they may not.
//! * Which defects of a species are none ("no defect" clauses) is not known here: do not list them.
//! * No. 3A Common may also be given to a better face of No. 2A with sound cuttings on the reverse; that is
//!   from memory, and left out. No. 2B is not looked for.
//! * A board of 1 ft surface measure is No. 1 Common when the whole face is clear.
//! * A cutting may use the length beyond the last whole foot; the surface measure does not count it.
//!
//! # Source
//! Rules of the National Hardwood Lumber Association: its summary chart, pages 22 and 63 of the rule book of
//! 2015, and paragraphs 31 (sound cutting), 57, 59, 60, 64 and 72 of that of 2019 as quoted in its Rules
//! Corner. Facts only; the rule book itself is the authority. Each row of the tables says how far it is to be
//! trusted.

mod area;
mod cover;
mod cuttings;
mod least;
mod limits;
mod parting;
mod rules;
mod surface;
#[cfg(test)]
mod tests;

pub use area::{Area, Units};
pub use cuttings::{Field, Found};
pub use least::Least;
pub use limits::Limit;
pub use rules::{Cuttings, GradeRule, How, Way, rules};
pub use surface::{Half, surface_measure, whole_feet};

use pithward_measure::Length;
use std::fmt;

/// A hardwood factory grade, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// First and seconds.
    Fas,
    /// FAS on the better face.
    FasOneFace,
    /// FAS on the better face, smaller boards.
    Selects,
    /// Number 1 Common.
    No1Common,
    /// Number 2A Common.
    No2ACommon,
    /// Number 3A Common.
    No3ACommon,
    /// Number 3B Common.
    No3BCommon,
}

impl Grade {
    /// All of them, the best first.
    pub const ALL: [Self; 7] = [
        Self::Fas,
        Self::FasOneFace,
        Self::Selects,
        Self::No1Common,
        Self::No2ACommon,
        Self::No3ACommon,
        Self::No3BCommon,
    ];

    /// Its name in the trade.
    pub fn name(self) -> &'static str {
        match self {
            Self::Fas => "FAS",
            Self::FasOneFace => "F1F",
            Self::Selects => "Selects",
            Self::No1Common => "No. 1 Common",
            Self::No2ACommon => "No. 2A Common",
            Self::No3ACommon => "No. 3A Common",
            Self::No3BCommon => "No. 3B Common",
        }
    }

    /// The grade of this name.
    pub fn parse(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|grade| grade.name() == name)
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A kind of defect that a face shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DefectKind {
    /// A knot that is solid and tight.
    SoundKnot,
    /// A knot that is loose, rotten or cracked.
    UnsoundKnot,
    /// A hole of a quarter of an inch or more.
    Hole,
    /// Pin, shot and spot worm holes.
    WormHoles,
    /// Stain, streaks, bird peck.
    Stain,
    /// Bark in the wood: a pocket or a seam.
    Bark,
    /// Rot.
    Rot,
    /// Rings that come apart.
    Shake,
    /// Bark or missing wood on an edge.
    Wane,
}

impl DefectKind {
    /// Whether a sound cutting may have it. Paragraph 31 of the rule book; that bark is unsound is ours.
    pub fn is_sound(self) -> bool {
        matches!(self, Self::SoundKnot | Self::WormHoles | Self::Stain)
    }

    /// Whether its mean diameter is limited.
    fn has_diameter(self) -> bool {
        matches!(self, Self::SoundKnot | Self::UnsoundKnot | Self::Hole)
    }
}

/// A defect on a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Defect {
    /// What it is.
    pub kind: DefectKind,
    /// The rectangle that holds it.
    pub area: Area,
}

/// A board and what its faces show.
///
/// Both faces are measured from the same end and the same edge, as if one looked through the board at the second.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Board {
    /// Width.
    pub width: Length,
    /// Length.
    pub length: Length,
    /// The defects of its two faces.
    pub faces: [Vec<Defect>; 2],
    /// Where it holds pith, boxed or showing.
    pub pith: Vec<Area>,
    /// Splits, each from end to end and as far aside as it runs.
    pub splits: Vec<Area>,
}

impl Board {
    /// No board is wider; what is more does not count.
    pub const MOST_WIDTH: Length = Length::inches(1_000);
    /// No board is longer; what is more does not count.
    pub const MOST_LENGTH: Length = Length::feet(1_000);

    /// A board without a defect.
    pub fn clear(width: Length, length: Length) -> Self {
        Self { width, length, ..Self::default() }
    }

    /// Its surface measure, square feet.
    pub fn surface_measure(&self, half: Half) -> i64 {
        surface_measure(self.width, self.length, half)
    }

    /// Cut down to what lies on it, and to a size that no board exceeds: then no sum below can overflow.
    fn trimmed(&self) -> Self {
        let width = self.width.clamp(Length::ZERO, Self::MOST_WIDTH);
        let length = self.length.clamp(Length::ZERO, Self::MOST_LENGTH);
        let trim = |area: &Area| {
            let within = |side: (Length, Length), to: Length| {
                (side.0.clamp(Length::ZERO, to), side.1.clamp(Length::ZERO, to))
            };
            Area::new(within(area.along, length), within(area.across, width))
        };
        let of = |defect: &Defect| Defect { kind: defect.kind, area: trim(&defect.area) };
        Self {
            width,
            length,
            faces: self.faces.each_ref().map(|face| face.iter().map(of).collect()),
            pith: self.pith.iter().map(trim).collect(),
            splits: self.splits.iter().map(trim).collect(),
        }
    }

    /// What no clear cutting of a face may have in it.
    fn marks(&self, face: usize) -> Vec<Area> {
        let shown = self.faces[face].iter().map(|defect| defect.area);
        shown.chain(self.through()).collect()
    }

    /// What of a face is unsound.
    fn unsound(&self, face: usize) -> Vec<Area> {
        let unsound = self.faces[face].iter().filter(|defect| !defect.kind.is_sound());
        unsound.map(|defect| defect.area).chain(self.through()).collect()
    }

    /// Pith and splits: neither face may have them in a cutting.
    fn through(&self) -> impl Iterator<Item = Area> {
        // A straight split is a line, and a line has no content.
        let wide = |area: &Area| {
            let (low, high) = area.across;
            let high = if high > low { high } else { low + Length::nm(1) };
            Area::new(area.along, (low, high))
        };
        self.pith.iter().copied().chain(self.splits.iter().map(wide))
    }

    /// Wane on the edge that is measured from, or on the other.
    fn wane(&self, face: usize, is_low: bool) -> impl Iterator<Item = Area> {
        let wane = self.faces[face].iter().filter(|defect| defect.kind == DefectKind::Wane);
        let width = self.width;
        wane.map(|defect| defect.area)
            .filter(move |area| (area.across.0 <= width - area.across.1) == is_low)
    }
}

/// What the rules leave open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// What becomes of an exact half of a square foot.
    pub half: Half,
    /// Whether boards over 17 ft get further cuttings, which is so only when specified.
    pub over_17_ft: bool,
}

/// How a face reaches a yield.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Yielded {
    /// In which way.
    pub how: How,
    /// By these cuttings; the whole face where it is clear.
    pub cuttings: Vec<Area>,
    /// Their content.
    pub units: Units,
}

/// The grade that a board may be expected to have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Expected {
    /// The grade; `None` below No. 3B Common.
    pub grade: Option<Grade>,
    /// Surface measure, square feet.
    pub measure: i64,
    /// How the two faces reach the yields that the grade asks of them; none below grade.
    pub faces: Option<[Yielded; 2]>,
    /// For every better grade what stands in its way. Of the yields only the first that is missed.
    pub broken: Vec<(Grade, Vec<Limit>)>,
    /// Whether every search that failed proved that there is nothing; else the grade may be better than this.
    pub proven: bool,
    /// Work of all searches.
    pub work: u64,
}

/// The best grade whose every limit holds.
pub fn expected(board: &Board, settings: Settings) -> Expected {
    let board = board.trimmed();
    let mut looking = Looking {
        board: &board,
        settings,
        measure: board.surface_measure(settings.half),
        proven: true,
        work: 0,
    };
    let mut broken = Vec::new();
    for rule in rules() {
        match looking.faces(rule) {
            Ok(faces) => {
                let Looking { measure, proven, work, .. } = looking;
                let grade = Some(rule.grade);
                return Expected { grade, measure, faces: Some(faces), broken, proven, work };
            }
            Err(limits) => broken.push((rule.grade, limits)),
        }
    }
    let Looking { measure, proven, work, .. } = looking;
    Expected { grade: None, measure, faces: None, broken, proven, work }
}

/// The cuttings with which one face reaches the yield of a grade, looking at nothing but this face's defects.
///
/// # Errors
/// What it falls short by.
pub fn face_yields(
    board: &Board,
    face: usize,
    grade: Grade,
    settings: Settings,
) -> Result<Yielded, Limit> {
    let board = board.trimmed();
    let measure = board.surface_measure(settings.half);
    let mut looking = Looking { board: &board, settings, measure, proven: true, work: 0 };
    let none = Limit::Yield { face, needed: Units::ZERO, found: Units::ZERO };
    let rule = rules().iter().find(|rule| rule.grade == grade).ok_or(none)?;
    if face > 1 {
        return Err(none);
    }
    looking.yields(rule, face, false)
}

struct Looking<'a> {
    board: &'a Board,
    settings: Settings,
    measure: i64,
    proven: bool,
    work: u64,
}

impl Looking<'_> {
    /// How both faces reach a grade, or every limit that stands in the way.
    fn faces(&mut self, rule: &GradeRule) -> Result<[Yielded; 2], Vec<Limit>> {
        let board = self.board;
        let mut broken = Vec::new();
        if board.width < rule.width {
            broken.push(Limit::Width { least: rule.width });
        }
        if Length::feet(whole_feet(board.length)) < rule.length {
            broken.push(Limit::Length { least: rule.length });
        }
        let is_one_face = matches!(rule.grade, Grade::FasOneFace | Grade::Selects);
        match rule.grade {
            Grade::Fas => {
                broken.extend(limits::of_fas_board(board, self.measure));
                for face in [0, 1] {
                    broken.extend(limits::of_fas_face(board, self.measure, face));
                }
            }
            Grade::FasOneFace | Grade::Selects => {
                broken.extend(limits::of_fas_board(board, self.measure));
            }
            Grade::No1Common => broken.extend(limits::of_no_1(board)),
            Grade::No2ACommon | Grade::No3ACommon | Grade::No3BCommon => {}
        }
        if !broken.is_empty() {
            return Err(broken);
        }
        if is_one_face {
            return self.better_face(rule);
        }
        let mut both = Vec::new();
        for face in [0, 1] {
            both.push(self.yields(rule, face, true).map_err(|limit| vec![limit])?);
        }
        <[Yielded; 2]>::try_from(both).map_err(|_| Vec::new())
    }

    /// The same for the grades of a better face: either face may be the better one.
    fn better_face(&mut self, rule: &GradeRule) -> Result<[Yielded; 2], Vec<Limit>> {
        let mut broken = Vec::new();
        let no_1 = rules().iter().find(|rule| rule.grade == Grade::No1Common);
        for (better, other) in [(0, 1), (1, 0)] {
            let mut limits = limits::of_fas_face(self.board, self.measure, better);
            limits.extend(limits::of_other_face(self.board, other));
            if limits.is_empty() {
                let of_better = self.yields(rule, better, false);
                let of_other = match (&of_better, no_1) {
                    (Ok(_), Some(no_1)) => self.yields(no_1, other, false),
                    _ => of_better.clone(),
                };
                match (of_better, of_other) {
                    (Ok(one), Ok(two)) if better == 0 => return Ok([one, two]),
                    (Ok(one), Ok(two)) => return Ok([two, one]),
                    (Err(limit), _) | (_, Err(limit)) => limits.push(limit),
                }
            }
            broken.extend(limits);
        }
        Err(broken)
    }

    /// How a face reaches the yield of a grade.
    fn yields(&mut self, rule: &GradeRule, face: usize, reverse: bool) -> Result<Yielded, Limit> {
        let board = self.board;
        let mut blocked = if rule.is_clear { board.marks(face) } else { board.unsound(face) };
        if reverse {
            blocked.extend(board.unsound(1 - face));
        }
        let field = Field::new(board.width, board.length, blocked);
        let mut limit = Limit::Yield { face, needed: Units::ZERO, found: Units::ZERO };
        for way in rule.ways.iter().filter(|way| way.is_for(self.measure, board.width)) {
            let whole = Area::new((Length::ZERO, board.length), (Length::ZERO, board.width));
            if way.how == How::Clear {
                if field.is_clear() {
                    let units = whole.units();
                    return Ok(Yielded { how: way.how, cuttings: vec![whole], units });
                }
                continue;
            }
            let needed = way.units(self.measure);
            let most = way.cuttings(self.measure, board.length, self.settings.over_17_ft);
            let found = match way.how {
                How::FullWidth => field.full_width(most.unwrap_or(usize::MAX)),
                _ => field.reach(&rule.least, most, needed),
            };
            self.work += found.work;
            if found.units >= needed {
                return Ok(Yielded { how: way.how, cuttings: found.cuttings, units: found.units });
            }
            self.proven &= found.proven;
            if let Limit::Yield { needed: first, found: best, .. } = &mut limit {
                if *first == Units::ZERO {
                    *first = needed;
                }
                *best = found.units.max(*best);
            }
        }
        Err(limit)
    }
}

//! The best grade all of whose limits hold.

use super::{
    Area, Board, Field, Free, Grade, GradeRule, Half, How, Limit, Units, limits, rules, whole_feet,
};
use pithward_measure::Length;

/// What the rules leave open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settings {
    /// What becomes of an exact half of a square foot.
    pub half: Half,
    /// Whether boards over 17 ft get further cuttings, which is so only when specified.
    pub over_17_ft: bool,
    /// Steps before a search for cuttings gives up, see [`Field::MOST_WORK`]: with fewer, a board may be held for poorer
    /// than it is.
    pub most_work: u64,
}

impl Default for Settings {
    fn default() -> Self {
        Self { half: Half::default(), over_17_ft: false, most_work: Field::MOST_WORK }
    }
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
        let field = field.limited(self.settings.most_work);
        let mut free: Option<Free<'_>> = None;
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
                _ => free.get_or_insert_with(|| field.free(&rule.least)).reach(most, needed),
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

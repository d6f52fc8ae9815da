//! The customer's list, `[[wants]]`, and what it is worth, `[worth]`.

use std::collections::BTreeMap;

use pithward_geometry::FlawKinds;
use pithward_measure::{Excerpt, Length, Size, Unit, Writing};
use pithward_trade::{Species, WaneLimit};

use super::sawing::{self, LENGTHS, Sawing};
use super::{TABLE, TEXT};
use crate::fault::{Fault, FaultKind, Misread};
use crate::file::{Fields, Form, Right, Table};
use crate::flaw_text::tolerated;
use crate::grade_text::{GradePrices, GradeTerms, grade, no_class, rings};
use crate::heart_text::{HeartRule, heart};
use crate::log_job::PieceWorth;
use crate::log_request::find_species;
use crate::pile_job::{JobWant, WorthTerms};
use crate::typed::Typed;
use crate::want_text::{MOST_PIECES, SIZE_HELP, read_size, read_wane};
use crate::worth_text::{Extra, GREATEST_WORTH, LEAST_WORTH, amount, beyond, is_by_grade, within};

/// The most lines of a list; more is no list that anybody keeps in mind.
const MOST_WANTS: usize = 64;

/// The longest word for a unit of worth, in characters.
const LONGEST_UNIT: usize = 20;

/// The longest time for a pass or a turn, in seconds; more is a slip of the unit.
const MOST_SECONDS: u32 = 3600;

const WANT: Form = Form {
    of: "a want",
    fields: &[
        "size",
        "count",
        "lengths",
        "wane",
        "heart",
        "centred",
        "clear",
        "tolerates",
        "species",
        "grade",
        "rings",
        "worth",
        "extra",
        "blocking",
    ],
};

const WORTH: Form =
    Form { of: "[worth]", fields: &["unit", "board_foot", "hour", "pass_seconds", "turn_seconds"] };

const TABLES: Right = Right {
    what: "a list, each want below its own [[wants]]",
    help: "write [[wants]] and below it the fields of one want, as in size = \"2x8x12\"",
    bare: false,
};
const SIZE: Right =
    Right { what: "a size in quotes", help: "for instance size = \"2x8x12\"", bare: false };
const WANE: Right = Right { what: "a limit on wane in quotes", help: WANE_HELP, bare: true };
const HEART: Right = Right {
    what: "a word in quotes",
    help: "write heart = \"boxed\", \"free\" or \"any\"",
    bare: false,
};
const DISTANCE: Right = Right {
    what: "a length in quotes",
    help: "write a number and its unit in quotes, for instance \"1/2 in\" or \"12 mm\"",
    bare: true,
};
const TOLERATES: Right = Right {
    what: "kinds of flaw in quotes",
    help: "for instance tolerates = \"stain\", or [\"stain\", \"split\"]",
    bare: false,
};
pub(super) const SPECIES: Right = Right {
    what: "names of species in quotes",
    help: "for instance species = \"white oak\", or [\"white oak\", \"red oak\"]",
    bare: false,
};
const GRADE: Right = Right {
    what: "a grade in quotes",
    help: "for instance grade = \"1 common\": the poorest that will do",
    bare: false,
};
const RINGS: Right = Right {
    what: "classes of rings in quotes",
    help: "for instance rings = \"quarter\", or [\"rift\", \"quarter\"]",
    bare: false,
};
const PIECE: Right = Right {
    what: "a worth in quotes",
    help: "for instance \"3.50 each\", \"0.80 per bf\" or \"by grade\"",
    bare: true,
};
pub(super) const AMOUNT: Right =
    Right { what: "an amount", help: "write digits and a point, as in 0.60", bare: true };

const WANE_HELP: &str = "write how much wood may be missing at a corner, as in wane = \"1/2 in\", or a share as in wane = \"1/3\"";
const COUNT_HELP: &str =
    "write how many, without quotes, or leave the line out for as many as come";
const NO_WANTS_HELP: &str =
    "write [[wants]] for each size, and below it size = \"2x8x12\" and count = 40";

/// One want as it stands in the file, as far as it could be read.
#[derive(Debug)]
struct WrittenWant {
    size: Typed,
    read_size: Option<Size>,
    count: Option<u32>,
    lengths: Option<Vec<Length>>,
    wane: Typed,
    read_wane: Option<WaneLimit>,
    heart_word: Typed,
    heart: HeartRule,
    tolerates: FlawKinds,
    species: Vec<&'static Species>,
    grade: GradeTerms,
    rings_word: Typed,
    worth: Typed,
    read_worth: Option<PieceWorth>,
    extra: Typed,
    read_extra: Option<Extra>,
    blocking: bool,
}

/// The customer's list as it stands in the file.
#[derive(Debug)]
pub(super) struct WrittenWants(Vec<WrittenWant>);

/// A want that can be.
#[derive(Debug)]
pub(super) struct JudgedWant {
    pub(super) want: JobWant,
    /// Where its worth is written, or should be.
    pub(super) worth: Typed,
    /// The same of a piece beyond the count.
    pub(super) extra: Typed,
}

impl WrittenWants {
    pub(super) fn read(job: &Fields<'_>, faults: &mut Vec<Fault>) -> Self {
        let tables = job.tables("wants", TABLES, faults);
        let at = || job.key_at("wants").unwrap_or_else(|| job.head());
        let nowhere = || Typed::absent("wants", job.file, at());
        if tables.as_ref().is_some_and(Vec::is_empty) || job.node("wants").is_none() {
            faults.push(nowhere().fault(FaultKind::Missing, NO_WANTS_HELP));
        }
        let tables = tables.unwrap_or_default();
        if tables.len() > MOST_WANTS {
            let kind = FaultKind::TooMany { most: MOST_WANTS, got: tables.len() };
            faults.push(nowhere().fault(kind, "plan the list in parts"));
        }
        let read = |table| {
            let fields = Fields::of(job.file, table, &WANT, faults);
            WrittenWant::read(&fields, faults)
        };
        let wants = Self(tables.into_iter().map(read).collect());
        wants.alike(faults);
        wants
    }

    /// Wants that ask for the same as one before them.
    fn alike(&self, faults: &mut Vec<Fault>) {
        let mut known: BTreeMap<_, &Typed> = BTreeMap::new();
        for want in &self.0 {
            let Some(size) = want.read_size else { continue };
            let lengths = size.length.map(|length| vec![length]).or_else(|| want.lengths.clone());
            let species: Vec<&str> = want.species.iter().map(|one| &*one.name).collect();
            let holds = (want.read_wane, want.heart, want.tolerates);
            let grade = (want.grade.least, &want.grade.rings);
            let same = (size.thickness, size.width, holds, lengths, species, grade);
            if let Some(earlier) = known.get(&same) {
                let text = |typed: &Typed| Excerpt::new(typed.text.as_deref().unwrap_or_default());
                let kind = FaultKind::SameWant { got: text(&want.size), earlier: text(earlier) };
                faults.push(want.size.fault(kind, "put both into one want"));
                continue;
            }
            known.insert(same, &want.size);
        }
    }

    /// What worth is counted in. `None` where that has a fault.
    pub(super) fn worth_terms(
        &self,
        job: &Fields<'_>,
        faults: &mut Vec<Fault>,
    ) -> Option<WorthTerms> {
        let before = faults.len();
        let empty = Table { entries: Vec::new(), head: job.head() };
        let table = job.table("worth", TABLE, faults).unwrap_or(&empty);
        let fields = Fields::of(job.file, table, &WORTH, faults);
        let plain = WorthTerms::default();
        let unit = fields.typed("unit", TEXT, faults);
        let read_unit = unit.read(faults, unit_word);
        let board_foot = fields.typed("board_foot", AMOUNT, faults);
        let read_board_foot =
            board_foot.read(faults, |text| amount(text, LEAST_WORTH, GREATEST_WORTH));
        let hour = fields.typed("hour", AMOUNT, faults);
        let read_hour = hour.read(faults, |text| amount(text, 0, GREATEST_WORTH));
        let seconds = |name, faults: &mut Vec<Fault>| {
            let help = "write how many seconds it takes, without quotes";
            fields.whole(name, 0..=MOST_SECONDS, help, faults)
        };
        let pass_seconds = seconds("pass_seconds", faults);
        let turn_seconds = seconds("turn_seconds", faults);
        let stated = self.0.iter().any(|want| want.worth.is_given());
        let priced = stated || board_foot.is_given();
        if priced && !unit.is_given() {
            let help = "write below [worth] what worth is counted in, as in unit = \"dollars\"";
            faults.push(unit.fault(FaultKind::Missing, help));
        }
        if let Some(unit_word) = &read_unit
            && !priced
            && *unit_word != plain.unit
        {
            let kind = FaultKind::UnitAlone { unit: Excerpt::new(unit_word) };
            let help = "write what a board foot is worth, as in board_foot = 0.60, or leave the unit out and count in board feet";
            faults.push(unit.fault(kind, help));
        }
        if stated && !board_foot.is_given() {
            self.unpriced(faults);
        }
        if faults.len() > before {
            return None;
        }
        Some(WorthTerms {
            unit: read_unit.unwrap_or(plain.unit),
            board_foot: read_board_foot.unwrap_or(plain.board_foot),
            hour: read_hour.unwrap_or(plain.hour),
            pass_seconds: pass_seconds.unwrap_or(plain.pass_seconds),
            turn_seconds: turn_seconds.unwrap_or(plain.turn_seconds),
        })
    }

    /// Wants that state no worth where others do; one fault names them all.
    fn unpriced(&self, faults: &mut Vec<Fault>) {
        let without: Vec<&WrittenWant> =
            self.0.iter().filter(|want| !want.worth.is_given()).collect();
        let Some(first) = without.first() else { return };
        let name = |want: &&WrittenWant| {
            Excerpt::new(want.size.text.as_deref().unwrap_or("a want without a size")).to_string()
        };
        let wants = without.iter().map(name).collect::<Vec<_>>().join(", ");
        let help = "state a worth for each, as in worth = \"3.50 each\", or what a board foot of them is worth, as in board_foot = 0.60 below [worth]";
        faults.push(first.worth.fault(FaultKind::Unpriced { wants }, help));
    }

    /// The wants that can be, once it is known how sizes are sawn and which woods there are.
    pub(super) fn judge(
        self,
        sawing: &Sawing,
        woods: &[Option<&'static Species>],
        terms: Option<&WorthTerms>,
        prices: Option<&GradePrices>,
        faults: &mut Vec<Fault>,
    ) -> Vec<JudgedWant> {
        let board_foot = terms.map_or(WorthTerms::default().board_foot, |terms| terms.board_foot);
        let mut wants = Vec::new();
        for written in self.0 {
            let Some(size) = written.read_size else { continue };
            let worth = written.read_worth.unwrap_or(PieceWorth::BoardFoot(board_foot));
            let paid = prices.filter(|_| written.grade.by_grade);
            let paid = paid.and_then(|prices| written.least_paid(&size, woods, prices, faults));
            let worth = paid.unwrap_or(worth);
            if let Some(convention) = sawing.ring_convention
                && let Some(misread) = no_class(&written.grade.rings, convention)
            {
                faults.push(written.rings_word.placed(misread));
            }
            let extra = match written.read_extra {
                None | Some(Extra::No) => None,
                Some(Extra::AsWithin) => Some(worth),
                Some(Extra::Worth(worth)) => Some(worth).filter(|worth| !worth.is_nothing()),
            };
            let lengths = size
                .length
                .map(|length| vec![length])
                .or_else(|| written.lengths.clone())
                .or_else(|| sawing.lengths.clone());
            let want = JobWant {
                size,
                count: written.count,
                open_lengths: lengths.is_none(),
                lengths: lengths.unwrap_or_default(),
                wane: written.read_wane.unwrap_or(WaneLimit::Legs(Length::ZERO)),
                heart: written.heart,
                tolerates: written.tolerates,
                worth,
                extra: extra.filter(|_| written.count.is_some()),
                first: 0,
                species: written.species.clone(),
                grade: written.grade.clone(),
                blocking: written.blocking,
            };
            if let Some(policy) = sawing.policy
                && let Some(misread) = want.no_target(policy, woods)
            {
                let typed = match *misread.kind {
                    FaultKind::Wane(_) => &written.wane,
                    FaultKind::TooSmallToBox { .. } => &written.heart_word,
                    _ => &written.size,
                };
                faults.push(typed.placed(misread));
            }
            wants.push(JudgedWant { want, worth: written.worth, extra: written.extra });
        }
        wants
    }
}

impl WrittenWant {
    /// What a board foot of the poorest board that it takes is paid for at least, of a want that is paid by grade.
    fn least_paid(
        &self,
        size: &Size,
        woods: &[Option<&'static Species>],
        prices: &GradePrices,
        faults: &mut Vec<Fault>,
    ) -> Option<PieceWorth> {
        let accepted = |wood: Option<&Species>| {
            self.species.is_empty()
                || wood.is_some_and(|wood| self.species.iter().any(|one| one.name == wood.name))
        };
        let mut least: Option<i64> = None;
        for wood in woods.iter().copied().filter(|wood| accepted(*wood)) {
            let Some(prices) = prices.of(size.thickness, wood) else {
                let text = self.size.text.as_deref().unwrap_or_default();
                let thickness = text.split(['x', 'X', '\u{d7}']).next().unwrap_or_default();
                let thickness = Excerpt::new(thickness.trim());
                let wood = wood.map_or("a wood that nobody named", |wood| &*wood.name);
                let help = "write [[prices]] and below it thickness, species and what a board foot of each grade is worth, or leave thickness or species out where a row is for all";
                faults.push(self.worth.fault(FaultKind::NoPrices { thickness, wood }, help));
                return None;
            };
            let paid = prices.of(self.grade.least).max(LEAST_WORTH);
            least = Some(least.map_or(paid, |least| least.min(paid)));
        }
        least.map(PieceWorth::BoardFoot)
    }

    fn read(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Self {
        let size = fields.typed("size", SIZE, faults);
        let named = size.require(faults, SIZE_HELP, |text| read_size(text, 0..text.len()));
        let count = fields.whole("count", 1..=MOST_PIECES, COUNT_HELP, faults);
        let metric = named.is_some_and(|size| size.writing == Writing::Metric);
        let bare = if metric { Unit::Millimetre } else { Unit::Foot };
        let typed = fields.list("lengths", LENGTHS, faults);
        let lengths = sawing::lengths(&typed, bare, faults);
        if let Some(first) = typed.first()
            && named.is_some_and(|size| size.length.is_some())
        {
            let size = Excerpt::new(size.text.as_deref().unwrap_or_default());
            let help = "name the length in the size, or leave it out and list the lengths that are accepted";
            faults.push(first.fault(FaultKind::LengthTwice { size }, help));
        }
        let wane = fields.typed("wane", WANE, faults);
        let limit = wane.read(faults, |text| {
            let help = WANE_HELP.into();
            read_wane(text, 0..text.len()).map_err(|misread| Misread { help, ..misread })
        });
        let heart_word = fields.typed("heart", HEART, faults);
        let centred = fields.typed("centred", DISTANCE, faults);
        let clear = fields.typed("clear", DISTANCE, faults);
        let heart = heart(&heart_word, &centred, &clear, faults).unwrap_or_default();
        let mut tolerates = FlawKinds::NONE;
        for typed in fields.list("tolerates", TOLERATES, faults) {
            if typed.text.is_some() {
                tolerates = tolerated(&typed, tolerates, faults);
            }
        }
        let species = species(&fields.list("species", SPECIES, faults), faults);
        let least = fields.typed("grade", GRADE, faults).read(faults, grade);
        let (mut of_rings, mut rings_word) = (Vec::new(), Typed::new("rings", None));
        for typed in fields.list("rings", RINGS, faults) {
            rings(&typed, &mut of_rings, faults);
            rings_word = if rings_word.is_given() { rings_word } else { typed };
        }
        let worth = fields.typed("worth", PIECE, faults);
        let by_grade = worth.text.as_deref().is_some_and(is_by_grade);
        let read_worth = if by_grade { None } else { worth.read(faults, within) };
        let grade = GradeTerms { least, rings: of_rings, by_grade };
        let extra = fields.typed("extra", PIECE, faults);
        let read_extra = extra.read(faults, beyond);
        if extra.is_given() && fields.node("count").is_none() {
            let help = "write a count, or leave this out: all that come are welcome";
            faults.push(extra.fault(FaultKind::ExtraWithoutCount, help));
        }
        if by_grade && matches!(read_extra, Some(Extra::Worth(_))) {
            let help = "write \"welcome\" (they are paid by grade too) or \"no\"";
            faults.push(extra.fault(FaultKind::ExtraByGrade, help));
        }
        let (_, blocking) = fields.flag("blocking", faults);
        Self {
            size,
            read_size: named,
            count,
            lengths,
            wane,
            read_wane: limit,
            heart_word,
            heart,
            tolerates,
            species,
            grade,
            rings_word,
            worth,
            read_worth,
            extra,
            read_extra,
            blocking,
        }
    }
}

/// Woods by their names, each once.
pub(super) fn species(typed: &[Typed], faults: &mut Vec<Fault>) -> Vec<&'static Species> {
    let mut species: Vec<&'static Species> = Vec::new();
    for typed in typed {
        let Some(found) = typed.read(faults, find_species) else { continue };
        if species.iter().any(|known| known.name == found.name) {
            let what = Excerpt::new(typed.text.as_deref().unwrap_or_default());
            faults.push(typed.fault(FaultKind::Repeated { what }, "name each wood once"));
            continue;
        }
        species.push(found);
    }
    species
}

fn unit_word(text: &str) -> Result<String, Misread> {
    let unit = text.trim();
    let printable = !unit.contains(|c: char| c.is_control());
    if unit.is_empty() || unit.chars().count() > LONGEST_UNIT || !printable {
        let kind = FaultKind::Name { most: LONGEST_UNIT, got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, "write a word, as in unit = \"dollars\""));
    }
    Ok(unit.to_owned())
}

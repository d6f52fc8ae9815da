//! The card that goes on with a half-sawn log: from the rest that it lies in, under the numbers of the card before.

use super::{Sheet, assumed, cautions, edging, end_view, faces, hazards, setup, tally, trim};
use crate::grade_words;
use crate::names::{self, Named, count, height, tenths};
use crate::page::Page;
use pithward_geometry::{PartId, Stage};
use pithward_job::ResumeJob;
use pithward_optimizer::{Fate, How, LogPlan, Resumed};

/// A half-sawn log, the plan that was followed, and the way on.
#[derive(Clone, Copy, Debug)]
pub struct Going<'g> {
    /// What the log is called, where it has a name.
    pub log: Option<&'g str>,
    /// The log as it is known by now.
    pub half: &'g ResumeJob,
    /// The plan that was followed.
    pub plan: &'g LogPlan,
    /// The way on.
    pub resumed: &'g Resumed,
}

impl Going<'_> {
    /// Pieces of the plan before that no longer come, and those that come in their stead, by want.
    pub(crate) fn changes(&self) -> [Vec<Named>; 2] {
        let job = &self.half.job;
        let named = |plan| names::pieces(job, plan).into_iter().flatten().collect::<Vec<Named>>();
        let mut now: Vec<Named> = named(&self.resumed.plan);
        now.extend(
            self.half
                .taken
                .iter()
                .filter_map(|cut| Some(Named { want: cut.want.0, size: job.named_size(*cut)? })),
        );
        let mut gone = Vec::new();
        for piece in named(self.plan) {
            match now.iter().position(|other| *other == piece) {
                Some(place) => {
                    now.remove(place);
                }
                None => gone.push(piece),
            }
        }
        [names::by_want(gone), names::by_want(now)]
    }
}

/// The card of a half-sawn log, as plain text of at most 80 columns.
pub fn resumed_card(going: &Going<'_>) -> String {
    let (job, plan) = (&going.half.job, &going.resumed.plan);
    let mut sheet = Sheet::new(job, plan);
    sheet.made = u32::try_from(going.resumed.made).unwrap_or(u32::MAX);
    sheet.finished.clone_from(&going.half.begun.finished);
    let mut page = Page::default();
    let name = going.log.map_or(String::new(), |log| format!("log {log}, "));
    page.hang("CUT CARD, GOING ON   ", &format!("{name}{}", setup::log(job)));
    page.blank();
    head(&mut page, &sheet, going);
    before(&mut page, &sheet);
    aside(&mut page, &sheet);
    end_view::end_view(&mut page, &sheet);
    if has_more(&sheet) {
        faces::faces(&mut page, &sheet);
    } else {
        page.heading("ON THE MILL", "nothing more is sawn of it");
        page.say("What lies on the bed gives nothing more that is wanted: take it off.");
    }
    edging::edging(&mut page, &sheet);
    trim::trim(&mut page, &sheet);
    tally::tally(&mut page, &sheet);
    let methods = &job.settings.methods;
    assumed::assumed(&mut page, &sheet, methods);
    cautions::cautions(&mut page, job, cautions::lowest(&plan.order));
    if job.wants.iter().any(|want| !want.grade.is_nothing()) {
        page.item(grade_words::EXPECTED);
    }
    cautions::parts(&mut page, [&plan.order]);
    page.finish()
}

/// Whether any pass is left.
fn has_more(sheet: &Sheet<'_>) -> bool {
    let passes = sheet.bodies().flat_map(|body| sheet.stages(body)).map(|stage| stage.passes.len());
    passes.sum::<usize>() > usize::try_from(sheet.made).unwrap_or(usize::MAX)
}

/// How far it is sawn, how it lies, what was found, and what that costs.
fn head(page: &mut Page, sheet: &Sheet<'_>, going: &Going<'_>) {
    let (job, resumed, half) = (sheet.job, going.resumed, going.half);
    let made = count(resumed.made, "pass is made", "passes are made");
    page.hang("  sawn    ", &format!("{made}; the numbers below go on from there"));
    if let Some(words) = lies(sheet, going) {
        page.hang("  lies    ", &words);
    }
    for words in &half.found {
        page.hang("  found   ", words);
    }
    for words in &half.changed {
        page.hang("  now     ", words);
    }
    let how = match resumed.how {
        How::AsPlanned => "as the card before says, to its end",
        How::SamePlanes => {
            "by the planes of the card before; what comes from between them is cut otherwise"
        }
        How::Anew if later_for_as_much(resumed) => {
            "planned anew from what is left: worth as much, and near the metal less often or later"
        }
        How::Anew => "planned anew from what is left",
    };
    page.hang("  sawn on ", how);
    let before = tenths(going.plan.board_feet);
    let now = tenths(resumed.plan.board_feet);
    let worth = match resumed.stands_board_feet {
        Some(stands) if resumed.how != How::AsPlanned => format!(
            "{before} bf were planned; {} would be left of that, this card gives {now}",
            tenths(stands)
        ),
        Some(_) => format!("{before} bf were planned, this card gives {now}"),
        None => format!(
            "{before} bf were planned, but other passes were made or the log was measured again; \
             this card gives {now} beside what is finished"
        ),
    };
    page.hang("  gives   ", &format!("{worth}, all of the log counted"));
    let [gone, come] = going.changes();
    if !gone.is_empty() {
        page.hang("  gone    ", &format!("{} of the card before no longer", names::sizes(gone)));
    }
    if !come.is_empty() {
        page.hang("  instead ", &names::sizes(come));
    }
    if !half.begun.finished.is_empty() {
        let numbers = sheet.numbers(&half.begun.finished);
        let pieces: Vec<Named> = half
            .taken
            .iter()
            .filter_map(|cut| Some(Named { want: cut.want.0, size: job.named_size(*cut)? }))
            .collect();
        let off = if pieces.is_empty() {
            String::new()
        } else {
            format!(" ({}, taken off the counts)", names::sizes(names::by_want(pieces)))
        };
        page.hang("  done    ", &format!("what passes {numbers} freed is finished{off}"));
    }
}

/// Whether a way on is better than the card before only by when it comes near metal.
fn later_for_as_much(resumed: &Resumed) -> bool {
    let near = resumed.plan.near_metal().passes > 0;
    near && resumed.as_it_stands == Some(resumed.plan.worth)
}

/// How the body on the mill lies by now.
fn lies(sheet: &Sheet<'_>, going: &Going<'_>) -> Option<String> {
    let begun = &going.half.begun;
    let stages = begun.resaws.last().map_or(&begun.stages, |resaw| &resaw.stages);
    let Stage { rest, passes } = stages.last()?;
    let last = passes.last()?;
    let what = if begun.resaws.is_empty() { "the log" } else { "the part that was put back" };
    Some(format!(
        "{what} with {}; pass {} left its top at {} over the bed. If it does not lie so, lay it so",
        faces::rests(rest),
        going.resumed.made,
        height(sheet.job, last.printed)
    ))
}

/// What to heed before the next pass.
fn before(page: &mut Page, sheet: &Sheet<'_>) {
    page.heading("BEFORE THE NEXT PASS", "");
    hazards::found(page, sheet);
    page.item(
        "Measure what lies on the mill against this card: its height, and the width of the face. If \
         either is off, say the heights that were sawn (--cut) and plan again.",
    );
    page.item(
        "Blade heights are from the bed to the underside of the cut, on the mill's own scale. Chalk \
         its pass number on every piece that comes off, on the side that is up.",
    );
}

/// What becomes of what lies aside.
fn aside(page: &mut Page, sheet: &Sheet<'_>) {
    let is_made = |part: PartId| match sheet.on_card(part) {
        PartId::Freed(number) => part.pass().is_some() && number <= sheet.made,
        _ => false,
    };
    let lies = |part: PartId| is_made(part) && !sheet.is_finished(part);
    let (mut edge, mut trim, mut back, mut waste) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for part in sheet.plan.parts.iter().filter(|part| lies(part.id)) {
        match part.fate {
            Fate::Flitch { .. } => edge.push(part.id),
            Fate::Square(_) => trim.push(part.id),
            Fate::PutBack(_) => back.push(part.id),
            Fate::Slab => waste.push(part.id),
        }
    }
    if edge.is_empty() && trim.is_empty() && back.is_empty() && waste.is_empty() {
        return;
    }
    page.heading("WHAT LIES ASIDE", "by the passes that freed it");
    for (parts, verb, words) in [
        (&edge, ["is", "are"], " edged when the log is done: see EDGING"),
        (&trim, ["is", "are"], " only cut to length: see TRIM"),
        (&back, ["is", "are"], " put back on the mill"),
        (&waste, ["gives", "give"], " nothing that is wanted"),
    ] {
        if !parts.is_empty() {
            let sizes = sheet.plan.parts.iter().filter(|part| parts.contains(&part.id));
            let pieces = sizes.flat_map(|part| match &part.fate {
                Fate::Flitch { pieces, .. } | Fate::Square(pieces) => pieces.clone(),
                Fate::Slab | Fate::PutBack(_) => Vec::new(),
            });
            let gives = sheet.sizes(pieces);
            let gives = if gives.is_empty() { gives } else { format!("; that gives {gives}") };
            let verb = verb[usize::from(parts.len() > 1)];
            page.item(&format!("{} {verb}{words}{gives}.", sheet.numbers(parts)));
        }
    }
}

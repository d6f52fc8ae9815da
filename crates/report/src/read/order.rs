//! A sawing order from its form: nothing but the choices; whatever follows from them is not looked at.

use crate::schema::grown::{FrameForm, HeartForm, RestsForm};
use crate::schema::sawing::{
    EdgingForm, EdgingStageForm, MethodForm, PartIdForm, PassForm, PieceForm, RestForm, SawnForm,
    SpanForm, StageForm, SupportForm,
};
use pithward_geometry::{
    Angle, Claim, Edging, Face, FlawKind, FlawKinds, Frame, Heart, PartId, Pass, Piece, Resaw,
    Rest, SawingOrder, Span, Stage, Support,
};
use pithward_measure::Length;
use pithward_optimizer::{Chosen, CutId, Method, Rests, WantId};
use std::borrow::Cow;

/// A value of a form that is none, where it stands, and what would be right.
#[derive(Debug)]
pub(super) struct NoValue {
    pub(super) field: String,
    pub(super) got: String,
    pub(super) right: &'static str,
}

/// What was chosen for a log.
pub(super) fn chosen(form: &SawnForm) -> Result<Chosen, NoValue> {
    let order = SawingOrder {
        frame: frame(&form.frame),
        stages: stages(&form.stages, "stages")?,
        resaws: each(&form.resaws, "resaws", |resaw, at| {
            let stages = stages(&resaw.stages, &format!("{at}.stages"))?;
            Ok(Resaw { part: part_id(&resaw.part), stages })
        })?,
        edgings: each(&form.edgings, "edgings", edging)?,
        pieces: each(&form.pieces, "pieces", piece)?,
    };
    let ids = form.pieces.iter();
    let ids = ids.map(|own| (CutId { want: WantId(own.want), cut: own.cut }, own.extra));
    let (pieces, rests) = (ids.collect(), rests(&form.rests));
    Ok(Chosen { method: method(form.method), order, pieces, rests })
}

/// The method of a form.
pub(super) fn method(form: MethodForm) -> Method {
    match form {
        MethodForm::Through => Method::Through,
        MethodForm::ThroughTurned => Method::ThroughTurned,
        MethodForm::TwoSidedCant => Method::TwoSidedCant,
        MethodForm::FourSidedCant => Method::FourSidedCant,
        MethodForm::BoxedHeart => Method::BoxedHeart,
        MethodForm::Around => Method::Around,
        MethodForm::Quarter => Method::Quarter,
    }
}

/// The part of a form.
pub(super) fn part_id(form: &PartIdForm) -> PartId {
    match *form {
        PartIdForm::FreedByPass(pass) => PartId::Freed(pass),
        PartIdForm::LeftOnBed => PartId::Left,
        PartIdForm::FreedByPassOf { resaw, pass } => PartId::FreedOf { resaw, pass },
        PartIdForm::LeftOnBedOf(resaw) => PartId::LeftOf { resaw },
    }
}

fn each<F, T>(
    forms: &[F],
    name: &str,
    read: impl Fn(&F, &str) -> Result<T, NoValue>,
) -> Result<Vec<T>, NoValue> {
    forms.iter().enumerate().map(|(n, form)| read(form, &format!("{name}[{n}]"))).collect()
}

fn frame(form: &FrameForm) -> Frame {
    Frame {
        turn: Angle::millidegrees(form.turn),
        drift_u: Length::nm(form.drift_u),
        drift_h: Length::nm(form.drift_h),
    }
}

fn rests(form: &RestsForm) -> Rests {
    let worst = form.worst.as_ref().map(|worst| (frame(&worst.frame), worst.worth));
    Rests { tried: form.tried, ruled_out: form.ruled_out, best: form.best, worst }
}

fn stages(forms: &[StageForm], name: &str) -> Result<Vec<Stage>, NoValue> {
    each(forms, name, |form, at| {
        Ok(Stage { rest: rest(&form.rest, at)?, passes: passes(&form.passes) })
    })
}

fn edging(form: &EdgingForm, at: &str) -> Result<Edging, NoValue> {
    let stages = each(&form.stages, &format!("{at}.stages"), |form: &EdgingStageForm, at| {
        Ok(Stage { rest: rest(&form.rest, at)?, passes: passes(&form.passes) })
    })?;
    Ok(Edging { part: part_id(&form.part), batch: form.batch, stages })
}

fn passes(forms: &[PassForm]) -> Vec<Pass> {
    let pass = |form: &PassForm| Pass {
        height: Length::nm(form.height),
        printed: Length::nm(form.printed),
    };
    forms.iter().map(pass).collect()
}

fn rest(form: &RestForm, at: &str) -> Result<Rest, NoValue> {
    let on = match form.on {
        SupportForm::Bark => Support::Bark,
        SupportForm::Face(letter) => Support::Face(face(letter, || format!("{at}.rest.on.face"))?),
        SupportForm::SawnEdge => Support::SawnEdge,
    };
    let against = form.against.map(|letter| face(letter, || format!("{at}.rest.against")));
    Ok(Rest {
        turn: Angle::millidegrees(form.turn),
        lift: Length::nm(form.lift),
        on,
        against: against.transpose()?,
    })
}

fn face(letter: char, field: impl FnOnce() -> String) -> Result<Face, NoValue> {
    Face::ALL.into_iter().find(|face| face.letter() == letter).ok_or_else(|| NoValue {
        field: field(),
        got: letter.to_string(),
        right: "A, B, C or D",
    })
}

fn piece(form: &PieceForm, at: &str) -> Result<Piece, NoValue> {
    let kind = |kinds: FlawKinds, (n, name): (usize, &Cow<'static, str>)| match FlawKind::ALL
        .into_iter()
        .find(|kind| kind.name() == &**name)
    {
        Some(kind) => Ok(kinds.with(kind)),
        None => Err(NoValue {
            field: format!("{at}.tolerates[{n}]"),
            got: name.to_string(),
            right: "rot, hollow, shake, split, stain or metal",
        }),
    };
    let claim = Claim {
        turn: Angle::millidegrees(form.turn),
        u: span(&form.u),
        h: span(&form.h),
        z: span(&form.z),
        wane_u: Length::nm(form.wane_u),
        wane_h: Length::nm(form.wane_h),
        heart: match form.heart {
            HeartForm::Any => Heart::Any,
            HeartForm::Free { clear } => Heart::Free { clear: Length::nm(clear) },
            HeartForm::Boxed { within } => Heart::Boxed { within: Length::nm(within) },
        },
        tolerates: form.tolerates.iter().enumerate().try_fold(FlawKinds::NONE, kind)?,
    };
    let strip = form.strip.as_ref().map(part_id);
    Ok(Piece { part: part_id(&form.part), strip, claim })
}

fn span(form: &SpanForm) -> Span {
    Span::new(Length::nm(form.from), Length::nm(form.to))
}

//! The yard as it was told, and where figures come from.

use super::{area, fluid, minutes, weight, whole};
use crate::schema::quote::BasisForm;
use crate::schema::quote::yard::{
    FigureBasisForm, FigureForm, FigureValueForm, GroundForm, LogsLieForm, MovedForm,
    ResidueRuleForm, StackingForm, YardForm,
};
use pithward_job::{
    Basis, Figure, Ground, LogsLie, Lumber, Moved, Pace, PileJob, Residue, Stacking, Stores,
};
use pithward_measure::Length;

/// Cubic millimetres in a US gallon.
const GALLON: f64 = 3_785_411.784;

pub(super) fn yard(job: &PileJob) -> YardForm {
    let yard = &job.yard;
    let of_day = |time: u32| minutes(f64::from(time));
    YardForm {
        told: yard.told.clone(),
        logs: match yard.logs {
            LogsLie::Staged => LogsLieForm::Staged,
            LogsLie::Piled => LogsLieForm::Piled,
            LogsLie::Scattered => LogsLieForm::Scattered,
        },
        moved: match yard.moved {
            Moved::Rolled => MovedForm::Rolled,
            Moved::Dragged => MovedForm::Dragged,
            Moved::Machine => MovedForm::Machine,
        },
        distance: yard.distance.as_nm(),
        dirty: yard.dirty,
        frozen: yard.frozen,
        ground: match yard.ground {
            Ground::Firm => GroundForm::Firm,
            Ground::Soft => GroundForm::Soft,
            Ground::Sloping => GroundForm::Sloping,
        },
        moves: yard.moves,
        water: yard.water,
        access: yard.access.clone(),
        turning_room: yard.turning_room,
        neighbours: yard.neighbours.clone(),
        noise_from: yard.noise.map(|heard| of_day(heard.from)),
        noise_to: yard.noise.map(|heard| of_day(heard.to)),
        residue: match yard.residue {
            Residue::Leave => ResidueRuleForm::Leave,
            Residue::Pile => ResidueRuleForm::Pile,
            Residue::Tarp => ResidueRuleForm::Tarp,
        },
        tarp: yard.tarp.map(|(one, other)| [one.as_nm(), other.as_nm()]),
        helpers: yard.helpers(&job.pace),
        stacking: match yard.stacking(&job.pace) {
            Stacking::Helpers => StackingForm::Helpers,
            Stacking::Sawyer => StackingForm::Sawyer,
            Stacking::Customer => StackingForm::Customer,
        },
        delivered: yard.delivered,
        drive: yard.drive.map(Length::as_nm),
    }
}

/// Where every figure comes from, and how much it is.
pub(super) fn basis(job: &PileJob) -> BasisForm {
    let pace = Pace::fields()
        .filter_map(|field| Some(figure(field, job.pace.basis(field)?, job.pace.figure(field))));
    let stores = Stores::fields().filter_map(|field| {
        Some(figure(field, job.stores.basis(field)?, job.stores.figure(field)))
    });
    let lumber = Lumber::fields().zip(job.lumber.stated).map(|(field, stated)| {
        let basis = match (stated, field) {
            (true, _) => Basis::Stated,
            // No payload is taken for granted.
            (false, "payload") => Basis::Unknown,
            (false, _) => Basis::Usual(""),
        };
        figure(field, basis, job.lumber.figure(field))
    });
    BasisForm { pace: pace.collect(), stores: stores.collect(), lumber: lumber.collect() }
}

fn figure(field: &'static str, basis: Basis, value: Option<Figure>) -> FigureForm {
    let (basis, told) = match basis {
        Basis::Stated => (FigureBasisForm::Stated, None),
        Basis::Learned => (FigureBasisForm::Learned, None),
        Basis::Follows => (FigureBasisForm::Follows, None),
        Basis::Usual(told) => (FigureBasisForm::Usual, Some(told).filter(|told| !told.is_empty())),
        Basis::Unknown => (FigureBasisForm::Unknown, None),
    };
    FigureForm { field, basis, value: value.map(value_form), told }
}

fn value_form(value: Figure) -> FigureValueForm {
    let thousandths = |share: u32| i64::from(share) * 1000;
    match value {
        Figure::Time(time) => FigureValueForm::Time(minutes(time.as_secs_f64() / 60.0)),
        Figure::Length(length) => FigureValueForm::Length(length.as_nm()),
        Figure::Speed(speed) => FigureValueForm::PerMinute(speed.as_nm()),
        Figure::Feed(feed) => {
            FigureValueForm::Feed { per_minute: feed.per_minute.as_nm(), at: feed.at.as_nm() }
        }
        Figure::Area(feet) => FigureValueForm::Area(area(feet)),
        Figure::Share(share) => FigureValueForm::Share(thousandths(share)),
        Figure::Count(count) => FigureValueForm::Count(count),
        Figure::Weight(of) => FigureValueForm::Weight(weight(of)),
        Figure::Power(power) => FigureValueForm::Watts(whole(power.kw_f64() * 1000.0)),
        Figure::Fluid(of) => FigureValueForm::Volume(fluid(of)),
        Figure::PerHour(gallons) => FigureValueForm::VolumePerHour(whole(gallons * GALLON)),
        Figure::Word(word) => FigureValueForm::Word(word),
    }
}

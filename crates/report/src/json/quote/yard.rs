//! The yard as it was told, and where figures come from.

use super::minutes;
use crate::schema::quote::BasisForm;
use crate::schema::quote::yard::{
    FigureBasisForm, FigureForm, GroundForm, LogsLieForm, MovedForm, ResidueRuleForm, StackingForm,
    YardForm,
};
use pithward_job::{
    Basis, Ground, LogsLie, Lumber, Moved, Pace, PileJob, Residue, Stacking, StoreBasis, Stores,
};
use pithward_measure::Length;

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
        drive: yard.drive.map(Length::as_nm),
    }
}

/// Where every figure comes from.
pub(super) fn basis(job: &PileJob) -> BasisForm {
    let pace = Pace::fields().filter_map(|field| {
        let (basis, told) = match job.pace.basis(field)? {
            Basis::Stated => (FigureBasisForm::Stated, None),
            Basis::Told(told) => (FigureBasisForm::Told, Some(told)),
        };
        Some(FigureForm { field, basis, told })
    });
    let stores = Stores::fields().filter_map(|field| {
        let (basis, told) = match job.stores.basis(field)? {
            StoreBasis::Stated => (FigureBasisForm::Stated, None),
            StoreBasis::Follows => (FigureBasisForm::Follows, None),
            StoreBasis::Told(told) => (FigureBasisForm::Told, Some(told)),
            StoreBasis::Unknown => (FigureBasisForm::Unknown, None),
        };
        Some(FigureForm { field, basis, told })
    });
    let lumber = Lumber::fields().zip(job.lumber.stated).map(|(field, stated)| FigureForm {
        field,
        basis: match (stated, field) {
            (true, _) => FigureBasisForm::Stated,
            // No payload is taken for granted.
            (false, "payload") => FigureBasisForm::Unknown,
            (false, _) => FigureBasisForm::Told,
        },
        told: None,
    });
    BasisForm { pace: pace.collect(), stores: stores.collect(), lumber: lumber.collect() }
}

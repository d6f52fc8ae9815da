//! Weights, loads, stacks, residue and supplies.

use super::{CUBIC_FOOT, area, fluid, minutes, share, volume, weight, whole};
use crate::schema::quote::goods::{
    BalanceForm, DensityBasisForm, GoodsForm, LiftForm, LoadForm, LoadedForm, LoadsForm,
    LogWeightForm, LumberLineForm, MatterForm, ResidueForm, StackForm, StacksForm, SuppliesForm,
};
use pithward_day::goods::{
    Goods, Lift, Loads, LogWeight, LumberLine, Matter, Residue, Stack, Stacks,
};
use pithward_day::promise::{Promise, work};
use pithward_job::PileJob;
use pithward_trade::DensityBasis;

fn matter(matter: Matter) -> MatterForm {
    MatterForm {
        wood: volume(matter.wood),
        bark: volume(matter.bark),
        weight: weight(matter.weight),
    }
}

pub(super) fn log(log: &LogWeight) -> LogWeightForm {
    LogWeightForm {
        whole: matter(log.whole),
        wood_density: density(log.density.wood),
        wood_basis: basis(log.density.wood_basis),
        bark_density: density(log.density.bark),
        bark_basis: basis(log.density.bark_basis),
        lift: match log.lift {
            Lift::Unknown => LiftForm::Unknown,
            Lift::Lifts => LiftForm::Lifts,
            Lift::Near { .. } => LiftForm::Near,
            Lift::TooHeavy { .. } => LiftForm::TooHeavy,
        },
    }
}

/// Pounds in a cubic foot as grams in a cubic metre.
fn density(pounds: f64) -> i64 {
    whole(pounds * 453.592_37 / (CUBIC_FOOT / 1e9))
}

fn basis(basis: DensityBasis) -> DensityBasisForm {
    match basis {
        DensityBasis::Species(_) => DensityBasisForm::Species,
        DensityBasis::HeaviestOfKind(_) => DensityBasisForm::HeaviestOfKind,
        DensityBasis::Heaviest => DensityBasisForm::Heaviest,
        DensityBasis::AsTheWood => DensityBasisForm::AsTheWood,
    }
}

pub(super) fn goods(job: &PileJob, goods: &Goods) -> GoodsForm {
    GoodsForm {
        lifts: job.stores.lifts.map(weight),
        heaviest: goods.heaviest,
        lumber: goods.lumber.iter().map(line).collect(),
        loads: loads(&goods.loads),
        stacks: stacks(&goods.stacks),
        residue: residue(&goods.residue),
        unsawn: matter(goods.unsawn),
        balance: BalanceForm {
            logs: matter(goods.residue.of_logs),
            lumber: matter(goods.all_lumber()),
            residue: matter(goods.residue.all()),
            off: weight(goods.off()),
        },
    }
}

fn line(line: &LumberLine) -> LumberLineForm {
    LumberLineForm {
        want: line.want,
        size: line.size.map(|size| size.to_string()),
        species: line.species.map(|species| species.name.as_str()),
        thickness: line.thickness.as_nm(),
        width: line.width.as_nm(),
        length: line.length.as_nm(),
        count: line.count,
        extra: line.extra,
        board_feet: line.board_feet,
        matter: matter(line.matter),
        each: weight(line.each()),
        heaviest: weight(line.heaviest),
    }
}

fn loads(loads: &Loads) -> LoadsForm {
    let loaded = |pieces: &[(usize, u32)]| {
        pieces.iter().map(|(line, count)| LoadedForm { line: *line, count: *count }).collect()
    };
    let load = loads
        .loads
        .iter()
        .map(|load| LoadForm { weight: weight(load.weight), pieces: loaded(&load.pieces) });
    LoadsForm {
        payload: loads.payload.map(weight),
        weight: weight(loads.weight),
        least: loads.least,
        loads: load.collect(),
        over: loaded(&loads.over),
    }
}

fn stacks(stacks: &Stacks) -> StacksForm {
    StacksForm {
        stacks: stacks.stacks.iter().map(stack).collect(),
        ground: area(stacks.ground()),
        stickers: stacks.stickers,
        sticker_length: stacks.sticker_length.as_nm(),
        sticker_thickness: stacks.sticker.as_nm(),
    }
}

fn stack(stack: &Stack) -> StackForm {
    StackForm {
        length: stack.length.as_nm(),
        width: stack.width.as_nm(),
        height: stack.height.as_nm(),
        layers: stack.layers,
        boards: stack.boards,
        stickers: stack.stickers,
        weight: weight(stack.weight),
    }
}

/// Cubic feet in a cord.
const CORD: f64 = 128.0;

fn residue(residue: &Residue) -> ResidueForm {
    let (least, most) = residue.cord_range();
    let stacked = |cords: f64| whole(cords * CORD * CUBIC_FOOT);
    ResidueForm {
        slabs: matter(residue.slabs),
        edgings: matter(residue.edgings),
        ends: matter(residue.ends),
        sawdust: matter(residue.sawdust),
        stacked_least: stacked(least),
        stacked_most: stacked(most),
        sawdust_loose: volume(residue.sawdust_loose()),
        at_the_chute: volume(residue.at_the_chute()),
        chute: share(residue.chute),
    }
}

pub(super) fn supplies(job: &PileJob, promise: &Promise) -> SuppliesForm {
    let (supplies, work) = (&promise.supplies, work(&promise.hours));
    SuppliesForm {
        engine_time: minutes(work.engine_hours * 60.0),
        water_time: minutes(work.sawing_hours * 60.0),
        fuel: fluid(supplies.fuel),
        tank: fluid(job.stores.tank),
        can: fluid(job.stores.can),
        spare_cans: supplies.spare_cans,
        water: fluid(supplies.water),
        lubricant: fluid(supplies.lubricant),
        sharp_blades: supplies.sharp_blades,
        spare_blades: supplies.spare_blades,
        dulled: share(work.blades_dulled),
        blades_used: share(supplies.blades_used),
        sharpened: share(supplies.sharpened),
    }
}

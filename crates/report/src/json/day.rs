//! What was measured, wanted and assumed, as it stands in the file.

use super::{grown, whole};
use crate::schema::day::{
    AssumptionsForm, BarkSourceForm, CutForm, LogForm, MillForm, ScannedForm, SizePolicyForm,
    TallyForm, UnitsForm, WantForm,
};
use crate::terms::Terms;
use pithward_geometry::Log;
use pithward_job::{BarkSource, LogJob, MillSource, NamedWant, Told};
use pithward_measure::{Length, Width};
use pithward_optimizer::{Cut, CutId, Tally, Want, WantId};
use pithward_trade::{SizePolicy, Species};

/// The units of every number.
pub(super) fn units() -> UnitsForm {
    UnitsForm {
        length: "nm",
        outline: "um",
        angle: "millidegree",
        board_feet: "millionth of a board foot",
        worth: "millionth",
        share: "millionth",
    }
}

/// What was assumed, of logs that are all round, straight and sound or not.
pub(super) fn assumptions(job: &impl Terms, all_round: bool) -> AssumptionsForm {
    AssumptionsForm {
        shape: if all_round {
            "straight frustum, pith at the centre"
        } else {
            "as sections and flaws say"
        },
        sizes: sizes(job.policy()),
        trim: job.trim().as_nm(),
        tolerance: job.tolerance().as_nm(),
    }
}

/// The log's measures.
pub(super) fn log(
    log: &Log,
    bark: BarkSource,
    taped_over_bark: bool,
    species: Option<&'static Species>,
    told: &Told,
) -> LogForm {
    LogForm {
        small_end: log.small_end().as_nm(),
        butt: log.butt().as_nm(),
        length: log.length().as_nm(),
        bark_small_end: log.bark_small().as_nm(),
        bark_butt: log.bark_butt().as_nm(),
        bark_source: match bark {
            BarkSource::Given => BarkSourceForm::Given,
            BarkSource::Species => BarkSourceForm::Species,
            BarkSource::None => BarkSourceForm::None,
        },
        taped_over_bark,
        species: species.map(|species| species.name.as_str()),
        scanned: told.scanned.as_ref().map(|scanned| ScannedForm {
            file: scanned.file.clone(),
            repairs: scanned.repairs.clone(),
        }),
        flaws: grown::flaws(log),
        defects: grown::defects(log),
        sections: grown::sections(log),
    }
}

/// The mill.
pub(super) fn mill(job: &impl Terms) -> MillForm {
    let mill = job.mill();
    MillForm {
        name: mill.name.clone(),
        file: match job.mill_source() {
            MillSource::Generic => None,
            MillSource::File(path) => Some(path.clone()),
        },
        kerf: mill.kerf.as_nm(),
        step: mill.step.as_nm(),
        largest_diameter: mill.largest_diameter.as_nm(),
        longest: mill.longest.as_nm(),
        shortest: mill.shortest.as_nm(),
        widest_cut: mill.widest_cut.as_nm(),
        deepest_above: mill.deepest_above.as_nm(),
        lowest_blade: mill.lowest_blade.as_nm(),
        crosscut_kerf: mill.crosscut_kerf.as_nm(),
        toe_board: mill.toe_board.map(Length::as_nm),
        edging_batch: mill.edging_batch,
    }
}

fn sizes(policy: SizePolicy) -> SizePolicyForm {
    match policy {
        SizePolicy::Full => SizePolicyForm::Full,
        SizePolicy::Dressed => SizePolicyForm::Dressed,
        SizePolicy::Finished(finish) => SizePolicyForm::Finished {
            final_moisture_thousandths: whole(finish.final_moisture_pct * 1e3),
            planing: finish.planing.as_nm(),
            sawing_deviation: finish.sawing_deviation.as_nm(),
            deviations_above: whole(finish.z * 1e6),
        },
    }
}

/// The list of one log.
pub(super) fn wants(job: &LogJob) -> Vec<WantForm> {
    let searched = job.optimizer_wants();
    let wants = job.wants.iter().zip(&searched).enumerate();
    wants.map(|(n, (named, searched))| want(job, n, named, searched)).collect()
}

fn want(job: &LogJob, n: usize, named: &NamedWant, searched: &Want) -> WantForm {
    WantForm {
        size: named.size.to_string(),
        thickness: named.size.thickness.as_nm(),
        width: named.size.width.least().as_nm(),
        random_width: matches!(named.size.width, Width::AtLeast(_)),
        lengths: named.lengths.iter().map(|length| length.as_nm()).collect(),
        wane_along_thickness: searched.wane.thickness.as_nm(),
        wane_along_width: searched.wane.width.as_nm(),
        heart: grown::heart(searched.heart),
        tolerates: grown::tolerates(searched.tolerates),
        count: named.count,
        more_welcome: named.more_welcome,
        cuts: cuts(job, n, searched),
    }
}

/// Every size that serves a want.
pub(super) fn cuts(job: &LogJob, want: usize, searched: &Want) -> Vec<CutForm> {
    let cut = |(place, cut): (usize, &Cut)| CutForm {
        size: job.named_size(CutId { want: WantId(want), cut: place }).map(|size| size.to_string()),
        sawn_thickness: cut.thickness.as_nm(),
        sawn_width: cut.width.as_nm(),
        length: cut.length.as_nm(),
        takes: cut.take.as_nm(),
        board_feet: cut.board_feet,
        worth: cut.worth,
        worth_beyond_count: cut.extra,
    };
    searched.cuts.iter().enumerate().map(cut).collect()
}

/// A count.
pub(super) fn tally(tally: &Tally) -> TallyForm {
    TallyForm { wanted: tally.wanted, given: tally.given, short: tally.short(), extra: tally.extra }
}

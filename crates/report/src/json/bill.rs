//! The bill in the evening as JSON.

use super::pile::job_form;
use super::quote::money::{bill, money};
use super::quote::range::range;
use super::quote::{minutes, seconds, weight};
use super::tally::{blade, clock_back, log, pause, remark, spent, stretch};
use crate::bill::{Billed, Rules};
use crate::schema::VERSION;
use crate::schema::bill::{
    AgainstForm, BilledForm, BilledUnitsForm, CameForm, CarriedForm, MeasureForm, WayForm,
    WhoseChargesForm,
};
use crate::schema::quote::money::BillFaultForm;
use pithward_day::kept::Kept;
use pithward_day::money::{BillFault, Way};
use pithward_trade::SizePolicy;

/// The bill as JSON, in the form of [`bill_schema`](crate::bill_schema).
pub fn bill_json(billed: &Billed<'_>) -> String {
    let text = serde_json::to_string_pretty(&form(billed));
    // Numbers, texts and lists always have a text.
    text.unwrap_or_default() + "\n"
}

fn form(billed: &Billed<'_>) -> BilledForm {
    let Billed { job, so_far, carried, .. } = *billed;
    let (own, faults) = match billed.bill {
        Some(Ok(own)) => (Some(bill(own)), &[][..]),
        Some(Err(faults)) => (None, faults.as_slice()),
        None => (None, &[][..]),
    };
    BilledForm {
        schema_version: VERSION,
        units: BilledUnitsForm {
            time: "ms",
            length: "nm",
            weight: "mg",
            board_feet: "millionth of a board foot",
        },
        job: job_form(job),
        provisional: billed.is_provisional(),
        now: so_far.now.as_ref().map(ToString::to_string),
        changed: billed.changed().into_iter().map(str::to_owned).collect(),
        doubtful_lines: billed.doubtful_lines,
        clock_back: so_far.clock_back.iter().map(clock_back).collect(),
        stretches: so_far.stretches.iter().map(stretch).collect(),
        pauses: so_far.pauses.iter().map(pause).collect(),
        spent: spent(&so_far.spent),
        days: so_far.days,
        moves: so_far.moves,
        way: billed.way.map(|way| match way {
            Way::Hour => WayForm::Hour,
            Way::BoardFoot => WayForm::BoardFoot,
            Way::Board => WayForm::Board,
            Way::Share => WayForm::Share,
        }),
        way_agreed: billed.way_agreed,
        charges: match billed.rules {
            Rules::Promised | Rules::PromisedNotNow { .. } => WhoseChargesForm::Promised,
            Rules::Now { .. } | Rules::NotKept => WhoseChargesForm::Now,
        },
        charges_differ: match billed.rules {
            Rules::PromisedNotNow { differ } | Rules::Now { differ } => differ.clone(),
            Rules::Promised | Rules::NotKept => Vec::new(),
        },
        bill: own,
        bill_faults: faults.iter().map(fault).collect(),
        blades: so_far.blades.iter().map(blade).collect(),
        wants: (0..so_far.wants.len()).map(|want| came(billed, want)).collect(),
        promise: billed.kept.map(|kept| against(billed, kept)),
        notes: so_far.notes.iter().map(remark).collect(),
        measure: match job.policy {
            SizePolicy::Full => MeasureForm::Full,
            SizePolicy::Dressed => MeasureForm::Nominal,
            SizePolicy::Finished(_) => MeasureForm::Finished,
        },
        lumber: carried
            .lines
            .iter()
            .map(|line| CarriedForm {
                size: line.size.to_string(),
                thickness: line.size.thickness.as_nm(),
                width: line.size.width.least().as_nm(),
                length: line.size.length.unwrap_or_default().as_nm(),
                species: line.species.map(|species| species.name.as_str()),
                count: line.count,
                unwanted: line.unwanted,
                board_feet: line.board_feet,
                each: weight(line.each),
            })
            .collect(),
        board_feet: carried.board_feet(),
        weight: weight(carried.loads.weight),
        payload: carried.loads.payload.map(weight),
        loads: carried.loads.loads.iter().map(|load| weight(load.weight)).collect(),
        logs: so_far.logs.iter().map(log).collect(),
    }
}

fn fault(fault: &BillFault) -> BillFaultForm {
    let log = match fault {
        BillFault::NoScale { log, .. } => Some(*log),
        BillFault::NoLog | BillFault::NotCounted | BillFault::TooMuch => None,
        BillFault::NoBoardPrice { .. } => None,
    };
    BillFaultForm { log, says: fault.to_string() }
}

fn came(billed: &Billed<'_>, n: usize) -> CameForm {
    let want = &billed.so_far.wants[n];
    let kept = billed.kept_want(want);
    CameForm {
        size: want.size.to_string(),
        added: want.in_job.is_none(),
        asked: want.asked,
        count: want.count,
        planned: kept.map(|kept| kept.planned),
        promised: kept.and_then(|kept| kept.promised).map(|promised| promised.safe),
        came: want.given,
    }
}

fn against(billed: &Billed<'_>, kept: &Kept) -> AgainstForm {
    let ranges = kept.ranges.as_ref();
    let planned = billed.way.and_then(|way| kept.planned.by(way));
    AgainstForm {
        at: kept.at.clone(),
        planned_time: minutes(kept.planned.on_site),
        time: ranges.map(|ranges| range(&ranges.minutes, |figure| minutes(*figure))),
        came_time: seconds(billed.on_site()),
        planned_board_feet: kept.planned.board_feet,
        board_feet: ranges.map(|ranges| range(&ranges.board_feet, |figure| *figure)),
        planned_price: planned.map(money),
        not_sawn: billed.not_sawn().into_iter().map(str::to_owned).collect(),
    }
}

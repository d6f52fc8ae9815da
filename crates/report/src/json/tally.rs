//! A tally and how the day stands.

use super::pile::job_form;
use super::quote::money::{bill, money};
use super::quote::range::range;
use super::quote::{minutes, seconds, share};
use crate::schema::VERSION;
use crate::schema::tally::{
    AheadForm, BladeEndForm, BladeForm, ClockBackForm, DoingForm, EntryForm, LogStateForm,
    PauseForm, RemarkForm, SpentForm, StandsForm, StretchForm, TallyForm, TallyLogForm,
    TallyPieceForm, TallyUnitsForm, TallyWantForm, ToForm, WantAheadForm, WarningForm,
    WarningKindForm,
};
use crate::tally::Standing;
use pithward_day::so_far::{Ahead, Stands, WantAhead};
use pithward_tally::{
    BladeChange, BladeEnd, ClockBack, Doing, LogSoFar, LogState, Pause, Piece, Recorded, Remark,
    Spent, Stretch, WantSoFar, Warning, WarningKind,
};

/// A tally and how the day stands as JSON; [`tally_schema`](crate::tally_schema) is its form.
pub fn tally_json(standing: &Standing<'_>) -> String {
    let text = serde_json::to_string_pretty(&form(standing));
    // A value of maps with text keys always has a text.
    text.unwrap_or_default() + "\n"
}

fn form(standing: &Standing<'_>) -> TallyForm {
    let Standing { job, record, so_far, .. } = *standing;
    TallyForm {
        schema_version: VERSION,
        units: TallyUnitsForm { time: "ms", share: "millionths" },
        job: job_form(job),
        now: so_far.now.as_ref().map(ToString::to_string),
        entries: record.entries.iter().map(entry).collect(),
        warnings: record.warnings.iter().map(warning).collect(),
        clock_back: so_far.clock_back.iter().map(clock_back).collect(),
        stretches: so_far.stretches.iter().map(stretch).collect(),
        pauses: so_far.pauses.iter().map(pause).collect(),
        spent: spent(&so_far.spent),
        days: so_far.days,
        moves: so_far.moves,
        logs: so_far.logs.iter().map(log).collect(),
        on_the_mill: so_far.on_the_mill,
        loose: so_far.loose.iter().map(piece).collect(),
        wants: so_far.wants.iter().map(want).collect(),
        board_feet: so_far.board_feet(),
        blades: so_far.blades.iter().map(blade).collect(),
        notes: so_far.notes.iter().map(remark).collect(),
        bill: standing.bill.map(bill),
        ahead: standing.ahead.map(ahead),
    }
}

pub(super) fn spent(spent: &Spent) -> SpentForm {
    SpentForm {
        setting_up: seconds(spent.setting_up),
        sawing: seconds(spent.sawing),
        moving_logs: seconds(spent.moving_logs),
        moving_mill: seconds(spent.moving_mill),
        packing_up: seconds(spent.packing_up),
    }
}

fn entry(recorded: &Recorded) -> EntryForm {
    let Recorded { line, entry, undone_by } = recorded;
    EntryForm {
        number: entry.number,
        line: *line,
        at: entry.at.to_string(),
        late: entry.late,
        words: entry.said.words(),
        undone_by: *undone_by,
    }
}

fn warning(warning: &Warning) -> WarningForm {
    let (mut text, mut first, mut last) = (None, None, None);
    let kind = match &warning.kind {
        WarningKind::NoHead => WarningKindForm::NoHead,
        WarningKind::Unread { text: line } => {
            text = Some(line.clone());
            WarningKindForm::Unread
        }
        WarningKind::Changed => WarningKindForm::Changed,
        WarningKind::Missing { first: from, last: to } => {
            (first, last) = (Some(*from), Some(*to));
            WarningKindForm::Missing
        }
        WarningKind::CutOff { first: from, last: to } => {
            (first, last) = (Some(*from), Some(*to));
            WarningKindForm::CutOff
        }
        WarningKind::Other { number } => {
            first = Some(*number);
            WarningKindForm::Other
        }
        WarningKind::Repeated { number } => {
            first = Some(*number);
            WarningKindForm::Repeated
        }
        WarningKind::Torn { text: line } => {
            text = Some(line.clone());
            WarningKindForm::Torn
        }
        WarningKind::NothingUndone { entry } => {
            first = Some(*entry);
            WarningKindForm::NothingUndone
        }
    };
    WarningForm { line: warning.line, kind, text, first, last, confirmed: warning.confirmed }
}

pub(super) fn clock_back(back: &ClockBack) -> ClockBackForm {
    ClockBackForm { before: back.before, entry: back.entry, by: seconds(back.seconds) }
}

pub(super) fn stretch(stretch: &Stretch) -> StretchForm {
    StretchForm {
        doing: match stretch.doing {
            Doing::SettingUp => DoingForm::SettingUp,
            Doing::Sawing => DoingForm::Sawing,
            Doing::MovingLogs => DoingForm::MovingLogs,
            Doing::MovingMill => DoingForm::MovingMill,
            Doing::PackingUp => DoingForm::PackingUp,
        },
        log: stretch.log,
        from: stretch.from.to_string(),
        to: stretch.to.to_string(),
        takes: seconds(stretch.seconds),
        open: stretch.open,
    }
}

pub(super) fn pause(pause: &Pause) -> PauseForm {
    PauseForm {
        from: pause.from.to_string(),
        to: pause.to.to_string(),
        takes: seconds(pause.seconds),
        why: pause.why.clone(),
        open: pause.open,
    }
}

pub(super) fn log(log: &LogSoFar) -> TallyLogForm {
    TallyLogForm {
        id: log.id.clone(),
        in_job: log.in_job.is_some(),
        state: match log.state {
            LogState::Waiting => LogStateForm::Waiting,
            LogState::OnTheMill => LogStateForm::OnTheMill,
            LogState::Done => LogStateForm::Done,
        },
        from: log.from.as_ref().map(ToString::to_string),
        to: log.to.as_ref().map(ToString::to_string),
        takes: seconds(log.seconds),
        pieces: log.pieces.iter().map(piece).collect(),
        as_planned: log.as_planned,
        found: log.found.iter().map(|finding| finding.what.clone()).collect(),
    }
}

fn piece(piece: &Piece) -> TallyPieceForm {
    let to = |(want, count): &(usize, u32)| ToForm { want: *want, count: *count };
    TallyPieceForm {
        entry: piece.entry,
        at: piece.at.to_string(),
        count: piece.what.count,
        size: piece.what.typed.clone(),
        board_feet: piece.what.board_feet(),
        note: piece.what.note.clone(),
        to: piece.to.iter().map(to).collect(),
    }
}

fn want(want: &WantSoFar) -> TallyWantForm {
    TallyWantForm {
        size: want.size.to_string(),
        in_job: want.in_job.is_some(),
        asked: want.asked,
        count: want.count,
        given: want.given,
        wanted: want.wanted(),
        board_feet: want.board_feet,
    }
}

pub(super) fn blade(blade: &BladeChange) -> BladeForm {
    BladeForm {
        entry: blade.entry,
        at: blade.at.to_string(),
        end: match blade.end {
            BladeEnd::Dull => BladeEndForm::Dull,
            BladeEnd::Struck => BladeEndForm::Struck,
            BladeEnd::Ruined => BladeEndForm::Ruined,
        },
        why: blade.why.clone(),
        log: blade.log,
    }
}

pub(super) fn remark(remark: &Remark) -> RemarkForm {
    let Remark { entry, at, what, log } = remark;
    RemarkForm { entry: *entry, at: at.to_string(), what: what.clone(), log: *log }
}

fn ahead(ahead: &Ahead) -> AheadForm {
    let want = |want: &WantAhead| WantAheadForm {
        pieces: range(&want.pieces, |pieces| *pieces),
        promised: want.promised,
        chance: share(want.chance),
        stands: want.stands.map(stands),
    };
    AheadForm {
        logs_to_go: ahead.logs_to_go,
        pace: share(ahead.pace),
        to_go: range(&ahead.to_go, |figure| minutes(*figure)),
        on_site: range(&ahead.on_site, |figure| minutes(*figure)),
        price: ahead.price.as_ref().map(|price| range(price, |figure| money(*figure))),
        board_feet: range(&ahead.board_feet, |figure| *figure),
        in_time: ahead.in_time.map(share),
        hours: ahead.hours.map(stands),
        wants: ahead.wants.iter().map(want).collect(),
    }
}

fn stands(stands: Stands) -> StandsForm {
    match stands {
        Stands::Kept => StandsForm::Kept,
        Stands::Holds => StandsForm::Holds,
        Stands::InDoubt => StandsForm::InDoubt,
        Stands::Unlikely => StandsForm::Unlikely,
        Stands::Broken => StandsForm::Broken,
    }
}

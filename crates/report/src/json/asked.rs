//! What a plan was asked with, as it stands in the file, and read back.

use super::base64;
use super::stems::part;
use crate::schema::asked::{
    AskedByForm, AskedFileForm, AskedForm, AskedFoundForm, AskedRestForm, AskedWantForm,
};
use crate::schema::stems::{StemPartForm, StemPartKind};
use pithward_job::{AskedBy, AskedFile, AskedFor, AskedRest, Left, WantLeft, Words};
use pithward_measure::{Length, Size};
use pithward_optimizer::{BuckedStem, PartKind, StemPart};

/// What was asked; `None` of a plan that nobody asked for.
pub(super) fn asked(asked: Option<&AskedFor>) -> Option<AskedForm> {
    let AskedFor { by, files } = asked?;
    Some(AskedForm { by: by_form(by), files: files.iter().map(file).collect() })
}

fn by_form(by: &AskedBy) -> AskedByForm {
    match by {
        AskedBy::Job { file, base, rest } => AskedByForm::Job {
            file: file.clone(),
            base: base.clone(),
            rest: rest.as_ref().map(rest_form),
        },
        AskedBy::LogOf { file, base, cut, id, counts } => AskedByForm::LogOf {
            file: file.clone(),
            base: base.clone(),
            cut: cuts(cut),
            id: id.clone(),
            counts: counts.clone(),
        },
        AskedBy::Log(words) => AskedByForm::Log(words.0.clone()),
        AskedBy::Stem(words) => AskedByForm::Stem(words.0.clone()),
    }
}

fn rest_form(rest: &AskedRest) -> AskedRestForm {
    let Left { logs, wants, found } = &rest.left;
    AskedRestForm {
        cut: cuts(&rest.cut),
        logs: logs.clone(),
        wants: wants
            .iter()
            .map(|want| AskedWantForm {
                want: want.want,
                size: want.size.to_string(),
                left: want.left,
            })
            .collect(),
        found: found
            .iter()
            .map(|(log, words)| AskedFoundForm { log: *log, words: words.clone() })
            .collect(),
    }
}

fn cuts(cut: &[BuckedStem]) -> Vec<Vec<StemPartForm>> {
    cut.iter().map(|stem| stem.parts.iter().map(part).collect()).collect()
}

fn file(file: &AskedFile) -> AskedFileForm {
    let bytes = file.bytes.as_deref();
    let text = bytes.and_then(|bytes| std::str::from_utf8(bytes).ok());
    AskedFileForm {
        path: file.path.clone(),
        length: file.length,
        check: file.check,
        text: text.map(str::to_owned),
        base64: bytes.filter(|_| text.is_none()).map(base64::write),
    }
}

/// What a form says was asked; which field of it cannot be so, and what would be right.
pub(crate) fn read(form: AskedForm) -> Result<AskedFor, (String, &'static str)> {
    let by = match form.by {
        AskedByForm::Job { file, base, rest } => {
            AskedBy::Job { file, base, rest: rest.map(read_rest).transpose()? }
        }
        AskedByForm::LogOf { file, base, cut, id, counts } => {
            AskedBy::LogOf { file, base, cut: read_cuts(&cut), id, counts }
        }
        AskedByForm::Log(words) => AskedBy::Log(Words(words)),
        AskedByForm::Stem(words) => AskedBy::Stem(Words(words)),
    };
    let files = form.files.into_iter().enumerate().map(|(n, file)| {
        let bytes = match (file.text, file.base64) {
            (Some(text), _) => Some(text.into_bytes()),
            (None, Some(written)) => {
                let help = "base64 as RFC 4648 has it";
                let bytes = base64::read(&written);
                Some(bytes.ok_or_else(|| (format!("asked.files[{n}].base64"), help))?)
            }
            (None, None) => None,
        };
        let bytes = bytes.map(Into::into);
        Ok(AskedFile { path: file.path, length: file.length, check: file.check, bytes })
    });
    Ok(AskedFor { by, files: files.collect::<Result<_, _>>()? })
}

fn read_rest(form: AskedRestForm) -> Result<AskedRest, (String, &'static str)> {
    let wants = form.wants.iter().enumerate().map(|(n, want)| {
        let size = Size::parse(&want.size);
        let size = size
            .map_err(|_| (format!("asked.by.job.rest.wants[{n}].size"), "a size, as in 2x6x12"))?;
        Ok(WantLeft { want: want.want, size, left: want.left })
    });
    let left = Left {
        logs: form.logs.clone(),
        wants: wants.collect::<Result<_, _>>()?,
        found: form.found.into_iter().map(|found| (found.log, found.words)).collect(),
    };
    Ok(AskedRest { cut: read_cuts(&form.cut), left })
}

/// How stems are cut.
pub(crate) fn read_cuts(cut: &[Vec<StemPartForm>]) -> Vec<BuckedStem> {
    let stem =
        |parts: &Vec<StemPartForm>| BuckedStem { parts: parts.iter().map(read_part).collect() };
    cut.iter().map(stem).collect()
}

fn read_part(form: &StemPartForm) -> StemPart {
    let what = match form.what {
        // A log without a place is told when the stem is cut.
        StemPartKind::Log => PartKind::Log(form.log.unwrap_or(usize::MAX)),
        StemPartKind::CutOut => PartKind::CutOut,
        StemPartKind::TooShort => PartKind::TooShort,
        StemPartKind::TooThick => PartKind::TooThick,
        StemPartKind::LeftOver => PartKind::LeftOver,
    };
    StemPart { from: Length::nm(form.from), to: Length::nm(form.to), what }
}

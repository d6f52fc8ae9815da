//! Words as they were typed or kept, read.

use std::ops::Range;

use pithward_measure::{Excerpt, Size};

use super::{LONGEST_TEXT, MOST_COUNT, WordFault, WordFaultKind};
use crate::entry::{BladeEnd, Doing, Off, Said, SizeCount, Wanted};
use crate::names::{self, Named};

pub(super) const VERBS: [&str; 13] = [
    "begin", "pause", "stop", "move", "on", "off", "done", "found", "blade", "want", "note",
    "undo", "confirm",
];

/// Whose words they are.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Reading<'a> {
    /// Those of the file, which read back without knowing the job.
    Kept,
    /// Those of a person, who shortens names of logs; the names, and the sizes that are wanted. Stems are cut into logs that
    /// are called after them, `S-1` and `S-2`, which only the plan knows.
    Typed { logs: &'a [String], stems: &'a [String], wants: &'a [Size] },
}

/// What some words say, without quotes.
///
/// # Errors
/// Everything that is wrong with them.
pub(crate) fn read(words: &[String], reading: Reading<'_>) -> Result<Said, Vec<WordFault>> {
    let Some(first) = words.first() else {
        return Err(vec![WordFault { kind: WordFaultKind::Nothing, words: 0..0 }]);
    };
    let verb = verb(first).map_err(|kind| vec![WordFault { kind, words: 0..1 }])?;
    let mut reader = Reader { words, reading, faults: Vec::new(), next: 1 };
    let said = reader.said(verb);
    if reader.faults.is_empty() && reader.next < words.len() {
        let got = Excerpt::new(&words[reader.next..].join(" "));
        reader.fault::<()>(WordFaultKind::LeftOver { got }, reader.next..words.len());
    }
    match said {
        Some(said) if reader.faults.is_empty() => Ok(said),
        _ => Err(reader.faults),
    }
}

pub(crate) fn verb(word: &str) -> Result<&'static str, WordFaultKind> {
    match names::find(word, VERBS.into_iter()) {
        Named::One(verb) => Ok(verb),
        Named::Several(of) => {
            let of = of.into_iter().map(str::to_owned).collect();
            Err(WordFaultKind::Ambiguous { got: Excerpt::new(word), of })
        }
        Named::None(near) => Err(WordFaultKind::NoWord { got: Excerpt::new(word), near }),
    }
}

struct Reader<'a> {
    words: &'a [String],
    reading: Reading<'a>,
    faults: Vec<WordFault>,
    next: usize,
}

impl Reader<'_> {
    /// Tells a fault; nothing was read.
    fn fault<T>(&mut self, kind: impl Into<WordFaultKind>, words: Range<usize>) -> Option<T> {
        self.faults.push(WordFault { kind: kind.into(), words });
        None
    }

    fn missing<T>(&mut self, what: &'static str) -> Option<T> {
        self.fault(WordFaultKind::Missing { what }, 0..0)
    }

    fn peek(&self) -> Option<&str> {
        self.words.get(self.next).map(String::as_str)
    }

    fn said(&mut self, verb: &str) -> Option<Said> {
        Some(match verb {
            "begin" => Said::Begin(self.doing()?),
            "pause" => Said::Pause { why: self.rest() },
            "stop" => Said::Stop,
            "move" => Said::Begin(Doing::MovingMill),
            "on" => Said::On { log: self.named_log()? },
            "off" => Said::Off(self.off()?),
            "done" => {
                let log = if self.peek().is_some() { Some(self.named_log()?) } else { None };
                Said::Done { log }
            }
            "found" => self.found()?,
            "blade" => self.blade()?,
            "want" => Said::Want(self.want()?),
            "note" => match self.rest() {
                Some(note) => Said::Note(note),
                None => return self.missing("what is to be remembered"),
            },
            "undo" => Said::Undo { entry: self.number()? },
            _ => Said::Confirm { check: self.check()? },
        })
    }

    /// One of a few words, or a beginning of it; the first of them where nothing is said.
    fn one_of<const N: usize>(&mut self, of: &'static [&'static str; N]) -> Option<usize> {
        let word = self.peek()?.to_owned();
        let at = self.next..self.next + 1;
        self.next += 1;
        match names::find(&word, of.iter().copied()) {
            Named::One(one) => of.iter().position(|word| *word == one),
            Named::Several(several) => {
                let of = several.into_iter().map(str::to_owned).collect();
                self.fault(WordFaultKind::Ambiguous { got: Excerpt::new(&word), of }, at)
            }
            Named::None(_) => {
                self.fault(WordFaultKind::NoneOf { got: Excerpt::new(&word), of }, at)
            }
        }
    }

    fn doing(&mut self) -> Option<Doing> {
        if self.peek().is_none() {
            return Some(Doing::Sawing);
        }
        self.one_of(&["setup", "saw", "logs", "move", "pack"]).map(|n| Doing::ALL[n])
    }

    fn blade(&mut self) -> Option<Said> {
        let end = match self.peek() {
            None => BladeEnd::Dull,
            Some(_) => BladeEnd::ALL[self.one_of(&["dull", "struck", "ruined"])?],
        };
        Some(Said::Blade { end, why: self.rest() })
    }

    /// All words that are left, as text.
    fn rest(&mut self) -> Option<String> {
        let from = self.next;
        self.next = self.words.len();
        let text = one_line(&self.words[from..].join(" "));
        if text.chars().count() > LONGEST_TEXT {
            self.fault::<()>(WordFaultKind::TooLong { most: LONGEST_TEXT }, from..self.words.len());
        }
        (!text.is_empty()).then_some(text)
    }

    fn named_log(&mut self) -> Option<String> {
        let Some(word) = self.peek().map(str::to_owned) else {
            return self.missing("the name of a log");
        };
        let at = self.next..self.next + 1;
        self.next += 1;
        self.log(&word, at)
    }

    fn log(&mut self, word: &str, at: Range<usize>) -> Option<String> {
        let Reading::Typed { logs, stems, .. } = self.reading else {
            return Some(word.to_owned());
        };
        let of_stem = |stem: &String| {
            let number = word.strip_prefix(stem.as_str()).and_then(|rest| rest.strip_prefix('-'));
            number.is_some_and(is_count)
        };
        if stems.iter().any(of_stem) {
            return Some(word.to_owned());
        }
        let got = || Excerpt::new(word);
        let owned = |names: Vec<&str>| names.into_iter().map(str::to_owned).collect();
        let kind = match names::find(word, logs.iter().map(String::as_str)) {
            Named::One(log) => return Some(log.to_owned()),
            Named::Several(of) => WordFaultKind::Ambiguous { got: got(), of: owned(of) },
            Named::None(near) => WordFaultKind::NoLog { got: got(), near: owned(near) },
        };
        self.fault(kind, at)
    }

    fn found(&mut self) -> Option<Said> {
        let log = match self.reading {
            Reading::Kept => {
                let log = self.named_log()?;
                (log != "-").then_some(log)
            }
            // Only a whole name: what was found may begin as a log does.
            Reading::Typed { logs, .. } => {
                let word = self.peek().unwrap_or_default().to_lowercase();
                let log = logs.iter().find(|log| log.to_lowercase() == word).cloned();
                self.next += usize::from(log.is_some() || word == "-");
                log
            }
        };
        match self.rest() {
            Some(what) => Some(Said::Found { log, what }),
            None => self.missing("what was found, and where"),
        }
    }

    fn off(&mut self) -> Option<Off> {
        let mut off = Off::default();
        let mut failed = false;
        if self.leads_with_log() {
            off.log = self.named_log();
            failed = off.log.is_none();
        }
        while let Some(word) = self.peek().map(str::to_owned) {
            let lower = word.to_lowercase();
            if lower == "from" {
                self.next += 1;
                match self.named_log() {
                    Some(log) => off.log = Some(log),
                    None => failed = true,
                }
                break;
            }
            if is_planned(&lower) && off.pieces.is_empty() && !off.planned {
                self.next += 1;
                off.planned = true;
            } else if let Some(pieces) = self.pieces() {
                off.pieces.push(pieces);
            } else {
                failed = true;
            }
        }
        if off.pieces.is_empty() && !off.planned && !failed {
            return self.missing("what came off: pieces, or planned");
        }
        (!failed).then_some(off)
    }

    /// Whether the first word behind `off` is a log: it is no size, and no count of what stands behind it.
    fn leads_with_log(&self) -> bool {
        let Some(word) = self.peek() else { return false };
        let lower = word.to_lowercase();
        if lower == "from" || is_planned(&lower) {
            return false;
        }
        if let Reading::Typed { logs, .. } = self.reading {
            let second = self.words.get(self.next + 1).map(|word| word.to_lowercase());
            let behind = second.as_deref().is_some_and(|word| is_planned(word) || is_count(word));
            if is_count(&lower) {
                // `3 4 2x8x12`, `3 planned`: log 3.
                return behind && logs.iter().any(|log| log.to_lowercase() == lower);
            }
            if logs.iter().any(|log| log.to_lowercase() == lower) {
                return true;
            }
        }
        // A size begins with a digit and has an x.
        !(lower.starts_with(|c: char| c.is_ascii_digit() || c == '.')
            && (is_count(&lower) || lower.contains(['x', '×', '/'])))
    }

    /// A count and a size; the count may also stand behind as in `x4`, or be left out for one.
    fn pieces(&mut self) -> Option<SizeCount> {
        let from = self.next;
        let mut count = None;
        if let Some(word) = self.peek().filter(|word| is_count(word)).map(str::to_owned) {
            self.next += 1;
            count = self.count(&word, from..from + 1, 1);
            count?;
            if self.peek().is_none() {
                return self.missing("a size");
            }
        }
        let sized = self.size();
        let at = self.next;
        let behind = self.peek().and_then(|word| word.strip_prefix(['x', 'X', '×']));
        if let Some(digits) = behind.filter(|word| is_count(word)).map(str::to_owned) {
            self.next += 1;
            if count.is_none() {
                count = self.count(&digits, at..at + 1, 1);
                count?;
            } else {
                let got = Excerpt::new(&self.words[at]);
                self.fault::<()>(WordFaultKind::LeftOver { got }, at..at + 1);
            }
        }
        let (typed, mut size, note) = sized?;
        let mut typed = typed;
        if size.length.is_none() {
            let near = match self.reading {
                Reading::Kept => Vec::new(),
                Reading::Typed { wants, .. } => wanted_lengths(&size, wants),
            };
            match near[..] {
                [one] => {
                    size = one;
                    typed = one.to_string();
                }
                _ => {
                    let near = near.iter().map(Size::to_string).collect();
                    let got = Excerpt::new(&typed);
                    return self.fault(WordFaultKind::NoLength { got, near }, from..at);
                }
            }
        }
        Some(SizeCount { count: count.unwrap_or(1), typed, size, note })
    }

    /// A size, as it was typed and as it was read, and what stands behind its comma.
    fn size(&mut self) -> Option<(String, Size, Option<String>)> {
        let word = self.peek()?.to_owned();
        let at = self.next;
        self.next += 1;
        let (typed, note) = match word.split_once(',') {
            Some((typed, note)) => (typed, Some(one_line(note)).filter(|note| !note.is_empty())),
            None => (word.as_str(), None),
        };
        let mut typed = one_line(typed);
        // `50x150x3000 mm` comes as two words where nobody quotes it.
        if note.is_none()
            && let Some(unit) = self.peek().filter(|word| word.eq_ignore_ascii_case("mm"))
        {
            typed = format!("{typed} {}", unit.to_lowercase());
            self.next += 1;
        }
        if note.as_ref().is_some_and(|note| note.chars().count() > LONGEST_TEXT) {
            return self.fault(WordFaultKind::TooLong { most: LONGEST_TEXT }, at..self.next);
        }
        match Size::parse(&typed) {
            Ok(size) => Some((typed, size, note)),
            Err(fault) => self.fault(fault, at..self.next),
        }
    }

    fn want(&mut self) -> Option<Wanted> {
        if self.peek().is_none() {
            return self.missing("a size and a count");
        }
        let (typed, size, _) = self.size()?;
        let at = self.next;
        let Some(word) = self.peek().map(str::to_lowercase) else {
            return self.missing("how many, or all");
        };
        self.next += 1;
        let count = if word == "all" { None } else { Some(self.count(&word, at..at + 1, 0)?) };
        let mut line = None;
        if self.peek().is_some_and(|word| word.eq_ignore_ascii_case("line")) {
            self.next += 1;
            let at = self.next;
            let word = self.peek().unwrap_or_default().to_owned();
            self.next += 1;
            line = Some(self.count(&word, at..at + 1, 1)?);
        }
        Some(Wanted { typed, size, line, count })
    }

    fn count(&mut self, word: &str, at: Range<usize>, least: u32) -> Option<u32> {
        match word.parse() {
            Ok(count) if (least..=MOST_COUNT).contains(&count) => Some(count),
            _ => {
                let got = Excerpt::new(word);
                self.fault(WordFaultKind::Count { least, most: MOST_COUNT, got }, at)
            }
        }
    }

    fn number(&mut self) -> Option<u64> {
        let Some(word) = self.peek().map(str::to_owned) else {
            return self.missing("the number of an entry");
        };
        self.next += 1;
        match word.parse() {
            Ok(number) if number > 0 && is_count(&word) => Some(number),
            _ => {
                let at = self.next - 1..self.next;
                self.fault(WordFaultKind::NoEntry { got: Excerpt::new(&word) }, at)
            }
        }
    }

    fn check(&mut self) -> Option<u32> {
        let Some(word) = self.peek().map(str::to_owned) else {
            return self.missing("the check of the file");
        };
        let check = crate::line::check_of(&word);
        self.next += usize::from(check.is_some());
        check
    }
}

fn is_planned(word: &str) -> bool {
    !word.is_empty() && "planned".starts_with(word)
}

fn is_count(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit())
}

/// Text on one line: blanks for what is none, single ones.
fn one_line(text: &str) -> String {
    let plain: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The sizes of a list that a size without a length may be: the same section, each length once.
fn wanted_lengths(size: &Size, wants: &[Size]) -> Vec<Size> {
    let mut lengths: Vec<Size> = Vec::new();
    for want in wants {
        let same = want.thickness == size.thickness && want.width == size.width;
        if same && want.length.is_some() && lengths.iter().all(|known| known.length != want.length)
        {
            lengths.push(Size { length: want.length, ..*size });
        }
    }
    lengths
}

#[cfg(test)]
mod tests;

//! What was said, as the words that it is kept in.

use crate::entry::{BladeEnd, Doing, Off, Said, SizeCount, Wanted};

impl Doing {
    /// The word that says it.
    pub fn word(self) -> &'static str {
        match self {
            Self::SettingUp => "setup",
            Self::Sawing => "saw",
            Self::MovingLogs => "logs",
            Self::MovingMill => "move",
            Self::PackingUp => "pack",
        }
    }
}

impl BladeEnd {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Dull, Self::Struck, Self::Ruined];

    /// The word that says it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Dull => "dull",
            Self::Struck => "struck",
            Self::Ruined => "ruined",
        }
    }
}

impl Said {
    /// The words that it is kept in, without quotes.
    pub fn words(&self) -> Vec<String> {
        let one = |word: &str| word.to_owned();
        match self {
            Self::Begin(doing) => vec![one("begin"), one(doing.word())],
            Self::Pause { why } => with("pause", why.as_deref()),
            Self::Stop => vec![one("stop")],
            Self::On { log } => vec![one("on"), log.clone()],
            Self::Off(off) => off.words(),
            Self::Done { log } => ["done"].map(one).into_iter().chain(log.clone()).collect(),
            Self::Found { log, what } => {
                let log = log.clone().unwrap_or_else(|| one("-"));
                [one("found"), log].into_iter().chain(text(what)).collect()
            }
            Self::Blade { end, why } => {
                let mut words = with("blade", why.as_deref());
                words.insert(1, one(end.word()));
                words
            }
            Self::Want(Wanted { typed, line, count, .. }) => {
                let count = count.map_or_else(|| one("all"), |count| count.to_string());
                let mut words = vec![one("want"), typed.clone(), count];
                if let Some(line) = line {
                    words.extend([one("line"), line.to_string()]);
                }
                words
            }
            Self::Note(note) => with("note", Some(note)),
            Self::Undo { entry } => vec![one("undo"), entry.to_string()],
            Self::Confirm { check } => vec![one("confirm"), format!("{check:08x}")],
        }
    }

    /// The same as a line, quotes where they are needed: what is in the file.
    pub fn line(&self) -> String {
        super::quoting::join(&self.words())
    }
}

impl Off {
    fn words(&self) -> Vec<String> {
        let mut words = vec!["off".to_owned()];
        if self.planned {
            words.push("planned".to_owned());
        }
        for SizeCount { count, typed, note, .. } in &self.pieces {
            words.push(count.to_string());
            words.push(match note {
                Some(note) => format!("{typed},{note}"),
                None => typed.clone(),
            });
        }
        if let Some(log) = &self.log {
            words.extend(["from".to_owned(), log.clone()]);
        }
        words
    }
}

fn with(word: &str, why: Option<&str>) -> Vec<String> {
    [word.to_owned()].into_iter().chain(why.into_iter().flat_map(text)).collect()
}

fn text(text: &str) -> impl Iterator<Item = String> {
    text.split_whitespace().map(str::to_owned)
}

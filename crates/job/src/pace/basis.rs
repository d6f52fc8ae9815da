//! Whether a figure of the pace is the mill's own, what is told of it where it is not, and how much it is.

use super::Pace;
use super::file::FIELDS;
use crate::basis::{Basis, Figure};

/// Which figures of the pace a mill states itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stated(u64);

impl Stated {
    /// The same with a field of `[pace]`; with nothing more where there is no such field.
    pub(crate) fn with(self, field: &str) -> Self {
        Self(self.0 | bit(field))
    }

    fn has(self, field: &str) -> bool {
        self.0 & bit(field) != 0
    }
}

fn bit(field: &str) -> u64 {
    FIELDS.iter().position(|known| *known == field).map_or(0, |place| 1 << place)
}

impl Pace {
    /// The fields of `[pace]`, in the order in which they are written.
    pub fn fields() -> impl Iterator<Item = &'static str> {
        FIELDS.into_iter()
    }

    /// Where a figure comes from, by its field; `None` where there is no such field.
    pub fn basis(&self, field: &str) -> Option<Basis> {
        let told = TOLD.iter().find(|(known, _)| *known == field)?.1;
        Some(match (self.stated.has(field), self.learned.has(field)) {
            (true, true) => Basis::Learned,
            (true, false) => Basis::Stated,
            (false, _) => Basis::Usual(told),
        })
    }

    /// How much a figure is, by its field; `None` where there is no such field.
    pub fn figure(&self, field: &str) -> Option<Figure> {
        let (day, blade) = (&self.day, &self.blade);
        Some(match field {
            "load" => Figure::Time(self.load),
            "load_piled" => Figure::Time(day.load_piled),
            "load_dragged" => Figure::Time(day.load_dragged),
            "haul" => Figure::Speed(day.haul),
            "level" => Figure::Time(self.level),
            "turn" => Figure::Time(self.turn),
            "softwood_feed" => Figure::Feed(self.softwood),
            "hardwood_feed" => Figure::Feed(self.hardwood),
            "fastest_feed" => Figure::Speed(self.fastest),
            "return" => Figure::Speed(self.back),
            "set" => Figure::Time(self.set),
            "take_away_alone" => Figure::Time(self.take_alone),
            "take_away_helped" => Figure::Time(self.take_helped),
            "helpers" => Figure::Count(self.helpers),
            "stack" => Figure::Time(day.stack),
            "edging_batch" => Figure::Time(self.edging),
            "move" => Figure::Time(self.shift),
            "utilisation" => Figure::Share(self.utilisation),
            "set_up" => Figure::Time(day.set_up),
            "block_up" => Figure::Time(day.block_up),
            "pack_up" => Figure::Time(day.pack_up),
            "overnight" => Figure::Time(day.overnight),
            "tidy" => Figure::Time(day.tidy),
            "day" => Figure::Time(day.length),
            "break" => Figure::Time(day.rest),
            "break_every" => Figure::Time(day.rest_every),
            "blade_change" => Figure::Time(blade.change),
            "blade_hours" => Figure::Time(blade.hours),
            "softwood_blade" => Figure::Area(blade.softwood),
            "hardwood_blade" => Figure::Area(blade.hardwood),
            "dirty_blade" => Figure::Share(blade.dirty),
            "frozen_blade" => Figure::Share(blade.frozen),
            _ => return None,
        })
    }
}

/// What sawyers tell of each figure. Common practice, no source.
const TOLD: [(&str, &str); FIELDS.len()] = [
    ("load", "1 to 2 min with a hydraulic loader, 3 to 10 by hand"),
    ("load_piled", "3 to 8 min with a hydraulic loader, 10 to 20 by hand"),
    ("load_dragged", "3 to 8 min with a powered winch, 10 to 20 by hand"),
    ("haul", "a slow walk, there and back"),
    ("level", "0.5 to 1.5 min with hydraulics, 1 to 3 by hand"),
    ("turn", "0.5 to 1 min with hydraulics, 1 to 4 by hand"),
    ("softwood_feed", "40 to 70 ft/min at 8 to 12 in, 15 to 30 by hand"),
    ("hardwood_feed", "20 to 40 ft/min at 8 to 12 in, 10 to 20 by hand"),
    ("fastest_feed", "40 to 70 ft/min in narrow softwood"),
    ("return", "80 to 120 ft/min, 60 by hand"),
    ("set", "3 to 8 s, 5 to 15 by hand"),
    ("take_away_alone", "15 to 30 s"),
    ("take_away_helped", "5 to 10 s"),
    ("helpers", "one or two"),
    ("stack", "20 s for a board, with its stickers"),
    (
        "edging_batch",
        "a batch of 3 to 6 flitches takes 1.5 to 3 min with its passes, 3 to 5 by hand",
    ),
    ("move", "0.5 min"),
    (
        "utilisation",
        "10 to 25 % go to fuel, water, sawdust and talk; half where the customer stacks alone",
    ),
    ("set_up", "10 to 30 min"),
    ("block_up", "10 to 20 min for blocking and digging in the feet"),
    ("pack_up", "15 to 30 min"),
    ("overnight", "10 to 20 min for covering up, uncovering and greasing"),
    ("tidy", "10 to 20 min a day for a tarp that is laid out and emptied"),
    ("day", "a day of 8 h"),
    ("break", "a quarter of an hour"),
    ("break_every", "every second hour"),
    ("blade_change", "3 to 6 min"),
    ("blade_hours", "changed each 1.5 to 2 h of sawing"),
    ("softwood_blade", "400 to 600 bf of clean softwood, mostly 4/4, at 1.4 ft2 for each"),
    ("hardwood_blade", "250 to 400 bf of hardwood, mostly 4/4, at 1.4 ft2 for each"),
    ("dirty_blade", "a blade lasts two thirds as long in dirty bark"),
    ("frozen_blade", "a blade lasts half as long in frost"),
];

#[cfg(test)]
mod tests {
    use super::{Basis, FIELDS, TOLD};
    use crate::pace::Pace;

    #[test]
    fn every_field_says_where_it_comes_from() {
        assert!(FIELDS.iter().zip(TOLD).all(|(field, (told, _))| *field == told));
        let plain = Pace::default();
        let stated = Pace { stated: plain.stated.with("break").with("load"), ..plain };
        for field in Pace::fields() {
            assert!(matches!(plain.basis(field), Some(Basis::Usual(_))));
            assert!(plain.figure(field).is_some(), "{field}");
            let is_stated = stated.basis(field) == Some(Basis::Stated);
            assert_eq!(is_stated, matches!(field, "break" | "load"));
        }
        assert_eq!((plain.basis("rate"), plain.figure("rate")), (None, None));
        // What was learned counts as learned only where it stands in the file.
        let learned = Pace { learned: plain.learned.with("load").with("turn"), ..stated };
        let basis = ["load", "break", "turn"].map(|field| learned.basis(field).unwrap());
        assert_eq!(basis[..2], [Basis::Learned, Basis::Stated]);
        assert!(matches!(basis[2], Basis::Usual(_)));
    }
}

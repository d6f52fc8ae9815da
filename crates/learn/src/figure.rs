//! The figures of a pace that can be learned, each by its field.
//!
//! # Spreads
//! Before anything is learned a figure is taken to be off by a factor: [`Figure::spread`] is one standard deviation of
//! its logarithm. Of a figure that the mill states it is a fifth: whoever writes a figure down has held a watch against it,
//! or knows the mill, but a few passes by the watch are a tenth or two off, and people time the passes that go well. Of a
//! default it is what sawyers tell of such mills, hydraulic or by hand: half as much or twice as much is told of most. All of
//! it common practice, no source.

use std::time::Duration;

use pithward_job::{Basis, Feed, Pace};
use pithward_measure::Length;

/// A figure of a pace that can be learned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Figure(usize);

/// What a figure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A time of seconds or a few minutes.
    Step,
    /// A time of many minutes, or of hours.
    Long,
    /// So far in a minute.
    Speed,
    /// So far in a minute at a width of cut.
    Feed,
    /// A sawn area.
    Area,
    /// A share, in percent.
    Share,
}

/// Field, what it is, and the spread of its default.
const ALL: [(&str, Kind, f64); 28] = [
    ("load", Kind::Step, 0.5),
    ("load_piled", Kind::Step, 0.5),
    ("load_dragged", Kind::Step, 0.5),
    ("haul", Kind::Speed, 0.4),
    ("level", Kind::Step, 0.5),
    ("turn", Kind::Step, 0.5),
    ("softwood_feed", Kind::Feed, 0.4),
    ("hardwood_feed", Kind::Feed, 0.4),
    ("fastest_feed", Kind::Speed, 0.4),
    ("return", Kind::Speed, 0.3),
    ("set", Kind::Step, 0.5),
    ("take_away_alone", Kind::Step, 0.4),
    ("take_away_helped", Kind::Step, 0.5),
    ("stack", Kind::Step, 0.5),
    ("edging_batch", Kind::Step, 0.5),
    ("move", Kind::Step, 0.5),
    ("utilisation", Kind::Share, 0.5),
    ("set_up", Kind::Long, 0.5),
    ("block_up", Kind::Long, 0.5),
    ("pack_up", Kind::Long, 0.5),
    ("overnight", Kind::Long, 0.5),
    ("tidy", Kind::Long, 0.5),
    ("blade_change", Kind::Step, 0.4),
    ("blade_hours", Kind::Long, 0.4),
    ("softwood_blade", Kind::Area, 0.4),
    ("hardwood_blade", Kind::Area, 0.4),
    // The share that is left in dirty bark and in frost is rarely told apart from the blade itself.
    ("dirty_blade", Kind::Share, 0.3),
    ("frozen_blade", Kind::Share, 0.3),
];

/// One standard deviation of the logarithm of a figure that the mill states.
const STATED: f64 = 0.2;
/// The least and the greatest share that a mill file takes.
const SHARES: (f64, f64) = (0.10, 1.0);
/// The longest time of a step that a mill file takes, seconds.
const LONGEST_STEP: f64 = 3600.0;
/// A share that is stated as all is taken to be a little less, so that it can be learned.
const MOST_SHARE: f64 = 0.995;

impl Figure {
    /// All of them, in the order of the fields of a mill file.
    pub fn all() -> impl ExactSizeIterator<Item = Self> {
        (0..ALL.len()).map(Self)
    }

    /// How many there are.
    pub const COUNT: usize = ALL.len();

    /// Its place among all.
    pub fn place(self) -> usize {
        self.0
    }

    /// The one with a field.
    pub fn of(field: &str) -> Option<Self> {
        ALL.iter().position(|(known, ..)| *known == field).map(Self)
    }

    /// Its field in a mill file.
    pub fn field(self) -> &'static str {
        ALL[self.0].0
    }

    /// What it is.
    pub fn kind(self) -> Kind {
        ALL[self.0].1
    }

    /// How far it may be off before anything is learned: one standard deviation of its logarithm, of a share that of the
    /// odds.
    pub fn spread(self, pace: &Pace) -> f64 {
        match pace.basis(self.field()) {
            Some(Basis::Stated) => STATED,
            _ => ALL[self.0].2,
        }
    }

    /// What it is in a pace.
    ///
    /// # Units
    /// Seconds of a time; inches a minute of a speed or feed; square feet of an area; of a share from 0 to 1.
    pub fn get(self, pace: &Pace) -> f64 {
        let mut copy = *pace;
        match self.slot(&mut copy) {
            Slot::Time(time) => time.as_secs_f64(),
            Slot::Speed(speed) => speed.inches_f64(),
            Slot::Feed(feed) => feed.per_minute.inches_f64(),
            Slot::Area(area) => *area,
            Slot::Share(share) => f64::from(*share) / 1000.0,
        }
    }

    /// Makes it another, within what a mill file takes.
    pub fn set(self, pace: &mut Pace, value: f64) {
        let long = matches!(self.kind(), Kind::Long);
        match self.slot(pace) {
            Slot::Time(time) => {
                let most = if long { 24.0 * LONGEST_STEP } else { LONGEST_STEP };
                *time = Duration::from_secs_f64(value.clamp(0.0, most));
            }
            Slot::Speed(speed) => *speed = within(value),
            Slot::Feed(feed) => feed.per_minute = within(value),
            Slot::Area(area) => *area = value.clamp(20.0, 20_000.0),
            Slot::Share(share) => {
                #[allow(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "held within 100 and 1000"
                )]
                let thousandths = (value.clamp(SHARES.0, SHARES.1) * 1000.0).round() as u32;
                *share = thousandths;
            }
        }
    }

    /// What it becomes where its logarithm, or that of the odds of a share, goes up by so much.
    pub fn moved(self, value: f64, by: f64) -> f64 {
        match self.kind() {
            Kind::Share => {
                let share = value.clamp(1.0 - MOST_SHARE, MOST_SHARE);
                1.0 / (1.0 + (1.0 - share) / share * libm::exp(-by))
            }
            _ => value * libm::exp(by),
        }
    }

    fn slot(self, pace: &mut Pace) -> Slot<'_> {
        let day = &mut pace.day;
        let blade = &mut pace.blade;
        match self.field() {
            "load" => Slot::Time(&mut pace.load),
            "load_piled" => Slot::Time(&mut day.load_piled),
            "load_dragged" => Slot::Time(&mut day.load_dragged),
            "haul" => Slot::Speed(&mut day.haul),
            "level" => Slot::Time(&mut pace.level),
            "turn" => Slot::Time(&mut pace.turn),
            "softwood_feed" => Slot::Feed(&mut pace.softwood),
            "hardwood_feed" => Slot::Feed(&mut pace.hardwood),
            "fastest_feed" => Slot::Speed(&mut pace.fastest),
            "return" => Slot::Speed(&mut pace.back),
            "set" => Slot::Time(&mut pace.set),
            "take_away_alone" => Slot::Time(&mut pace.take_alone),
            "take_away_helped" => Slot::Time(&mut pace.take_helped),
            "stack" => Slot::Time(&mut day.stack),
            "edging_batch" => Slot::Time(&mut pace.edging),
            "move" => Slot::Time(&mut pace.shift),
            "utilisation" => Slot::Share(&mut pace.utilisation),
            "set_up" => Slot::Time(&mut day.set_up),
            "block_up" => Slot::Time(&mut day.block_up),
            "pack_up" => Slot::Time(&mut day.pack_up),
            "overnight" => Slot::Time(&mut day.overnight),
            "tidy" => Slot::Time(&mut day.tidy),
            "blade_change" => Slot::Time(&mut blade.change),
            "blade_hours" => Slot::Time(&mut blade.hours),
            "softwood_blade" => Slot::Area(&mut blade.softwood),
            "hardwood_blade" => Slot::Area(&mut blade.hardwood),
            "dirty_blade" => Slot::Share(&mut blade.dirty),
            _ => Slot::Share(&mut blade.frozen),
        }
    }
}

/// Where a figure stands in a pace.
enum Slot<'a> {
    Time(&'a mut Duration),
    Speed(&'a mut Length),
    Feed(&'a mut Feed),
    Area(&'a mut f64),
    Share(&'a mut u32),
}

/// A speed that a mill file takes.
fn within(inches: f64) -> Length {
    Length::from_inches_f64(inches.clamp(6.0, 4800.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_is_a_field_of_the_pace_and_its_own() {
        let plain = Pace::default();
        let fields: Vec<&str> = Pace::fields().collect();
        for figure in Figure::all() {
            assert!(fields.contains(&figure.field()), "{}", figure.field());
            assert_eq!(Figure::of(figure.field()), Some(figure));
            let before = figure.get(&plain);
            let mut pace = plain;
            figure.set(&mut pace, figure.moved(before, -0.25));
            let after = figure.get(&pace);
            assert!(after < before && pace != plain, "{}", figure.field());
            // Nothing else moved.
            figure.set(&mut pace, before);
            assert_eq!(pace, plain, "{}", figure.field());
            if figure.kind() != Kind::Share {
                assert!((after / before - libm::exp(-0.25)).abs() < 1e-9);
            }
        }
        // Left as they are: how many help, how long a day may be and when one rests, which the sawyer says.
        let learned: Vec<&str> = Figure::all().map(Figure::field).collect();
        let left: Vec<&str> = fields.into_iter().filter(|field| !learned.contains(field)).collect();
        assert_eq!(left, ["helpers", "day", "break", "break_every"]);
    }

    #[test]
    fn a_share_stays_one_and_a_figure_within_its_limits() {
        let share = Figure::of("utilisation").unwrap();
        for by in [-50.0, -1.0, 0.0, 1.0, 50.0] {
            assert!((0.0..=1.0).contains(&share.moved(0.75, by)) && share.moved(1.0, by) <= 1.0);
        }
        assert!((share.moved(0.75, 0.0) - 0.75).abs() < 1e-12);
        let mut pace = Pace::default();
        for figure in Figure::all() {
            figure.set(&mut pace, 1e12);
            figure.set(&mut pace, 0.0);
        }
        assert_eq!((pace.utilisation, pace.back), (100, Length::inches(6)));
    }
}

//! Figures of the pace as they stand in a mill file.

use pithward_job::Pace;
use pithward_learn::{Figure, Kind};

/// Inches in a foot and in a metre; square feet in a square metre.
const FOOT: f64 = 12.0;
const METRE: f64 = 1000.0 / 25.4;
const SQUARE_METRE: f64 = 1.0 / (0.3048 * 0.3048);

/// Whether a figure is told in feet or in metres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Units {
    Feet,
    Metres,
}

impl Units {
    /// Those of a text of a mill file.
    pub(super) fn of(text: &str) -> Self {
        let lower = text.to_lowercase();
        let metric = ["m/min", "mm/min", "cm/min", "m2", "m\u{b2}", "metre", "m a minute", "m per"];
        let feet = lower.contains("ft") || lower.contains("feet") || lower.contains('\'');
        if !feet && metric.iter().any(|unit| lower.contains(unit)) {
            Self::Metres
        } else {
            Self::Feet
        }
    }
}

/// A figure with its unit: `48.5 s`, `22 min`, `61 ft/min`, `640 ft2`, `78`.
pub(super) fn value(figure: Figure, value: f64, units: Units) -> String {
    match (figure.kind(), units) {
        (Kind::Step, _) if value < 600.0 => format!("{} s", three(value, 0.1)),
        (Kind::Step | Kind::Long, _) => format!("{} min", three(value / 60.0, 0.1)),
        (Kind::Speed | Kind::Feed, Units::Feet) => format!("{} ft/min", three(value / FOOT, 0.1)),
        (Kind::Speed | Kind::Feed, Units::Metres) => {
            format!("{} m/min", three(value / METRE, 0.01))
        }
        (Kind::Area, Units::Feet) => format!("{} ft2", three(value, 1.0)),
        (Kind::Area, Units::Metres) => format!("{} m2", three(value / SQUARE_METRE, 0.1)),
        (Kind::Share, _) => three(value * 100.0, 0.1),
    }
}

/// The same as it is said: a share with its sign.
pub(super) fn said(figure: Figure, of: f64) -> String {
    let sign = if figure.kind() == Kind::Share { " %" } else { "" };
    format!("{}{sign}", value(figure, of, Units::Feet))
}

/// The width at which a feed is told, ` at 10 in`; as it stands in the file, where it does.
pub(super) fn at(figure: Figure, pace: &Pace, text: Option<&str>) -> String {
    if figure.kind() != Kind::Feed {
        return String::new();
    }
    if let Some((_, width)) = text.and_then(|text| text.split_once(" at ")) {
        return format!(" at {}", width.trim());
    }
    let feed = if figure.field() == "softwood_feed" { pace.softwood } else { pace.hardwood };
    format!(" at {} in", three(feed.at.inches_f64(), 0.01))
}

/// Three figures that say something, in whole numbers of a step at the finest, without zeros behind the point.
pub(super) fn three(value: f64, finest: f64) -> String {
    let mut step = finest;
    while value / step >= 999.5 {
        step *= 10.0;
    }
    let rounded = (value / step).round() * step;
    let places = if step < 0.05 { 2 } else { usize::from(step < 0.5) };
    let text = format!("{rounded:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_as_a_file_has_them() {
        let of = |field: &str, it: f64, units| value(Figure::of(field).unwrap(), it, units);
        let feet = |field: &str, it: f64| of(field, it, Units::Feet);
        assert_eq!(feet("turn", 48.4567), "48.5 s");
        assert_eq!(feet("load_piled", 333.333), "333 s");
        assert_eq!(feet("load", 1234.0), "20.6 min");
        assert_eq!(feet("set_up", 1199.0), "20 min");
        assert_eq!(feet("return", 1082.4), "90.2 ft/min");
        assert_eq!(feet("softwood_blade", 1234.4), "1230 ft2");
        assert_eq!(feet("utilisation", 0.7549), "75.5");
        assert_eq!(of("return", 1082.4, Units::Metres), "27.5 m/min");
        assert_eq!(of("softwood_blade", 700.0, Units::Metres), "65 m2");
        assert_eq!(said(Figure::of("utilisation").unwrap(), 0.8), "80 %");
        assert_eq!((three(0.0, 0.1), three(99.96, 0.1)), ("0".to_owned(), "100".to_owned()));
    }

    #[test]
    fn units_are_those_of_the_file() {
        for text in ["17 m/min at 250 mm", "27 m/min", "65 m2", "55 m\u{b2}"] {
            assert_eq!(Units::of(text), Units::Metres, "{text}");
        }
        for text in ["55 ft/min at 10 in", "600 ft2", "90 s", "20 min", "55 ft/min at 254 mm", ""] {
            assert_eq!(Units::of(text), Units::Feet, "{text}");
        }
    }

    #[test]
    fn a_feed_keeps_the_width_that_it_is_told_at() {
        let (pace, feed) = (Pace::default(), Figure::of("softwood_feed").unwrap());
        assert_eq!(at(feed, &pace, None), " at 10 in");
        assert_eq!(at(feed, &pace, Some("17 m/min at  250 mm")), " at 250 mm");
        assert_eq!(at(Figure::of("turn").unwrap(), &pace, None), "");
    }
}

//! A range as an interval: from where one in ten is below to where one in ten is above.

use crate::Picture;
use maud::html;

/// A range to be drawn on a scale that begins at nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Interval {
    /// One in ten is below.
    pub low: f64,
    /// As many are below as above.
    pub likely: f64,
    /// One in ten is above.
    pub high: f64,
    /// By the plan, or what came out; a diamond.
    pub mark: Option<f64>,
    /// The end of the scale.
    pub most: f64,
}

/// Width and height of the picture.
const WIDE: f64 = 100.0;
const HIGH: f64 = 8.0;
/// Room at both ends.
const ROOM: f64 = 3.0;

/// A bar from low to high, a ring at what is likely, a diamond at the mark; `title` says it in words.
pub fn interval(of: &Interval, title: &str) -> Picture {
    let most = if of.most > 0.0 { of.most } else { 1.0 };
    let at = |x: f64| ROOM + (WIDE - 2.0 * ROOM) * (x / most).clamp(0.0, 1.0);
    let middle = HIGH / 2.0;
    let tick = |x: f64| format!("M{} {}v{}", short(at(x)), short(middle - 1.8), short(3.6));
    html! {
        svg class="pw" role="img" viewBox=(format!("0 0 {WIDE} {HIGH}")) {
            title { (title) }
            path class="lead" d=(format!("M{} {}H{}", short(at(0.0)), short(middle), short(at(most)))) {}
            path class="span" d=(format!("M{} {}H{}", short(at(of.low)), short(middle), short(at(of.high)))) {}
            path class="edge" d=(tick(of.low)) {}
            path class="edge" d=(tick(of.high)) {}
            circle class="dot" cx=(short(at(of.likely))) cy=(short(middle)) r="1.5" {}
            @if let Some(mark) = of.mark {
                @let x = at(mark);
                polygon class="diamond" points=(format!("{},{} {},{} {},{} {},{}", short(x), short(middle - 2.6),
                    short(x + 1.2), short(middle - 1.4), short(x), short(middle - 0.2), short(x - 1.2),
                    short(middle - 1.4))) {}
            }
        }
    }
}

/// A coordinate to two digits, without idle zeros.
fn short(x: f64) -> String {
    let text = format!("{x:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bar_goes_from_low_to_high() {
        let of = Interval { low: 25.0, likely: 50.0, high: 75.0, mark: None, most: 100.0 };
        let text = interval(&of, "pieces").0;
        assert!(text.contains("class=\"span\" d=\"M26.5 4H73.5\""), "{text}");
        assert!(text.contains("cx=\"50\"") && !text.contains("diamond"), "{text}");
        let none = Interval { most: 0.0, low: 0.0, likely: 0.0, high: 0.0, ..of };
        assert!(!interval(&none, "<b>").0.contains("NaN"));
        assert!(interval(&none, "<b>").0.contains("&lt;b&gt;"));
    }
}

//! The log from the side, as it lies for its first face: taper, bow, what raises it, where its passes go.

use crate::paint::{Frame, points, short};
use crate::{Drawn, Picture, Words};
use maud::{Markup, html};
use pithward_geometry::{Covering, Laid, Stage};

/// Stations at which a body is looked at, but for the ends.
const STATIONS: u32 = 24;

/// The height of letters, as a share of the picture's width.
const LETTERS: f64 = 0.028;

/// How high a body reaches over the bed at its stations: lowest and highest, from the small end.
pub(crate) struct Elevation {
    pub(crate) low: Vec<[f64; 2]>,
    pub(crate) high: Vec<[f64; 2]>,
}

impl Elevation {
    pub(crate) fn of(laid: &Laid<'_>, covering: Covering) -> Self {
        let (mut low, mut high) = (Vec::new(), Vec::new());
        let Some((from, to)) = laid.body.stations(covering) else { return Self { low, high } };
        for n in 0..=STATIONS {
            let z = from + (to - from) * f64::from(n) / f64::from(STATIONS);
            let heights = laid.body.outline_at(covering, z);
            let heights = heights.iter().map(|[x, y]| laid.pose.height_of([*x, *y, z]));
            let (least, most) =
                heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), h| (a.min(h), b.max(h)));
            if least <= most {
                low.push([z, -least]);
                high.push([z, -most]);
            }
        }
        Self { low, high }
    }

    /// All around.
    pub(crate) fn outline(&self) -> Vec<[f64; 2]> {
        self.high.iter().chain(self.low.iter().rev()).copied().collect()
    }
}

/// The log from the side in the stage of a picture (see [`Drawn::rests`]), small end at the left, with its passes and the
/// pieces that they free; `None` where there is no such stage, or it is one of a flitch. Heights are drawn as they are.
pub fn side_view(
    drawn: &Drawn<'_>,
    rest: usize,
    words: &Words<'_>,
    title: &str,
) -> Option<Picture> {
    let laid = drawn.laid.get(rest)?;
    let stage = drawn.stage(laid.place)?;
    let bark = Elevation::of(laid, Covering::Bark);
    let wood = Elevation::of(laid, Covering::Wood);
    let length = drawn.log.length();
    let long = length.inches_f64();
    let all =
        Frame::EMPTY.with(&bark.outline()).with(&wood.outline()).with(&[[0.0, 0.0], [long, 0.0]]);
    let letters = LETTERS * all.width();
    let frame = all.padded([letters, letters, letters, 3.6 * letters]);
    let (pith_small, pith_butt) = (laid.pose.pith_height(0.0), laid.pose.pith_height(long));
    Some(html! {
        svg class="pw" role="img" viewBox=(frame.view_box()) aria-label=(title) {
            title { (title) }
            polygon class="bark" points=(points(&bark.outline())) {}
            polygon class="wood" points=(points(&wood.outline())) {}
            (passes(stage, all.from[0], all.to[0]))
            path class="gone" d=(format!("M0 {}L{} {}", short(-pith_small), short(long), short(-pith_butt))) {}
            (floor(&all, letters))
            text x="0" y=(short(2.5 * letters)) font-size=(format!("{letters:.2}")) { "small end" }
            text x=(short(0.5 * long)) y=(short(2.5 * letters)) font-size=(format!("{letters:.2}"))
                text-anchor="middle" { ((words.long)(length)) }
            text x=(short(long)) y=(short(2.5 * letters)) font-size=(format!("{letters:.2}"))
                text-anchor="end" { "butt" }
        }
    })
}

/// The passes of a stage, as lines from end to end.
fn passes(stage: &Stage, from: f64, to: f64) -> Markup {
    html! {
        @for pass in &stage.passes {
            @let y = short(-pass.height.inches_f64());
            path class="cut" d=(format!("M{} {y}H{}", short(from), short(to))) {}
        }
    }
}

/// The bed.
pub(crate) fn floor(all: &Frame, letters: f64) -> Markup {
    let (left, wide) = (all.from[0] - 0.5 * letters, all.width() + letters);
    html! {
        rect class="under" x=(short(left)) y="0" width=(short(wide)) height=(short(0.7 * letters)) {}
        path class="bed" d=(format!("M{} 0h{}", short(left), short(wide))) {}
    }
}

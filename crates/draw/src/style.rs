//! The look: line widths, hatching, tints for a light and a dark page.

use maud::{Markup, html};

/// The classes of all pictures, for the head of a page. None looks at what it stands in: what is shown once more elsewhere on
/// the page looks the same. Colours are set as properties, so that a page may set others.
pub fn style() -> &'static str {
    "\
:root{--ink:#1a1a1a;--paper:#fff;--wood:#fbf3e2;--off:#e9dcc0}
.pw{font-family:system-ui,sans-serif;display:block;max-width:100%;height:auto}
@media (prefers-color-scheme:dark){:root{--ink:#eee;--paper:#16181b;--wood:#3b3226;--off:#25201a}}
@media print{:root{--ink:#000;--paper:#fff;--wood:#fff;--off:#fff}}
.bark,.far,.wood,.waste,.piece,.kerf,.cut,.lead,.bed,.gone,.pith,.ring,.fresh,.sawn,.trim,.next,.span,.edge,.dot{vector-effect:non-scaling-stroke}
.bark{fill:none;stroke:var(--ink);stroke-width:1.2;stroke-dasharray:2 3}
.far{fill:none;stroke:var(--ink);stroke-width:.8;stroke-dasharray:7 4;opacity:.7}
.wood{fill:var(--wood);stroke:var(--ink);stroke-width:1.4}
.waste{fill:url(#pw-waste);fill:var(--waste,url(#pw-waste));stroke:none}
.small{--waste:url(#pw-coarse)}
.outer{stroke:var(--ink);stroke-width:1.4}
.piece{fill:var(--wood);stroke:var(--ink);stroke-width:1.6}
.short{stroke-dasharray:6 3}
.kerf{fill:var(--ink);stroke:var(--ink);stroke-width:.6}
.cut{stroke:var(--ink);stroke-width:2.6;fill:none}
.thin{stroke-width:1.4}
.hair{stroke-width:.6}
.lead{stroke:var(--ink);stroke-width:.7;fill:none}
.fresh{stroke:var(--ink);stroke-width:3.4;fill:none;stroke-linecap:round}
.sawn{stroke:var(--ink);stroke-width:1.4;fill:none}
.trim{stroke:var(--ink);stroke-width:1.6;fill:none;stroke-dasharray:1 2.5}
.next{stroke:var(--ink);stroke-width:1.6;fill:none}
.bed{stroke:var(--ink);stroke-width:3;fill:none}
.under{fill:url(#pw-bed);stroke:none}
.gone{fill:none;stroke:var(--ink);stroke-width:.7;stroke-dasharray:1 4;opacity:.8}
.pith{stroke:var(--ink);stroke-width:1.6;fill:none}
.pw text{fill:var(--ink);stroke:none}
.pw .halo{stroke:var(--paper);stroke-linejoin:round;paint-order:stroke}
.c,.r{fill:var(--ink)}
.c{text-anchor:middle;dominant-baseline:central}
.r{dominant-baseline:central;font-weight:bold}
.ring{fill:var(--paper);stroke:var(--ink);stroke-width:1.4}
.span{stroke:var(--ink);stroke-width:5;fill:none;stroke-linecap:butt}
.edge{stroke:var(--ink);stroke-width:1.6;fill:none}
.dot{fill:var(--paper);stroke:var(--ink);stroke-width:2.2}
.diamond{fill:var(--ink);stroke:none}
"
}

/// The same for a picture that stands alone: black on paper, each colour by its value, for programs that know no properties.
pub(crate) fn style_alone() -> String {
    let lines =
        style().lines().filter(|line| !line.starts_with(":root") && !line.starts_with("@media"));
    let mut text: String = lines.flat_map(|line| [line, "\n"]).collect();
    for (name, value) in COLOURS {
        text = text.replace(name, value);
    }
    text.replace("fill:var(--waste,url(#pw-waste));", "")
}

/// The colours of a picture that stands alone.
const COLOURS: [(&str, &str); 7] = [
    ("var(--ink,#000)", "#1a1a1a"),
    ("var(--off,#fff)", "#e9dcc0"),
    ("var(--ink)", "#1a1a1a"),
    ("var(--paper)", "#fff"),
    ("var(--wood)", "#fbf3e2"),
    ("var(--off)", "#e9dcc0"),
    ("system-ui,", ""),
];

/// The hatching that the classes name; once on a page is enough.
pub fn hatching() -> Markup {
    html! {
        svg width="0" height="0" aria-hidden="true" style="position:absolute" { (defs()) }
    }
}

/// The same within a picture that stands alone.
pub(crate) fn hatching_defs() -> Markup {
    let mut text = defs().into_string();
    for (name, value) in COLOURS {
        text = text.replace(name, value);
    }
    maud::PreEscaped(text)
}

fn defs() -> Markup {
    html! {
        defs {
            pattern id="pw-waste" width="42" height="42" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                rect width="42" height="42" fill="var(--off,#fff)" {}
                line x1="0" y1="0" x2="0" y2="42" stroke="var(--ink,#000)" stroke-width="9" {}
            }
            pattern id="pw-coarse" width="110" height="110" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                rect width="110" height="110" fill="var(--off,#fff)" {}
                line x1="0" y1="0" x2="0" y2="110" stroke="var(--ink,#000)" stroke-width="22" {}
            }
            pattern id="pw-bed" width="60" height="60" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)" {
                line x1="0" y1="0" x2="0" y2="60" stroke="var(--ink,#000)" stroke-width="12" {}
            }
        }
    }
}

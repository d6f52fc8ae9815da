//! A picture as a file of its own: well-formed SVG with its look in it, for any program that shows SVG.

use crate::Picture;
use crate::style::{hatching_defs, style_alone};
use maud::html;

/// The text of a picture as a file of its own. `desc` says more of it than its title, for whoever cannot see it.
pub fn stand_alone(picture: &Picture, desc: &str) -> String {
    let text = &picture.0;
    // Every picture begins with its element and its title.
    let Some((head, rest)) = text.split_once("</title>") else { return text.clone() };
    let head =
        head.replacen("<svg ", "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" ", 1);
    let own = html! {
        desc { (desc) }
        style { (maud::PreEscaped(style_alone())) }
        (hatching_defs())
    };
    let own = own.into_string();
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{head}</title>{own}{rest}\n")
}

//! Pages: HTML made at compile time, no script, nothing from outside.

pub(crate) mod stock;

use handcoat_figures::FACES;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The one style sheet: type, spacing and colours of the house.
const LOOK: &str = include_str!("look.css");

/// A command line that may wrap between its words, and never inside a flag: `--salt-` with `mass` under it is no flag.
pub(crate) fn command(typed: &[String]) -> Markup {
    html! {
        pre.command tabindex="0" {
            @for (place, word) in typed.iter().enumerate() {
                @if place > 0 { " " }
                @if word.starts_with("--") { span.flag { (word) } } @else { (word) }
            }
        }
    }
}

/// A page that stands by itself in a folder, beside the files of the faces.
pub(crate) fn loose_page(title: &str, body: &Markup) -> String {
    let faces: String = FACES
        .iter()
        .map(|face| {
            format!(
                "@font-face{{font-family:\"{}\";font-weight:{};src:url({})}}\n",
                face.family, face.weight, face.file
            )
        })
        .collect();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(faces)) (PreEscaped(LOOK)) }
            }
            body { (body) }
        }
    };
    page.into_string()
}

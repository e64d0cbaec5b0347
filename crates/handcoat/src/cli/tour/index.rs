//! The page that shows what the tour made.

use handcoat_figures::FACES;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::Shown;
use super::stops::STUDIO;

const STYLE: &str = include_str!("index.css");

/// The page. It needs no script and no network.
pub(super) fn page(shown: &[Shown]) -> String {
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
                title { "A tour of handcoat" }
                style { (PreEscaped(faces)) (PreEscaped(STYLE)) }
            }
            body {
                main {
                    header {
                        h1 { "A tour of handcoat" }
                        p { "From a jar of powder to a bottle of known strength, on sample data of an invented studio, "
                            (STUDIO.trim_end_matches(" (invented)")) "." }
                    }
                    @for one in shown { (stop(one)) }
                    footer {
                        p { "± is k = 2: the interval holds about 95 %. Palladium and platinum salts harm eyes and skin; "
                            "chloroplatinate dust can make you allergic for life. Local rules and licensed practice "
                            "come before anything written here." }
                    }
                }
            }
        }
    };
    page.into_string()
}

fn stop(one: &Shown) -> Markup {
    html! {
        section id=(one.stop.name) {
            h2 { (one.stop.title) }
            p { (one.stop.look) }
            pre.command tabindex="0" { (one.command) }
            pre.answer tabindex="0" { (one.text.trim_end()) }
            p.files {
                a href=(format!("{}.txt", one.stop.name)) { "the text" }
                a href=(format!("{}.json", one.stop.name)) { "the JSON, " (one.json.lines().count()) " lines" }
                @if let Some(sheet) = &one.sheet {
                    a.paper href=(sheet) { "the bench sheet, one page to print" }
                }
            }
        }
    }
}

//! The page that shows what the tour made.

use maud::{Markup, html};

use super::Shown;
use super::film::SEEN;
use super::stops::STUDIO;
use crate::web;

/// The page. It needs no script and no network.
pub(super) fn page(shown: &[Shown]) -> String {
    let body = html! {
        main {
            header {
                h1 { "A tour of handcoat" }
                p {
                    "From a jar of powder to a labelled bottle, with every milligram and cent accounted for, on sample data. The studio, "
                    (STUDIO.trim_end_matches(" (invented)")) ", its prices and its weighings are invented."
                }
            }
            @for one in shown { (stop(one)) }
            footer {
                p {
                    "± is k = 2: the interval holds about 95 %. Palladium and platinum salts harm eyes and skin; "
                    "chloroplatinate dust can make you allergic for life. Suppliers' sheets, local rules and licensed "
                    "practice come before anything written here."
                }
            }
        }
    };
    web::loose_page("A tour of handcoat", &body)
}

fn stop(one: &Shown) -> Markup {
    html! {
        section id=(one.stop.name) {
            h2 { (one.stop.title) }
            p { (one.stop.look) }
            (web::command(&one.typed))
            @match &one.planned {
                Some(planned) => {
                    (web::stock::plan(planned))
                    details { summary { "As the terminal shows it" } pre tabindex="0" { (one.text.trim_end()) } }
                }
                None => pre tabindex="0" { (one.text.trim_end()) },
            }
            @if one.stop.arguments.contains(&SEEN) {
                p.files { a.paper href=(SEEN) { img src=(SEEN) width="640" alt="The scan, with an outline around each patch that was read"; } }
            }
            p.files {
                a href=(format!("{}.txt", one.stop.name)) { "the text" }
                a href=(format!("{}.json", one.stop.name)) { "the JSON (--json"@if one.planned.is_some() && one.sheet.is_some() { " and no sheet" } "), " (one.json.lines().count()) " lines" }
                @if let Some(sheet) = &one.sheet {
                    a.paper href=(sheet) { @if sheet.ends_with(".pdf") { "the page to print" } @else if sheet.ends_with(".csv") { "the readings" } @else { "the file for the film" } }
                }
            }
        }
    }
}

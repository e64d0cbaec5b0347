//! Pages: HTML made at compile time, nothing from outside. A loose page stands by itself in a folder; the served ones stand in a
//! frame, on a floor every request passes first.

mod asking;
mod assets;
mod coat;
mod coming;
mod cookies;
mod desk;
mod expose;
mod fields;
mod floor;
mod form;
mod frame;
mod pages;
mod pairing;
mod pictures;
mod qr;
mod queue;
mod refused;
mod router;
mod secret;
mod server;
pub(crate) mod stock;
mod strips;
mod theme;
mod tone;
mod turned;
mod visit;
mod words;

pub use desk::Desk;
pub use floor::{Hosts, Peer};
use handcoat_figures::FACES;
pub use pairing::{GOOD_FOR, Pairing, Tried};
pub use router::{READ, WRITTEN, router};
pub(crate) use secret::key;
pub(crate) use server::serve;

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The one style sheet: type, spacing and colours of the house.
const LOOK: &str = include_str!("../../assets/look.css");

/// What `serve --lan` says besides its first line: where, and with which code, also for a camera.
pub(crate) fn pairing_lines(desk: &Desk, code: &str) -> String {
    let addresses = desk.addresses();
    let Some(first) = addresses.first() else {
        return "This computer has no address in a network yet; connect it and start again.\n".into();
    };
    let mut said = String::from("For phones and tablets in the same network:\n");
    for address in &addresses {
        said.push_str(&format!("  {address}/pair\n"));
    }
    said.push_str(&qr::lines(&format!("{first}/pair#{code}")));
    let minutes = GOOD_FOR.as_secs() / 60;
    said.push_str(&format!(
        "Code: {}, good once, for {minutes} minutes; Settings gives another.\n",
        pairing::spaced(code)
    ));
    said.push_str("The connection is not encrypted: use it in a network of your own.\n");
    said
}

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

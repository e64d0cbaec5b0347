//! What stands around every page: the rivers, the way to help, what was just done, how the screen is lit.

use handcoat_work::Settings;
use handcoat_work::ledger::{ActRow, act};
use maud::{DOCTYPE, Markup, html};

use super::router::READ;
use super::theme::Theme;
use super::visit::{Page, Visit};
use super::{assets, form, refused};

/// A stretch of a river: its caption, how it is drawn, its stations.
struct Stream {
    caption: &'static str,
    class: &'static str,
    stations: &'static [(&'static str, &'static str)],
}

/// The rivers as far as they flow today. The same map as in ARCHITECTURE.md.
const RIVERS: &[Stream] = &[
    Stream {
        caption: "metal",
        class: "stream",
        stations: &[("/shelf", "Shelf"), ("/stock/plan", "Stock"), ("/bench", "Mix"), ("/coat", "Coat")],
    },
    Stream {
        caption: "light",
        class: "stream light",
        stations: &[("/expose", "Expose"), ("/tone", "Tone"), ("/negative", "Negative")],
    },
    Stream {
        caption: "where they meet",
        class: "stream meet",
        stations: &[("/session", "Session"), ("/print", "Prints")],
    },
    Stream {
        caption: "always",
        class: "stream",
        stations: &[("/keep", "Kept"), ("/ledger", "Ledger"), ("/settings", "Settings")],
    },
];

fn rivers(at: &str) -> Markup {
    html! {
        @for stream in RIVERS {
            div.stretch {
                p.cap { (stream.caption) }
                ul class=(stream.class) {
                    @for (address, name) in stream.stations.iter().filter(|(address, _)| READ.contains(address)) {
                        li { a href=(address) aria-current=[(*address == at).then_some("page")] { (name) } }
                    }
                }
            }
        }
    }
}

fn head(title: &str, theme: Theme, script: Option<&str>) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="theme-color" content=(theme.ground());
            // No picture: a browser would ask for one and paint it as it likes.
            link rel="icon" href="data:,";
            title { (title) }
            link rel="stylesheet" href=(assets::style());
            @if let Some(script) = script { script src=(assets::script(script)) defer {} }
        }
    }
}

/// A page in its frame.
pub(super) fn whole(visit: &Visit, page: &Page) -> Markup {
    let (settings, done) = {
        let studio = visit.studio();
        // A frame is drawn even where the book cannot be read: the page itself says what is wrong.
        let settings = studio.settings().unwrap_or_default();
        let number = visit.fields.get("act").and_then(|text| text.parse().ok());
        (settings, number.and_then(|number| act(&studio, number).ok().flatten()))
    };
    let name = settings.studio.clone().unwrap_or_else(|| "handcoat".into());
    html! {
        (DOCTYPE)
        html lang="en" data-theme=(visit.theme.word()) {
            (head(&format!("{} · {name}", page.title), visit.theme, page.script))
            body {
                a.skip href="#page" { "To the page" }
                div.house {
                    nav.rivers aria-label="The rivers" {
                        a.studio href="/" aria-current=[(page.at == "/").then_some("page")] { (name) }
                        (rivers(page.at))
                        p.help { a href="/emergency" { "Emergency" } }
                    }
                    main id="page" tabindex="-1" {
                        @if let Some(done) = &done { (just_done(visit, done)) }
                        (page.body)
                    }
                    footer { (lights(visit, page.at)) (about(&settings)) }
                    nav.fold aria-label="The rivers, folded" {
                        details {
                            summary { "Rivers" }
                            div.unfolded { (rivers(page.at)) }
                        }
                        a href="/" { "Today" }
                        a.help href="/emergency" { "Emergency" }
                    }
                }
            }
        }
    }
}

/// Only the page: what the script asked for.
pub(super) fn part(page: &Page) -> Markup {
    html! { (DOCTYPE) html lang="en" { head { title { (page.title) } } body { main { (page.body) } } } }
}

/// A step of the bench: nothing else on the screen.
pub(super) fn bench(visit: &Visit, page: &Page) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" data-theme=(visit.theme.word()) {
            (head(&page.title, visit.theme, page.script))
            body { main.alone id="page" { (page.body) } }
        }
    }
}

/// A page for somebody who is not in the house.
pub(super) fn bare(title: &str, theme: Theme, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" data-theme=(theme.word()) {
            (head(title, theme, None))
            body { main.bare id="page" { (body) p { a href="/" { "Today" } } } }
        }
    }
}

/// What the last act said, with its undoing; it stays until somebody goes on.
fn just_done(visit: &Visit, done: &ActRow) -> Markup {
    html! {
        section.done role="status" aria-label="What was done" {
            div { @for sentence in &done.said { p { (sentence) } } @if done.said.is_empty() { p { "Act " (done.act) " is taken back." } } }
            @match (done.undone_by, done.undoes) {
                (Some(by), _) => p.why { "Taken back by act " (by) "." },
                (None, None) => (undo(visit, done, "Undo")),
                (None, Some(_)) => {},
            }
        }
    }
}

/// The button that takes an act back.
pub(super) fn undo(visit: &Visit, row: &ActRow, word: &str) -> Markup {
    form::post(
        visit,
        "/undo",
        &html! {
            input type="hidden" name="act" value=(row.act);
            button.quiet type="submit" aria-label=(format!("{word} act {}: {}", row.act, row.kind)) { (word) }
        },
    )
}

/// How this screen is lit; the buttons are forms, so that no script is needed in the dark.
fn lights(visit: &Visit, station: &str) -> Markup {
    let back = visit.way_back(station);
    form::post(
        visit,
        "/theme",
        &html! {
            input type="hidden" name="back" value=(back);
            fieldset.lights {
                legend { "Light of this screen" }
                @for theme in Theme::ALL {
                    button.quiet type="submit" name="theme" value=(theme.word()) aria-pressed=(if theme == visit.theme { "true" } else { "false" }) { (theme.name()) }
                }
            }
        },
    )
}

fn about(settings: &Settings) -> Markup {
    html! {
        p.why {
            "± is k = 2: the interval holds about 95 %. Palladium and platinum salts harm eyes and skin; chloroplatinate dust can make you "
            "allergic for life. Suppliers' sheets, local rules and licensed practice come before anything written here."
            @if settings.emergency_number.is_none() { " " a href="/emergency" { "Write down the number to call" } " before you need it." }
        }
    }
}

/// The title of a page and, under it, a refusal that is about no single field.
pub(super) fn title(words: &str, lead: &str) -> Markup {
    html! { h1 { (words) } @if !lead.is_empty() { p.soft { (lead) } } }
}

/// A refusal at the top of a form.
pub(super) fn trouble(refusal: Option<&handcoat_work::Refusal>) -> Markup {
    html! { @if let Some(refusal) = refusal { (refused::note(refusal)) } }
}

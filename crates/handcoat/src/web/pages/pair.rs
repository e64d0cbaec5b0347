//! Letting a device in from the local network.

use axum::http::StatusCode;
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use crate::web::form::{self, Ask, Asked, note, words};
use crate::web::pairing::{Tried, spaced};
use crate::web::secret::Secret;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{cookies, frame, qr};

const CODE: &[Ask<'static>] = &[
    words(
        "code",
        Question::Key,
        "Which code does the computer show?",
        "Eight signs. Spaces and small letters do not matter.",
    ),
    note("name", "What is this device called?", "Phone, tablet at the sink: it stands beside what is done with it."),
];

/// `GET /pair`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    Ok(page(visit, None))
}

/// `POST /pair`
pub(in crate::web) fn enter(visit: &Visit) -> Answer {
    let typed = visit.fields.get("code").unwrap_or_default();
    // The lock on the codes ends with this statement: the book has a lock of its own.
    let tried = visit.desk.pairing().map(|mut own| own.attempt(typed, visit.instant()));
    let refused = |status, words: &'static str| Ok(page(visit, Some(words)).with_status(status));
    match tried {
        None => refused(
            StatusCode::NOT_FOUND,
            "Only the computer itself is served. Start the program with --lan to let devices in.",
        ),
        Some(Tried::TooMany) => {
            refused(StatusCode::TOO_MANY_REQUESTS, "Too many wrong codes. Wait a minute and try again.")
        }
        Some(Tried::Wrong) => refused(
            StatusCode::FORBIDDEN,
            "That is not the code, or it was used or has expired. On the computer, Settings gives a fresh one.",
        ),
        Some(Tried::Right) => {
            let token = Secret::fresh()?;
            // The code is used up by now: a name that is too long is shortened, not refused.
            let name = visit.fields.answer("name").unwrap_or_else(|| "device".into());
            let name: String = name.chars().filter(|c| !c.is_control()).take(40).collect();
            visit.studio().admit_device(token.hash(), &name, visit.now())?;
            Ok(Reply::SeeOther { to: "/".into(), cookie: cookies::set(&visit.desk.device_cookie(), token.text()) })
        }
    }
}

/// `POST /pair/code`, on the computer itself: a fresh code.
pub(in crate::web) fn fresh(visit: &Visit) -> Answer {
    let code = match visit.desk.pairing() {
        Some(mut own) if visit.local => Some(own.renew(visit.instant())?.to_owned()),
        _ => None,
    };
    let Some(code) = code else { return Ok(Reply::see("/settings")) };
    let addresses = visit.desk.addresses();
    let body = html! {
        (frame::title("Pair a device", "On the phone or tablet, in the same network:"))
        div.two {
            section.sheet {
                @for address in &addresses {
                    p.lead { "Open " b { (address) } }
                    (qr::drawing(&format!("{address}/pair#{code}")))
                }
                @if addresses.is_empty() { p { "This computer has no address in a network." } }
            }
            section { h2 { "The code" } p.number { b { (spaced(&code)) } } p.why { "Good once, for ten minutes. The camera brings it along; without one, type it." } }
        }
    };
    Ok(Reply::page("Pair a device", "/settings", body))
}

fn page(visit: &Visit, wrong: Option<&str>) -> Reply {
    let asked = Asked { form: "pair", fields: &visit.fields, refusal: None::<&Refusal> };
    let body = html! {
        (frame::title("Pair this device", "Once; then it stays let in until it is forgotten in the settings."))
        @if let Some(words) = wrong { div.refused role="alert" { p { (words) } } }
        (form::post(visit, "/pair", &html! { (asked.all(CODE)) p.actions { button type="submit" { "Let it in" } } }))
        (without_tls())
    };
    Reply::page("Pair this device", "", body).with_script("pair")
}

/// What a browser keeps back from a page that came over plain HTTP from another computer.
fn without_tls() -> Markup {
    html! {
        section {
            h2 { "What does not work over the network" }
            p { "The connection is not encrypted, so a browser keeps two things back:" }
            ul {
                li { "The screen cannot be kept on by the page. Set the device to stay on while you work." }
                li { "The page cannot look through the camera. Codes on labels are typed." }
            }
            p.why { "Use this in a network of your own: who listens in it can read what is sent." }
        }
    }
}

//! Settings: the studio's name, its scale, the light of this screen, the devices that are let in.

use handcoat_work::{Question, Refusal, Settings};
use maud::{Markup, html};

use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, quantity, words};
use crate::web::theme::Theme;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{cookies, frame, pairing, words as say};

const STUDIO: &[Ask<'static>] = &[
    words("studio", Question::Studio, "What is the studio called?", "It opens Today, and stands on the sheets."),
    quantity(
        "balance",
        Question::Balance,
        "Which scale is used?",
        "Its smallest step, 0.01 g. A plan that says nothing else takes this.",
    ),
    words(
        "emergency_number",
        Question::EmergencyNumber,
        "Which number is called in an emergency?",
        "It stands at the top of the page Emergency.",
    ),
];

/// `GET /settings`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    page(visit, None)
}

/// `POST /settings`
pub(in crate::web) fn keep(visit: &Visit) -> Answer {
    let said = |name: &str| visit.fields.get(name).map(String::from);
    let settings =
        Settings { studio: said("studio"), emergency_number: said("emergency_number"), balance: said("balance") };
    let kept = visit.studio().keep_settings(&settings);
    match kept {
        Ok(()) => Ok(Reply::see("/settings")),
        Err(refusal) => page(visit, Some(&refusal)),
    }
}

/// `POST /theme`
pub(in crate::web) fn light(visit: &Visit) -> Answer {
    let theme = Theme::read(visit.fields.get("theme"));
    // Back to where the button was; only an address of our own, or the way back could lead anywhere.
    let back = visit.fields.get("back").unwrap_or("/");
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"/-_.*~?&=+%".contains(&byte);
    let ours = back.starts_with('/') && !back.starts_with("//") && back.bytes().all(plain);
    Ok(Reply::SeeOther { to: if ours { back } else { "/" }.into(), cookie: cookies::set(Theme::COOKIE, theme.word()) })
}

/// `POST /settings/forget`
pub(in crate::web) fn forget(visit: &Visit) -> Answer {
    if let Some(number) = visit.fields.get("device").and_then(|text| text.parse().ok()) {
        visit.studio().forget_device(number)?;
    }
    Ok(Reply::see("/settings#devices"))
}

fn page(visit: &Visit, refusal: Option<&Refusal>) -> Answer {
    let (settings, devices) = {
        let studio = visit.studio();
        (studio.settings()?, studio.devices()?)
    };
    let said = |text: &Option<String>| text.clone().unwrap_or_default();
    let (studio, scale, number) = (said(&settings.studio), said(&settings.balance), said(&settings.emergency_number));
    let kept =
        Fields::of(&[("studio", studio.as_str()), ("balance", scale.as_str()), ("emergency_number", number.as_str())]);
    let asked = Asked { form: "settings", fields: if refusal.is_some() { &visit.fields } else { &kept }, refusal };
    let body = html! {
        (frame::title("Settings", ""))
        section {
            h2 { "The studio" }
            (form::post(visit, "/settings", &html! { (asked.trouble(STUDIO)) (asked.all(STUDIO)) p.actions { button type="submit" { "Keep" } } }))
        }
        section {
            h2 { "Light" }
            p { "The buttons at the foot of every page set the light of this screen alone. In the two safelight themes no pixel holds any blue; the brightness itself is set on the device, and a strip of your own paper left beside it tells whether it is safe." }
        }
        (device_list(visit, &devices))
    };
    Ok(Reply::page("Settings", "/settings", body).refusing(refusal))
}

fn device_list(visit: &Visit, devices: &[(i64, String, jiff::Timestamp)]) -> Markup {
    let open = visit.desk.pairing().is_some();
    html! {
        section #devices {
            h2 { "Devices" }
            @if !open && devices.is_empty() {
                p.soft { "Only this computer is served. Start the program with --lan to let a phone or tablet in." }
            }
            @if !devices.is_empty() {
                ul.rows {
                    @for (number, name, since) in devices {
                        li {
                            span { b { (name) } " · since " (say::when(*since)) }
                            (form::post(visit, "/settings/forget", &html! {
                                input type="hidden" name="device" value=(number);
                                button.quiet type="submit" aria-label=(format!("Forget {name}")) { "Forget" }
                            }))
                        }
                    }
                }
            }
            @if open && visit.local {
                (form::post(visit, "/pair/code", &html! { p.actions { button.quiet type="submit" { "Pair another device" } } }))
                p.why { "Gives a code that is good once, for " (pairing::GOOD_FOR.as_secs() / 60) " minutes." }
            }
        }
    }
}

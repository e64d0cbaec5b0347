//! One tap from every page: whom to call, and what to do first.

use handcoat_craft::source::{EMERGENCY_DEFERS, emergency};
use handcoat_work::shelf::{SuppliersSheet, suppliers_sheets, wall_page};
use handcoat_work::{Question, Refusal, Settings};
use maud::{Markup, html};

use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, words};
use crate::web::visit::{Answer, Reply, Visit};

const NUMBER: &[Ask<'static>] = &[words(
    "emergency_number",
    Question::EmergencyNumber,
    "Which number is called here?",
    "The emergency number or the poison centre of your place. Write it down before it is needed.",
)];

/// `GET /emergency`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    page(visit, None)
}

/// `POST /emergency`
pub(in crate::web) fn keep(visit: &Visit) -> Answer {
    let number = visit.fields.get("emergency_number").map(String::from);
    let settings = Settings { emergency_number: number, ..Settings::default() };
    let kept = visit.studio().keep_settings(&settings);
    match kept {
        Ok(()) => Ok(Reply::see("/emergency")),
        Err(refusal) => page(visit, Some(&refusal)),
    }
}

/// `GET /emergency/page`
pub(in crate::web) fn for_the_wall(visit: &Visit) -> Answer {
    let bytes = wall_page(Some(&visit.studio()), None, visit.now())?;
    Ok(Reply::Sheet { name: "emergency.pdf", bytes })
}

fn page(visit: &Visit, refusal: Option<&Refusal>) -> Answer {
    let (settings, sheets) = {
        let studio = visit.studio();
        (studio.settings()?, suppliers_sheets(&studio)?)
    };
    let kept = Fields::of(&[("emergency_number", settings.emergency_number.as_deref().unwrap_or_default())]);
    let asked = Asked { form: "number", fields: if refusal.is_some() { &visit.fields } else { &kept }, refusal };
    // Without a number the field for it stands first: this page is opened once before it is needed.
    let number = html! {
        section {
            h2 { "The number to call" }
            (form::post(visit, "/emergency", &html! { (asked.trouble(NUMBER)) (asked.all(NUMBER)) p.actions { button.quiet type="submit" { "Keep the number" } } }))
        }
    };
    let body = html! {
        h1 { "Emergency" }
        @match &settings.emergency_number {
            Some(number) => p.number { "Call " b { (number) } },
            None => p.number { "Call the emergency number of your place" },
        }
        p.soft { "Say what happened, where you are, what substance, and who is hurt. " (EMERGENCY_DEFERS.text) }
        @if settings.emergency_number.is_none() || refusal.is_some() { (number) }
        div.cases {
            @for case in emergency() {
                section.sheet { h2 { (case.when) } p { b { (case.do_first) } } ul { @for step in case.then { li { (step) } } } }
            }
        }
        (sheets_list(&sheets))
        p { a.btn.quiet href="/emergency/page" { "The page for the wall" } }
        @if settings.emergency_number.is_some() && refusal.is_none() { (number) }
    };
    Ok(Reply::page("Emergency", "/emergency", body).refusing(refusal))
}

/// Which suppliers' sheets were entered: who helps asks for them.
fn sheets_list(sheets: &[SuppliersSheet]) -> Markup {
    html! {
        section #sheets {
            h2 { "Suppliers' sheets" }
            @if sheets.is_empty() {
                p.soft { "None was entered yet. Each jar and bottle has a form for it on its page; the sheet itself belongs where anybody finds it." }
            } @else {
                p.soft { "Give the sheet of the substance to whoever helps. It is kept where anybody finds it; this says which to look for." }
                table {
                    caption.unseen { "Suppliers' sheets that were entered" }
                    thead { tr { th scope="col" { "of" } th scope="col" { "supplier" } th scope="col" { "date" } } }
                    tbody {
                        @for own in sheets {
                            tr {
                                th scope="row" { a href=(format!("/shelf/{}", own.code)) { (own.name) } @if own.of_pure_substance { span.soft { " (of the pure substance)" } } }
                                td { (own.supplier) }
                                td.day { (own.date) }
                            }
                        }
                    }
                }
            }
        }
    }
}

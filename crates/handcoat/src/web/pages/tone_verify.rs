//! A chart that was printed through the curve of a response: what is left, and what it teaches.

use handcoat_work::Refusal;
use handcoat_work::tone::{
    CheckRead, ResponseView, check, check_report, curve_csv, keep_check, one_response, without_curve,
};
use maud::{Markup, html};

use super::receive::folded;
use super::tone::facts;
use super::tone_new::{MARK, READINGS, answers, carried, file_field, looked_at, table, waiting, with_file};
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, tick};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, tone};

const UPDATE: &[Ask<'static>] = &[tick(
    "update",
    None,
    "Keep the improved curve as a response of its own",
    "The old one stays as it is: negatives were made with it.",
)];

fn view(visit: &Visit) -> Result<ResponseView, Refusal> {
    one_response(&visit.studio(), visit.segment(1), visit.now())
}

/// `GET /tone/{number}/verify`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    let (own, fields) = (view(visit)?, &visit.fields);
    // Nothing asked is nothing refused.
    let read = || check(&answers(fields), table(fields)?.as_bytes(), &own.read);
    match &looked_at(fields).then(read).transpose() {
        Ok(checked) => page(visit, &own, fields, checked.as_ref(), None),
        Err(refusal) => page(visit, &own, fields, None, Some(refusal)),
    }
}

/// `POST /tone/{number}/verify`
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    let own = view(visit)?;
    let found = with_file(visit).and_then(|fields| {
        let checked = check(&answers(&fields), table(&fields)?.as_bytes(), &own.read)?;
        Ok((fields, checked))
    });
    let (fields, checked) = match found {
        Ok(found) => found,
        Err(refusal) => return page(visit, &own, &visit.fields, None, Some(&refusal)),
    };
    match fields.get("do").unwrap_or_default() {
        "curve" => match &checked.update {
            Some(update) => {
                Ok(Reply::Table { name: format!("curve-{}-better.csv", own.number), text: curve_csv(update) })
            }
            None => page(visit, &own, &fields, Some(&checked), None),
        },
        "report" => {
            let studio = visit.studio().settings()?.studio;
            let title = format!("A print through response {}", own.number);
            let facts = facts(visit, title, own.setup.clone().map(|own| own.1), studio);
            Ok(Reply::Sheet { name: "response-checked.pdf", bytes: check_report(&checked, &facts)? })
        }
        "keep" => {
            let number = own.number.to_string();
            let done = keep_check(&mut visit.studio(), &visit.moment(), &number, &checked, fields.ticked("update"));
            match done {
                Ok(done) => {
                    let to = done.record.map_or("/tone".into(), |number| format!("/tone/{number}"));
                    Ok(Reply::after(&done, &to))
                }
                Err(refusal) => page(visit, &own, &fields, Some(&checked), Some(&refusal)),
            }
        }
        _ => page(visit, &own, &fields, Some(&checked), None),
    }
}

fn page(
    visit: &Visit,
    own: &ResponseView,
    fields: &Fields,
    checked: Option<&CheckRead>,
    refusal: Option<&Refusal>,
) -> Answer {
    let at = format!("/tone/{}", own.number);
    let action = format!("{at}/verify#sheet");
    let asked = Asked { form: "print", fields, refusal };
    let every = [READINGS, MARK].concat();
    let lead = format!(
        "A second chart, sent through the curve of response {}. Its inputs are the tones that were wanted.",
        own.number
    );
    let body = html! {
        (frame::title("I printed through it", &lead))
        p.actions { a.btn.quiet href="/tone/read" { "Read a scan of it" } a.btn.quiet href=(format!("/tone/chart?curve={}", own.number)) { "Make the chart" } }
        div.two {
            (form::post_with_file(visit, &action, &html! {
                (asked.all(READINGS))
                (file_field("print"))
                (folded(&asked, "Decimal mark", MARK))
                p.actions { button type="submit" name="do" value="read" { "Hold it against the target" } a.btn.quiet href=(at) { "Back to the response" } }
            }))
            div {
                h2.unseen #sheet { "What is left" }
                (asked.trouble(&every))
                @match checked {
                    Some(checked) => {
                        @if let Some(looks) = without_curve(checked, Some(own.number)) { (as_new_chart(visit, own, fields, &looks)) }
                        (keep_form(visit, &action, fields, checked)) (tone::checked(checked))
                    }
                    None => div.sheet { @if refusal.is_none() { (waiting(fields, "Hold it against the target")) } p.soft { "What is left of the error stands here, tone by tone, and how much of it is noise." } },
                }
            }
        }
    };
    Ok(Reply::page("I printed through it", "/tone", body).refusing(refusal))
}

/// What a chart that was sent without the curve is good for.
fn as_new_chart(visit: &Visit, own: &ResponseView, fields: &Fields, looks: &str) -> Markup {
    let again = fields.with("update", None).with("prior", Some(&own.number.to_string()));
    let again = again.with("setup", own.setup.as_ref().map(|own| own.1.as_str()));
    form::post(
        visit,
        "/tone/new#sheet",
        &html! {
            p.note { (looks) "." }
            p.why { "Then it says nothing of the curve. It is a good chart all the same, and helps as one." }
            (carried(&again))
            p.actions { button type="submit" name="do" value="fit" { "Read it as a new chart" } }
        },
    )
}

fn keep_form(visit: &Visit, action: &str, fields: &Fields, checked: &CheckRead) -> Markup {
    let asked = Asked { form: "keep", fields, refusal: None };
    let improves = checked.update.is_some();
    let table = fields.with("update", None);
    form::post(
        visit,
        action,
        &html! {
            (carried(&table))
            @if improves { (asked.all(UPDATE)) }
            p.actions {
                button.quiet[checked.verified.without_curve] type="submit" name="do" value="keep" { "Keep what it says" }
                @if improves { button.quiet type="submit" name="do" value="curve" { "The improved curve, CSV" } }
                button.quiet type="submit" name="do" value="report" { "To print" }
            }
        },
    )
}

//! The way from a chart to a negative, step by step, and where a set-up stands on it. What was printed and lies to dry is in no book, so the
//! steps before the first response are offered together.

use handcoat_craft::measure::significant;
use handcoat_work::Refusal;
use handcoat_work::keep::{RecordKind, kept};
use handcoat_work::tone::{ResponseView, curve_to_use};
use maud::{Markup, html};

use crate::web::fields::Fields;
use crate::web::visit::Visit;
use crate::web::{tone, words};

/// Where a set-up stands.
enum Stands<'a> {
    /// It has no response, or one that does not hold any more.
    ToRead(Option<&'a ResponseView>),
    /// Its response was not held against a print yet.
    ToCheck(&'a ResponseView),
    /// A print through its curve was read.
    Checked(&'a ResponseView),
}

impl<'a> Stands<'a> {
    fn of(all: &'a [ResponseView], setup: Option<u32>) -> Self {
        let chosen = curve_to_use(all, setup);
        match all.iter().find(|own| Some(own.number) == chosen) {
            Some(own) if own.checked.is_none() => Self::ToCheck(own),
            Some(own) => Self::Checked(own),
            // Stale ones are used by nobody; the newest of them is what the next chart begins from.
            None => Self::ToRead(all.iter().find(|own| own.setup.as_ref().map(|own| own.0) == setup)),
        }
    }

    /// The step that is next, from 1 on.
    fn next(&self) -> usize {
        match self {
            Self::ToRead(_) => 1,
            Self::ToCheck(_) => 5,
            Self::Checked(_) => 6,
        }
    }
}

/// The steps for the set-up of the address, or the one of the newest response.
pub(super) fn around(visit: &Visit, all: &[ResponseView]) -> Result<Markup, Refusal> {
    let setups: Vec<(u32, String)> =
        kept(&visit.studio(), RecordKind::Setup)?.into_iter().map(|own| (own.number, own.name)).collect();
    let asked = visit.fields.answer("setup").and_then(|own| own.parse::<u32>().ok());
    let asked = asked.filter(|own| setups.iter().any(|other| other.0 == *own));
    let newest = all.first().map(|own| own.setup.as_ref().map(|own| own.0));
    let setup = asked.or_else(|| newest.unwrap_or_else(|| setups.first().map(|own| own.0)));
    let name = setups.iter().find(|own| Some(own.0) == setup).map(|own| own.1.as_str());
    let stands = Stands::of(all, setup);
    Ok(html! {
        section {
            h2 { "From a chart to a negative" @if let Some(name) = name { ": " (name) } }
            (said(&stands))
            p.actions.way { (next(&stands, name)) }
            (steps(&stands))
            @if setups.len() > 1 {
                p { "Of another set-up: " @for (place, (number, name)) in setups.iter().filter(|own| Some(own.0) != setup).enumerate() { @if place > 0 { " · " } a.lone href=(format!("/tone?setup={number}")) { (name) } } }
            }
            p.why { "Without a scanner: " a href="/tone/levels" { "31 inputs and their places, CSV" } " to be printed as you like, and " a href="/tone/new" { "readings to paste" } ", of a densitometer, say." }
        }
    })
}

fn said(stands: &Stands<'_>) -> Markup {
    let within = |own: &ResponseView| significant(own.read.correction.expected_rms(), 2);
    html! {
        p.lead {
            @match stands {
                Stands::ToRead(None) => "Next: a chart on film.",
                Stands::ToRead(Some(own)) => { "Next: a new chart, since response " (own.number) " is " (tone::standing_words(own.standing())) "." }
                Stands::ToCheck(own) => { "Response " (own.number) " is expected within " b { (within(own)) } " L*. Next: print a chart through its curve." }
                Stands::Checked(own) => { "Response " (own.number) " was checked by a print. Next: negatives." }
            }
        }
        @if let Stands::Checked(own) = stands { @if let Some(checked) = &own.checked { p.soft { (words::capitalised(&tone::checked_line(checked))) "." } } }
    }
}

/// The button of the next step, and what may be next besides.
fn next(stands: &Stands<'_>, name: Option<&str>) -> Markup {
    let to_read = Fields::default().with("setup", name).address("/tone/read");
    let scan = html! { a.btn.quiet href=(to_read) { "I have a scan" } };
    match stands {
        Stands::ToRead(_) => {
            let to_chart = Fields::default().with("setup", name).address("/tone/chart");
            html! { a.btn href=(to_chart) { "Make a chart" } (scan) }
        }
        Stands::ToCheck(own) => html! {
            a.btn href=(format!("/tone/chart?curve={}", own.number)) { "A chart through response " (own.number) }
            (scan)
        },
        Stands::Checked(own) => html! {
            a.btn href=(format!("/negative/new?curve={}", own.number)) { "Make a negative" }
            a.btn.quiet href=(format!("/tone/chart?curve={}", own.number)) { "Check it again" }
            (scan)
        },
    }
}

fn steps(stands: &Stands<'_>) -> Markup {
    let at = stands.next();
    let lines = [
        html! { a href="/tone/chart" { "Chart" } ": the file, printed on film" },
        html! { "Print: coated, exposed, processed and dried as this set-up always is" },
        html! { a href="/tone/read" { "Scan" } ": flat and dry; its patches are found by themselves" },
        html! { "Fit: the readings become a response and its curve" },
        html! { "Correction: a chart through the curve, printed, scanned and held against the response" },
        html! { a href="/negative/new" { "Negative" } ": pictures through the curve" },
    ];
    html! {
        details.more open[at == 1] {
            summary { "The way" }
            ol { @for (place, line) in lines.iter().enumerate() {
                li aria-current=[(place + 1 == at).then_some("step")] { (line) @if place + 1 == at { " · " b { "next" } } @else if place + 1 < at { " · " span.soft { "done" } } }
            } }
        }
    }
}

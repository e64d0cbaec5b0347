//! A proof on a page: a picture of the folder as it is wanted, and beside it as the set-up of a response would print it.

use std::path::PathBuf;

use handcoat_craft::measure::{COVERAGE, fixed, significant};
use handcoat_craft::tone::Tint;
use handcoat_work::tone::{
    PROOF_SAYS, ProofAnswers, ProofAsked, ProofCurve, ResponseView, one_response, proof, proof_u, responses,
};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::negative_new::curve_words;
use crate::apart;
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked, Way};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, pictures, tone, words};

/// Responses that are offered.
const MOST: u32 = 20;
/// Long side of a proof on a page in pixels.
const SIDE: u32 = 1000;

/// What a proof is asked of.
struct Chosen {
    source: PathBuf,
    view: ResponseView,
    tint: Tint,
    /// Where the tint is from, in words.
    tint_from: &'static str,
}

fn chosen(visit: &Visit) -> Result<Chosen, Refusal> {
    let fields = &visit.fields;
    let name = fields.answer("picture").ok_or_else(|| Refusal::missing(Question::Picture, "heron.tif"))?;
    let source = pictures::picture(visit.desk.pictures(), &name)?;
    let written = fields.answer("curve").ok_or_else(|| Refusal::missing(Question::Curve, "1"))?;
    let said = ProofAnswers { pixels: None, tint: fields.answer("tint") }.even_tint()?;
    let view = one_response(&visit.studio(), &written, visit.now())?;
    let (tint, tint_from) = match (said, view.read.tint()) {
        (Some(own), _) => (own, "as said, the same for all tones"),
        (None, Some(own)) => (own, "as the scan of its chart had it"),
        (None, None) => (Tint::default(), "neutral: none was said, and its chart was read without colour"),
    };
    Ok(Chosen { source, view, tint, tint_from })
}

/// `GET /negative/proof`
pub(in crate::web) fn page(visit: &Visit) -> Answer {
    let lying = pictures::lying(visit.desk.pictures());
    let all = responses(&visit.studio(), None, MOST, None, visit.now())?;
    let pictures: Vec<(&str, &str)> = lying.iter().map(|own| (own.name.as_str(), own.name.as_str())).collect();
    let curves: Vec<(String, String)> = all.iter().map(|own| (own.number.to_string(), curve_words(own))).collect();
    let curves: Vec<(&str, &str)> = curves.iter().map(|own| (own.0.as_str(), own.1.as_str())).collect();
    let asks = [
        Ask {
            name: "picture",
            about: Some(Question::Picture),
            label: "Which picture?",
            why: "It is only read.",
            way: Way::One(&pictures),
        },
        Ask {
            name: "curve",
            about: Some(Question::Curve),
            label: "As which set-up prints it?",
            why: "Through the curve of this response, which is of that set-up.",
            way: Way::One(&curves),
        },
        Ask {
            name: "tint",
            about: Some(Question::Tint),
            label: "Its tint, a* and b*?",
            why: "1.5,6 for all tones, 0,0 for none. When nothing is written it is that of the scan the response was read from.",
            way: Way::Words,
        },
    ];
    let fields = &visit.fields;
    // What was not asked yet is no mistake.
    let begun = fields.get("picture").is_some() && fields.get("curve").is_some();
    let found = begun.then(|| chosen(visit));
    let refusal = found.as_ref().and_then(|own| own.as_ref().err());
    let asked = Asked { form: "proof", fields, refusal };
    let body = html! {
        (frame::title("Proof", "A picture as a set-up would print it, before any metal is spent."))
        (asked.trouble(&asks))
        @if lying.is_empty() { p.lead { "No picture lies in the folder yet." } p.actions { a.btn href="/negative/new" { "Send one" } } }
        @else if all.is_empty() { p.lead { "No curve is kept yet." } p.why { "A curve comes of a chart: " a href="/tone/new" { "read one" } "." } }
        @else {
            form method="get" action="/negative/proof" {
                (asked.all(&asks))
                p.actions { button type="submit" { "Show it" } a.btn.quiet href=(fields.address("/negative/new")) { "Make a negative" } }
            }
        }
        @if let Some(Ok(own)) = &found { (shown(visit, own)) }
    };
    Ok(Reply::page("Proof", "/negative", body).refusing(refusal))
}

/// The tones that are wanted, and beside them what a response prints; the fields name picture and response.
pub(super) fn side_by_side(fields: &Fields, number: u32) -> Markup {
    let address = |which: &str| fields.address(&format!("/negative/proof/{which}"));
    html! {
        div.pair {
            figure.picture { span.lit { img src=(address("before")) alt="The picture in the tones that are wanted" loading="lazy"; } figcaption.why { "Before: the tones that are wanted, in grey." } }
            figure.picture { span.lit { img src=(address("after")) alt=(format!("The picture as response {number} prints it")) loading="lazy"; } figcaption.why { "After: as response " (number) " prints it through its curve." } }
        }
    }
}

fn shown(visit: &Visit, own: &Chosen) -> Markup {
    let response = &own.view.read.fit.response;
    html! {
        section {
            h2 { "Before and after" }
            (side_by_side(&visit.fields, own.view.number))
            dl.facts.even {
                dt { "paper" } dd { b { (fixed(response.white(), 1)) } " L*" }
                dt { "black" } dd { b { (fixed(response.black(), 1)) } " L*" }
                dt { "tint" } dd { (own.tint_from) }
                dt { "a print within" } dd { b { (significant(COVERAGE * proof_u(&own.view.read), 2)) } " L* of it (k = 2), as far as the readings know" }
            }
            p.note { (words::capitalised(PROOF_SAYS)) "." }
            (tone::doubts(&own.view))
        }
    }
}

/// `GET /negative/proof/before`
pub(in crate::web) fn before(visit: &Visit) -> Answer {
    let own = chosen(visit)?;
    picture(visit, &own, "before", &ProofAsked::wanted())
}

/// `GET /negative/proof/after`
pub(in crate::web) fn after(visit: &Visit) -> Answer {
    let own = chosen(visit)?;
    let asked = proof(&own.view.read, ProofCurve::Own, own.tint.clone());
    picture(visit, &own, "after", &asked)
}

fn picture(visit: &Visit, own: &Chosen, which: &str, asked: &ProofAsked) -> Answer {
    // A file that was changed has another time or length, and is worked on anew. A response never changes.
    let about = std::fs::metadata(&own.source).ok().map(|own| (own.len(), own.modified().ok()));
    let key = format!("{which} {} {about:?} {} {:?}", own.source.display(), own.view.number, own.tint);
    let bytes = visit.desk.small(&key, || apart::proof_picture(asked, &own.source, SIDE))?;
    Ok(Reply::Passing { media: "image/png", bytes })
}

//! Strips without a wedge: the plan, one strip at a time beside the lamp, and the tap that finds the time.

use handcoat_craft::measure::significant;
use handcoat_work::Question;
use handcoat_work::expose::{STRIP_STEPS, StripAnswers, StripRead, strips};
use maud::{Markup, html};

use super::expose::{Keeping, for_setup, is_begun, keep_form};
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked, Way, quantity};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame};

const ASKS: &[Ask<'static>] = &[
    quantity(
        "first",
        Question::StripFirst,
        "How long is the first, shortest exposure?",
        "2:00. Begin well under what you expect.",
    ),
    quantity("until", Question::StripUntil, "How long is the longest, at least?", "8:00. Two stops show most papers."),
    Ask {
        name: "stops",
        about: Some(Question::StripPart),
        label: "How far are strips apart?",
        why: "Thirds find the time closer; halves need fewer strips.",
        way: Way::One(&[("", "a third of a stop"), ("half", "half a stop")]),
    },
];

/// What a form says of it.
pub(super) fn strip_answers(fields: &Fields) -> StripAnswers {
    StripAnswers {
        first: fields.answer("first"),
        until: fields.answer("until"),
        part: fields.answer("stops"),
        tapped: fields.answer("tapped"),
    }
}

/// An address of these strips.
fn at(fields: &Fields, path: &str, more: &[(&str, &str)]) -> String {
    let own = ["first", "until", "stops", "setup"].into_iter().filter_map(|name| Some((name, fields.get(name)?)));
    let pairs: Vec<(&str, &str)> = own.chain(more.iter().copied()).collect();
    Fields::of(&pairs).address(path)
}

/// `GET /expose/strip`
pub(in crate::web) fn page(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    // Nothing asked is nothing refused.
    let read = is_begun(fields).then(|| strips(&strip_answers(fields)));
    let refusal = read.as_ref().and_then(|own| own.as_ref().err());
    let sound = read.as_ref().and_then(|own| own.as_ref().ok());
    let asked = Asked { form: "strip", fields, refusal };
    let body = html! {
        (frame::title("Make strips", "One coated strip under clear film, one card, seconds to add."))
        div.two {
            form method="get" action="/expose/strip#sheet" data-follow {
                (for_setup(fields))
                (asked.all(ASKS))
                p.actions { button type="submit" { "Plan the strips" } }
            }
            div {
                h2.unseen #sheet { "The strips" }
                p.unseen #status role="status" aria-live="polite" data-live { @if let Some(own) = sound { (own.strips.len()) " strips." } }
                div #trouble data-live {
                    (asked.trouble(ASKS))
                    @if refusal.is_some_and(|own| own.about == Some(Question::StripTapped)) {
                        p { "Black cannot begin at strip 1: it has none before it. Tap the first strip that is no blacker than the one before it, from strip 2 on, or none." }
                        p.actions { a.btn href=(at(fields, "/expose/strip/bench", &[("at", "dry")])) { "Tap a strip again" } }
                    }
                }
                div #result data-live {
                    @match sound {
                        Some(own) => (planned(visit, own)?),
                        None => div.sheet { p.soft { "The seconds to add stand here as soon as the first and the longest exposure are known." } },
                    }
                }
            }
        }
    };
    Ok(Reply::page("Make strips", "/expose", body).refusing(refusal).with_script("live"))
}

fn planned(visit: &Visit, own: &StripRead) -> Result<Markup, handcoat_work::Refusal> {
    let fields = &visit.fields;
    let judged = own.base.is_some() || own.longer;
    let kept = Keeping { way: "strip", found: own.base.is_some() };
    Ok(html! {
        @if !judged {
            p.actions {
                a.btn href=(at(fields, "/expose/strip/bench", &[])) { "To the lamp, one strip at a time" }
                a.btn.quiet href=(at(fields, "/expose/strip/sheet", &[])) { "To print, A4" }
                a.btn.quiet href=(at(fields, "/expose/strip/sheet", &[("page", "letter")])) { "Letter" }
            }
        }
        (expose::strip(own))
        @if judged {
            h3 { "Keep it" }
            (keep_form(visit, &kept, fields, None)?)
            (expose::strip_plan(own))
        } @else {
            details.more { summary { "How it is done" } ol.changes { @for own in STRIP_STEPS { li { (own) } } } }
            p.actions { a.btn href=(at(fields, "/expose/strip/bench", &[("at", "dry")])) { "It is dry: tap a strip" } }
        }
    })
}

/// `GET /expose/strip/bench`: one strip on the screen, and at last the tap.
pub(in crate::web) fn bench(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    // Nothing asked is nothing refused: strips are planned first.
    if fields.answer("first").is_none() || fields.answer("until").is_none() {
        return Ok(Reply::see("/expose/strip"));
    }
    let read = strips(&StripAnswers { tapped: None, ..strip_answers(fields) })?;
    let place = fields.get("at").unwrap_or("1");
    let number = place.parse::<usize>().ok().filter(|own| *own > 0);
    let current = number.and_then(|own| read.strips.get(own - 1));
    let count = read.strips.len();
    let path = "/expose/strip/bench";
    let dots = |on: usize| {
        html! {
            span.dots role="img" aria-label=(format!("step {on} of {}", count + 1)) {
                @for place in 1..=count + 1 { i class=[(place <= on).then_some("on")] {} }
            }
        }
    };
    let head = |on: usize| {
        html! { header { span { "Exposure strips" } (dots(on)) a.help href="/emergency" { "Emergency" } } }
    };
    let Some(own) = current else { return Ok(tap(visit, &read, &head(count + 1))) };
    let on = usize::from(own.number);
    let next = if on == count { "dry".into() } else { (on + 1).to_string() };
    let before = on.saturating_sub(1).to_string();
    let heading = match on {
        1 => "Expose all of it".into(),
        2 => "Cover strip 1 and add".into(),
        _ => format!("Move the card over strip {} and add", on - 1),
    };
    let body = html! {
        div.bench {
            (head(on))
            div.step {
                div {
                    h1 { (heading) }
                    p.help-line { "Strip " (own.number) " of " (count) ", " (own.total.clock()) " in all." }
                    @if on == 1 { p.care { "Clear film over the whole strip. Do not look into the lamp." } }
                }
                @if on == 1 { p.target { (own.add.clock()) } }
                @else { p.target { (significant(own.add.to_seconds(), 6)) " " small { "s" } } }
            }
            div.main-two { a.btn href=(at(fields, path, &[("at", &next)])) autofocus { "Exposed" } }
            div.below {
                @if on > 1 { a.btn.quiet href=(at(fields, path, &[("at", &before)])) { "One step back" } }
                a.btn.quiet href=(at(fields, "/expose/strip", &[])) { "The whole plan" }
            }
        }
    };
    Ok(Reply::at_the_bench("Exposure strips", body))
}

/// Every strip as a button: the first that is no blacker than the one before it.
fn tap(visit: &Visit, read: &StripRead, head: &Markup) -> Reply {
    let fields = &visit.fields;
    let body = html! {
        div.bench {
            (head)
            div {
                h1 { "Tap the first strip that is no blacker than the one before it" }
                p.help-line { "Developed, cleared and dry. Cover the others: look at two neighbours at a time." }
            }
            ol.taps {
                @for own in read.strips.iter().skip(1) {
                    li { a.btn.quiet href=(at(fields, "/expose/strip", &[("tapped", &own.number.to_string())])) { b { (own.number) } span { (own.total.clock()) } } }
                }
            }
            div.main-two { a.btn.quiet href=(at(fields, "/expose/strip", &[("tapped", "none")])) { "None: each is blacker than the last" } }
            div.below {
                a.btn.quiet href=(at(fields, "/expose/strip/bench", &[("at", &read.strips.len().to_string())])) { "One step back" }
                a.btn.quiet href=(at(fields, "/expose/strip", &[])) { "The whole plan" }
            }
        }
    };
    Reply::at_the_bench("Tap a strip", body)
}

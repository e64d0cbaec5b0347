//! Expose: the set-ups with the base exposure in force for each, three ways to find one, and the tests that are kept.

use handcoat_craft::measure::with_uncertainty;
use handcoat_work::expose::{
    SetupView, TestOfSetup, TestSheetFacts, TestView, Tested, keep_test, one_test, setups, span_words, strip_sheet,
    test_sheet, tests,
};
use handcoat_work::keep::RecordKind;
use handcoat_work::ledger::acts_on_record;
use handcoat_work::{Day, Question, Refusal};
use maud::{Markup, html};

use super::expose_eye::eye_answers;
use super::expose_strip::strip_answers;
use super::expose_wedge::{is_ink, table, wedge_answers};
use super::today::acts_list;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, note, quantity};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame, words};

/// How many of the newest tests are listed.
const MOST: u32 = 30;
const HISTORY: u32 = 12;

/// Fields that belong to the keeping, not to the test.
const PLACE: [&str; 3] = ["setup", "dose", "note"];

/// `GET /expose`
pub(in crate::web) fn home(visit: &Visit) -> Answer {
    let (all, newest) = {
        let studio = visit.studio();
        (setups(&studio, visit.now())?, tests(&studio, MOST, None)?)
    };
    let body = html! {
        (frame::title("Expose", "How long and how contrasty, from what this paper does with light."))
        @if !all.is_empty() {
            section {
                h2 { "Base exposures" }
                ul.shelf { @for own in &all { li.sheet { (setup(own)) } } }
            }
        }
        section {
            h2 { "Find one" }
            (ways())
            p.actions {
                @if !all.is_empty() { a.btn.quiet href="/expose/ladder" { "How much contrast agent?" } }
                a.btn.quiet href="/keep/setup" { @if all.is_empty() { "Keep a set-up" } @else { "Another set-up" } }
            }
            @if all.is_empty() { p.why { "A set-up is what belongs together: paper, coat, lamp, developer, film, ink. A base exposure belongs to one." } }
        }
        @if !newest.is_empty() { section { h2 { "Tests" } (list(&newest)) } }
    };
    Ok(Reply::page("Expose", "/expose", body))
}

/// The three ways to a base exposure.
pub(super) fn ways() -> Markup {
    html! {
        div.ways {
            div.way { h3 { "I have a step wedge and a densitometer" } p { "Read the print step by step: the curve, the time and the scale, each with its ±." } a.btn href="/expose/wedge" { "Read a wedge" } }
            div.way { h3 { "I have a step wedge and my eyes" } p { "Two step numbers from a dry print give time and scale, honestly to about a tenth." } a.btn href="/expose/eye" { "Judge a wedge" } }
            div.way { h3 { "I have neither: strips" } p { "One card, one coated strip, seconds to add. Tap where black stops growing." } a.btn href="/expose/strip" { "Make strips" } }
        }
    }
}

fn setup(own: &SetupView) -> Markup {
    let brief: Vec<&str> = own
        .known
        .iter()
        .filter(|(field, _)| ["paper", "metal", "dose", "lamp"].contains(&field.key))
        .map(|own| own.1.as_str())
        .collect();
    html! {
        a.name href=(format!("/keep/setup/{}", own.number)) { (own.name) }
        @if !brief.is_empty() { p.soft { (brief.join(", ")) } }
        @if let Some(base) = &own.base {
            (expose::base_number(&base.exposed))
            @if let Some((scale, _)) = &own.scale { p { "Exposure scale " b { (with_uncertainty(scale)) } " log H" } }
            p.soft { a.lone href=(format!("/expose/tests/{}", base.test)) { "Test " (base.test) ", " (base.way.words()) } " " (words::age(base.days)) }
            (expose::suspect(base))
        } @else {
            p.lead { "No base exposure yet." }
            p.why { "No test of it bracketed." }
        }
        p.actions { a.btn.quiet href=(Fields::of(&[("setup", &own.name)]).address("/expose/ladder")) { "Contrast ladder" } }
    }
}

fn list(all: &[TestView]) -> Markup {
    html! {
        ul.rows { @for own in all {
            li { a href=(format!("/expose/tests/{}", own.number)) {
                b { "Test " (own.number) }
                span.plain { (came(own)) }
                span.plain { (own.way.words()) }
                @if let Some((_, name)) = &own.setup { span.plain { (name) } }
                @if let Some(dose) = &own.dose { span.plain { (dose_words(dose)) } }
                span.plain { (words::day(own.at)) }
            } }
        } }
    }
}

/// `none` is a dose too.
fn dose_words(dose: &str) -> &str {
    if dose == "none" { "no agent" } else { dose }
}

/// What it came to, in a word.
fn came(own: &TestView) -> String {
    match &own.found.base {
        Some(base) => span_words(base).0,
        None if own.found.bracketed => "ranked".into(),
        None => "did not bracket".into(),
    }
}

/// `GET /expose/tests/{number}`
pub(in crate::web) fn one(visit: &Visit) -> Answer {
    let number = visit.segment(2);
    let (own, read, acts) = {
        let studio = visit.studio();
        let (own, read) = one_test(&studio, number)?;
        let acts = acts_on_record(&studio, RecordKind::Test, own.number, HISTORY)?;
        (own, read, acts)
    };
    let title = format!("Test {}: {}", own.number, own.way.words());
    let lead = own.setup.as_ref().map_or("Of no set-up.".into(), |(_, name)| name.clone());
    let sheet = format!("/expose/tests/{}/sheet", own.number);
    let body = html! {
        (frame::title(&title, &lead))
        dl.facts.even {
            dt { "kept" } dd { (words::when(own.at)) }
            @if let Some(dose) = &own.dose { dt { "contrast agent" } dd { (dose_words(dose)) } }
            @if let Some(note) = &own.note { dt { "note" } dd { (note) } }
        }
        h2.unseen { "What it comes to" }
        @match &read { Some(read) => (expose::read(read)), None => p.note { "Its readings cannot be read again. What it came to stands: " (came(&own)) "." } }
        p.actions {
            a.btn href="/expose" { "Base exposures" }
            a.btn.quiet href=(sheet) { "To print, A4" }
            a.btn.quiet href=(format!("{sheet}?page=letter")) { "Letter" }
        }
        section { h2 { "What was done with it" } (acts_list(visit, &acts, usize::MAX)) }
    };
    Ok(Reply::page(title, "/expose", body))
}

/// `GET /expose/tests/{number}/sheet`
pub(in crate::web) fn sheet(visit: &Visit) -> Answer {
    let ((own, read), facts) = {
        let studio = visit.studio();
        (one_test(&studio, visit.segment(2))?, facts(visit, studio.settings()?.studio))
    };
    Ok(Reply::Sheet { name: "exposure-test.pdf", bytes: test_sheet(&own, read.as_ref(), &facts)? })
}

/// `GET /expose/strip/sheet`
pub(in crate::web) fn strips_to_print(visit: &Visit) -> Answer {
    let facts = facts(visit, visit.studio().settings()?.studio);
    Ok(Reply::Sheet { name: "exposure-strips.pdf", bytes: strip_sheet(&strip_answers(&visit.fields), &facts)? })
}

fn facts(visit: &Visit, studio: Option<String>) -> TestSheetFacts {
    let day = Day::of(jiff::ZonedDateTime::now().date());
    TestSheetFacts { studio, day, invented: false, paper: visit.fields.answer("page") }
}

/// The form that keeps what is on the page; `way` says which sort of test it is.
pub(super) fn keep_form(
    visit: &Visit,
    way: &str,
    fields: &Fields,
    refusal: Option<&Refusal>,
) -> Result<Markup, Refusal> {
    let names: Vec<String> = setups(&visit.studio(), visit.now())?.into_iter().map(|own| own.name).collect();
    let mut choices: Vec<(&str, &str)> = names.iter().map(|own| (own.as_str(), own.as_str())).collect();
    choices.push(("", "no set-up"));
    // The only set-up there is needs no choosing.
    let chosen = match names.as_slice() {
        [only] if fields.get("setup").is_none() => fields.with("setup", Some(only)),
        _ => fields.clone(),
    };
    let asks = [
        Ask {
            name: "setup",
            about: Some(Question::Setup),
            label: "Of which set-up?",
            why: "The base exposure belongs to paper, coat, lamp and developer together.",
            way: Way::One(&choices),
        },
        quantity(
            "dose",
            Question::TestDose,
            "With how much contrast agent?",
            "0.5mg/mL of sensitizer, 0.2g/L of developer, or none; left open, that of the set-up.",
        ),
        note("note", "A note", "Morning, new tubes."),
    ];
    let asked = Asked { form: "keep", fields: &chosen, refusal };
    let carried: Vec<(&str, &str)> = fields
        .pairs()
        .filter(|(name, value)| {
            !["token", "key", "way", "act", "bench", "at"].contains(name)
                && !PLACE.contains(name)
                && !value.trim().is_empty()
        })
        .collect();
    Ok(form::post(
        visit,
        "/expose/tests",
        &html! {
            input type="hidden" name="way" value=(way);
            @for (name, value) in carried { input type="hidden" name=(name) value=(value); }
            (asked.trouble(&asks))
            (asked.all(&asks))
            p.actions { button type="submit" { "Keep this test" } }
        },
    ))
}

/// `POST /expose/tests`
pub(in crate::web) fn keep(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let way = fields.get("way").unwrap_or_default();
    match kept(visit, way) {
        Ok(reply) => Ok(reply),
        Err(refusal) => {
            let body = html! {
                (frame::title("Keep this test", "Nothing is lost: what was read goes with it."))
                (keep_form(visit, way, fields, Some(&refusal))?)
            };
            Ok(Reply::page("Keep this test", "/expose", body).refusing(Some(&refusal)))
        }
    }
}

fn kept(visit: &Visit, way: &str) -> Answer {
    let fields = &visit.fields;
    let place = TestOfSetup { setup: fields.answer("setup"), dose: fields.answer("dose"), note: fields.answer("note") };
    let done = match way {
        "eye" => {
            let answers = eye_answers(fields);
            keep_test(&mut visit.studio(), &visit.moment(), &place, &Tested::Eye(&answers))?
        }
        "strip" => {
            let answers = strip_answers(fields);
            keep_test(&mut visit.studio(), &visit.moment(), &place, &Tested::Strip(&answers))?
        }
        _ => {
            let answers = wedge_answers(fields);
            let table = table(fields)?.ok_or_else(|| Refusal::missing(Question::Table, "0.05 1.43"))?;
            let tested = match is_ink(fields) {
                true => Tested::Ink(&answers, table.as_bytes()),
                false => Tested::Wedge(&answers, table.as_bytes()),
            };
            keep_test(&mut visit.studio(), &visit.moment(), &place, &tested)?
        }
    };
    let to = done.record.map_or("/expose".into(), |number| format!("/expose/tests/{number}"));
    Ok(Reply::after(&done, &to))
}

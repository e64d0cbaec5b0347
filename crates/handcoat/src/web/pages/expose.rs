//! Expose: the set-ups with the base exposure in force for each, three ways to find one, and the tests that are kept.

use handcoat_craft::measure::{significant, with_uncertainty};
use handcoat_work::expose::{
    Given, SetupView, TestOfSetup, TestSheetFacts, TestView, Tested, dose_words, keep_test, one_setup, one_test,
    setups, span_words, strip_sheet, test_sheet, tests,
};
use handcoat_work::keep::{Keep, RecordKind, keep as keep_record};
use handcoat_work::ledger::acts_on_record;
use handcoat_work::{Day, Moment, Question, Refusal};
use maud::{Markup, html};

use super::expose_eye::eye_answers;
use super::expose_strip::strip_answers;
use super::expose_wedge::{is_ink, table, wedge_answers};
use super::today::acts_list;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, note, quantity, tick, words as in_words};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame, words};

/// How many of the newest tests are listed.
const MOST: u32 = 30;
const HISTORY: u32 = 12;

/// Fields that belong to the keeping, not to the test.
const PLACE: [&str; 7] = ["setup", "dose", "agentless", "note", "found", "new_name", "new_paper"];

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
        .filter(|(field, _)| ["paper", "metal", "lamp"].contains(&field.key))
        .map(|own| own.1.as_str())
        .collect();
    html! {
        a.name href=(format!("/keep/setup/{}", own.number)) { (own.name) }
        @if !brief.is_empty() { p.soft { (brief.join(", ")) } }
        @if let Some(base) = &own.base {
            (expose::base_with_dose(base))
            @if let Some((scale, _)) = &own.scale { p { "Exposure scale " b { (with_uncertainty(scale)) } " log H" } }
            p.soft { a.lone href=(format!("/expose/tests/{}", base.test)) { "Test " (base.test) ", " (base.way.words()) } " " (words::age(base.days)) }
            (expose::suspect(&base.suspect))
        } @else {
            p.lead { "No base exposure yet." }
            p.why { "No test of it bracketed." }
        }
        p.actions {
            @if let Some(base) = own.base.as_ref().filter(|base| !base.suspect.is_empty()) { a.btn href=(expose::anew(base)) { "Find it anew" } }
            a.btn.quiet href=(Fields::of(&[("setup", &own.name)]).address("/expose/ladder")) { "Contrast ladder" }
        }
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
                @if let Some(dose) = own.dose.as_deref() { span.plain { (dose_words(Some(dose))) } }
                span.plain { (words::day(own.at)) }
            } }
        } }
    }
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
    let (own, read, acts, base) = {
        let studio = visit.studio();
        let (own, read) = one_test(&studio, number)?;
        let acts = acts_on_record(&studio, RecordKind::Test, own.number, HISTORY)?;
        let of = own.setup.as_ref().map(|of| one_setup(&studio, &of.1, visit.now())).transpose()?;
        (own, read, acts, of.and_then(|of| of.base))
    };
    // What is doubted is the base exposure in force, when it is this one.
    let doubted = base.filter(|base| base.test == own.number && !base.suspect.is_empty());
    let title = format!("Test {}: {}", own.number, own.way.words());
    let lead = own.setup.as_ref().map_or("Of no set-up.".into(), |(_, name)| name.clone());
    let sheet = format!("/expose/tests/{}/sheet", own.number);
    let body = html! {
        (frame::title(&title, &lead))
        dl.facts.even {
            dt { "kept" } dd { (words::when(own.at)) }
            @if let Some(dose) = own.dose.as_deref() { dt { "contrast agent" } dd { (dose_words(Some(dose))) } }
            @if let Some(note) = &own.note { dt { "note" } dd { (note) } }
        }
        h2.unseen { "What it comes to" }
        @match &read { Some(read) => (expose::read(read)), None => p.note { "Its readings cannot be read again. What it came to stands: " (came(&own)) "." } }
        @if let Some(base) = &doubted { (expose::suspect(&base.suspect)) }
        p.actions {
            @match &doubted {
                Some(base) => { a.btn href=(expose::anew(base)) { "Find it anew" } a.btn.quiet href="/expose" { "Base exposures" } }
                None => a.btn href="/expose" { "Base exposures" },
            }
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

/// Whether anything of a test was said yet: which set-up it is for says nothing of it.
pub(super) fn is_begun(fields: &Fields) -> bool {
    fields.pairs().any(|(name, value)| !PLACE.contains(&name) && !value.trim().is_empty())
}

/// The set-up a test is made for, where it was come from one: said, and carried along until the test is kept.
pub(super) fn for_setup(fields: &Fields) -> Markup {
    html! {
        @if let Some(own) = fields.answer("setup") {
            input type="hidden" name="setup" value=(own);
            p.soft { "For " (own) "." }
        }
    }
}

/// What is kept: which sort of test, and whether anything was found by it.
pub(super) struct Keeping<'a> {
    pub(super) way: &'a str,
    pub(super) found: bool,
}

/// The fields of a test with another exposure.
pub(super) fn with_test(fields: &Fields, next: &Given) -> Fields {
    let (time, units) = match next {
        Given::Time(own) => (Some(own.clock()), None),
        Given::Units(own) => (None, Some(significant(own.to_units(), 3))),
    };
    fields.with("test_time", time.as_deref()).with("test_units", units.as_deref())
}

/// The form that keeps what is on the page. Where nothing was found the next exposure is the step to take, and keeping is quiet.
pub(super) fn keep_form(
    visit: &Visit,
    keeping: &Keeping<'_>,
    fields: &Fields,
    refusal: Option<&Refusal>,
) -> Result<Markup, Refusal> {
    let names: Vec<String> = setups(&visit.studio(), visit.now())?.into_iter().map(|own| own.name).collect();
    let mut choices: Vec<(&str, &str)> = names.iter().map(|own| (own.as_str(), own.as_str())).collect();
    choices.push(("", if names.is_empty() { "no set-up" } else { "no set-up, or a new one" }));
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
            why: "The base exposure belongs to paper, coat, lamp and developer together; without a set-up it is in force nowhere.",
            way: Way::One(&choices),
        },
        quantity(
            "dose",
            Question::TestDose,
            "With how much contrast agent?",
            "0.5 mg/mL of sensitizer, 0.2 g/L of developer; left open, that of the set-up.",
        ),
        tick("agentless", None, "none: without contrast agent", ""),
        note("note", "A note", "Morning, new tubes."),
    ];
    let fresh = [
        in_words("new_name", Question::Name, "A new set-up: what is it called?", "cotton, palladium, tubes"),
        note("new_paper", "On which paper?", "cotton rag. The rest can be said later."),
    ];
    let asked = Asked { form: "keep", fields: &chosen, refusal };
    let every: Vec<Ask<'_>> = asks.iter().chain(&fresh).copied().collect();
    let begun = refusal.is_some() && fields.answer("new_name").is_some();
    let way = keeping.way;
    let [of, rest @ ..] = &asks;
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
            @if keeping.found { input type="hidden" name="found" value="yes"; }
            @for (name, value) in carried { input type="hidden" name=(name) value=(value); }
            (asked.trouble(&every))
            (asked.ask(of))
            details.more open[names.is_empty() || begun] { summary { "A new set-up" } (asked.all(&fresh)) }
            (asked.all(rest))
            p.actions { button.quiet[!keeping.found] type="submit" { "Keep this test" } }
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
                (keep_form(visit, &Keeping { way, found: fields.ticked("found") }, fields, Some(&refusal))?)
            };
            Ok(Reply::page("Keep this test", "/expose", body).refusing(Some(&refusal)))
        }
    }
}

/// Keeps the set-up a first test belongs to, and says its name. What stands there already under that name is that set-up: a form that
/// comes again after a refusal does not make it twice.
fn new_setup(visit: &Visit, name: String) -> Result<String, Refusal> {
    let known = setups(&visit.studio(), visit.now())?;
    if known.iter().any(|own| own.name.eq_ignore_ascii_case(name.trim())) {
        return Ok(name);
    }
    let paper = visit.fields.answer("new_paper").map(|own| ("paper", own));
    let answers = Keep { name: Some(name.clone()), fields: paper.into_iter().collect(), came: None };
    let moment = visit.moment();
    // An act of its own, under a key that follows from that of the form.
    let moment = Moment { key: format!("{}-setup", moment.key), ..moment };
    keep_record(&mut visit.studio(), &moment, RecordKind::Setup, &answers)?;
    Ok(name)
}

fn kept(visit: &Visit, way: &str) -> Answer {
    let fields = &visit.fields;
    let dose = if fields.ticked("agentless") { Some("none".into()) } else { fields.answer("dose") };
    // A name that was written is meant, whatever stands chosen above it.
    let setup = match fields.answer("new_name") {
        Some(name) => Some(new_setup(visit, name)?),
        None => fields.answer("setup"),
    };
    let place = TestOfSetup { setup, dose, note: fields.answer("note") };
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

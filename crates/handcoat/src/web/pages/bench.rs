//! Mixing at the bench: one step on the screen, one number, two buttons. Everything works by taps, by keys, and without a script.

use handcoat_craft::ledger::ItemKind;
use handcoat_work::bench::{
    Begin, BenchView, Button, Reply as Said, Step, WayButton, begin, numbered, open_benches, reply, stand,
};
use handcoat_work::shelf::{ItemView, shelf};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, quantity, tick, words};
use crate::web::frame;
use crate::web::refused;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::words::capitalised;

/// Longest reading the keys of the screen make: more digits no scale shows.
const MOST_TYPED: usize = 9;

const AMOUNTS: [Ask<'static>; 3] = [
    quantity(
        "make",
        Question::Volume,
        "How much stock?",
        "40mL. Or leave it open and say how much powder, or which bottle.",
    ),
    quantity("salt_mass", Question::SaltMass, "How much powder?", "5.4g. Where the volume is not the question."),
    quantity(
        "percent",
        Question::PercentComplex,
        "How strong?",
        "15%, grams of the complex per 100 mL. Left open: the usual strength.",
    ),
];

const TOOLS: [Ask<'static>; 5] = [
    quantity(
        "balance",
        Question::Balance,
        "Which scale?",
        "The smallest step it shows: 0.01g. Targets are rounded to it.",
    ),
    quantity("capacity", Question::Bottle, "Which bottle?", "What it holds when full: 50mL."),
    quantity("glass", Question::Glass, "How far may the glass be off?", "±, as 0.5mL. Left open: a class B cylinder."),
    words("name", Question::Name, "What shall it be called?", "The name that is spoken. Left open: its metal."),
    tick("without_vials", None, "Leave swept powder in its vial", "It goes in first otherwise."),
];

/// `GET /bench`
pub(in crate::web) fn list(visit: &Visit) -> Answer {
    ask(visit, &visit.fields, None)
}

/// `POST /bench`
pub(in crate::web) fn start(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let answers = Begin {
        jar: fields.answer("jar"),
        chloride_jar: fields.answer("chloride_jar"),
        with: None,
        make: fields.answer("make"),
        percent: fields.answer("percent"),
        salt_mass: fields.answer("salt_mass"),
        balance: fields.answer("balance"),
        glass: fields.answer("glass"),
        capacity: fields.answer("capacity"),
        name: fields.answer("name"),
        without_vials: fields.ticked("without_vials"),
    };
    let begun = begin(&mut visit.studio(), &visit.moment(), &answers);
    match begun {
        Ok(work) => Ok(Reply::see(format!("/bench/{}", work.get()))),
        Err(refusal) => ask(visit, fields, Some(&refusal)),
    }
}

fn ask(visit: &Visit, fields: &Fields, refusal: Option<&Refusal>) -> Answer {
    let (items, open) = {
        let studio = visit.studio();
        (shelf(&studio, visit.now())?, open_benches(&studio)?)
    };
    let named = |wanted: &dyn Fn(&ItemView) -> bool| -> Vec<(String, String)> {
        let jars = items.iter().filter(|item| item.kind == ItemKind::Jar && wanted(item));
        jars.map(|item| (item.code.to_string(), format!("{}, {}", item.name, item.amount))).collect()
    };
    let metals = named(&|item| item.metal.is_some());
    let salts = named(&|item| item.metal.is_none());
    let metals: Vec<(&str, &str)> = metals.iter().map(|(code, says)| (code.as_str(), says.as_str())).collect();
    let salts: Vec<(&str, &str)> = std::iter::once(("", "plain salt, of no jar here"))
        .chain(salts.iter().map(|(code, says)| (code.as_str(), says.as_str())))
        .collect();
    let one = |name, about, label, why, way| Ask { name, about: Some(about), label, why, way };
    let jar = one("jar", Question::From, "Out of which jar?", "The powder with the metal.", Way::One(&metals));
    let chloride = one("chloride_jar", Question::ChlorideFrom, "With which chloride?", "", Way::One(&salts));
    // The only jar there is needs no choosing.
    let chosen = match metals.as_slice() {
        [(code, _)] if fields.answer("jar").is_none() => fields.with("jar", Some(code)),
        _ => fields.clone(),
    };
    let asked = Asked { form: "mix", fields: &chosen, refusal };
    let every: Vec<Ask<'_>> = [jar, chloride].into_iter().chain(AMOUNTS).chain(TOOLS).collect();
    let body = html! {
        (frame::title("Mix at the bench", "One step at a time. It goes on where it stood, on any screen."))
        @if !open.is_empty() { section { h2 { "Under way" } (open_list(&open)) } }
        section {
            h2 { "Begin" }
            @if metals.is_empty() {
                p.lead { "There is no jar with metal on the shelf yet." }
                p { a.btn href="/receive" { "Receive a jar" } }
            } @else {
                (form::post(visit, "/bench", &html! {
                    (asked.trouble(&every))
                    (asked.ask(&jar)) (asked.all(&AMOUNTS)) (asked.ask(&chloride)) (asked.all(&TOOLS))
                    p.actions { button type="submit" { "Gloves on" } }
                }))
            }
        }
    };
    Ok(Reply::page("Mix at the bench", "/bench", body).refusing(refusal))
}

/// Work that is not done, for this page and for Today.
pub(in crate::web) fn open_list(open: &[BenchView]) -> Markup {
    html! {
        @for work in open {
            p.actions.going {
                a.btn href=(format!("/bench/{}", work.number.get())) { "Go on with " (work.title) }
                span { "work " (work.number.get()) ", step " (work.place.0) " of " (work.place.1) ": " (work.heading) }
            }
        }
    }
}

/// `GET /bench/{work}`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    let view = stand(&visit.studio(), numbered(visit.segment(1))?)?;
    Ok(screen(visit, &view, visit.fields.get("typed"), None))
}

/// `POST /bench/{work}`
pub(in crate::web) fn go_on(visit: &Visit) -> Answer {
    let (work, fields) = (numbered(visit.segment(1))?, &visit.fields);
    let said = Said {
        step: fields.get("step").and_then(Step::from_word),
        reads: fields.answer("reads"),
        way: fields.get("way").and_then(|text| text.parse().ok()),
        back: fields.ticked("back"),
    };
    let taken = reply(&mut visit.studio(), &visit.moment(), work, &said);
    match taken {
        Ok(_) => Ok(Reply::see(format!("/bench/{}", work.get()))),
        Err(refusal) => {
            let view = stand(&visit.studio(), work)?;
            Ok(screen(visit, &view, fields.get("reads"), Some(&refusal)))
        }
    }
}

/// The screen of a step. `typed` is what the keys of the screen have written so far; with it the keys are shown.
fn screen(visit: &Visit, view: &BenchView, typed: Option<&str>, refusal: Option<&Refusal>) -> Reply {
    let keys = typed.is_some() || matches!(view.button, Button::Reading { .. });
    let body = html! {
        // Where the step has just come up; while a reading is typed, or after a refusal, nothing waits.
        div.bench data-fresh[typed.is_none() && refusal.is_none()] {
            header {
                span { (view.title) }
                span.dots role="img" aria-label=(format!("step {} of {}", view.place.0, view.place.1)) {
                    @for place in 1..=view.place.1 { i class=[(place <= view.place.0).then_some("on")] {} }
                }
                a.help href="/emergency" { "Emergency" }
            }
            div.step {
                div {
                    h1 { (view.heading) }
                    @if let Some(warning) = &view.warning { p.note { (warning) } }
                    @if let Some(refusal) = refusal { (refused::note(refusal)) }
                    @if let Some(caution) = view.caution { p.care { (caution) } }
                    @if let Some(note) = &view.note { p.help-line { (note) } }
                }
                @if let Some((number, unit)) = &view.target { p.target { (number) " " small { (unit) } } }
            }
            @if keys { (keypad(visit, view, typed.unwrap_or_default())) } @else { (buttons(visit, view)) }
            (below(visit, view))
        }
    };
    Reply::at_the_bench(view.heading.clone(), body).refusing(refusal).with_script("bench")
}

fn address(view: &BenchView) -> String {
    format!("/bench/{}", view.number.get())
}

/// An answer: the step it is an answer to goes with it, so that a second tap is no second step.
fn answer(visit: &Visit, view: &BenchView, body: &Markup) -> Markup {
    form::post(visit, &address(view), &html! { input type="hidden" name="step" value=(view.step.word()); (body) })
}

fn buttons(visit: &Visit, view: &BenchView) -> Markup {
    match &view.button {
        Button::Done(says) => html! {
            div.main-two { (answer(visit, view, &html! { button type="submit" autofocus { (says) } })) }
        },
        Button::Reads { target } => html! {
            div.main-two {
                a.btn.quiet href=(format!("{}?typed=", address(view))) { "It reads otherwise" }
                (answer(visit, view, &html! { button type="submit" autofocus { "It reads " (target) } }))
            }
        },
        Button::Ways(ways) => {
            html! { div.ways-out { @for (place, way) in ways.iter().enumerate() { (way_out(visit, view, place, way)) } } }
        }
        Button::Reading { .. } => html! {},
        Button::Finished => html! {
            div.main-two {
                a.btn.quiet href="/" { "Today" }
                a.btn href="/shelf" { "To the shelf" }
            }
        },
    }
}

fn way_out(visit: &Visit, view: &BenchView, place: usize, way: &WayButton) -> Markup {
    answer(
        visit,
        view,
        &html! {
            input type="hidden" name="way" value=(place);
            p { (capitalised(&way.words)) }
            @if let Some(care) = &way.care { p.care { (capitalised(care)) "." } }
            button type="submit" class=[way.quiet.then_some("quiet")] { (way.verb) }
        },
    )
}

/// Large keys that need no script: each key is a link to the page with one more digit.
fn keypad(visit: &Visit, view: &BenchView, typed: &str) -> Markup {
    let typed: String = typed.chars().filter(|c| c.is_ascii_digit() || ".,".contains(*c)).take(MOST_TYPED).collect();
    let marked = typed.contains(['.', ',']);
    let to = |next: &str| Fields::of(&[("typed", next)]).address(&address(view));
    let with = |key: char| {
        let next: String = typed.chars().chain([key]).take(MOST_TYPED).collect();
        to(&next)
    };
    let mut shorter = typed.clone();
    shorter.pop();
    let shorter = if shorter.is_empty() { format!("{}?typed=", address(view)) } else { to(&shorter) };
    let may_skip = matches!(view.button, Button::Reading { may_skip: true });
    html! {
        div.typing {
            div.keys role="group" aria-label="Keys" {
                @for key in "789456123".chars() { a.key href=(with(key)) { (key) } }
                @if marked { span.key aria-hidden="true" { "." } } @else { a.key href=(with('.')) { "." } }
                a.key href=(with('0')) { "0" }
                a.key href=(shorter) { "del" }
            }
            div.reading {
                (answer(visit, view, &html! {
                    label for="reads" { "The scale reads, in g" }
                    input #reads name="reads" type="text" inputmode="decimal" autocomplete="off" value=(typed) autofocus;
                    button type="submit" { "Take it" }
                }))
                @if may_skip { (answer(visit, view, &html! { button.quiet type="submit" { "Go on without" } })) }
                @if matches!(view.button, Button::Reads { .. }) { a.btn.quiet href=(address(view)) { "Back to the target" } }
            }
        }
    }
}

fn below(visit: &Visit, view: &BenchView) -> Markup {
    html! {
        div.below {
            @if view.can_go_back {
                (answer(visit, view, &html! { input type="hidden" name="back" value="yes"; button.quiet type="submit" { "One step back" } }))
            }
            @if view.act.is_none() { a.btn.quiet href="/" { "Leave it standing" } }
        }
    }
}

//! The same print again with today's bottles, and two prints held against each other.

use handcoat_craft::measure::{fixed, significant};
use handcoat_craft::print::Change;
use handcoat_craft::source::Condition;
use handcoat_work::Question;
use handcoat_work::print::{Again, Compared, FIELDS, Repeat, Repeated, compare, repeat};
use maud::{Markup, html};

use crate::cli::likelihood_words;
use crate::web::asking;
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked, Way, quantity, words};
use crate::web::router::READ;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, words as spoken};

/// `GET /print/{number}/repeat`
pub(in crate::web) fn again(visit: &Visit) -> Answer {
    let number = visit.segment(1).to_owned();
    let asked = |name: &str| visit.fields.answer(name);
    let answers = Repeat {
        print: Some(number.clone()),
        image: asked("image"),
        margin: asked("margin"),
        room_humidity: asked("room_humidity"),
    };
    let found = repeat(&visit.studio(), &answers, visit.now());
    // A print that is not there has no form to stand beside.
    let (found, refusal) = match found {
        Err(refusal) if refusal.about == Some(Question::Print) => return Err(refusal),
        Ok(found) => (Some(found), None),
        Err(refusal) => (None, Some(refusal)),
    };
    let field = |key: &str| FIELDS.iter().find(|own| own.key == key).map(|own| own.question());
    let ask = |name: &'static str, about: Option<Question>, label: &'static str, why: &'static str| Ask {
        name,
        about,
        label,
        why,
        way: Way::Words,
    };
    let asks = [
        quantity("image", Question::Image, "Another size?", "20x25 cm; left open, the size of then."),
        ask("margin", field("margin"), "Another margin?", "1 cm; left open, the one of then."),
        ask("room_humidity", field("room_humidity"), "How humid is the room today?", "55 %; the time stands on it."),
    ];
    let form = Asked { form: "again", fields: &visit.fields, refusal: refusal.as_ref() };
    let title = found.as_ref().map_or("Print it again".into(), |own| format!("{} again", own.print.1));
    let body = html! {
        (frame::title(&title, &format!("Print {number} with the bottles of today: metal and iron to the area stay as they were.")))
        @if let Some(found) = &found { (plan(found)) (next(visit, found)) }
        section {
            h2 { "As it is today" }
            form.row method="get" action=(format!("/print/{number}/repeat")) { (form.trouble(&asks)) (form.all(&asks)) p.actions { button.quiet type="submit" { "Work it out" } } }
        }
        p { a href=(format!("/print/{number}")) { "Print " (number) } }
    };
    Ok(Reply::page(title, "/print", body).refusing(refusal.as_ref()))
}

fn plan(own: &Repeated) -> Markup {
    html! {
        @if own.solutions.is_empty() { p.soft { "What was poured is unknown." } } @else {
            ol.drops aria-label="What to drop, in this order" { @for again in &own.solutions { (solution(again)) } }
        }
        @for words in &own.unequal { p.due { b { "Mind. " } (words) } }
        dl.facts {
            @if let Some(image) = &own.image { dt { "size of the image" } dd { (image) } }
            @if let Some(area) = own.area { dt { "coated area" } dd { (fixed(area.to_square_centimetres(), 1)) " cm²" @if let Some(then) = own.area_then.filter(|then| *then != area) { span.soft { " (then " (fixed(then.to_square_centimetres(), 1)) " cm²)" } } } }
            dt { "time to begin with" } dd { (own.time.as_deref().unwrap_or("unknown")) }
        }
        @if !own.changed.is_empty() {
            p.note { b { "The time is suspect." } " Since then changed:" }
            ul { @for change in &own.changed { li { (change.of.words()) ": " (change.before) " → " (change.after) } } }
        }
        @if !own.unknown.is_empty() { p.why { "The time stands on what is not known today: " (Condition::list(&own.unknown)) "." } }
    }
}

fn solution(own: &Again) -> Markup {
    let (name, drops, volume) = &own.then;
    let then = drops
        .map_or_else(|| format!("{} mL", significant(volume.to_millilitres(), 3)), |drops| format!("{drops} drops"));
    let strength = own.strength.filter(|own| (own - 1.0).abs() >= 0.005);
    html! {
        li {
            b { (own.drops) } " " span { "drops" }
            p { (own.bottle.as_deref().unwrap_or("no bottle")) span.soft { " " (significant(own.volume.to_millilitres(), 3)) " mL" } }
            p.why { "Then " (then) " of " (name) "; " (off_words(own.off)) "."
                @if let Some(strength) = strength { " Its strength is " (significant(strength, 3)) " of then." } }
            @for notice in &own.notices { p.due { b { "Mind. " } (notice) } }
        }
    }
}

/// What counting whole drops leaves.
fn off_words(off: f64) -> String {
    let percent = fixed(off.abs() * 100.0, 1);
    match percent.as_str() {
        "0.0" => "whole drops meet it".into(),
        _ => format!("whole drops are {percent} % {}", if off < 0.0 { "under" } else { "over" }),
    }
}

/// On to the tray, and to the record; what is known is carried along.
fn next(visit: &Visit, own: &Repeated) -> Markup {
    let (number, title) = &own.print;
    let asked = |name: &str| visit.fields.answer(name);
    let carried: Vec<(String, String)> =
        ["image", "margin", "room_humidity"].iter().filter_map(|name| Some(((*name).into(), asked(name)?))).collect();
    let mut record: Vec<(String, String)> =
        vec![("like".into(), number.to_string()), ("repeats".into(), number.to_string())];
    record.extend(carried.iter().cloned());
    let there = || own.solutions.iter().filter_map(|again| Some((again.bottle.clone()?, again.drops)));
    for (row, (bottle, drops)) in there().enumerate() {
        record.extend([(format!("bottle-{row}"), bottle), (format!("drops-{row}"), drops.to_string())]);
    }
    let mut session: Vec<(String, String)> =
        vec![("repeat".into(), number.to_string()), ("title".into(), title.clone())];
    let known = [("image", &own.image), ("margin", &own.margin), ("time", &own.time)];
    session.extend(known.iter().filter_map(|(name, value)| Some(((*name).into(), (*value).clone()?))));
    let pours: Vec<String> = there().map(|(bottle, drops)| format!("{bottle}={drops}")).collect();
    if !pours.is_empty() {
        session.push(("pours".into(), pours.join("; ")));
    }
    html! {
        p.actions {
            a.btn href=(Fields::owned(record).address("/print/new")) { "Record it" }
            @if READ.contains(&"/session") { a.btn.quiet href=(Fields::owned(session).address("/session")) { "Plan a session with it" } }
        }
    }
}

/// `GET /print/compare`
pub(in crate::web) fn side_by_side(visit: &Visit) -> Answer {
    let asked = |name: &str| visit.fields.answer(name);
    let found = match (asked("first"), asked("second")) {
        (Some(first), Some(second)) => Some(compare(&visit.studio(), &first, &second, asked("shows").as_ref())),
        _ => None,
    };
    let refusal = found.as_ref().and_then(|own| own.as_ref().err());
    let signs: Vec<(&str, &str)> = std::iter::once(("", "not said")).chain(asking::signs().iter().copied()).collect();
    let asks = [
        words("first", Question::Print, "Which print was first?", "Its number, 17."),
        Ask { about: None, ..words("second", Question::Print, "Which one is held against it?", "Its number, 18.") },
        Ask {
            name: "shows",
            about: Some(Question::Sign),
            label: "What does the second show?",
            why: "Against the first. It ranks what changed by what the fault lists of the trade name.",
            way: Way::One(&signs),
        },
    ];
    let form = Asked { form: "compare", fields: &visit.fields, refusal };
    let body = html! {
        (frame::title("Compare two prints", "What changed between them, the likeliest explanation first."))
        form.row method="get" action="/print/compare" { (form.trouble(&asks)) (form.all(&asks)) p.actions { button type="submit" { "Compare" } } }
        @if let Some(Ok(own)) = &found { (compared(own)) }
    };
    Ok(Reply::page("Compare two prints", "/print", body).refusing(refusal))
}

fn compared(own: &Compared) -> Markup {
    let ((one, first), (other, second)) = (&own.first, &own.second);
    let ranked = own.sign.is_some();
    html! {
        section #changed {
            h2 { a href=(format!("/print/{one}")) { "Print " (one) ", " (first) } " and " a href=(format!("/print/{other}")) { "print " (other) ", " (second) } }
            @if let Some(sign) = own.sign { p.soft { "Print " (other) " shows: " (sign.words()) "." } }
            @if own.found.changed.is_empty() { p.lead { "Nothing that is known of both changed by as much as counts." } } @else {
                ol.changes { @for change in &own.found.changed { (changed(change, ranked)) } }
            }
            @if !own.found.small.is_empty() {
                h3 { "Changed by less than counts" }
                ul { @for change in &own.found.small { li { (change.of.words()) ": " (change.before) " → " (change.after) } } }
            }
            @let negatives = own.negative_words();
            @if !negatives.is_empty() { h3 { "Their negatives" } ul { @for words in &negatives { li { (spoken::capitalised(words)) } } } }
            @if !own.found.unknown.is_empty() { h3 { "Known of one of them only" } p { (spoken::capitalised(&Condition::list(&own.found.unknown))) "." } }
            @if !own.found.same.is_empty() { details.more { summary { "Known to be the same: " (own.found.same.len()) } p.why { (spoken::capitalised(&Condition::list(&own.found.same))) "." } } }
            p.note { "Change one thing at a time; that settles it." }
        }
    }
}

fn changed(own: &Change, ranked: bool) -> Markup {
    html! {
        li {
            p { b { (spoken::capitalised(own.of.words())) } ": " (own.before) " → " (own.after) @if ranked { span.rank { (likelihood_words(own.likelihood)) } } }
            @if let Some(cause) = own.cause.filter(|_| ranked) { p.why { (spoken::capitalised(cause.why)) ". Source: " (cause.cite) "." } }
        }
    }
}

//! A coat that was made: recording it, the coats that wait, and those that came to nothing.

use handcoat_work::print::{CoatMade, CoatView, Poured, Spoiled, coat, open_coats, spoil};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, quantity, tick, words};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, refused, words as said};

const ASKS: &[Ask<'static>] = &[
    words("title", Question::Title, "What is it for?", "Heron, morning; not only once, if you like."),
    quantity(
        "image",
        Question::Image,
        "How large is the image?",
        "8x10in; next time these drops stand beside the new ones.",
    ),
    quantity("margin", Question::Margin, "How far does the coat go past it?", "1 cm."),
    words("paper", Question::CoatPaper, "Which paper?", "As it is kept in the book."),
    quantity(
        "drops",
        Question::DropSize,
        "Drops per mL?",
        "20, for bottles without a dropper of their own in the records.",
    ),
];

const SPOILED: &[Ask<'static>] = &[
    words("because", Question::Reason, "Why?", "A hair in the coat."),
    tick("thrown", None, "The sheet is thrown away", "Not ticked, it is kept with the residue for the refiner."),
];

/// Pours that are asked for at least, so that one can be added.
const SPARE: usize = 1;

/// `GET /coat/made`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    Ok(page(visit, None))
}

/// `POST /coat/made`
pub(in crate::web) fn make(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let made = CoatMade {
        title: fields.answer("title"),
        image: fields.answer("image"),
        margin: fields.answer("margin"),
        paper: fields.answer("paper"),
        pours: fields.answers("pour"),
        drops_per_ml: fields.answer("drops").map(|text| with_unit(&text)),
    };
    let done = coat(&mut visit.studio(), &visit.moment(), &made);
    Ok(match done {
        Ok(done) => Reply::after(&done, back(fields).unwrap_or("/coat/open")),
        Err(refusal) => page(visit, Some(&refusal)),
    })
}

/// The session somebody came from: its address, and no other.
fn back(fields: &Fields) -> Option<&str> {
    let number = fields.get("back")?.strip_prefix("/session/")?;
    let is_number = !number.is_empty() && number.bytes().all(|own| own.is_ascii_digit());
    fields.get("back").filter(|_| is_number)
}

/// The field says its unit already.
fn with_unit(text: &str) -> String {
    let bare = text.ends_with(|c: char| c.is_ascii_digit());
    if bare { format!("{text}drops/mL") } else { text.into() }
}

fn page(visit: &Visit, refusal: Option<&Refusal>) -> Reply {
    let asked = Asked { form: "made", fields: &visit.fields, refusal };
    let of_pours = refusal.filter(|own| own.about == Some(Question::Pour));
    let pours = visit.fields.answers("pour");
    let body = html! {
        (frame::title("Record a coat", "What really went onto the sheet. Correct any count; a pour left empty was not poured."))
        (form::post(visit, "/coat/made", &html! {
            @if of_pours.is_none() { (asked.trouble(ASKS)) }
            (pour_fields(&pours, of_pours))
            (asked.all(ASKS))
            @if let Some(back) = back(&visit.fields) { input type="hidden" name="back" value=(back); }
            p.actions { button type="submit" { "Record this coat" } a.btn.quiet href=(back(&visit.fields).unwrap_or("/coat")) { "Leave it" } }
        }))
        p.why { "The metal is taken out of its bottles and is on the sheet until it becomes a print or is spoiled." }
    };
    Reply::page("Record a coat", "/coat", body).refusing(refusal)
}

/// What was poured, a line each, with room for one more.
fn pour_fields(pours: &[String], refusal: Option<&Refusal>) -> Markup {
    html! {
        fieldset.ask {
            legend { "What was poured, in the order it was dropped" }
            @if let Some(refusal) = refusal { (refused::note(refusal)) }
            @for place in 0..pours.len() + SPARE {
                @let id = format!("pour-{place}");
                div.ask {
                    label for=(id) { "Pour " (place + 1) }
                    input id=(id) name="pour" type="text" value=(pours.get(place).map_or("", String::as_str)) autocomplete="off" spellcheck="false"
                        aria-describedby="pour-why" aria-invalid=[refusal.map(|_| "true")];
                }
            }
            p.why #pour-why { "The bottle and its drops, iron=23, or its volume, iron=1.15mL." }
        }
    }
}

/// `GET /coat/open`
pub(in crate::web) fn open(visit: &Visit) -> Answer {
    waiting(visit, None)
}

/// `POST /coat/spoiled`
pub(in crate::web) fn spoiled(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let answers =
        Spoiled { coat: fields.answer("coat"), because: fields.answer("because"), thrown: fields.ticked("thrown") };
    let done = spoil(&mut visit.studio(), &visit.moment(), &answers);
    match done {
        Ok(done) => Ok(Reply::after(&done, "/coat/open")),
        Err(refusal) => waiting(visit, Some(&refusal)),
    }
}

fn waiting(visit: &Visit, refusal: Option<&Refusal>) -> Answer {
    let open = open_coats(&visit.studio())?;
    let meant = visit.fields.get("coat").and_then(|text| text.parse::<u32>().ok());
    let of_one =
        |own: &CoatView| refusal.filter(|refusal| meant == Some(own.number) && refusal.about == Some(Question::Reason));
    let unplaced = refusal.filter(|_| open.iter().all(|own| of_one(own).is_none()));
    let nothing = Fields::of(&[]);
    let body = html! {
        (frame::title("Coats that wait", "Coated sheets that are neither prints nor spoiled."))
        (frame::trouble(unplaced))
        @if open.is_empty() {
            section.sheet {
                p.lead { "No coated sheet is waiting." }
                p { a.btn href="/coat" { "Plan a coat" } }
            }
        }
        @for own in open.iter().rev() {
            @let refusal = of_one(own);
            @let form = format!("spoil-{}", own.number);
            @let asked = Asked { form: &form, fields: if refusal.is_some() { &visit.fields } else { &nothing }, refusal };
            section.sheet id=(format!("coat-{}", own.number)) {
                h2 { (own.title) }
                p.soft { (about(own)) }
                ul { @for pour in &own.pours { li { (poured(pour)) } } }
                p.actions { a.btn href=(format!("/print/new?coat={}", own.number)) { "Record the print" } }
                details.deed open[refusal.is_some()] {
                    summary { "It is spoiled" }
                    (form::post(visit, "/coat/spoiled", &html! {
                        input type="hidden" name="coat" value=(own.number);
                        (asked.all(SPOILED))
                        p.actions { button type="submit" aria-label=(format!("It is spoiled: coat {}", own.number)) { "It is spoiled" } }
                    }))
                }
            }
        }
        @if !open.is_empty() { p.actions { a.btn.quiet href="/coat" { "Plan a coat" } a.btn.quiet href="/coat/made" { "Record another coat" } } }
    };
    Ok(Reply::page("Coats that wait", "/coat", body).refusing(refusal))
}

/// Its number, when it was made, and what it is on.
fn about(own: &CoatView) -> String {
    let mut words = vec![format!("coat {}", own.number)];
    words.extend(own.at.map(said::when));
    words.extend(own.image.clone());
    words.extend(own.paper.clone());
    words.join(" · ")
}

fn poured(pour: &Poured) -> String {
    let ml = handcoat_craft::measure::significant(pour.volume.to_millilitres(), 3);
    match pour.drops {
        Some(1) => format!("1 drop of {}, {ml} mL", pour.name),
        Some(drops) => format!("{drops} drops of {}, {ml} mL", pour.name),
        None => format!("{ml} mL of {}", pour.name),
    }
}

//! A print is recorded: all of the notebook's fields, each of which may stay open.

use handcoat_craft::measure::significant;
use handcoat_work::expose::{Exposed, SetupView, one_setup, setups};
use handcoat_work::negative::{NegativeView, negatives};
use handcoat_work::print::{CoatView, FIELDS, PrintMade, PrintView, groups, open_coats, print, prints, record};
use handcoat_work::shelf::shelf;
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::negative::{image, margin};
use super::prints::slug;
use crate::web::asking::{self, Asking, Names};
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, quantity, words};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame, refused};

/// Rows for what was poured: as many as were begun with and two more, at least and at most so many.
const LEAST_ROWS: usize = 4;
const MOST_ROWS: usize = 12;

const TITLE: &[Ask<'static>] =
    &[words("title", Question::Title, "What is it called?", "Heron, morning. Titles may repeat; the number does not.")];

const DROPS: &[Ask<'static>] = &[quantity(
    "drops_per_ml",
    Question::DropSize,
    "How many drops to the millilitre?",
    "Left open, what is known of the dropper of each bottle, or the usual 20.",
)];

/// What is the same in the next print of the same negative, and what is not.
fn is_kept(key: &str, group: &str) -> bool {
    group != "Verdict" && key != "edition"
}

/// What a form needs to know of the book.
struct Known {
    names: Names,
    bottles: Vec<String>,
    coats: Vec<CoatView>,
    newest: Option<PrintView>,
    setups: Vec<SetupView>,
    negatives: Vec<NegativeView>,
}

/// Negatives that are offered, the newest.
const MOST_NEGATIVES: usize = 8;

fn known(visit: &Visit) -> Result<Known, Refusal> {
    let studio = visit.studio();
    let bottles = shelf(&studio, visit.now())?.into_iter().filter(|item| item.volume.is_some());
    Ok(Known {
        names: asking::names(&studio)?,
        bottles: bottles.map(|item| item.name).collect(),
        coats: open_coats(&studio)?,
        newest: prints(&studio, "", 1, None)?.pop(),
        setups: setups(&studio, visit.now())?,
        negatives: negatives(&studio, visit.now())?.into_iter().take(MOST_NEGATIVES).collect(),
    })
}

/// `GET /print/new`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    let known = known(visit)?;
    let begun = begun(visit, &known)?;
    Ok(page(visit, &known, &begun, None))
}

/// `POST /print/new`
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    let done = record(&mut visit.studio(), &visit.moment(), &answers(&visit.fields));
    match done {
        Ok(done) => {
            let to = done.record.map_or("/print".into(), |number| format!("/print/{number}"));
            Ok(Reply::after(&done, &to))
        }
        Err(refusal) => Ok(page(visit, &known(visit)?, &visit.fields, Some(&refusal))),
    }
}

fn answers(fields: &Fields) -> PrintMade {
    let all = asking::answers(fields, FIELDS);
    PrintMade {
        title: fields.answer("title"),
        pours: (0..MOST_ROWS).filter_map(|row| poured(fields, row)).collect(),
        drops_per_ml: fields.answer("drops_per_ml"),
        coats: fields.answers("coat"),
        repeats: fields.answer("repeats"),
        fields: all.into_iter().filter(|(_, text)| !text.is_empty()).collect(),
    }
}

/// One row of what was poured, as the command line writes it.
fn poured(fields: &Fields, row: usize) -> Option<String> {
    let (bottle, much) = (fields.answer(&format!("bottle-{row}")), fields.answer(&format!("drops-{row}")));
    if bottle.is_none() && much.is_none() {
        return None;
    }
    Some(format!("{}={}", bottle.unwrap_or_default(), much.unwrap_or_default()))
}

/// What the form begins with: what the address says, and beneath it what another print had, or a coat.
fn begun(visit: &Visit, known: &Known) -> Result<Fields, Refusal> {
    let asked = &visit.fields;
    let mut pairs: Vec<(String, String)> = asked
        .pairs()
        .filter(|(name, _)| !matches!(*name, "like" | "act"))
        .map(|(name, value)| (name.into(), value.into()))
        .collect();
    let title = |pairs: &mut Vec<(String, String)>, own: &str| {
        if asked.answer("title").is_none() {
            pairs.push(("title".into(), own.into()));
        }
    };
    let coat = asked.answer("coat");
    if let Some(own) = known.coats.iter().find(|own| Some(own.number.to_string()) == coat) {
        title(&mut pairs, &own.title);
        for (key, known) in [("image", &own.image), ("margin", &own.margin), ("paper", &own.paper)] {
            if let Some(text) = known.as_ref().filter(|_| asked.answer(key).is_none()) {
                pairs.push((key.into(), text.clone()));
            }
        }
    }
    if let Some(name) = asked.answer("setup") {
        let setup = one_setup(&visit.studio(), &name, visit.now())?;
        pairs.extend(of_setup(&setup).into_iter().filter(|(key, _)| asked.answer(key).is_none()));
    }
    let like = match asked.answer("like").as_deref() {
        None => None,
        Some("last") => known.newest.clone(),
        Some(number) => Some(print(&visit.studio(), number)?),
    };
    let Some(like) = like else { return Ok(Fields::owned(pairs)) };
    let given = |name: &str| asked.answer(name).is_some();
    let filled: Vec<String> = pairs.iter().map(|own| own.0.clone()).collect();
    if asked.answer("coat").is_none() {
        title(&mut pairs, &like.title);
    }
    let same = like
        .known
        .iter()
        .filter(|(field, _)| is_kept(field.key, field.group) && !filled.iter().any(|own| own == field.key));
    pairs.extend(same.map(|(field, text)| (field.key.into(), text.clone())));
    // What is on a coat already is not poured once more.
    if !given("coat") && !(0..MOST_ROWS).any(|row| given(&format!("bottle-{row}"))) {
        for (row, own) in like.pours.iter().take(MOST_ROWS).enumerate() {
            let much =
                own.drops.map_or_else(|| format!("{} mL", own.volume.to_millilitres()), |drops| drops.to_string());
            pairs.extend([(format!("bottle-{row}"), own.name.clone()), (format!("drops-{row}"), much)]);
        }
    }
    Ok(Fields::owned(pairs))
}

/// What a set-up says of a print made as it is: and of its base exposure, the time, where it is one.
fn of_setup(setup: &SetupView) -> Vec<(String, String)> {
    let shared = ["paper", "tool", "lamp", "distance", "developer"];
    let known = setup.known.iter().filter(|(field, _)| shared.contains(&field.key));
    let mut pairs: Vec<(String, String)> = known.map(|(field, text)| (field.key.into(), text.clone())).collect();
    match setup.base.as_ref().map(|own| own.exposed) {
        Some(Exposed::Time(own)) => pairs.push(("time".into(), own.set.best.clock())),
        Some(Exposed::Units(own)) => pairs.push(("units".into(), significant(own.set.best.to_units(), 3))),
        None => {}
    }
    pairs
}

fn page(visit: &Visit, known: &Known, fields: &Fields, refusal: Option<&Refusal>) -> Reply {
    let asked = Asked { form: "print", fields, refusal };
    let parts: Vec<(&str, Vec<Asking>)> = groups()
        .iter()
        .map(|part| {
            let own = FIELDS.iter().filter(|field| field.group == *part).map(|field| Asking::of(field, &known.names));
            (*part, own.collect())
        })
        .collect();
    let coats: Vec<(String, String)> =
        known.coats.iter().map(|own| (own.number.to_string(), coat_words(own))).collect();
    let choices: Vec<(&str, &str)> = coats.iter().map(|(word, says)| (word.as_str(), says.as_str())).collect();
    let coat = Ask {
        name: "coat",
        about: Some(Question::Coat),
        label: "Was it coated before?",
        why: "A coat that is recorded brings its drops, its metal and its cost along.",
        way: Way::Any(&choices),
    };
    let about = refusal.and_then(|own| own.about);
    let beside = |question: Question| refusal.filter(|_| about == Some(question));
    let is_field = matches!(about, Some(Question::Field(_)));
    let shown = is_field
        || [Question::Title, Question::Pour, Question::DropSize].iter().any(|own| about == Some(*own))
        || (about == Some(Question::Coat) && !choices.is_empty());
    let repeats = fields.answer("repeats");
    // A time that is filled in and doubted says so where it is seen, not in a fold.
    let chosen = visit.fields.answer("setup");
    let doubted = known.setups.iter().find(|own| Some(&own.name) == chosen.as_ref()).and_then(|own| own.base.as_ref());
    let doubted = doubted.filter(|base| !base.suspect.is_empty());
    let body = html! {
        (frame::title("Record a print", "Its number is never used again. Everything but its title may stay open; unknown is an answer."))
        @if let Some(newest) = known.newest.as_ref().filter(|_| visit.fields.is_empty()) {
            p.actions { a.btn.quiet href="/print/new?like=last" { "Begin again like print " (newest.number) ", " (newest.title) } }
        }
        @if !known.negatives.is_empty() && refusal.is_none() {
            details.more {
                summary { "Begin with a negative " span.soft { (visit.fields.answer("negative").unwrap_or_default()) } }
                p.why { "Its image, and the set-up its curve belongs to, are filled in below." }
                p.actions { @for own in &known.negatives { a.btn.quiet href=(with_negative(&visit.fields, own)) { (own.name) @if let Some(image) = own.made.first().and_then(image) { ", " (image) } } } }
            }
        }
        @if !known.setups.is_empty() && refusal.is_none() {
            details.more {
                summary { "Begin with a set-up " span.soft { (visit.fields.answer("setup").unwrap_or_default()) } }
                p.why { "Its paper, lamp, developer and base exposure are filled in below; change what was otherwise." }
                p.actions { @for own in &known.setups { a.btn.quiet href=(visit.fields.with("setup", Some(&own.name)).with("act", None).address("/print/new")) { (own.name) } } }
                @for own in known.setups.iter().filter_map(|own| own.base.as_ref()) { (expose::in_force(own)) }
            }
        }
        @if let Some(base) = doubted { (expose::in_force(base)) }
        (form::post(visit, "/print/new", &html! {
            @if let Some(first) = &repeats {
                input type="hidden" name="repeats" value=(first);
                p.soft { "It repeats print " a href=(format!("/print/{first}")) { (first) } "." }
            }
            @if !shown { (frame::trouble(refusal)) }
            (asked.all(TITLE))
            @if !choices.is_empty() { (asked.ask(&coat)) }
            // What a coat brings along is not asked for once more.
            @if fields.answer("coat").is_some() {
                details.more open[beside(Question::Pour).is_some()] {
                    summary { "Poured besides, and recorded with no coat" }
                    (pour_rows(fields, &known.bottles, beside(Question::Pour)))
                    (asked.all(DROPS))
                }
            } @else {
                (pour_rows(fields, &known.bottles, beside(Question::Pour)))
                (asked.all(DROPS))
            }
            @for (part, all) in &parts { (folded(&asked, part, all)) }
            p.actions { button type="submit" { "Record it" } a.btn.quiet href="/print" { "Leave it" } }
        }))
    };
    Reply::page("Record a print", "/print", body).refusing(refusal)
}

/// The form begun with a negative: what is known of it, and nothing that was said already is lost but what it says better.
fn with_negative(fields: &Fields, own: &NegativeView) -> String {
    let made = own.made.first();
    let mut begun = fields.with("act", None).with("negative", Some(&own.name));
    if let Some(setup) = made.and_then(|own| own.setup.as_ref()) {
        begun = begun.with("setup", Some(&setup.1));
    }
    if let Some(image) = made.and_then(image) {
        begun = begun.with("image", Some(&image)).with("margin", made.and_then(margin).as_deref());
    }
    if fields.answer("title").is_none() {
        begun = begun.with("title", Some(&own.name));
    }
    begun.address("/print/new")
}

/// A coat by its number, what it is for, and what was dropped.
fn coat_words(own: &CoatView) -> String {
    let pours: Vec<String> = own
        .pours
        .iter()
        .map(|pour| match pour.drops {
            Some(drops) => format!("{drops} {}", pour.name),
            None => format!("{} mL {}", significant(pour.volume.to_millilitres(), 3), pour.name),
        })
        .collect();
    format!("coat {}: {}, {}", own.number, own.title, pours.join(" + "))
}

/// Bottles and drops, in the order they were dropped.
fn pour_rows(fields: &Fields, bottles: &[String], refusal: Option<&Refusal>) -> Markup {
    let filled = (0..MOST_ROWS).rfind(|row| poured(fields, *row).is_some()).map_or(0, |last| last + 1);
    let rows = (filled + 2).clamp(LEAST_ROWS, MOST_ROWS);
    let value = |name: &str, row: usize| fields.get(&format!("{name}-{row}")).unwrap_or_default().to_owned();
    html! {
        fieldset.pours aria-describedby="print-pours-why print-pours-slot" {
            legend { "What was poured, in the order dropped?" }
            @for row in 0..rows {
                div.pour {
                    div { label for=(format!("print-bottle-{row}")) { "Bottle" }
                        input id=(format!("print-bottle-{row}")) name=(format!("bottle-{row}")) type="text" value=(value("bottle", row)) autocomplete="off" spellcheck="false"; }
                    div { label for=(format!("print-drops-{row}")) { "Drops" }
                        input id=(format!("print-drops-{row}")) name=(format!("drops-{row}")) type="text" value=(value("drops", row)) autocomplete="off" spellcheck="false"; }
                }
            }
            p.why id="print-pours-why" {
                "The name of a bottle or the code on its label; 23 drops, or 1.15 mL."
                @if !bottles.is_empty() { " On the shelf: " (bottles.join(", ")) "." }
            }
            div id="print-pours-slot" { @if let Some(refusal) = refusal { (refused::beside(refusal, "print-pours-said")) } }
        }
    }
}

fn folded(asked: &Asked<'_>, part: &str, all: &[Asking]) -> Markup {
    let asks: Vec<Ask<'_>> = all.iter().map(Asking::ask).collect();
    let given: Vec<String> = asks.iter().filter_map(|ask| asked.fields.answer(ask.name)).collect();
    html! {
        details.more id=(slug(part)) open[asked.blames(&asks)] {
            summary { (part) @if !given.is_empty() { span.soft { (given.join(", ")) } } }
            (asked.all(&asks))
        }
    }
}

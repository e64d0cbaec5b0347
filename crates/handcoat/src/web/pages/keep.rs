//! What is kept beside the shelf: papers, brushes and rods, droppers, lamps, baths, what is counted, negatives; and one list of what is low.

use handcoat_craft::measure::fixed;
use handcoat_work::keep::{
    Keep, Kept, RecordKind, ToBuy, change, fields_of, keep, kept, kinds, one_kept, put_away, restock, shopping,
};
use handcoat_work::ledger::acts_on_record;
use handcoat_work::{Question, Refusal, RefusalKind, Remedy};
use maud::{Markup, html};

use super::receive::folded;
use super::today::acts_list;
use crate::web::asking::{self, Asking, Names};
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, quantity, words as asked_in_words};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, words};

/// How many of the newest acts on it are shown.
const HISTORY: u32 = 12;

const NAME: &[Ask<'static>] = &[asked_in_words(
    "name",
    Question::Name,
    "What is it called?",
    "A name to say aloud in the dark; of two lots each has its own.",
)];

const CAME: &[Ask<'static>] =
    &[quantity("came", Question::Pieces, "How many came?", "25; they are added to what is there.")];

const THERE: &[Ask<'static>] = &[quantity(
    "there",
    Question::Pieces,
    "Or how many are there, counted?",
    "18; what was used without being written down is set right.",
)];

/// The kind in a heading.
fn heading(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::Paper => "Papers",
        RecordKind::Tool => "Brushes and rods",
        RecordKind::Dropper => "Droppers",
        RecordKind::Lamp => "Lamps",
        RecordKind::Bath => "Baths",
        RecordKind::Supply => "What is counted",
        RecordKind::Negative => "Negatives",
        RecordKind::Setup => "Set-ups",
        RecordKind::Test => "Exposure tests",
        RecordKind::Response => "Responses",
        RecordKind::Coat => "Coats",
        RecordKind::Print => "Prints",
    }
}

fn is_counted(kind: RecordKind) -> bool {
    matches!(kind, RecordKind::Paper | RecordKind::Supply)
}

/// The kind an address names.
fn kind(visit: &Visit) -> Result<RecordKind, Refusal> {
    let word = visit.segment(1);
    kinds().iter().copied().find(|kind| kind.word() == word).ok_or_else(|| Refusal {
        code: "kind_unknown",
        kind: RefusalKind::Missing,
        about: Some(Question::Kind),
        cause: "nothing of that kind is kept here".into(),
        excerpt: None,
        remedies: vec![Remedy::ListKept],
    })
}

/// `GET /keep`
pub(in crate::web) fn list(visit: &Visit) -> Answer {
    let (all, low) = {
        let studio = visit.studio();
        let all = kinds().iter().map(|kind| Ok((*kind, kept(&studio, *kind)?))).collect::<Result<Vec<_>, Refusal>>()?;
        (all, shopping(&studio)?)
    };
    let body = html! {
        (frame::title("Kept", "What is used and comes again: with a name it can be said in a print, and what a print uses is counted."))
        @if !low.is_empty() { p.note { b { "Running low. " } (named(&low)) ". " a href="/keep/shopping" { "The shopping list" } } }
        ul.rows {
            @for (kind, own) in &all {
                li { a href=(format!("/keep/{}", kind.word())) {
                    b { (heading(*kind)) }
                    span.plain { (own.len()) }
                    @for notice in own.iter().filter(|own| !own.notices.is_empty()).take(3) { span.plain { (notice.name) ": " (notice.notices.join(", ")) } }
                } }
            }
        }
    };
    Ok(Reply::page("Kept", "/keep", body))
}

/// What is low in one line.
pub(super) fn named(low: &[ToBuy]) -> String {
    low.iter().map(|own| format!("{}: {} left", own.name, own.there)).collect::<Vec<_>>().join(", ")
}

/// `GET /keep/shopping`
pub(in crate::web) fn to_buy(visit: &Visit) -> Answer {
    let low = shopping(&visit.studio())?;
    let body = html! {
        (frame::title("Shopping list", "What is at or below the count it was said to be low at."))
        @if low.is_empty() { p.lead { "Nothing is low." } } @else {
            ul.tick { @for own in &low {
                li { span.box aria-hidden="true" {} b { (own.name) } span.soft { (own.there) " there, low at " (own.low) } }
            } }
        }
        p.aside { a href="/keep" { "What is kept" } }
    };
    Ok(Reply::page("Shopping list", "/keep", body))
}

/// `GET /keep/{kind}`
pub(in crate::web) fn of_kind(visit: &Visit) -> Answer {
    kind_page(visit, kind(visit)?, None)
}

/// `POST /keep/{kind}`
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    let kind = kind(visit)?;
    let done = keep(&mut visit.studio(), &visit.moment(), kind, &answers(visit, kind));
    match done {
        Ok(done) => Ok(Reply::after(
            &done,
            &done.record.map_or("/keep".into(), |number| format!("/keep/{}/{number}", kind.word())),
        )),
        Err(refusal) => kind_page(visit, kind, Some(&refusal)),
    }
}

fn answers(visit: &Visit, kind: RecordKind) -> Keep {
    let fields = &visit.fields;
    Keep { name: fields.answer("name"), fields: asking::answers(fields, fields_of(kind)), came: fields.answer("came") }
}

fn kind_page(visit: &Visit, kind: RecordKind, refusal: Option<&Refusal>) -> Answer {
    let (all, names) = {
        let studio = visit.studio();
        (kept(&studio, kind)?, asking::names(&studio)?)
    };
    let nothing = Fields::default();
    let fields = if refusal.is_some() { &visit.fields } else { &nothing };
    let asked = Asked { form: "keep", fields, refusal };
    let own = Asks::of(kind, &names);
    let mut asks: Vec<Ask<'_>> = NAME.to_vec();
    asks.extend(CAME.iter().filter(|_| is_counted(kind)));
    asks.extend(own.asks());
    let body = html! {
        (frame::title(heading(kind), ""))
        @if all.is_empty() { p.soft { "Nothing of the kind is kept yet." } } @else {
            ul.rows { @for own in &all { li { a href=(address(own)) { b { (own.name) } @for words in brief(own) { span.plain { (words) } } } (notices(own)) } } }
        }
        details.deed open[all.is_empty() || refusal.is_some()] {
            summary { @if all.is_empty() { "Keep one" } @else { "Keep another" } }
            (form::post(visit, &format!("/keep/{}", kind.word()), &html! {
                (asked.trouble(&asks))
                (questions(&asked, kind, &asks))
                p.actions { button type="submit" { "Keep it" } a.btn.quiet href="/keep" { "Leave it" } }
            }))
        }
    };
    Ok(Reply::page(heading(kind), "/keep", body).refusing(refusal))
}

/// What belongs to the negative of a set-up and what is seldom said: fourteen questions are more than a telephone shows.
const FOLDED: [&str; 6] = ["film", "printer", "driver", "ink", "humidity", "note"];

/// The questions of a form, those of a set-up that may wait folded.
fn questions(asked: &Asked<'_>, kind: RecordKind, asks: &[Ask<'_>]) -> Markup {
    let waits = |own: &&Ask<'_>| kind == RecordKind::Setup && FOLDED.contains(&own.name);
    let first: Vec<Ask<'_>> = asks.iter().filter(|own| !waits(own)).copied().collect();
    let later: Vec<Ask<'_>> = asks.iter().filter(waits).copied().collect();
    html! {
        (asked.all(&first))
        @if !later.is_empty() { (folded(asked, "Film, printer, ink and the rest", &later)) }
    }
}

/// The questions of a kind.
struct Asks(Vec<Asking>);

impl Asks {
    fn of(kind: RecordKind, names: &Names) -> Self {
        Self(fields_of(kind).iter().map(|field| Asking::of(field, names)).collect())
    }

    fn asks(&self) -> Vec<Ask<'_>> {
        self.0.iter().map(Asking::ask).collect()
    }
}

fn address(own: &Kept) -> String {
    format!("/keep/{}/{}", own.kind.word(), own.number)
}

/// Counts, hours and area, and the first thing that is known.
fn brief(own: &Kept) -> Vec<String> {
    let there = own.there.map(|there| format!("{there} there"));
    let hours = own.hours.map(|hours| format!("{} h", fixed(hours, 1)));
    let area = own.area.map(|area| format!("{} m² through it", fixed(area.to_square_centimetres() / 10_000.0, 2)));
    let first = own.known.first().map(|(_, text)| text.clone());
    [there, hours, area, first].into_iter().flatten().collect()
}

fn notices(own: &Kept) -> Markup {
    html! { @for notice in &own.notices { p.due { b { "Mind. " } (words::capitalised(notice)) "." } } }
}

/// `GET /keep/{kind}/{number}`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    one_page(visit, kind(visit)?, None)
}

/// `POST /keep/{kind}/{number}/{act}`
pub(in crate::web) fn act(visit: &Visit) -> Answer {
    let (kind, number, word) = (kind(visit)?, visit.segment(2), visit.segment(3));
    let fields = &visit.fields;
    let done = match word {
        "change" => {
            change(&mut visit.studio(), &visit.moment(), kind, number, &Keep { came: None, ..answers(visit, kind) })
        }
        "count" => {
            let (came, there) = (fields.answer("came"), fields.answer("there"));
            restock(&mut visit.studio(), &visit.moment(), kind, number, came.as_ref(), there.as_ref())
        }
        "away" => put_away(&mut visit.studio(), &visit.moment(), kind, number),
        _ => return one_page(visit, kind, None),
    };
    match done {
        // What was put away has no page any more.
        Ok(done) if word == "away" => Ok(Reply::after(&done, &format!("/keep/{}", kind.word()))),
        Ok(done) => Ok(Reply::after(&done, &format!("/keep/{}/{number}", kind.word()))),
        Err(refusal) => one_page(visit, kind, Some((word, &refusal))),
    }
}

fn one_page(visit: &Visit, kind: RecordKind, refused: Option<(&str, &Refusal)>) -> Answer {
    let (own, acts, names) = {
        let studio = visit.studio();
        let own = one_kept(&studio, kind, visit.segment(2))?;
        let acts = acts_on_record(&studio, kind, own.number, HISTORY)?;
        (own, acts, asking::names(&studio)?)
    };
    let mut known = asking::known(&own.known);
    known.push(("name".into(), own.name.clone()));
    let (known, nothing) = (Fields::owned(known), Fields::default());
    let of = |word: &str| refused.filter(|(own, _)| *own == word).map(|(_, refusal)| refusal);
    let asks = Asks::of(kind, &names);
    let body = html! {
        (frame::title(&own.name, heading(kind)))
        // What is not counted has no form to stand beside.
        @if !is_counted(kind) { (frame::trouble(of("count"))) }
        (notices(&own))
        div.two {
            section { h2 { "What is known" } (facts(&own)) }
            section {
                h2 { "What can be done" }
                @if is_counted(kind) { (deed(visit, &own, "count", "Count it", &[CAME, THERE].concat(), &nothing, of("count"), "Count them in")) }
                (deed(visit, &own, "change", "Change what is known", &[NAME.to_vec(), asks.asks()].concat(), &known, of("change"), "Change it"))
                (deed(visit, &own, "away", "Put it away", &[], &nothing, of("away"), "It is used up, broken or gone"))
            }
        }
        section { h2 { "What was done with it" } (acts_list(visit, &acts, usize::MAX)) }
    };
    Ok(Reply::page(own.name.clone(), "/keep", body).refusing(refused.map(|(_, refusal)| refusal)))
}

/// A question without the answers it offers: beside an answer they are in the way.
fn bare(label: &str) -> &str {
    label.split(':').next().unwrap_or(label)
}

fn facts(own: &Kept) -> Markup {
    let made = [
        ("there", own.there.map(|there| there.to_string())),
        ("hours on it", own.hours.map(|hours| fixed(hours, 1))),
        ("area through it", own.area.map(|area| format!("{} m²", fixed(area.to_square_centimetres() / 10_000.0, 2)))),
    ];
    let open: Vec<&str> = fields_of(own.kind)
        .iter()
        .filter(|field| own.known.iter().all(|(known, _)| known.key != field.key))
        .map(|field| bare(field.label))
        .collect();
    html! {
        dl.facts {
            @for (label, value) in &made { @if let Some(value) = value { dt { (label) } dd { (value) } } }
            @for (field, text) in &own.known { dt { (bare(field.label)) } dd { (text) } }
        }
        @if !open.is_empty() { p.why { "Unknown: " (open.join(", ")) "." } }
    }
}

#[allow(clippy::too_many_arguments, reason = "a form is what it asks, how it begins and what was wrong")]
fn deed(
    visit: &Visit,
    own: &Kept,
    word: &str,
    title: &str,
    asks: &[Ask<'_>],
    begun: &Fields,
    refusal: Option<&Refusal>,
    button: &str,
) -> Markup {
    let fields = if refusal.is_some() { &visit.fields } else { begun };
    let asked = Asked { form: word, fields, refusal };
    html! {
        details.deed id=(word) open[refusal.is_some()] {
            summary { (title) }
            @if word == "away" { p.why { "What was made with it keeps its name." } }
            @if word == "change" { p.why { "What is left empty is unknown." } }
            (form::post(visit, &format!("{}/{word}", address(own)), &html! {
                (asked.trouble(asks))
                (questions(&asked, own.kind, asks))
                p.actions { button type="submit" { (button) } }
            }))
        }
    }
}

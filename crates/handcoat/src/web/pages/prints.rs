//! Prints: the quiet list and its search, one print with everything known of it, its pictures, and what is written down later.

use handcoat_craft::measure::{fixed, significant};
use handcoat_work::keep::RecordKind;
use handcoat_work::ledger::{ActRow, acts_on_record};
use handcoat_work::negative::{CurveDoubts, link_doubts};
use handcoat_work::print::{FIELDS, Poured, PrintView, add_picture, groups, note, picture, print, prints};
use handcoat_work::{Field, Question, Refusal};
use maud::{Markup, html};

use super::today::acts_list;
use crate::web::asking::{self, Asking, Names};
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, note as asked_freely};
use crate::web::theme::Theme;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, refused, words};

/// Prints on a page of the list.
const ROWS: u32 = 50;
/// How many of the newest acts on a print are shown.
const HISTORY: u32 = 12;
/// The part of a record that is written when the print is dry.
const VERDICT: &str = "Verdict";

const FIND: &[Ask<'static>] = &[asked_freely(
    "find",
    "Find prints",
    "Any words of the record; of one field: paper:cotton, faults:veil, number:17.",
)];

/// `GET /print`
pub(in crate::web) fn list(visit: &Visit) -> Answer {
    let asked = visit.fields.answer("find").unwrap_or_default();
    let before = visit.fields.get("before").and_then(|text| text.trim().parse().ok());
    // One more than is shown says whether there are older ones.
    let mut found = prints(&visit.studio(), &asked, ROWS + 1, before)?;
    let more = found.len() > ROWS as usize;
    found.truncate(ROWS as usize);
    let older = found.last().map(|own| own.number).filter(|_| more);
    let body = html! {
        (frame::title("Prints", ""))
        p.actions { a.btn href="/print/new" { "Record a print" } a.btn.quiet href="/print/compare" { "Compare two" } }
        (search(visit))
        @if found.is_empty() { (nothing(&asked, before)) } @else { (rows(&found)) }
        @if let Some(last) = older {
            p.actions { a.btn.quiet rel="next" href=(visit.fields.with("before", Some(&last.to_string())).address("/print")) { "Older prints" } }
        }
    };
    Ok(Reply::page("Prints", "/print", body))
}

fn search(visit: &Visit) -> Markup {
    let asked = Asked { form: "find", fields: &visit.fields, refusal: None };
    html! { form.row method="get" action="/print" role="search" { (asked.all(FIND)) p.actions { button.quiet type="submit" { "Find" } } } }
}

fn nothing(asked: &str, before: Option<u32>) -> Markup {
    html! {
        section.sheet {
            @if !asked.is_empty() { p.lead { "No print answers all of “" (asked) "”." } p { a href="/print" { "All prints" } } }
            @else if before.is_some() { p.lead { "There are no older prints." } p { a href="/print" { "The newest" } } }
            @else { p.lead { "No print is recorded yet." } p.why { "What was poured, how it was exposed and developed, how it came out: as much of it as you know." } }
        }
    }
}

/// Prints as rows: enough to know one again.
pub(super) fn rows(found: &[PrintView]) -> Markup {
    html! {
        ul.rows.prints {
            @for own in found {
                li { a href=(format!("/print/{}", own.number)) {
                    b.number-of { (own.number) }
                    span { b { (own.title) } @for words in brief(own) { span.soft { (words) } } }
                } }
            }
        }
    }
}

/// Day, size, paper, time and verdict, as far as they are known.
fn brief(own: &PrintView) -> Vec<String> {
    let day = own.at.map(words::day);
    let of = |key: &str| own.of(key).map(String::from);
    let signs = own.of("faults").map(fault_words);
    let verdict = of("dry").or_else(|| of("wet")).or(signs);
    [day, of("image"), of("paper"), of("time"), verdict].into_iter().flatten().collect()
}

/// Signs as they are said.
fn fault_words(text: &str) -> String {
    let said = |word: &str| {
        asking::signs().iter().find(|(own, _)| *own == word).map_or(word.to_owned(), |(_, own)| (*own).into())
    };
    text.split([',', ' ']).filter(|word| !word.is_empty()).map(said).collect::<Vec<_>>().join(", ")
}

/// `GET /print/{number}`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    page(visit, None)
}

/// `GET /print/photo/{sha256}`
pub(in crate::web) fn photo(visit: &Visit) -> Answer {
    let sha256 = visit.segment(2);
    let found = picture(&visit.studio(), sha256)?;
    Ok(Reply::Picture { media: found.media, sha256: sha256.into(), bytes: found.bytes })
}

/// `POST /print/{number}/note`
pub(in crate::web) fn write_down(visit: &Visit) -> Answer {
    let number = visit.segment(1);
    let parts = visit.fields.answers("part");
    let asked = FIELDS.iter().filter(|field| parts.iter().any(|own| own == field.group));
    let done = note(&mut visit.studio(), &visit.moment(), number, &asking::answers(&visit.fields, asked));
    match done {
        Ok(done) => Ok(Reply::after(&done, &format!("/print/{number}"))),
        Err(refusal) => page(visit, Some(&refusal)),
    }
}

/// `POST /print/{number}/photo`
pub(in crate::web) fn keep_photo(visit: &Visit) -> Answer {
    let number = visit.segment(1);
    let done = match &visit.picture {
        Some(bytes) => add_picture(&mut visit.studio(), &visit.moment(), number, bytes),
        None => Err(Refusal::missing(Question::Photo, "heron.jpg")),
    };
    match done {
        Ok(done) => Ok(Reply::after(&done, &format!("/print/{number}"))),
        Err(refusal) => page(visit, Some(&refusal)),
    }
}

fn page(visit: &Visit, refusal: Option<&Refusal>) -> Answer {
    let (own, doubts, acts, names) = {
        let studio = visit.studio();
        let own = print(&studio, visit.segment(1))?;
        let doubts = link_doubts(&studio, own.negative_made.as_ref().and_then(|own| own.response), visit.now())?;
        let acts = acts_on_record(&studio, RecordKind::Print, own.number, HISTORY)?;
        (own, doubts, acts, asking::names(&studio)?)
    };
    let here = format!("/print/{}", own.number);
    let (group, picture) = (blamed(visit, refusal), refusal.filter(|own| own.about == Some(Question::Photo)));
    let elsewhere = refusal.filter(|_| group.is_none() && picture.is_none());
    let body = html! {
        (frame::title(&own.title, &lead(&own)))
        (frame::trouble(elsewhere))
        (pours(&own.pours))
        p.actions {
            a.btn href=(format!("{here}/repeat")) { "Print it again" }
            a.btn.quiet href=(format!("/print/compare?second={}", own.number)) { "Compare it" }
            a.btn.quiet href=(format!("/print/new?like={}", own.number)) { "Record another like it" }
        }
        div.two {
            section { h2 { "What is known" } (facts(&own)) (unknown(&own)) (negative(&own, &doubts)) }
            section {
                (photos(visit, &own, picture))
                h2 { "Write down" }
                @for part in groups().iter().rev().filter(|part| **part == VERDICT).chain(groups().iter().filter(|part| **part != VERDICT)) {
                    (note_form(visit, &own, part, &names, refusal.filter(|_| group.as_deref() == Some(*part))))
                }
            }
        }
        (history(visit, &acts))
    };
    Ok(Reply::page(format!("Print {}", own.number), "/print", body).refusing(refusal))
}

/// The negative it was printed from, its curve and set-up, where it was made here.
fn negative(own: &PrintView, doubts: &CurveDoubts) -> Markup {
    html! {
        @if let Some(link) = &own.negative_made {
            h2 { "Its negative" }
            p { a href=(format!("/negative/{}", link.number)) { (link.words()) } }
            @if let Some(response) = link.response { p { a href=(format!("/tone/{response}")) { "Response " (response) } } }
            @for sentence in doubts.sentences() { p.why { (words::capitalised(&sentence)) "." } }
        }
    }
}

/// The part of the record whose form was refused.
fn blamed(visit: &Visit, refusal: Option<&Refusal>) -> Option<String> {
    let part = visit.fields.answer("part")?;
    refusal.filter(|own| matches!(own.about, Some(Question::Field(_)))).map(|_| part)
}

fn lead(own: &PrintView) -> String {
    let at = own.at.map_or(String::new(), |at| format!(" · {}", words::when(at)));
    let repeats = own.repeats.map_or(String::new(), |first| format!(" · print {first} again"));
    format!("Print {}{at}{repeats}", own.number)
}

/// What was poured, large enough for arm's length.
pub(super) fn pours(all: &[Poured]) -> Markup {
    html! {
        @if all.is_empty() { p.soft { "What was poured is unknown." } } @else {
            ol.drops aria-label="What was poured, in the order dropped" {
                @for own in all {
                    li {
                        @match own.drops {
                            Some(drops) => { b { (drops) } " " span { "drops" } }
                            None => { b { (significant(own.volume.to_millilitres(), 3)) } " " span { "mL" } }
                        }
                        p { (own.name) @if own.drops.is_some() { span.soft { " " (significant(own.volume.to_millilitres(), 3)) " mL" } } }
                        @if let Some(short) = own.short { p.due { b { "Mind. " } (significant(short.to_millilitres(), 3)) " mL of it were more than the book had." } }
                    }
                }
            }
        }
    }
}

fn facts(own: &PrintView) -> Markup {
    let metal = |symbol: &str, mass: handcoat_craft::measure::Mass| {
        format!("{} mg of {symbol}", significant(mass.to_milligrams(), 3))
    };
    let metals: Vec<String> = own.metal.iter().map(|(symbol, mass)| metal(symbol, *mass)).collect();
    let costs: Vec<String> = own.whole_cost().iter().map(ToString::to_string).collect();
    let more = if own.cost_incomplete { ", and more that came without a price" } else { "" };
    let coats: Vec<String> = own.coats.iter().map(ToString::to_string).collect();
    let made: [(&str, Option<String>); 6] = [
        ("coated area", own.area.map(|area| format!("{} cm²", fixed(area.to_square_centimetres(), 1)))),
        (
            "poured to the area",
            own.uptake.map(|own| format!("{} mL/100 cm²", significant(own.to_millilitres_per_100_cm2(), 2))),
        ),
        ("metal poured", (!metals.is_empty()).then(|| metals.join(", "))),
        ("cost with its paper", (!costs.is_empty()).then(|| format!("{}{more}", costs.join(" + ")))),
        ("made of coats", (!coats.is_empty()).then(|| coats.join(", "))),
        ("where it is", Some(own.of("where").map_or("unknown".into(), String::from))),
    ];
    let then: [(&str, Option<String>); 4] = [
        ("lot of the paper", own.paper_lot.clone()),
        ("hours on the lamp", own.lamp_hours.map(|hours| fixed(hours, 1))),
        ("age of the developer", own.developer_days.map(|days| format!("{days} days"))),
        ("through the clearing baths before", own.bath_area.map(|area| format!("{} m²", significant(area, 2)))),
    ];
    html! {
        (table(&made))
        @if then.iter().any(|(_, value)| value.is_some()) { h3 { "As it was that day" } (table(&then)) }
        @for part in groups() {
            @let rows: Vec<&(&'static Field, String)> = own.known.iter().filter(|(field, _)| field.group == *part && field.key != "where").collect();
            @if !rows.is_empty() {
                h3 { (part) }
                dl.facts.even { @for (field, text) in rows { dt { (field.label) } dd { @if field.key == "faults" { (fault_words(text)) } @else { (text) } } } }
            }
        }
    }
}

fn table(rows: &[(&str, Option<String>)]) -> Markup {
    html! {
        @if rows.iter().any(|(_, value)| value.is_some()) {
            dl.facts.even { @for (label, value) in rows { @if let Some(value) = value { dt { (label) } dd { (value) } } } }
        }
    }
}

/// What nobody wrote down, said as unknown.
fn unknown(own: &PrintView) -> Markup {
    let open: Vec<&str> = FIELDS.iter().filter(|field| own.of(field.key).is_none()).map(|field| field.label).collect();
    html! {
        @if !open.is_empty() {
            details.more { summary { "Unknown: " (open.len()) " of " (FIELDS.len()) } p.why { (words::capitalised(&open.join(", "))) "." } }
        }
    }
}

/// In the safelight nothing is lit until it is tapped, and then only in the light of the theme.
fn photos(visit: &Visit, own: &PrintView, refusal: Option<&Refusal>) -> Markup {
    let dark = matches!(visit.theme, Theme::Amber | Theme::Red);
    html! {
        h2 { "Pictures" }
        @for (place, sha256) in own.photos.iter().enumerate() {
            @let words = format!("Picture {} of print {}, {}", place + 1, own.number, own.title);
            details.picture open[!dark] {
                summary { "Picture " (place + 1) @if dark { ": look at it in this light" } }
                @let image = html! { img src=(format!("/print/photo/{sha256}")) alt=(words) loading="lazy"; };
                // By itself a browser would show it in its own colours, on white.
                @if dark { div.lit { (image) } } @else { a.lit href=(format!("/print/photo/{sha256}")) { (image) } }
            }
        }
        details.deed #photo open[refusal.is_some()] {
            summary { "Add a picture" }
            p.why { "JPEG or PNG, up to 20 MB. It is kept byte for byte under the SHA-256 of its bytes and never altered; the file it came from stays where it is." }
            (form::post_with_file(visit, &format!("/print/{}/photo", own.number), &html! {
                @if let Some(refusal) = refusal { (refused::note(refusal)) }
                div.ask { label for="photo-file" { "Which file?" } input #photo-file type="file" name="photo" accept="image/jpeg,image/png"; }
                p.actions { button type="submit" { "Keep it" } }
            }))
        }
    }
}

fn note_form(visit: &Visit, own: &PrintView, part: &str, names: &Names, refusal: Option<&Refusal>) -> Markup {
    let known = Fields::owned(asking::known(&own.known));
    let fields = if refusal.is_some() { &visit.fields } else { &known };
    let slug = slug(part);
    let asked = Asked { form: &slug, fields, refusal };
    let all: Vec<Asking> =
        FIELDS.iter().filter(|field| field.group == part).map(|field| Asking::of(field, names)).collect();
    let asks: Vec<Ask<'_>> = all.iter().map(Asking::ask).collect();
    html! {
        details.deed id=(slug) open[refusal.is_some()] {
            summary { (part) }
            p.why { "What is left empty is unknown." }
            (form::post(visit, &format!("/print/{}/note", own.number), &html! {
                input type="hidden" name="part" value=(part);
                (asked.trouble(&asks))
                (asked.all(&asks))
                p.actions { button type="submit" { "Write it down" } }
            }))
        }
    }
}

/// A part of the record as an id.
pub(super) fn slug(part: &str) -> String {
    part.to_lowercase().replace(' ', "-")
}

fn history(visit: &Visit, acts: &[ActRow]) -> Markup {
    html! { section { h2 { "What was done with it" } (acts_list(visit, acts, usize::MAX)) } }
}

//! One jar, bottle or vial: what is known of it, what is due, and what can be done with it.

use handcoat_craft::ledger::ItemKind;
use handcoat_craft::measure::significant;
use handcoat_work::ledger::acts_on;
use handcoat_work::shelf::{Due, ItemView, LabelAnswers, label, shelf, shelf_item};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::item_acts::{DEEDS, Deed};
use super::plan::is_made_up;
use super::shelf::{notes, strength, substance};
use super::today::acts_list;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way};
use crate::web::frame;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::words;

/// How many of the newest acts on it are shown.
const HISTORY: u32 = 12;

/// `GET /shelf/{code}`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    page(visit, &Fields::default(), None)
}

/// `GET /shelf/{code}/label`
pub(in crate::web) fn label_page(visit: &Visit) -> Answer {
    let answers = LabelAnswers { items: vec![visit.segment(1).into()], ..LabelAnswers::default() };
    let bytes = label(&visit.studio(), &answers, visit.now())?;
    Ok(Reply::Sheet { name: "label.pdf", bytes })
}

/// `POST /shelf/{code}/{act}`
pub(in crate::web) fn act(visit: &Visit) -> Answer {
    let (code, word) = (visit.segment(1), visit.segment(2));
    let kind = shelf_item(&visit.studio(), code, visit.now())?.kind;
    let deed = DEEDS.iter().find(|deed| deed.word == word && deed.kinds.contains(&kind));
    let Some(deed) = deed else { return page(visit, &Fields::default(), None) };
    let done = (deed.run)(&mut visit.studio(), &visit.moment(), code, &visit.fields);
    match done {
        // What was put away has no page any more.
        Ok(done) if deed.word == "retire" => Ok(Reply::after(&done, "/shelf")),
        Ok(done) => Ok(Reply::after(&done, &format!("/shelf/{code}"))),
        Err(refusal) => page(visit, &visit.fields, Some((deed.word, &refusal))),
    }
}

/// The page; after a refusal with the answers as they were given, in the form they were given in.
fn page(visit: &Visit, fields: &Fields, refused: Option<(&str, &Refusal)>) -> Answer {
    let (item, others, done) = {
        let studio = visit.studio();
        let item = shelf_item(&studio, visit.segment(1), visit.now())?;
        let done = acts_on(&studio, item.number, HISTORY)?;
        (item, shelf(&studio, visit.now())?, done)
    };
    let mut deeds: Vec<&Deed> = DEEDS.iter().filter(|deed| deed.kinds.contains(&item.kind)).collect();
    // What is due comes first, and unfolded.
    deeds.sort_by_key(|deed| !is_due(&item, deed.word));
    let (nothing, entered) = (Fields::default(), sheet_entered(&item));
    let body = html! {
        (frame::title(&item.name, &format!("{} · {} · label {}", words::capitalised(item.kind.word()), substance(&item), item.code)))
        (notes(&item))
        div.two {
            section {
                h2 { "What is in it" }
                (facts(&item))
                p.actions { a.btn.quiet href=(format!("/shelf/{}/label", item.code)) { "Print its label" } }
                @if item.kind != ItemKind::Bottle && is_made_up(&item) {
                    p { a.btn href=(plan_address(&item)) { "Plan a stock from it" } }
                }
            }
            section {
                h2 { "What can be done" }
                @for deed in deeds {
                    @let own = refused.filter(|(word, _)| *word == deed.word).map(|(_, refusal)| refusal);
                    @let begun = if own.is_some() { fields } else if deed.word == "hazards" { &entered } else { &nothing };
                    (deed_form(visit, &item, &others, deed, begun, own))
                }
            }
        }
        section { h2 { "What was done with it" } (acts_list(visit, &done, usize::MAX)) }
    };
    Ok(Reply::page(item.name.clone(), "/shelf", body).refusing(refused.map(|(_, refusal)| refusal)))
}

/// The supplier's sheet as it was entered, to be amended: a form that begins empty would take half of it back.
fn sheet_entered(item: &ItemView) -> Fields {
    let Some(sheet) = &item.facts.hazards else { return Fields::default() };
    let statements = sheet.statements.join(", ");
    let mut pairs: Vec<(&str, &str)> = vec![
        ("supplier", &sheet.supplier),
        ("date", &sheet.date),
        ("signal_word", sheet.signal_word.as_deref().unwrap_or_default()),
        ("statements", &statements),
        ("of_pure_substance", if sheet.of_pure_substance { "yes" } else { "" }),
    ];
    pairs.extend(sheet.pictograms.iter().map(|own| ("pictograms", own.as_str())));
    Fields::of(&pairs)
}

fn is_due(item: &ItemView, word: &str) -> bool {
    item.due.iter().any(|due| match due {
        Due::Rest(_) => false,
        Due::LookAgain => word == "look",
        Due::Test(test, _) => word == if *test == "look" { "look" } else { "test" },
    })
}

fn facts(item: &ItemView) -> Markup {
    let facts = &item.facts;
    let metal =
        item.metal.map(|(element, mass)| format!("{} g of {}", significant(mass.to_grams(), 5), element.weight().name));
    let costs: Vec<String> = item.cost.iter().map(ToString::to_string).collect();
    let ready = facts.ready_after.map(words::when);
    let look = facts
        .look
        .as_ref()
        .map(|own| format!("{}, {}", if own.clear { "clear" } else { "sediment" }, words::when(own.at)));
    let test = facts
        .tests
        .last()
        .map(|own| format!("{} {}, {}", own.test, if own.passed { "passed" } else { "failed" }, words::when(own.at)));
    let sheet = facts.hazards.as_ref().map(|own| {
        let said =
            [own.signal_word.clone().into_iter().collect(), own.statements.clone(), own.pictograms.clone()].concat();
        let of = if own.of_pure_substance { ", of the pure substance" } else { "" };
        format!(
            "{}, {}{of}: {}",
            own.supplier,
            own.date,
            if said.is_empty() { "no hazards named".into() } else { said.join(", ") }
        )
    });
    let rows: [(&str, Option<String>); 16] = [
        ("amount", Some(item.amount.clone())),
        ("strength", strength(item)),
        ("metal in it", metal),
        ("cost", (!costs.is_empty()).then(|| costs.join(" + "))),
        ("purity", facts.purity.clone()),
        ("purity means", facts.purity_of.clone()),
        ("waters", facts.hydrate.clone()),
        ("mixed with", facts.chloride.clone()),
        ("may be used from", ready),
        ("last look", look),
        ("last test", test),
        ("supplier", facts.supplier.clone()),
        ("lot", facts.lot.clone()),
        ("supplier's sheet", sheet),
        ("came or was made", Some(format!("{}, {}", words::when(item.since), words::age(item.age_days)))),
        ("note", facts.note.clone()),
    ];
    html! {
        dl.facts {
            @for (label, value) in &rows { @if let Some(value) = value { dt { (label) } dd { (value) } } }
        }
    }
}

/// A plan that begins with what the jar says.
fn plan_address(item: &ItemView) -> String {
    let facts = &item.facts;
    let said = [
        ("salt", &facts.formula),
        ("purity", &facts.purity),
        ("purity_of", &facts.purity_of),
        ("hydrate", &facts.hydrate),
    ];
    let pairs: Vec<(&str, &str)> = said.iter().filter_map(|(name, value)| Some((*name, value.as_deref()?))).collect();
    Fields::of(&pairs).address("/stock/plan")
}

fn deed_form(
    visit: &Visit,
    item: &ItemView,
    others: &[ItemView],
    deed: &Deed,
    fields: &Fields,
    refusal: Option<&Refusal>,
) -> Markup {
    let asked = Asked { form: deed.word, fields, refusal };
    let others: Vec<(String, &str)> = others
        .iter()
        .filter(|other| other.kind == ItemKind::Bottle && other.number != item.number && other.formula == item.formula)
        .map(|other| (other.code.to_string(), other.name.as_str()))
        .collect();
    let choices: Vec<(&str, &str)> = others.iter().map(|(code, name)| (code.as_str(), *name)).collect();
    let pours = deed.word == "pour";
    if pours && choices.is_empty() {
        return html! {};
    }
    let mut asks: Vec<Ask<'_>> = deed.asks.to_vec();
    if pours {
        let way = Way::One(&choices);
        asks.insert(0, Ask { name: "into", about: Some(Question::Into), label: "Into which bottle?", why: "", way });
    }
    html! {
        details.deed id=(deed.word) open[refusal.is_some() || is_due(item, deed.word)] {
            summary { (deed.title) }
            p.why { (deed.why) }
            (form::post(visit, &format!("/shelf/{}/{}", item.code, deed.word), &html! {
                (asked.trouble(&asks))
                (asked.all(&asks))
                p.actions {
                    @for (place, (name, value, says)) in deed.buttons.iter().enumerate() {
                        button type="submit" class=[(place > 0).then_some("quiet")] name=[(!name.is_empty()).then_some(name)] value=[(!name.is_empty()).then_some(value)] { (says) }
                    }
                }
            }))
        }
    }
}

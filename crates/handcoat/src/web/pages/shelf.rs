//! The shelf: jars, bottles and vials, and what is due.

use handcoat_craft::ledger::ItemKind;
use handcoat_craft::measure::significant;
use handcoat_work::shelf::{Due, ItemView, Solute, shelf};
use maud::{Markup, html};

use crate::web::frame;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::words;

/// `GET /shelf`
pub(in crate::web) fn list(visit: &Visit) -> Answer {
    let items = shelf(&visit.studio(), visit.now())?;
    let body = html! {
        (frame::title("Shelf", "Amounts as the book knows them; a count sets them right."))
        @if items.is_empty() {
            section.sheet {
                p.lead { "The shelf is empty." }
                p { a.btn href="/receive" { "Receive a jar" } }
                p.why { "Powder or a bought solution; the next step is to plan a stock from it." }
            }
        } @else {
            @for (kind, heading) in [(ItemKind::Bottle, "Bottles"), (ItemKind::Jar, "Jars"), (ItemKind::Vial, "Vials")] {
                @let own: Vec<&ItemView> = items.iter().filter(|item| item.kind == kind).collect();
                @if !own.is_empty() { section { h2 { (heading) } ul.shelf { @for item in own { (row(item)) } } } }
            }
            p.actions { a.btn href="/receive" { "Receive a jar or bottle" } a.btn.quiet href="/stock/plan" { "Plan a stock" } }
        }
    };
    Ok(Reply::page("Shelf", "/shelf", body))
}

fn row(item: &ItemView) -> Markup {
    html! {
        li.sheet {
            a.name href=(format!("/shelf/{}", item.code)) { (item.name) }
            p.soft { (substance(item)) " · label " (item.code) }
            p.amount { b { (item.amount) } @if let Some(words) = strength(item) { span { (words) } } }
            (notes(item))
        }
    }
}

/// What is due and what to know, with a word for each so that nothing hangs on a colour.
pub(super) fn notes(item: &ItemView) -> Markup {
    html! {
        @for due in &item.due { p.due { b { "Due. " } (words::capitalised(&due_words(due))) "." } }
        @for notice in &item.notices { p.due { b { "Mind. " } (words::capitalised(&notice.to_string())) "." } }
    }
}

/// Formula, or that nobody knows.
pub(super) fn substance(item: &ItemView) -> String {
    item.formula.as_ref().map_or("contents unknown".into(), |formula| formula.subscripted())
}

/// Strength in the two units the trade uses.
pub(super) fn strength(item: &ItemView) -> Option<String> {
    if !item.dissolved.is_empty() {
        return Some(item.dissolved.iter().map(Solute::long).collect::<Vec<_>>().join(" + "));
    }
    let per_ml = significant(item.strength?.to_milligrams_per_millilitre(), 4);
    let percent = item.percent.map(|own| format!("{} %, ", significant(own.to_grams_per_100_ml(), 4)));
    Some(format!("{}{per_ml} mg metal/mL", percent.unwrap_or_default()))
}

/// What is due in words.
pub(super) fn due_words(due: &Due) -> String {
    match due {
        Due::Rest(until) => format!("rests until {}", words::when(*until)),
        Due::LookAgain => "it has rested: look whether it is clear".into(),
        Due::Test(test, why) => format!("{test} test: {why}"),
    }
}

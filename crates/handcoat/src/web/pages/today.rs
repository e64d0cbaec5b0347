//! Today: what is due, what was done last, and the next step. Work that lies open at the bench has its place before all of them.

use handcoat_craft::tone::Standing;
use handcoat_work::bench::open_benches;
use handcoat_work::expose::{SetupView, setups};
use handcoat_work::keep::shopping;
use handcoat_work::ledger::{ActRow, acts};
use handcoat_work::print::{CoatView, PrintView, open_coats, prints};
use handcoat_work::session::sessions;
use handcoat_work::shelf::{Due, ItemView, shelf};
use handcoat_work::tone::{ResponseView, responses};
use maud::{Markup, html};

use super::bench::open_list;
use super::keep::named;
use super::prints::rows;
use super::session_begin::going;
use super::shelf::due_words;
use crate::web::frame;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::words;

/// How many of the newest acts are shown.
const ACTS: u32 = 5;
/// Among how many of the newest sessions those are looked for that go on.
const SESSIONS: u32 = 5;
/// Prints of so many days, and at most so many of them.
const LATELY: i64 = 7;
const PRINTS: u32 = 8;
/// Among how many of the newest responses those are looked for that are doubted.
const RESPONSES: u32 = 20;

/// `GET /`
pub(in crate::web) fn today(visit: &Visit) -> Answer {
    let (items, newest, open, printing) = {
        let studio = visit.studio();
        (shelf(&studio, visit.now())?, acts(&studio, ACTS)?, open_benches(&studio)?, sessions(&studio, SESSIONS)?)
    };
    let (coats, low, printed, bases, tones) = {
        let studio = visit.studio();
        let tones = responses(&studio, None, RESPONSES, None, visit.now())?;
        let bases = setups(&studio, visit.now())?;
        (open_coats(&studio)?, shopping(&studio)?, prints(&studio, "", PRINTS, None)?, bases, tones)
    };
    let lately = |own: &PrintView| own.at.is_some_and(|at| visit.now().duration_since(at).as_hours() < 24 * LATELY);
    let printed: Vec<PrintView> = printed.into_iter().filter(lately).collect();
    let body = html! {
        (frame::title("Today", ""))
        @if items.is_empty() && newest.is_empty() { (empty()) } @else {
            @if printing.iter().any(|own| !own.ended) { section { h2 { "The day's printing" } (going(&printing)) } }
            @if !open.is_empty() { section { h2 { "At the bench" } (open_list(&open)) } }
            @if !coats.is_empty() { (waiting(&coats)) }
            (due(&items))
            (to_find(&bases, &tones))
            @if !low.is_empty() { section { h2 { "Running low" } p { (named(&low)) ". " a href="/keep/shopping" { "The shopping list" } } } }
            @if !printed.is_empty() { section { h2 { "Printed lately" } (rows(&printed)) p { a href="/print" { "All prints" } } } }
            (next(&items, tones.iter().find(|own| own.standing() == Standing::Holds)))
            (newest_acts(visit, &newest))
        }
    };
    Ok(Reply::page("Today", "/", body))
}

/// Coated sheets that are no prints yet.
fn waiting(coats: &[CoatView]) -> Markup {
    html! {
        section {
            h2 { "Coated and waiting" }
            ul.rows {
                @for own in coats {
                    li { a href=(format!("/print/new?coat={}", own.number)) { b { (own.title) } @if let Some(at) = own.at { span.plain { "coated " (words::when(at)) } } span { "record the print" } } }
                }
            }
        }
    }
}

/// Set-ups without a base exposure, those whose own is suspect, and the newest response of each that is doubted.
fn to_find(setups: &[SetupView], responses: &[ResponseView]) -> Markup {
    let doubted = doubted(responses);
    let due: Vec<(&SetupView, String)> = setups
        .iter()
        .filter_map(|own| match &own.base {
            None => Some((own, "no base exposure yet".into())),
            Some(base) => base.suspect.first().map(|why| (own, format!("find its base exposure anew: {why}"))),
        })
        .collect();
    html! {
        @if !due.is_empty() || !doubted.is_empty() {
            section {
                h2 { "Light" }
                ul.rows {
                    @for (own, why) in &due { li { a href="/expose" { b { (own.name) } span { (why) } } } }
                    @for (own, why) in &doubted {
                        li { a href=(format!("/tone/{}", own.number)) { b { "Response " (own.number) } @if let Some((_, name)) = &own.setup { span.plain { (name) } } span { (why) } } }
                    }
                }
            }
        }
    }
}

/// Of each set-up the newest response that is of no use as it stands: what followed it has taken its place.
fn doubted(responses: &[ResponseView]) -> Vec<(&ResponseView, String)> {
    let mut seen: Vec<u32> = Vec::new();
    let mut newest: Vec<(&ResponseView, String)> = Vec::new();
    for own in responses {
        let setup = own.setup.as_ref().map(|own| own.0);
        if setup.is_some_and(|own| seen.contains(&own)) {
            continue;
        }
        seen.extend(setup);
        newest.extend(own.doubts.first().map(|why| (own, why.to_string())));
    }
    newest
}

fn empty() -> Markup {
    html! {
        section.sheet {
            p.lead { "Nothing has come in yet; the book begins with the first jar." }
            p { a.btn href="/receive" { "Receive a jar" } }
            p.why { "Then the jar tells what it can become: plan a stock, mix it, and the ledger follows every milligram." }
        }
    }
}

fn due(items: &[ItemView]) -> Markup {
    let due: Vec<(&ItemView, &Due)> =
        items.iter().flat_map(|item| item.due.iter().map(move |due| (item, due))).collect();
    html! {
        section {
            h2 { "What is due" }
            @if due.is_empty() { p.soft { "Nothing: every bottle has rested and was looked at." } } @else {
                ul.rows {
                    @for (item, due) in due {
                        @let place = match due { Due::Rest(_) => "", Due::LookAgain => "#look", Due::Test(test, _) if *test == "look" => "#look", Due::Test(..) => "#test" };
                        li { a href=(format!("/shelf/{}{place}", item.code)) { b { (item.name) } span { (due_words(due)) } } }
                    }
                }
            }
        }
    }
}

/// One step, the likeliest; where a curve holds, negatives can be made through it.
fn next(items: &[ItemView], curve: Option<&ResponseView>) -> Markup {
    let bottles = items.iter().any(|item| item.volume.is_some());
    html! {
        section {
            h2 { "Next" }
            @if items.is_empty() {
                p { a.btn href="/receive" { "Receive a jar" } }
            } @else if bottles {
                p.actions { a.btn href="/shelf" { "Look at the shelf" } a.btn.quiet href="/bench" { "Mix at the bench" } a.btn.quiet href="/stock/plan" { "Plan a stock" } a.btn.quiet href="/receive" { "Receive a jar" } }
            } @else {
                p.actions { a.btn href="/bench" { "Mix at the bench" } a.btn.quiet href="/stock/plan" { "Plan a stock" } a.btn.quiet href="/receive" { "Receive another jar" } }
            }
            @if let Some(own) = curve {
                p.actions { a.btn.quiet href=(format!("/negative/new?curve={}", own.number)) { "Make a negative" } }
            }
        }
    }
}

fn newest_acts(visit: &Visit, rows: &[ActRow]) -> Markup {
    html! {
        section {
            h2 { "Done last" }
            (acts_list(visit, rows, 1))
            p { a href="/ledger#acts" { "All acts" } }
        }
    }
}

/// Acts, each with the first sentences of what it said and its undoing.
pub(super) fn acts_list(visit: &Visit, rows: &[ActRow], sentences: usize) -> Markup {
    html! {
        ol.acts {
            @for row in rows {
                li id=(format!("act-{}", row.act)) class=[row.undone_by.map(|_| "gone")] {
                    div {
                        p.why { "Act " (row.act) " · " (words::kind(row)) " · " (words::when(row.at)) " · " (row.who) }
                        @for sentence in row.said.iter().take(sentences) { p { (sentence) } }
                        @if let Some(by) = row.undone_by { p.why { "Taken back by act " (by) "." } }
                    }
                    @if row.undone_by.is_none() && row.undoes.is_none() { (frame::undo(visit, row, "Undo")) }
                }
            }
        }
    }
}

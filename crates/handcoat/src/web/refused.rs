//! A refusal on a page: what happened, where, and what to do next, with its code small.

use handcoat_work::{Excerpt, Question, Refusal, Remedy};
use maud::{Markup, html};

use super::visit::Reply;
use super::words;

/// A whole page, where there is no form to put it beside.
pub(super) fn page(refusal: &Refusal) -> Reply {
    let body = html! {
        h1 { "That cannot be done as asked" }
        (note(refusal))
        p { a href="/" { "Today" } " · " a href="/shelf" { "Shelf" } " · " a href="/ledger" { "Ledger" } }
    };
    Reply::page("Refused", "", body).refusing(Some(refusal))
}

/// At the top of a form, when it is about no single field of it.
pub(super) fn note(refusal: &Refusal) -> Markup {
    html! { div.refused role="alert" { (words_of(refusal)) } }
}

/// Beside a field, under an id its input points to.
pub(super) fn beside(refusal: &Refusal, id: &str) -> Markup {
    html! { div.refused id=(id) { (words_of(refusal)) } }
}

fn words_of(refusal: &Refusal) -> Markup {
    html! {
        p { (said(&words::capitalised(&refusal.cause))) "." }
        @if let Some(excerpt) = &refusal.excerpt { (marked(excerpt)) }
        @if !refusal.remedies.is_empty() {
            ul { @for remedy in &refusal.remedies { li { (remedy_words(remedy, refusal.about)) } } }
        }
        p.code { (refusal.code) }
    }
}

/// A cause as a page sets it: what stands between backticks in a terminal is bold here.
fn said(cause: &str) -> Markup {
    html! {
        @for (place, part) in cause.split('`').enumerate() {
            @if place % 2 == 1 { b { (part) } } @else { (part) }
        }
    }
}

/// The answer with the part that is meant underlined.
fn marked(excerpt: &Excerpt) -> Markup {
    let part =
        |from: usize, to: usize| excerpt.text.chars().skip(from).take(to.saturating_sub(from)).collect::<String>();
    let (start, end) = (excerpt.chars.start, excerpt.chars.end);
    html! { p.excerpt { (part(0, start)) mark { (part(start, end)) } (part(end, usize::MAX)) } }
}

/// A remedy as a page says it.
fn remedy_words(remedy: &Remedy, about: Option<Question>) -> Markup {
    match remedy {
        Remedy::Write(question, text) if about == Some(*question) => html! { "write " b { (text) } },
        Remedy::Write(question, text) => html! { "write " b { (text) } " for “" (question.asks()) "”" },
        Remedy::AnswerOneOf(questions) => {
            let words: Vec<&str> = questions.iter().map(|question| question.asks()).collect();
            html! { "say " (words.join(", or ")) }
        }
        Remedy::LeaveOut(question) => html! { "leave “" (question.asks()) "” open" },
        Remedy::Shorten(question) => html! { "say “" (question.asks()) "” in fewer words" },
        Remedy::FinerScale(step) => html! { "weigh on a scale that reads " b { (step) } " or finer" },
        Remedy::AnotherName => html! { "choose another name" },
        Remedy::AnotherPlace => html! { "see that the folder of the book may be written to" },
        Remedy::MakeRoom => html! { "make room on the disk the book is on" },
        Remedy::MakeBook => html! { "make a new book: " code { "handcoat new studio.handcoat" } },
        Remedy::LaterProgram => html! { "use the later program that wrote it" },
        Remedy::RestoreCopy => html! { "put a copy in its place: " code { "handcoat restore COPY" } },
        Remedy::CheckBook => html! { "let the book be checked: " code { "handcoat check" } },
        Remedy::TryAgain => html! { "wait a moment and do it again" },
        Remedy::TakeStock(name) => html! { "count what is really in " a href="/shelf" { (name) } },
        Remedy::LargerBottle(volume) => html! { "take a bottle that holds " b { (volume) } },
        Remedy::UndoFirst(act) => {
            html! { "take " a href=(format!("/ledger#act-{act}")) { "act " (act) } " back first" }
        }
        Remedy::AnotherPort => html! { "start it on another port: " code { "handcoat serve --port 0" } },
        Remedy::ListActs => html! { "look at the " a href="/ledger#acts" { "acts in the ledger" } },
        Remedy::LoseAsResidue(name) => {
            html! { "wipe it up wet and write it off from " a href="/shelf" { (name) } " as residue" }
        }
        Remedy::ListKept => html! { "look at what is " a href="/keep" { "kept" } },
        Remedy::ListCoats => html! { "look at the " a href="/coat" { "coats that wait" } },
        Remedy::ListPrints => html! { "look at the " a href="/print" { "prints" } },
        Remedy::ListResponses => html! { "look at the " a href="/tone" { "responses" } },
        Remedy::ChangeSetup(name, question, answer) => {
            html! { "change “" (question.asks()) "” of set-up " (name) " to " b { (answer) } ", in what is " a href="/keep/setup" { "kept" } }
        }
        Remedy::ListNegatives => html! { "look at the " a href="/negative" { "negatives" } },
        Remedy::ListJobs | Remedy::ResumeJob(_) | Remedy::ResumeWith(..) | Remedy::PutAwayJob(_) => {
            html! { "look at the " a href="/negative" { "negatives and jobs" } }
        }
        Remedy::ListTests => html! { "look at the " a href="/expose" { "exposure tests" } },
        Remedy::ListSessions | Remedy::ListTimers => {
            html! { "look at the " a href="/session" { "sessions and timers" } }
        }
        Remedy::OtherPicture => html! { "save it as a TIFF or PNG of 8 or 16 bits, grey or RGB" },
        Remedy::ReadTheJar => html! { "read formula, water and metal content on the jar or its certificate again" },
        Remedy::ScanAgain => html! { "scan the print again as it says" },
        Remedy::SmallerPicture => html! { "save it as a JPEG or PNG of less than 20 MB" },
        Remedy::ShowShelf => html! { "look at the " a href="/shelf" { "shelf" } },
        Remedy::LookFirst => html! { "look at the dry run first: " code { "handcoat import FILE" } },
    }
}

//! The ledger: what every account holds, where the metal of a jar went, and every act with its undoing.

use handcoat_craft::ledger::{Commodity, Tally};
use handcoat_craft::measure::{Mass, fixed};
use handcoat_work::ledger::{
    ActRow, HeldRow, Together, Valued, WhereTogether, act, acts, ledger_together, undo, value,
};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::today::acts_list;
use crate::cli::amount_words;
use crate::web::form::{self, Ask, Asked, words as asked_in_words};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, words};

/// Acts on the page at first, and at most.
const ACTS: u32 = 20;
const MOST_ACTS: u32 = 500;

const PRICE: &[Ask<'static>] = &[asked_in_words(
    "price",
    Question::MetalPrice,
    "What does the metal cost today?",
    "Pd 38 EUR/g. Nothing is looked up and nothing is kept.",
)];

struct Shown {
    together: Together,
    acts: Vec<ActRow>,
    most: u32,
    valued: Option<Result<Valued, Refusal>>,
}

/// `GET /ledger`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    page(visit, None)
}

/// Acts that hold the work of an hour: taking them back is asked about once.
const ASKED_ABOUT: [&str; 2] = ["mix", "import"];

/// `POST /undo`
pub(in crate::web) fn take_back(visit: &Visit) -> Answer {
    if !visit.fields.ticked("sure")
        && let Some(row) = asked_about(visit)?
    {
        return Ok(sure(visit, &row));
    }
    let done = undo(&mut visit.studio(), &visit.moment(), visit.fields.get("act").unwrap_or_default());
    match done {
        Ok(done) => Ok(Reply::after(&done, "/")),
        Err(refusal) => page(visit, Some(&refusal)),
    }
}

/// The act, when taking it back is to be asked about first.
fn asked_about(visit: &Visit) -> Result<Option<ActRow>, Refusal> {
    let Some(number) = visit.fields.get("act").and_then(|text| text.trim().parse().ok()) else { return Ok(None) };
    let row = act(&visit.studio(), number)?;
    Ok(row.filter(|row| ASKED_ABOUT.contains(&row.kind.as_str()) && row.undone_by.is_none()))
}

fn sure(visit: &Visit, row: &ActRow) -> Reply {
    let body = html! {
        (frame::title("Take it back?", &format!("Act {} · {} · {}", row.act, words::kind(row), words::when(row.at))))
        section.sheet {
            @for sentence in &row.said { p { (sentence) } }
            p.note { "All of this is taken back at once: what it made leaves the shelf, and what went into it is in its jar again. Nothing changes in the glass." }
            (form::post(visit, "/undo", &html! {
                input type="hidden" name="act" value=(row.act);
                input type="hidden" name="sure" value="yes";
                p.actions {
                    a.btn href="/ledger#acts" { "Leave it as it is" }
                    button.quiet type="submit" { "Take all of it back" }
                }
            }))
        }
    };
    Reply::page("Take it back?", "/ledger", body)
}

fn page(visit: &Visit, refusal: Option<&Refusal>) -> Answer {
    let shown = {
        let studio = visit.studio();
        let most = visit.fields.get("most").and_then(|text| text.parse().ok()).unwrap_or(ACTS).min(MOST_ACTS);
        Shown {
            together: ledger_together(&studio)?,
            acts: acts(&studio, most)?,
            most,
            valued: visit.fields.answer("price").map(|price| value(&studio, &price)),
        }
    };
    let priced = shown.valued.as_ref().and_then(|valued| valued.as_ref().err());
    let body = html! {
        (frame::title("Ledger", "Every milligram and every cent: each entry sums to zero, and nothing is ever rubbed out."))
        (frame::trouble(refusal))
        @if shown.together.balances.is_empty() && shown.acts.is_empty() {
            section.sheet { p.lead { "Nothing has come in yet." } p { a.btn href="/receive" { "Receive a jar" } } p.why { "From then on every gram has its place here." } }
        } @else {
            (whereabouts(&shown.together.whereabouts))
            (worth(visit, &shown, priced))
            (balances(&shown.together.balances))
            section #acts {
                h2 { "Acts, newest first" }
                (acts_list(visit, &shown.acts, usize::MAX))
                @if shown.acts.len() == shown.most as usize && shown.most < MOST_ACTS {
                    p { a href=(format!("/ledger?most={}#acts", MOST_ACTS)) { "Older acts" } }
                }
            }
        }
    };
    Ok(Reply::page("Ledger", "/ledger", body).refusing(refusal.or(priced)))
}

/// Where did my jar go?
fn whereabouts(found: &[WhereTogether]) -> Markup {
    html! {
        section {
            h2 { "Where did my jar go?" }
            @if found.is_empty() { p.soft { "No metal has come in yet." } }
            @for own in found {
                @let metal = own.commodity;
                @let sum = own.rows.iter().fold(Tally::ZERO, |sum, (_, _, amount)| sum.plus(*amount).unwrap_or(sum));
                table.where {
                    caption { (own.name) ": " (amount_words(metal, own.received)) " came in" }
                    thead { tr { th scope="col" { "where" } th.n scope="col" { "how much" } } }
                    tbody { @for (holder, name, amount) in &own.rows { tr { th scope="row" { (account(&holder.to_string(), name.as_deref())) } td.n { (amount_words(metal, *amount)) } } } }
                    tfoot { tr { th scope="row" { "together" } td.n { (amount_words(metal, sum)) } } }
                }
            }
        }
    }
}

/// An account as a person would say it.
fn account(written: &str, name: Option<&str>) -> String {
    match (written, name) {
        (_, Some(name)) => name.into(),
        ("loss", None) => "lost".into(),
        ("residue", None) => "kept for the refiner".into(),
        (other, None) => other.into(),
    }
}

fn worth(visit: &Visit, shown: &Shown, refusal: Option<&Refusal>) -> Markup {
    let asked = Asked { form: "worth", fields: &visit.fields, refusal };
    html! {
        section {
            h2 { "What is the metal worth?" }
            form.row method="get" action="/ledger" { (asked.trouble(PRICE)) (asked.all(PRICE)) p.actions { button.quiet type="submit" { "Work it out" } } }
            @if let Some(Ok(own)) = &shown.valued {
                p.lead role="status" { (fixed(own.amount.to_mass().map_or(0.0, Mass::to_grams), 3)) " g of " (own.element.weight().name) " on the shelf are worth " b { (own.worth) } "." }
            }
        }
    }
}

fn balances(rows: &[HeldRow]) -> Markup {
    let (contents, kept): (Vec<&HeldRow>, Vec<&HeldRow>) =
        rows.iter().partition(|row| matches!(row.commodity, Commodity::Contents(..)));
    html! {
        section {
            h2 { "Metal and money" }
            (balance_table("Metal and money by account", &kept))
            details.more { summary { "Powder and solution" } (balance_table("Powder and solution by account", &contents)) }
        }
    }
}

fn balance_table(caption: &str, rows: &[&HeldRow]) -> Markup {
    html! {
        table {
            caption.unseen { (caption) }
            thead { tr { th scope="col" { "account" } th.n scope="col" { "holds" } } }
            tbody {
                @for row in rows {
                    tr {
                        th scope="row" {
                            (account(&row.holder.to_string(), row.name.as_deref()))
                            @if let Some(of) = row.contents_of.as_ref().filter(|_| row.name.is_none()) { span.soft { " (of " (of) ")" } }
                        }
                        td.n { (amount_words(row.commodity, row.amount)) }
                    }
                }
            }
        }
    }
}

//! Something comes in: a jar of powder, or a bottle somebody else mixed.

use handcoat_craft::ledger::ItemCode;
use handcoat_work::shelf::{Receive, receive};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, note, quantity, words};
use crate::web::frame;
use crate::web::visit::{Answer, Reply, Visit};

const FIRST: &[Ask<'static>] = &[
    words(
        "formula",
        Question::Substance,
        "What is in it?",
        "The formula on the jar, or its plain name: PdCl2, NaCl, ferric oxalate; unknown, when the label is gone.",
    ),
    quantity("mass", Question::JarMass, "How much powder?", "10 g, or load less tare. Of a solution, leave this open."),
    quantity(
        "price",
        Question::JarPrice,
        "What did all of it cost?",
        "480 EUR. Left open, what is made of it shows a cost that is too low.",
    ),
    words("name", Question::Name, "What is it called?", "A name to say aloud in the dark. Left open, what it is."),
];

const LABEL: &[Ask<'static>] = &[
    quantity("purity", Question::Purity, "How pure?", "99 %, as the jar says."),
    Ask {
        name: "purity_of",
        about: Some(Question::PurityOf),
        label: "What does the purity mean?",
        why: "On trace metals basis says nothing of water.",
        way: Way::One(&[
            ("", "not said"),
            ("salt", "of the salt"),
            ("metal", "of the metal"),
            ("trace", "trace metals basis"),
            ("unknown", "nobody knows"),
        ]),
    },
    words(
        "hydrate",
        Question::Hydrate,
        "How many waters?",
        "none, a number, a form such as hexahydrate, or unknown; the metal in it depends on that.",
    ),
    note("supplier", "Who sold it?", ""),
    note("lot", "Which lot?", ""),
];

const SOLUTION: &[Ask<'static>] = &[
    quantity("volume", Question::Volume, "How much solution?", "50 mL, measured."),
    quantity("level", Question::Level, "Or how full by eye?", "60 %, together with the size of the bottle."),
    quantity("gross", Question::Gross, "Or what does it weigh with its bottle?", "Together with the empty bottle."),
    quantity("capacity", Question::Capacity, "What does the bottle hold when full?", "60 mL."),
    quantity("density", Question::Density, "How dense is it?", "1.1 g/mL; left open, it is estimated."),
    quantity("percent", Question::Percent, "How strong is it?", "15 %, grams of the solid per 100 mL."),
    quantity("molarity", Question::Molarity, "Or in mol/L?", "0.51 M."),
    quantity("metal_per_ml", Question::MetalPerMl, "Or in mg of metal per mL?", "54 mg/mL."),
];

const MORE: &[Ask<'static>] = &[
    quantity(
        "empty",
        Question::Empty,
        "What does the empty vessel weigh?",
        "With cap and dropper; then it can be counted on a scale without being emptied.",
    ),
    quantity("balance", Question::Balance, "Which scale?", "Its smallest step, 0.01 g."),
    quantity("day", Question::Date, "Which day did it come?", "2026-03-14; left open, it is not written."),
    note("note", "Anything else?", ""),
];

/// `GET /receive`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    Ok(page(visit, None))
}

/// `POST /receive`
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    let done = receive(&mut visit.studio(), &visit.moment(), &answers(&visit.fields));
    Ok(match done {
        Ok(done) => match done.item {
            Some(item) => Reply::after(&done, &format!("/shelf/{}", ItemCode::of(item))),
            None => Reply::after(&done, "/shelf"),
        },
        Err(refusal) => page(visit, Some(&refusal)),
    })
}

fn answers(fields: &Fields) -> Receive {
    Receive {
        formula: fields.answer("formula"),
        name: fields.answer("name"),
        mass: fields.answer("mass"),
        volume: fields.answer("volume"),
        level: fields.answer("level"),
        gross: fields.answer("gross"),
        empty: fields.answer("empty"),
        capacity: fields.answer("capacity"),
        density: fields.answer("density"),
        purity: fields.answer("purity"),
        purity_of: fields.answer("purity_of"),
        hydrate: fields.answer("hydrate"),
        percent: fields.answer("percent"),
        molarity: fields.answer("molarity"),
        metal_per_ml: fields.answer("metal_per_ml"),
        price: fields.answer("price"),
        currency: None,
        supplier: fields.answer("supplier"),
        lot: fields.answer("lot"),
        day: fields.answer("day"),
        balance: fields.answer("balance"),
        note: fields.answer("note"),
    }
}

fn page(visit: &Visit, refusal: Option<&Refusal>) -> Reply {
    let asked = Asked { form: "receive", fields: &visit.fields, refusal };
    let every: Vec<Ask<'_>> = [FIRST, LABEL, SOLUTION, MORE].concat();
    let body = html! {
        (frame::title("Receive a jar or a bottle", "What you do not know stays open: unknown is an answer, a guess is not."))
        (form::post(visit, "/receive", &html! {
            (asked.trouble(&every))
            (asked.all(FIRST))
            (folded(&asked, "What else the label says", LABEL))
            (folded(&asked, "It is a solution", SOLUTION))
            (folded(&asked, "Vessel, scale, day, note", MORE))
            p.actions { button type="submit" { "Put it on the shelf" } a.btn.quiet href="/shelf" { "Leave it" } }
        }))
    };
    Reply::page("Receive", "/shelf", body).refusing(refusal)
}

/// Questions that are rarely asked, folded with what was answered beside their title, and unfolded where one is refused.
pub(super) fn folded(asked: &Asked<'_>, title: &str, asks: &[Ask<'_>]) -> Markup {
    let given: Vec<String> = asks.iter().filter_map(|ask| asked.fields.answer(ask.name)).collect();
    html! {
        details.more open[asked.blames(asks)] {
            summary { (title) @if !given.is_empty() { span.soft { (given.join(", ")) } } }
            (asked.all(asks))
        }
    }
}

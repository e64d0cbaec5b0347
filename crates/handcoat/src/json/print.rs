//! Prints, coats and what is kept beside the shelf, for programs.

use handcoat_craft::measure::Money;
use handcoat_craft::print::{Change, Likelihood};
use handcoat_craft::source::Condition;
use handcoat_work::Field;
use handcoat_work::keep::{Kept, ToBuy};
use handcoat_work::print::{CoatView, Compared, Poured, PrintView, Repeated};
use serde_json::{Map, Value, json};

use super::money;

fn sums(all: &[Money]) -> Vec<Value> {
    all.iter().map(|own| money(Some(*own))).collect()
}

fn fields(known: &[(&'static Field, String)]) -> Value {
    Value::Object(known.iter().map(|(field, text)| (field.key.into(), text.clone().into())).collect::<Map<_, _>>())
}

/// What is kept.
pub(crate) fn kept(all: &[Kept]) -> Value {
    let row = |own: &Kept| {
        json!({
            "area_cm2": own.area.map(handcoat_craft::measure::Area::to_square_centimetres),
            "fields": fields(&own.known),
            "hours": own.hours,
            "kind": own.kind.word(),
            "name": own.name,
            "notices": own.notices,
            "number": own.number,
            "there": own.there,
        })
    };
    json!({ "rows": all.iter().map(row).collect::<Vec<_>>() })
}

/// What is to be bought.
pub(crate) fn shopping(all: &[ToBuy]) -> Value {
    let row = |own: &ToBuy| json!({ "kind": own.kind.word(), "low": own.low, "name": own.name, "there": own.there });
    json!({ "rows": all.iter().map(row).collect::<Vec<_>>() })
}

fn pours(all: &[Poured]) -> Vec<Value> {
    let one = |own: &Poured| {
        json!({
            "solution": own.name,
            "code": own.code.map(|code| code.to_string()),
            "formula": own.formula,
            "role": own.role,
            "drops": own.drops,
            "ml": own.volume.to_millilitres(),
            "metal": own.metal.as_ref().map(|(symbol, _)| symbol),
            "metal_mg": own.metal.as_ref().map(|(_, mass)| mass.to_milligrams()),
            "metal_u_mg": own.metal.as_ref().zip(own.metal_rel_u).map(|((_, mass), rel)| mass.to_milligrams() * rel),
            "beyond_book_ml": own.short.map(handcoat_craft::measure::Volume::to_millilitres),
        })
    };
    all.iter().map(one).collect()
}

/// Coats that wait.
pub(crate) fn coats(all: &[CoatView]) -> Value {
    let row = |own: &CoatView| {
        json!({
            "coat": own.number,
            "title": own.title,
            "at": own.at.map(|at| at.to_string()),
            "image": own.image,
            "margin": own.margin,
            "paper": own.paper,
            "pours": pours(&own.pours),
        })
    };
    json!({ "rows": all.iter().map(row).collect::<Vec<_>>() })
}

/// One print.
pub(crate) fn print(own: &PrintView) -> Value {
    let metal: Map<String, Value> =
        own.metal.iter().map(|(symbol, mass)| (symbol.clone(), mass.to_milligrams().into())).collect();
    json!({
        "print": own.number,
        "title": own.title,
        "at": own.at.map(|at| at.to_string()),
        "fields": fields(&own.known),
        "pours": pours(&own.pours),
        "coats": own.coats,
        "coated_area_cm2": own.area.map(handcoat_craft::measure::Area::to_square_centimetres),
        "uptake_ml_per_100cm2": own.uptake.map(handcoat_craft::measure::Uptake::to_millilitres_per_100_cm2),
        "metal_mg": metal,
        "cost": sums(&own.cost),
        "paper_cost": money(own.paper_cost),
        "cost_incomplete": own.cost_incomplete,
        "paper_lot": own.paper_lot,
        "lamp_hours": own.lamp_hours,
        "developer_days": own.developer_days,
        "bath_area_m2": own.bath_area,
        "photos": own.photos,
        "repeats": own.repeats,
        "negative_made": super::negative::link(own.negative_made.as_ref()),
    })
}

/// Prints.
pub(crate) fn prints(all: &[PrintView]) -> Value {
    json!({ "rows": all.iter().map(print).collect::<Vec<_>>() })
}

fn word(of: Condition) -> String {
    format!("{of:?}").chars().fold(String::new(), |mut text, letter| {
        if letter.is_uppercase() && !text.is_empty() {
            text.push('_');
        }
        text.extend(letter.to_lowercase());
        text
    })
}

fn words(all: &[Condition]) -> Vec<String> {
    all.iter().map(|own| word(*own)).collect()
}

fn changes(all: &[Change]) -> Vec<Value> {
    let one = |own: &Change| {
        let likelihood = match own.likelihood {
            Likelihood::Likely => "likely",
            Likelihood::Possible => "possible",
            Likelihood::Open => "open",
            Likelihood::Against => "against",
        };
        json!({
            "condition": word(own.of),
            "before": own.before,
            "after": own.after,
            "size": own.size,
            "likelihood": likelihood,
            "why": own.cause.map(|cause| cause.why),
            "source": own.cause.map(|cause| cause.cite.to_string()),
        })
    };
    all.iter().map(one).collect()
}

/// Two prints side by side.
pub(crate) fn compared(own: &Compared) -> Value {
    json!({
        "first": own.first.0,
        "second": own.second.0,
        "shows": own.sign.map(handcoat_craft::source::Sign::word),
        "changed": changes(&own.found.changed),
        "small": changes(&own.found.small),
        "unknown": words(&own.found.unknown),
        "same": words(&own.found.same),
        "negatives": own.negative_words(),
    })
}

/// A print again.
pub(crate) fn repeated(own: &Repeated) -> Value {
    let solutions: Vec<Value> = own
        .solutions
        .iter()
        .map(|again| {
            let (name, drops, volume) = &again.then;
            json!({
                "solution": again.bottle,
                "role": again.role,
                "drops": again.drops,
                "ml": again.volume.to_millilitres(),
                "off_rel": again.off,
                "strength_rel": again.strength,
                "notices": again.notices,
                "then": { "solution": name, "drops": drops, "ml": volume.to_millilitres() },
            })
        })
        .collect();
    json!({
        "print": own.print.0,
        "coated_area_cm2": own.area.map(handcoat_craft::measure::Area::to_square_centimetres),
        "coated_area_then_cm2": own.area_then.map(handcoat_craft::measure::Area::to_square_centimetres),
        "drops": solutions,
        "time": own.time,
        "time_suspect": changes(&own.changed),
        "time_unknown": words(&own.unknown),
        "unequal": own.unequal,
    })
}

/// What speaks against something, each with its code.
pub(crate) fn doubts(all: &[(&'static str, String)]) -> Value {
    all.iter().map(|own| json!({ "code": own.0, "message": own.1 })).collect()
}

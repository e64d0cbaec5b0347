//! Acts, balances and the shelf for programs.

use handcoat_craft::ledger::{Account, Commodity, ContentsIn, ItemCode, Tally};
use handcoat_work::Done;
use handcoat_work::ledger::{ActRow, BalanceRow, Valued, Where};
use handcoat_work::shelf::{Due, ItemView, Notice, Solute};
use serde_json::{Map, Value, json};

use super::money;

/// What an act came to.
pub(crate) fn done(done: &Done) -> Value {
    json!({
        "act": done.act,
        "kind": done.kind,
        "item": done.item.map(|item| ItemCode::of(item).to_string()),
        "record": done.record,
        "repeated": done.repeated,
        "said": done.said,
    })
}

/// `account`, `commodity`, and the amount under the key of its unit.
fn row(account: Account, name: Option<&String>, commodity: Commodity, amount: Tally) -> Value {
    let (commodity, key) = match commodity {
        Commodity::Metal(element) => (element.to_string(), "amount_ug"),
        Commodity::Money(currency) => (currency.to_string(), "amount_minor"),
        Commodity::Contents(_, ContentsIn::Micrograms) => (commodity.to_string(), "amount_ug"),
        Commodity::Contents(_, ContentsIn::Nanolitres) => (commodity.to_string(), "amount_nl"),
    };
    let mut row = Map::new();
    row.insert("account".into(), account.to_string().into());
    row.insert("commodity".into(), commodity.into());
    row.insert(key.into(), amount.to_units().into());
    if let Some(name) = name {
        row.insert("name".into(), name.clone().into());
    }
    Value::Object(row)
}

/// Every balance.
pub(crate) fn balance(rows: &[BalanceRow], valued: &[Valued]) -> Value {
    let rows: Vec<Value> =
        rows.iter().map(|own| row(own.account, own.name.as_ref(), own.commodity, own.amount)).collect();
    let valued: Vec<Value> = valued
        .iter()
        .map(|own| {
            json!({ "metal": own.element.to_string(), "amount_ug": own.amount.to_units(), "worth": money(Some(own.worth)) })
        })
        .collect();
    json!({ "rows": rows, "valued": valued })
}

/// Where jars went; `rows` of all of them, and each by itself.
pub(crate) fn whereabouts(found: &[Where]) -> Value {
    let of = |own: &Where| -> Vec<Value> {
        let came_from = match own.commodity {
            Commodity::Money(_) => Account::Owner,
            _ => Account::Supplier,
        };
        let places = own.rows.iter().map(|place| (place.account, place.name.as_ref(), place.amount));
        // Where it came from stands below nothing, so that each commodity sums to zero.
        std::iter::once((came_from, None, -own.received))
            .chain(places)
            .map(|(account, name, amount)| {
                let mut row = row(account, name, own.commodity, amount);
                row["of"] = own.account.to_string().into();
                row
            })
            .collect()
    };
    let items: Vec<Value> = found
        .iter()
        .map(|own| {
            json!({
                "account": own.account.to_string(),
                "name": own.name,
                "commodity": own.commodity.to_string(),
                "received": own.received.to_units(),
            })
        })
        .collect();
    json!({ "rows": found.iter().flat_map(of).collect::<Vec<_>>(), "items": items })
}

/// Acts, newest first.
pub(crate) fn acts(rows: &[ActRow]) -> Value {
    let acts: Vec<Value> = rows
        .iter()
        .map(|own| {
            json!({
                "act": own.act,
                "kind": own.kind,
                "at": own.at.to_string(),
                "who": own.who,
                "said": own.said,
                "undone_by": own.undone_by,
                "undoes": own.undoes,
            })
        })
        .collect();
    json!({ "acts": acts })
}

/// The shelf.
pub(crate) fn shelf(items: &[ItemView]) -> Value {
    json!({ "items": items.iter().map(item).collect::<Vec<_>>() })
}

fn item(own: &ItemView) -> Value {
    let due: Vec<Value> = own
        .due
        .iter()
        .map(|due| match due {
            Due::Rest(until) => json!({ "what": "rest", "until": until.to_string() }),
            Due::LookAgain => json!({ "what": "look" }),
            Due::Test(test, why) => json!({ "what": "test", "test": test, "why": why }),
        })
        .collect();
    let warnings: Vec<Value> = own
        .notices
        .iter()
        .map(|notice| json!({ "code": notice_code(notice), "message": notice.to_string() }))
        .collect();
    json!({
        "account": Account::Item(own.kind, own.number).to_string(),
        "code": own.code.to_string(),
        "kind": own.kind.word(),
        "name": own.name,
        "formula": own.formula.as_ref().map(ToString::to_string),
        "mass_g": own.mass.map(handcoat_craft::measure::Mass::to_grams),
        "volume_ml": own.volume.map(handcoat_craft::measure::Volume::to_millilitres),
        "contents_u": own.facts.contents_u.map(|units| units * 1e-6),
        "metal": own.metal.map(|(element, _)| element.to_string()),
        "metal_mg": own.metal.map(|(_, mass)| mass.to_grams() * 1000.0),
        "metal_mg_per_ml": own.strength.map(handcoat_craft::measure::MassConcentration::to_milligrams_per_millilitre),
        "percent_wv": own.percent.map(handcoat_craft::measure::PercentByVolume::to_grams_per_100_ml),
        "dissolved": own.dissolved.iter().map(solute).collect::<Vec<_>>(),
        "form": own.facts.hydrate,
        "ready_after": own.facts.ready_after.map(|at| at.to_string()),
        "strength_rel_u": own.facts.strength_rel_u,
        "cost": own.cost.iter().map(|sum| money(Some(*sum))).collect::<Vec<_>>(),
        "age_days": own.age_days,
        "due": due,
        "warnings": warnings,
    })
}

/// A solid in a solution; moles per litre from the least to the most it may be, the same where its form is known.
fn solute(own: &Solute) -> Value {
    json!({
        "formula": own.formula.to_string(),
        "name": own.name,
        "percent_wv": own.percent.to_grams_per_100_ml(),
        "percent_wv_rel_u": own.percent_rel_u,
        "form_stated": !own.form_open,
        "molarity_least_mol_per_l": own.molarity.map(|(least, _)| least.to_moles_per_litre()),
        "molarity_most_mol_per_l": own.molarity.map(|(_, most)| most.to_moles_per_litre()),
    })
}

fn notice_code(notice: &Notice) -> &'static str {
    match notice {
        Notice::Sediment => "sediment",
        Notice::TestFailed(_) => "test_failed",
        Notice::UseFirst(_) => "use_swept_first",
        Notice::StrengthUnknown => "strength_unknown",
        Notice::CostIncomplete => "cost_incomplete",
        Notice::ChlorateInIron(_) => "chlorate_in_iron",
        Notice::Empty => "empty",
    }
}

//! `book.json`: everything in one document, keys in alphabetical order, amounts as the whole numbers the book keeps.

use handcoat_craft::ledger::{Commodity, ContentsIn, Line, Tally};
use serde_json::{Map, Value, json};

use crate::whole::{ActRecord, WholeBook};

/// Version of the document's shape; it grows when a reader of the last one would be misled.
pub const SCHEMA: u32 = 1;

/// The same value with the keys of every object in order, whatever order they came in.
fn in_order(value: &Value) -> Value {
    match value {
        Value::Object(map) => {
            let mut pairs: Vec<(&String, &Value)> = map.iter().collect();
            pairs.sort_unstable_by_key(|(key, _)| *key);
            Value::Object(pairs.into_iter().map(|(key, own)| (key.clone(), in_order(own))).collect::<Map<_, _>>())
        }
        Value::Array(list) => Value::Array(list.iter().map(in_order).collect()),
        other => other.clone(),
    }
}

fn amount(account: &str, commodity: Commodity, tally: Tally) -> Value {
    let unit = match commodity {
        Commodity::Metal(_) | Commodity::Contents(_, ContentsIn::Micrograms) => "amount_ug",
        Commodity::Contents(_, ContentsIn::Nanolitres) => "amount_nl",
        Commodity::Money(_) => "amount_minor",
    };
    let mut row = Map::new();
    row.insert("account".into(), account.into());
    row.insert("commodity".into(), commodity.to_string().into());
    row.insert(unit.into(), tally.to_units().into());
    Value::Object(row)
}

fn act(own: &ActRecord) -> Value {
    let line = |line: &Line| amount(&line.account.to_string(), line.commodity, line.amount);
    json!({
        "act": own.number,
        "at": own.at.to_string(),
        "before": own.before,
        "before_records": own.before_records,
        "body": own.body,
        "key": own.key,
        "kind": own.kind,
        "lines": own.entry.iter().flat_map(|entry| entry.lines()).map(line).collect::<Vec<_>>(),
        "undoes": own.reverses,
        "undone_by": own.reversed_by,
        "who": own.who,
    })
}

/// The document, ending in a newline.
pub(crate) fn document(book: &WholeBook) -> Vec<u8> {
    let items: Vec<Value> = book
        .items
        .iter()
        .map(|item| {
            json!({
                "facts": item.facts,
                "kind": item.kind.word(),
                "name": item.name,
                "number": item.number.get(),
                "standing": item.standing.word(),
            })
        })
        .collect();
    let balances: Vec<Value> = book
        .balances
        .rows()
        .map(|(account, commodity, tally)| amount(&account.to_string(), commodity, tally))
        .collect();
    let benches: Vec<Value> = book
        .benches
        .iter()
        .map(|own| json!({ "act": own.act, "begun": own.begun.to_string(), "body": own.body, "number": own.number }))
        .collect();
    let records: Vec<Value> = book
        .records
        .iter()
        .map(|own| {
            json!({
                "counts": own.counts,
                "facts": own.facts,
                "kind": own.kind,
                "name": own.name,
                "number": own.number,
                "standing": own.standing.word(),
            })
        })
        .collect();
    let whole = json!({
        "acts": book.acts.iter().map(act).collect::<Vec<_>>(),
        "balances": balances,
        "benches": benches,
        "days": book.days,
        "items": items,
        "jobs": book.jobs,
        "records": records,
        "schema": SCHEMA,
        "studio": book.studio,
    });
    format!("{:#}\n", in_order(&whole)).into_bytes()
}

//! The four tables: UTF-8, lines ending in LF, commas between cells, a decimal point, rows in a fixed order.

use std::collections::BTreeSet;

use handcoat_craft::ledger::{Account, Commodity, ContentsIn, ItemCode, Tally};
use handcoat_craft::measure::{MassFraction, significant};
use serde_json::Value;

use crate::columns::{COLUMNS, COST, Use};
use crate::decimal::{amount, grams, millilitres, money};
use crate::shelf::ShelfRow;
use crate::whole::WholeBook;

/// Cells as CSV after RFC 4180, but with LF; quoted only where they must be.
fn csv(header: &[String], rows: impl Iterator<Item = Vec<String>>) -> Vec<u8> {
    let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::Any(b'\n')).from_writer(Vec::new());
    for row in std::iter::once(header.to_vec()).chain(rows) {
        // OK because rows go to memory and each has as many cells as its header.
        out.write_record(&row).expect("BUG: a row of another length");
    }
    // OK because nothing but memory is written to.
    out.into_inner().expect("BUG: memory that cannot be written")
}

fn names(own: &[&str]) -> Vec<String> {
    own.iter().map(|name| (*name).into()).collect()
}

fn text<T: ToString>(own: Option<T>) -> String {
    own.map_or(String::new(), |own| own.to_string())
}

/// Six significant digits: uncertainties and ratios are not amounts.
fn ratio(value: f64) -> String {
    significant(value, 6)
}

fn percent(fraction: MassFraction) -> String {
    significant(fraction.to_ratio() * 100.0, 9)
}

fn cell(row: &ShelfRow, column: &str) -> String {
    match column {
        "number" => text(row.number),
        "code" => text(row.number.map(ItemCode::of)),
        "standing" => row.standing.word().into(),
        "kind" => text(row.kind.map(handcoat_craft::ledger::ItemKind::word)),
        "name" => text(row.name.as_ref()),
        "formula" => row.formula.clone().unwrap_or_else(|| "unknown".into()),
        "hydrate" => text(row.hydrate.as_ref()),
        "purity_percent" => text(row.purity.map(percent)),
        "purity_of" => text(row.purity_of.as_ref()),
        "chloride" => text(row.chloride.as_ref()),
        "chloride_to_metal" => text(row.chloride_to_metal.map(|own| ratio(own.to_ratio()))),
        "mass_g" => text(row.mass.map(grams)),
        "mass_u_g" => text(row.mass_u.map(grams)),
        "volume_ml" => text(row.volume.map(millilitres)),
        "volume_u_ml" => text(row.volume_u.map(millilitres)),
        "metal" => text(row.metal),
        "metal_g" => text(row.metal_mass.map(grams)),
        "strength_rel_u" => text(row.strength_u.map(|own| ratio(own.to_part()))),
        "capacity_ml" => text(row.capacity.map(millilitres)),
        "empty_g" => text(row.empty.map(grams)),
        "density_g_per_ml" => text(row.density.map(|own| ratio(own.to_grams_per_millilitre()))),
        "cost_incomplete" => text(row.cost_incomplete.map(|own| if own { "yes" } else { "no" })),
        "supplier" => text(row.supplier.as_ref()),
        "lot" => text(row.lot.as_ref()),
        "day" => text(row.day.as_ref()),
        "ready_after" => text(row.ready_after),
        "label" => text(row.label.as_ref()),
        "note" => text(row.note.as_ref()),
        "made_of" => row.made_of.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "),
        // Columns that are only read.
        _ => String::new(),
    }
}

/// `items.csv`: everything that is or was on the shelf, by number.
pub(crate) fn items(book: &WholeBook) -> Vec<u8> {
    let currencies: BTreeSet<&str> =
        book.shelf.iter().flat_map(|row| row.costs.iter().map(|sum| sum.currency().letters())).collect();
    let written = || COLUMNS.iter().filter(|column| column.used != Use::In).map(|column| column.name);
    let header: Vec<String> =
        written().map(String::from).chain(currencies.iter().map(|code| format!("{COST}{code}"))).collect();
    let rows = book.shelf.iter().map(|row| {
        let cost =
            |code: &&str| text(row.costs.iter().find(|sum| sum.currency().letters() == *code).copied().map(money));
        written().map(|column| cell(row, column)).chain(currencies.iter().map(cost)).collect()
    });
    csv(&header, rows)
}

/// What an act says of itself, on one line.
pub(crate) fn said(body: &Value) -> String {
    let said = body.get("said").and_then(Value::as_array);
    let sentences: Vec<&str> = said.into_iter().flatten().filter_map(Value::as_str).collect();
    sentences.join(" ")
}

/// `acts.csv`: every act, by number.
pub(crate) fn acts(book: &WholeBook) -> Vec<u8> {
    let header = names(&["act", "at", "kind", "who", "key", "undoes", "undone_by", "said"]);
    let rows = book.acts.iter().map(|act| {
        vec![
            act.number.to_string(),
            act.at.to_string(),
            act.kind.clone(),
            act.who.clone(),
            act.key.clone(),
            text(act.reverses),
            text(act.reversed_by),
            said(&act.body),
        ]
    });
    csv(&header, rows)
}

/// The amount under its unit: `amount_g`, `amount_ml`, `amount_money` (whole units of the currency that `commodity` names).
fn amounts(commodity: Commodity, tally: Tally) -> [String; 3] {
    let own = amount(commodity, tally);
    match commodity {
        Commodity::Metal(_) | Commodity::Contents(_, ContentsIn::Micrograms) => [own, String::new(), String::new()],
        Commodity::Contents(_, ContentsIn::Nanolitres) => [String::new(), own, String::new()],
        Commodity::Money(_) => [String::new(), String::new(), own],
    }
}

/// What an account holds, without its unit: `Pd`, `EUR`, `contents:3`.
fn thing(commodity: Commodity) -> String {
    match commodity {
        Commodity::Contents(item, _) => format!("contents:{item}"),
        other => other.to_string(),
    }
}

fn account_cells(book: &WholeBook, account: Account, commodity: Commodity, tally: Tally) -> Vec<String> {
    let own = [account.to_string(), text(book.name_of(account)), thing(commodity)];
    own.into_iter().chain(amounts(commodity, tally)).collect()
}

/// `lines.csv`: every line of every entry, by act, account and commodity.
pub(crate) fn lines(book: &WholeBook) -> Vec<u8> {
    let header = names(&["act", "account", "name", "commodity", "amount_g", "amount_ml", "amount_money"]);
    let rows = book.acts.iter().flat_map(|act| {
        let lines = act.entry.iter().flat_map(|entry| entry.lines());
        lines.map(|line| {
            let cells = account_cells(book, line.account, line.commodity, line.amount);
            std::iter::once(act.number.to_string()).chain(cells).collect()
        })
    });
    csv(&header, rows)
}

/// `balances.csv`: what every account holds, by account and commodity.
pub(crate) fn balances(book: &WholeBook) -> Vec<u8> {
    let header = names(&["account", "name", "commodity", "amount_g", "amount_ml", "amount_money"]);
    let rows = book.balances.rows().map(|(account, commodity, tally)| account_cells(book, account, commodity, tally));
    csv(&header, rows)
}

/// One row for each thing that is known of a record, and one for each count.
pub(crate) fn records(book: &WholeBook) -> Vec<u8> {
    let mut rows = Vec::new();
    for own in &book.records {
        let head = [own.kind.clone(), own.number.to_string(), own.name.clone(), own.standing.word().into()];
        let mut known = Vec::new();
        leaves("", &own.facts, &mut known);
        known.extend(own.counts.iter().map(|(what, amount)| (format!("counted.{what}"), amount.to_string())));
        if known.is_empty() {
            known.push((String::new(), String::new()));
        }
        rows.extend(known.into_iter().map(|(field, value)| [head.to_vec(), vec![field, value]].concat()));
    }
    csv(&names(&["kind", "number", "name", "standing", "field", "value"]), rows.into_iter())
}

/// Every value of a document under the path that leads to it: `iron.drops`, `faults.1`.
fn leaves(path: &str, value: &Value, found: &mut Vec<(String, String)>) {
    let under = |key: &str| if path.is_empty() { key.into() } else { format!("{path}.{key}") };
    match value {
        Value::Object(map) => map.iter().for_each(|(key, own)| leaves(&under(key), own, found)),
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(place, own)| leaves(&under(&(place + 1).to_string()), own, found));
        }
        Value::Null => {}
        Value::String(text) => found.push((path.into(), text.clone())),
        other => found.push((path.into(), other.to_string())),
    }
}

//! A whole book as files.

use std::collections::BTreeMap;

use handcoat_book::{Item, JobRow, SessionRow, Standing as Stood, TimerRow, Whole};
use handcoat_craft::ledger::{Balances, Commodity, ItemNumber};
use handcoat_craft::measure::{AmountRatio, Mass, MassDensity, MassFraction, Readable, Volume};
use handcoat_exchange::{
    ActRecord, BenchRecord, ItemRecord, KeptRecord, Relative, ShelfRow, Standing, WholeBook, files,
};
use serde_json::{Value, json};

use crate::shelf::{Contents, Held};
use crate::{Refusal, Studio};

/// Name and bytes of every file of an export. The same book gives the same bytes.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn export(studio: &Studio) -> Result<Vec<(String, Vec<u8>)>, Refusal> {
    let whole = studio.book.whole()?;
    let counts = whole.records.iter().map(|own| studio.book.counts(own)).collect::<Result<_, _>>()?;
    Ok(files(&whole_book(whole, counts)))
}

fn whole_book(whole: Whole, counts: Vec<BTreeMap<String, i64>>) -> WholeBook {
    let Whole { facts, items, acts, journal, balances, benches, records, sessions, timers, jobs, photos } = whole;
    let entry_of = |number| journal.entries.iter().find(|(act, _)| *act == number).map(|(_, entry)| entry.clone());
    WholeBook {
        studio: facts.into_iter().collect(),
        shelf: items.iter().map(|item| shelf_row(item, &balances)).collect(),
        items: items.iter().map(record).collect(),
        acts: acts
            .into_iter()
            .map(|(act, before, before_records)| ActRecord {
                number: act.number.get(),
                key: act.key.text().into(),
                kind: act.kind,
                who: act.who,
                at: act.at,
                body: act.body,
                before,
                before_records,
                reverses: act.reverses.map(|own| own.get()),
                reversed_by: act.reversed_by.map(|own| own.get()),
                entry: entry_of(act.number),
            })
            .collect(),
        benches: benches
            .into_iter()
            .map(|own| BenchRecord {
                number: own.number.get(),
                begun: own.begun,
                body: own.body,
                act: own.act.map(|act| act.get()),
            })
            .collect(),
        balances,
        records: records
            .into_iter()
            .zip(counts)
            .map(|(own, counts)| KeptRecord {
                kind: own.kind.word().into(),
                number: own.ordinal,
                standing: standing(own.standing),
                name: own.name,
                facts: own.facts,
                counts,
            })
            .collect(),
        days: sessions.iter().map(session).chain(timers.iter().map(timer)).collect(),
        jobs: jobs.iter().map(job).collect(),
        photos: photos.into_iter().map(|own| (photo_name(&own.sha256, &own.media), own.bytes)).collect(),
    }
}

fn session(own: &SessionRow) -> Value {
    json!({
        "begun": own.begun.to_string(),
        "body": own.body,
        "ended": own.ended.map(|at| at.to_string()),
        "session": own.number.get(),
    })
}

fn timer(own: &TimerRow) -> Value {
    json!({
        "begun": own.begun.wall.to_string(),
        "ended": own.ended.map(|at| at.to_string()),
        "name": own.name,
        "of_session": own.session.map(handcoat_book::SessionNumber::get),
        "span_ms": own.span_ms,
        "timer": own.number.get(),
    })
}

/// Who had it and where it could go on are of this machine alone.
fn job(own: &JobRow) -> Value {
    json!({
        "act": own.act.map(handcoat_book::ActNumber::get),
        "asked": own.asked,
        "begun": own.begun.to_string(),
        "file": own.target,
        "job": own.number.get(),
        "kind": own.kind,
        "of_rows": own.of,
        "outcome": own.outcome,
        "rows": own.done,
        "seen": own.seen.to_string(),
        "state": own.state.word(),
    })
}

fn photo_name(sha256: &str, media: &str) -> String {
    let ending = if media == "image/png" { "png" } else { "jpg" };
    format!("photo-{sha256}.{ending}")
}

fn standing(own: Stood) -> Standing {
    match own {
        Stood::Here => Standing::Here,
        Stood::Retired => Standing::Retired,
        Stood::Undone => Standing::Undone,
    }
}

fn record(item: &Item) -> ItemRecord {
    ItemRecord {
        number: item.number,
        kind: item.kind,
        name: item.name.clone(),
        standing: standing(item.standing),
        facts: serde_json::to_value(&item.facts).unwrap_or(Value::Null),
    }
}

/// A standard uncertainty of contents to the whole microgram or nanolitre; none beyond what can be held.
fn rounded(units: f64) -> i64 {
    units.round() as i64
}

fn shelf_row(item: &Item, balances: &Balances) -> ShelfRow {
    let (facts, held) = (&item.facts, Held::of(item, balances));
    // Where the metal is known and less than a microgram is left of it, that is zero, not unknown.
    let none_left = || match facts.metal.as_deref()?.parse() {
        Ok(Commodity::Metal(element)) => Some((element, Mass::ZERO)),
        _ => None,
    };
    let metal = held.metal.or_else(none_left);
    let (mass, volume) = match held.contents {
        Contents::Powder(mass) => (Some(mass), None),
        Contents::Solution(volume) => (None, Some(volume)),
    };
    ShelfRow {
        line: 0,
        number: Some(item.number),
        standing: standing(item.standing),
        kind: Some(item.kind),
        name: Some(item.name.clone()),
        formula: facts.formula.clone(),
        hydrate: facts.hydrate.as_ref().map(|text| text.trim().replace(',', ".")),
        purity: facts.purity.as_deref().and_then(|text| MassFraction::read(text).ok()),
        purity_of: facts.purity_of.clone(),
        chloride: facts.chloride.clone(),
        chloride_to_metal: facts.chloride_to_metal.and_then(|own| AmountRatio::ratio(own).ok()),
        mass,
        mass_u: mass.and(facts.contents_u).and_then(|own| Mass::micrograms(rounded(own)).ok()),
        volume,
        volume_u: volume.and(facts.contents_u).and_then(|own| Volume::nanolitres(rounded(own)).ok()),
        metal: metal.map(|(element, _)| element),
        metal_mass: metal.map(|(_, mass)| mass),
        strength_u: facts.strength_rel_u.and_then(Relative::part),
        capacity: facts.capacity_nl.and_then(|own| Volume::nanolitres(own).ok()),
        empty: facts.empty_ug.and_then(|own| Mass::micrograms(own).ok()),
        density: facts.density_g_per_ml.and_then(|own| MassDensity::grams_per_millilitre(own).ok()),
        costs: held.cost,
        cost_incomplete: Some(facts.cost_incomplete),
        supplier: facts.supplier.clone(),
        lot: facts.lot.clone(),
        day: facts.day.clone(),
        ready_after: facts.ready_after,
        label: facts.label.clone(),
        note: facts.note.clone(),
        made_of: facts.made_of.iter().copied().filter_map(ItemNumber::new).collect(),
        ..ShelfRow::default()
    }
}

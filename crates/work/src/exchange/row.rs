//! A row of a table as something that came.

use handcoat_book::Price;
use handcoat_craft::ledger::ItemKind;
use handcoat_craft::measure::{Mass, MassFraction, Volume, significant};
use handcoat_craft::stock::{Formula, kept_metal};
use handcoat_exchange::{Relative, ShelfRow};

use crate::shelf::{Came, Contents, Receive};
use crate::stock::read_formula;
use crate::{Question, Refusal, Remedy};

fn grams(mass: Mass) -> String {
    let units = mass.to_micrograms();
    format!("{}.{:06}g", units / 1_000_000, units % 1_000_000)
}

fn millilitres(volume: Volume) -> String {
    let units = volume.to_nanolitres();
    format!("{}.{:06}mL", units / 1_000_000, units % 1_000_000)
}

fn percent(part: f64) -> String {
    format!("{}%", significant(part * 100.0, 12))
}

/// The row as the answers of `receive`, so that one reading serves both.
pub(super) fn answers(row: &ShelfRow) -> Receive {
    Receive {
        formula: row.formula.clone(),
        name: row.name.clone(),
        mass: row.mass.map(grams),
        volume: row.volume.map(millilitres),
        level: row.level.map(|own| percent(own.of_full())),
        gross: row.gross.map(grams),
        empty: row.empty.map(grams),
        capacity: row.capacity.map(millilitres),
        density: row.density.map(|own| format!("{}g/mL", own.to_grams_per_millilitre())),
        purity: row.purity.map(MassFraction::to_ratio).map(percent),
        purity_of: row.purity_of.clone(),
        hydrate: row.hydrate.clone(),
        percent: row.percent.map(|own| own.to_grams_per_100_ml().to_string()),
        molarity: row.molarity.map(|own| format!("{}M", own.to_moles_per_litre())),
        metal_per_ml: row.metal_per_ml.map(|own| format!("{}mg/mL", own.to_milligrams_per_millilitre())),
        supplier: row.supplier.clone(),
        lot: row.lot.clone(),
        day: row.day.clone(),
        balance: row.balance.map(grams),
        note: row.note.clone(),
        ..Receive::default()
    }
}

/// What came with this row. What the row states stands before what would be reckoned: a book's own table gives back its own amounts.
pub(super) fn came(row: &ShelfRow) -> Result<Came, Refusal> {
    let mut came = Came::read(&answers(row))?;
    came.kind = kind(row, came.kind)?;
    metal(row, &mut came)?;
    if let Some(text) = &row.chloride {
        came.facts.chloride = Some(read_formula(Question::Chloride, text)?.to_string());
    }
    let facts = &mut came.facts;
    facts.chloride_to_metal = row.chloride_to_metal.map(|own| own.to_ratio());
    let stated = row.mass_u.map(Mass::to_micrograms).or(row.volume_u.map(Volume::to_nanolitres));
    facts.contents_u = stated.map_or(facts.contents_u, |units| Some(units as f64));
    facts.ready_after = row.ready_after;
    facts.label = row.label.clone().or(facts.label.take());
    facts.price = match row.costs.as_slice() {
        [one] => Some(Price { minor: one.to_minor(), currency: one.currency().letters().into() }),
        _ => None,
    };
    facts.cost_incomplete = row.cost_incomplete.unwrap_or(row.costs.is_empty());
    came.costs.clone_from(&row.costs);
    Ok(came)
}

/// Powder is in jars and vials, solution in bottles.
fn kind(row: &ShelfRow, of_amount: ItemKind) -> Result<ItemKind, Refusal> {
    match (row.kind, of_amount) {
        (None, own) => Ok(own),
        (Some(ItemKind::Vial), ItemKind::Jar) => Ok(ItemKind::Vial),
        (Some(said), own) if said == own => Ok(own),
        (Some(said), own) => {
            let cause = format!("it is called a {}, and its amount is that of a {}", said.word(), own.word());
            let remedies = vec![Remedy::Write(Question::Item, own.word().into())];
            Err(Refusal::rule("item_of_another_kind", Question::Item, cause, remedies))
        }
    }
}

fn metal(row: &ShelfRow, came: &mut Came) -> Result<(), Refusal> {
    let about = Question::MetalPerMl;
    let formula: Option<Formula> = came.facts.formula.as_deref().and_then(|text| text.parse().ok());
    let of_formula = formula.as_ref().and_then(kept_metal);
    if let (Some(said), Some(formula)) = (row.metal, &formula)
        && of_formula != Some(said)
    {
        let cause = format!("{said} is said to be the metal of {formula}, which holds another or none");
        return Err(Refusal::rule("metal_differs", about, cause, Vec::new()));
    }
    let Some(mass) = row.metal_mass else {
        return match (row.metal, came.metal) {
            (Some(said), None) => {
                let cause = format!("{said} is in it, and not how much; expected metal_g or a strength beside it");
                Err(Refusal::rule("metal_amount_missing", about, cause, Vec::new()))
            }
            _ => Ok(()),
        };
    };
    let Some(element) = row.metal.or(of_formula) else {
        let cause = String::from("it holds an amount of metal, and not which; expected `Pd`, `Pt` or `Au` as metal");
        return Err(Refusal::rule("metal_not_named", about, cause, Vec::new()));
    };
    let fits = match came.contents {
        Contents::Powder(powder) => mass <= powder,
        // 2 g of metal in a millilitre, more than any solution holds, is 2 µg in a nanolitre.
        Contents::Solution(volume) => mass.to_micrograms() / 2 <= volume.to_nanolitres(),
    };
    if !fits {
        let (metal, contents) = (significant(mass.to_grams(), 7), came.contents.words());
        let cause = format!("{metal} g of metal do not go into {contents}");
        return Err(Refusal::rule("metal_above_contents", about, cause, Vec::new()));
    }
    // How well an amount that the row states is known only the row can say; reckoned from powder it is known as the powder is.
    let reckoned = came.facts.strength_rel_u.filter(|_| came.metal.is_some_and(|(own, _)| own == element));
    came.facts.strength_rel_u = row.strength_u.map(Relative::to_part).or(reckoned);
    came.facts.metal = Some(element.to_string());
    came.metal = Some((element, mass));
    Ok(())
}

//! JSON of the station *stock*.

use handcoat_craft::measure::{Mass, Volume};
use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::{AsWeighed, Batch, Dilution, Forms, Ladder, LeftOpen, Powder, Warning, Way, WayOut};
use handcoat_work::stock::{FormulaFacts, Pairing, Planned, cause_words, way_words};
use serde_json::{Map, Value, json};

use super::money;

pub(super) fn warning(warning: &Warning) -> Value {
    let mut value = json!({ "code": warning.code(), "message": warning.to_string() });
    if let Warning::Coarse(coarse) = warning {
        value["larger_volume_ml"] = json!(coarse.larger_volume.map(Volume::to_millilitres));
        value["dilution"] = coarse.dilution.as_ref().map_or(Value::Null, |own| {
            let Dilution { weigh, with, make_up_to, take, up_to } = own;
            json!({
                "chloride_g": with.as_ref().map(|own| own.1.to_grams()),
                "up_to_ml": up_to.map(Volume::to_millilitres),
                "weigh_g": weigh.to_grams(),
                "make_up_to_ml": make_up_to.to_millilitres(),
                "take_ml": take.to_millilitres(),
            })
        });
    }
    if let Warning::Meets(meetings) = warning {
        value["pairs"] = json!(meetings.pairs);
    }
    value
}

/// The numbers of one batch.
fn batch(batch: &Batch) -> Map<String, Value> {
    let strengths = &batch.strengths;
    let known = strengths.relative.is_some();
    let u = |standard: f64| known.then_some(standard);
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| out.insert(key.into(), value);
    put("salt_g", json!(batch.salt.to_grams()));
    put("chloride_g", json!(batch.chloride.to_grams()));
    put("chloride_stoichiometric_g", json!(batch.chloride_needed.to_grams()));
    put("chloride_to_metal", json!(batch.chloride_to_metal.best.to_ratio()));
    put("chloride_to_metal_u", json!(u(batch.chloride_to_metal.standard())));
    put("chloride_excess", json!(batch.chloride_excess()));
    put("metal_mol", json!(batch.amount.to_moles()));
    put("molarity_mol_per_l", json!(strengths.molarity.best.to_moles_per_litre()));
    put("molarity_u_mol_per_l", json!(u(strengths.molarity.standard())));
    put("metal_mg_per_ml", json!(strengths.metal.best.to_milligrams_per_millilitre()));
    put("metal_u_mg_per_ml", json!(u(strengths.metal.standard())));
    put("complex_percent_wv", json!(strengths.complex.best.to_grams_per_100_ml()));
    put("complex_percent_wv_u", json!(u(strengths.complex.standard())));
    put("salt_percent_wv", json!(strengths.salt.to_grams_per_100_ml()));
    put("volume_ml", json!(batch.volume.best.to_millilitres()));
    put("volume_u_ml", json!(u(batch.volume.standard())));
    put("strength_rel_u", json!(strengths.relative));
    let causes: Vec<Value> = strengths
        .causes
        .iter()
        .map(|&(cause, own)| json!({ "cause": cause_words(cause), "strength_rel_u": own }))
        .collect();
    put("uncertainty_by_cause", json!(causes));
    put("dominated_by", json!(batch.dominant().map(|(cause, _)| cause_words(cause))));
    out
}

/// A plan, and what was weighed.
pub(crate) fn planned(planned: &Planned) -> Value {
    let plan = &planned.plan;
    let mut out = batch(&plan.batch);
    // The chloride of a salt that takes none is no part of the plan, whatever its name.
    let chloride = plan.adds_chloride() || planned.as_weighed.as_ref().is_some_and(|now| !now.batch.chloride.is_zero());
    let mut put = |key: &str, value: Value| out.insert(key.into(), value);
    put("salt_formula", json!(plan.request.powder.salt().formula().to_string()));
    put("chloride_formula", json!(chloride.then(|| plan.request.chloride.formula().to_string())));
    put("metal", json!(plan.request.powder.salt().metal().element().to_string()));
    put("complex_formula", json!(plan.complex.to_string()));
    put("volume_is_estimate", json!(plan.water_added.is_some()));
    put("water_added_ml", json!(plan.water_added.map(Volume::to_millilitres)));
    put("water_dissolve_ml", json!(plan.water.dissolve.to_millilitres()));
    put("water_rinse_ml", json!(plan.water.rinse.to_millilitres()));
    put("rinses", json!(plan.water.rinses));
    put("recovered", json!(plan.water.recovery.recovered()));
    put("ready_after_h", json!(READY_AFTER.value));
    let open: Vec<&str> = plan.left_open().into_iter().map(LeftOpen::words).collect();
    put("not_in_uncertainty", json!(open));
    put("cost", money(plan.cost));
    put("warnings", plan.warnings.iter().map(warning).collect());
    if let Some(now) = &planned.as_weighed {
        weighed(planned, now, &mut out);
    }
    Value::Object(out)
}

fn weighed(planned: &Planned, now: &AsWeighed, out: &mut Map<String, Value>) {
    let mut put = |key: &str, value: Value| out.insert(key.into(), value);
    put("put_back_g", json!(now.put_back(&planned.plan).map(Mass::to_grams)));
    put("make_up_to_ml", json!(now.make_up_to.to_millilitres()));
    put("chloride_for_weighed_g", json!(now.batch.chloride_needed.to_grams()));
    put("chloride_same_ratio_g", json!(now.chloride_same_ratio.to_grams()));
    put("chloride_to_add_g", json!(now.chloride_to_add().to_grams()));
    put("chloride_must_add_g", json!(now.batch.chloride_missing().to_grams()));
    let mut own = batch(&now.batch);
    own.insert("stronger".into(), json!(now.stronger));
    own.insert("cost".into(), money(now.cost));
    put("as_weighed", Value::Object(own));
    put("ways", now.ways.iter().map(|out| way(planned, out)).collect());
    put("chloride_ways", now.chloride_ways.iter().map(|out| way(planned, out)).collect());
}

fn way(planned: &Planned, out: &WayOut) -> Value {
    let grams = |mass: &Mass| json!(mass.to_grams());
    let ml = |volume: &Volume| json!(volume.to_millilitres());
    let (code, facts) = match &out.way {
        Way::PutBack(mass) => ("put_back", json!({ "salt_g": grams(mass) })),
        Way::WeighMore(mass) => ("weigh_more", json!({ "salt_g": grams(mass) })),
        Way::MakeUpTo { volume, chloride_to_add, chloride_must_add, bottle_holds } => (
            "make_up_to",
            json!({
                "volume_ml": ml(volume),
                "chloride_to_add_g": grams(chloride_to_add),
                "chloride_must_add_g": grams(chloride_must_add),
                "bottle_holds": bottle_holds,
            }),
        ),
        Way::KeepAndRelabel => ("keep_and_relabel", json!({})),
        Way::Dilute { water, volume, bottle_holds } => {
            ("dilute", json!({ "water_ml": ml(water), "volume_ml": ml(volume), "bottle_holds": bottle_holds }))
        }
        Way::PutBackChloride(mass) => ("put_back_chloride", json!({ "chloride_g": grams(mass) })),
        Way::WeighMoreChloride(mass) => ("weigh_more_chloride", json!({ "chloride_g": grams(mass) })),
        Way::FollowChloride { salt, volume, bottle_holds } => {
            ("follow_chloride", json!({ "salt_g": grams(salt), "volume_ml": ml(volume), "bottle_holds": bottle_holds }))
        }
        Way::KeepChloride => ("keep_chloride", json!({})),
    };
    let (heading, words) = way_words(&planned.plan, out);
    json!({
        "way": code,
        "words": format!("{heading}: {words}"),
        "facts": facts,
        "molarity_mol_per_l": out.batch.strengths.molarity.best.to_moles_per_litre(),
        "complex_percent_wv": out.batch.strengths.complex.best.to_grams_per_100_ml(),
        "chloride_to_metal": out.batch.chloride_to_metal.best.to_ratio(),
        "cost": money(out.cost),
        "extra_cost": money(out.extra_cost),
        "warning": out.warning.as_ref().map(warning),
    })
}

/// A halving ladder.
pub(crate) fn ladder(powder: &Powder, ladder: &Ladder) -> Value {
    let rungs: Vec<Value> = ladder
        .rungs
        .iter()
        .map(|rung| {
            json!({
                "salt_percent_wv": rung.percent.to_grams_per_100_ml(),
                "molarity_mol_per_l": rung.molarity.to_moles_per_litre(),
                "metal_mg_per_ml": rung.metal.to_milligrams_per_millilitre(),
                "strength_rel_u": rung.relative,
                "make_ml": rung.make.to_millilitres(),
                "from_above_ml": rung.from_above.map(Volume::to_millilitres),
                "water_ml": rung.water.map(Volume::to_millilitres),
            })
        })
        .collect();
    json!({
        "salt_formula": powder.salt().formula().to_string(),
        "metal": powder.salt().metal().element().to_string(),
        "salt_g": ladder.powder.to_grams(),
        "rungs": rungs,
        "warnings": ladder.warnings.iter().map(warning).collect::<Vec<Value>>(),
    })
}

/// What a strength comes to for each form.
pub(crate) fn strengths(found: &Forms) -> Value {
    let rows: Vec<Value> = found
        .forms
        .iter()
        .map(|form| {
            json!({
                "formula": form.form.to_string(),
                "molarity_mol_per_l": form.molarity.to_moles_per_litre(),
                "metal_mg_per_ml": form.metal.map(handcoat_craft::measure::MassConcentration::to_milligrams_per_millilitre),
            })
        })
        .collect();
    json!({ "form_stated": found.known, "forms": rows })
}

/// What a formula says.
pub(crate) fn formula(facts: &FormulaFacts) -> Value {
    let parts: Vec<Value> = facts
        .parts
        .iter()
        .map(|(element, part)| {
            json!({
                "element": element.to_string(),
                "count": facts.formula.count(*element),
                "mass_fraction": part.best.to_ratio(),
                "mass_fraction_u": part.standard(),
            })
        })
        .collect();
    json!({
        "formula": facts.formula.to_string(),
        "name": facts.named.map(|named| named.name),
        "cas": facts.named.and_then(|named| named.cas),
        "charge": facts.formula.charge(),
        "waters": facts.formula.waters(),
        "molar_mass_g_per_mol": facts.molar_mass.best.to_grams_per_mole(),
        "molar_mass_u_g_per_mol": facts.molar_mass.standard(),
        "elements": parts,
    })
}

/// Pairs that must not meet.
pub(crate) fn pairs(pairing: &Pairing) -> Value {
    let rows: Vec<Value> = pairing
        .meetings
        .iter()
        .map(|meeting| {
            json!({
                "one": meeting.one,
                "other": meeting.other,
                "code": meeting.row.harm.warning_code(),
                "message": meeting.row.what,
                "source": meeting.row.cite.to_string(),
            })
        })
        .collect();
    json!({ "pairs": rows })
}

/// Offers side by side; money in major units under a key that says so, with its currency.
pub(crate) fn compared(found: &[handcoat_work::stock::Compared]) -> Value {
    let offers: Vec<Value> = found
        .iter()
        .map(|own| {
            json!({
                "offer": own.written,
                "formula": own.formula.to_string(),
                "metal": own.metal.to_string(),
                "metal_g": own.offer.metal().to_grams(),
                "price": super::money(Some(own.offer.sum())),
                "currency": own.offer.currency().letters(),
                "price_per_g_metal": own.offer.per_gram(),
                "metal_mg_per_ml": own.strength.to_milligrams_per_millilitre(),
                "price_per_ml": own.offer.per_millilitre(own.strength),
                "purity_stated": !own.purity_open,
                "water_stated": !own.water_open,
            })
        })
        .collect();
    json!({ "offers": offers })
}

/// A supplier's sheet that was entered.
pub(crate) fn suppliers_sheet(own: &handcoat_work::shelf::SuppliersSheet) -> Value {
    json!({
        "item": own.name,
        "code": own.code.to_string(),
        "supplier": own.supplier,
        "date": own.date,
        "of_pure_substance": own.of_pure_substance,
    })
}

//! JSON of a planned solution. Moles per litre are null where the form is open; the range stands beside.

use handcoat_craft::measure::{Bounded, Mass, Volume};
use handcoat_craft::stock::solution::{Dissolved, Ingredient, SolutionPlan};
use handcoat_craft::stock::{LeftOpen, form_word, prepared};
use handcoat_work::stock::{bottle_words, cause_words, form_words, keeping_words, solute_name, solution_steps};
use serde_json::{Map, Value, json};

use super::money;
use super::stock::warning;

fn solute(own: &Ingredient, planned: &Dissolved) -> Map<String, Value> {
    let formula = own.comes.formula();
    let solid = own.comes.solid();
    let known = planned.relative.is_some();
    let u = |standard: f64| known.then_some(standard);
    let molarity = planned.molarity();
    let range = planned.molarity_range();
    let open: Vec<&str> =
        solid.map_or_else(Vec::new, |solid| solid.left_open().into_iter().map(LeftOpen::words).collect());
    let forms: Vec<Value> = planned
        .molarities
        .iter()
        .map(|(form, molarity)| {
            json!({
                "formula": form.to_string(),
                "form": solid.and_then(|_| form_word(form.waters())),
                "molarity_mol_per_l": molarity.best.in_unit(),
                "molarity_u_mol_per_l": u(molarity.standard()),
            })
        })
        .collect();
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| out.insert(key.into(), value);
    put("formula", json!(formula.to_string()));
    put("name", json!(solute_name(formula)));
    put("role", json!(prepared(formula).map(|row| row.role.words())));
    put("usual_range", json!(prepared(formula).map(|row| row.range)));
    put("form", json!(form_words(own)));
    put("form_stated", json!(solid.is_none_or(|solid| !solid.form_open())));
    put("weigh_g", json!(planned.weigh.map(Mass::to_grams)));
    put("measure_ml", json!(planned.measure.map(Volume::to_millilitres)));
    put("percent_wv", json!(planned.percent.best.in_unit()));
    put("percent_wv_u", json!(u(planned.percent.standard())));
    put("molarity_mol_per_l", json!(molarity.map(|own| own.best.in_unit())));
    put("molarity_u_mol_per_l", json!(molarity.and_then(|own| u(own.standard()))));
    put("molarity_least_mol_per_l", json!(range.map(|(least, _)| least.in_unit())));
    put("molarity_most_mol_per_l", json!(range.map(|(_, most)| most.in_unit())));
    put("forms", json!(forms));
    put("strength_rel_u", json!(planned.relative));
    let causes: Vec<Value> = planned
        .causes
        .iter()
        .map(|&(cause, own)| json!({ "cause": cause_words(cause), "strength_rel_u": own }))
        .collect();
    put("uncertainty_by_cause", json!(causes));
    put("dominated_by", json!(planned.dominant().map(|(cause, _)| cause_words(cause))));
    put("not_in_uncertainty", json!(open));
    out
}

/// A planned solution. The first solute also stands under the keys a stock of metal has.
pub(crate) fn planned(plan: &SolutionPlan) -> Value {
    let solutes: Vec<Map<String, Value>> =
        plan.request.ingredients.iter().zip(&plan.dissolved).map(|(own, planned)| solute(own, planned)).collect();
    let first = solutes.first().cloned().unwrap_or_default();
    let known = first.get("strength_rel_u").is_some_and(|own| !own.is_null());
    let of_first = |key: &str| first.get(key).cloned().unwrap_or(Value::Null);
    let keeping = keeping_words(plan);
    let steps: Vec<Value> = solution_steps(plan)
        .into_iter()
        .map(|step| json!({ "care": step.care, "what": step.what, "target": step.target, "write": step.write }))
        .collect();
    json!({
        "kind": "solution",
        "role": plan.role().map(handcoat_craft::source::Role::words),
        "salt_formula": of_first("formula"),
        "salt_g": of_first("weigh_g"),
        "stock_ml": of_first("measure_ml"),
        "percent_wv": of_first("percent_wv"),
        "percent_wv_u": of_first("percent_wv_u"),
        "form_stated": of_first("form_stated"),
        "molarity_mol_per_l": of_first("molarity_mol_per_l"),
        "molarity_u_mol_per_l": of_first("molarity_u_mol_per_l"),
        "molarity_least_mol_per_l": of_first("molarity_least_mol_per_l"),
        "molarity_most_mol_per_l": of_first("molarity_most_mol_per_l"),
        "strength_rel_u": of_first("strength_rel_u"),
        "solutes": solutes,
        "volume_ml": plan.volume.best.to_millilitres(),
        "volume_u_ml": known.then_some(plan.volume.standard()),
        "volume_is_estimate": plan.water_added.is_some(),
        "water_added_ml": plan.water_added.map(Volume::to_millilitres),
        "water_dissolve_ml": plan.water.dissolve.to_millilitres(),
        "water_rinse_ml": plan.water.rinse.to_millilitres(),
        "rinses": plan.water.rinses,
        "density_g_per_ml": null,
        "ready_after_h": plan.rest_h(),
        "bottle": bottle_words(plan),
        "look_after_days": keeping.map(|row| row.days),
        "keeping": keeping.map(|row| row.advice),
        "keeping_source": keeping.map(|row| row.cite.to_string()),
        "tests": keeping.map(|row| [&[row.test][..], row.fresh].concat()),
        "cost": money(plan.cost),
        "warnings": plan.warnings.iter().map(warning).collect::<Vec<_>>(),
        "steps": steps,
    })
}

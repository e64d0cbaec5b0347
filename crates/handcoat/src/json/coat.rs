//! JSON of the stations *paper* and *coat*.

use handcoat_craft::coat::{Coat, Pour};
use handcoat_craft::measure::{Mass, Temperature, Volume};
use handcoat_craft::paper::{Dropper, DropperFrom, UptakeRule};
use handcoat_work::coat::{Coated, LastTime, less_words};
use handcoat_work::paper::{Humidity, Shared};
use serde_json::{Map, Value, json};

use super::money;

fn pours(coat: &Coat, place: usize) -> Vec<Value> {
    let row = |pour: &Pour| {
        json!({
            "solution": pour.name,
            "role": pour.role.word(),
            "coat": place + 1,
            "drops": pour.drops.to_drops(),
            "ml": pour.ml,
            "wanted_ml": pour.wanted_ml,
            "percent_wv": pour.rung.map(handcoat_craft::measure::PercentByVolume::to_grams_per_100_ml),
        })
    };
    coat.pours.iter().map(row).collect()
}

/// A coat.
pub(crate) fn planned(coated: &Coated) -> Value {
    let plan = &coated.plan;
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| out.insert(key.into(), value);
    let mg = |mass: Mass| mass.to_grams() * 1000.0;
    put("coated_area_cm2", json!(plan.need.coated.to_square_centimetres()));
    put("uptake_ml_per_100cm2", json!(plan.need.uptake.to_millilitres_per_100_cm2()));
    put("uptake_of", json!(if plan.need.of_nominal { "nominal" } else { "coated" }));
    put("uptake_source", json!(plan.need.cite.map(|cite| cite.to_string())));
    put("sensitizer_ml", json!(plan.sensitizer_ml()));
    let share = match plan.request.uptake {
        UptakeRule::Measured { share, .. } => Some(share),
        UptakeRule::Habit { .. } | UptakeRule::Stated(_) => None,
    };
    put("share_on_paper", json!(share.map(|own| own.best.of_whole())));
    put("share_on_paper_u", json!(share.map(|own| own.standard())));
    put("to_pour_ml", json!(plan.to_pour_ml()));
    put("poured_ml", json!(plan.poured.best.to_millilitres()));
    put("poured_u_ml", json!(plan.poured.standard()));
    let drops: Vec<Value> = plan.coats.iter().enumerate().flat_map(|(place, coat)| pours(coat, place)).collect();
    put("drops", json!(drops));
    let water: Vec<Value> = plan.coats.iter().map(|coat| json!(coat.water_ml)).collect();
    put("water_ml", json!(water));
    let by = |value: &dyn Fn(&handcoat_craft::coat::MetalPoured) -> f64| {
        let rows = plan.metals.iter().map(|own| (own.element.to_string(), json!(value(own))));
        Value::Object(rows.collect())
    };
    put("metal_mg", by(&|own| mg(own.mass.best)));
    put("metal_u_mg", by(&|own| own.mass.standard() * 1000.0));
    put("contrast_metal_mg", by(&|own| mg(own.of_agent)));
    let ratio = plan.iron_to_metal;
    put("iron_to_metal", json!(ratio.middle()));
    put("iron_to_metal_u", json!(ratio.standard()));
    put("iron_to_metal_least", json!(ratio.least));
    put("iron_to_metal_most", json!(ratio.most));
    put("iron_form_known", json!(ratio.form_known));
    put("cost", money(plan.cost.sum));
    put("cost_without", json!(plan.cost.without));
    let metals = plan.ratio.map(|own| {
        let both = |part: f64| json!([part, 1.0 - part]);
        json!({ "by_volume": both(own.volume), "by_moles": both(own.moles), "by_weight": both(own.weight) })
    });
    put("metal_ratio", json!(metals));
    put("dose_mg_per_ml", json!(plan.dose.map(handcoat_craft::measure::AgentDose::to_milligrams_per_millilitre)));
    put("dose_of", json!(plan.request.contrast.as_ref().map(handcoat_craft::coat::Contrast::dose_of)));
    put("rounding_ml", json!(plan.rounding_ml()));
    put("ratio_error", json!(plan.ratio_error()));
    let within: Option<bool> = plan.coats.iter().filter_map(|coat| coat.within).reduce(|one, other| one && other);
    put("within", json!(within));
    put("sheets", json!(plan.request.sheets));
    let bottles: Vec<Value> = plan
        .for_all
        .iter()
        .map(|own| {
            json!({
                "solution": own.name,
                "role": own.role.word(),
                "takes_ml": own.volume.to_millilitres(),
                "holds_ml": own.holds.map(Volume::to_millilitres),
                "prints_left": own.sheets_left,
            })
        })
        .collect();
    put("bottles", json!(bottles));
    put("prints_left", json!(plan.prints_left));
    let less: Vec<Value> = plan
        .less
        .iter()
        .map(|own| {
            let drops: Vec<u32> = own.pours.iter().map(|pour| pour.drops.to_drops()).collect();
            let rung = own.pours.iter().find_map(|pour| pour.rung);
            let saved: Map<String, Value> =
                own.saved.iter().map(|(element, mass)| (element.to_string(), json!(mg(*mass)))).collect();
            json!({
                "what": own.less.what,
                "pour_ml": own.pour_ml,
                "drops": drops,
                "agent_percent_wv": rung.map(handcoat_craft::measure::PercentByVolume::to_grams_per_100_ml),
                "saved_mg": saved,
                "saved": money(own.saved_money),
                "risk": own.less.risk,
                "words": less_words(own),
            })
        })
        .collect();
    put("less", json!(less));
    let used: Vec<Value> = coated
        .used
        .iter()
        .map(|own| json!({ "what": own.what, "origin": own.origin.word(), "words": own.words }))
        .collect();
    put("used", json!(used));
    put("last_time", coated.last.as_ref().map_or(Value::Null, last_time));
    let warnings: Vec<Value> =
        plan.warnings.iter().map(|own| json!({ "code": own.code(), "message": own.to_string() })).collect();
    put("warnings", json!(warnings));
    Value::Object(out)
}

/// What was poured last time.
fn last_time(last: &LastTime) -> Value {
    let pours = last.pours.iter().map(
        |own| json!({ "solution": own.name, "role": own.role, "drops": own.drops, "ml": own.volume.to_millilitres() }),
    );
    json!({
        "kind": last.kind.word(),
        "number": last.number,
        "title": last.title,
        "at": last.at.map(|at| at.to_string()),
        "paper": last.paper,
        "same_paper": last.same_paper,
        "drops": pours.collect::<Vec<_>>(),
    })
}

/// Humidities over salts.
pub(crate) fn humidities(found: &[Humidity]) -> Value {
    let rows: Vec<Value> = found
        .iter()
        .map(|own| {
            json!({
                "salt": own.salt_box.salt().formula,
                "humidity_percent": own.humidity.best.to_percent(),
                "humidity_u_percent": own.humidity.standard(),
                "used_for": own.salt_box.salt().used_for,
                "source": own.salt_box.salt().cite.to_string(),
            })
        })
        .collect();
    json!({ "temperature_c": found.first().map(|own| own.at.to_celsius()), "boxes": rows })
}

/// A calibrated dropper.
pub(crate) fn dropper(dropper: &Dropper, water_at: Option<Temperature>) -> Value {
    let runs = match dropper.from {
        DropperFrom::Calibrated(runs) => runs,
        DropperFrom::Usual | DropperFrom::Stated => 0,
    };
    json!({
        "drops_per_ml": dropper.per_ml.best.to_per_millilitre(),
        "drops_per_ml_u": dropper.per_ml.standard(),
        "drop_ml": dropper.drop_ml(),
        "drop_u_ml": dropper.drop_ml() * dropper.relative(),
        "runs": runs,
        "water_drop_mg": water_at.and_then(|at| dropper.water_drop_mg(at)),
        "official_dropper": water_at.and_then(|at| dropper.is_official(at)),
    })
}

/// What reached the paper.
pub(crate) fn share(found: &Shared) -> Value {
    json!({
        "share_on_paper": found.share.best.of_whole(),
        "share_on_paper_u": found.share.standard(),
        "coated_area_cm2": found.uptake.map(|(area, _)| area.to_square_centimetres()),
        "uptake_ml_per_100cm2": found.uptake.map(|(_, uptake)| uptake.best.to_millilitres_per_100_cm2()),
        "uptake_u_ml_per_100cm2": found.uptake.map(|(_, uptake)| uptake.standard()),
    })
}

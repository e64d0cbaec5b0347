//! A print as something to compare.

use handcoat_craft::measure::{AgentDose, Length, RelativeHumidity, Size, Span, Temperature, Uptake, Volume};
use handcoat_craft::print::{Conditions, Reading};
use handcoat_craft::source::{Condition, Element};
use handcoat_craft::stock::Formula;

use super::sheet::{Also, Pour, PrintSheet};
use crate::Refusal;
use crate::role::Role;

/// How a print was made.
pub(super) fn of(sheet: &PrintSheet) -> Result<Conditions, Refusal> {
    let fields = sheet.fields();
    let word = |key: &str| fields.text(key).map(Reading::word);
    let time = |key: &str| fields.quantity::<Span>(key).map(|own| own.map(Reading::span));
    let number = |key: &str| fields.number(key).map(Reading::ratio);
    let mut all = Conditions::default();
    all.set_known(Condition::Paper, word("paper"));
    all.set_known(Condition::PaperLot, sheet.paper_lot.as_deref().map(Reading::word));
    all.set_known(Condition::PaperSide, word("side"));
    all.set_known(Condition::Pretreatment, word("pretreatment"));
    all.set_known(Condition::RoomTemperature, fields.quantity::<Temperature>("room_temperature")?);
    all.set_known(Condition::RoomHumidity, fields.quantity::<RelativeHumidity>("room_humidity")?);
    all.set_known(Condition::SheetHumidity, fields.quantity::<RelativeHumidity>("sheet_humidity")?);
    all.set_known(Condition::Tool, word("tool"));
    all.set_known(Condition::Coats, number("coats"));
    all.set_known(Condition::Rest, time("rest")?);
    all.set_known(Condition::DryingTime, time("drying_time")?);
    all.set_known(Condition::DryingTemperature, fields.quantity::<Temperature>("drying_temperature")?);
    all.set_known(Condition::Lamp, word("lamp"));
    all.set_known(Condition::LampHours, sheet.lamp_hours.map(Reading::hours));
    all.set_known(Condition::LampDistance, fields.quantity::<Length>("distance")?);
    all.set_known(Condition::ExposureTime, time("time")?);
    all.set_known(Condition::Negative, word("negative"));
    let range = fields.number("negative_range").or(sheet.negative_range);
    all.set_known(Condition::NegativeRange, range.map(Reading::ratio));
    all.set_known(Condition::Developer, word("developer"));
    all.set_known(Condition::DeveloperAge, sheet.developer_days.map(|own| Reading::days(own as f64)));
    all.set_known(Condition::DeveloperTemperature, fields.quantity::<Temperature>("developer_temperature")?);
    all.set_known(Condition::DeveloperAgent, number("developer_agent"));
    all.set_known(Condition::DevelopingTime, time("developing_time")?);
    let baths: Vec<&str> = ["bath_1", "bath_2", "bath_3"].iter().filter_map(|key| fields.text(key)).collect();
    all.set_known(Condition::Clearing, (!baths.is_empty()).then(|| Reading::word(&baths.join(", "))));
    all.set_known(Condition::ClearingTime, time("clearing_time")?);
    all.set_known(Condition::BathArea, sheet.bath_area.map(Reading::square_metres));
    all.set_known(Condition::Washing, time("washing")?);
    poured(sheet, &mut all)?;
    Ok(all)
}

/// What the pours come to.
fn poured(sheet: &PrintSheet, all: &mut Conditions) -> Result<(), Refusal> {
    let of = |role: &str| sheet.pours.iter().filter(move |pour| pour.role == role).collect::<Vec<_>>();
    let names = |pours: &[&Pour]| joined(pours.iter().map(|pour| pour.name.as_str()));
    let formulas = |pours: &[&Pour]| joined(pours.iter().filter_map(|pour| pour.formula.as_deref()));
    let (iron, metal) = (of("iron"), of("metal"));
    all.set_known(Condition::Iron, formulas(&iron));
    all.set_known(Condition::IronBottle, names(&iron));
    let oldest = iron.iter().filter_map(|pour| pour.age_days).max();
    all.set_known(Condition::IronAge, oldest.map(|days| Reading::days(days as f64)));
    all.set_known(Condition::Metal, formulas(&metal));
    all.set_known(Condition::MetalBottle, names(&metal));
    if let Some(share) = platinum_share(&metal) {
        all.set(Condition::MetalRatio, Reading::ratio(share));
    }
    let volume = |pours: &[&Pour]| pours.iter().map(|pour| pour.volume().to_millilitres()).sum::<f64>();
    if !iron.is_empty() && !metal.is_empty() && volume(&metal) > 0.0 {
        all.set(Condition::IronToMetal, Reading::ratio(volume(&iron) / volume(&metal)));
    }
    if !sheet.pours.is_empty() {
        let agents = agents(sheet);
        let named = joined(agents.iter().filter_map(|(formula, ..)| *formula));
        all.set(Condition::Agent, named.unwrap_or_else(|| Reading::word("none")));
        all.set_known(Condition::AgentDose, dose(sheet, &agents));
    }
    if let Some(area) = sheet.area()?
        && let Ok(uptake) = Uptake::of(sheet.volume(), area)
    {
        all.set(Condition::CoatPerArea, uptake);
    }
    Ok(())
}

fn joined<'t>(texts: impl Iterator<Item = &'t str>) -> Option<Reading> {
    let mut all: Vec<&str> = texts.collect();
    all.sort_unstable();
    all.dedup();
    (!all.is_empty()).then(|| Reading::word(&all.join(" + ")))
}

/// The part of platinum among the moles of metal; none unless all of it is known.
fn platinum_share(metal: &[&Pour]) -> Option<f64> {
    let mut moles = [0.0, 0.0];
    for pour in metal {
        let mass = pour.metal_mass()?.to_grams();
        let (place, element) = match pour.metal.as_deref()? {
            "Pd" => (0, Element::PD),
            "Pt" => (1, Element::PT),
            _ => return None,
        };
        // OK because the place is one of the two above.
        moles[place] += mass / element.weight().grams_per_mole;
    }
    let [palladium, platinum] = moles;
    (palladium + platinum > 0.0).then(|| platinum / (palladium + platinum))
}

/// Every agent that was poured: its formula, its grams per 100 mL where they are known, and the volume of its solution. Chlorate in
/// iron counts as well as a solution of its own.
fn agents(sheet: &PrintSheet) -> Vec<(Option<&str>, Option<f64>, Volume)> {
    let mut all = Vec::new();
    for pour in &sheet.pours {
        if pour.role == Role::Agent.word() {
            all.push((pour.formula.as_deref(), pour.percent, pour.volume()));
        }
        let formula = |own: &&Also| own.formula.parse::<Formula>().is_ok_and(|own| Role::of(Some(&own)) == Role::Agent);
        let also = pour.also.iter().filter(formula);
        all.extend(also.map(|own| (Some(own.formula.as_str()), Some(own.percent), pour.volume())));
    }
    all
}

/// Agent per millilitre of everything that was poured; none unless the strength of each is known, nothing where there is none.
fn dose(sheet: &PrintSheet, agents: &[(Option<&str>, Option<f64>, Volume)]) -> Option<Reading> {
    if agents.is_empty() {
        return Some(Reading::Measured { value: 0.0, unit: "mg/mL" });
    }
    let milligrams = agents
        .iter()
        .map(|(_, percent, volume)| percent.map(|percent| percent * 10.0 * volume.to_millilitres()))
        .sum::<Option<f64>>()?;
    let all = sheet.volume();
    if all == Volume::ZERO {
        return None;
    }
    AgentDose::milligrams_per_millilitre(milligrams / all.to_millilitres()).ok().map(Reading::from)
}

/// Size of the image, in words, for a reader of a comparison.
pub(super) fn image(sheet: &PrintSheet) -> Result<Option<Size>, Refusal> {
    sheet.fields().quantity::<Size>("image")
}

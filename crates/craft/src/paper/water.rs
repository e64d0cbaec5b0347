//! Water as a measure: its density, and the volume of a gram of it weighed in air.

use crate::measure::{MassDensity, Temperature};
use crate::source::{AIR_DENSITY, WATER_DENSITY, WATER_DENSITY_RANGE, WEIGHTS_DENSITY};

/// Density of water without air at one atmosphere, after Tanaka et al., Metrologia 38 (2001) 301-309; none outside 0 to 40 °C.
#[must_use]
pub fn density_of_water(temperature: Temperature) -> Option<MassDensity> {
    let (least, most) = WATER_DENSITY_RANGE.value;
    let t = temperature.to_celsius();
    if !(least..=most).contains(&t) {
        return None;
    }
    let [a1, a2, a3, a4, a5] = WATER_DENSITY.value;
    let kg_per_m3 = a5 * (1.0 - (t + a1) * (t + a1) * (t + a2) / (a3 * (t + a4)));
    MassDensity::grams_per_millilitre(kg_per_m3 / 1000.0).ok()
}

/// Millilitres to a gram on the display of a balance, buoyancy in air taken into account:
/// Z = (1 − ρa/ρw) / (ρ − ρa), with ρa of the air and ρw of the weights the balance was adjusted with.
#[must_use]
pub fn millilitres_per_gram(density: MassDensity) -> f64 {
    let air = AIR_DENSITY.value;
    (1.0 - air / WEIGHTS_DENSITY.value) / (density.to_grams_per_millilitre() - air)
}

//! Defaults that are common practice: starting points a maker may replace with a measured value.

use super::{Citation, Fact};

const fn usual(value: f64, what: &'static str) -> Fact<f64> {
    Fact { value, cite: Citation::practice(what) }
}

/// Usual strength of a palladium stock, in grams of the complex salt per 100 mL.
pub const USUAL_COMPLEX_PERCENT: Fact<f64> = usual(15.0, "palladium stock as complex salt");
/// Usual strength of a platinum stock, in grams of the powder per 100 mL.
pub const USUAL_SALT_PERCENT: Fact<f64> = usual(20.0, "platinum stocks as powder weighed");
/// Added chloride per palladium below which powder may stay undissolved.
pub const CHLORIDE_SHORT: Fact<f64> = usual(1.98, "1 % under the two that the complex needs");
/// The two added chlorides per palladium that make the complex.
pub const LEAST_CHLORIDE: Fact<f64> = usual(2.0, "stoichiometry of PdCl2 + 2 Cl-");
/// Added chloride per palladium above which there is more than anyone intends.
pub const CHLORIDE_EXCESS: Fact<f64> = usual(3.0, "half as much again as the need");
/// Fewer balance steps than this under a weighing, and the step itself is over a tenth of it.
pub const STEPS_WANTED: Fact<f64> = usual(10.0, "ten steps of the display");
/// Liquid left clinging in a poured-out beaker, in mL.
pub const CLINGING_FILM: Fact<f64> = usual(0.5, "film in a small beaker");
/// Water of one rinse as a part of the final volume.
pub const RINSE_PART: Fact<f64> = usual(0.08, "two rinses of about a twelfth");
/// Room left under the mark before the last drops of water, as a part of the final volume.
pub const FILL_RESERVE: Fact<f64> = usual(0.04, "to be filled dropwise");
/// How full a bottle is made, as a part of what it holds: the dropper needs room.
pub const BOTTLE_FILL: Fact<f64> = usual(0.95, "a bottle a little larger than the batch");
/// Rest before a fresh stock is used, in hours.
pub const READY_AFTER: Fact<f64> = usual(24.0, "about a day, until clear");
/// A measuring glass off by more than this part of the volume measures nothing.
pub const GLASS_TOLERANCE_MOST: Fact<f64> = usual(0.25, "a quarter either way is a guess and no reading");

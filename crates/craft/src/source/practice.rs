//! Defaults that are common practice: starting points a maker may replace with a measured value.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
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
/// A sealed vial holds what its label says to about this part: what was weighed within it was the whole vial.
pub const VIAL_NEAR: Fact<f64> = usual(0.15, "labels of small vials are nominal");
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
/// How far a level judged by eye may be off, as a part of the full bottle (half width).
pub const EYE_LEVEL: Fact<f64> = usual(0.1, "a tenth of the bottle either way");
/// How far a measured pour may be off, as a part of itself (half width).
pub const MEASURED_POUR: Fact<f64> = usual(0.02, "small cylinder or syringe, read in dim light");
/// Density of metal stocks from very thin to the strongest in use, in g/mL.
pub const SOLUTION_DENSITY: Fact<(f64, f64)> =
    Fact { value: (1.0, 1.2), cite: Citation::practice("from water to about 20 g of salt in 100 mL") };
/// Less metal than this in a bottle, in µg, is known by the book too coarsely to tell how strong the solution is.
pub const TELLING_METAL: Fact<i64> = usual(500, "half a microgram of rounding is a tenth of a percent of it");
/// What any solution of this work can weigh, in g/mL; beyond it a bottle or a volume was misread.
pub const POSSIBLE_DENSITY: Fact<(f64, f64)> =
    Fact { value: (0.9, 2.0), cite: Citation::practice("from strong ammonia to syrups of heavy salts") };
/// A measuring glass off by more than this part of the volume measures nothing.
pub const GLASS_TOLERANCE_MOST: Fact<f64> = usual(0.25, "a quarter either way is a guess and no reading");
/// Less of the metal than this part reaching the bottle is worth a word.
pub const RECOVERED_ENOUGH: Fact<f64> = usual(0.99, "a hundredth left behind is worth a rinse");
/// Water of the smallest rinse, in mL.
pub const LEAST_RINSE: Fact<f64> = usual(0.1, "a few drops");
/// A rinse is measured to this mark at the coarsest, in mL.
pub const RINSE_MARK: Fact<f64> = usual(0.5, "rinses are small whatever the batch");
/// Marks a maker can pour to: from this volume up, this step, both in mL; the largest first.
pub const POURED_MARKS: Fact<[(f64, f64); 3]> =
    usual([(50.0, 1.0), (10.0, 0.5), (0.0, 0.1)], "what a cylinder of that size is read to");
/// Marks a bottle is filled to, in the same way.
pub const BOTTLE_MARKS: Fact<[(f64, f64); 2]> = usual([(20.0, 1.0), (0.0, 0.5)], "round volumes for small bottles");
/// Water to a gram of chloride that is measured as a solution, and the least of such a solution, in mL.
pub const CHLORIDE_SOLUTION_ML: Fact<f64> = usual(5.0, "a fifth by weight, well under what dissolves");
/// At most this part of the water to dissolve in may come as such a solution.
pub const SOLUTION_PART: Fact<f64> = usual(0.6, "the rest is wanted for the powder");
/// A strength under this part of the usual one can be diluted from it.
pub const CLEARLY_WEAKER: Fact<f64> = usual(0.8, "four fifths of the usual strength");
/// A potassium platinum stock of this many grams per 100 mL may crystallise in the cold.
pub const COLD_CRYSTALS: Fact<f64> = usual(15.0, "20 % sits near saturation in a cool room");
/// A molar mass on a jar further off than this part is of another formula.
pub const MOLAR_MASS_AGREES: Fact<f64> = usual(1e-3, "libraries differ by 5e-5 over the weight of chlorine");
/// A purity this near to the metal content of the salt is most likely an assay.
pub const ASSAY_NEAR: Fact<f64> = usual(0.02, "two hundredths");
/// An assay may be over what the pure salt holds by this part.
pub const ASSAY_SLACK: Fact<f64> = usual(0.005, "rounding on labels");
/// Rounding to the scale that moves the strength by more than this part is worth a word.
pub const AIM_MISSED: Fact<f64> = usual(0.02, "a fiftieth of the strength");
/// A strength off by less than this part is as planned.
pub const STRENGTH_AS_PLANNED: Fact<f64> = usual(5e-4, "half a thousandth, below any print");
/// A solid of unknown density takes between so much room, in mL per gram.
pub const UNKNOWN_ROOM: Fact<(f64, f64)> = usual((0.2, 0.5), "salts of these metals have 2 to 5 g per mL");
/// How far a complex salt may shrink when it dissolves, as a part of its crystal volume.
pub const COMPLEX_SHRINKS: Fact<f64> = usual(0.25, "an estimate, a quarter");
/// Past this ratio of coated areas a coat dries and spreads otherwise, and a repeat begins with a strip.
pub const AREA_TRIED: Fact<f64> = usual(4.0, "from 4x5 to 8x10 inches");
/// A solid of an organic acid, or one like it, takes between so much room, in mL per gram.
pub const UNKNOWN_SOLID_ROOM: Fact<(f64, f64)> =
    usual((0.3, 0.7), "oxalates, citrates and EDTA have 1.4 to 3 g per mL, dissolved or dry");
/// Strength of a chlorate solution that is kept apart from the iron, in grams per 100 mL.
pub const CHLORATE_APART: Fact<f64> = usual(1.0, "one worker's bottle of chlorate and iron burst its dropper");
/// Potassium chlorate in 100 mL of an iron solution that holds some: the least and the most met, in grams.
pub const CHLORATE_IN_IRON: Fact<(f64, f64)> =
    usual((0.4, 1.2), "0.4 g in old manuals, 0.46 g in a re-creation, 1.2 g in a course note");
/// More than so much of an iron solution with chlorate is too much to keep, in mL.
pub const CHLORATE_SMALL: Fact<f64> = usual(30.0, "a small bottle, used up within weeks");

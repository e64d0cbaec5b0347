//! How much dissolves. Only rows whose number was read somewhere; where there is no row, nothing is said.

use super::Citation;

/// Grams of a solid that 100 g of water hold, at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solubility {
    /// Formula of the solid.
    pub formula: &'static str,
    /// Temperature, in °C.
    pub celsius: f64,
    /// Grams per 100 g of water.
    pub grams_per_100_g_water: f64,
    /// Source.
    pub cite: Citation,
}

/// The rows. Tables disagree by 1-10 %: a warning, never a refusal.
///
/// There is deliberately none for K2PtCl4: the figure most often copied (0.93 g per 100 mL at 16 °C) is
/// contradicted by solutions of 7.7 % in Mellor's *Treatise* (vol. XVI, p. 280).
pub const SOLUBILITY: &[Solubility] = &[
    Solubility {
        formula: "NH4Cl",
        celsius: 20.0,
        grams_per_100_g_water: 37.17,
        cite: Citation::seen("nist-srd106", "system 66_125, 27.10 mass %"),
    },
    Solubility {
        formula: "(NH4)2PtCl6",
        celsius: 10.0,
        grams_per_100_g_water: 0.7,
        cite: Citation::second_hand("perry", "table 2-122"),
    },
    Solubility {
        formula: "KClO3",
        celsius: 20.0,
        grams_per_100_g_water: 7.22,
        cite: Citation::seen("miyamoto1987", "page 113, Pawlewski 1899, 6.76 mass %"),
    },
    Solubility {
        formula: "K2C2O4·H2O",
        celsius: 20.0,
        grams_per_100_g_water: 33.0,
        cite: Citation::second_hand("supplier-pages", "potassium oxalate monohydrate, 33 g per 100 mL"),
    },
];

//! How long things keep. Nothing here blocks: past its time a solution is tested, not thrown away.

use super::Citation;

/// What keeps in its own way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeps {
    /// Iron(III) oxalate in solution.
    FerricOxalate,
    /// Ammonium tetrachloroplatinate in solution.
    AmmoniumTetrachloroplatinate,
    /// A hexachloroplatinate thinned for small doses.
    ThinHexachloroplatinate,
    /// Other metal stocks, tightly closed.
    MetalStock,
}

/// How long something keeps and what to do past that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Keeping {
    /// What.
    pub what: Keeps,
    /// After so many days it is looked into.
    pub days: f64,
    /// The test that decides.
    pub test: &'static str,
    /// What to know of it.
    pub advice: &'static str,
    /// Where that comes from.
    pub cite: Citation,
}

/// Below so many grams per 100 mL a hexachloroplatinate counts as thinned.
pub const THIN_PERCENT: super::Fact<f64> =
    super::Fact { value: 10.0, cite: Citation::practice("the rungs below the usual stock") };

/// Keeping times, from common practice; a maker's own tests decide.
pub const KEEPING: &[Keeping] = &[
    Keeping {
        what: Keeps::FerricOxalate,
        days: 30.0,
        test: "ferrous",
        advice: "one to three months at room temperature, longer cold and dark; test before each session",
        cite: Citation::practice("ferric oxalate solution"),
    },
    Keeping {
        what: Keeps::AmmoniumTetrachloroplatinate,
        days: 30.0,
        test: "look",
        advice: "it decomposes in store; make little at a time",
        cite: Citation::practice("ammonium tetrachloroplatinate solution"),
    },
    Keeping {
        what: Keeps::ThinHexachloroplatinate,
        days: 90.0,
        test: "look",
        advice: "the strong stock keeps for years, thin ones for months; mix it again",
        cite: Citation::practice("hexachloroplatinate dilutions"),
    },
    Keeping {
        what: Keeps::MetalStock,
        days: 1095.0,
        test: "look",
        advice: "years in a tight bottle; look for sediment",
        cite: Citation::practice("palladium and platinum stocks"),
    },
];

/// Area a litre of the first clearing bath is trusted with, in cm²: the lower end of ten to fifteen prints of 8x10 inches.
pub const CLEARS_PER_LITRE: super::Fact<f64> =
    super::Fact { value: 5160.0, cite: Citation::practice("ten 8x10 prints per litre of the first bath") };

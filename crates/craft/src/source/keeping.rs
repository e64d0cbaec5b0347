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
    /// Iron and chlorate in one bottle.
    IronWithChlorate,
    /// Ammonium iron(III) oxalate in solution.
    AmmoniumIronOxalate,
    /// A chlorate in water alone.
    Chlorate,
    /// Developers: oxalates and citrates.
    Developer,
    /// A developer with dichromate.
    DichromateDeveloper,
    /// Clearing baths that are not used yet.
    ClearingBath,
    /// Hydrogen peroxide, thinned.
    Peroxide,
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
    /// Tests that a fresh bottle has to pass once.
    pub fresh: &'static [&'static str],
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
        fresh: &["works-at-all", "fog strip"],
        advice: "one to three months at room temperature, longer cold and dark; test before each session",
        cite: Citation::practice("ferric oxalate solution"),
    },
    Keeping {
        what: Keeps::AmmoniumTetrachloroplatinate,
        days: 30.0,
        test: "look",
        fresh: &[],
        advice: "it decomposes in store; make little at a time",
        cite: Citation::practice("ammonium tetrachloroplatinate solution"),
    },
    Keeping {
        what: Keeps::ThinHexachloroplatinate,
        days: 90.0,
        test: "look",
        fresh: &[],
        advice: "the strong stock keeps for years, thin ones for months; mix it again",
        cite: Citation::practice("hexachloroplatinate dilutions"),
    },
    Keeping {
        what: Keeps::MetalStock,
        days: 1095.0,
        test: "look",
        fresh: &[],
        advice: "years in a tight bottle; look for sediment",
        cite: Citation::practice("palladium and platinum stocks"),
    },
    Keeping {
        what: Keeps::IronWithChlorate,
        days: 21.0,
        test: "ferrous",
        fresh: &["fog strip"],
        advice: "weeks, not months: it can make gas and burst its dropper; vented cap, never warmed; mix it again",
        cite: Citation::practice("iron with chlorate; gas within three months in one worker's bottle"),
    },
    Keeping {
        what: Keeps::AmmoniumIronOxalate,
        days: 730.0,
        test: "ferrous",
        fresh: &["fog strip"],
        advice: "years in the dark; warm it gently when crystals have dropped out",
        cite: Citation::practice("ammonium iron(III) oxalate solution"),
    },
    Keeping {
        what: Keeps::Chlorate,
        days: 90.0,
        test: "look",
        fresh: &[],
        advice: "months; it costs little, so mix it again",
        cite: Citation::practice("chlorate in water"),
    },
    Keeping {
        what: Keeps::Developer,
        days: 1095.0,
        test: "look",
        fresh: &[],
        advice: "years: topped up, and decanted off its sludge; dissolve green crystals with water",
        cite: Citation::practice("oxalate and citrate developers"),
    },
    Keeping {
        what: Keeps::DichromateDeveloper,
        days: 180.0,
        test: "look",
        fresh: &[],
        advice: "it loses its contrast with use; one bottle for each step of contrast",
        cite: Citation::practice("developers with dichromate"),
    },
    Keeping {
        what: Keeps::ClearingBath,
        days: 180.0,
        test: "look",
        fresh: &[],
        advice: "unused for months; in use the first bath clears about ten to fifteen 8x10 sheets a litre, then the next one moves up",
        cite: Citation::practice("EDTA, sulfite and acid clearing baths"),
    },
    Keeping {
        what: Keeps::Peroxide,
        days: 7.0,
        test: "look",
        fresh: &[],
        advice: "days; thin it again from the strong bottle",
        cite: Citation::practice("hydrogen peroxide dilutions"),
    },
];

/// Area a litre of the first clearing bath is trusted with, in cm²: the lower end of ten to fifteen prints of 8x10 inches.
pub const CLEARS_PER_LITRE: super::Fact<f64> =
    super::Fact { value: 5160.0, cite: Citation::practice("ten 8x10 prints per litre of the first bath") };

//! The questions a plan asks. Each door asks them its own way: a flag, a field on a page.

/// A question that can be answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs, reason = "the words of `asks` say what each is")]
pub enum Question {
    Powder,
    Chloride,
    Volume,
    PercentComplex,
    Molarity,
    SaltPer100Ml,
    MetalPerMl,
    SaltMass,
    Bottle,
    Budget,
    ChlorideRatio,
    ChlorideMass,
    Purity,
    PurityOf,
    Hydrate,
    MolarMass,
    Price,
    Balance,
    Glass,
    Rinses,
    Meets,
    Weighed,
    ChlorideWeighed,
    Mixed,
    Added,
    Percent,
    FirstRung,
    Keep,
    Rungs,
    Substance,
    Studio,
    Date,
    OutputFile,
    OutputFolder,
}

impl Question {
    /// The question in words.
    #[must_use]
    pub fn asks(self) -> &'static str {
        match self {
            Self::Powder => "which powder",
            Self::Chloride => "with which alkali chloride",
            Self::Volume => "how much to make",
            Self::PercentComplex => "how strong, in % of the complex",
            Self::Molarity => "how strong, in mol/L",
            Self::SaltPer100Ml => "how strong, in g of powder per 100 mL",
            Self::MetalPerMl => "how strong, in mg of metal per mL",
            Self::SaltMass => "how much powder",
            Self::Bottle => "which bottle",
            Self::Budget => "for how much money",
            Self::ChlorideRatio => "how much chloride per metal",
            Self::ChlorideMass => "how much chloride",
            Self::Purity => "how pure",
            Self::PurityOf => "what the purity means",
            Self::Hydrate => "how many waters",
            Self::MolarMass => "the molar mass on the jar",
            Self::Price => "what the powder costs",
            Self::Balance => "which scale",
            Self::Glass => "how far the glass may be off",
            Self::Rinses => "how many rinses",
            Self::Meets => "what the stock will meet",
            Self::Weighed => "what was on the pan",
            Self::ChlorideWeighed => "how much chloride is in the beaker",
            Self::Mixed => "whether it is mixed already",
            Self::Added => "whether water is added and not made up",
            Self::Percent => "how many grams per 100 mL",
            Self::FirstRung => "how strong the first rung is",
            Self::Keep => "how much of each to keep",
            Self::Rungs => "how many rungs",
            Self::Substance => "which substance",
            Self::Studio => "whose studio",
            Self::Date => "which day",
            Self::OutputFile => "which file to write",
            Self::OutputFolder => "which folder to write",
        }
    }
}

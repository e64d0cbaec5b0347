//! Pairs that must not meet, or that lose the metal when they do.
//!
//! A row names two classes of substance, recognised from a formula. The table is short and errs on the side
//! of saying something; it is no substitute for a supplier's sheet.

use super::Citation;

/// A class of substance, recognised by composition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// Sulfites and hydrogensulfites.
    Sulfite,
    /// Thiosulfates: the fixers of silver.
    Thiosulfate,
    /// Free acids met in the darkroom: hydrochloric, oxalic, citric, nitric, sulfuric, acetic.
    Acid,
    /// Hypochlorites: household bleach.
    Hypochlorite,
    /// Salts of ammonium, and ammonia.
    Ammonium,
    /// Ammonia itself, or its solution.
    Ammonia,
    /// EDTA and its salts.
    Edta,
    /// Hexacyanoferrates.
    Ferricyanide,
    /// Chlorates.
    Chlorate,
    /// Oxalates and oxalic acid.
    Oxalate,
    /// Gold salts.
    Gold,
    /// Hydrogen peroxide.
    Peroxide,
    /// Iron salts.
    Iron,
    /// Salts of potassium.
    Potassium,
    /// Salts of caesium.
    Caesium,
    /// Hexachloroplatinates.
    HexachloroPlatinate,
    /// Dichromates and chromates.
    Chromate,
    /// Citrates, EDTA and other compounds of carbon and hydrogen that burn; oxalates are a class of their own.
    Organic,
}

/// What comes of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Harm {
    /// It can hurt somebody.
    Dangerous,
    /// The metal leaves the solution.
    Precipitates,
}

impl Harm {
    /// The stable code of a warning of it.
    #[must_use]
    pub fn warning_code(self) -> &'static str {
        match self {
            Self::Dangerous => "pair_dangerous",
            Self::Precipitates => "pair_precipitates",
        }
    }
}

/// Two classes that must be kept apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Incompatible {
    /// One.
    pub one: Class,
    /// The other.
    pub other: Class,
    /// What kind of harm.
    pub harm: Harm,
    /// What happens, in a few words.
    pub what: &'static str,
    /// Source.
    pub cite: Citation,
}

const fn danger(one: Class, other: Class, what: &'static str) -> Incompatible {
    Incompatible { one, other, harm: Harm::Dangerous, what, cite: Citation::practice("laboratory rule") }
}

const fn precipitate(one: Class, other: Class, what: &'static str, cite: Citation) -> Incompatible {
    Incompatible { one, other, harm: Harm::Precipitates, what, cite }
}

/// The table.
pub const INCOMPATIBLE: &[Incompatible] = &[
    danger(Class::Sulfite, Class::Acid, "gives off sulfur dioxide"),
    danger(Class::Thiosulfate, Class::Acid, "gives off sulfur dioxide and lets sulfur fall out"),
    danger(Class::Hypochlorite, Class::Acid, "gives off chlorine"),
    danger(Class::Hypochlorite, Class::Ammonium, "gives off chloramines"),
    danger(Class::Hypochlorite, Class::Ammonia, "gives off chloramines"),
    danger(Class::Hypochlorite, Class::Edta, "gives off toxic gas"),
    danger(Class::Ferricyanide, Class::Acid, "can give off hydrogen cyanide when the acid is strong or hot"),
    danger(Class::Chlorate, Class::Oxalate, "can give off chlorine dioxide, toxic and explosive"),
    danger(Class::Chlorate, Class::Acid, "can give off chlorine dioxide, toxic and explosive"),
    danger(Class::Gold, Class::Ammonia, "can form fulminating gold, which explodes"),
    danger(Class::Peroxide, Class::Iron, "froths, heats and can burst a closed bottle"),
    danger(Class::Chromate, Class::Oxalate, "heats and gives off gas; spoils the sensitizer"),
    danger(Class::Chlorate, Class::Organic, "can catch fire or explode as dry powders, when rubbed or struck"),
    danger(Class::Chromate, Class::Organic, "can catch fire as dry powders"),
    danger(Class::Chlorate, Class::Ammonium, "can form ammonium chlorate, which explodes when it dries"),
    precipitate(
        Class::HexachloroPlatinate,
        Class::Ammonium,
        "lets ammonium hexachloroplatinate(IV) fall out, of which about 0.7 g dissolve in 100 g of water at 10 °C",
        Citation::second_hand("perry", "table 2-122"),
    ),
    precipitate(
        Class::HexachloroPlatinate,
        Class::Potassium,
        "lets potassium hexachloroplatinate(IV) fall out, which is sparingly soluble",
        Citation::memory("archibald1908", "solubility of potassium chloroplatinate"),
    ),
    precipitate(
        Class::HexachloroPlatinate,
        Class::Caesium,
        "lets caesium hexachloroplatinate(IV) fall out, which is still less soluble",
        Citation::memory("archibald1908", "alkali chloroplatinates"),
    ),
];

//! The units that may stand behind a number, all in one table.
//!
//! One table for all kinds, so that "60 mL" where a mass is asked is answered with what it is, and not
//! only with what it is not.

/// What kind of quantity a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Mass.
    Mass,
    /// Volume.
    Volume,
    /// Amount of substance in a volume.
    Molarity,
    /// Mass in a volume.
    MassConcentration,
    /// Parts of a hundred.
    Percent,
    /// Amount of substance.
    Amount,
    /// Drops, counted.
    Drops,
    /// Drops to the millilitre.
    DropsPerVolume,
    /// Mass of a mole.
    MolarMass,
    /// Length.
    Length,
    /// Volume to an area.
    Uptake,
    /// Temperature.
    Temperature,
}

impl Kind {
    /// The kind in words.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Mass => "a mass",
            Self::Volume => "a volume",
            Self::Molarity => "a molarity",
            Self::MassConcentration => "a mass concentration",
            Self::Percent => "a percentage",
            Self::Amount => "an amount of substance",
            Self::Drops => "a count of drops",
            Self::DropsPerVolume => "drops per millilitre",
            Self::MolarMass => "a molar mass",
            Self::Length => "a length",
            Self::Uptake => "a volume to an area",
            Self::Temperature => "a temperature",
        }
    }
}

/// One written form of a unit.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// As it is written.
    pub symbol: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// The power of ten from this unit to the stored or reference unit of its kind
    /// (micrograms, nanolitres, mol/L, mg/mL, %, mol, drops, drops/mL, g/mol, mm, mL/100 cm², °C).
    pub power: i32,
    /// What besides that power: 254 for an inch, which is 254 tenths of a millimetre; otherwise 1.
    pub times: u32,
}

const fn unit(symbol: &'static str, kind: Kind, power: i32) -> Unit {
    Unit { symbol, kind, power, times: 1 }
}

const UNITS: &[Unit] = &[
    unit("µg", Kind::Mass, 0),
    unit("μg", Kind::Mass, 0), // Greek mu, as some keyboards give it
    unit("ug", Kind::Mass, 0),
    unit("mg", Kind::Mass, 3),
    unit("g", Kind::Mass, 6),
    unit("kg", Kind::Mass, 9),
    unit("nL", Kind::Volume, 0),
    unit("µL", Kind::Volume, 3),
    unit("μL", Kind::Volume, 3),
    unit("uL", Kind::Volume, 3),
    unit("ul", Kind::Volume, 3),
    unit("mL", Kind::Volume, 6),
    unit("ml", Kind::Volume, 6),
    unit("cL", Kind::Volume, 7),
    unit("cl", Kind::Volume, 7),
    unit("L", Kind::Volume, 9),
    unit("l", Kind::Volume, 9),
    unit("M", Kind::Molarity, 0),
    unit("mol/L", Kind::Molarity, 0),
    unit("mol/l", Kind::Molarity, 0),
    unit("mmol/mL", Kind::Molarity, 0),
    unit("mmol/ml", Kind::Molarity, 0),
    unit("mM", Kind::Molarity, -3),
    unit("mmol/L", Kind::Molarity, -3),
    unit("mmol/l", Kind::Molarity, -3),
    unit("mg/mL", Kind::MassConcentration, 0),
    unit("mg/ml", Kind::MassConcentration, 0),
    unit("g/L", Kind::MassConcentration, 0),
    unit("g/l", Kind::MassConcentration, 0),
    unit("g/mL", Kind::MassConcentration, 3),
    unit("g/ml", Kind::MassConcentration, 3),
    unit("%", Kind::Percent, 0),
    unit("mol", Kind::Amount, 0),
    unit("mmol", Kind::Amount, -3),
    unit("drops", Kind::Drops, 0),
    unit("drop", Kind::Drops, 0),
    unit("dr", Kind::Drops, 0),
    unit("drops/mL", Kind::DropsPerVolume, 0),
    unit("drops/ml", Kind::DropsPerVolume, 0),
    unit("dr/mL", Kind::DropsPerVolume, 0),
    unit("dr/ml", Kind::DropsPerVolume, 0),
    unit("g/mol", Kind::MolarMass, 0),
    unit("mm", Kind::Length, 0),
    unit("cm", Kind::Length, 1),
    Unit { symbol: "in", kind: Kind::Length, power: -1, times: 254 },
    unit("mL/100cm2", Kind::Uptake, 0),
    unit("ml/100cm2", Kind::Uptake, 0),
    unit("mL/100cm²", Kind::Uptake, 0),
    unit("ml/100cm²", Kind::Uptake, 0),
    unit("mL/100 cm²", Kind::Uptake, 0),
    unit("mL/m2", Kind::Uptake, -2),
    unit("mL/m²", Kind::Uptake, -2),
    unit("C", Kind::Temperature, 0),
    unit("°C", Kind::Temperature, 0),
];

impl Unit {
    /// The unit written `symbol`. Case counts: `M` is molar, `m` is nothing.
    #[must_use]
    pub fn written(symbol: &str) -> Option<Self> {
        UNITS.iter().copied().find(|unit| unit.symbol == symbol)
    }

    /// Every written form, for tests.
    #[must_use]
    pub fn all() -> &'static [Self] {
        UNITS
    }
}

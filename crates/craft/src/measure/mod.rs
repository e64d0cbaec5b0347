//! Quantities: what a number is, in which unit, and how well it is known.
//!
//! Masses, volumes and money are stored exactly as integers ([`Mass`] in micrograms, [`Volume`] in
//! nanolitres, [`Money`] in minor units of a currency). Derived quantities such as [`Molarity`] are
//! `f64` behind a newtype. Constructors and getters are named by unit, so a bare number never
//! crosses a signature.

mod area;
mod bounds;
mod currency;
mod density;
mod drops;
mod level;
mod mass;
mod money;
mod number;
mod read;
mod said;
mod share;
mod show;
mod span;
mod strength;
mod temperature;
mod uncertain;
mod unit;
mod volume;

pub use area::{Area, Length, Size, Uptake};
pub use bounds::{Bounded, OutOfBounds};
pub use currency::{Currency, CurrencyUnknown, ISO_4217};
pub use density::{
    DeveloperDose, IntegratorUnits, Lightness, LightnessSpread, LogRange, PrintDensity, ReadingNoise, StepDensity,
    ToneInput,
};
pub use drops::{DropCount, DropsPerMillilitre};
pub use level::Level;
pub use mass::Mass;
pub use money::{Money, PricePerMass, PricePerVolume};
pub use number::{Digits, read_digits};
pub use read::{ReadError, Readable, read_price_per_mass, read_price_per_volume};
pub use said::{capitalised, shortened, with_article};
pub use share::{AgentDose, RelativeHumidity, Share};
pub use show::{Shown, decimals_of_step, digits, fixed, percent, significant, with_uncertainty};
pub use span::Span;
pub use strength::{
    Amount, AmountRatio, GramsPer100MlWater, MassConcentration, MassDensity, MassFraction, MolarMass, Molarity,
    PercentByMass, PercentByVolume,
};
pub use temperature::Temperature;
pub use uncertain::{COVERAGE, Uncertain};
pub use unit::{Kind, Unit};
pub use volume::Volume;

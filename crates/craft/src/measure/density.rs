//! Optical densities, the logarithm of an exposure, lightness, and counts of an integrator.

use super::bounds::quantity;
use super::{Bounded, Digits, ReadError, Readable, read_digits, shortened};

quantity!(
    /// Transmission density of a step of a wedge, as it holds back the light of the lamp.
    StepDensity, "step density", "D", density / to_density, 0.0 ..= 6.0
);
quantity!(
    /// Reflection density of a print. A meter set to zero on the paper may read a hair below it.
    PrintDensity, "print density", "D", density / to_density, -0.2 ..= 4.0
);
quantity!(
    /// Standard uncertainty of one reading of a print density.
    ReadingNoise, "noise of a reading", "D", density / to_density, 0.0005 ..= 0.5
);
quantity!(
    /// A span of log10 exposure: what a paper takes from black to white, or a negative has.
    LogRange, "exposure scale", "log H", log_h / to_log_h, 0.0 ..= 6.0
);
quantity!(
    /// CIE 1976 lightness L*.
    Lightness, "lightness", "L*", l_star / to_l_star, 0.0 ..= 120.0
);
quantity!(
    /// Standard uncertainty of a lightness, or a difference between two.
    LightnessSpread, "difference of lightness", "L*", l_star / to_l_star, 0.0 ..= 120.0
);
quantity!(
    /// What is sent to the film, from 0 (the most that prints: darkest on paper) to 1 (nothing: paper white).
    ToneInput, "input", "of full scale", part / to_part, 0.0 ..= 1.0
);
quantity!(
    /// What a light integrator counts. Its units are its own: they are no seconds, and those of two instruments do not compare.
    IntegratorUnits, "integrator count", "units", units / to_units, 0.0 ..= 10000000.0
);
quantity!(
    /// Contrast agent in a litre of developer.
    DeveloperDose, "dose in the developer", "g/L", grams_per_litre / to_grams_per_litre, 0.0001 ..= 500.0
);

fn bare(what: &'static str, forms: &'static str, text: &str) -> Result<Digits, ReadError> {
    let (digits, rest) = read_digits(what, forms, text)?;
    if rest.is_empty() {
        Ok(digits)
    } else {
        Err(ReadError::UnitUnwanted { what, text: shortened(text.trim()), forms })
    }
}

/// Quantities that are written as a bare number.
macro_rules! readable_bare {
    ($type:ident, $forms:literal) => {
        impl Readable for $type {
            const WHAT: &'static str = Self::NAME;
            const FORMS: &'static str = $forms;

            fn read(text: &str) -> Result<Self, ReadError> {
                Ok(Self::from_unit(bare(Self::WHAT, Self::FORMS, text)?.to_f64())?)
            }
        }
    };
}

readable_bare!(StepDensity, "`0.65`");
readable_bare!(PrintDensity, "`1.45`");
readable_bare!(ReadingNoise, "`0.02`");
readable_bare!(LogRange, "`1.65`");
readable_bare!(IntegratorUnits, "`120`");

impl Readable for DeveloperDose {
    const WHAT: &'static str = Self::NAME;
    const FORMS: &'static str = "`0.2g/L`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, rest) = read_digits(Self::WHAT, Self::FORMS, text)?;
        match rest.replace(' ', "").as_str() {
            "g/L" | "g/l" => Ok(Self::from_unit(digits.to_f64())?),
            "" => Err(ReadError::UnitMissing { what: Self::WHAT, text: shortened(text.trim()), forms: Self::FORMS }),
            _ => Err(ReadError::UnitUnknown { what: Self::WHAT, unit: shortened(rest), forms: Self::FORMS }),
        }
    }
}

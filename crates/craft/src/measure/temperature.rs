//! Temperature, in degrees Celsius; Fahrenheit is read as well.

use super::bounds::quantity;
use super::read::read_signed_with_unit;
use super::{Kind, ReadError, Readable};

quantity!(
    /// A temperature.
    Temperature, "temperature", "°C", celsius / to_celsius, -40.0 ..= 150.0
);

impl Temperature {
    /// In kelvin.
    #[must_use]
    pub fn to_kelvin(self) -> f64 {
        self.0 + 273.15
    }
}

impl Readable for Temperature {
    const WHAT: &'static str = "temperature";
    const FORMS: &'static str = "`20C` or `68F`";

    fn read(text: &str) -> Result<Self, ReadError> {
        // Fahrenheit begins elsewhere, so it is no unit of the table, where a unit is a factor.
        let trimmed = text.trim();
        if let Some(number) = trimmed.strip_suffix("°F").or_else(|| trimmed.strip_suffix('F')) {
            let (digits, _) = read_signed_with_unit::<Self>(Kind::Temperature, &alloc::format!("{number} C"))?;
            return Ok(Self::celsius((digits.to_f64() - 32.0) / 1.8)?);
        }
        let (digits, unit) = read_signed_with_unit::<Self>(Kind::Temperature, text)?;
        Ok(Self::celsius(digits.in_unit(unit))?)
    }
}

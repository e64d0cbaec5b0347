//! A closed box with a saturated solution of one salt and some of it left solid.

use crate::measure::{RelativeHumidity, Temperature, Uncertain};
use crate::source::{BOX_OFF, BOX_RANGE, BOX_SALTS, BoxSalt};
use crate::stock::Formula;

/// Such a box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SaltBox {
    salt: &'static BoxSalt,
}

impl SaltBox {
    /// A box with this salt, its crystal water counted or not; none when the table has no such salt.
    #[must_use]
    pub fn with(salt: &Formula) -> Option<Self> {
        let dry = salt.dry();
        let is = |row: &&BoxSalt| row.formula.parse::<Formula>().is_ok_and(|own| own.counts() == dry.counts());
        BOX_SALTS.iter().find(is).map(|salt| Self { salt })
    }

    /// All boxes of the table, from dry to damp.
    pub fn all() -> impl Iterator<Item = Self> {
        BOX_SALTS.iter().map(|salt| Self { salt })
    }

    /// The row it comes from.
    #[must_use]
    pub fn salt(&self) -> &'static BoxSalt {
        self.salt
    }

    /// The humidity over it, ±2 % either way (rectangular); none at a temperature no room has.
    #[must_use]
    pub fn humidity(&self, temperature: Temperature) -> Option<Uncertain<RelativeHumidity>> {
        let (least, most) = BOX_RANGE.value;
        if !(least..=most).contains(&temperature.to_celsius()) {
            return None;
        }
        let percent = self.salt.a * libm::exp(self.salt.b / temperature.to_kelvin());
        let best = RelativeHumidity::percent(percent).ok()?;
        Some(Uncertain::new(best, BOX_OFF.value / libm::sqrt(3.0)))
    }
}

//! Money, exact in minor units of one currency, and the price of a powder.

use super::{Bounded, Currency, Mass, OutOfBounds, Volume};

/// More minor units than this are a slip, whatever the currency.
const MOST_MINOR: i64 = 1_000_000_000_000;

/// A sum of money that is not below zero: a price, a cost, a budget.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money {
    minor: i64,
    currency: Currency,
}

impl Money {
    /// From whole minor units (cents, yen, fils).
    ///
    /// # Errors
    /// [`OutOfBounds`] below zero or beyond 10^12 minor units.
    pub fn minor(minor: i64, currency: Currency) -> Result<Self, OutOfBounds> {
        if (0..=MOST_MINOR).contains(&minor) {
            Ok(Self { minor, currency })
        } else {
            Err(OutOfBounds {
                name: "sum of money",
                unit: "minor units",
                value: minor as f64,
                least: 0.0,
                most: MOST_MINOR as f64,
            })
        }
    }

    /// In whole minor units.
    #[must_use]
    pub fn to_minor(self) -> i64 {
        self.minor
    }

    /// Its currency.
    #[must_use]
    pub fn currency(self) -> Currency {
        self.currency
    }

    /// The sum of both; none between currencies, or beyond what a sum holds.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        let minor = self.minor.checked_add(other.minor).filter(|_| self.currency == other.currency)?;
        Self::minor(minor, self.currency).ok()
    }

    /// What `self` has over `other`; zero when it has less, none between currencies.
    #[must_use]
    pub fn excess_over(self, other: Self) -> Option<Self> {
        (self.currency == other.currency).then(|| Self { minor: (self.minor - other.minor).max(0), ..self })
    }

    /// This sum shared out over a volume, in whole units of its currency per mL; none where there is no volume.
    #[must_use]
    pub fn per_millilitre(self, volume: Volume) -> Option<f64> {
        let unit = libm::pow(10.0, f64::from(self.currency.minor_digits()));
        (!volume.is_zero()).then(|| self.minor as f64 / unit / volume.to_millilitres())
    }
}

impl core::fmt::Display for Money {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let digits = u32::from(self.currency.minor_digits());
        let unit = 10_i64.pow(digits);
        let (major, minor) = (self.minor / unit, self.minor % unit);
        if digits == 0 {
            write!(f, "{major} {}", self.currency)
        } else {
            write!(f, "{major}.{minor:0width$} {}", self.currency, width = digits as usize)
        }
    }
}

impl core::fmt::Display for PricePerMass {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{} for {} g", self.sum, super::significant(self.buys.to_grams(), 7))
    }
}

/// What a mass of powder costs: a sum for a stated mass, kept as it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PricePerMass {
    sum: Money,
    buys: Mass,
}

impl PricePerMass {
    /// `sum` buys `buys`.
    ///
    /// # Errors
    /// [`OutOfBounds`] when that is nothing.
    pub fn new(sum: Money, buys: Mass) -> Result<Self, OutOfBounds> {
        if buys.is_zero() {
            return Err(OutOfBounds { name: "mass for a price", unit: "g", value: 0.0, least: 1e-6, most: Mass::MOST });
        }
        Ok(Self { sum, buys })
    }

    /// The currency of the price.
    #[must_use]
    pub fn currency(self) -> Currency {
        self.sum.currency
    }

    /// Whether it costs nothing.
    #[must_use]
    pub fn is_free(self) -> bool {
        self.sum.minor == 0
    }

    /// The cost of `mass`, rounded to the minor unit (halves up).
    ///
    /// # Errors
    /// [`OutOfBounds`] beyond what [`Money`] holds.
    pub fn cost_of(self, mass: Mass) -> Result<Money, OutOfBounds> {
        let per = i128::from(self.buys.to_micrograms());
        let product = i128::from(self.sum.minor) * i128::from(mass.to_micrograms());
        let minor = (product + per / 2) / per;
        Money::minor(i64::try_from(minor).unwrap_or(i64::MAX), self.sum.currency)
    }

    /// The most that `budget` buys, rounded down to a microgram; none for another currency or a free powder.
    #[must_use]
    pub fn mass_for(self, budget: Money) -> Option<Mass> {
        if budget.currency != self.sum.currency || self.sum.minor == 0 {
            return None;
        }
        let product = i128::from(budget.minor) * i128::from(self.buys.to_micrograms());
        let mass = i64::try_from(product / i128::from(self.sum.minor)).ok()?;
        Mass::micrograms(mass.min((Mass::MOST * 1e6) as i64)).ok()
    }
}

/// What a volume of solution costs: a sum for a stated volume, kept as it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PricePerVolume {
    sum: Money,
    buys: Volume,
}

impl PricePerVolume {
    /// `sum` buys `buys`.
    ///
    /// # Errors
    /// [`OutOfBounds`] when that is nothing.
    pub fn new(sum: Money, buys: Volume) -> Result<Self, OutOfBounds> {
        if buys.is_zero() {
            return Err(OutOfBounds {
                name: "volume for a price",
                unit: "mL",
                value: 0.0,
                least: 1e-6,
                most: Volume::MOST,
            });
        }
        Ok(Self { sum, buys })
    }

    /// The currency of the price.
    #[must_use]
    pub fn currency(self) -> Currency {
        self.sum.currency
    }

    /// The cost of `volume`, rounded to the minor unit (halves up).
    ///
    /// # Errors
    /// [`OutOfBounds`] beyond what [`Money`] holds.
    pub fn cost_of(self, volume: Volume) -> Result<Money, OutOfBounds> {
        let per = i128::from(self.buys.to_nanolitres());
        let product = i128::from(self.sum.minor) * i128::from(volume.to_nanolitres());
        let minor = (product + per / 2) / per;
        Money::minor(i64::try_from(minor).unwrap_or(i64::MAX), self.sum.currency)
    }
}

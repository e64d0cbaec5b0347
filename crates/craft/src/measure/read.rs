//! Reading a quantity from text: a number, then its unit.

use alloc::string::String;

use super::money::Money;
use super::{
    AgentDose, Amount, AmountRatio, Bounded, Currency, CurrencyUnknown, Digits, DropCount, DropsPerMillilitre, Kind,
    Mass, MassConcentration, MassDensity, MassFraction, MolarMass, Molarity, OutOfBounds, PercentByVolume,
    PricePerMass, PricePerVolume, RelativeHumidity, Share, Unit, Volume, read_digits, shortened, with_article,
};

/// A quantity that can be read from what somebody typed.
pub trait Readable: Sized {
    /// What is being read, in words.
    const WHAT: &'static str;
    /// Accepted forms, as examples in backticks.
    const FORMS: &'static str;

    /// Reads it.
    ///
    /// # Errors
    /// [`ReadError`] saying what was found and what was expected.
    fn read(text: &str) -> Result<Self, ReadError>;
}

/// Why a text is not the quantity that was asked for.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it; fields are what it names")]
pub enum ReadError {
    #[error("no {what} was given; expected {forms}")]
    Empty { what: &'static str, forms: &'static str },
    #[error("`{text}` holds no number where {} was expected, as {forms}", with_article(.what))]
    NumberMissing { what: &'static str, text: String, forms: &'static str },
    #[error("`{text}` has two decimal marks; one point or one comma is the decimal mark and digits are never grouped")]
    NumberTwoMarks { what: &'static str, text: String },
    #[error("`{text}` groups its digits; write {} without spaces or marks between the digits", with_article(.what))]
    NumberGrouped { what: &'static str, text: String },
    #[error("`{text}` ends its number with a decimal mark and nothing behind it")]
    NumberUnfinished { what: &'static str, text: String },
    #[error("the number of `{text}` has more than {most} digits; expected {} as it was measured", with_article(.what))]
    NumberTooLong { what: &'static str, text: String, most: usize },
    #[error("`{text}` has no unit; {} carries its unit, as {forms}", with_article(.what))]
    UnitMissing { what: &'static str, text: String, forms: &'static str },
    #[error("`{unit}` is no unit known here for {}; expected {forms}", with_article(.what))]
    UnitUnknown { what: &'static str, unit: String, forms: &'static str },
    #[error("`{text}` is {is}; {} was expected, as {forms}", with_article(.what))]
    UnitOfAnotherKind { what: &'static str, text: String, is: &'static str, forms: &'static str },
    #[error("`{text}` carries a unit; {} is a bare number, as {forms}", with_article(.what))]
    UnitUnwanted { what: &'static str, text: String, forms: &'static str },
    #[error("`{text}` is below zero; {} cannot be", with_article(.what))]
    Negative { what: &'static str, text: String },
    #[error("`{text}` is finer than the {step} this {what} is kept in")]
    FinerThanKept { what: &'static str, text: String, step: &'static str },
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
    #[error("`{text}` is no time; expected `4:00`, `4min30s` or `90s`")]
    TimeMalformed { text: String },
    #[error("`{text}` has {field} where minutes or seconds go up to 59")]
    TimeFieldOver59 { text: String, field: u64 },
    #[error("{0}")]
    CurrencyUnknown(#[from] CurrencyUnknown),
    #[error("`{text}` names no currency; write it after the number, as {forms}")]
    CurrencyMissing { text: String, forms: &'static str },
    #[error("`$` is the sign of many currencies; write the three letters, such as `USD` or `CAD`")]
    CurrencyAmbiguous,
    #[error("`{text}` does not say what the price buys; expected {forms}")]
    PricePerMissing { text: String, forms: &'static str },
    #[error("`{text}` is no size; two sides are written with an x between them, as {forms}")]
    SizeMalformed { text: String, forms: &'static str },
}

impl ReadError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Empty { .. } => "value_missing",
            Self::NumberMissing { .. } => "number_missing",
            Self::NumberTwoMarks { .. } => "number_two_marks",
            Self::NumberGrouped { .. } => "number_grouped",
            Self::NumberUnfinished { .. } => "number_unfinished",
            Self::NumberTooLong { .. } => "number_too_long",
            Self::UnitMissing { .. } => "unit_missing",
            Self::UnitUnknown { .. } => "unit_unknown",
            Self::UnitOfAnotherKind { .. } => "unit_of_another_kind",
            Self::UnitUnwanted { .. } => "unit_unwanted",
            Self::Negative { .. } => "value_negative",
            Self::FinerThanKept { .. } => "value_too_fine",
            Self::OutOfBounds(_) => "value_out_of_bounds",
            Self::TimeMalformed { .. } => "time_malformed",
            Self::TimeFieldOver59 { .. } => "time_field_over_59",
            Self::CurrencyUnknown(_) => "currency_unknown",
            Self::CurrencyMissing { .. } => "currency_missing",
            Self::CurrencyAmbiguous => "currency_ambiguous",
            Self::PricePerMissing { .. } => "price_per_missing",
            Self::SizeMalformed { .. } => "size_malformed",
        }
    }
}

/// A number and a unit of the wanted kind; `Ok(None)` for the unit when there is none.
fn read_parts<Q: Readable>(kind: Kind, text: &str) -> Result<(Digits, Option<Unit>), ReadError> {
    let (digits, unit) = read_signed_parts::<Q>(kind, text)?;
    if digits.is_negative() {
        return Err(ReadError::Negative { what: Q::WHAT, text: shortened(text.trim()) });
    }
    Ok((digits, unit))
}

/// The same for what may lie below zero.
fn read_signed_parts<'t, Q: Readable>(kind: Kind, text: &'t str) -> Result<(Digits, Option<Unit>), ReadError> {
    let (digits, rest): (Digits, &'t str) = read_digits(Q::WHAT, Q::FORMS, text)?;
    let owned = || shortened(text.trim());
    if rest.is_empty() {
        return Ok((digits, None));
    }
    let Some(unit) = Unit::written(rest) else {
        return Err(ReadError::UnitUnknown { what: Q::WHAT, unit: shortened(rest), forms: Q::FORMS });
    };
    if unit.kind != kind {
        return Err(ReadError::UnitOfAnotherKind {
            what: Q::WHAT,
            text: owned(),
            is: unit.kind.name(),
            forms: Q::FORMS,
        });
    }
    Ok((digits, Some(unit)))
}

pub(super) fn read_with_unit<Q: Readable>(kind: Kind, text: &str) -> Result<(Digits, Unit), ReadError> {
    with_unit::<Q>(read_parts::<Q>(kind, text)?, text)
}

pub(super) fn read_signed_with_unit<Q: Readable>(kind: Kind, text: &str) -> Result<(Digits, Unit), ReadError> {
    with_unit::<Q>(read_signed_parts::<Q>(kind, text)?, text)
}

fn with_unit<Q: Readable>(parts: (Digits, Option<Unit>), text: &str) -> Result<(Digits, Unit), ReadError> {
    match parts {
        (digits, Some(unit)) => Ok((digits, unit)),
        (_, None) => Err(ReadError::UnitMissing { what: Q::WHAT, text: shortened(text.trim()), forms: Q::FORMS }),
    }
}

/// Exact quantities: the written number must be a whole count of the stored unit.
fn read_exact<Q: Readable + Bounded>(
    kind: Kind,
    step: &'static str,
    text: &str,
    make: impl FnOnce(i64) -> Result<Q, OutOfBounds>,
) -> Result<Q, ReadError> {
    let (digits, unit) = read_with_unit::<Q>(kind, text)?;
    match digits.to_whole(unit.power) {
        Some(count) => Ok(make(count)?),
        None => {
            // Not whole: either too fine to keep, or too large to count. The bounds know which.
            Q::from_unit(digits.scaled(unit.power - 6))?;
            Err(ReadError::FinerThanKept { what: Q::WHAT, text: shortened(text.trim()), step })
        }
    }
}

impl Readable for Mass {
    const WHAT: &'static str = "mass";
    const FORMS: &'static str = "`5.4g` or `350mg`";

    fn read(text: &str) -> Result<Self, ReadError> {
        read_exact(Kind::Mass, "1 µg", text, Self::micrograms)
    }
}

impl Readable for Volume {
    const WHAT: &'static str = "volume";
    const FORMS: &'static str = "`60mL` or `0.5L`";

    fn read(text: &str) -> Result<Self, ReadError> {
        read_exact(Kind::Volume, "1 nL", text, Self::nanolitres)
    }
}

/// Derived quantities that must carry a unit.
macro_rules! readable_with_unit {
    ($type:ident, $kind:expr, $what:literal, $forms:literal) => {
        impl Readable for $type {
            const WHAT: &'static str = $what;
            const FORMS: &'static str = $forms;

            fn read(text: &str) -> Result<Self, ReadError> {
                let (digits, unit) = read_with_unit::<Self>($kind, text)?;
                Ok(Self::from_unit(digits.scaled(unit.power))?)
            }
        }
    };
}

readable_with_unit!(Molarity, Kind::Molarity, "molarity", "`0.47M` or `0.47 mol/L`");
readable_with_unit!(MassConcentration, Kind::MassConcentration, "metal strength", "`54mg/mL`");
readable_with_unit!(Amount, Kind::Amount, "amount of substance", "`13mmol`");
readable_with_unit!(MolarMass, Kind::MolarMass, "molar mass", "`177.32g/mol`");
readable_with_unit!(DropsPerMillilitre, Kind::DropsPerVolume, "drop size", "`20drops/mL`");
readable_with_unit!(AgentDose, Kind::MassConcentration, "contrast dose", "`0.5mg/mL`");

/// Parts of a whole, written in percent.
macro_rules! readable_in_percent {
    ($type:ident, $what:literal, $forms:literal, $power:literal) => {
        impl Readable for $type {
            const WHAT: &'static str = $what;
            const FORMS: &'static str = $forms;

            fn read(text: &str) -> Result<Self, ReadError> {
                let (digits, unit) = read_with_unit::<Self>(Kind::Percent, text)?;
                Ok(Self::from_unit(digits.scaled(unit.power + $power))?)
            }
        }
    };
}

readable_in_percent!(MassFraction, "purity", "`99%`", -2);
readable_in_percent!(Share, "share", "`90%`", -2);
readable_in_percent!(RelativeHumidity, "relative humidity", "`55%`", 0);

impl Readable for MassDensity {
    const WHAT: &'static str = "density";
    const FORMS: &'static str = "`1.12g/mL`";

    fn read(text: &str) -> Result<Self, ReadError> {
        // The same units as a mass concentration, whose table counts in mg/mL.
        let (digits, unit) = read_with_unit::<Self>(Kind::MassConcentration, text)?;
        Ok(Self::from_unit(digits.scaled(unit.power - 3))?)
    }
}

impl Readable for DropCount {
    const WHAT: &'static str = "count of drops";
    const FORMS: &'static str = "`12drops`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, unit) = read_with_unit::<Self>(Kind::Drops, text)?;
        if digits.to_whole(unit.power).is_none() && digits.to_f64() <= Self::MOST {
            return Err(ReadError::FinerThanKept { what: Self::WHAT, text: shortened(text.trim()), step: "one drop" });
        }
        Ok(Self::from_unit(digits.to_f64())?)
    }
}

impl Readable for PercentByVolume {
    const WHAT: &'static str = "strength in %";
    const FORMS: &'static str = "`15` or `15%`, grams per 100 mL";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, _) = read_parts::<Self>(Kind::Percent, text)?;
        Ok(Self::from_unit(digits.to_f64())?)
    }
}

impl Readable for AmountRatio {
    const WHAT: &'static str = "mole ratio";
    const FORMS: &'static str = "`2.2`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, rest) = read_digits(Self::WHAT, Self::FORMS, text)?;
        if !rest.is_empty() {
            return Err(ReadError::UnitUnwanted { what: Self::WHAT, text: shortened(text.trim()), forms: Self::FORMS });
        }
        if digits.is_negative() {
            return Err(ReadError::Negative { what: Self::WHAT, text: shortened(text.trim()) });
        }
        Ok(Self::from_unit(digits.to_f64())?)
    }
}

impl Readable for Money {
    const WHAT: &'static str = "sum of money";
    const FORMS: &'static str = "`480EUR`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, rest) = read_digits(Self::WHAT, Self::FORMS, text)?;
        read_money(&digits, rest, text, Self::FORMS)
    }
}

fn read_money(digits: &Digits, currency: &str, text: &str, forms: &'static str) -> Result<Money, ReadError> {
    let owned = || shortened(text.trim());
    if digits.is_negative() {
        return Err(ReadError::Negative { what: Money::WHAT, text: owned() });
    }
    let currency = match currency.trim() {
        "" => {
            return Err(ReadError::CurrencyMissing { text: owned(), forms });
        }
        "$" => return Err(ReadError::CurrencyAmbiguous),
        "€" => Currency::code("EUR")?,
        "£" => Currency::code("GBP")?,
        code => Currency::code(code)?,
    };
    let power = i32::from(currency.minor_digits());
    match digits.to_whole(power) {
        // `1,200 EUR`: no price has three decimals of a currency with two; it is a thousand and two hundred.
        Some(_) if digits.decimals() == 3 && power < 3 => {
            Err(ReadError::NumberGrouped { what: Money::WHAT, text: owned() })
        }
        Some(minor) => Ok(Money::minor(minor, currency)?),
        None => {
            // Not whole: too fine for the currency, or too much to count. The bounds know which.
            Money::minor(digits.scaled(power) as i64, currency)?;
            Err(ReadError::FinerThanKept { what: Money::WHAT, text: owned(), step: "smallest coin" })
        }
    }
}

/// Reads what a powder costs: `48EUR/g`, or a jar's price for its content, `480EUR/10g`.
///
/// # Errors
/// [`ReadError`] when the number, the currency or the mass it buys cannot be read.
pub fn read_price_per_mass(text: &str) -> Result<PricePerMass, ReadError> {
    const FORMS: &str = "`48EUR/g` or `480EUR/10g`";
    let (digits, rest) = read_digits("price", FORMS, text)?;
    let owned = || shortened(text.trim());
    let Some((currency, mass)) = rest.split_once('/') else {
        return Err(ReadError::PricePerMissing { text: owned(), forms: FORMS });
    };
    let mass = mass.trim();
    let bought = match Unit::written(mass) {
        Some(unit) if unit.kind == Kind::Mass => Mass::micrograms(10_i64.pow(unit.power.unsigned_abs()))?,
        Some(unit) => {
            let is = unit.kind.name();
            return Err(ReadError::UnitOfAnotherKind { what: "mass", text: shortened(mass), is, forms: FORMS });
        }
        None => Mass::read(mass)?,
    };
    if bought.is_zero() {
        return Err(ReadError::PricePerMissing { text: owned(), forms: FORMS });
    }
    Ok(PricePerMass::new(read_money(&digits, currency, text, FORMS)?, bought)?)
}

/// Reads what a solution costs: `190EUR/100mL`.
///
/// # Errors
/// [`ReadError`] when the number, the currency or the volume it buys cannot be read.
pub fn read_price_per_volume(text: &str) -> Result<PricePerVolume, ReadError> {
    const FORMS: &str = "`190EUR/100mL` or `2EUR/mL`";
    let (digits, rest) = read_digits("price", FORMS, text)?;
    let missing = || ReadError::PricePerMissing { text: shortened(text.trim()), forms: FORMS };
    let (currency, volume) = rest.split_once('/').ok_or_else(missing)?;
    let volume = volume.trim();
    let bought = if volume.starts_with(char::is_alphabetic) {
        Volume::read(&alloc::format!("1 {volume}"))?
    } else {
        Volume::read(volume)?
    };
    if bought.is_zero() {
        return Err(missing());
    }
    Ok(PricePerVolume::new(read_money(&digits, currency, text, FORMS)?, bought)?)
}

//! How full a bottle is.

use super::bounds::quantity;
use super::{Digits, Kind, ReadError, Readable, Unit, read_digits};

quantity!(
    /// How full a bottle is, as a part of full.
    Level, "level", "of full", part / of_full, 0.0 ..= 1.0
);

impl Readable for Level {
    const WHAT: &'static str = "level";
    const FORMS: &'static str = "`60%`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, rest): (Digits, &str) = read_digits(Self::WHAT, Self::FORMS, text)?;
        match Unit::written(rest) {
            Some(unit) if unit.kind == Kind::Percent => Ok(Self::part(digits.scaled(unit.power - 2))?),
            Some(unit) => Err(ReadError::UnitOfAnotherKind {
                what: Self::WHAT,
                text: text.trim().into(),
                is: unit.kind.name(),
                forms: Self::FORMS,
            }),
            None if rest.is_empty() => {
                Err(ReadError::UnitMissing { what: Self::WHAT, text: text.trim().into(), forms: Self::FORMS })
            }
            None => Err(ReadError::UnitUnknown { what: Self::WHAT, unit: rest.into(), forms: Self::FORMS }),
        }
    }
}

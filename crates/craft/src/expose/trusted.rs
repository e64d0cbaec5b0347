//! How long what was found under a lamp is trusted: one rule for base exposures and for responses.

use crate::source::{BASE_TRUSTED_DAYS, LAMP_TRUSTED_HOURS};

/// Whether a lamp has burned so many hours more that it gives another light.
#[must_use]
pub fn lamp_has_aged(hours: f64) -> bool {
    hours >= LAMP_TRUSTED_HOURS.value
}

/// Whether so many days are too many, whatever is written down.
#[must_use]
pub fn has_aged(days: i64) -> bool {
    days > BASE_TRUSTED_DAYS.value
}

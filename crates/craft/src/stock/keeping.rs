//! Which keeping time a solution has.

use super::{Formula, kept_metal};
use crate::measure::PercentByVolume;
use crate::source::{Element, KEEPING, Keeping, Keeps, THIN_PERCENT};

/// How long a solution of this solid keeps; none for solids nothing is known of.
#[must_use]
pub fn keeping(solid: &Formula, strength: Option<PercentByVolume>) -> Option<&'static Keeping> {
    let count = |element: Element| solid.count(element);
    let oxalate = count(Element::FE) > 0.0 && count(Element::C) > 0.0;
    let what = if oxalate && count(Element::N) == 0.0 {
        Keeps::FerricOxalate
    } else if count(Element::PT) > 0.0 && count(Element::N) > 0.0 && count(Element::CL) == 4.0 {
        Keeps::AmmoniumTetrachloroplatinate
    } else if count(Element::PT) > 0.0
        && count(Element::CL) == 6.0
        && strength.is_some_and(|own| own.to_grams_per_100_ml() < THIN_PERCENT.value)
    {
        Keeps::ThinHexachloroplatinate
    } else if kept_metal(solid).is_some() {
        Keeps::MetalStock
    } else {
        return None;
    };
    KEEPING.iter().find(|row| row.what == what)
}

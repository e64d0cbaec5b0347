//! Which keeping time a solution has.

use super::{Formula, classes, kept_metal, prepared};
use crate::measure::PercentByVolume;
use crate::source::{Class, Element, KEEPING, Keeping, Keeps, Role, THIN_PERCENT};

/// How long a solution of this solid keeps; none for solids nothing is known of.
#[must_use]
pub fn keeping(solid: &Formula, strength: Option<PercentByVolume>) -> Option<&'static Keeping> {
    keeping_of(core::slice::from_ref(solid), strength)
}

/// How long a solution of these solids keeps, the one it is named after first; `strength` is that one's.
#[must_use]
pub fn keeping_of(solids: &[Formula], strength: Option<PercentByVolume>) -> Option<&'static Keeping> {
    let solid = solids.first()?;
    let holds = |class: Class| solids.iter().any(|own| classes(own).contains(&class));
    let what = if holds(Class::Iron) && holds(Class::Chlorate) {
        Keeps::IronWithChlorate
    } else if let Some(metal) = metal_keeps(solid, strength) {
        metal
    } else if holds(Class::Chlorate) {
        Keeps::Chlorate
    } else if holds(Class::Peroxide) {
        Keeps::Peroxide
    } else {
        match prepared(solid)?.role {
            Role::Developer if holds(Class::Chromate) => Keeps::DichromateDeveloper,
            Role::Developer => Keeps::Developer,
            Role::Clearing => Keeps::ClearingBath,
            Role::Iron | Role::Contrast | Role::Acid | Role::Toner => return None,
        }
    };
    KEEPING.iter().find(|row| row.what == what)
}

/// Iron and the metals, by what they are made of.
fn metal_keeps(solid: &Formula, strength: Option<PercentByVolume>) -> Option<Keeps> {
    let count = |element: Element| solid.count(element);
    let oxalate = count(Element::FE) > 0.0 && count(Element::C) > 0.0;
    if oxalate && count(Element::N) == 0.0 {
        Some(Keeps::FerricOxalate)
    } else if oxalate && classes(solid).contains(&Class::Oxalate) {
        Some(Keeps::AmmoniumIronOxalate)
    } else if count(Element::PT) > 0.0 && count(Element::N) > 0.0 && count(Element::CL) == 4.0 {
        Some(Keeps::AmmoniumTetrachloroplatinate)
    } else if count(Element::PT) > 0.0
        && count(Element::CL) == 6.0
        && strength.is_some_and(|own| own.to_grams_per_100_ml() < THIN_PERCENT.value)
    {
        Some(Keeps::ThinHexachloroplatinate)
    } else {
        kept_metal(solid).map(|_| Keeps::MetalStock)
    }
}

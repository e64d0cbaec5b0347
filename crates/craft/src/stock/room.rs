//! How much room the solids take in the finished solution: an estimate between two limits.

use super::identity::crystal_density;
use super::{AlkaliChloride, Formula, MetalSalt, molar_mass};
use crate::measure::Mass;
use crate::source::{COMPLEX_SHRINKS, ION_VOLUMES, UNKNOWN_ROOM};

/// Room the dissolved solids take, between `least` and `most`, in mL.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomTaken {
    /// With the ions of the alkali salt as small as in very dilute solution.
    pub least_ml: f64,
    /// With everything as large as it was dry.
    pub most_ml: f64,
}

impl RoomTaken {
    /// Middle of the range.
    #[must_use]
    pub fn middle_ml(self) -> f64 {
        f64::midpoint(self.least_ml, self.most_ml)
    }

    /// Half its width.
    #[must_use]
    pub fn half_width_ml(self) -> f64 {
        (self.most_ml - self.least_ml) / 2.0
    }
}

fn crystal_ml(formula: &Formula, mass: Mass) -> Option<f64> {
    crystal_density(formula).map(|density| mass.to_grams() / density)
}

fn ion_volume(symbol: &str) -> Option<f64> {
    ION_VOLUMES.iter().find(|(known, ..)| *known == symbol).map(|(_, volume, _)| *volume)
}

/// The room taken by so much salt and chloride.
///
/// For the plain chloride of the metal the crystal volume serves as both limits; for a complex salt the
/// lower limit is a quarter less; for the alkali chloride the limits are the ions at infinite dilution (Shock
/// and Helgeson 1988) and the crystal. An estimate, and shown as one.
#[must_use]
pub fn room_taken(salt: &MetalSalt, salt_mass: Mass, chloride: &AlkaliChloride, chloride_mass: Mass) -> RoomTaken {
    let (salt_least, salt_most) = match crystal_ml(salt.formula(), salt_mass) {
        Some(most) if salt.chlorides_needed() > 0.0 => (most, most),
        Some(most) => (most * (1.0 - COMPLEX_SHRINKS.value), most),
        None => (salt_mass.to_grams() * UNKNOWN_ROOM.value.0, salt_mass.to_grams() * UNKNOWN_ROOM.value.1),
    };
    let moles = chloride_mass.to_grams() / molar_mass(chloride.formula()).best.to_grams_per_mole();
    let ions = ion_volume("Cl").zip(ion_volume(chloride.alkali().symbol())).map(|(cl, cation)| moles * (cl + cation));
    let fallback = (chloride_mass.to_grams() * UNKNOWN_ROOM.value.0, chloride_mass.to_grams() * UNKNOWN_ROOM.value.1);
    let most = crystal_ml(chloride.formula(), chloride_mass).unwrap_or(fallback.1);
    let least = ions.unwrap_or(fallback.0).min(most);
    RoomTaken { least_ml: salt_least + least, most_ml: salt_most + most }
}

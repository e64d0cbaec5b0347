//! Drops and droppers: what an official dropper gives.

use super::{Citation, Fact};

/// Mass of one drop of water from an official dropper, in mg, least and most.
///
/// The dropper is held vertically and its outlet measures about 3 mm; 20 drops of water at 15 °C weigh 0.9 to 1.1 g.
pub const DROP_OF_WATER: Fact<(f64, f64)> = Fact {
    value: (45.0, 55.0),
    cite: Citation::seen("usp-1101", "medicine dropper: 45 to 55 mg a drop, 20 drops at 15 °C"),
};
/// The volume a calibrated dropper delivers may be off by this part in normal use.
pub const DROPPER_ERROR: Fact<f64> =
    Fact { value: 0.15, cite: Citation::seen("usp-1101", "volume error of a medicine dropper") };
/// Density of air, in g/mL, for weighing in air.
pub const AIR_DENSITY: Fact<f64> =
    Fact { value: 0.0012, cite: Citation::practice("conventional density of air, 1.2 kg/m³") };
/// Density of the weights a balance was adjusted with, in g/mL.
pub const WEIGHTS_DENSITY: Fact<f64> =
    Fact { value: 8.0, cite: Citation::practice("conventional density of weights, 8000 kg/m³") };
/// How far a reading of the water's temperature may be off, in °C (half width).
pub const WATER_TEMPERATURE_OFF: Fact<f64> =
    Fact { value: 1.0, cite: Citation::practice("a darkroom thermometer, read to a degree") };

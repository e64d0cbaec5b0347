//! The density of water without air, by temperature.

use super::{Citation, Fact};

const TANAKA: Citation = Citation::second_hand("tanaka2001", "equation 1 and its constants, pages 301-309");

/// Constants a1 to a5 of ρ = a5 (1 − (t + a1)² (t + a2) / (a3 (t + a4))), t in °C, ρ in kg/m³.
pub const WATER_DENSITY: Fact<[f64; 5]> =
    Fact { value: [-3.983_035, 301.797, 522_528.9, 69.348_81, 999.974_950], cite: TANAKA };
/// Temperatures between which the equation holds, in °C.
pub const WATER_DENSITY_RANGE: Fact<(f64, f64)> = Fact { value: (0.0, 40.0), cite: TANAKA };

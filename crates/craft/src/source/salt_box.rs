//! Boxes with a saturated salt solution, and the humidity over each.

use super::{Citation, Fact};

/// A salt, and the constants of RH/% = A exp(B / T), T in kelvin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoxSalt {
    /// Formula without water.
    pub formula: &'static str,
    /// A, in %.
    pub a: f64,
    /// B, in kelvin.
    pub b: f64,
    /// What such a box is for.
    pub used_for: &'static str,
    /// Source.
    pub cite: Citation,
}

const fn over(formula: &'static str, a: f64, b: f64, used_for: &'static str) -> BoxSalt {
    BoxSalt { formula, a, b, used_for, cite: Citation::seen("crc-humidity", "constant humidity solutions, A and B") }
}

/// The salts, from dry to damp.
pub const BOX_SALTS: &[BoxSalt] = &[
    over("LiCl", 14.53, -75.0, "checking a hygrometer, dry end"),
    over("MgCl2", 29.26, 34.0, "checking a hygrometer, dry end"),
    over("Ca(NO3)2", 1.89, 981.0, "resting developing-out sheets"),
    over("Mg(NO3)2", 25.28, 220.0, "resting developing-out sheets"),
    over("NaBr", 20.49, 308.0, "resting sheets of either way"),
    over("NH4NO3", 3.54, 853.0, "between the two ways"),
    over("NaCl", 69.20, 25.0, "damping printing-out sheets"),
    over("NH4Cl", 35.67, 235.0, "damping printing-out sheets"),
    over("KCl", 49.38, 159.0, "checking a hygrometer, damp end"),
    over("K2SO4", 86.75, 34.0, "checking a hygrometer, damp end"),
];

/// How far the humidity over such a solution may be off, in % of humidity (half width).
pub const BOX_OFF: Fact<f64> = Fact { value: 2.0, cite: Citation::seen("crc-humidity", "stated with the constants") };
/// Temperatures between which a box is planned, in °C.
pub const BOX_RANGE: Fact<(f64, f64)> =
    Fact { value: (5.0, 40.0), cite: Citation::practice("rooms that people work in") };
/// A damp load of so much water per hour, in mg, pulls a box off by about its own ±.
pub const BOX_LOAD: Fact<f64> = Fact { value: 5.0, cite: Citation::practice("a few milligrams of water an hour") };

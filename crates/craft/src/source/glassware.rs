//! How far a measuring cylinder may be off.

use super::Citation;
use crate::measure::Volume;

/// A graduated cylinder of ordinary (class B) quality.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// Its full capacity, in mL.
    pub capacity_ml: f64,
    /// Tolerance at any mark, in mL: a bound, taken as rectangular.
    pub tolerance_ml: f64,
    /// Source.
    pub cite: Citation,
}

const fn cylinder(capacity_ml: f64, tolerance_ml: f64) -> Cylinder {
    let cite = Citation::second_hand("astm-e1272", "table 1, class B (twice class A)");
    Cylinder { capacity_ml, tolerance_ml, cite }
}

/// Tolerances of class B glass cylinders, ASTM E1272-02(2012) table 1. The figures of ISO 4788 (from memory:
/// 0.5 mL at 25 mL, 1 mL at 50 mL) are wider at some sizes; who owns such a cylinder states its tolerance.
pub const CYLINDERS: &[Cylinder] = &[
    cylinder(5.0, 0.10),
    cylinder(10.0, 0.20),
    cylinder(25.0, 0.34),
    cylinder(50.0, 0.50),
    cylinder(100.0, 1.00),
    cylinder(250.0, 2.00),
    cylinder(500.0, 4.00),
];

/// The largest cylinder of the table, in mL.
pub const LARGEST_CYLINDER_ML: super::Fact<f64> = super::Fact { value: 500.0, cite: CYLINDERS[6].cite };

/// Tolerance of a glass above the table, as a part of the volume: the last row's proportion goes on.
pub const ABOVE_THE_TABLE: super::Fact<f64> = super::Fact {
    value: CYLINDERS[6].tolerance_ml / CYLINDERS[6].capacity_ml,
    cite: Citation {
        key: "astm-e1272",
        place: "the proportion of table 1's last row",
        status: super::Status::Computed,
    },
};

/// The smallest cylinder that holds `volume`; none above the table.
#[must_use]
pub fn cylinder_for(volume: Volume) -> Option<&'static Cylinder> {
    CYLINDERS.iter().find(|cylinder| volume.to_millilitres() <= cylinder.capacity_ml)
}

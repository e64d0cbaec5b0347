//! The mark in a corner of a chart: a drop that runs along the edge.

use super::Spot;
use crate::source::{DROP_LEVEL_MM, DROP_MM};

/// One drop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DropMark {
    /// The middle of its belly.
    pub belly: Spot,
    /// The direction of its tip: to the right and down.
    pub towards: (f64, f64),
    /// Whether a light level line lies across its belly.
    pub hollow: bool,
}

/// How a drop looks whatever its size and turn: by its area and its moments.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DropShape {
    /// Its area, mm².
    pub area_mm2: f64,
    /// The length of its outline, that of the level line with it, mm.
    pub outline_mm: f64,
    /// From the middle of its belly to the middle of its dark area, mm.
    pub middle_mm: f64,
    /// Standard deviation along, as a multiple of that across.
    pub length: f64,
    /// The area as a part of that of an ellipse with the same standard deviations.
    pub fill: f64,
    /// Third moment along, over the third power of the standard deviation.
    pub skew: f64,
}

/// Steps of a millimetre in which areas are summed up.
const STEPS: i32 = 100;

impl DropMark {
    pub(super) fn new(middle: Spot, towards: (f64, f64), hollow: bool) -> Self {
        let (radius, tip) = DROP_MM.value;
        // The middle of its length lies between the tip and the far side of the belly.
        let back = (tip - radius) / 2.0;
        let belly = Spot::new(middle.x_mm - back * towards.0, middle.y_mm - back * towards.1);
        Self { belly, towards, hollow }
    }

    /// Whether a place so far along and across from the middle of the belly is dark.
    fn dark(hollow: bool, along: f64, across: f64) -> bool {
        let (radius, tip) = DROP_MM.value;
        if libm::hypot(along, across) <= radius {
            let (wide, thick) = DROP_LEVEL_MM.value;
            return !(hollow && along.abs() <= thick / 2.0 && across.abs() <= wide / 2.0);
        }
        // Between the two tangents from the tip, from where they touch on: there along = radius² / tip.
        let slope = radius / libm::sqrt(tip * tip - radius * radius);
        along > radius * radius / tip && along <= tip && across.abs() <= (tip - along) * slope
    }

    /// Whether it is dark there.
    #[must_use]
    pub fn holds(&self, at: Spot) -> bool {
        let (x, y) = (at.x_mm - self.belly.x_mm, at.y_mm - self.belly.y_mm);
        Self::dark(self.hollow, x * self.towards.0 + y * self.towards.1, y * self.towards.0 - x * self.towards.1)
    }

    /// The middle of its dark area.
    #[must_use]
    pub fn middle(&self) -> Spot {
        let out = DropShape::of(self.hollow).middle_mm;
        Spot::new(self.belly.x_mm + out * self.towards.0, self.belly.y_mm + out * self.towards.1)
    }

    /// Half its length, mm.
    #[must_use]
    pub fn reach_mm() -> f64 {
        let (radius, tip) = DROP_MM.value;
        (radius + tip) / 2.0
    }

    /// From the middle of its dark area to the middle of its length, towards the tip, mm.
    #[must_use]
    pub fn to_half_mm(&self) -> f64 {
        let (radius, tip) = DROP_MM.value;
        (tip - radius) / 2.0 - DropShape::of(self.hollow).middle_mm
    }
}

impl DropShape {
    /// The shape with or without a level line.
    #[must_use]
    pub fn of(hollow: bool) -> Self {
        let (radius, tip) = DROP_MM.value;
        let slope = radius / libm::sqrt(tip * tip - radius * radius);
        let (wide, thick) = DROP_LEVEL_MM.value;
        let step = 1.0 / f64::from(STEPS);
        let (mut area, mut along, mut squares, mut across, mut cubes) = (0.0, 0.0, 0.0, 0.0, 0.0);
        // Across each place along it the sums are those of a straight piece, or of two where the level line is.
        for own in 0..libm::ceil((tip + radius) * f64::from(STEPS)) as i32 {
            let x = (f64::from(own) + 0.5) * step - radius;
            let round = x <= radius * radius / tip;
            let half =
                if round { libm::sqrt((radius * radius - x * x).max(0.0)) } else { ((tip - x) * slope).max(0.0) };
            let open = if hollow && x.abs() <= thick / 2.0 { (wide / 2.0).min(half) } else { 0.0 };
            let dark = 2.0 * (half - open) * step;
            area += dark;
            along += dark * x;
            squares += dark * x * x;
            cubes += dark * x * x * x;
            across += 2.0 * (half * half * half - open * open * open) / 3.0 * step;
        }
        let middle = along / area;
        let (broad, variance) = (across / area, squares / area - middle * middle);
        let third = cubes / area - 3.0 * middle * squares / area + 2.0 * middle * middle * middle;
        let area_mm2 = area;
        let line = DROP_LEVEL_MM.value;
        let level = if hollow { 2.0 * (line.0 + line.1) } else { 0.0 };
        let belly = 2.0 * (core::f64::consts::PI - libm::acos(radius / tip)) * radius;
        Self {
            area_mm2,
            outline_mm: level + belly + 2.0 * libm::sqrt(tip * tip - radius * radius),
            middle_mm: middle,
            length: libm::sqrt(variance / broad),
            fill: area_mm2 / (4.0 * core::f64::consts::PI * libm::sqrt(variance * broad)),
            skew: third / (variance * libm::sqrt(variance)),
        }
    }
}

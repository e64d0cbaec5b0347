//! What a negative for ink on film needs: how fine its picture must be, and what stands in its border.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// Millimetres of an inch: exact, by its definition.
pub const MM_PER_INCH: Fact<f64> =
    Fact { value: 25.4, cite: Citation::memory("thompson2008", "appendix B.8: 1 in is 2.54 E-02 m, exactly") };
/// Pixels to the inch when nothing is said.
pub const USUAL_PPI: Fact<f64> = usual(720.0, "the step of many ink printers, or its double");
/// Pixels to the inch that are made.
pub const PPI_RANGE: Fact<(f64, f64)> = usual((72.0, 5760.0), "from a proof on a screen to the finest step of a head");
/// A picture with fewer of its own pixels to the inch of the print is seen to be soft.
pub const LEAST_SOURCE_PPI: Fact<f64> =
    usual(180.0, "a print in the hand shows about 360; below half of it edges are soft to the naked eye");
/// Enlarged more than this, edges are what the filter makes of them.
pub const MUCH_ENLARGED: Fact<f64> = usual(4.0, "twice that of a picture of 360 to the inch made at 720");
/// A step between neighbouring tones of an 8-bit picture that may be seen as a step, as a part of the whole range of ink.
pub const STEP_SEEN: Fact<f64> = usual(0.015, "a strong curve on 8 bits shows bands; about four of 255 steps at once");
/// Steps of the border wedge.
pub const WEDGE_STEPS: Fact<usize> = usual(11, "tenths of the tone scale, both ends with them");
/// Width of the border around a picture, mm.
pub const BORDER_MM: Fact<f64> = usual(14.0, "room for a wedge that a meter of 4 mm can read, and to hold the film");
/// Side of a step of the border wedge at most, mm.
pub const WEDGE_STEP_MM: Fact<f64> = usual(8.0, "a meter of 4 mm, with room around it");
/// A border wedge with smaller steps cannot be read, mm.
pub const WEDGE_LEAST_MM: Fact<f64> = usual(3.0, "the smallest openings of meters");
/// Distance of what stands in the border from the picture, mm.
pub const BORDER_GAP_MM: Fact<f64> = usual(2.0, "so that nothing touches the picture when it is trimmed");
/// Length and width of a corner tick, mm.
pub const TICK_MM: Fact<(f64, f64)> = usual((5.0, 0.2), "long enough for a ruler laid from one to the other");
/// Length of the rule that is measured on the film, mm.
pub const RULE_MM: Fact<f64> = usual(100.0, "0.3 mm on it, read with a ruler, is 0.3 %");
/// Side of the code of squares in the border, mm.
pub const CODE_MM: Fact<f64> = usual(10.0, "squares of a third of a millimetre, which a telephone reads");

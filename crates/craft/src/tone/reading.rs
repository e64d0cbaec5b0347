//! One patch of a chart, as it was read on the print.

use alloc::vec::Vec;

use crate::measure::{Length, Lightness, LightnessSpread, ToneInput};

/// Where the middle of a patch lies on the sheet, from its left and its upper edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// From the left.
    pub across: Length,
    /// From above.
    pub down: Length,
}

/// A patch that was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PatchReading {
    /// What was sent to the film.
    pub input: ToneInput,
    /// What is on the print, dry.
    pub lightness: Lightness,
    /// Where the patch lies; none where nobody knows.
    pub place: Option<Place>,
    /// Standard uncertainty of this reading alone, when it is known: a patch of few pixels, a coarse spot.
    pub spread: Option<LightnessSpread>,
}

/// Whether two charts are one: every reading of the shorter stands in the other too, with its input, its lightness and, where both say it, its
/// place.
#[must_use]
pub fn same_readings(one: &[PatchReading], other: &[PatchReading]) -> bool {
    stand_in(one, other, |a, b| (a.input.to_part() - b.input.to_part()).abs() < SAME)
}

/// Whether two charts are one print whatever was sent for it: as [`same_readings`], but inputs are not asked.
#[must_use]
pub fn same_print(one: &[PatchReading], other: &[PatchReading]) -> bool {
    stand_in(one, other, |_, _| true)
}

/// Two numbers nearer than this are one that was written and read again.
const SAME: f64 = 1e-6;

fn stand_in(
    one: &[PatchReading],
    other: &[PatchReading],
    alike: impl Fn(&PatchReading, &PatchReading) -> bool,
) -> bool {
    let (few, many) = if one.len() <= other.len() { (one, other) } else { (other, one) };
    let near = |a: Length, b: Length| (a.to_millimetres() - b.to_millimetres()).abs() < SAME;
    let same = |a: &PatchReading, b: &PatchReading| {
        let here = a.place.zip(b.place).is_none_or(|(a, b)| near(a.across, b.across) && near(a.down, b.down));
        here && alike(a, b) && (a.lightness.to_l_star() - b.lightness.to_l_star()).abs() < SAME
    };
    let mut left: Vec<&PatchReading> = many.iter().collect();
    // A reading that stands twice in the one has to stand twice in the other.
    !few.is_empty()
        && few.iter().all(|own| {
            let found = left.iter().position(|other| same(own, other));
            found.map(|place| left.swap_remove(place)).is_some()
        })
}

//! One patch of a chart, as it was read on the print.

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

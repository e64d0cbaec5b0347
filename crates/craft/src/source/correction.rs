//! Where a correction ends, what another patch is worth, when a response is doubted, and what is said of a fit.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// An end of the paper is reached where nothing further gains more than this, in L*.
pub const NOTHING_GAINED: Fact<f64> =
    usual(0.5, "half of what two neighbouring patches must differ by to be told apart");
/// Over which part of the inputs errors of a fitted lightness go together: a standard deviation of a bell.
pub const ROWS_TOGETHER: Fact<f64> = usual(0.1, "patches of a chart are about so far apart");
/// Which part of the tones a soft end takes.
pub const SOFT_PART: Fact<f64> = usual(0.2, "a zone and a half of ten");
/// Contrast where a soft end arrives, as a part of that in the middle.
pub const SOFT_CONTRAST: Fact<f64> = usual(0.5, "visible, and no tone is lost");
/// Levels among which the next patches are chosen, both ends with them.
pub const NEXT_LEVELS: Fact<usize> = usual(33, "finer than a response bends");
/// Patches proposed at once.
pub const NEXT_MOST: Fact<usize> = usual(64, "half a small sheet");
/// A patch is printed while it lowers the expected error by more than this part.
pub const PATCH_WORTH: Fact<f64> = usual(0.01, "what it costs is a cm² of coated paper and half a minute");
/// Of levels that gain at least this part of what the best one gains, the one that is printed least often so far is taken.
pub const NEXT_ALIKE: Fact<f64> = usual(0.7, "another level checks its neighbours too; the same one again does not");
/// Patches that lower the expected error by less than this altogether are not worth their paper, L*.
pub const NEXT_WORTH: Fact<f64> = usual(0.05, "a twentieth of what is just seen side by side");
/// A print whose readings lie so much nearer to the response without the curve than with it was sent without the curve.
pub const NOT_THROUGH: Fact<f64> = usual(0.5, "a paper that has changed moves both alike");
/// Coated paper one patch takes, in cm², where nothing else is said.
pub const PATCH_AREA: Fact<f64> = usual(1.0, "10 mm each way, its border with it");
/// Fewer patches are called few.
pub const FEW_PATCHES: Fact<usize> = usual(16, "the error of a fit grows fast below");
/// More scatter of a reading than this is much, in L*.
pub const MUCH_NOISE: Fact<f64> = usual(1.0, "hand-coated patches scatter by 2 to 5 % in all, drift with them");
/// A plain alternative that differs by more than this is mentioned, in L*.
pub const PLAIN_FAR: Fact<f64> = usual(2.0, "what an eye sees at once in a grey");
/// So much of the inputs may do nothing at an end before it is mentioned.
pub const UNUSED_INPUT: Fact<f64> = usual(0.15, "a seventh of the ink");
/// A coat that drifts by more than this, in L*, is doubted.
pub const MUCH_DRIFT: Fact<f64> = usual(3.0, "twice what a coat that differs by 5 % does in the middle tones");
/// What is left of a print is noise while it is no more than so many times the noise that is expected.
pub const WITHIN_NOISE: Fact<f64> =
    usual(1.5, "once in some forty prints by chance: about seven tones of a chart are free of each other");

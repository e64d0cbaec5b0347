//! What a chart must show, and what is assumed of papers, coats and readings before the first is seen.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// Different inputs a response needs.
pub const LEAST_INPUTS: Fact<usize> = usual(5, "fewer leave no tone between the ends and the middle");
/// Patches on one sheet.
pub const MOST_PATCHES: Fact<usize> = usual(400, "ninety-six levels four times; a fit works with all pairs of patches");
/// A chart needs an input at or below the first and one at or above the second.
pub const END_INPUTS: Fact<(f64, f64)> = usual((0.1, 0.9), "beyond them the ends of the paper would be guessed");
/// A chart whose darkest and lightest patch differ by less is no print of a chart, in L*.
pub const LEAST_LIGHTNESS_SPAN: Fact<f64> = usual(15.0, "weak prints span 30");
/// Where lightness and density of one patch both stand in a table they may differ by this, in density.
pub const TONES_APART: Fact<f64> =
    usual(0.03, "a last digit each, and a density by the instrument's own light beside a lightness by another");
/// Of so many patches a fit may be made for a mere look; larger charts are fitted where a form asks for it.
pub const LOOKED_AT_MOST: Fact<usize> = usual(40, "a fit of so many takes less than half a second on a small computer");
/// A reading that is as uncertain as this says nothing, L*.
pub const SAYS_NOTHING: Fact<f64> = usual(300.0, "three times from black to white");
/// No number a fit remembers is larger: logarithms, densities and weights of which each is a few at most.
pub const MEMORY_MOST: Fact<f64> = usual(20.0, "five to thirty times what any paper asked for");
/// A fit never speaks of errors or drifts larger than this, L*.
pub const FIT_OFF_MOST: Fact<f64> = usual(200.0, "twice from black to white");

/// What is expected of a number before anything was read: its middle, and its standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expected {
    /// In the middle.
    pub middle: f64,
    /// One standard deviation.
    pub spread: f64,
}

const fn expected(middle: f64, spread: f64) -> Expected {
    Expected { middle, spread }
}

/// Density of white and of black; logarithms of: the power by which input becomes ink, how far black and white lie from the middle of the
/// sigmoid, its skew.
pub const CURVES_EXPECTED: Fact<[Expected; 6]> = usual(
    [
        expected(-0.3, 0.5),
        expected(1.40, 0.20),
        expected(0.05, 0.30),
        expected(0.90, 0.60),
        expected(0.90, 0.60),
        expected(0.0, 0.50),
    ],
    "matte papers reach 1.3 to 1.6 over a base below 0.1; printers and films differ by far more than papers",
);
/// Over which part of the inputs the factor of the slope keeps its size.
pub const FACTOR_LENGTH: Fact<f64> = usual(0.2, "a driver's own curve bends a few times from end to end");
/// The cosines of that factor reach so far beyond both ends, so that its size does not change there.
pub const FACTOR_MARGIN: Fact<f64> = usual(0.2, "one length");
/// Logarithm of the standard deviation of the factor's logarithm.
pub const FACTOR_EXPECTED: Fact<Expected> = usual(expected(-2.0, 0.7), "the slope is within 15 % of the family's");
/// Logarithm of the noise of a reading from patch to neighbouring patch, L*.
pub const NOISE_EXPECTED: Fact<Expected> =
    usual(expected(-1.0, 0.7), "0.2 to 0.7 L*: grain of the paper, a meter's last digit");
/// No reading is better than this, L*: a meter that shows hundredths of a density rounds by more at most tones.
pub const NOISE_LEAST: Fact<f64> = usual(0.05, "0.003 in density, divided by the square root of 12");
/// Logarithm of the standard deviation of the coat's drift, L*.
pub const FIELD_EXPECTED: Fact<Expected> =
    usual(expected(-0.5, 1.0), "a hand-made coat differs by 2 to 5 % over a sheet");
/// Logarithm of the length of that drift, as a part of the chart's longer side.
pub const FIELD_LENGTH_EXPECTED: Fact<Expected> =
    usual(expected(-1.2, 0.6), "a stroke of the brush is a few centimetres wide, and dries from the edge");
/// Readings that are wrong: a speck, a brush mark, a slip of the pen.
pub const OUTLIER_PART: Fact<f64> = usual(0.02, "one or two on a chart of a hundred patches");
/// Standard deviation of the error of such a reading, L*.
pub const OUTLIER_SIZE: Fact<f64> = usual(5.0, "what a speck in the middle of a patch does");
/// What changes in a set-up from one day to the next, as standard deviations of the same numbers as [`CURVES_EXPECTED`].
pub const DRIFTS: Fact<[f64; 6]> =
    usual([0.04, 0.05, 0.07, 0.04, 0.04, 0.04], "ink and film by lot, black by humidity");
/// The contrast's part of that: both distances from the middle together.
pub const CONTRAST_DRIFT: Fact<f64> = usual(0.06, "developer, humidity, age of the sensitizer");
/// And the factor's, as a part of its usual size of 1.
pub const FACTOR_DRIFT: Fact<f64> = usual(0.03, "a driver's own curve stays");
/// An earlier fit is left aside when the readings are likelier without it by more than this (difference of log evidence).
pub const PRIOR_DOUBT: Fact<f64> = usual(3.0, "twenty to one");
/// Where a search starts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Starts {
    /// Black and white, from the middle of the sigmoid.
    pub ends: [(f64, f64); 3],
    /// Powers of the input, with each of the ends.
    pub powers: [f64; 2],
}

/// Where a search for the curve starts: how far black and white lie from the middle of the sigmoid, and the power of the input, all as
/// logarithms.
pub const STARTS: Fact<Starts> = usual(
    Starts { ends: [(0.7, 0.7), (1.5, 0.6), (0.6, 1.5)], powers: [-0.4, 0.3] },
    "whole range, deep black held long, white held long",
);
/// Density of white is written as so much times (an exponential less the second): a tenth or less where paper white is reached, far more
/// where the ink is too thin for it, and a little below zero for a meter that was set on the paper.
pub const WHITE_WRITTEN: Fact<(f64, f64)> = usual((0.2, 0.3), "from -0.06 up");
/// The mean over all sizes is taken for the curve as long as it is no worse than the likeliest by this, as minus twice the logarithm of how likely it is.
pub const MEAN_WORSE: Fact<f64> = usual(6.0, "one standard deviation in each of six unknowns");
/// What part of a drift's variance two patches share whose places nobody knows.
pub const SHEET_SHARED: Fact<f64> = usual(0.35, "the mean over a sheet of a drift whose length is a third of it");
/// Of how many readings one may be left aside.
pub const ASIDE_MOST: Fact<usize> = usual(3, "beyond a third nobody knows which of them are wild");

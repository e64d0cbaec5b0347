//! What a chart to print and scan looks like, in millimetres on the print, and how well a scan of it must be made.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// From the middle of a patch to that of the next, mm.
pub const CHART_PITCH_MM: Fact<f64> = usual(10.0, "ninety-six levels twice on a sheet of 8 by 10 inches");
/// Side of a patch, mm.
pub const CHART_PATCH_MM: Fact<f64> = usual(8.0, "a meter of 4 mm, with 2 mm around it");
/// Side of the inner part of a patch that is measured, mm.
pub const CHART_INNER_MM: Fact<f64> = usual(5.0, "1.5 mm off each edge: no blur of a flat print reaches so far");
/// Width of the band around the patches, mm.
pub const CHART_BAND_MM: Fact<f64> = usual(12.0, "room for a drop, and for white paper around it");
/// Side of a check cell, mm, and how far its middle lies outside the patches.
pub const CHART_CELL_MM: Fact<(f64, f64)> = usual((3.0, 3.5), "2 mm of paper between it and the next patch");
/// Columns and rows that the code of squares takes.
pub const CHART_CODE_CELLS: Fact<(usize, usize)> = usual((3, 2), "a code of 17.5 mm with paper around it");
/// Side of a square of the code, mm.
pub const CHART_SQUARE_MM: Fact<f64> = usual(0.7, "four pixels at 150 to the inch");
/// A drop: radius of its belly, and from the middle of the belly to its tip, mm.
pub const DROP_MM: Fact<(f64, f64)> = usual((2.6, 6.4), "36 pixels across a belly at 180 to the inch");
/// A level line through the belly of the first drop: across the drop and along it, mm.
pub const DROP_LEVEL_MM: Fact<(f64, f64)> = usual((3.4, 1.2), "it stays open when the print is soft");
/// From the corner of the chart to the middle of a drop's length, mm, both ways.
pub const DROP_AT_MM: Fact<f64> = usual(6.5, "2 mm of paper beyond it");
/// Height of the line of words, and from its foot to the lower edge of the chart, mm.
pub const CHART_WORDS_MM: Fact<(f64, f64)> = usual((2.1, 2.2), "read with the naked eye");
/// Height of the line of letters, and from its top to the upper edge of the chart, mm.
pub const CHART_LETTERS_MM: Fact<(f64, f64)> = usual((3.0, 1.8), "read with the naked eye, and 2 mm of paper below it");
/// Orders of the patches that are tried.
pub const CHART_ORDERS: Fact<usize> = usual(64, "more bring two of one level hardly further apart");

/// Fewest pixels to a millimetre of the print.
pub const SCAN_LEAST_PX_PER_MM: Fact<f64> = usual(5.5, "140 to the inch: four pixels to a square of the code");
/// Most blur, as the standard deviation of a point spread, mm.
pub const SCAN_MOST_BLUR_MM: Fact<f64> =
    usual(0.4, "what is measured of a patch begins four times as far from its edge");
/// Most skew: how far a right angle of the chart is from one, degrees.
pub const SCAN_MOST_SKEW: Fact<f64> = usual(6.0, "a lifted or pulled sheet; beyond it pixels are no longer alike");
/// Most that opposite sides differ by, as a part.
pub const SCAN_MOST_TAPER: Fact<f64> = usual(0.08, "an edge lifted by about a centimetre");
/// Most that marks and cells lie off the places the layout has, root mean square, mm.
pub const SCAN_MOST_OFF_MM: Fact<f64> = usual(0.35, "a fifth of what is left out around a patch");
/// Part of the check cells that must be as the layout has them.
pub const SCAN_CELLS_RIGHT: Fact<f64> = usual(0.9, "a hair or a brush mark over one or two of them");
/// Least difference of paper and black, L*.
pub const SCAN_LEAST_CONTRAST: Fact<f64> = usual(15.0, "weak prints span 30");
/// Part of the pixels of one patch, or of the paper, at an end of the scale from which on nothing is known of the tone.
pub const SCAN_CLIPPED_PART: Fact<f64> = usual(0.02, "a few specks of dust are as light or as dark");
/// A pixel further from the middle of its patch than so many standard deviations is dust or a mark.
pub const PATCH_WILD: Fact<f64> = usual(3.0, "of 1,000 pixels of a sound patch, three");
/// Nearer to the middle than this a pixel is never wild, L*.
pub const PATCH_NEVER_WILD: Fact<f64> = usual(0.8, "grain of a smooth paper");
/// Part of wild pixels from which on dust is told of.
pub const PATCH_DUSTY: Fact<f64> = usual(0.03, "a hair across the patch");
/// Part of wild pixels from which on the patch is left aside.
pub const PATCH_SPOILT: Fact<f64> = usual(0.25, "a stroke of the brush over a quarter of it");
/// Scatter inside a patch from which on it is left aside, L*.
pub const PATCH_UNEVEN: Fact<f64> = usual(4.0, "two tones in one patch");
/// Tone from one side of a patch to the other from which on it is told of, L*.
pub const PATCH_SLOPE: Fact<f64> = usual(2.0, "the drift of a coat over a sheet within one patch");
/// Copies of one level further from their middle than so many L* are told of.
pub const COPIES_APART: Fact<f64> = usual(6.0, "three times the drift of a hand-made coat over a sheet");
/// Middle difference of copies from which on nothing is believed, L*.
pub const COPIES_WILD: Fact<f64> = usual(8.0, "patches in another order than the layout has");
/// Least agreement of the order of tones with the order of inputs (Spearman's rank correlation).
pub const ORDER_AGREES: Fact<f64> = usual(0.9, "a chart of tones that rise, with noise");
/// Fall of the light over the chart from which on it is made even, as a part.
pub const LAMP_FALL: Fact<f64> = usual(0.004, "a tenth of an L* of white paper");
/// Powers a scanner's codes may be made with.
pub const SCANNER_GAMMAS: Fact<(f64, f64)> = usual((1.0, 3.0), "from light itself to the steepest a screen had");

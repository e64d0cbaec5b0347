//! How a chart is found on a scan, and when it is not believed. Numbers of judgement: tried with the made-up scans of `scripts/deep/scan`, settled by no
//! publication.

use super::{Citation, Fact, Status};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

const fn computed<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation { key: "", place: what, status: Status::Computed } }
}

/// Pixels of the longer side of what is kept of a scan, at least.
pub const SCAN_SIDE_PX: Fact<u32> = usual(2_000, "seven pixels to a millimetre of the largest chart");
/// Pixels of the longer side of the picture in which marks are looked for, at least.
pub const MARKS_SIDE_PX: Fact<usize> = usual(1_000, "16 pixels across a belly of the largest chart");
/// Parts of the way from dark to light at which dark spots are cut out.
pub const MARK_CUTS: Fact<[f64; 6]> =
    usual([0.25, 0.35, 0.45, 0.55, 0.65, 0.75], "a heavy or a soft print has its edges off the middle");
/// Part of the pixels darker than what is called dark, and lighter than what is called light.
pub const SCAN_ENDS: Fact<f64> = usual(0.01, "less than the four drops cover, more than dust does");
/// Least of a mark's area in pixels, and most as a part of the picture.
pub const MARK_AREAS: Fact<(f64, f64)> = usual((60.0, 0.05), "moments of fewer pixels say little");
/// How far length and fill of a mark, as a part, and its skew may be off.
pub const MARK_OFF: Fact<(f64, f64, f64)> = usual((0.22, 0.08, 0.22), "a drop 5° out of square and 0.28 mm soft");
/// How many times further off a spot may be that only says why no chart was found.
pub const MARK_OFF_LOOSE: Fact<f64> = usual(2.0, "a drop pulled by 10°");
/// Marks that are kept.
pub const MARKS_KEPT: Fact<usize> = usual(40, "ten charts of drops");
/// How far directions of drops may be off, degrees; and where it only says why.
pub const MARK_TURN: Fact<(f64, f64)> = usual((32.0, 45.0), "the diagonal of a long chart, and 6° out of square");
/// Areas of drops of one sheet differ by this factor at most; and where it only says why.
pub const MARK_ALIKE: Fact<(f64, f64)> =
    usual((1.7, 4.0), "they go with the third power of how much smaller an edge is seen");
/// How far from its middle another spot is the same one, as a part of its size.
pub const MARK_SAME: Fact<f64> = usual(0.5, "the same drop cut out at another tone");
/// Where four spots say only why: how many times further apart their sizes may be than those of drops of one sheet, and how far off a direction, degrees.
pub const MARKS_AGREE: Fact<(f64, f64)> = usual((1.3, 15.0), "blur and cut move the size of a drop by a tenth");
/// Least number of drops alike whose size says how coarse a scan is that does not say it itself.
pub const MARKS_TELL: Fact<usize> = usual(3, "a speck or two look like a drop");

/// Parts of the way from dark to light between which a pixel is of an edge.
pub const EDGE_PARTS: Fact<(f64, f64)> = usual((0.2, 0.8), "off the noise of either side");
/// From one of them to the other, in standard deviations of a normal spread.
pub const EDGE_WIDTH: Fact<f64> = computed(1.683, "twice 0.8416, the quantile of the normal distribution at 0.8");
/// Parts of the pixels around a mark that are darker, and as light or darker, than what its tones are held against.
pub const MARK_LEVELS: Fact<(f64, f64)> = usual((0.06, 0.85), "a mark covers a quarter of what is looked at");
/// A pixel less dark than this part, between a mark and paper, is paper.
pub const MARK_PAPER: Fact<f64> = usual(0.15, "noise and grain of paper");
/// Part of all pixels whose rise to the next is less steep than an edge.
pub const STEEPEST_RISE: Fact<f64> = usual(0.999, "a chart has more edge than that, and dust less");
/// How far from the middle of a square of the code looks are taken, as a part of its side.
pub const SQUARE_LOOK: Fact<f64> = usual(0.22, "off the next square by half a pixel at 150 to the inch");
/// Parts of the way from dark to light at which squares are told, in turn.
pub const SQUARE_CUTS: Fact<[f64; 5]> = usual([0.5, 0.4, 0.6, 0.3, 0.7], "a print may be heavier or lighter than half");

/// Around a drop, beyond half its length, mm: what is looked at closely.
pub const AROUND_DROP_MM: Fact<f64> = usual(0.9, "its blur, and less than to the coat's edge");
/// Around the middle of a check cell, mm: what is looked at closely.
pub const AROUND_CELL_MM: Fact<f64> = usual(2.7, "its blur, and less than to the next patch");
/// Side of the inner part of a check cell, mm.
pub const INNER_CELL_MM: Fact<f64> = usual(1.6, "0.7 mm off each edge");
/// What is left out of a cell, in standard deviations and L*.
pub const CELL_TRIM: Fact<(f64, f64)> = usual((3.0, 3.0), "dark or light is all that is asked");
/// A cell further off than so many times the middle distance has dust on it; never below the second, mm.
pub const CELL_WILD: Fact<(f64, f64)> =
    usual((3.0, 0.08), "a speck moves the middle of a cell by a tenth of a millimetre");
/// Standard deviation of the square of a pixel, in pixels: blur that every scan has.
pub const PIXEL_BLUR: Fact<f64> = computed(0.29, "one over the root of twelve");

/// Side of the bare paper that is looked at where four patches meet, mm.
pub const BARE_PAPER_MM: Fact<f64> = usual(1.0, "half a millimetre off each of them");
/// Pixels of a scan that go together.
pub const PIXELS_TOGETHER: Fact<f64> = usual(16.0, "sharpness and averaging make neighbours alike");
/// No reading of a scan is better than this, L*.
pub const SCAN_LEAST_U: Fact<f64> = usual(0.02, "a step of an 8-bit code is twenty times as much; dithered by noise");
/// Most that the light falls off over the chart, as a part.
pub const SCAN_MOST_FALL: Fact<f64> =
    usual(0.25, "no flat-bed has it; a surface of the second degree follows no more than that");
/// Most that bare paper differs from the surface of the light, as a standard deviation, L*.
pub const SCAN_MOST_UNEVEN: Fact<f64> =
    usual(0.6, "a reading off by more than half an L* where the light is not known");

/// Side of the middle of a step of a reference strip, mm.
pub const STRIP_STEP_MM: Fact<f64> = usual(3.0, "a strip of 5 mm steps, a millimetre off each edge");
/// What is left out of such a step, in standard deviations and L*.
pub const STRIP_TRIM: Fact<(f64, f64)> = usual((3.0, 0.8), "as of a patch");
/// How far steps may be from one rising curve, density.
pub const STRIP_OFF: Fact<f64> = usual(0.05, "a third of a step of 0.15");

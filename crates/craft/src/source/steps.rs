//! How a row of steps is found on a scan of a print under a step wedge, and when it is not believed. Numbers of judgement: tried with the made-up scans of
//! `trials`, settled by no publication.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// Parts of the way from dark to light at which a strip is cut out of a scan, in turn.
pub const ROW_CUTS: Fact<[f64; 4]> =
    usual([0.9, 0.8, 0.7, 0.6], "the lightest that still keeps a strip apart from its paper");
/// Of a strip: least length in widths, its area in that of an ellipse as wide and long, and how far off that may be.
pub const ROW_SHAPE: Fact<(f64, f64, f64)> = usual((2.0, 0.955, 0.06), "ten visible steps of 5 mm, 25 mm wide");
/// Least and most of its area, as parts of the scan.
pub const ROW_AREAS: Fact<(f64, f64)> = usual((0.003, 0.9), "a small wedge in the middle of a large scan");
/// Two strips whose middles are nearer than this part of their length are one.
pub const ROW_SAME: Fact<f64> = usual(0.5, "the same strip cut out at another tone");
/// Strips that are looked at closely, the largest first.
pub const ROW_KEPT: Fact<usize> = usual(12, "more than lie on one glass");
/// Tones are looked at beyond the ends of a strip by this part of its length.
pub const ROW_BEYOND: Fact<f64> = usual(0.06, "the paper beyond the first step of 21");
/// Inner part of a row across it, and of a step along it, of which tones are measured.
pub const ROW_INNER: Fact<(f64, f64)> = usual((0.5, 0.6), "a millimetre off each edge of a step of 5 mm");
/// Looks across a row at each of its places.
pub const ROW_LOOKS: Fact<usize> = usual(31, "a hair along the row covers fewer than half of them");
/// Length of a row in windows within which an edge is told from the tones beside it.
pub const ROW_WINDOWS: Fact<f64> = usual(150.0, "a seventh of a step of 21");
/// Least edge, L*, and in middle unrests of the row between edges.
pub const ROW_EDGE: Fact<(f64, f64)> =
    usual((0.8, 3.0), "steps of a foot and a shoulder are less apart, and need not be seen");
/// Fewest and most steps along a row.
pub const ROW_STEPS: Fact<(f64, f64)> = usual((5.0, 45.0), "tablets have 10 to 41");
/// From one length of a step that is tried to the next, as a part.
pub const ROW_TRIED: Fact<f64> = usual(0.004, "a tenth of a step over 21");
/// How far behind the best length of a step, as a part, the longest may be that is taken.
pub const ROW_EVEN: Fact<f64> = usual(0.85, "half of a step fits all edges too");
/// An edge further off its place than the first part of a step is none of the row; the others are so far off at most, root mean square; and at least so many
/// of all, as a part, are of the row.
pub const ROW_OFF: Fact<(f64, f64, f64)> = usual((0.2, 0.07, 0.7), "a speck, a label, a stroke of the brush");
/// Least part of the places between the first and the last edge at which there is one.
pub const ROW_FILLED: Fact<f64> = usual(0.7, "an edge or two under a label or a stroke");
/// Fewest edges.
pub const ROW_LEAST_EDGES: Fact<usize> = usual(5, "a straight print has five tones at 0.30");
/// Most that a row may be turned in its box, degrees; how far it is looked for, and from one turn to the next.
pub const ROW_TURN: Fact<(f64, f64, f64)> =
    usual((4.0, 8.0, 0.1), "a print laid against the edge of the glass by hand");
/// Turns that are tried first, one after the other, degrees.
pub const ROW_TURN_FIRST: Fact<f64> = usual(1.0, "an edge 5 mm long turned by a degree is a pixel wide");
/// Fewest pixels of a step along the row.
pub const ROW_LEAST_PX: Fact<f64> = usual(12.0, "seven of them are measured");
/// Most blur, as the standard deviation of a spread, in lengths of a step.
pub const ROW_MOST_BLUR: Fact<f64> = usual(0.12, "what is measured begins 0.2 of a step from its edges");
/// An edge tells of blur when it is so high, L*.
pub const ROW_BLUR_EDGE: Fact<f64> = usual(3.0, "off the noise of a row");
/// The edge from paper to the first step, as a part of all tones of the row.
pub const ROW_END_EDGE: Fact<f64> = usual(
    0.25,
    "half of an edge that is as soft as may be; no step of a wedge is so much darker than the one before it",
);
/// How far the end of the first step may lie off a place of an edge, in steps.
pub const ROW_END_OFF: Fact<f64> = usual(0.45, "the first step of a tablet may be cut longer or shorter");
/// How far the ends of a box may lie off those of the row where no paper tells them, in steps.
pub const ROW_BOX_OFF: Fact<f64> = usual(0.35, "nearer to one edge than to the next");
/// How much longer than its row a box may be where paper tells the end of it, as a part.
pub const ROW_BOX_ROOM: Fact<f64> =
    usual(0.25, "a box drawn loosely; a tablet of 31 steps is half as long again as one of 21");
/// A step lighter than the one before it by less than nothing: so much darker at most, L*.
pub const ROW_BACK: Fact<f64> = usual(2.0, "an uneven coat under the row");

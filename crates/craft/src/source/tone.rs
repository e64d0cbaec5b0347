//! What a chart must show, and what is assumed of papers, coats and readings before the first is seen.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// Different inputs a response needs.
pub const LEAST_INPUTS: Fact<usize> = usual(5, "fewer leave no tone between the ends and the middle");
/// Patches on one sheet.
pub const MOST_PATCHES: Fact<usize> = usual(1000, "more than any chart has; a fit works with all pairs of patches");
/// A chart needs an input at or below the first and one at or above the second.
pub const END_INPUTS: Fact<(f64, f64)> = usual((0.1, 0.9), "beyond them the ends of the paper would be guessed");
/// A chart whose darkest and lightest patch differ by less is no print of a chart, in L*.
pub const LEAST_LIGHTNESS_SPAN: Fact<f64> = usual(15.0, "weak prints span 30");

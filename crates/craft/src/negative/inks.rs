//! Strips of candidate inks, one under the other, each from no ink to all of it; in pixels of the sheet before it is mirrored.

use alloc::vec::Vec;

use super::{PixelSize, Rect, pixels_of};
use crate::source::{BORDER_GAP_MM, FILM_MARGIN_MM, INK_STEPS, INK_STRIP_MM, LINE_MM};

/// One strip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InkStrip {
    /// The rows of the sheet that are printed in its ink.
    pub rows: (u32, u32),
    /// Where its name is written, above it and in black.
    pub name: Rect,
    /// Its steps, from no ink to all of it.
    pub steps: Vec<Rect>,
}

/// The sheet of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InkSheet {
    /// The whole sheet.
    pub sheet: PixelSize,
    /// The strips from above.
    pub strips: Vec<InkStrip>,
}

impl InkSheet {
    /// So many strips of that length. None when a step would have no pixel, or beyond what a sheet can have.
    #[must_use]
    pub fn of(inks: usize, length_mm: f64, ppi: f64) -> Option<Self> {
        let px = |millimetres: f64| pixels_of(millimetres, ppi).max(1);
        let (margin, gap) = (px(FILM_MARGIN_MM.value), px(BORDER_GAP_MM.value));
        let (letters, high) = (px(LINE_MM.value), px(INK_STRIP_MM.value));
        let count = INK_STEPS.value as u32;
        let step = pixels_of(length_mm, ppi) / count;
        if step == 0 {
            return None;
        }
        let width = step.checked_mul(count)?;
        let mut strips = Vec::new();
        let mut top = margin;
        for _ in 0..inks {
            let name = Rect { left: margin, top, width, height: letters };
            let begin = top.checked_add(letters)?.checked_add(gap)?;
            let end = begin.checked_add(high)?;
            let steps = (0..count).map(|own| Rect { left: margin + own * step, top: begin, width: step, height: high });
            strips.push(InkStrip { rows: (begin, end), name, steps: steps.collect() });
            top = end.checked_add(gap)?.checked_add(gap)?;
        }
        let height = strips.last().map(|own| own.rows.1)?.checked_add(margin)?;
        let width = width.checked_add(margin)?.checked_add(margin)?;
        Some(Self { sheet: PixelSize { width, height }, strips })
    }
}

//! What stands on a chart, row by row, in codes of the film.

use handcoat_craft::source::{CHART_BAND_MM, CHART_SQUARE_MM, CHART_WORDS_MM};
use handcoat_craft::tone::{CODE_SQUARES, ChartFrame, ChartLayout, DropMark, Spot};
use handcoat_pixels::DrawnStrips;

use super::letters::{ADVANCE, HIGH, squares};

/// A rectangle of one code, in pixels: columns and rows from the first to the one after the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Block {
    left: usize,
    right: usize,
    top: usize,
    below: usize,
    code: u16,
}

/// The whole chart.
pub(super) struct ChartDrawn {
    width: usize,
    px_per_mm: f64,
    paper: u16,
    black: u16,
    blocks: Vec<Block>,
    marks: [DropMark; 4],
}

/// What codes the film has where the print is to be paper white, and full black, and for an input between.
pub(super) struct FilmCodes<'a> {
    pub(super) paper: u16,
    pub(super) black: u16,
    pub(super) of: &'a dyn Fn(f64) -> u16,
}

impl ChartDrawn {
    /// The chart with the squares of its code.
    pub(super) fn of(layout: &ChartLayout, code: &[bool], px_per_mm: f64, width: u32, film: &FilmCodes<'_>) -> Self {
        let px = |mm: f64| (mm * px_per_mm).round().max(0.0) as usize;
        let block = |middle: Spot, wide: f64, high: f64, code: u16| Block {
            left: px(middle.x_mm - wide / 2.0),
            right: px(middle.x_mm + wide / 2.0),
            top: px(middle.y_mm - high / 2.0),
            below: px(middle.y_mm + high / 2.0),
            code,
        };
        let mut blocks = Vec::new();
        let (side, cell) = (ChartLayout::patch_side_mm(), ChartLayout::cell_side_mm());
        blocks.extend(layout.patches.iter().map(|own| block(own.at, side, side, (film.of)(own.input.to_part()))));
        blocks.extend(layout.cells.iter().filter(|own| own.dark).map(|own| block(own.at, cell, cell, film.black)));
        let square = CHART_SQUARE_MM.value;
        for (at, _) in code.iter().enumerate().filter(|own| *own.1) {
            let middle = layout.frame.square(at % CODE_SQUARES, at / CODE_SQUARES);
            blocks.push(block(middle, square, square, film.black));
        }
        blocks.extend(words(layout).into_iter().map(|(middle, side)| block(middle, side, side, film.black)));
        let (paper, black, marks) = (film.paper, film.black, layout.frame.marks);
        Self { width: width as usize, px_per_mm, paper, black, blocks, marks }
    }
}

/// The line of words: squares with their middles and their side.
fn words(layout: &ChartLayout) -> Vec<(Spot, f64)> {
    let (high, foot) = CHART_WORDS_MM.value;
    let side = high / HIGH as f64;
    let ChartFrame { width_mm, height_mm, .. } = layout.frame;
    let size = layout.code.size;
    let line = format!("{} {} X {}", layout.code, size.levels(), size.copies());
    // Between the drops, and in the middle.
    let most = ((width_mm - 2.0 * CHART_BAND_MM.value) / (side * ADVANCE as f64)) as usize;
    let line: String = line.chars().take(most).collect();
    let left = (width_mm - line.chars().count() as f64 * ADVANCE as f64 * side) / 2.0;
    let top = height_mm - foot - high;
    let middle = |(column, row): (usize, usize)| Spot {
        x_mm: left + (column as f64 + 0.5) * side,
        y_mm: top + (row as f64 + 0.5) * side,
    };
    squares(&line).into_iter().map(|own| (middle(own), side)).collect()
}

impl DrawnStrips for ChartDrawn {
    fn rows(&self, first: u32, into: &mut [u16]) {
        for (row, out) in (first as usize..).zip(into.chunks_mut(self.width.max(1))) {
            out.fill(self.paper);
            for block in self.blocks.iter().filter(|own| (own.top..own.below).contains(&row)) {
                if let Some(own) = out.get_mut(block.left..block.right.min(self.width)) {
                    own.fill(block.code);
                }
            }
            let y_mm = (row as f64 + 0.5) / self.px_per_mm;
            let reach = 2.0 * DropMark::reach_mm();
            for mark in self.marks.iter().filter(|own| (own.belly.y_mm - y_mm).abs() < reach) {
                let from = ((mark.belly.x_mm - reach) * self.px_per_mm).max(0.0) as usize;
                let to = ((mark.belly.x_mm + reach) * self.px_per_mm) as usize;
                for (column, code) in out.iter_mut().enumerate().take(to).skip(from) {
                    let x_mm = (column as f64 + 0.5) / self.px_per_mm;
                    if mark.holds(Spot { x_mm, y_mm }) {
                        *code = self.black;
                    }
                }
            }
        }
    }
}

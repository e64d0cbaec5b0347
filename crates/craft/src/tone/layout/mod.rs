//! A chart that knows itself: where everything lies on the print, in millimetres from its upper left corner, as a function of what its code of
//! squares says. So an old chart is read without the book.
//!
//! Around the patches runs a ring of small check cells, dark or light by the seed. In the corners four drops run round the sheet clockwise, each with its tip towards
//! the next; the first, at the upper left, has a light level line across its belly. Which way they run tells a mirrored print from a right one.
//!
//! | module | what it holds |
//! |---|---|
//! | `size` | how many levels and copies there are |
//! | `code` | what the code of squares says |
//! | `drop` | the mark in a corner |
//! | `order` | the order of patches by a seed |

mod code;
mod drop;
mod order;
mod size;

use alloc::vec::Vec;

pub use code::{BookTag, ChartCode, ChartInk, LAYOUT_VERSION, NoCode};
pub use drop::{DropMark, DropShape};
pub use size::ChartSize;

use crate::measure::ToneInput;
use crate::source::{
    CHART_BAND_MM, CHART_CELL_MM, CHART_CODE_CELLS, CHART_PATCH_MM, CHART_PITCH_MM, CHART_SQUARE_MM, DROP_AT_MM,
};

/// Squares of a side of the code.
pub const CODE_SQUARES: usize = 25;

/// A place on the print.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// From the left edge of the chart.
    pub x_mm: f64,
    /// From its upper edge.
    pub y_mm: f64,
}

impl Spot {
    pub(super) fn new(x_mm: f64, y_mm: f64) -> Self {
        Self { x_mm, y_mm }
    }
}

/// One patch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChartPatch {
    /// From 1 on, row by row.
    pub number: usize,
    /// What is sent for it, or the tone that is wanted where the chart goes through a curve.
    pub input: ToneInput,
    /// Which of those of its level it is, from 1 on.
    pub copy: usize,
    /// Its middle.
    pub at: Spot,
}

/// A small square of the ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckCell {
    /// Its middle.
    pub at: Spot,
    /// Whether it is dark on the print.
    pub dark: bool,
}

/// What of a chart depends on its size alone: enough to find its code.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartFrame {
    /// The size.
    pub size: ChartSize,
    /// The whole chart across.
    pub width_mm: f64,
    /// And down.
    pub height_mm: f64,
    /// The drops, from the upper left clockwise.
    pub marks: [DropMark; 4],
    /// The middle of the code of squares.
    pub code: Spot,
}

impl ChartFrame {
    /// The frame of a size.
    #[must_use]
    pub fn of(size: ChartSize) -> Self {
        let (pitch, band, at) = (CHART_PITCH_MM.value, CHART_BAND_MM.value, DROP_AT_MM.value);
        let (columns, rows) = size.cells();
        let (width_mm, height_mm) = (columns as f64 * pitch + 2.0 * band, rows as f64 * pitch + 2.0 * band);
        let (right, below) = (width_mm - at, height_mm - at);
        let marks = [
            DropMark::new(Spot::new(at, at), (1.0, 0.0), true),
            DropMark::new(Spot::new(right, at), (0.0, 1.0), false),
            DropMark::new(Spot::new(right, below), (-1.0, 0.0), false),
            DropMark::new(Spot::new(at, below), (0.0, -1.0), false),
        ];
        let (wide, high) = CHART_CODE_CELLS.value;
        let code = Spot::new(width_mm - band - wide as f64 * pitch / 2.0, band + high as f64 * pitch / 2.0);
        Self { size, width_mm, height_mm, marks, code }
    }

    /// Side of the code of squares, mm.
    #[must_use]
    pub fn code_side_mm() -> f64 {
        CODE_SQUARES as f64 * CHART_SQUARE_MM.value
    }

    /// The middle of the square in that column and row of the code.
    #[must_use]
    pub fn square(&self, column: usize, row: usize) -> Spot {
        let from_middle = |own: usize| (own as f64 + 0.5) * CHART_SQUARE_MM.value - Self::code_side_mm() / 2.0;
        Spot::new(self.code.x_mm + from_middle(column), self.code.y_mm + from_middle(row))
    }

    /// Spots of bare paper between the patches, for the light that falls on them: where four of them meet.
    #[must_use]
    pub fn paper(&self) -> Vec<Spot> {
        let (pitch, band) = (CHART_PITCH_MM.value, CHART_BAND_MM.value);
        let (columns, rows) = self.size.cells();
        let (wide, high) = CHART_CODE_CELLS.value;
        let all = (0..=rows).flat_map(|row| (0..=columns).map(move |column| (column, row)));
        // Not inside the code.
        let free =
            all.filter(|(column, row)| !(*column > columns - wide && *column < columns && (1..high).contains(row)));
        free.map(|(column, row)| Spot::new(band + column as f64 * pitch, band + row as f64 * pitch)).collect()
    }
}

/// A chart.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartLayout {
    /// What its code says.
    pub code: ChartCode,
    /// Marks, code and edges.
    pub frame: ChartFrame,
    /// The patches, row by row.
    pub patches: Vec<ChartPatch>,
    /// The ring: above from the left, right from above, below from the left, left from above.
    pub cells: Vec<CheckCell>,
}

impl ChartLayout {
    /// The chart of a code: always the same one.
    #[must_use]
    pub fn of(code: ChartCode) -> Self {
        let frame = ChartFrame::of(code.size);
        let (pitch, band) = (CHART_PITCH_MM.value, CHART_BAND_MM.value);
        let (columns, rows) = code.size.cells();
        let middle = |own: usize| band + (own as f64 + 0.5) * pitch;
        let mut chance = order::Chance::of(code.seed, code.size);
        let placed = order::placed(code.size, &mut chance);
        let levels = code.size.levels();
        let patch = |(number, (cell, own)): (usize, (usize, order::Sent))| {
            // OK because a level is counted from 0 to one less than all.
            let input = ToneInput::part(own.level as f64 / (levels - 1) as f64).expect("BUG: a level beyond its ends");
            let at = Spot::new(middle(cell % columns), middle(cell / columns));
            ChartPatch { number: number + 1, input, copy: own.copy + 1, at }
        };
        let patches = placed.into_iter().enumerate().map(patch).collect();
        let (width, height, out) = (frame.width_mm, frame.height_mm, CHART_CELL_MM.value.1);
        let above = (0..columns).map(|own| Spot::new(middle(own), band - out));
        let right = (0..rows).map(|own| Spot::new(width - band + out, middle(own)));
        let below = (0..columns).map(|own| Spot::new(middle(own), height - band + out));
        let left = (0..rows).map(|own| Spot::new(band - out, middle(own)));
        let ring = above.chain(right).chain(below).chain(left);
        let cells = ring.map(|at| CheckCell { at, dark: chance.next() >> 63 == 1 }).collect();
        Self { code, frame, patches, cells }
    }

    /// Side of a patch, mm.
    #[must_use]
    pub fn patch_side_mm() -> f64 {
        CHART_PATCH_MM.value
    }

    /// Side of a check cell, mm.
    #[must_use]
    pub fn cell_side_mm() -> f64 {
        CHART_CELL_MM.value.0
    }
}

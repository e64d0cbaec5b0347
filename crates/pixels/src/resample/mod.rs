//! Another number of pixels, by separable filters.
//!
//! First down, then across, so that every row of the result is summed once and only a few rows are held. Sums are of 32-bit floating point
//! in a fixed order, taps from the first to the last, whatever the width of the processor's registers: the same bits on every machine.
//! Overshoot is cut at black and white. At the edges the weights that are left are scaled to one, so that an even tone stays even there.

mod kernels;
mod taps;

use std::ops::Range;

pub use taps::Filter;
pub(crate) use taps::Taps;

/// Rows that go through the second pass side by side.
const LANES: usize = 16;

/// From one size to another.
#[derive(Debug)]
pub(crate) struct Resampler {
    across: Taps,
    down: Taps,
}

/// Room for what lies between the two passes.
#[derive(Debug, Default)]
pub(crate) struct Room {
    between: Vec<f32>,
    turned: Vec<f32>,
    out: Vec<u16>,
}

impl Resampler {
    pub(crate) fn new(filter: Filter, from: (u32, u32), to: (u32, u32)) -> Self {
        Self { across: Taps::new(filter, from.0, to.0), down: Taps::new(filter, from.1, to.1) }
    }

    /// The rows of the source that those rows of the result are made of.
    pub(crate) fn window(&self, rows: Range<u32>) -> Range<u32> {
        self.down.window(rows)
    }

    /// Rows of the result. `source` holds the rows of their window, whose first is `first`; `into` whole rows from `row` on.
    pub(crate) fn rows(&self, source: &[u16], first: u32, row: u32, into: &mut [u16], room: &mut Room) {
        let (from_width, to_width) = (self.across.from as usize, self.across.to as usize);
        room.between.resize(LANES * from_width, 0.0);
        let lanes = into.chunks_mut(LANES * to_width);
        for (row, group) in (row..).step_by(LANES).zip(lanes) {
            let count = group.len() / to_width;
            for (row, between) in (row..).zip(room.between.chunks_exact_mut(from_width)).take(count) {
                let (begin, weights) = self.down.of(row);
                let skipped = (begin.saturating_sub(first)) as usize;
                kernels::down(source, from_width, skipped, weights, between);
            }
            kernels::across(&self.across, count, &room.between, &mut room.turned, &mut room.out, group);
        }
    }
}

/// A whole plane of grey, for what is small: previews and checks.
#[must_use]
pub fn resample_plane(filter: Filter, source: &[u16], from: (u32, u32), to: (u32, u32)) -> Vec<u16> {
    if from == to {
        return source.to_vec();
    }
    let mut out = vec![0; to.0 as usize * to.1 as usize];
    Resampler::new(filter, from, to).rows(source, 0, 0, &mut out, &mut Room::default());
    out
}

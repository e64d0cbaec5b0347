//! The order of patches by a seed: in no order of tone, and two of one level as far apart as may be.

use alloc::vec::Vec;

use super::ChartSize;
use crate::source::{CHART_CODE_CELLS, CHART_ORDERS};

/// Numbers that look like chance and are the same everywhere: a counter whose bits are mixed (Steele, Lea and Flood, *Proc. OOPSLA* 2014,
/// 453-472, from memory).
pub(super) struct Chance(u64);

impl Chance {
    pub(super) fn of(seed: u32, size: ChartSize) -> Self {
        Self(u64::from(seed) | (size.levels() as u64) << 32)
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut own = self.0;
        own = (own ^ own >> 30).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        own = (own ^ own >> 27).wrapping_mul(0x94D0_49BB_1331_11EB);
        own ^ own >> 31
    }

    /// A number below this one.
    fn below(&mut self, count: usize) -> usize {
        ((self.next() >> 32) % count as u64) as usize
    }
}

/// What is sent for a patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sent {
    pub(super) level: usize,
    pub(super) copy: usize,
}

/// Each patch with its cell, row by row.
pub(super) fn placed(size: ChartSize, chance: &mut Chance) -> Vec<(usize, Sent)> {
    let (columns, rows) = size.cells();
    let (wide, high) = CHART_CODE_CELLS.value;
    let free = |cell: &usize| cell / columns >= high || cell % columns < columns - wide;
    let cells: Vec<usize> = (0..columns * rows).filter(free).collect();
    let all = (0..size.levels()).flat_map(|level| (0..size.copies()).map(move |copy| Some(Sent { level, copy })));
    let mut order: Vec<Option<Sent>> = all.collect();
    order.resize(cells.len(), None);
    // The square of the least distance between two of one level, in cells: whole numbers, so that no rounding decides.
    let apart = |order: &[Option<Sent>]| {
        let mut least = usize::MAX;
        let taken =
            || order.iter().zip(&cells).enumerate().filter_map(|(at, own)| own.0.map(|sent| (at, sent, *own.1)));
        for (at, one, cell) in taken() {
            for (_, _, other) in taken().skip_while(|own| own.0 <= at).filter(|own| own.1.level == one.level) {
                let (x, y) = ((cell % columns).abs_diff(other % columns), (cell / columns).abs_diff(other / columns));
                least = least.min(x * x + y * y);
            }
        }
        least
    };
    let mut best = (0, order.clone());
    for _ in 0..CHART_ORDERS.value {
        for at in (1..order.len()).rev() {
            order.swap(at, chance.below(at + 1));
        }
        let own = apart(&order);
        if own > best.0 {
            best = (own, order.clone());
        }
    }
    cells.into_iter().zip(best.1).filter_map(|(cell, own)| own.map(|sent| (cell, sent))).collect()
}

//! 16 bits become 8. What a pixel loses its neighbours get, or a mask decides it.

/// Side of the mask.
const SIDE: usize = 64;

/// Ranks 0 to 4,095 of a blue-noise mask of 64 × 64, two bytes each, made by void and cluster (Ulichney 1993, *Proc. SPIE* 1913, 332-343).
/// `tests/it/dither.rs` makes it again.
static MASK: &[u8; SIDE * SIDE * 2] = include_bytes!("blue_noise_64.bin");

/// How 16 bits become 8.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dither {
    /// By a mask of blue noise. Each pixel by itself, so that all cores work on it.
    BlueNoise,
    /// By the error diffusion of Floyd and Steinberg (1976), to and fro, its threshold shaken by the mask so that no worms appear.
    Diffusion,
}

/// The rank of a place, 0 to 4,095.
#[inline]
fn rank(x: usize, y: usize) -> u16 {
    let (ranks, _) = MASK.as_chunks::<2>();
    ranks.get((y % SIDE) * SIDE + x % SIDE).copied().map_or(0, u16::from_le_bytes)
}

/// One row by the mask.
pub(crate) fn blue_noise(y: u32, row: &[u16], into: &mut [u8]) {
    // The row of the mask as thresholds: a rest f of 257 goes up where f × 8192 > (2 rank + 1) × 257.
    let mut thresholds = [0_u32; SIDE];
    for (x, threshold) in thresholds.iter_mut().enumerate() {
        *threshold = (2 * u32::from(rank(x, y as usize)) + 1) * 257;
    }
    for (own, out) in row.chunks(SIDE).zip(into.chunks_mut(SIDE)) {
        for ((code, out), threshold) in own.iter().zip(out).zip(thresholds) {
            let (whole, rest) = (code / 257, u32::from(code % 257));
            *out = (whole + u16::from(rest * 8192 > threshold)) as u8;
        }
    }
}

/// A step of 8 bits in the units of the error: sixteenths of a code of 16 bits.
const STEP: i32 = 257 * 16;

/// What a row leaves to the one below, in the units of the error.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Diffusion {
    now: Vec<i32>,
    next: Vec<i32>,
}

impl Diffusion {
    pub(crate) fn new(width: usize) -> Self {
        Self { now: vec![0; width], next: vec![0; width] }
    }

    /// Goes on from what a row left.
    pub(crate) fn after(left: Vec<i32>) -> Self {
        Self { next: vec![0; left.len()], now: left }
    }

    /// What the last row left.
    pub(crate) fn left(&self) -> &[i32] {
        &self.now
    }

    /// One row. What would be left beyond the edges is dropped.
    pub(crate) fn row(&mut self, y: u32, row: &[u16], into: &mut [u8]) {
        let width = row.len().min(self.now.len()).min(into.len());
        let backward = y % 2 == 1;
        let mut along = 0;
        for step in 0..width {
            let x = if backward { width - 1 - step } else { step };
            let wanted = i32::from(row[x]) * 16 + self.now[x] + along;
            // A quarter of a step up or down.
            let shake = i32::from(rank(x, y as usize)) * (STEP / 2) / 4096 - STEP / 4;
            let code = (wanted + shake + STEP / 2).div_euclid(STEP).clamp(0, 255);
            let left = wanted - code * STEP;
            let (seven, three, five) = (left * 7 / 16, left * 3 / 16, left * 5 / 16);
            into[x] = code as u8;
            along = seven;
            self.next[x] += five;
            // Whole numbers leave a rest, and the last sixteenth takes it.
            let (behind, ahead) = if backward { (x + 1, x.wrapping_sub(1)) } else { (x.wrapping_sub(1), x + 1) };
            if let Some(next) = self.next.get_mut(behind) {
                *next += three;
            }
            if let Some(next) = self.next.get_mut(ahead) {
                *next += left - seven - three - five;
            }
        }
        std::mem::swap(&mut self.now, &mut self.next);
        self.next.fill(0);
    }
}

//! The two passes. `pulp` compiles each once for every kind of processor and asks which it is; nothing is fused, so all give the same bits.

use pulp::Arch;

use super::LANES;
use super::taps::Taps;

/// Pixels of a row that are summed before the next ones: few enough for the nearest cache.
const BLOCK: usize = 1024;
/// Pixels of the result that are made at a time in the second pass.
const STEP: usize = 256;
/// Rows that are added at once.
const TOGETHER: usize = 6;

/// Sums rows of `source`, from the row `skipped` on, into one.
pub(super) fn down(source: &[u16], width: usize, skipped: usize, weights: &[f32], into: &mut [f32]) {
    Arch::new().dispatch(
        #[inline(always)]
        || {
            for (block, out) in into.chunks_mut(BLOCK).enumerate() {
                let begin = block * BLOCK;
                let mut fresh = true;
                for (group, weights) in weights.chunks(TOGETHER).enumerate() {
                    let row = |tap: usize| {
                        let at = (skipped + group * TOGETHER + tap) * width + begin;
                        source.get(at..at + out.len()).unwrap_or_default()
                    };
                    match *weights {
                        [a, b, c, d, e, f] => {
                            add([row(0), row(1), row(2), row(3), row(4), row(5)], [a, b, c, d, e, f], out, fresh);
                        }
                        [a, b, c, d, e] => add([row(0), row(1), row(2), row(3), row(4)], [a, b, c, d, e], out, fresh),
                        [a, b, c, d] => add([row(0), row(1), row(2), row(3)], [a, b, c, d], out, fresh),
                        [a, b, c] => add([row(0), row(1), row(2)], [a, b, c], out, fresh),
                        [a, b] => add([row(0), row(1)], [a, b], out, fresh),
                        [a] => add([row(0)], [a], out, fresh),
                        _ => {}
                    }
                    fresh = false;
                }
            }
        },
    );
}

/// Adds rows, one after the other.
#[inline(always)]
fn add<const N: usize>(rows: [&[u16]; N], weights: [f32; N], out: &mut [f32], fresh: bool) {
    let len = rows.iter().fold(out.len(), |len, row| len.min(row.len()));
    // OK because no row is shorter than `len`.
    let rows = rows.map(|row| &row[..len]);
    // OK because of the same.
    let out = &mut out[..len];
    if fresh {
        for x in 0..len {
            let mut sum = 0.0;
            for tap in 0..N {
                sum += weights[tap] * f32::from(rows[tap][x]);
            }
            out[x] = sum;
        }
    } else {
        for x in 0..len {
            let mut sum = out[x];
            for tap in 0..N {
                sum += weights[tap] * f32::from(rows[tap][x]);
            }
            out[x] = sum;
        }
    }
}

/// Up to [`LANES`] rows across. They are turned, so that the same pixel of all rows lies together and one weight serves all.
pub(super) fn across(
    taps: &Taps,
    rows: usize,
    between: &[f32],
    turned: &mut Vec<f32>,
    out: &mut Vec<u16>,
    into: &mut [u16],
) {
    let (from_width, to_width) = (taps.from as usize, taps.to as usize);
    out.resize(STEP * LANES, 0);
    Arch::new().dispatch(
        #[inline(always)]
        || {
            let firsts = taps.first.chunks(STEP);
            let weights = taps.weights.chunks(STEP * taps.count);
            for (step, (firsts, weights)) in firsts.zip(weights).enumerate() {
                let (Some(&begin), Some(&last)) = (firsts.first(), firsts.last()) else { continue };
                let span = (last - begin) as usize + taps.count;
                turned.resize((span * LANES).max(turned.len()), 0.0);
                for (lane, row) in between.chunks_exact(from_width).take(rows).enumerate() {
                    let own = row.iter().skip(begin as usize).take(span);
                    for (own, to) in own.zip(turned.chunks_exact_mut(LANES)) {
                        to[lane] = *own;
                    }
                }
                let (pixels, _) = turned.as_chunks::<LANES>();
                let (made, _) = out.as_chunks_mut::<LANES>();
                for ((&first, weights), made) in firsts.iter().zip(weights.chunks_exact(taps.count)).zip(made) {
                    let mut sum = [0.0_f32; LANES];
                    let own = pixels.get((first - begin) as usize..).unwrap_or_default();
                    for (weight, pixel) in weights.iter().zip(own) {
                        for lane in 0..LANES {
                            sum[lane] += weight * pixel[lane];
                        }
                    }
                    for lane in 0..LANES {
                        // Kept to the ends first, so that the cast has nothing to cut.
                        made[lane] = (sum[lane].clamp(0.0, 65535.0) + 0.5) as u16;
                    }
                }
                for (lane, row) in into.chunks_exact_mut(to_width).enumerate() {
                    let place = row.iter_mut().skip(step * STEP).take(firsts.len());
                    for (to, made) in place.zip(out.chunks_exact(LANES)) {
                        *to = made[lane];
                    }
                }
            }
        },
    );
}

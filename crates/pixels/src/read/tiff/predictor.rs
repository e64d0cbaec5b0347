//! Differences become samples again.

use crate::header::Depth;

use super::layout::Predictor;

/// Undoes the predictor on one row of a chunk. `samples` are those of a pixel in it.
pub(super) fn undo(
    predictor: Predictor,
    depth: Depth,
    big_endian: bool,
    samples: usize,
    row: &mut [u8],
    spare: &mut Vec<u8>,
) {
    match predictor {
        Predictor::None => {}
        Predictor::Horizontal => match (depth.bytes(), big_endian) {
            (1, _) => add::<1>(row, samples, |sample| u64::from(sample[0]), |sum| [sum as u8]),
            (2, false) => {
                add::<2>(row, samples, |own| u64::from(u16::from_le_bytes(own)), |sum| (sum as u16).to_le_bytes());
            }
            (2, true) => {
                add::<2>(row, samples, |own| u64::from(u16::from_be_bytes(own)), |sum| (sum as u16).to_be_bytes());
            }
            (4, false) => {
                add::<4>(row, samples, |own| u64::from(u32::from_le_bytes(own)), |sum| (sum as u32).to_le_bytes());
            }
            (4, true) => {
                add::<4>(row, samples, |own| u64::from(u32::from_be_bytes(own)), |sum| (sum as u32).to_be_bytes());
            }
            (_, false) => add::<8>(row, samples, u64::from_le_bytes, u64::to_le_bytes),
            (_, true) => add::<8>(row, samples, u64::from_be_bytes, u64::to_be_bytes),
        },
        Predictor::Float => {
            add::<1>(row, samples, |sample| u64::from(sample[0]), |sum| [sum as u8]);
            spare.clear();
            spare.extend_from_slice(row);
            let bytes = depth.bytes();
            let count = row.len() / bytes;
            for (plane, own) in spare.chunks_exact(count.max(1)).take(bytes).enumerate() {
                let place = if big_endian { plane } else { bytes - 1 - plane };
                for (sample, &byte) in row.chunks_exact_mut(bytes).zip(own) {
                    sample[place] = byte;
                }
            }
        }
    }
}

/// Running sums, one for each sample of a pixel.
fn add<const N: usize>(row: &mut [u8], samples: usize, get: impl Fn([u8; N]) -> u64, put: impl Fn(u64) -> [u8; N]) {
    let (units, _) = row.as_chunks_mut::<N>();
    if samples == 1 {
        let mut sum = 0_u64;
        for unit in units {
            sum = sum.wrapping_add(get(*unit));
            *unit = put(sum);
        }
        return;
    }
    for first in 0..samples {
        let mut sum = 0_u64;
        for unit in units.iter_mut().skip(first).step_by(samples) {
            sum = sum.wrapping_add(get(*unit));
            *unit = put(sum);
        }
    }
}

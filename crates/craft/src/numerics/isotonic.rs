//! Isotonic regression: the nearest values, in weighted squares, that never fall (or never rise).
//!
//! Pool-adjacent-violators (Ayer, Brunk, Ewing, Reid and Silverman, *Ann. Math. Statist.* 26 (1955) 641-647): neighbours out of
//! order are pooled at their weighted mean until none is.

use alloc::vec::Vec;

/// Which way values go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Never falling.
    Up,
    /// Never rising.
    Down,
}

/// Values in order, and where each block of equal values begins.
#[derive(Clone, Debug, PartialEq)]
pub struct Isotonic {
    /// One value for each that was given.
    pub values: Vec<f64>,
    /// Where each block begins; the count of all values at the end.
    pub blocks: Vec<usize>,
}

/// Sum of weights, weighted mean, count.
struct Block {
    weight: f64,
    mean: f64,
    count: usize,
}

/// The nearest values that go one way; without weights every value counts the same. None when counts differ, when a weight is not
/// above zero, or when something is not finite.
#[must_use]
pub fn isotonic(values: &[f64], weights: Option<&[f64]>, direction: Direction) -> Option<Isotonic> {
    let sound = |own: &[f64]| own.len() == values.len() && own.iter().all(|own| own.is_finite() && *own > 0.0);
    if values.iter().any(|own| !own.is_finite()) || !weights.is_none_or(sound) {
        return None;
    }
    let sign = match direction {
        Direction::Up => 1.0,
        Direction::Down => -1.0,
    };
    let mut blocks: Vec<Block> = Vec::with_capacity(values.len());
    for (place, value) in values.iter().enumerate() {
        let weight = weights.and_then(|own| own.get(place)).copied().unwrap_or(1.0);
        let mut last = Block { weight, mean: sign * value, count: 1 };
        while let Some(before) = blocks.pop_if(|before| before.mean >= last.mean) {
            let weight = before.weight + last.weight;
            let mean = (before.weight * before.mean + last.weight * last.mean) / weight;
            last = Block { weight, mean, count: before.count + last.count };
        }
        blocks.push(last);
    }
    let mut found = Isotonic { values: Vec::with_capacity(values.len()), blocks: Vec::from([0]) };
    for block in &blocks {
        found.values.extend(core::iter::repeat_n(sign * block.mean, block.count));
        found.blocks.push(found.values.len());
    }
    if values.is_empty() {
        found.blocks.clear();
    }
    Some(found)
}

//! Which pixels make a pixel, and how much each counts.

use std::f64::consts::PI;
use std::ops::Range;

/// How the pixels around a place make the pixel there. When a picture becomes smaller, filters are widened by as much.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Filter {
    /// sinc(x) sinc(x/3) for |x| < 3 (Lanczos 1956; Duchon 1979): the sharpest.
    #[default]
    Lanczos3,
    /// The cubic convolution of Keys (1981) with a = −1/2: nearly as sharp, with less of a rim.
    Cubic,
    /// Straight lines between pixels.
    Linear,
    /// The mean over the area that a pixel covers: no rims, for pictures that become much smaller.
    Area,
}

impl Filter {
    fn reach(self) -> f64 {
        match self {
            Self::Lanczos3 => 3.0,
            Self::Cubic => 2.0,
            Self::Linear => 1.0,
            Self::Area => 0.5,
        }
    }

    /// The weight at a distance, where one is the width of a pixel.
    fn weight(self, distance: f64) -> f64 {
        let x = distance.abs();
        match self {
            Self::Lanczos3 if x < 1e-12 => 1.0,
            Self::Lanczos3 if x < 3.0 => 3.0 * libm::sin(PI * x) * libm::sin(PI * x / 3.0) / (PI * PI * x * x),
            Self::Cubic if x < 1.0 => (1.5 * x - 2.5) * x * x + 1.0,
            Self::Cubic if x < 2.0 => ((-0.5 * x + 2.5) * x - 4.0) * x + 2.0,
            Self::Linear if x < 1.0 => 1.0 - x,
            _ => 0.0,
        }
    }
}

/// The weights of one direction: for each pixel of the result as many as for any other, some of them nothing.
#[derive(Debug)]
pub(crate) struct Taps {
    pub(super) from: u32,
    pub(super) to: u32,
    /// Weights of a pixel.
    pub(super) count: usize,
    /// The first pixel of the source for each of the result.
    pub(super) first: Vec<u32>,
    pub(super) weights: Vec<f32>,
}

impl Taps {
    pub(crate) fn new(filter: Filter, from: u32, to: u32) -> Self {
        let exact = |place: u32| taps_of(filter, from, to, place);
        let count = (0..to).map(|place| exact(place).1.len()).max().unwrap_or(1);
        let mut first = Vec::with_capacity(to as usize);
        let mut weights = vec![0.0; to as usize * count];
        for (place, into) in (0..to).zip(weights.chunks_exact_mut(count)) {
            let (begin, own) = exact(place);
            // At the right edge the row of weights begins earlier, so that it ends inside.
            let moved = begin.min(from - count as u32);
            first.push(moved);
            for (to, weight) in into.iter_mut().skip((begin - moved) as usize).zip(own) {
                *to = weight as f32;
            }
        }
        Self { from, to, count, first, weights }
    }

    /// The first pixel and the weights of one pixel of the result.
    pub(super) fn of(&self, place: u32) -> (u32, &[f32]) {
        let weights = self.weights.chunks_exact(self.count).nth(place as usize).unwrap_or_default();
        (self.first.get(place as usize).copied().unwrap_or(0), weights)
    }

    pub(super) fn window(&self, places: Range<u32>) -> Range<u32> {
        if places.is_empty() {
            return 0..0;
        }
        let (begin, last) = (self.of(places.start).0, self.of(places.end - 1).0);
        begin..last + self.count as u32
    }
}

/// The first pixel and its weights in double precision, adding up to one.
fn taps_of(filter: Filter, from: u32, to: u32, place: u32) -> (u32, Vec<f64>) {
    let step = f64::from(from) / f64::from(to);
    let (begin, mut weights): (u32, Vec<f64>) = if filter == Filter::Area {
        let (low, high) = (f64::from(place) * step, f64::from(place + 1) * step);
        let begin = (low as u32).min(from - 1);
        let end = (libm::ceil(high) as u32).clamp(begin + 1, from);
        let share = |own: u32| (high.min(f64::from(own + 1)) - low.max(f64::from(own))).max(0.0);
        (begin, (begin..end).map(share).collect())
    } else {
        let widened = step.max(1.0);
        let middle = (f64::from(place) + 0.5) * step;
        let reach = filter.reach() * widened;
        let begin = (libm::floor(middle - reach + 0.5).max(0.0) as u32).min(from - 1);
        let end = (libm::floor(middle + reach + 0.5) as u32).clamp(begin + 1, from);
        (begin, (begin..end).map(|own| filter.weight((f64::from(own) + 0.5 - middle) / widened)).collect())
    };
    let sum: f64 = weights.iter().sum();
    weights.iter_mut().for_each(|weight| *weight /= sum);
    (begin, weights)
}

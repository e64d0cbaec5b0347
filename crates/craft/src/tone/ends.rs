//! An end of the scale whose only reading was left aside.
//!
//! In the middle neighbours on both sides say that a reading is wrong; at an end there is none beyond it. So what is known there is what the
//! fit knows without that reading, and besides the way an end may go that nobody has seen: from standing still at the outermost reading that
//! was kept, for no response falls, to the reading itself where that lies further out. Anything between is as likely (a rectangular
//! distribution: JCGM 100:2008, 4.3.7, from memory), and the way begins at the outermost reading that was kept.

use alloc::vec;
use alloc::vec::Vec;

use super::gauss::Model;
use super::response::RESPONSE_ROWS;
use crate::source::SAYS_NOTHING;

/// A row whose variance is larger by no more than this part is as the fit has it.
const AS_IT_WAS: f64 = 1e-6;

/// Readings that were left aside although they alone are of the darkest or of the lightest input.
pub(super) fn ends_aside(inputs: &[f64], aside: &[usize]) -> Vec<usize> {
    let (least, most) = outermost(inputs.iter().copied());
    let alone = |own: &&usize| {
        inputs
            .get(**own)
            .is_some_and(|at| (*at == least || *at == most) && inputs.iter().filter(|other| *other == at).count() == 1)
    };
    aside.iter().filter(alone).copied().collect()
}

fn outermost(inputs: impl Iterator<Item = f64>) -> (f64, f64) {
    inputs.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), own| (a.min(own), b.max(own)))
}

impl Model {
    /// Inputs of the readings, counted in rows.
    fn along(&self) -> Vec<f64> {
        self.rows.iter().map(|(row, part)| *row as f64 + part).collect()
    }

    /// Lets the readings that were left aside at an end say nothing at all.
    pub(super) fn forget_ends(&mut self) {
        for place in ends_aside(&self.along(), &self.outliers()) {
            if let Some(own) = self.own_variance.get_mut(place) {
                *own += SAYS_NOTHING.value * SAYS_NOTHING.value;
            }
        }
    }

    /// How far each row may lie off, one standard deviation, beyond what the fit knows: at black, at white; nothing where no end was left
    /// aside. `residuals` are the readings less curve and drift.
    pub(super) fn end_doubts(&self, lightness: &[f64], residuals: &[f64]) -> Option<[Vec<f64>; 2]> {
        let (inputs, aside) = (self.along(), self.outliers());
        let ends = ends_aside(&inputs, &aside);
        // An earlier fit saw that end on another sheet.
        if ends.is_empty() || self.earlier.is_some() {
            return None;
        }
        let kept = inputs.iter().enumerate().filter(|(place, _)| !aside.contains(place));
        let (least, most) = outermost(kept.map(|own| *own.1));
        let light = |row: f64| lightness.get(row as usize).copied().unwrap_or(0.0);
        let mut doubts = [vec![0.0; RESPONSE_ROWS], vec![0.0; RESPONSE_ROWS]];
        for place in ends {
            let (Some(at), Some(off)) = (inputs.get(place).copied(), residuals.get(place).copied()) else { continue };
            let white = at > most;
            let (inner, outward) = if white { (most, off) } else { (least, -off) };
            let way = (light(at) - light(inner)).abs().max(outward) / libm::sqrt(3.0);
            let Some(own) = doubts.get_mut(usize::from(white)) else { continue };
            for (row, own) in own.iter_mut().enumerate() {
                *own = way * ((row as f64 - inner) / (at - inner)).max(0.0);
            }
        }
        Some(doubts)
    }
}

/// What rows are doubted beyond the covariance of a fit, out of their standard uncertainty: of the darker half and of the lighter, which
/// have nothing to do with each other.
pub(super) fn beyond<V: Fn(usize) -> f64>(standard: &[f64], variance: V) -> impl Fn(usize, usize) -> f64 + use<V> {
    let more = standard.iter().enumerate().map(|(row, own)| {
        let (all, known) = (own * own, variance(row));
        if all > known * (1.0 + AS_IT_WAS) + AS_IT_WAS { libm::sqrt(all - known) } else { 0.0 }
    });
    let more: Vec<f64> = more.collect();
    move |a, b| {
        let own = |row: usize| more.get(row).copied().unwrap_or(0.0);
        if (a < RESPONSE_ROWS / 2) == (b < RESPONSE_ROWS / 2) { own(a) * own(b) } else { 0.0 }
    }
}

//! What a print will look like: wanted tone, what is sent for it, how light that prints, and its tint.

use alloc::vec::Vec;

use super::{Correction, Response};
use crate::colour::{Lab, Srgb8};
use crate::measure::{Bounded as _, ToneInput};
use crate::numerics::Pchip;

/// The tint of a print by how light it is: a* and b* beside L*. Straight lines between what is known, level beyond it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tint(Vec<Lab>);

impl Tint {
    /// The same a* and b* for all tones.
    #[must_use]
    pub fn even(a_star: f64, b_star: f64) -> Self {
        Self([Lab { l_star: 0.0, a_star, b_star }].into())
    }

    /// From patches that were read: those of one input are taken together, in the order of how light they are.
    #[must_use]
    pub fn read(patches: &[(ToneInput, Lab)]) -> Self {
        let mut inputs: Vec<f64> = patches.iter().map(|own| own.0.to_part()).collect();
        inputs.sort_by(f64::total_cmp);
        inputs.dedup();
        let mut known: Vec<Lab> = Vec::new();
        for input in inputs {
            let same = || patches.iter().filter(|own| own.0.to_part() == input).map(|own| own.1);
            let count = same().count().max(1) as f64;
            let mean = |of: fn(Lab) -> f64| same().map(of).sum::<f64>() / count;
            known.push(Lab {
                l_star: mean(|own| own.l_star),
                a_star: mean(|own| own.a_star),
                b_star: mean(|own| own.b_star),
            });
        }
        known.sort_by(|one, other| one.l_star.total_cmp(&other.l_star));
        Self(known)
    }

    /// What is known, the darkest first; nothing of a neutral print.
    #[must_use]
    pub fn known(&self) -> &[Lab] {
        &self.0
    }

    /// The same from what [`Tint::known`] gave.
    #[must_use]
    pub fn of(mut known: Vec<Lab>) -> Self {
        known.sort_by(|one, other| one.l_star.total_cmp(&other.l_star));
        Self(known)
    }

    /// The colour of a lightness.
    #[must_use]
    pub fn at(&self, l_star: f64) -> Lab {
        let above = self.0.iter().position(|own| own.l_star > l_star).unwrap_or(self.0.len());
        let below = above.checked_sub(1).and_then(|own| self.0.get(own));
        match (below, self.0.get(above)) {
            (Some(one), Some(other)) => {
                let part = (l_star - one.l_star) / (other.l_star - one.l_star);
                let between = |one: f64, other: f64| one + part * (other - one);
                Lab { l_star, a_star: between(one.a_star, other.a_star), b_star: between(one.b_star, other.b_star) }
            }
            (Some(own), None) | (None, Some(own)) => Lab { l_star, ..*own },
            (None, None) => Lab { l_star, a_star: 0.0, b_star: 0.0 },
        }
    }
}

/// What a set-up makes of wanted tones.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// L* for inputs at even distances, as [`Response::lightness`] has them.
    pub lightness: Vec<f64>,
    /// What is sent for a tone; nothing where tones are sent as they are.
    pub curve: Vec<(ToneInput, ToneInput)>,
    /// The tint.
    pub tint: Tint,
}

impl Proof {
    /// Of a response, through a correction or none.
    #[must_use]
    pub fn of(response: &Response, correction: Option<&Correction>, tint: Tint) -> Self {
        let part = |own: f64| ToneInput::part(own.clamp(ToneInput::LEAST, ToneInput::MOST)).ok();
        let rows = correction.map(Correction::inputs).unwrap_or_default().iter().enumerate();
        let curve = rows.filter_map(|(row, sent)| part(Correction::tone_of(row)).zip(part(*sent))).collect();
        Self { lightness: response.lightness().to_vec(), curve, tint }
    }

    /// The tones that are wanted, as a screen has room for them: L* from 0 to 100, neutral.
    #[must_use]
    pub fn wanted() -> Self {
        Self { lightness: [0.0, 100.0].into(), curve: Vec::new(), tint: Tint::default() }
    }

    /// The colours of codes of 16 bits. None where the points are no curve, or nothing says how light anything prints.
    #[must_use]
    pub fn colours(&self) -> Option<Vec<Srgb8>> {
        let (x, y): (Vec<f64>, Vec<f64>) = self.curve.iter().map(|own| (own.0.to_part(), own.1.to_part())).unzip();
        let curve = if x.is_empty() { None } else { Some(Pchip::through(&x, &y).ok()?) };
        let last = self.lightness.len().checked_sub(1)?;
        let colour = |code: u16| {
            let tone = f64::from(code) / f64::from(u16::MAX);
            let sent = curve.as_ref().map_or(Some(tone), |own| own.at(tone))?.clamp(0.0, 1.0);
            let along = sent * last as f64;
            let row = (along as usize).min(last.saturating_sub(1));
            let (here, next) = (*self.lightness.get(row)?, *self.lightness.get(row + 1).or(self.lightness.last())?);
            Some(Srgb8::of_lab(self.tint.at(here + (along - row as f64) * (next - here))))
        };
        (0..=u16::MAX).map(colour).collect()
    }
}

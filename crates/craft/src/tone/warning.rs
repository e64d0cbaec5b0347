//! What should be known of a fit before it is used. Nothing here blocks.

use alloc::vec::Vec;
use core::fmt;

use super::ends::ends_aside;
use super::{Correction, PatchReading, PriorUse, ToneFit};
use crate::measure::{COVERAGE, fixed, significant};
use crate::source::{FEW_PATCHES, MUCH_DRIFT, MUCH_NOISE, PLAIN_FAR, UNUSED_INPUT};

/// Something to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Warning {
    /// An earlier fit does not agree.
    PriorContradicted,
    /// An earlier fit was made from the same readings.
    PriorRepeated,
    /// So few patches that neighbours do not check each other.
    FewPatches(usize),
    /// Nobody knows where some or all patches lay, so the coat's drift cannot be told from tone there.
    NoPlaces,
    /// The coat drifts by so much, L*: more than a coat does.
    MuchDrift(f64),
    /// The only reading of an end was left aside.
    EndAside(usize),
    /// Readings scatter a lot, L*.
    MuchNoise(f64),
    /// Many readings were left aside, of so many.
    ManyOutliers(usize, usize),
    /// The fit and the plain alternative differ by so much, L*.
    PlainDiffers(f64),
    /// White is reached long before the end: ink that does nothing.
    WhiteEarly(f64),
    /// Black is left late: inputs that print nothing but black.
    BlackLate(f64),
}

impl Warning {
    /// The stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::PriorContradicted => "prior_contradicted",
            Self::PriorRepeated => "prior_repeated",
            Self::FewPatches(_) => "few_patches",
            Self::NoPlaces => "no_places",
            Self::MuchDrift(_) => "much_drift",
            Self::EndAside(_) => "end_aside",
            Self::MuchNoise(_) => "much_noise",
            Self::ManyOutliers(..) => "many_outliers",
            Self::PlainDiffers(_) => "plain_differs",
            Self::WhiteEarly(_) => "white_early",
            Self::BlackLate(_) => "black_late",
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::PriorContradicted => f.write_str(
                "these readings contradict the earlier response, so it was left aside: see what changed in the set-up",
            ),
            Self::PriorRepeated => f.write_str(
                "these readings are those the earlier response was made from, so it was left aside, or they would count twice: give readings of another print, and those alone",
            ),
            Self::FewPatches(count) => {
                write!(f, "{count} patches say little of the tones between them; 21 or more, spread over the sheet, say much")
            }
            Self::MuchDrift(drift) => write!(
                f,
                "the coat drifts by {} L* over the sheet, more than a coat does: look at the print for readings that are wrong",
                significant(*drift, 2)
            ),
            Self::EndAside(patch) => write!(
                f,
                "patch {patch} is the only reading of its end of the scale, and it was left aside: read it again, for the end rests on the others"
            ),
            Self::NoPlaces => f.write_str(
                "where all the patches lay is not said, so a coat that is uneven counts as noise; columns x_mm and y_mm tell",
            ),
            Self::MuchNoise(noise) => write!(
                f,
                "readings scatter by {} L* around curve and coat; read each patch over a larger area, or more of them",
                significant(*noise, 2)
            ),
            Self::ManyOutliers(out, all) => {
                write!(f, "{out} of {all} readings were left aside; look at those patches: specks, a fold, a wrong number")
            }
            Self::PlainDiffers(most) => write!(
                f,
                "a plain curve through the readings differs from this one by up to {} L*; look at the residuals before trusting either",
                significant(*most, 2)
            ),
            Self::WhiteEarly(at) => write!(
                f,
                "paper white is reached at input {}: the ink above it does nothing; less ink would leave more steps for the tones",
                fixed(*at, 2)
            ),
            Self::BlackLate(at) => write!(
                f,
                "up to input {} all is black: a shorter exposure, or a base of ink, would leave more steps for the tones",
                fixed(*at, 2)
            ),
        }
    }
}

/// All there is to know.
#[must_use]
pub fn warnings(readings: &[PatchReading], fit: &ToneFit, correction: &Correction) -> Vec<Warning> {
    let mut all = Vec::new();
    let count = readings.len();
    if fit.prior == PriorUse::Contradicted {
        all.push(Warning::PriorContradicted);
    }
    if fit.prior == PriorUse::Repeated {
        all.push(Warning::PriorRepeated);
    }
    if count < FEW_PATCHES.value && fit.prior != PriorUse::Used {
        all.push(Warning::FewPatches(count));
    }
    if fit.quality.field.is_none() || readings.iter().any(|own| own.place.is_none()) {
        all.push(Warning::NoPlaces);
    }
    all.extend(
        fit.quality.field.map(|own| own.deviation).filter(|own| *own > MUCH_DRIFT.value).map(Warning::MuchDrift),
    );
    let inputs: Vec<f64> = readings.iter().map(|own| own.input.to_part()).collect();
    all.extend(ends_aside(&inputs, &fit.outliers).into_iter().map(|own| Warning::EndAside(own + 1)));
    if fit.quality.noise > MUCH_NOISE.value {
        all.push(Warning::MuchNoise(fit.quality.noise));
    }
    // One in twenty is what readings have by themselves; one alone says nothing.
    if fit.outliers.len() > 1 && fit.outliers.len() * 20 > count {
        all.push(Warning::ManyOutliers(fit.outliers.len(), count));
    }
    let far = PLAIN_FAR.value.max(COVERAGE * fit.quality.expected);
    all.extend(fit.quality.plain_differs.filter(|own| *own > far).map(Warning::PlainDiffers));
    let (white, black) = (correction.white.at.best.to_part(), correction.black.at.best.to_part());
    if white < 1.0 - UNUSED_INPUT.value {
        all.push(Warning::WhiteEarly(white));
    }
    if black > UNUSED_INPUT.value {
        all.push(Warning::BlackLate(black));
    }
    all
}

//! What should be known of a wedge that was read. Nothing here blocks.

use core::fmt;

use super::wedge::{DryOrWet, Noise, Shoulder, SilverWedge, WedgeFit};
use crate::measure::{StepDensity, significant};
use crate::source::OUT_OF_ORDER;
use alloc::vec::Vec;

/// Something to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Warning {
    /// No step is full black, or black ends where the wedge begins.
    BlackNotBracketed,
    /// No step is white, or white begins where the wedge ends.
    WhiteNotBracketed,
    /// It was read wet.
    ReadWet,
    /// A step is out of order by more than readings scatter.
    OutOfOrder(StepDensity),
    /// Nobody measured how far readings scatter.
    NoiseUsual,
    /// The scale counts 90 % of all the density; most books leave open which is meant.
    ShoulderAbsolute,
}

impl Warning {
    /// The stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::BlackNotBracketed => "black_not_bracketed",
            Self::WhiteNotBracketed => "white_not_bracketed",
            Self::ReadWet => "read_wet",
            Self::OutOfOrder(_) => "step_out_of_order",
            Self::NoiseUsual => "reading_noise_usual",
            Self::ShoulderAbsolute => "shoulder_absolute",
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BlackNotBracketed => f.write_str(
                "the wedge did not bracket the black: the print is still getting darker at its thinnest step; expose longer and read again",
            ),
            Self::WhiteNotBracketed => f.write_str(
                "the wedge did not bracket the white: the print still has a tone at its densest step; expose shorter, or take a longer wedge",
            ),
            Self::ReadWet => {
                f.write_str("these readings are of a wet print; prints dry darker or duller, and only a dry one is judged")
            }
            Self::OutOfOrder(step) => {
                let step = significant(step.to_density(), 4);
                write!(f, "the print under step density {step} is out of order by more than readings scatter; read that patch again")
            }
            Self::NoiseUsual => f.write_str(
                "how far readings scatter is taken as usual for hand-coated sheets; read each step twice, on two prints, to know it",
            ),
            Self::ShoulderAbsolute => f.write_str(
                "the dark end counts 90 % of the whole density, not of what is above the base; compare only with scales counted alike",
            ),
        }
    }
}

/// Everything to know of a wedge, gravest first.
pub(super) fn all(wedge: &SilverWedge, fit: &WedgeFit, state: DryOrWet, shoulder: Shoulder) -> Vec<Warning> {
    let mut found = Vec::new();
    if !fit.ends.black {
        found.push(Warning::BlackNotBracketed);
    }
    if !fit.ends.white {
        found.push(Warning::WhiteNotBracketed);
    }
    if state == DryOrWet::Wet {
        found.push(Warning::ReadWet);
    }
    let off = |step: &&super::ReadStep| (step.mean.to_density() - step.fitted.to_density()).abs();
    let u = |step: &super::ReadStep| wedge.noise().reading().to_density() / libm::sqrt(step.count as f64);
    let odd = fit.steps.iter().filter(|step| off(step) > OUT_OF_ORDER.value * u(step));
    found.extend(odd.max_by(|a, b| off(a).total_cmp(&off(b))).map(|step| Warning::OutOfOrder(step.step)));
    if matches!(wedge.noise(), Noise::Usual(_)) {
        found.push(Warning::NoiseUsual);
    }
    if shoulder == Shoulder::Absolute {
        found.push(Warning::ShoulderAbsolute);
    }
    found
}

//! What the codes of a scan mean: its profile, or what is taken for one.

use handcoat_craft::colour::{White, Xyz, rgb_light_to_icc, srgb_to_light};

use crate::profile::ColourProfile;

/// What codes are taken for.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum CodeMeaning {
    /// What the embedded profile says, or sRGB where there is none.
    #[default]
    AsTagged,
    /// Light to the power of 1/γ, whatever the file says.
    Gamma(f64),
}

/// How codes become light.
#[derive(Debug, Clone)]
pub(super) enum Light {
    Profile(Box<ColourProfile>),
    Srgb,
    Gamma(f64),
}

impl Light {
    pub(super) fn is_profile(&self) -> bool {
        matches!(self, Self::Profile(_))
    }

    /// Tristimulus values of codes from 0 to 1.
    pub(super) fn colour(&self, codes: &[f64]) -> Xyz {
        let own = |light: &dyn Fn(f64) -> f64| match codes {
            [red, green, blue] => rgb_light_to_icc([*red, *green, *blue].map(light)),
            other => {
                let (y, white) = (light(other.first().copied().unwrap_or(0.0)), White::IccD50.xyz());
                Xyz { x: white.x * y, y, z: white.z * y }
            }
        };
        match self {
            // A profile the header was read with has what is asked for.
            Self::Profile(profile) => profile.colour(codes).unwrap_or(Xyz { x: 0.0, y: 0.0, z: 0.0 }),
            Self::Srgb => own(&srgb_to_light),
            Self::Gamma(gamma) => own(&|code| libm::pow(code, *gamma)),
        }
    }
}

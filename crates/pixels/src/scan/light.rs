//! What the codes of a scan mean: its profile, or what is taken for one.

use handcoat_craft::colour::{White, Xyz, rgb_light_to_icc, srgb_to_light};

use crate::profile::ColourProfile;

use super::BELOW_BITS;

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

/// The light of neutral codes as a table, and the way back. What a patch shows is the mean of its light: a mean of codes is darker, the more so the
/// more noise there is in a black.
#[derive(Debug, Clone)]
pub(super) struct Lights {
    /// By the upper bits of a code; never falling.
    table: Vec<f32>,
}

impl Lights {
    /// Of the light of every code that is a multiple of 16, and of the last.
    pub(super) fn of(all: impl Iterator<Item = f64>) -> Self {
        let mut most = 0.0_f32;
        let rising = |own: f64| {
            most = most.max(own as f32);
            most
        };
        Self { table: all.map(rising).collect() }
    }

    fn entry(&self, at: usize) -> f64 {
        f64::from(self.table.get(at).or(self.table.last()).copied().unwrap_or(0.0))
    }

    /// The light of a code.
    pub(super) fn light(&self, code: u16) -> f64 {
        let at = usize::from(code >> BELOW_BITS);
        let between = f64::from(code & ((1 << BELOW_BITS) - 1)) / f64::from(1 << BELOW_BITS);
        self.entry(at) + (self.entry(at + 1) - self.entry(at)) * between
    }

    /// The code of a light, 0 to 65,535.
    pub(super) fn code(&self, light: f64) -> f64 {
        self.code_below(self.table.partition_point(|own| f64::from(*own) < light), light)
    }

    /// The codes of so many even steps of light, and of one more.
    pub(super) fn codes(&self, steps: u32) -> Vec<u16> {
        let mut above = 0;
        let code = |own: u32| {
            let light = f64::from(own) / f64::from(steps);
            while above < self.table.len() && self.entry(above) < light {
                above += 1;
            }
            (self.code_below(above, light) + 0.5) as u16
        };
        (0..=steps + 1).map(code).collect()
    }

    /// The code of a light below that of an entry and not below that of the one before.
    fn code_below(&self, above: usize, light: f64) -> f64 {
        let above = above.clamp(1, self.table.len().max(2) - 1);
        let (low, high) = (self.entry(above - 1), self.entry(above));
        let between = if high > low { ((light - low) / (high - low)).clamp(0.0, 1.0) } else { 0.0 };
        let code = ((above - 1) as f64 + between) * f64::from(1 << BELOW_BITS);
        code.min(f64::from(u16::MAX))
    }
}

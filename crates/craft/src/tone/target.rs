//! What a tone of the picture shall look like on this paper.
//!
//! A wanted tone goes from 0, the paper's own black, to 1, its own white. Any target reaches both, so that no picture loses the paper's
//! range; they differ in how the tones between are spaced.

use crate::measure::{Bounded, Lightness, PrintDensity};
use crate::source::{SOFT_CONTRAST, SOFT_PART};
use crate::{colour, measure::ToneInput};

/// How tones are spaced between the paper's own black and white.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Target {
    /// Equal steps of lightness: what looks even on a screen looks even on the paper.
    #[default]
    Lightness,
    /// Equal steps of density: darker in the middle, and much room for the shadows.
    Density,
    /// As by lightness, and the lightest tones bend gently into the white.
    SoftWhites,
    /// As by lightness, and the darkest tones bend gently into the black.
    SoftBlacks,
}

impl Target {
    /// All of them, the usual one first.
    pub const ALL: [Self; 4] = [Self::Lightness, Self::Density, Self::SoftWhites, Self::SoftBlacks];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Lightness => "lightness",
            Self::Density => "density",
            Self::SoftWhites => "soft-whites",
            Self::SoftBlacks => "soft-blacks",
        }
    }

    /// What it does, in plain numbers.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Self::Lightness => "equal steps of L* from the paper's own black to its own white",
            Self::Density => "equal steps of density from the paper's own black to its own white",
            Self::SoftWhites => {
                "equal steps of L* up to four fifths of the way; the lightest fifth bends into the white, with half the contrast where it arrives"
            }
            Self::SoftBlacks => {
                "equal steps of L* down to a fifth of the way; the darkest fifth bends into the black, with half the contrast where it arrives"
            }
        }
    }

    /// How light a wanted tone shall be, between a black and a white in L*.
    pub(super) fn aim(self, tone: f64, black: f64, white: f64) -> f64 {
        let part = match self {
            Self::Lightness => tone,
            Self::SoftWhites => soft_end(tone),
            Self::SoftBlacks => 1.0 - soft_end(1.0 - tone),
            Self::Density => return by_density(tone, black, white).unwrap_or(black + tone * (white - black)),
        };
        black + part * (white - black)
    }

    /// The same between the ends of a print.
    #[must_use]
    pub fn wanted(self, tone: ToneInput, black: Lightness, white: Lightness) -> Lightness {
        let (black, white) = (black.to_l_star(), white.to_l_star());
        let aim = self.aim(tone.to_part(), black, white).clamp(Lightness::LEAST, Lightness::MOST);
        // OK because it was clamped to the bounds.
        Lightness::l_star(aim).expect("BUG: a wanted tone left the bounds of lightness")
    }
}

/// Straight up to a place, from there a parabola whose slope falls to a part of the straight one at 1, scaled to arrive at 1.
fn soft_end(tone: f64) -> f64 {
    let bend = SOFT_PART.value;
    // By the parabola's own area the end lies lower by half of what the slope has lost; the straight part is steeper for it.
    let slope = 1.0 / (1.0 - 0.5 * bend * (1.0 - SOFT_CONTRAST.value));
    let over = (tone - (1.0 - bend)).max(0.0);
    slope * (tone - 0.5 * over * over * (1.0 - SOFT_CONTRAST.value) / bend)
}

/// None where an end has no density: blacker than any paper.
fn by_density(tone: f64, black: f64, white: f64) -> Option<f64> {
    let dense = |own: f64| colour::density(Lightness::l_star(own).ok()?).ok().map(PrintDensity::to_density);
    let (black, white) = (dense(black)?, dense(white)?);
    let own = PrintDensity::density(black + tone * (white - black)).ok()?;
    Some(colour::lightness(own).to_l_star())
}

//! The signs of hazard: pictograms, signal words, and which pictogram makes another one unnecessary.
//!
//! What hazards a substance has is never decided here: that is the supplier's sheet. This module knows the signs it is
//! written in.

use alloc::string::String;
use alloc::vec::Vec;
use core::fmt;
use core::str::FromStr;

use super::{Citation, Fact, HazardStatement};

/// The rule by which the exclamation mark gives way, in words. The article was read in its German and its Czech text.
pub const PRECEDENCE: Fact<&str> = Fact {
    value: "no GHS07 beside GHS06; none for irritation of skin or eyes beside GHS05; none for that or for allergy of the \
            skin beside a GHS08 that stands for allergy of the airways",
    cite: Citation::seen("clp", "article 26(1)(b)-(d)"),
};

/// One of the nine pictograms of the UN GHS.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Pictogram {
    /// GHS01.
    ExplodingBomb,
    /// GHS02.
    Flame,
    /// GHS03.
    FlameOverCircle,
    /// GHS04.
    GasCylinder,
    /// GHS05.
    Corrosion,
    /// GHS06.
    Skull,
    /// GHS07.
    ExclamationMark,
    /// GHS08.
    HealthHazard,
    /// GHS09.
    Environment,
}

impl Pictogram {
    /// All nine, in order of their codes.
    #[must_use]
    pub fn all() -> [Self; 9] {
        [
            Self::ExplodingBomb,
            Self::Flame,
            Self::FlameOverCircle,
            Self::GasCylinder,
            Self::Corrosion,
            Self::Skull,
            Self::ExclamationMark,
            Self::HealthHazard,
            Self::Environment,
        ]
    }

    /// The code, as `GHS05`.
    #[must_use]
    pub fn code(self) -> &'static str {
        self.listed().0
    }

    /// The name of the sign.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.listed().1
    }

    fn listed(self) -> (&'static str, &'static str) {
        match self {
            Self::ExplodingBomb => ("GHS01", "exploding bomb"),
            Self::Flame => ("GHS02", "flame"),
            Self::FlameOverCircle => ("GHS03", "flame over circle"),
            Self::GasCylinder => ("GHS04", "gas cylinder"),
            Self::Corrosion => ("GHS05", "corrosion"),
            Self::Skull => ("GHS06", "skull and crossbones"),
            Self::ExclamationMark => ("GHS07", "exclamation mark"),
            Self::HealthHazard => ("GHS08", "health hazard"),
            Self::Environment => ("GHS09", "environment"),
        }
    }

    /// Where code, name and drawing come from.
    #[must_use]
    pub fn cite(self) -> Citation {
        Citation::memory("un-ghs", "annex 3, section 5")
    }

    /// The pictogram of a code such as `GHS05`, also written `ghs 05` or `GHS5`.
    ///
    /// # Errors
    /// [`HazardCodeUnknown`] for anything else.
    pub fn from_code(code: &str) -> Result<Self, HazardCodeUnknown> {
        let plain = plain(code);
        let digits = plain.strip_prefix("GHS").map(|digits| digits.strip_prefix('0').unwrap_or(digits));
        Self::all()
            .into_iter()
            .find(|own| own.code().strip_prefix("GHS0") == digits)
            .ok_or_else(|| HazardCodeUnknown { written: code.into(), expected: "a pictogram from `GHS01` to `GHS09`" })
    }
}

impl fmt::Display for Pictogram {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

/// The one word on a label that says how grave it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SignalWord {
    /// The less severe categories.
    Warning,
    /// The more severe categories.
    Danger,
}

impl fmt::Display for SignalWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Warning => "Warning",
            Self::Danger => "Danger",
        })
    }
}

impl FromStr for SignalWord {
    type Err = HazardCodeUnknown;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match plain(text).as_str() {
            "DANGER" => Ok(Self::Danger),
            "WARNING" => Ok(Self::Warning),
            _ => Err(HazardCodeUnknown { written: text.into(), expected: "`Danger` or `Warning`" }),
        }
    }
}

/// A code or word of hazard that is in no list here. Nothing is guessed in its place.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{written}` is no hazard code that is known here; expected {expected}, as on the supplier's sheet")]
pub struct HazardCodeUnknown {
    /// What was written.
    pub written: String,
    /// What was expected.
    pub expected: &'static str,
}

impl HazardCodeUnknown {
    /// The stable code of this error.
    #[must_use]
    pub fn code(&self) -> &'static str {
        "hazard_code_unknown"
    }
}

/// Upper case, without spaces: `h 301 + h 311` is `H301+H311`.
pub(super) fn plain(code: &str) -> String {
    code.chars().filter(|c| !c.is_whitespace()).map(|c| c.to_ascii_uppercase()).collect()
}

/// The pictograms a label shows, in order of their codes and each once, when a sheet names `stated` and `statements`.
///
/// [`PRECEDENCE`]: the skull makes the exclamation mark unnecessary; corrosion does for irritation of skin and eyes;
/// the health hazard, where it stands for allergy of the airways (H334), does for allergy and irritation of the skin
/// and irritation of the eyes. For any other reason, or one that no statement gives, the exclamation mark stays.
#[must_use]
pub fn pictograms_shown(stated: &[Pictogram], statements: &[&HazardStatement]) -> Vec<Pictogram> {
    let mut shown = stated.to_vec();
    shown.sort_unstable();
    shown.dedup();
    let has = |sign| stated.contains(&sign);
    let says = |code: &str| statements.iter().any(|statement| statement.has(code));
    let airways = has(Pictogram::HealthHazard) && says("H334");
    let unnecessary = |code: &str| match code {
        "H315" | "H319" => has(Pictogram::Corrosion) || airways,
        "H317" => airways,
        _ => false,
    };
    let mut reasons = EXCLAIMED.iter().filter(|code| says(code)).peekable();
    let explained = reasons.peek().is_some();
    if has(Pictogram::Skull) || (explained && reasons.all(|code| unnecessary(code))) {
        shown.retain(|sign| *sign != Pictogram::ExclamationMark);
    }
    shown
}

/// Statements that ask for the exclamation mark (UN GHS, annex 1, from memory).
const EXCLAIMED: [&str; 9] = ["H302", "H312", "H315", "H317", "H319", "H332", "H335", "H336", "H420"];

//! What was measured on the film for its rule, and what follows for the next sheet.

use crate::measure::Length;
use crate::source::{RULE_MM, RULE_MOST, RULE_SAID, RULE_SHORT_MM, RULE_SHORT_SAID};

/// A digit that no ruler has, so that what is written at a bound is within it.
const SLACK: f64 = 1e-9;

/// What the rule says of a printer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleRead {
    /// Which rule it was: its length in millimetres.
    pub millimetres: f64,
    /// How many times as long the film is as it should be.
    pub scale: f64,
    /// Whether it is far enough off to be corrected.
    pub corrected: bool,
}

/// The rule is further off than a printer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("that is more than {most} % off; a driver that fits to the page, or another rule, was measured", most = (RULE_MOST.value * 100.0) as u32)]
pub struct RuleFar;

impl RuleRead {
    /// From what was measured between the outer sides of the rule; which of the two it was follows from that.
    ///
    /// # Errors
    /// [`RuleFar`] when no printer is so far off.
    pub fn of(measured: Length) -> Result<Self, RuleFar> {
        Self::on(measured, 1.0)
    }

    /// The same on a film whose lengths were corrected already: made with so many times fewer pixels to the inch, it is shorter by that than one
    /// that was not. `scale` is that of the printer, not that of this film.
    ///
    /// # Errors
    /// [`RuleFar`] when no printer is so far off.
    pub fn on(measured: Length, corrected: f64) -> Result<Self, RuleFar> {
        let millimetres = Self::length_of(measured);
        let said = Self::said_of(millimetres);
        let scale = measured.to_millimetres() / millimetres * corrected;
        let off = libm::fabs(scale - 1.0);
        if off > RULE_MOST.value + SLACK {
            return Err(RuleFar);
        }
        Ok(Self { millimetres, scale, corrected: off > said + SLACK })
    }

    /// Of which of the two rules a length was measured: the nearer one, mm.
    #[must_use]
    pub fn length_of(measured: Length) -> f64 {
        let middle = f64::midpoint(RULE_MM.value, RULE_SHORT_MM.value);
        if measured.to_millimetres() < middle { RULE_SHORT_MM.value } else { RULE_MM.value }
    }

    /// From which part on a rule of that length is said to be off.
    fn said_of(millimetres: f64) -> f64 {
        if millimetres < RULE_MM.value { RULE_SHORT_SAID.value } else { RULE_SAID.value }
    }

    /// By how much a film is corrected that is made by it: one where it is left as it is.
    #[must_use]
    pub fn correction(self) -> f64 {
        if self.corrected { self.scale } else { 1.0 }
    }

    /// What this rule comes to on a film that was not corrected, mm.
    #[must_use]
    pub fn to_millimetres(self) -> f64 {
        self.scale * self.millimetres
    }

    /// Whether another reading says more than a ruler's step otherwise, read on the shorter rule of the two.
    #[must_use]
    pub fn differs(self, other: Self) -> bool {
        let said = Self::said_of(self.millimetres).max(Self::said_of(other.millimetres));
        libm::fabs(self.scale / other.scale - 1.0) > said + SLACK
    }

    /// The pixels to the inch with which lengths are counted, so that they come out right on the film; what stands in the file stays.
    #[must_use]
    pub fn counted(self, ppi: f64) -> f64 {
        ppi / self.correction()
    }
}

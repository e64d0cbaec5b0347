//! Lengths on paper.

use serde::Serialize;

use crate::SheetError;

/// A length on paper, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize)]
pub struct Millimetres(f64);

impl Millimetres {
    /// So many millimetres.
    #[must_use]
    pub const fn new(millimetres: f64) -> Self {
        Self(millimetres)
    }

    /// As a number of millimetres.
    #[must_use]
    pub const fn to_mm(self) -> f64 {
        self.0
    }
}

/// How far the printer has to be led: to the right and down, when positive.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Offset {
    /// To the right.
    pub right: Millimetres,
    /// Down.
    pub down: Millimetres,
}

/// A printer that is off by more than this is fed wrongly.
const MOST_OFFSET_MM: f64 = 20.0;

impl Offset {
    /// Whether a printer can be that far off.
    pub(crate) fn check(self) -> Result<(), SheetError> {
        // No number at all lies in no range either.
        let within = |mm: &f64| (-MOST_OFFSET_MM..=MOST_OFFSET_MM).contains(mm);
        match [self.right.to_mm(), self.down.to_mm()].into_iter().find(|mm| !within(mm)) {
            Some(mm) => Err(SheetError::Offset { mm, most: MOST_OFFSET_MM }),
            None => Ok(()),
        }
    }
}

//! "Can I use less?": what makers who pour less would pour here, and what it risks.

use alloc::vec::Vec;

use super::whole::{Coat, Pour};
use super::{CoatError, Contrast, OnTop, Request};
use crate::measure::{Mass, Money, PercentByVolume};
use crate::paper::Need;
use crate::source::{DOSE_ROUNDED, Element, LESS, Less};

/// One habit of pouring less, on this sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct LessPoured {
    /// The habit and its risk.
    pub less: &'static Less,
    /// What is poured, in mL.
    pub pour_ml: f64,
    /// Drops of each solution.
    pub pours: Vec<Pour>,
    /// Metal that stays in the bottle.
    pub saved: Vec<(Element, Mass)>,
    /// Money that stays with it; none when unknown.
    pub saved_money: Option<Money>,
}

impl Request {
    /// The habits that pour less than this need, from most to least, for one coat.
    pub(super) fn with_less(
        &self,
        need: &Need,
        metals: &[(Element, Mass)],
        cost: Option<Money>,
        rung: Option<PercentByVolume>,
    ) -> Result<Vec<LessPoured>, CoatError> {
        let mut out = Vec::new();
        for less in LESS {
            let pour_ml = need.with_less(less);
            // Less by so little that it would be the same drops is no answer.
            if pour_ml >= need.pour_ml * (1.0 - crate::source::MOST_UNDER.value) {
                continue;
            }
            let coat = self.coat_of_rung(pour_ml, rung)?;
            let sums = self.sums(core::slice::from_ref(&coat))?;
            let saved = metals
                .iter()
                .map(|&(element, mass)| {
                    let own = sums.metals.iter().find(|own| own.element == element);
                    (element, mass.excess_over(own.map_or(Mass::ZERO, |own| own.mass.best)))
                })
                .collect();
            let saved_money = cost.zip(sums.cost.sum).and_then(|(all, own)| all.excess_over(own));
            out.push(LessPoured { less, pour_ml, pours: coat.pours, saved, saved_money });
        }
        Ok(out)
    }

    /// One coat with the agent from the solution that already stands at hand; from another only where that one misses the dose.
    fn coat_of_rung(&self, need_ml: f64, rung: Option<PercentByVolume>) -> Result<Coat, CoatError> {
        if let (Some(Contrast::OnTop(on_top, dose)), Some(rung)) = (&self.contrast, rung) {
            let one = OnTop { rungs: Vec::from([rung]), ..on_top.clone() };
            let same = Self { contrast: Some(Contrast::OnTop(one, *dose)), ..self.clone() };
            let coat = same.coat(need_ml, 1.0)?;
            let well = coat.dose_error.is_none_or(|error| error.abs() <= DOSE_ROUNDED.value);
            if well && coat.within != Some(false) {
                return Ok(coat);
            }
        }
        self.coat(need_ml, 1.0)
    }
}

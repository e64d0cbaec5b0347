//! Responses of the invented studio: one that a print through its curve has checked, with what that print taught; and one whose paper has
//! another lot since.

use super::light::{COTTON, KOZO};
use super::sample_chart;
use super::{Filling, some};
use crate::Refusal;
use crate::tone::{ChartAnswers, ResponseOfSetup, check, fit_chart, keep_check, keep_response};

impl Filling<'_> {
    /// Charts, and a print through a curve.
    pub(super) fn tone(&mut self) -> Result<(), Refusal> {
        let answers = ChartAnswers::default();
        let read = fit_chart(&answers, sample_chart(None).as_bytes(), None)?;
        let place = ResponseOfSetup { setup: some(COTTON), note: some("first chart"), scan: None };
        self.days_ago(7, &place, |studio, moment, place| keep_response(studio, moment, place, &read))?;
        let checked = check(&answers, sample_chart(Some(&read.correction)).as_bytes(), &read)?;
        self.days_ago(5, &"1", |studio, moment, number| keep_check(studio, moment, number, &checked, true))?;
        let place = ResponseOfSetup { setup: some(KOZO), ..ResponseOfSetup::default() };
        self.days_ago(4, &place, |studio, moment, place| keep_response(studio, moment, place, &read))?;
        Ok(())
    }
}

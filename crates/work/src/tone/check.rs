//! A print through the correction: a chart whose inputs went through the curve, read and held against what was wanted.

use handcoat_craft::tone::{PatchReading, ToneError, Verified, as_sent, same_print, verify};
use handcoat_exchange::ChartRow;

use super::read::{ChartAnswers, ToneRead, refused, rows};
use crate::Refusal;

/// What a second print says of a correction.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckRead {
    /// Its readings as they stood in the table: the inputs are the tones that were wanted.
    pub rows: Vec<ChartRow>,
    /// The same as readings of the response: the inputs are what was sent to the film.
    pub sent: Vec<PatchReading>,
    /// What is left of the error.
    pub verified: Verified,
    /// The response with these readings added, and the correction that follows; none where they give none.
    pub update: Option<ToneRead>,
}

/// Holds a print through the correction of a fit against what was wanted.
///
/// # Errors
/// [`Refusal`] when the table cannot be read, or there are no tones in it.
pub fn check(answers: &ChartAnswers, bytes: &[u8], of: &ToneRead) -> Result<CheckRead, Refusal> {
    let rows = rows(answers, bytes)?;
    let own: Vec<_> = rows.iter().map(|own| own.reading).collect();
    let mut verified = verify(&own, &of.correction, &of.fit.memory).map_err(|own| refused(&own))?;
    if same_print(&own, &of.readings()) {
        verified.update = Err(ToneError::ReadBefore);
    }
    let sent = as_sent(&own, &of.correction);
    let updated = verified.update.as_ref().ok().and_then(|fit| {
        let rows = rows.iter().zip(&sent).map(|(row, reading)| ChartRow { reading: *reading, ..row.clone() });
        ToneRead::of(rows.collect(), fit.clone(), of.target()).ok()
    });
    Ok(CheckRead { rows, sent, verified, update: updated })
}

//! What was really mixed comes to.

use super::batch::Fill;
use super::{Batch, Nothing, PlanError, Request};
use crate::measure::{Mass, Volume};

impl Request {
    /// The batch of what was weighed and made up, not rounded to any scale.
    ///
    /// # Errors
    /// [`PlanError::Nothing`] without powder or volume, [`PlanError::OutOfBounds`] when the strength is beyond any solution.
    pub fn comes_to(&self, salt: Mass, chloride: Mass, volume: Volume) -> Result<Batch, PlanError> {
        if salt.is_zero() {
            return Err(PlanError::Nothing { what: Nothing::Weighing });
        }
        if volume.is_zero() {
            return Err(PlanError::Nothing { what: Nothing::Volume });
        }
        Ok(self.batch(salt, chloride, Fill::To(volume))?)
    }
}

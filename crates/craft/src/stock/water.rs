//! The water: to dissolve in, to rinse with, and what reaches the bottle.

use crate::measure::{OutOfBounds, Volume};
use crate::source::{CLINGING_FILM, FILL_RESERVE, LEAST_RINSE, POURED_MARKS, RINSE_MARK, RINSE_PART};

use super::RoomTaken;

/// How the water of a batch is divided.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// To dissolve in.
    pub dissolve: Volume,
    /// Of each rinse.
    pub rinse: Volume,
    /// How many rinses.
    pub rinses: u32,
    /// How much of the metal reaches the bottle.
    pub recovery: Recovery,
}

/// What pouring and rinsing bring over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recovery {
    /// Part of the metal that still clings to the beaker when it has been poured out, unrinsed.
    pub clings: f64,
    /// Part of that which the rinses leave behind: (r/(r+v))^n with a film r and n rinses of v, the
    /// textbook formula of repeated extraction.
    pub left_by_rinses: f64,
}

impl Recovery {
    /// Part of the metal that is in the bottle at the end.
    #[must_use]
    pub fn recovered(self) -> f64 {
        1.0 - self.clings * self.left_by_rinses
    }
}

/// The step of the marks at this volume, in mL: the first row that does not lie above it.
pub(crate) fn mark_at(marks: &[(f64, f64)], volume_ml: f64) -> f64 {
    let row = marks.iter().find(|(from, _)| volume_ml >= *from).or(marks.last());
    row.map_or(volume_ml, |(_, step)| *step)
}

/// Marks a maker can pour to at this volume, in mL.
fn readable_step(volume_ml: f64) -> f64 {
    mark_at(&POURED_MARKS.value, volume_ml)
}

/// The next mark a maker can pour to, at or above this volume, in mL.
pub(crate) fn mark_above(volume_ml: f64) -> f64 {
    let step = readable_step(volume_ml);
    // A volume on a mark, but for the last bits of its arithmetic, is on it.
    let marks = libm::ceil(volume_ml / step - 1e-6) * step;
    // Tenths are not exact in binary: to the nearest nanolitre they are.
    libm::round(marks * 1e6) / 1e6
}

/// The last mark a maker can pour to, at or below this volume, in mL; half of the first mark where there is none.
pub(crate) fn mark_below(volume_ml: f64) -> f64 {
    let step = readable_step(volume_ml);
    let marks = (libm::floor(volume_ml / step + 1e-6) * step).max(step / 2.0);
    libm::round(marks * 1e6) / 1e6
}

/// Water of one rinse for so much stock, in mL.
pub(crate) fn rinse_ml(total_ml: f64) -> f64 {
    let step = readable_step(total_ml).min(RINSE_MARK.value);
    (libm::round(total_ml * RINSE_PART.value / step) * step).max(LEAST_RINSE.value)
}

/// Divides the water. With `made_up`, dissolving and rinsing stay under the mark by a reserve that is filled
/// dropwise; without, all of `total` is poured.
///
/// Returns none when the solids leave no room for water.
///
/// # Errors
/// [`OutOfBounds`] never for volumes that are themselves in bounds; kept for the arithmetic's sake.
pub fn share_out(total: Volume, room: RoomTaken, made_up: bool, rinses: u32) -> Result<Option<Water>, OutOfBounds> {
    let total_ml = total.to_millilitres();
    let step = readable_step(total_ml);
    let rinse_ml = rinse_ml(total_ml);
    let rinsing_ml = rinse_ml * f64::from(rinses);
    let dissolve_ml = if made_up {
        let free = total_ml * (1.0 - FILL_RESERVE.value) - room.most_ml - rinsing_ml;
        libm::floor(free / step) * step
    } else {
        total_ml - rinsing_ml
    };
    if dissolve_ml <= 0.0 {
        return Ok(None);
    }
    let film = CLINGING_FILM.value;
    let poured_ml = dissolve_ml + room.middle_ml();
    let recovery = Recovery {
        clings: (film / poured_ml).min(1.0),
        left_by_rinses: libm::pow(film / (film + rinse_ml), f64::from(rinses)),
    };
    Ok(Some(Water {
        dissolve: Volume::millilitres(dissolve_ml)?,
        rinse: Volume::millilitres(rinse_ml)?,
        rinses,
        recovery,
    }))
}

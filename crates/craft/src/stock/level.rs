//! How much is in a bottle: measured, by weight, or by eye.

use super::Balance;
use crate::measure::{Level, Mass, MassDensity, OutOfBounds, Uncertain, Volume};
use crate::source::{EYE_LEVEL, MEASURED_POUR, POSSIBLE_DENSITY, SOLUTION_DENSITY};

/// How the contents of a bottle were found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gauge {
    /// Poured through a cylinder, or read from the bottle's own marks.
    Measured(Volume),
    /// So much of a full bottle, by eye.
    ByEye(Level, Volume),
    /// Weighed with what it stands in.
    ByWeight {
        /// Bottle and contents.
        gross: Mass,
        /// The bottle by itself, with its cap and dropper.
        empty: Mass,
        /// Of the solution; none when nobody found it.
        density: Option<Uncertain<MassDensity>>,
        /// The scale, when known.
        balance: Option<Balance>,
    },
}

/// Why a weighing gives no volume.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum GaugeError {
    /// The full bottle weighs less than the empty one.
    #[error("bottle and contents weigh {} g, less than the {} g of the empty bottle", crate::measure::significant(.gross.to_grams(), 7), crate::measure::significant(.empty.to_grams(), 7))]
    LighterThanEmpty {
        /// Bottle and contents.
        gross: Mass,
        /// The bottle.
        empty: Mass,
    },
    /// Weights and volume give a density that no solution of this work has.
    #[error("{} g in {} mL would be {} g/mL; solutions here have {} to {} g/mL", crate::measure::significant(.net.to_grams(), 6), crate::measure::significant(.volume.to_millilitres(), 5), crate::measure::significant(.net.to_grams() / .volume.to_millilitres(), 3), POSSIBLE_DENSITY.value.0, POSSIBLE_DENSITY.value.1)]
    Impossible {
        /// What the contents weigh.
        net: Mass,
        /// What they were made up to.
        volume: Volume,
    },
    /// Beyond what a volume holds.
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
}

impl Gauge {
    /// The volume, with its standard uncertainty: a reading by eye within ±10 % of a full bottle, a measured one within ±2 %, a
    /// weighing by its scale and the density; where the density is unknown it lies between that of water and the densest
    /// stock in use (all rectangular).
    ///
    /// # Errors
    /// [`GaugeError`].
    pub fn volume(self) -> Result<Uncertain<Volume>, GaugeError> {
        let rectangular = |half_width: f64| half_width / libm::sqrt(3.0);
        match self {
            Self::Measured(volume) => {
                Ok(Uncertain::new(volume, rectangular(volume.to_millilitres() * MEASURED_POUR.value)))
            }
            Self::ByEye(level, capacity) => {
                let full_ml = capacity.to_millilitres();
                let volume = Volume::millilitres(full_ml * level.of_full())?;
                Ok(Uncertain::new(volume, rectangular(full_ml * EYE_LEVEL.value)))
            }
            Self::ByWeight { gross, empty, density, balance } => {
                let net = gross.less(empty).ok_or(GaugeError::LighterThanEmpty { gross, empty })?.to_grams();
                let (least, most) = SOLUTION_DENSITY.value;
                let (density, density_u) = density
                    .map_or((f64::midpoint(least, most), rectangular((most - least) / 2.0)), |known| {
                        (known.best.to_grams_per_millilitre(), known.standard())
                    });
                let net_u = balance.map_or(0.0, |balance| balance.weighing(gross).standard());
                let ml = net / density;
                let own = libm::hypot(net_u / density, ml * density_u / density);
                Ok(Uncertain::new(Volume::millilitres(ml)?, own))
            }
        }
    }
}

/// The density of a solution from the weights of its bottle, full and empty, and the volume it was made up to.
///
/// # Errors
/// [`GaugeError`] when the full bottle is the lighter one, or no solution has such a density: one of the three was misread.
pub fn density_of(
    full: Mass,
    empty: Mass,
    volume: Uncertain<Volume>,
    balance: Option<Balance>,
) -> Result<Uncertain<MassDensity>, GaugeError> {
    let mass = full.less(empty).ok_or(GaugeError::LighterThanEmpty { gross: full, empty })?;
    let (net, ml) = (mass.to_grams(), volume.best.to_millilitres());
    let (least, most) = POSSIBLE_DENSITY.value;
    if !(least * ml..=most * ml).contains(&net) {
        return Err(GaugeError::Impossible { net: mass, volume: volume.best });
    }
    let best = MassDensity::grams_per_millilitre(net / ml)?;
    let net_u = balance.map_or(0.0, |balance| balance.weighing(full).standard());
    let own = libm::hypot(net_u / ml, net / ml * volume.standard() / ml);
    Ok(Uncertain::new(best, own))
}

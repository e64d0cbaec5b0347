//! A dropper: how many drops of one solution it gives to the millilitre.

use alloc::vec::Vec;

use super::water::{density_of_water, millilitres_per_gram};
use crate::measure::{
    Bounded, DropCount, DropsPerMillilitre, Mass, MassDensity, OutOfBounds, Temperature, Uncertain, Volume,
};
use crate::source::{DROP_OF_WATER, MEASURED_POUR, USUAL_DROPS, USUAL_DROPS_OFF, WATER_TEMPERATURE_OFF};
use crate::stock::Balance;

/// How the size of its drops is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DropperFrom {
    /// It is not: the usual figure stands in.
    Usual,
    /// The maker says it, without a ±.
    Stated,
    /// Drops were counted into a volume or weighed, in so many runs.
    Calibrated(usize),
}

/// A dropper with one solution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dropper {
    /// Drops to the millilitre.
    pub per_ml: Uncertain<DropsPerMillilitre>,
    /// How that is known.
    pub from: DropperFrom,
}

/// What a run of drops came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// This volume, read from a glass.
    Volume(Volume),
    /// This mass on a scale.
    Mass(Mass),
}

/// One run: drops counted, and what they came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// How many drops.
    pub drops: DropCount,
    /// What they came to.
    pub taken: Taken,
}

/// What is known of the runs of a calibration.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WaterDrops {
    /// The drops are of water at this temperature.
    pub water_at: Option<Temperature>,
    /// They are of a solution of this density.
    pub density: Option<Uncertain<MassDensity>>,
    /// The scale.
    pub balance: Option<Balance>,
    /// Tolerance of the glass (half width); a fiftieth of the reading where nothing is said.
    pub glass: Option<Volume>,
}

/// Why runs give no dropper.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum DropperError {
    /// No drops, or nothing that they came to.
    #[error("a run holds no drops or came to nothing")]
    Nothing,
    /// Drops were weighed, and nobody says how dense they are.
    #[error(
        "drops were weighed and it is not said what they are; water at its temperature, or the density of the solution"
    )]
    DensityMissing,
    /// Water at a temperature the table of its density does not have.
    #[error("the density of water is known from 0 to 40 °C, and {0} °C is asked")]
    NoWater(f64),
    /// Beyond what a dropper gives.
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
}

impl DropperError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Nothing => "nothing_asked",
            Self::DensityMissing => "density_missing",
            Self::NoWater(_) => "water_out_of_range",
            Self::OutOfBounds(_) => "value_out_of_bounds",
        }
    }
}

fn rectangular(half_width: f64) -> f64 {
    half_width / libm::sqrt(3.0)
}

impl Dropper {
    /// A dropper nobody calibrated: 20 drops to the millilitre, a tenth either way (rectangular).
    #[must_use]
    pub fn usual() -> Self {
        let drops = USUAL_DROPS.value;
        // OK because the usual figure is a constant inside the bounds.
        let best = DropsPerMillilitre::per_millilitre(drops).expect("BUG: the usual figure is out of bounds");
        Self { per_ml: Uncertain::new(best, rectangular(drops * USUAL_DROPS_OFF.value)), from: DropperFrom::Usual }
    }

    /// A dropper the maker knows, without a ±.
    #[must_use]
    pub fn stated(per_ml: DropsPerMillilitre) -> Self {
        Self { per_ml: Uncertain::new(per_ml, 0.0), from: DropperFrom::Stated }
    }

    /// A dropper calibrated in one or more runs: all drops over all that they came to.
    ///
    /// The ± holds, for each run, the last drop (half a drop either way), which more runs make smaller; from two runs on their
    /// spread (type A, GUM 4.2: standard deviation of the mean); and what is common to all runs and never gets smaller (GUM F.1.2):
    /// the tolerance of the glass or the scale, and the density.
    ///
    /// # Errors
    /// [`DropperError`].
    pub fn calibrated(runs: &[Run], known: &WaterDrops) -> Result<Self, DropperError> {
        let mut own: Vec<f64> = Vec::new();
        let (mut drops, mut volume) = (0.0, 0.0);
        let (mut counting, mut tolerance) = (0.0, 0.0);
        for run in runs {
            let (ml, ml_u) = known.millilitres(run.taken)?;
            let count = f64::from(run.drops.to_drops());
            if count <= 0.0 || ml <= 0.0 {
                return Err(DropperError::Nothing);
            }
            // The last drop may have filled the mark by half or gone half beyond it.
            let last = rectangular(0.5) / count;
            own.push(count / ml);
            drops += count;
            volume += ml;
            counting += libm::pow(last * ml, 2.0);
            tolerance += ml_u;
        }
        if own.is_empty() {
            return Err(DropperError::Nothing);
        }
        let best = drops / volume;
        let of_counting = libm::sqrt(counting) / volume;
        let of_tolerance = tolerance / volume;
        let spread = if own.len() > 1 {
            let count = own.len() as f64;
            let mean = own.iter().sum::<f64>() / count;
            let squares = own.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>();
            libm::sqrt(squares / (count - 1.0) / count) / mean
        } else {
            0.0
        };
        let weighed = runs.iter().any(|run| matches!(run.taken, Taken::Mass(_)));
        let of_density = if weighed { known.density_rel()? } else { 0.0 };
        // The spread holds the counting too; the larger of the two, never both. It holds nothing of what all runs have in common.
        let relative = libm::hypot(libm::hypot(spread.max(of_counting), of_tolerance), of_density);
        let per_ml = Uncertain::new(DropsPerMillilitre::per_millilitre(best)?, best * relative);
        Ok(Self { per_ml, from: DropperFrom::Calibrated(runs.len()) })
    }

    /// Volume of one drop, in mL.
    #[must_use]
    pub fn drop_ml(&self) -> f64 {
        1.0 / self.per_ml.best.to_per_millilitre()
    }

    /// Relative standard uncertainty of a drop; the inverse has the same.
    #[must_use]
    pub fn relative(&self) -> f64 {
        self.per_ml.standard() / self.per_ml.best.in_unit()
    }

    /// What one drop of water at this temperature weighs on a scale in air, in mg; none outside the table of its density.
    #[must_use]
    pub fn water_drop_mg(&self, temperature: Temperature) -> Option<f64> {
        density_of_water(temperature).map(|density| self.drop_ml() / millilitres_per_gram(density) * 1000.0)
    }

    /// Whether drops of water at this temperature are those of an official dropper, 45 to 55 mg each (USP <1101>, said of 15 °C).
    #[must_use]
    pub fn is_official(&self, temperature: Temperature) -> Option<bool> {
        let (least, most) = DROP_OF_WATER.value;
        // Weighed drops carry the last bits of a division; the limits themselves are inside.
        self.water_drop_mg(temperature).map(|mg| mg >= least - 1e-9 && mg <= most + 1e-9)
    }
}

impl WaterDrops {
    fn density_at(&self) -> Result<(MassDensity, f64), DropperError> {
        if let Some(known) = self.density {
            return Ok((known.best, known.relative().unwrap_or(0.0)));
        }
        let temperature = self.water_at.ok_or(DropperError::DensityMissing)?;
        let no_water = || DropperError::NoWater(temperature.to_celsius());
        let density = density_of_water(temperature).ok_or_else(no_water)?;
        // The slope over a degree, one way or the other where the table ends.
        let off = WATER_TEMPERATURE_OFF.value;
        let near = |by: f64| Temperature::celsius(temperature.to_celsius() + by).ok().and_then(density_of_water);
        let beside = near(off).or_else(|| near(-off)).ok_or_else(no_water)?;
        let change = beside.to_grams_per_millilitre() / density.to_grams_per_millilitre() - 1.0;
        Ok((density, rectangular(change.abs())))
    }

    /// Relative standard uncertainty of the density of what was weighed.
    fn density_rel(&self) -> Result<f64, DropperError> {
        self.density_at().map(|(_, relative)| relative)
    }

    /// A volume and the standard uncertainty of its own reading, both in mL.
    fn millilitres(&self, taken: Taken) -> Result<(f64, f64), DropperError> {
        match taken {
            Taken::Volume(volume) => {
                let ml = volume.to_millilitres();
                Ok((ml, rectangular(self.glass.map_or(ml * MEASURED_POUR.value, Volume::to_millilitres))))
            }
            Taken::Mass(mass) => {
                let per_gram = millilitres_per_gram(self.density_at()?.0);
                let reading = self.balance.map_or(0.0, |balance| balance.weighing(mass).standard());
                Ok((mass.to_grams() * per_gram, reading * per_gram))
            }
        }
    }
}

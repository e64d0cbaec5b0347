//! How much of what is poured ends on the paper, found by weighing paper, brush and glass.

use crate::measure::{Area, Mass, MassDensity, OutOfBounds, Share, Uncertain, Uptake, significant};
use crate::numerics::{Inputs, Linear};
use crate::source::SOLUTION_DENSITY;
use crate::stock::Balance;

/// One thing weighed before the coat and after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weighings {
    /// Before.
    pub before: Mass,
    /// After.
    pub after: Mass,
}

/// What was weighed, quickly and in damp air, because water evaporates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SharesWeighed {
    /// The sheet, dry and just coated.
    pub paper: Weighings,
    /// The brush or rod, damp and after the coat.
    pub brush: Weighings,
    /// The glass, empty and after the coat.
    pub glass: Weighings,
    /// The scale.
    pub balance: Balance,
}

/// Why weighings give no share.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ShareError {
    /// The paper did not become heavier.
    #[error("the paper weighs {} g before and {} g after: nothing reached it", significant(.0.before.to_grams(), 7), significant(.0.after.to_grams(), 7))]
    NothingOnPaper(Weighings),
    /// Brush or glass became lighter, more than the paper gained.
    #[error("brush and glass lost more than the paper gained: the brush was wetter before than after")]
    BrushGaveWater,
    /// Beyond what is kept.
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
}

impl ShareError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NothingOnPaper(_) => "share_nothing_on_paper",
            Self::BrushGaveWater => "share_brush_gave_water",
            Self::OutOfBounds(_) => "value_out_of_bounds",
        }
    }
}

impl SharesWeighed {
    /// Gains of paper, brush and glass, in g; each reading lies within half a step of the display (rectangular).
    fn gains(&self) -> (Inputs<&'static str>, [Linear; 3]) {
        let mut inputs = Inputs::default();
        let half_step = self.balance.step().to_grams() / 2.0;
        let mut gain = |label: &'static str, own: &Weighings| {
            let before = inputs.add_rectangular(label, own.before.to_grams(), half_step);
            let after = inputs.add_rectangular(label, own.after.to_grams(), half_step);
            &after - &before
        };
        let gains = [gain("paper", &self.paper), gain("brush", &self.brush), gain("glass", &self.glass)];
        (inputs, gains)
    }

    /// The share of what was poured that is on the paper.
    ///
    /// # Errors
    /// [`ShareError`].
    pub fn share(&self) -> Result<Uncertain<Share>, ShareError> {
        let (inputs, [paper, brush, glass]) = self.gains();
        if paper.value() <= 0.0 {
            return Err(ShareError::NothingOnPaper(self.paper));
        }
        let poured = &(&paper + &brush) + &glass;
        let share = &paper / &poured;
        if poured.value() <= 0.0 || share.value() > 1.0 {
            return Err(ShareError::BrushGaveWater);
        }
        Ok(Uncertain::new(Share::part(share.value())?, inputs.standard_uncertainty(&share)))
    }

    /// What the paper took up to its coated area. Where the density of the mix is not known it lies between that of water and the
    /// densest stock in use (rectangular).
    ///
    /// # Errors
    /// [`ShareError`].
    pub fn uptake(&self, coated: Area, density: Option<MassDensity>) -> Result<Uncertain<Uptake>, ShareError> {
        let (mut inputs, [paper, ..]) = self.gains();
        if paper.value() <= 0.0 {
            return Err(ShareError::NothingOnPaper(self.paper));
        }
        let (least, most) = SOLUTION_DENSITY.value;
        let density = match density {
            Some(known) => Linear::exact(known.to_grams_per_millilitre()),
            None => inputs.add_rectangular("density", f64::midpoint(least, most), (most - least) / 2.0),
        };
        let per_100_cm2 = &(&paper / &density) * (100.0 / coated.to_square_centimetres());
        let best = Uptake::millilitres_per_100_cm2(per_100_cm2.value())?;
        Ok(Uncertain::new(best, inputs.standard_uncertainty(&per_100_cm2)))
    }
}

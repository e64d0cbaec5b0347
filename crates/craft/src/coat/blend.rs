//! Two metals in one coat. A ratio without its unit says nothing: equal volumes of the usual solutions are 51:49 by moles and 37:63
//! by weight.

use super::MetalStock;

/// What a ratio counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RatioBy {
    /// Millilitres of the two solutions, and so drops of like droppers.
    Volume,
    /// Moles of the two metals.
    Moles,
    /// Grams of the two metals.
    Weight,
}

impl RatioBy {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Volume, Self::Moles, Self::Weight];

    /// In one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Volume => "volume",
            Self::Moles => "moles",
            Self::Weight => "weight",
        }
    }
}

/// A wanted ratio of the first metal to the second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio {
    /// Of the first, with [`Ratio::second`] making up the whole.
    pub first: f64,
    /// Of the second.
    pub second: f64,
    /// What they count.
    pub by: RatioBy,
}

/// One mixture said in each unit, as the part of the first in both together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    /// By volume of the solutions.
    pub volume: f64,
    /// By moles of metal.
    pub moles: f64,
    /// By weight of metal.
    pub weight: f64,
}

/// What one millilitre of a solution counts for.
fn per_ml(stock: &MetalStock, by: RatioBy) -> f64 {
    match by {
        RatioBy::Volume => 1.0,
        RatioBy::Moles => stock.moles_per_litre(),
        RatioBy::Weight => stock.strength.best.to_milligrams_per_millilitre(),
    }
}

impl Ratio {
    /// The part of the first solution in the volume of both.
    #[must_use]
    pub fn first_by_volume(&self, first: &MetalStock, second: &MetalStock) -> f64 {
        let (a, b) = (self.first / per_ml(first, self.by), self.second / per_ml(second, self.by));
        a / (a + b)
    }
}

impl Shown {
    /// The ratio of so many millilitres of the two.
    #[must_use]
    pub fn of(first: &MetalStock, first_ml: f64, second: &MetalStock, second_ml: f64) -> Self {
        let part = |by: RatioBy| {
            let (a, b) = (first_ml * per_ml(first, by), second_ml * per_ml(second, by));
            a / (a + b)
        };
        Self { volume: part(RatioBy::Volume), moles: part(RatioBy::Moles), weight: part(RatioBy::Weight) }
    }
}

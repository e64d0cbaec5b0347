//! What a coat is planned from.

use alloc::vec::Vec;

use super::{Contrast, Iron, MetalStock, Ratio};
use crate::measure::Share;
use crate::paper::{Dropper, Sheet, UptakeRule};

/// How many coats a sheet gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coats {
    /// One.
    Single,
    /// Two; the first thinned with water to this part of its strength.
    Double(Share),
}

/// How drops become whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rounding {
    /// Equal whole drops of iron and of metal, never more than a fiftieth under the need.
    Plain,
    /// The least poured that keeps every ratio and the dose within this part of itself.
    Within(Share),
}

/// The answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// Image and margin.
    pub sheet: Sheet,
    /// How the volume is found.
    pub uptake: UptakeRule,
    /// Droppers; bottles name one by its place. Bottles with the same dropper are off together.
    pub droppers: Vec<Dropper>,
    /// The plain iron.
    pub iron: Iron,
    /// The metal.
    pub metal: MetalStock,
    /// A second metal, and its ratio.
    pub second: Option<(MetalStock, Ratio)>,
    /// Contrast.
    pub contrast: Option<Contrast>,
    /// Coats.
    pub coats: Coats,
    /// How many sheets.
    pub sheets: u32,
    /// Sheets lost, as a part of those wanted.
    pub loss: Option<Share>,
    /// How drops become whole.
    pub rounding: Rounding,
    /// The printing-out way: the image comes out in the light, and paper must be damp.
    pub printing_out: bool,
}

impl Request {
    /// What is mixed for every sheet that is wanted, the lost ones included.
    #[must_use]
    pub fn sheets_with_loss(&self) -> f64 {
        f64::from(self.sheets) * (1.0 + self.loss.map_or(0.0, Share::of_whole))
    }
}

//! What is coated, how much solution it takes, and how drops are known.
//!
//! A [`Sheet`] is an image with its margin; its coated area decides the volume, by an [`UptakeRule`]. A [`Dropper`] turns
//! volumes into whole drops; it is calibrated for one solution, by counting drops to a volume or by weighing them. A
//! [`SaltBox`] holds paper at a known humidity.

mod dropper;
mod salt_box;
mod share;
mod sheet;
mod uptake;
mod water;

pub use dropper::{Dropper, DropperError, DropperFrom, Run, Taken, WaterDrops};
pub use salt_box::SaltBox;
pub use share::{ShareError, SharesWeighed, Weighings};
pub use sheet::{Margin, NOMINAL_SIZES, NominalSize, Sheet};
pub use uptake::{Need, Tool, UptakeRule};
pub use water::{density_of_water, millilitres_per_gram};

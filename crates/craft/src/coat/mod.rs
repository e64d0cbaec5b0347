//! The coat: from an image and its margin to whole drops of each solution, in the order they are dropped.
//!
//! [`Plan::make`] takes a [`Request`]. The volume follows the coated area; half is iron, half metal. A contrast agent either
//! *replaces* (chlorate iron takes the place of plain iron, and the two together equal the metal) or is *added on top*
//! (a hexachloroplatinate from its halving ladder, hydrogen peroxide). Drops are whole; [`search`] looks for the fewest that keep
//! every ratio within a stated error.

mod blend;
mod bottle;
mod contrast;
mod error;
mod less;
mod plan;
mod reckon;
mod request;
mod search;
mod warning;
mod whole;

pub use blend::{Ratio, RatioBy, Shown as RatioShown};
pub use bottle::{Bottle, Iron, IronMolarity, MetalStock};
pub use contrast::{Agent, ChlorateIron, Contrast, OnTop, dose_of_drops, drop_percent};
pub use error::CoatError;
pub use less::LessPoured;
pub use plan::{ForAll, Plan};
pub use reckon::{Cause, Cost, IronToMetal, MetalPoured};
pub use request::{Coats, Request, Rounding};
pub use search::{Asked, Found, OnTopAsked, Part, search};
pub use warning::Warning;
pub use whole::{Coat, Pour, Role};

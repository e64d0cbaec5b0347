//! A negative for ink on film: the curve as a table, its size in pixels, where it lies on the film, what stands in its border, what to know
//! before it is printed.

mod border;
mod crop;
mod inks;
mod place;
mod rule;
mod size;
mod table;
mod warning;

pub use border::{Border, CodeSize, Line, Mark, Rect, Rule, Sides};
pub use crop::{Beyond, Crop, turned};
pub use inks::{InkSheet, InkStrip};
pub use place::{Film, NoRoom};
pub use rule::{RuleFar, RuleRead};
pub use size::{PixelSize, Side, pixels_of};
pub use table::{CurveError, table};
pub use warning::{PictureFacts, Warning, dither_step, warnings};

//! A negative for ink on film: the curve as a table, its size in pixels, what stands in its border, what to know before it is printed.

mod border;
mod size;
mod table;
mod warning;

pub use border::{Border, Mark, Rect};
pub use size::{PixelSize, Side, pixels_of};
pub use table::{CurveError, table};
pub use warning::{PictureFacts, Warning, warnings};

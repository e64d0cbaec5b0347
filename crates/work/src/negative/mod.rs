//! A picture and a curve become a negative for ink on film.
//!
//! | module | what it holds |
//! |---|---|
//! | `answers` | what somebody said of it, read |
//! | `curve` | the curve: points of a table, or those of a response that is kept |
//! | `make` | the picture is opened, the sheet planned, the file made |
//! | `drawn` | what stands in the border, row by row |
//! | `refused` | pictures that are not taken, in the words of the house |

mod answers;
mod curve;
mod drawn;
mod make;
mod refused;

pub use answers::NegativeAnswers;
pub use curve::{CurveOf, curve_of_response, curve_of_table};
pub use make::{Hooks, Negative, make};
pub(crate) use refused::{not_made, picture as picture_refused};

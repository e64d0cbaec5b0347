//! A picture and a curve become a negative for ink on film.
//!
//! | module | what it holds |
//! |---|---|
//! | `answers`, `chosen` | what somebody said of it, read |
//! | `table` | the same answers as a table, for forms and for what is kept |
//! | `curve` | the curve: points of a table, or those of a response that is kept; what its set-up says |
//! | `plan` | the sheet: which pictures, how large, where, with what around them |
//! | `make` | the file is made, and a small picture of it |
//! | `drawn` | what stands in the border, row by row |
//! | `inks` | strips of candidate inks |
//! | `refused` | pictures that are not taken, in the words of the house |

mod answers;
mod chosen;
mod curve;
mod drawn;
mod inks;
mod make;
mod plan;
mod refused;
mod table;

pub use answers::NegativeAnswers;
pub use curve::{CurveOf, FilmSetup, curve_of_response, curve_of_table, with_setup};
pub use inks::{InkAnswers, InksMade, make_inks};
pub use make::{Hooks, Negative, PictureOnFilm, check_preview, make, preview};
pub use table::{ANSWER_FIELDS, AnswerField, AnswerShape};

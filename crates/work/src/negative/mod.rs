//! A picture and a curve become a negative for ink on film.
//!
//! | module | what it holds |
//! |---|---|
//! | `answers`, `chosen` | what somebody said of it, read |
//! | `table` | the same answers as a table, for forms and for what is kept |
//! | `curve` | the curve: points of a table, or those of a response that is kept; what its set-up says |
//! | `apart` | what goes from one process to another, and into the book |
//! | `job` | making one as a job: how far it is, where it goes on |
//! | `kept` | negatives in the book |
//! | `small` | a small picture of a large one, for a page |
//! | `plan` | the sheet: which pictures, how large, where, with what around them |
//! | `mark` | eight signs by which film and print lead back to it |
//! | `make` | the file is made, and a small picture of it |
//! | `drawn` | what stands in the border, row by row |
//! | `inks` | strips of candidate inks |
//! | `refused` | pictures that are not taken, in the words of the house |

mod answers;
mod apart;
mod chosen;
mod curve;
mod drawn;
mod inks;
mod job;
mod kept;
mod make;
mod mark;
mod plan;
mod refused;
mod small;
mod table;

pub use answers::NegativeAnswers;
pub use apart::{FileFacts, KeptCurve, SentRefusal};
pub(crate) use chosen::{NO_INK, NamedInk, ink, ink_words, same_ink};
pub use curve::{CurveOf, FilmSetup, curve_of_response, curve_of_table, with_setup};
pub(crate) use drawn::{Codes, Plain, Words, strip};
pub use handcoat_pixels::Checkpoint;
pub use inks::{InkAnswers, InksMade, make_inks};
pub use job::{
    Asked, JobStanding, JobView, Taken, Whole, Worker, add_job, job, job_is_at, job_is_made, job_is_refused,
    job_is_whole, job_number, jobs, queue_job, stop_job, take_job,
};
pub use kept::{
    CurveDoubts, Making, NameTaken, NegativeLink, NegativeView, link_doubts, name_taken, negatives, one_negative,
};
pub(crate) use kept::{link_doubts_within, link_to};
pub use make::{Hooks, Negative, PictureOnFilm, check_fits, check_preview, forget, make, preview};
pub use mark::sha256_of;
pub(crate) use refused::{not_made, picture as picture_refused};
pub(crate) use small::small_in;
pub use small::small_picture;
pub use table::{ANSWER_FIELDS, AnswerField, AnswerShape};

//! A picture and a curve become a negative for ink on film.
//!
//! | module | what it holds |
//! |---|---|
//! | `answers` | what somebody said of it, read |
//! | `table` | the same answers as a table, for forms and for what is kept |
//! | `curve` | the curve: points of a table, or those of a response that is kept |
//! | `apart` | what goes from one process to another, and into the book |
//! | `job` | making one as a job: how far it is, where it goes on |
//! | `kept` | negatives in the book |
//! | `make` | the picture is opened, the sheet planned, the file made |
//! | `drawn` | what stands in the border, row by row |
//! | `small` | a small picture of a large one, for a page |
//! | `refused` | pictures that are not taken, in the words of the house |

mod answers;
mod apart;
mod curve;
mod drawn;
mod job;
mod kept;
mod make;
mod refused;
mod small;
mod table;

pub use answers::NegativeAnswers;
pub use apart::{FileFacts, KeptCurve, SentRefusal};
pub use curve::{CurveOf, curve_of_response, curve_of_table};
pub use handcoat_pixels::Checkpoint;
pub use job::{
    Asked, JobStanding, JobView, Taken, Whole, Worker, add_job, job, job_is_at, job_is_made, job_is_refused,
    job_is_whole, job_number, jobs, queue_job, stop_job, take_job,
};
pub use kept::{CurveDoubts, Making, NegativeLink, NegativeView, link_doubts, negatives, one_negative};
pub(crate) use kept::{link_doubts_within, link_to};
pub use make::{Hooks, Negative, make};
pub use small::small_picture;
pub use table::{ANSWER_FIELDS, AnswerField, AnswerShape};

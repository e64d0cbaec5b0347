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
//! | `rule` | what the rule of 100 mm says of the printer |
//! | `file` | what stands where a file is written, and whether one that was made is still that one |
//! | `inks` | strips of candidate inks |
//! | `sources` | pictures that negatives come from: none is written over, and one that was changed is said |
//! | `way` | how a job goes on that was refused
//! | `refused` | pictures that are not taken, in the words of the house |

mod answers;
mod apart;
mod chosen;
mod curve;
mod drawn;
mod file;
mod inks;
mod job;
mod kept;
mod make;
mod mark;
mod plan;
mod refused;
mod rule;
mod small;
mod sources;
mod table;
mod way;

pub use answers::NegativeAnswers;
pub use apart::{FileFacts, KeptCurve, SentRefusal};
pub use chosen::sides_word;
pub(crate) use chosen::{NO_INK, NamedInk, ink, ink_words, same_ink};
pub use curve::{CurveOf, FilmSetup, RuleFilm, curve_of_response, curve_of_table, with_rule_film, with_setup};
pub(crate) use drawn::{Codes, Plain, Words, strip};
pub use file::{FileStanding, as_made, check_target, file_standing, file_standings};
pub use handcoat_pixels::Checkpoint;
pub use inks::{InkAnswers, InksMade, make_inks};
pub use job::{
    Asked, JobChange, JobStanding, JobView, Taken, Whole, Worker, add_job, change_job, job, job_is_at, job_is_made,
    job_is_refused, job_is_whole, job_number, jobs, put_away_job, queue_job, stop_job, take_job,
};
pub use kept::{
    CurveDoubts, Making, NameTaken, NegativeLink, NegativeView, link_doubts, name_taken, negatives, negatives_put_away,
    one_negative,
};
pub(crate) use kept::{files_of, find_negative, link_doubts_within, link_to, made_for};
pub use make::{Hooks, Negative, PictureOnFilm, check_fits, check_preview, forget, make, preview, sides_words};
pub use mark::sha256_of;
pub use refused::why_unwritable;
pub(crate) use refused::{not_made, picture as picture_refused};
pub(crate) use rule::check_rule_kept;
pub use rule::{Rule, RuleOn};
pub(crate) use small::small_in;
pub use small::small_picture;
pub use sources::check_no_source;
pub use table::{ANSWER_FIELDS, AnswerField, AnswerShape};
pub use way::with_way;

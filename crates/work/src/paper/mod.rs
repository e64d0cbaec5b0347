//! The station *paper*: salt boxes, droppers, what reaches the paper. None of it needs a book; what was measured can be kept in one.

mod calibrate;
mod kept;

pub use calibrate::{
    BoxAnswers, DropperAnswers, Humidity, ShareAnswers, Shared, calibrate_dropper, humidities, share_on_paper,
};
pub use kept::{KeepDropper, KeepShare, keep_dropper, keep_share};

//! Plans of the station *paper* that need no book: salt boxes, droppers, what reaches the paper.

mod calibrate;

pub use calibrate::{
    BoxAnswers, DropperAnswers, Humidity, ShareAnswers, Shared, calibrate_dropper, humidities, share_on_paper,
};

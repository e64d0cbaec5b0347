//! The stop of film: a picture and the curve of the response that was kept become a negative.

use super::stops::{BOOK, PAPER, Stop};

/// An invented picture, left in the folder under this name.
pub(super) const PICTURE: &str = "still-life.tif";

pub(super) const FILM: &[Stop] = &[Stop {
    name: "53-negative",
    title: "A picture becomes a negative",
    look: "Through the curve of that response, light for dark, left for right; around it what makes the film known again and lets it be measured.",
    arguments: &[
        "negative", "make", PICTURE, "-o", PAPER, "--curve", "1", "--width", "5in", "--ppi", "360", "--force",
        "--book", BOOK,
    ],
    sheet: Some("negative.tif"),
    exit_code: 0,
}];

//! The stops of film: a picture and the curve of the response that was kept become a negative; a chart is printed, scanned and read.

use super::stops::{BOOK, PAPER, Stop};

/// An invented picture, left in the folder under this name.
pub(super) const PICTURE: &str = "still-life.tif";
/// The chart for film, the scan of its print, its readings, and the picture of what was found on it.
pub(super) const CHART: &str = "chart-for-film.tif";
pub(super) const SCAN: &str = "scan-of-the-print.tif";
pub(super) const READ: &str = "readings-of-the-scan.csv";
pub(super) const SEEN: &str = "seen-on-the-scan.png";

pub(super) const FILM: &[Stop] = &[
    Stop {
        name: "53-negative",
        title: "A picture becomes a negative",
        look: "Through the curve of that response, light for dark, left for right; around it what makes the film known again and lets it be measured.",
        arguments: &[
            "negative",
            "make",
            PICTURE,
            "-o",
            PAPER,
            "--curve",
            "1",
            "--width",
            "5in",
            "--ppi",
            "360",
            "--force",
            "--at",
            "2026-04-28T09:00Z",
            "--book",
            BOOK,
        ],
        sheet: Some("negative.tif"),
        exit_code: 0,
    },
    Stop {
        name: "54-chart-for-film",
        title: "A chart that is not typed off",
        look: "Printed on film like a negative; its patches lie in no order of tone, and the code of squares says which is which.",
        arguments: &["tone", "chart", "-o", PAPER, "--levels", "24", "--seed", "41", "--ppi", "200", "--book", BOOK],
        sheet: Some(CHART),
        exit_code: 0,
    },
];

/// After the print of the chart lay on the scanner.
pub(super) const SCANNED: &[Stop] = &[
    Stop {
        name: "55-scan-read",
        title: "The scan is read",
        look: "The print lay a little turned on the scanner, with dust on the glass; print and scan are made up. In the picture a green square is a patch that was read, \
               and an orange one has something to be said of it.",
        arguments: &["tone", "read", SCAN, "-o", PAPER, "--overlay", SEEN],
        sheet: Some(READ),
        exit_code: 0,
    },
    Stop {
        name: "56-scan-fitted",
        title: "Its readings become a curve",
        look: "Seventy-two patches, and no number was typed.",
        arguments: &["tone", "fit", READ],
        sheet: None,
        exit_code: 0,
    },
];

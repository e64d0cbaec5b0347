//! What a paper does with tones: readings of a chart become a response and a correction, a print through it is held against it, and what
//! is kept is doubted when its set-up changes.
//!
//! | module | what it holds |
//! |---|---|
//! | `read` | readings of a chart, and the fit |
//! | `document` | a fit as JSON, out and in: the answer of a command, and what the book keeps |
//! | `typed` | readings as a person pastes them |
//! | `check` | a print through the correction |
//! | `next` | which patches come next |
//! | `levels` | a chart to print, as a table |
//! | `chart` | a chart for film that knows itself |
//! | `scan` | a scan of its print becomes readings |
//! | `outside` | the curve and the response as ICC files |
//! | `proof` | a picture as a set-up would print it |
//! | `kept` | responses in the book |
//! | `words` | what was found and how good it is, the same at every door |
//! | `report` | one page of it |

mod chart;
mod check;
mod document;
mod kept;
mod levels;
mod next;
mod outside;
mod proof;
mod read;
mod report;
mod scan;
mod typed;
mod words;

pub use chart::{
    ChartMade, ChartOf, ChartPrintAnswers, ChartSetup, chart_print_csv, chart_setup, chart_sheet, chart_steps,
    make_chart,
};
pub use check::{CheckRead, check};
pub use document::{document, read_document};
pub use handcoat_exchange::ChartRow;
pub(crate) use kept::response_within;
pub use kept::{
    Checked, ResponseOfSetup, ResponseView, curve_to_use, followed_by, keep_check, keep_response, one_response,
    response_number, responses,
};
pub use levels::{LevelAnswers, chart_levels, next_levels};
pub use next::{NextAnswers, next};
pub use outside::{ForOthers, curve_link, outside_name, response_profile};
pub use proof::{PROOF_SAYS, ProofAnswers, ProofAsked, ProofCurve, proof, proof_picture, proof_u, tint_of_scan};
pub use read::{ChartAnswers, ToneRead, curve_csv, fit_chart, readings_csv};
pub use report::{ReportFacts, check_report, report};
pub use scan::{
    ChartScan, FlaggedPatch, PatchFlag, PatchRead, ScanAnswers, ScanFacts, ScanOutcome, SentScan, read_scan, scan_csv,
};
pub(crate) use scan::{OpenedScan, flags_of, open_scan};
pub use typed::pasted_chart;
pub use words::{
    ToneRow, aside_words, check_rows, found_rows, good_sentence, left_cells, level_words, prior_sentence, signed,
    verdict, without_curve,
};

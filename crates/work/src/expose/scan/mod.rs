//! A scan of a print under a silver step wedge becomes the readings that are else typed, or is refused with a reason and a picture that shows it.
//!
//! No mark of ours lies on it: what is known are steps of one length in a row, the darkest at one end.
//!
//! | module | what it holds |
//! |---|---|
//! | `read` | from the file to the readings |
//! | `place` | where the row lies: as a box says, or the only long strip of steps |
//! | `row` | edges along the row, and the even steps between them |
//! | `refused` | why a row is not read |

mod place;
mod read;
mod refused;
mod row;

pub use read::{StepOnScan, WedgeOutcome, WedgeScan, WedgeScanAnswers, read_wedge_scan, wedge_scan_csv};

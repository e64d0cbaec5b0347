//! A scan of a printed chart becomes readings, or is refused with a reason and a picture that shows it.
//!
//! | module | what it holds |
//! |---|---|
//! | `read` | from the file to the readings |
//! | `find` | marks, code and check cells: where the chart lies |
//! | `patches` | tones of its patches, and whether they can be believed |
//! | `reference` | a step strip beside the print |
//! | `drawing` | the picture of what was found |
//! | `facts` | what is kept of a scan with its response |
//! | `refused` | why a scan is not read |
//! | `sent` | what was read, as one process tells another |

mod drawing;
mod facts;
mod find;
mod patches;
mod read;
mod reference;
mod refused;
mod sent;

pub use facts::{FlaggedPatch, ScanFacts};
pub(crate) use patches::flags_of;
pub use patches::{PatchFlag, PatchRead};
pub use read::{ChartScan, ScanAnswers, ScanOutcome, read_scan, scan_csv};
pub(crate) use read::{OpenedScan, open_scan};
pub use sent::SentScan;

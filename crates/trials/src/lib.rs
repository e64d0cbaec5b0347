//! What the house is put through. Never shipped.
//!
//! | module | what it does |
//! |---|---|
//! | `dice` | chance from a seed |
//! | `acts` | random acts through `work`, as a door would ask for them |
//! | `prints` | the same of coats, prints and what is kept beside the shelf |
//! | `printing` | the same of coats, prints and what is kept beside the shelf |
//! | `held` | many of them, and what must hold of the book meanwhile |
//! | `prints` | a studio with many prints, to see how a long book behaves |
//! | `tone` | many charts fitted at once, for those who judge the fit from outside |
//! | `scans` | made-up prints of a chart, and scans of them |
//! | `wedges` | made-up prints under a step wedge, and scans of them |
//! | `crash` | writers that are killed at a random moment, and what must hold of the book afterwards |
//!
//! The program `trials` plays acts (`trials acts`), and is both sides of the killing: `trials write …` acts on a book as fast as it can until it
//! is killed, and `trials crash CYCLES SEED FOLDER` starts and kills it.

mod acts;
mod crash;
mod dice;
mod held;
mod printing;
mod prints;
mod scan_time;
mod scans;
mod tone;
mod wedges;

pub use acts::{moment, some_act};
pub use crash::{Crashed, crash, crash_in_lanes, write};
pub use dice::Dice;
pub use held::{Held, Played, play};
pub use prints::many_prints;
pub use scan_time::{chart_for_print, scan_time};
pub use scans::{Codes, Conditions, MadeScan, Original, printed, scan_of};
pub use tone::tone;
pub use wedges::{Around, WedgePrint, wedge_scan_of};

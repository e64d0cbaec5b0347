//! Mixing at the bench, one big step at a time.
//!
//! The work is a row in the book: where it stands, and every reading so far. A reload, a killed server or another device goes on where it
//! stood; a step that was tapped twice is taken once. When the bottle is weighed full, the mix becomes one act.

mod go;
mod state;
mod step;
mod view;

pub use go::{Begin, Reply, begin, numbered, open_benches, reply, stand};
pub use handcoat_book::BenchNumber;
pub use step::Step;
pub use view::{BenchView, Button, WayButton};

//! Pictures are opened and worked on in a process of their own, ours once more, with limits: what is hidden in a file from anywhere can
//! end that process and nothing else. Who asked reads what it says, line by line, and ends it when it ends itself.
//!
//! | module | what it holds |
//! |---|---|
//! | `said` | what the two say to each other |
//! | `limits` | what the process may take at most |
//! | `child` | the process that works |
//! | `parent` | starting one, listening to it, and what its end means |
//! | `holder` | which process has a job, and whether it still lives |
//! | `job` | a job of the book, from taking it to the act it becomes |

mod child;
mod holder;
mod job;
mod limits;
mod parent;
mod said;

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::OnceLock;

use holder::{holder, lives};
pub(crate) use job::{Worked, work_on, worker};
pub(crate) use parent::{Hooks, fits, make, preview, proof_picture, scan, small_picture, wedge};
pub(crate) use said::{AskedNegative, SentPath};

/// The word by which the process is started; it is no command for people and stands in no help.
const WORD: &str = "picture-process";

/// The program that is started for it. Where nobody named one the work is done in this process, without limits.
static PROGRAM: OnceLock<PathBuf> = OnceLock::new();

/// From now on pictures are opened by this program, which is ours.
pub fn use_program(path: PathBuf) {
    // Who names one first is right.
    let _ = PROGRAM.set(path);
}

/// Our own program: by the kernel's name where there is one, which holds also when the file was put anew meanwhile.
#[must_use]
pub fn this_program() -> Option<PathBuf> {
    let kernel = PathBuf::from("/proc/self/exe");
    if kernel.exists() { Some(kernel) } else { std::env::current_exe().ok() }
}

/// Whether these arguments start the process that opens pictures.
#[must_use]
pub fn is_child(arguments: &[OsString]) -> bool {
    arguments.get(1).is_some_and(|own| own == WORD)
}

/// The process that opens pictures: what is asked comes in, what is to be said goes out.
#[must_use]
pub fn run_child() -> ExitCode {
    child::run()
}

//! How far it is, on a terminal; and Ctrl-C, which stops a job before it ends the program.

use std::io::{IsTerminal, Write as _};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Mutex, Once, PoisonError};
use std::time::{Duration, Instant};

/// Jobs that run, and whether they shall stop.
static RUNNING: AtomicUsize = AtomicUsize::new(0);
static CANCEL: AtomicBool = AtomicBool::new(false);
static LISTEN: Once = Once::new();

/// The exit code of a program that was interrupted: 128 and the number of the signal, as shells count.
const INTERRUPTED: i32 = 130;
/// From one line to the next.
const BETWEEN: Duration = Duration::from_millis(100);
/// Characters of the bar.
const WIDE: u64 = 30;

/// While it lives, Ctrl-C asks the job to stop.
pub(super) struct Guard;

impl Guard {
    pub(super) fn new() -> Self {
        if RUNNING.fetch_add(1, Ordering::SeqCst) == 0 {
            CANCEL.store(false, Ordering::SeqCst);
        }
        LISTEN.call_once(|| {
            // Where nobody can listen, Ctrl-C ends the program at once; the file is under a name of its own until it is whole.
            let _ = std::thread::Builder::new().name("interrupt".into()).spawn(listen);
        });
        Self
    }

    #[allow(clippy::unused_self, reason = "only whoever has a guard has what it guards")]
    pub(super) fn cancel(&self) -> &'static AtomicBool {
        &CANCEL
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        RUNNING.fetch_sub(1, Ordering::SeqCst);
    }
}

fn listen() {
    let Ok(runtime) = tokio::runtime::Builder::new_current_thread().enable_io().build() else { return };
    runtime.block_on(async {
        while tokio::signal::ctrl_c().await.is_ok() {
            // A second time it does not wait for the job.
            if RUNNING.load(Ordering::SeqCst) == 0 || CANCEL.swap(true, Ordering::SeqCst) {
                std::process::exit(INTERRUPTED);
            }
        }
    });
}

/// A line on a terminal that says how far it is; nothing where there is none.
pub(super) struct Bar {
    begun: Instant,
    shown: Option<Mutex<Option<Instant>>>,
}

impl Bar {
    pub(super) fn new() -> Self {
        let terminal = std::io::stderr().is_terminal();
        Self { begun: Instant::now(), shown: terminal.then(|| Mutex::new(None)) }
    }

    pub(super) fn tell(&self, rows: u32, of: u32) {
        let Some(shown) = &self.shown else { return };
        let mut last = shown.lock().unwrap_or_else(PoisonError::into_inner);
        if last.is_some_and(|own| own.elapsed() < BETWEEN) && rows < of {
            return;
        }
        *last = Some(Instant::now());
        let line = line(rows, of, self.begun.elapsed());
        let mut out = std::io::stderr().lock();
        let _ = write!(out, "\r\x1b[K{line}").and_then(|()| out.flush());
    }

    /// Takes the line away.
    pub(super) fn end(&self) {
        if self.shown.is_some() {
            let mut out = std::io::stderr().lock();
            let _ = write!(out, "\r\x1b[K").and_then(|()| out.flush());
        }
    }
}

fn line(rows: u32, of: u32, spent: Duration) -> String {
    let (rows, of) = (u64::from(rows.min(of)), u64::from(of.max(1)));
    let done = rows * WIDE / of;
    let bar = format!("{}{}", "#".repeat(done as usize), ".".repeat((WIDE - done) as usize));
    let left = match rows {
        0 => String::new(),
        rows => format!(", {} s left", (spent.as_secs_f64() * (of - rows) as f64 / rows as f64).ceil()),
    };
    format!("{bar} {} %, row {rows} of {of}{left}", rows * 100 / of)
}

#[cfg(test)]
mod tests {
    mod line;
}

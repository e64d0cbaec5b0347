//! Jobs of the pages, one after another, on a thread that lets the pages go first. A job that was interrupted is not begun by itself.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use handcoat_work::negative::{JobStanding, jobs};

use super::desk::Desk;
use crate::apart;

/// Of the newest jobs so many are looked through for those that wait.
const MOST: u32 = 100_000;

/// Whether somebody works through the jobs that wait.
#[derive(Debug, Default)]
pub(super) struct Queue {
    working: Mutex<bool>,
}

/// Sees to it that jobs that wait are worked on. Called after each that was added.
pub(super) fn go(desk: &Arc<Desk>) {
    let mut working = desk.queue.working.lock().unwrap_or_else(PoisonError::into_inner);
    if *working {
        return;
    }
    let own = Arc::clone(desk);
    // Where no thread can be begun the jobs wait, and the next one that is added tries again.
    *working = std::thread::Builder::new().name("jobs".into()).spawn(move || work(&own)).is_ok();
}

fn work(desk: &Arc<Desk>) {
    while let Some(number) = next(desk) {
        let stop = AtomicBool::new(false);
        // What is refused stands with the job; a stop comes through the book.
        let _ = apart::work_on(desk.book(), number, true, &|_, _| {}, &|| stop.load(Ordering::SeqCst));
    }
}

/// The oldest job that waits here; with none, this thread is done, and whoever adds one later begins another.
fn next(desk: &Arc<Desk>) -> Option<i64> {
    let mut working = desk.queue.working.lock().unwrap_or_else(PoisonError::into_inner);
    let all = jobs(&desk.studio(), MOST, apart::worker()).unwrap_or_default();
    let own = |own: &&handcoat_work::negative::JobView| own.standing == JobStanding::Waiting && own.ours;
    let found = all.iter().rev().find(own).map(|own| own.number);
    *working = found.is_some();
    found
}

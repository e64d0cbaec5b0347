//! Where finished bands wait to be written in their order, without anybody waiting for them.
//!
//! Who brings the band whose turn it is writes it, and after it those that wait already. So a thread that is held up holds up the others only when
//! the room is full, and not at each band.

use std::collections::BTreeMap;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

/// Finished bands.
pub(super) struct Queue<T> {
    state: Mutex<State<T>>,
    moved: Condvar,
    /// How many bands beyond the next one may be begun.
    room: u32,
}

struct State<T> {
    /// The band that is written next.
    next: u32,
    waiting: BTreeMap<u32, T>,
    /// Whether somebody writes.
    busy: bool,
    stopped: bool,
}

impl<T> Queue<T> {
    pub(super) fn new(next: u32, room: u32) -> Self {
        let state = State { next, waiting: BTreeMap::new(), busy: false, stopped: false };
        Self { state: Mutex::new(state), moved: Condvar::new(), room }
    }

    // A thread that panicked with the lock has stopped everything before; what it left is not used.
    fn lock(&self) -> MutexGuard<'_, State<T>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits until a band may be begun; no when all was stopped.
    pub(super) fn has_room(&self, band: u32) -> bool {
        let full = |state: &mut State<T>| !state.stopped && band >= state.next.saturating_add(self.room);
        !self.moved.wait_while(self.lock(), full).unwrap_or_else(PoisonError::into_inner).stopped
    }

    /// Brings a band, and writes what can be written. Nothing when all was stopped.
    pub(super) fn bring<E>(
        &self,
        band: u32,
        own: T,
        mut write: impl FnMut(u32, T) -> Result<(), E>,
    ) -> Option<Result<(), E>> {
        let mut state = self.lock();
        state.waiting.insert(band, own);
        if state.busy {
            return (!state.stopped).then_some(Ok(()));
        }
        loop {
            let next = state.next;
            if state.stopped {
                return None;
            }
            let Some(own) = state.waiting.remove(&next) else { return Some(Ok(())) };
            state.busy = true;
            drop(state);
            let outcome = write(next, own);
            state = self.lock();
            state.busy = false;
            if outcome.is_err() {
                return Some(outcome);
            }
            state.next += 1;
            self.moved.notify_all();
        }
    }

    /// Wakes everybody who waits, with nothing.
    pub(super) fn stop(&self) {
        self.lock().stopped = true;
        self.moved.notify_all();
    }

    /// Bands that are written.
    pub(super) fn passed(&self) -> u32 {
        self.lock().next
    }
}

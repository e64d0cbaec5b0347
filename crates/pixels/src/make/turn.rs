//! What goes in turn: band after band, whoever made it.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

/// Something that bands pass one after the other.
pub(super) struct Turn<T> {
    state: Mutex<State<T>>,
    moved: Condvar,
}

struct State<T> {
    /// The band whose turn it is.
    next: u32,
    stopped: bool,
    value: T,
}

/// The turn of one band. When it is dropped the next band's comes.
pub(super) struct Turned<'a, T> {
    state: MutexGuard<'a, State<T>>,
    moved: &'a Condvar,
}

impl<T> Turn<T> {
    pub(super) fn new(next: u32, value: T) -> Self {
        Self { state: Mutex::new(State { next, stopped: false, value }), moved: Condvar::new() }
    }

    // A thread that panicked with the lock has stopped everything before; what it left is not used.
    fn lock(&self) -> MutexGuard<'_, State<T>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits for the turn of a band; nothing when all was stopped.
    pub(super) fn wait(&self, band: u32) -> Option<Turned<'_, T>> {
        let waits = |state: &mut State<T>| !state.stopped && state.next != band;
        let state = self.moved.wait_while(self.lock(), waits).unwrap_or_else(PoisonError::into_inner);
        if state.stopped { None } else { Some(Turned { state, moved: &self.moved }) }
    }

    /// Wakes everybody who waits, with nothing.
    pub(super) fn stop(&self) {
        self.lock().stopped = true;
        self.moved.notify_all();
    }
}

impl<T> Turned<'_, T> {
    pub(super) fn get(&mut self) -> &mut T {
        &mut self.state.value
    }
}

impl<T> Drop for Turned<'_, T> {
    fn drop(&mut self) {
        self.state.next += 1;
        self.moved.notify_all();
    }
}

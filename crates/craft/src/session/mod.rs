//! The day's printing: prints as work on limited hands, lamps, frames and trays.
//!
//! A [`Sheet`] says what one print goes through and how long each [`Step`] takes; [`Means`] say what there is of each
//! [`Resource`]. [`Schedule::make`] lays the steps out so that nothing is used twice at a time; a [`Course`] follows
//! what really happens and moves what is not in hand yet. All spans count from the beginning of the session.

mod bound;
mod calendar;
mod clock;
mod course;
mod means;
mod schedule;
mod sheet;
mod step;
mod timer;

pub use bound::{Bound, BoundBy};
pub use clock::TimeOfDay;
pub use course::{Course, CourseError, Happened, State};
pub use means::{Means, TraysTooFew};
pub use schedule::{MOST_PRINTS, Schedule, SessionError, Stale, Task, Use};
pub use sheet::{Sheet, Spans};
pub use step::{Hand, Resource, Step};
pub use timer::{BootClock, Judged, Left, Reading, SinceBoot, Timer, WallClock};

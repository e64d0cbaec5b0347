//! The station *session*: the day's printing, its plan and papers, and the printing itself at the bench.
//!
//! | module | what it holds |
//! |---|---|
//! | `answers`, `plan`, `words` | a plan from answers, and its words |
//! | `sheet`, `blank` | the session sheet and the blank data sheet |
//! | `begin` | beginning a session: what each print is to be |
//! | `state` | a session as it is kept, and going through what happened |
//! | `tap` | what somebody taps, and the acts that come of it |
//! | `timers` | timers people start |
//! | `view` | where every print stands, and what is on the screen |

mod answers;
mod begin;
mod blank;
mod plan;
mod sheet;
mod state;
mod tap;
mod timers;
mod view;
mod words;

pub use handcoat_book::SessionNumber;

pub use answers::SessionAnswers;
pub(crate) use answers::read_paper;
pub use begin::{BeginSession, PrintAnswers, begin, check_print, no_place, repeated_print, session_numbered};
pub use blank::{BlankFacts, blank_sheet};
pub use plan::{HandStep, SessionPlan, session_plan};
pub use sheet::{Drops, SessionSheetFacts, session_sheet};
pub use tap::{Came, Tap, Tapped, tap, usual_lateness};
pub use timers::{TimerView, put_timer_away, start_timer, timers};
pub use view::{PourLine, PrintStand, Screen, SessionLine, SessionView, session, sessions};
pub use words::{bound_words, duration, steps_by_hand, summary, timeline_rows};

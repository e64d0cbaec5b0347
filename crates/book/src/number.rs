//! Running numbers of the book's rows. They are not of one kind: an act's number opens no session.

use std::fmt;

/// Newtypes over the number of a row.
macro_rules! row_number {
    ($($(#[$meta:meta])* $name:ident, $one:literal);+ $(;)?) => {$(
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub(crate) i64);

        impl $name {
            #[doc = concat!("The ", $one, " with this number.")]
            #[must_use]
            pub fn new(number: i64) -> Self {
                Self(number)
            }

            /// The number.
            #[must_use]
            pub fn get(self) -> i64 {
                self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    )+};
}

row_number!(
    /// The running number of an act.
    ActNumber, "act";
    /// The running number of a piece of bench work.
    BenchNumber, "work";
    /// The running number of a session.
    SessionNumber, "session";
    /// The running number of a timer.
    TimerNumber, "timer";
    /// The running number of a job.
    JobNumber, "job";
);

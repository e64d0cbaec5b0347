//! What cannot be seen from outside.

mod migration;

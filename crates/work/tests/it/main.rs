//! What the maker does, from outside.

mod bench;
mod coat;
mod compare;
mod shelf;
mod solutions;
mod studio;
mod traps;

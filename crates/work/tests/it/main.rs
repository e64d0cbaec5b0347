//! What the maker does, from outside.

mod bench;
mod coat;
mod compare;
mod keep;
mod print;
mod shelf;
mod solutions;
mod studio;
mod traps;

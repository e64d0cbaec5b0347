//! What the maker does, from outside.

mod bench;
mod coat;
mod compare;
mod session;
mod shelf;
mod solutions;
mod studio;

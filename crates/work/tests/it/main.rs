//! What the maker does, from outside.

mod bench;
mod compare;
mod shelf;
mod solutions;
mod studio;

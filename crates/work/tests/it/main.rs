//! What the maker does, from outside.

mod bench;
mod shelf;
mod studio;

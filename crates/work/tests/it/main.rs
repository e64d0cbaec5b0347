//! What the maker does, from outside.

mod bench;
mod coat;
mod compare;
mod expose;
mod keep;
mod negative;
mod negative_book;
mod negative_rule;
mod negative_sheet;
mod print;
mod session;
mod shelf;
mod solutions;
mod studio;
mod tone;
mod traps;

//! The book, from outside.

mod acts;
mod copies;
mod damage;
mod opening;
mod studio;

//! The book, from outside.

mod acts;
mod copies;
mod damage;
mod devices;
mod opening;
mod records;
mod studio;

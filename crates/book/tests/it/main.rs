//! The book, from outside.

mod acts;
mod copies;
mod damage;
mod devices;
mod jobs;
mod opening;
mod records;
mod studio;

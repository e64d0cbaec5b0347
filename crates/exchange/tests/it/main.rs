//! Bytes out and in, without a book.

mod charts;
mod reading;
mod readings;

//! Bytes out and in, without a book.

mod reading;
mod readings;

//! The program from outside, and the rules of the house.

mod arbitrary;
mod arrows;
mod books;
mod coat;
mod command;
mod contract;
mod disk;
mod error_keys;
mod exchange;
mod expose;
mod house;
mod panics;
mod papers;
mod refusals;
mod session;
mod sheet_as_weighed;
mod shells;
mod solutions;
mod tour;
mod web;
mod web_bench;
mod web_cautions;
mod web_floor;
mod web_pages;
mod web_pairing;
mod web_serving;

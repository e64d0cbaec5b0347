//! The program from outside, and the rules of the house.

mod arrows;
mod command;
mod contract;
mod house;
mod papers;
mod refusals;
mod sheet_as_weighed;
mod tour;

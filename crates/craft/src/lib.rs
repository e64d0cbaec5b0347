//! What the maker knows.
//!
//! The pure domain of `handcoat`: quantities that carry their unit and their uncertainty, constants
//! that carry their source, and the plans made from them. Nothing here touches a disk, a clock, a
//! random source or the environment; time, identities and seeds arrive as arguments.
//!
//! Module order is meaning, and a test holds it: a module uses only what stands before it.
//!
//! | module | what it holds |
//! |---|---|
//! | [`measure`] | quantities: exact masses, volumes and money; strengths, times, drops; reading and showing them |
//! | [`numerics`] | bare numbers: propagation of uncertainty, monotone curves, fits |
//! | [`colour`] | density, lightness and colour |
//! | [`source`] | constants and facts, each with where it comes from |
//! | [`ledger`] | the rule of the book: every entry sums to zero, and nothing is taken from where it is not |
//! | [`session`] | the day's printing on limited hands, lamps, frames and trays; timers that survive a clock put right |
//! | [`stock`] | formulas, salts, and the plan from powder to a bottle of known strength |
//! | [`print`] | how a print was made, and what two prints say about each other |
//! | [`paper`] | what is coated, how much it takes, droppers, salt boxes |
//! | [`coat`] | whole drops of each solution, in the order they are dropped |
//! | [`tone`] | what a paper prints for each input, and the correction that makes it print what is wanted |
//! | [`negative`] | a curve as a table of 65,536 entries, the size of a negative, what stands in its border |
//! | [`expose`] | from wedge or strips to exposure time, exposure scale and contrast |
#![no_std]
#![forbid(unsafe_code)]

extern crate alloc;

pub mod coat;
pub mod colour;
pub mod expose;
pub mod ledger;
pub mod measure;
pub mod negative;
pub mod numerics;
pub mod paper;
pub mod print;
pub mod session;
pub mod source;
pub mod stock;
pub mod tone;

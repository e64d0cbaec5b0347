//! The pages, each a function from a visit to an answer.

pub(super) mod bench;
pub(super) mod coat;
mod coat_asks;
pub(super) mod coat_made;
pub(super) mod emergency;
pub(super) mod expose;
pub(super) mod expose_eye;
pub(super) mod expose_ladder;
pub(super) mod expose_strip;
pub(super) mod expose_wedge;
pub(super) mod item;
mod item_acts;
pub(super) mod keep;
pub(super) mod ledger;
pub(super) mod pair;
pub(super) mod plan;
mod plan_asks;
pub(super) mod print_again;
pub(super) mod print_new;
pub(super) mod prints;
pub(super) mod receive;
pub(super) mod session;
pub(super) mod session_begin;
pub(super) mod settings;
pub(super) mod shelf;
pub(super) mod today;

//! Checks of what the maker knows, against numbers from outside and against properties.
//!
//! *Known* values are somebody else's and carry their source and status (`known_*`); nothing here is pinned
//! to our own last output.

mod bench;
mod coarse;
mod coat;
mod coat_search;
mod coating;
mod correction;
mod enough;
mod exposure;
mod follow_one;
mod hazard;
mod hydrate;
mod identity;
mod known_chemistry;
mod known_coat;
mod known_colour;
mod known_exposure;
mod known_fits;
mod known_montecarlo;
mod known_numerics;
mod known_proof;
mod known_session;
mod known_solutions;
mod known_sources;
mod known_strengths;
mod known_tables;
mod known_uncertainty;
mod known_warnings;
mod ladder;
mod layout;
mod ledger;
mod meeting;
mod monotone;
mod negative;
mod paper;
mod placed;
mod print;
mod proof;
mod reading;
mod session;
mod shown;
mod thresholds;
mod timers;
mod tone;
mod trade_stock;
mod traps;
mod vial;
mod weighing;

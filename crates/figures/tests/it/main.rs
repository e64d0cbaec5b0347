//! Checks of what is drawn.

mod pictograms;
mod qr;
mod timelines;

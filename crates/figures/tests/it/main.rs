//! Checks of what is drawn.

mod pictograms;
mod plots;
mod qr;
mod timelines;
mod tones;

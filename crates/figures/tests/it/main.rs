//! Checks of what is drawn.

mod letters;
mod pictograms;
mod plots;
mod qr;
mod timelines;
mod tones;

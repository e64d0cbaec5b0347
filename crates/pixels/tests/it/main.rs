//! Checks of strips in and strips out.

mod dither;
mod flavours;
mod hostile;
mod killed;
mod line;
mod made;
mod profiles;
mod resampling;
mod stages;

//! Checks of strips in and strips out.

mod beyond;
mod dither;
mod flavours;
mod hostile;
mod killed;
mod known_png_colours;
mod line;
mod made;
mod profiles;
mod resampling;
mod stages;

//! Papers read back with poppler's tools, as a stranger's eye would.

mod calibration;
mod charts;
mod emergency;
mod labels;
mod printed;
mod refused;
mod sessions;
mod tests_kept;

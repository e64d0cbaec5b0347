//! The names of criteria, the same at every door: a number without its criterion is worth nothing.

use handcoat_craft::expose::{Criteria, Noise, Shoulder};
use handcoat_craft::measure::fixed;
use handcoat_craft::source::{SHOULDER_PART, TOE_ABOVE};

/// By what the exposure scale goes.
#[must_use]
pub fn scale_criterion(criteria: &Criteria) -> String {
    let part = fixed(SHOULDER_PART.value * 100.0, 0);
    let of = match criteria.shoulder {
        Shoulder::Net => "(Dmax - base)",
        Shoulder::Absolute => "Dmax",
    };
    let above = match criteria.shoulder {
        Shoulder::Net => " above base",
        Shoulder::Absolute => "",
    };
    format!("from {} above base to {part} % of {of}{above}", fixed(TOE_ABOVE.value, 2))
}

/// By what the base exposure goes.
#[must_use]
pub fn base_criterion(criteria: &Criteria) -> String {
    format!("first exposure within {} of Dmax", fixed(criteria.black_within(), 2))
}

/// By what the other exposure goes.
#[must_use]
pub fn shoulder_criterion(criteria: &Criteria) -> String {
    let part = fixed(SHOULDER_PART.value * 100.0, 0);
    match criteria.shoulder {
        Shoulder::Net => format!("{part} % of (Dmax - base) above base"),
        Shoulder::Absolute => format!("{part} % of Dmax"),
    }
}

/// How the scatter of a reading is known.
#[must_use]
pub fn noise_from(noise: Noise) -> &'static str {
    match noise {
        Noise::Stated(_) => "stated",
        Noise::Replicates(..) => "replicates",
        Noise::Usual(_) => "usual",
    }
}

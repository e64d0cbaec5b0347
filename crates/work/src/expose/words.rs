//! The names of criteria, the same at every door: a number without its criterion is worth nothing.

use handcoat_craft::expose::{Criteria, Exposure as _, Noise, Shoulder};
use handcoat_craft::measure::{Span, Uncertain, fixed, significant};
use handcoat_craft::source::{SHOULDER_PART, TOE_ABOVE};

use super::given::Exposed;
use super::test::TestWay;

/// By what the base exposure of a wedge goes that was judged by eye.
pub const EYE_BASE: &str = "densest step still full black, by eye";
/// And its exposure scale.
pub const EYE_SCALE: &str = "from the last full black to the last visible tone, by eye";
/// By what the base exposure of strips goes.
pub const STRIP_BASE: &str = "shortest strip that the next is no blacker than, by eye, dry";

/// A time as a clock, and between which it lies.
#[must_use]
pub fn time_words(own: &Uncertain<Span>) -> String {
    match Span::between(own) {
        Some((least, most)) => format!("{}, from {} to {} (k = 2)", own.best.clock(), least.clock(), most.clock()),
        None => own.best.clock(),
    }
}

/// A time or a count, and between which it lies.
#[must_use]
pub fn exposed_words(own: &Exposed) -> String {
    match (own, own.between()) {
        (Exposed::Time(own), _) => time_words(own),
        (Exposed::Units(own), Some((least, most))) => {
            let of = |value| significant(value, 3);
            format!(
                "{} units of the same integrator, from {} to {} (k = 2)",
                of(own.best.to_units()),
                of(least),
                of(most)
            )
        }
        (Exposed::Units(own), None) => format!("{} units of the same integrator", significant(own.best.to_units(), 3)),
    }
}

/// That there is no time, and the next step.
#[must_use]
pub fn not_bracketed_words(way: TestWay) -> &'static str {
    match way {
        TestWay::Strip => "Every strip is blacker than the last: it did not bracket, go on to longer times.",
        TestWay::Ink => "Steps of ink only rank: how dense an ink is to the lamp is not known.",
        TestWay::Wedge | TestWay::Eye => {
            "The wedge did not bracket, so there is no time and no scale: nothing is guessed beyond its ends."
        }
    }
}

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

//! The names of criteria, the same at every door: a number without its criterion is worth nothing.

use handcoat_craft::expose::{Criteria, Exposure as _, Noise, Shoulder};
use handcoat_craft::measure::{IntegratorUnits, Span, Uncertain, fixed, significant};
use handcoat_craft::source::{SHOULDER_PART, TOE_ABOVE};

use super::given::{Exposed, Given};
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

/// A time or a count alone, and between which it lies.
#[must_use]
pub fn span_words(own: &Exposed) -> (String, Option<String>) {
    match own {
        Exposed::Time(own) => {
            let between = Span::between(own).map(|(least, most)| format!("from {} to {}", least.clock(), most.clock()));
            (own.best.clock(), between)
        }
        Exposed::Units(time) => {
            let of = |value| significant(value, 3);
            let between = own.between().map(|(least, most)| format!("from {} to {} units", of(least), of(most)));
            (format!("{} units", of(time.best.to_units())), between)
        }
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

/// The next test of a wedge that did not bracket, with the exposure to set.
#[must_use]
pub fn next_test_words(black: bool, white: bool, test: &Given) -> String {
    let times = |factor: f64| match test {
        Given::Time(own) => Span::seconds(own.to_seconds() * factor).map(|own| own.clock()),
        Given::Units(own) => IntegratorUnits::units(own.to_units() * factor)
            .map(|own| format!("{} units", significant(own.to_units(), 3))),
    };
    match (black, white) {
        (true, true) => String::new(),
        (false, true) => times(2.0).map_or_else(
            |_| "Expose the same wedge longer.".into(),
            |own| format!("Black is not reached. Expose the same wedge for {own}, twice as long, and read it again."),
        ),
        (true, false) => times(0.5).map_or_else(
            |_| "Expose the same wedge shorter.".into(),
            |own| {
                format!("White is not reached. Expose the same wedge for {own}, half as long, or take a longer wedge.")
            },
        ),
        (false, false) => {
            "Neither black nor white is reached: take a longer wedge, of 31 steps or 3.0 at its densest.".into()
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

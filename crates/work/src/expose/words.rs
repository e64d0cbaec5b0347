//! The names of criteria, the same at every door: a number without its criterion is worth nothing.

use handcoat_craft::expose::{Base, Criteria, Dose, Exposure as _, Noise, Shoulder};
use handcoat_craft::measure::{IntegratorUnits, Span, Uncertain, fixed, significant};
use handcoat_craft::source::{SHOULDER_PART, TOE_ABOVE};

use super::given::{Exposed, Given};
use super::ladder::read_dose;
use super::test::TestWay;
use crate::Question;

/// As many digits of a dose are said as anybody weighs.
const DOSE_DIGITS: usize = 4;

/// By what the base exposure of a wedge goes that was judged by eye.
pub const EYE_BASE: &str = "shortest exposure seen full black: the densest step as black as step 1, by eye";
/// And its exposure scale.
pub const EYE_SCALE: &str = "from the last full black to the last visible tone, by eye";
/// By what the base exposure of strips goes.
pub const STRIP_BASE: &str = "shortest strip seen full black: the next is no blacker, by eye, dry";

/// A time as a clock, and between which it lies.
#[must_use]
pub fn time_words(own: &Uncertain<Span>) -> String {
    match Span::between(own) {
        Some((least, most)) => format!("{}, from {} to {} (k = 2)", own.best.clock(), least.clock(), most.clock()),
        None => own.best.clock(),
    }
}

/// A time or a count, and between which it lies; by eye, between which black begins.
#[must_use]
pub fn exposed_words(own: &Exposed) -> String {
    let best = match own {
        Exposed::Time(own) => own.set.best.clock(),
        Exposed::Units(own) => format!("{} units of the same integrator", significant(own.set.best.to_units(), 3)),
    };
    match span_words(own).1 {
        Some(between) if own.seen() => format!("{best}, the shortest seen full black; {between}"),
        Some(between) => format!("{best}, {between} (k = 2)"),
        None => best,
    }
}

/// A base time of strips.
#[must_use]
pub fn base_time_words(own: &Base<Span>) -> String {
    exposed_words(&Exposed::Time(*own))
}

/// A time or a count alone, and between which it lies.
#[must_use]
pub fn span_words(own: &Exposed) -> (String, Option<String>) {
    let (best, between) = match own {
        Exposed::Time(own) => {
            let between = own.between.map(|(least, most)| (least.clock(), most.clock()));
            (own.set.best.clock(), between)
        }
        Exposed::Units(time) => {
            let of = |value| significant(value, 3);
            let between = own.between().map(|(least, most)| (of(least), format!("{} units", of(most))));
            (format!("{} units", of(time.set.best.to_units())), between)
        }
    };
    let between = between.map(|(least, most)| match own.seen() {
        true => format!("black begins between {least} and {most}"),
        false => format!("from {least} to {most}"),
    });
    (best, between)
}

/// A dose as it is said; one that nobody wrote down is no agent.
#[must_use]
pub fn dose_words(written: Option<&str>) -> String {
    match written.map(|own| (own, read_dose(Question::TestDose, own))) {
        None | Some((_, Ok(None))) => "no contrast agent".into(),
        Some((_, Ok(Some(own)))) => of_dose(own),
        // Of an older hand: as it stands.
        Some((text, Err(_))) => text.into(),
    }
}

/// A dose with its unit, as it is kept and said.
pub(crate) fn of_dose(own: Dose) -> String {
    format!("{} {}", significant(own.in_unit(), DOSE_DIGITS), own.unit())
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

/// The exposure of the next test of a wedge that did not bracket; none where another wedge is wanted.
#[must_use]
pub fn next_test(black: bool, white: bool, test: &Given) -> Option<Given> {
    let factor = match (black, white) {
        (false, true) => 2.0,
        (true, false) => 0.5,
        (true, true) | (false, false) => return None,
    };
    match test {
        Given::Time(own) => Span::seconds(own.to_seconds() * factor).ok().map(Given::Time),
        Given::Units(own) => IntegratorUnits::units(own.to_units() * factor).ok().map(Given::Units),
    }
}

impl Given {
    /// A time as a clock, or a count of units.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Time(own) => own.clock(),
            Self::Units(own) => format!("{} units", significant(own.to_units(), 3)),
        }
    }
}

/// The next test of a wedge that did not bracket, with the exposure to set.
#[must_use]
pub fn next_test_words(black: bool, white: bool, test: &Given) -> String {
    let next = next_test(black, white, test).map(|own| own.words());
    match (black, white) {
        (true, true) => String::new(),
        (false, true) => next.map_or_else(
            || "Expose the same wedge longer.".into(),
            |own| format!("Nothing shows that black is reached. Expose the same wedge for {own}, twice as long, and read it again."),
        ),
        (true, false) => next.map_or_else(
            || "Expose the same wedge shorter.".into(),
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

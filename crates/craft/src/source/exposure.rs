//! What an exposure is judged by, and what others found of contrast: criteria, noise of readings, borrowed ladders.

use super::{Citation, Fact, Status};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// The lightest useful tone is this much above the base.
pub const TOE_ABOVE: Fact<f64> =
    Fact { value: 0.04, cite: Citation::second_hand("focal1993", "useful minimum of a paper, after ISO 6846") };
/// The darkest useful tone is this part of the greatest density, of all of it or of what is above the base: the sources do not say which.
pub const SHOULDER_PART: Fact<f64> =
    Fact { value: 0.9, cite: Citation::second_hand("focal1993", "useful maximum of a paper, after ISO 6846") };
/// Full black is a density within this of the greatest.
pub const BLACK_WITHIN: Fact<f64> = usual(0.03, "what two neighbouring steps must differ by to be told apart dry");
/// That may be chosen between these.
pub const BLACK_WITHIN_RANGE: Fact<(f64, f64)> = usual((0.02, 0.05), "finer is noise, coarser is grey");
/// Standard uncertainty of one reading on a hand-coated print where nobody measured it. A coat differs by 2 to 5 % over a sheet, but slowly:
/// neighbouring steps share most of that.
pub const READING_U: Fact<f64> =
    usual(0.01, "a densitometer and the grain of a coat, from patch to neighbouring patch");
/// Replicates say how far readings scatter when at least so many are over the steps they are of.
pub const POOLED_FREEDOM: Fact<usize> = usual(5, "fewer tell a standard deviation to no better than a third");
/// A wedge shows an end when the tone stays the same for at least this span of log exposure.
pub const LEVEL_SPAN: Fact<f64> = usual(0.1, "a third of a stop");
/// And when its two last steps differ by no more than this, or than two readings do by chance: the end of a curve that still rises is nearer than it looks.
pub const LEVEL_STEP: Fact<f64> = usual(0.02, "the last digit of two readings, and no slope");
/// A print whose darkest and lightest tone differ by less is no print of a wedge.
pub const LEAST_TONES: Fact<f64> = usual(0.3, "weak prints reach 0.8");
/// A step out of order by so many standard uncertainties of the difference is worth a second look.
pub const OUT_OF_ORDER: Fact<f64> = usual(4.0, "once in thousands of steps by chance");
/// How well a time is known that was judged by eye (standard uncertainty, as a part of it): never better than this.
pub const EYE_TIME: Fact<f64> = usual(0.1, "a step of 0.15 is 41 %, and which one it is is half a step either way");

/// Strips under one card, at most.
pub const STRIPS_MOST: Fact<usize> = usual(16, "two fingers wide each on the long side of a sheet");
/// A scale is never weighed as if it were known better than this (standard uncertainty, in log H).
pub const LEAST_SCALE_U: Fact<f64> = usual(0.01, "two wedges on one paper differ by more");
/// Doses that differ by no more than this part print alike.
pub const DOSE_ALIKE: Fact<f64> = usual(0.03, "one drop in thirty; two coats from one bottle differ by more");

/// A base exposure is to be found anew when its lamp has burned so many hours more.
pub const LAMP_TRUSTED_HOURS: Fact<f64> = usual(50.0, "tubes lose most in their first hundred hours, arcs sooner");
/// And when it is older than so many days, whatever is written down of the set-up.
pub const BASE_TRUSTED_DAYS: Fact<i64> = usual(90, "what nobody wrote down changes as well, the season among it");

/// A transmission tablet with even steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tablet {
    /// Density of step 1.
    pub first: f64,
    /// From each step to the next.
    pub increment: f64,
    /// Steps.
    pub steps: u8,
}

/// The tablet most makers have.
pub const USUAL_TABLET: Fact<Tablet> = Fact {
    value: Tablet { first: 0.05, increment: 0.15, steps: 21 },
    cite: Citation::practice("21 steps of half a stop; 31 steps of a third are met too"),
};

/// What contrast is raised with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ContrastBy {
    /// A hexachloroplatinate on top of the coat, mg to a mL of sensitizer.
    Hexachloroplatinate,
    /// Chlorate in the iron, mg to a mL of sensitizer.
    Chlorate,
    /// Hydrogen peroxide on top of the coat, mg to a mL of sensitizer.
    Peroxide,
    /// Potassium dichromate in the developer, g to a litre of it.
    DichromateInDeveloper,
}

/// An exposure scale that somebody else reports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BorrowedScale {
    /// With what.
    pub by: ContrastBy,
    /// Dose, in the unit of what it is.
    pub dose: f64,
    /// Exposure scale in log H.
    pub scale: f64,
    /// Its standard uncertainty for another maker, common to all doses.
    pub u: f64,
    /// Where that comes from.
    pub cite: Citation,
}

/// A drop of 1/20 mL of so many percent in the 2.3 mL of an 8x10 in coat by brush, in mg/mL.
const fn drop_on_8x10(percent: f64) -> f64 {
    percent * 10.0 / 20.0 / 2.3
}

const fn platinum(percent: f64, scale: f64) -> BorrowedScale {
    let cite =
        Citation::practice("palladium with a drop of sodium hexachloroplatinate on 8x10 in: measure, do not trust");
    BorrowedScale { by: ContrastBy::Hexachloroplatinate, dose: drop_on_8x10(percent), scale, u: 0.15, cite }
}

const fn dichromate(millilitres: f64, scale: f64) -> BorrowedScale {
    let cite = Citation {
        key: "dichromate-developer",
        place: "palladium, mL of a 5 % solution to a litre of developer: measure, do not trust",
        status: Status::SeenSecondHand,
    };
    BorrowedScale { by: ContrastBy::DichromateInDeveloper, dose: millilitres * 0.05, scale, u: 0.10, cite }
}

/// Scales that others report. Every one of them fades as a maker's own wedges come.
pub const BORROWED_SCALES: &[BorrowedScale] = &[
    platinum(1.25, 1.9),
    platinum(2.5, 1.8),
    platinum(5.0, 1.6),
    platinum(10.0, 1.4),
    platinum(20.0, 1.2),
    dichromate(1.0, 1.80),
    dichromate(2.0, 1.65),
    dichromate(4.0, 1.50),
    dichromate(8.0, 1.36),
    dichromate(16.0, 1.26),
    dichromate(32.0, 1.10),
];
/// How far the slope of a borrowed ladder may be off for another maker (standard uncertainty, as a part of it).
pub const BORROWED_SLOPE_OFF: Fact<f64> = usual(0.3, "reports of one agent differ by about so much");
/// Pure palladium without an agent, in log H: from and to.
pub const SCALE_WITHOUT_AGENT: Fact<(f64, f64)> = usual((2.0, 2.4), "pure palladium, oxalate developer");

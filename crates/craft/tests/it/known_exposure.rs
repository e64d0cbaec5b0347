//! Exposure against a reference curve, standards, and tables of the trade.

use handcoat_craft::expose::{
    ByEye, Criteria, Dose, DryOrWet, Ladder, Shoulder, SilverWedge, StepTablet, StopPart, StripPlan, WedgeFit,
};
use handcoat_craft::measure::{LogRange, PrintDensity, Span, StepDensity};
use handcoat_craft::numerics::{Pchip, Polyline};
use handcoat_craft::source::{BORROWED_SCALES, ContrastBy, SHOULDER_PART, Status, TOE_ABOVE};

use crate::bench::{near, q};

/// A synthetic paper: densities at log H 0, 0.15 … 3.00 (computed; the plateaus try how ties are handled).
pub(crate) const CURVE: [f64; 21] = [
    0.07, 0.07, 0.08, 0.08, 0.09, 0.11, 0.15, 0.23, 0.35, 0.53, 0.76, 0.99, 1.17, 1.29, 1.37, 1.41, 1.43, 1.44, 1.44,
    1.45, 1.45,
];

/// Step and print densities of the synthetic paper under a wedge whose first step is clear, in the order of the steps.
pub(crate) fn readings() -> Vec<(StepDensity, PrintDensity)> {
    let row = |(place, print): (usize, f64)| {
        // Through hundredths, so that a step read twice is the same number.
        let step = StepDensity::density((place * 15) as f64 / 100.0).expect("a step");
        (step, PrintDensity::density(print).expect("a density"))
    };
    CURVE.into_iter().rev().enumerate().map(row).collect()
}

fn fitted(shoulder: Shoulder, within: f64) -> WedgeFit {
    let mut read = readings();
    // In any order: the wedge is sorted.
    read.rotate_left(7);
    let criteria = Criteria::new(shoulder, PrintDensity::density(within).expect("a density")).expect("criteria");
    let noise = Some(q("0.01"));
    SilverWedge::new(&read, noise).expect("a wedge").fit(criteria, DryOrWet::Dry).expect("a fit")
}

fn log_h(below: Option<handcoat_craft::measure::Uncertain<LogRange>>) -> f64 {
    3.0 - below.expect("bracketed").best.to_log_h()
}

/// scipy 1.17.1 PchipInterpolator on the synthetic curve (computed): log H at base + 0.04, at 90 % net and absolute, at the middle.
#[test]
fn the_synthetic_curve_has_its_exposure_scale() {
    let net = fitted(Shoulder::Net, 0.03);
    near(net.base.best.to_density(), 0.07, 1e-12);
    near(net.dmax.best.to_density(), 1.45, 1e-12);
    near(log_h(net.shoulder_below), 1.985_042_297_9, 1e-9);
    near(net.scale.expect("bracketed").best.to_log_h(), 1.235_042_297_9, 1e-9);
    let absolute = fitted(Shoulder::Absolute, 0.03);
    near(log_h(absolute.shoulder_below), 1.973_711_571_4, 1e-9);
    near(absolute.scale.expect("bracketed").best.to_log_h(), 1.223_711_571_4, 1e-9);
    // ISO 6846 writes the range as a hundred times the scale, to the nearest ten (from memory): R120 both.
    for fit in [&net, &absolute] {
        let range = fit.scale.expect("bracketed").best.to_log_h() * 100.0;
        near((range / 10.0).round() * 10.0, 120.0, 0.0);
    }
    let x: Vec<f64> = (0..21).map(|own| f64::from(own) * 0.15).collect();
    let curve = Pchip::through(&x, &CURVE).expect("a curve");
    near(curve.first_at(0.11).expect("reached"), 0.75, 1e-10);
    near(curve.first_at(0.67).expect("reached"), 1.442_944_275_6, 1e-9);
    let lines = Polyline::through(&x, &CURVE).expect("lines");
    for (density, place) in [(1.312, 1.991_25), (1.305, 1.978_125), (0.67, 1.441_304_347_826), (0.11, 0.75)] {
        near(lines.first_at(density).expect("reached"), place, 1e-11);
    }
}

/// The two criteria of a base time differ 2.1 times on the synthetic curve at 0.03, and 2.6 times at 0.02 (computed).
#[test]
fn the_two_criteria_of_a_base_time_differ_as_much_as_is_said() {
    let test: Span = q("4:00");
    for (within, ratio) in [(0.03, 2.1), (0.02, 2.6)] {
        let fit = fitted(Shoulder::Net, within);
        let base = fit.base_exposure(test).expect("a time").expect("bracketed").best.to_seconds();
        let shoulder = fit.shoulder_exposure(test).expect("a time").expect("bracketed").best.to_seconds();
        near(base / shoulder, ratio, 0.05);
        // From the clear film down: ten to the density of the step where black begins.
        near(base, 240.0 * libm::pow(10.0, log_h(fit.black_below) - 3.0), 1e-3);
    }
    // At 0.02 black begins where a reading is exactly that.
    near(log_h(fitted(Shoulder::Net, 0.02).black_below), 2.4, 1e-9);
    assert!(Criteria::new(Shoulder::Net, PrintDensity::density(0.019).expect("a density")).is_err());
    assert!(Criteria::new(Shoulder::Net, PrintDensity::density(0.051).expect("a density")).is_err());
}

/// The criteria themselves: 0.04 above the base and nine tenths (an encyclopedia of photography, page 712, seen second-hand).
#[test]
fn the_criteria_say_where_they_are_from() {
    near(TOE_ABOVE.value, 0.04, 0.0);
    near(SHOULDER_PART.value, 0.9, 0.0);
    assert_eq!([TOE_ABOVE, SHOULDER_PART].map(|own| own.cite.status), [Status::SeenSecondHand; 2]);
}

/// 21 steps 0.15 apart from 0.05 to 3.05 (increments seen second-hand, base from memory); two of them are a stop to within 0.001.
#[test]
fn the_usual_tablet_has_its_steps() {
    let tablet = StepTablet::usual();
    let density = |step: u8| tablet.density(step).expect("a step").to_density();
    for (step, expected) in [(1, 0.05), (2, 0.20), (3, 0.35), (20, 2.90), (21, 3.05)] {
        near(density(step), expected, 1e-12);
    }
    near(density(3) - density(1), libm::log10(2.0), 0.001_1);
    assert!(tablet.density(0).is_err() && tablet.density(22).is_err());
}

/// Geometric thirds of a stop from 4 minutes (a guide of the trade, arithmetic): hand tables contain slips, this has none.
#[test]
fn thirds_of_a_stop_from_four_minutes() {
    let clocks = ["4:00", "5:02", "6:21", "8:00", "10:05", "12:42", "16:00", "20:10", "25:24", "32:00"];
    let plan = StripPlan::<Span>::make(q("4:00"), q("32:00"), StopPart::Third).expect("a plan");
    let own: Vec<String> = plan.strips().iter().map(|strip| strip.total.clock()).collect();
    assert_eq!(own, clocks);
}

/// From 2:00 by thirds, seconds to add: +31 +39 +50 +62 +79 +99 reach 8:00 (arithmetic).
#[test]
fn seconds_to_add_reach_eight_minutes() {
    let plan = StripPlan::<Span>::make(q("2:00"), q("8:00"), StopPart::Third).expect("a plan");
    let add: Vec<f64> = plan.strips().iter().map(|strip| strip.add.to_seconds()).collect();
    assert_eq!(add, [120.0, 31.0, 39.0, 50.0, 62.0, 79.0, 99.0]);
    assert_eq!(plan.strips().last().map(|strip| strip.total.clock()), Some("8:00".into()));
}

/// Half stops: log10 of 2 to the k/6 for every third k (computed).
#[test]
fn parts_of_a_stop_have_their_logarithms() {
    const SIXTHS: [f64; 7] = [
        0.0,
        0.050_171_665_9,
        0.100_343_331_9,
        0.150_514_997_8,
        0.200_686_663_8,
        0.250_858_329_7,
        std::f64::consts::LOG10_2,
    ];
    let long: Span = q("10h");
    for (part, sixths) in [(StopPart::Half, [0, 3, 6]), (StopPart::Third, [0, 2, 4])] {
        let plan = StripPlan::make(long, q("20h"), part).expect("a plan");
        for (strip, sixth) in plan.strips().iter().zip(sixths) {
            // To half a second in ten hours.
            near(libm::log10(strip.total.to_seconds() / long.to_seconds()), SIXTHS[sixth], 1e-5);
        }
    }
}

/// The rule of the trade for a wedge on clear film: t = t_test × 10^(-D) with the densest step that is full black (arithmetic). Where black
/// begins lies anywhere in the step of 0.15 after it, 0.15/√12 × ln 10 = 9.97 %, and an eye is good to 10 % (one standard deviation, common
/// practice, no source): together 14.1 %.
#[test]
fn a_time_by_eye_is_the_rule_of_the_trade() {
    let eye = ByEye { tablet: StepTablet::usual(), last_black: 5, last_tone: 15 };
    let judged = eye.judge::<Span>(q("4:00")).expect("judged");
    let base = judged.base.expect("bracketed");
    near(base.set.best.to_seconds(), 240.0 * libm::pow(10.0, -0.65), 1e-3);
    near(base.set.relative().expect("a part"), libm::sqrt(0.0997 * 0.0997 + 0.01), 1e-4);
    let (least, most) = base.between.expect("a bracket");
    near(least.to_seconds(), 0.9 * 240.0 * libm::pow(10.0, -0.8), 1e-3);
    near(most.to_seconds(), 1.1 * 240.0 * libm::pow(10.0, -0.65), 1e-3);
    near(0.15 / libm::sqrt(12.0) * libm::log(10.0), 0.0997, 1e-4);
    near(judged.scale.expect("bracketed").best.to_log_h(), 1.5, 1e-12);
}

/// What is lent: one careful test of dichromate in the developer (seen second-hand), whose line is ES = 1.79 - 0.137 log2(mL of 5 % per
/// litre) (computed); and hexachloroplatinate, common practice, a drop to the 2.3 mL of an 8x10.
#[test]
fn borrowed_ladders_are_what_others_report() {
    let ladder = Ladder::fit(ContrastBy::DichromateInDeveloper, &[], true).expect("a ladder");
    near(ladder.per_doubling().0, -0.137, 5e-4);
    for (millilitres, scale) in [(1.0, 1.79), (4.0, 1.79 - 0.274), (32.0, 1.79 - 0.685)] {
        let dose = Dose::of(ContrastBy::DichromateInDeveloper, millilitres * 0.05).expect("a dose");
        let own = ladder.scale_at(dose).expect("a scale").expect("known");
        near(own.scale.best.to_log_h(), scale, 0.005);
        near(own.borrowed, 1.0, 1e-12);
    }
    let grams: Vec<f64> =
        BORROWED_SCALES.iter().filter(|row| row.by == ContrastBy::DichromateInDeveloper).map(|row| row.dose).collect();
    for (own, expected) in grams.iter().zip([0.05, 0.1, 0.2, 0.4, 0.8, 1.6]) {
        near(*own, expected, 1e-12);
    }
    let platinum = Ladder::fit(ContrastBy::Hexachloroplatinate, &[], true).expect("a ladder");
    for row in BORROWED_SCALES.iter().filter(|row| row.by == ContrastBy::Hexachloroplatinate) {
        let own = platinum.scale_at(Dose::of(row.by, row.dose).expect("a dose")).expect("a scale").expect("known");
        assert!((own.scale.best.to_log_h() - row.scale).abs() < row.u && own.scale.standard() >= row.u);
    }
    assert!(Ladder::fit(ContrastBy::Chlorate, &[], true).is_err());
}

//! Showing: rounding to the uncertainty, to a count of digits, to a balance, and money.

use handcoat_craft::measure::{
    Bounded, Currency, Mass, MassDensity, MassFraction, MolarMass, Molarity, Money, Shown, Uncertain, decimals_of_step,
    fixed, percent, significant, with_uncertainty,
};
use handcoat_craft::source::Citation;
use proptest::{prop_assert, prop_assert_eq, proptest};

use crate::bench::{near, q};

/// What is shown of a value whose expanded uncertainty is `expanded`: the function takes the standard one.
fn shown<Q: Bounded>(value: f64, expanded: f64) -> (String, String) {
    let best = Q::from_unit(value).expect("a value in bounds");
    let Shown { value, expanded } = with_uncertainty(&Uncertain::new(best, expanded / 2.0));
    (value, expanded)
}

fn of<Q: Bounded>(cases: &[(f64, f64, &str, &str, Citation)]) {
    for &(value, uncertainty, number, expanded, cite) in cases {
        assert_eq!(shown::<Q>(value, uncertainty), (number.into(), expanded.into()), "{cite}");
    }
}

const RULE: Citation = Citation::second_hand("pdg2018", "Introduction, 5.3");

#[test]
fn examples_of_the_rounding_rule() {
    of::<MassFraction>(&[
        (0.827, 0.119, "0.83", "0.12", RULE),
        (0.827, 0.367, "0.8", "0.4", RULE),
        (0.279008, 0.0123261, "0.279", "0.012", RULE),
    ]);
    of::<MassDensity>(&[(12.2135, 0.03215, "12.214", "0.032", RULE), (12.2135, 0.06515, "12.21", "0.07", RULE)]);
}

#[test]
fn from_950_on_it_becomes_a_thousand_and_keeps_two() {
    of::<MassDensity>(&[
        (12.2135, 0.0951, "12.21", "0.10", RULE),
        (12.2135, 0.0999, "12.21", "0.10", RULE),
        (12.2135, 0.951, "12.2", "1.0", RULE),
        (12.2135, 9.51, "12", "10", RULE),
    ]);
    // And on either side of the two borders.
    of::<MolarMass>(&[
        (177.32, 0.0354, "177.320", "0.035", RULE),
        (177.32, 0.0355, "177.32", "0.04", RULE),
        (177.32, 0.0949, "177.32", "0.09", RULE),
        (177.32, 0.0950, "177.32", "0.10", RULE),
        (177.32, 0.1000, "177.32", "0.10", RULE),
        (177.32, 35.4, "177", "35", RULE),
        (177.32, 35.5, "180", "40", RULE),
        (177.32, 123.0, "180", "120", RULE),
        (12_345.6, 4_567.0, "12000", "5000", RULE),
        (12_345.6, 1_234.0, "12300", "1200", RULE),
    ]);
}

#[test]
fn the_guide_rounds_to_the_place_of_the_uncertainty() {
    // y = 10.057 62 with u = 0.027 becomes 10.058; 28.05 becomes 28.
    const GUIDE: Citation = Citation::second_hand("jcgm100", "7.2.6");
    of::<MassDensity>(&[(10.05762, 0.027, "10.058", "0.027", GUIDE)]);
    of::<MolarMass>(&[
        (1000.0, 28.05, "1000", "28", GUIDE),
        // The guide would let 10.47 go up to 11; ours goes to the nearest, and keeps as many digits.
        (1000.0, 10.47, "1000", "10", GUIDE),
    ]);
}

#[test]
fn a_strength_is_shown_with_twice_its_standard_uncertainty() {
    let strength = Uncertain::new(q::<Molarity>("0.5188 M"), 0.0095);
    assert_eq!(with_uncertainty(&strength).to_string(), "0.519 ± 0.019");
    near(strength.expanded(), 0.019, 1e-15);
    near(strength.relative().expect("a value"), 0.0095 / 0.5188, 1e-15);
    assert_eq!(Uncertain::new(Mass::ZERO, 0.04).relative(), None);
    // Certain: everything that is there, and no invented digits.
    assert_eq!(shown::<Molarity>(0.1 + 0.2, 0.0), ("0.3".into(), "0".into()));
    assert_eq!(shown::<Mass>(2.3, 0.0), ("2.3".into(), "0".into()));
    // Less than nothing is known of it.
    assert_eq!(shown::<Mass>(0.3, 4.0), ("0".into(), "4".into()));
}

#[test]
fn written_halves_round_up() {
    const HALVES: [(f64, usize, &str); 16] = [
        (2.675, 2, "2.68"),
        (1.005, 2, "1.01"),
        (0.125, 2, "0.13"),
        (0.375, 2, "0.38"),
        (0.5, 0, "1"),
        (1.5, 0, "2"),
        (2.5, 0, "3"),
        (8.345, 2, "8.35"),
        (-2.675, 2, "-2.68"),
        (-0.004, 2, "0.00"),
        (-0.4, 0, "0"),
        (-0.0, 1, "0.0"),
        (2.674_999, 2, "2.67"),
        (0.124_999_9, 2, "0.12"),
        (99.995, 2, "100.00"),
        (1.0, 6, "1.000000"),
    ];
    for (value, decimals, text) in HALVES {
        assert_eq!(fixed(value, decimals), text, "{value} to {decimals}");
    }
}

#[test]
fn significant_digits_without_idle_zeros() {
    const DIGITS: [(f64, usize, &str); 14] = [
        (0.0, 3, "0"),
        (0.518_76, 3, "0.519"),
        (0.51, 3, "0.51"),
        (9.996, 3, "10"),
        (99.96, 3, "100"),
        (0.099_96, 3, "0.1"),
        (55.214, 3, "55.2"),
        (100.0, 2, "100"),
        (177.32, 6, "177.32"),
        (1000.0, 4, "1000"),
        (0.001, 1, "0.001"),
        (0.000_012_345, 2, "0.000012"),
        (-2.345, 3, "-2.35"),
        (2.0, 12, "2"),
    ];
    for (value, digits, text) in DIGITS {
        assert_eq!(significant(value, digits), text, "{value} to {digits}");
    }
    assert_eq!(percent(0.035), "3.5 %");
    assert_eq!(percent(0.087), "8.7 %");
    assert_eq!(percent(1.0), "100 %");
    assert_eq!(percent(0.000_55), "0.055 %");
    assert_eq!(percent(0.0), "0 %");
}

/// Exact, as written: a product of tens would not be.
fn ten_to(place: i32) -> f64 {
    format!("1e{place}").parse().expect("a power of ten")
}

#[test]
fn powers_of_ten_fall_into_no_gap() {
    // A logarithm a hair under a whole number would lose or gain a digit here.
    for place in -9..=9_i32 {
        let value = ten_to(place);
        near(significant(value, 3).parse().expect("a number"), value, value * 1e-12);
        assert_eq!(significant(value, 3).trim_matches(['0', '.']), "1", "10^{place}");
    }
    for place in -6..=1_i32 {
        let (_, expanded) = shown::<MolarMass>(1000.0, ten_to(place));
        let wanted = if place >= 1 { "10".into() } else { fixed(ten_to(place), (1 - place) as usize) };
        assert_eq!(expanded, wanted, "10^{place}");
    }
}

#[test]
fn a_balance_shows_as_many_decimals_as_its_step() {
    const STEPS: [(&str, usize); 11] = [
        ("10g", 0),
        ("1g", 0),
        ("0.5g", 1),
        ("0.1g", 1),
        ("0.05g", 2),
        ("0.02g", 2),
        ("0.01g", 2),
        ("1mg", 3),
        ("0.1mg", 4),
        ("0.25mg", 5),
        ("1µg", 6),
    ];
    for (step, decimals) in STEPS {
        assert_eq!(decimals_of_step(q(step)), decimals, "{step}");
    }
    assert_eq!(decimals_of_step(Mass::ZERO), 6);
}

#[test]
fn money_is_shown_in_its_own_decimals() {
    const SUMS: [(i64, &str, &str); 8] = [
        (11_040, "EUR", "110.40 EUR"),
        (5, "EUR", "0.05 EUR"),
        (0, "EUR", "0.00 EUR"),
        (100, "EUR", "1.00 EUR"),
        (4_800, "JPY", "4800 JPY"),
        (1_234, "KWD", "1.234 KWD"),
        (7, "KWD", "0.007 KWD"),
        (1_000_000_000_000, "USD", "10000000000.00 USD"),
    ];
    for (minor, code, text) in SUMS {
        let money = Money::minor(minor, Currency::code(code).expect("a currency")).expect("a sum");
        assert_eq!(money.to_string(), text);
        // What is shown can be read again.
        assert_eq!(q::<Money>(text), money);
    }
    let euro = Currency::code("EUR").expect("a currency");
    for beyond in [-1, 1_000_000_000_001, i64::MIN, i64::MAX] {
        assert!(Money::minor(beyond, euro).is_err(), "{beyond}");
    }
}

proptest! {
    #[test]
    fn what_is_shown_is_within_a_half_step(value in -1e6..1e6_f64, decimals in 0..7_usize) {
        let back: f64 = fixed(value, decimals).parse().expect("a number");
        let half_step = 0.5 * ten_to(-(decimals as i32));
        prop_assert!((back - value).abs() <= half_step + value.abs() * 1e-14, "{value} shown as {back}");
    }

    #[test]
    fn an_uncertainty_keeps_one_or_two_digits(value in 1.0..9e4_f64, magnitude in -6.0..4.0_f64) {
        let uncertainty = libm::pow(10.0, magnitude);
        let (number, expanded) = shown::<MolarMass>(value, uncertainty);
        let kept: f64 = expanded.parse().expect("a number");
        // Never further off than the rule's coarsest step: 0.05 in 0.355.
        prop_assert!((kept / uncertainty - 1.0).abs() < 0.15, "{uncertainty} shown as {expanded}");
        let digits = expanded.trim_start_matches(['0', '.']).replace('.', "");
        prop_assert!(digits.trim_end_matches('0').len() <= 2, "{expanded}");
        let decimals = |text: &str| text.split_once('.').map_or(0, |(_, behind)| behind.len());
        prop_assert_eq!(decimals(&number), decimals(&expanded));
        let back: f64 = number.parse().expect("a number");
        prop_assert!((back - value).abs() <= uncertainty, "{value} ± {uncertainty} shown as {number}");
    }
}

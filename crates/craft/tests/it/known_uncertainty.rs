//! Known values of uncertainty: the worked examples of the guide, and where first order is wrong.
//!
//! The guide's own numbers are from memory or second-hand and were computed again elsewhere; each row says so.

use handcoat_craft::numerics::{Inputs, Linear};
use handcoat_craft::source::Citation;

use crate::known_chemistry::Known;
use crate::known_montecarlo::{Pcg, half_width, mean_and_deviation};

const END_GAUGE: Citation = Citation::second_hand("jcgm100", "H.1, quoted in test suites");
const IMPEDANCE: Citation = Citation::second_hand("jcgm100", "H.2, quoted in a test suite; data from memory");
/// Half the width of a rectangle whose standard uncertainty is one.
const ROOT_3: f64 = 1.732_050_807_568_877_2;
const SUM: Citation = Citation::memory("jcgm101", "9.2");

/// The inputs of example H.1, lengths in nm; a label names each.
struct EndGauge {
    inputs: Inputs<&'static str>,
    length: Linear,
}

/// l = ls + d - ls (δα θ + α δθ).
fn end_gauge() -> EndGauge {
    let mut inputs = Inputs::default();
    let standard = inputs.add_with_freedom("ls", 50.000_623e6, 25.0, 18.0);
    let difference = inputs.add_with_freedom("d", 215.0, 9.7, 25.6);
    let alpha = inputs.add("α", 11.5e-6, 1.2e-6);
    let theta = inputs.add("θ", -0.1, 0.41);
    let alpha_difference = inputs.add_with_freedom("δα", 0.0, 0.58e-6, 50.0);
    let theta_difference = inputs.add_with_freedom("δθ", 0.0, 0.029, 2.0);
    let bracket = &(&alpha_difference * &theta) + &(&alpha * &theta_difference);
    let length = &(&standard + &difference) - &(&standard * &bracket);
    EndGauge { inputs, length }
}

#[test]
fn end_gauge_calibration() {
    let EndGauge { inputs, length } = end_gauge();
    Known { what: "l", value: 50.000_838e6, tolerance: 0.5, cite: END_GAUGE }.is(length.value());
    let combined = inputs.standard_uncertainty(&length);
    Known { what: "u, printed", value: 32.0, tolerance: 0.5, cite: END_GAUGE }.is(combined);
    Known { what: "u, computed again", value: 31.710_609_6, tolerance: 1e-6, cite: END_GAUGE }.is(combined);
    let freedom = inputs.effective_freedom(&length).expect("a freedom");
    Known { what: "freedom, computed again", value: 16.656_062_7, tolerance: 1e-6, cite: END_GAUGE }.is(freedom);
    // The guide prints 16.7 and uses 16.
    Known { what: "freedom, printed", value: 16.7, tolerance: 0.05, cite: END_GAUGE }.is(freedom);
}

#[test]
fn end_gauge_terms_by_input() {
    let EndGauge { inputs, length } = end_gauge();
    let terms = inputs.contributions(&length);
    let order: Vec<_> = terms.iter().map(|(label, _)| *label).collect();
    assert_eq!(order[..4], ["ls", "δθ", "d", "δα"]);
    for (what, value, tolerance) in [("ls", 25.0, 0.05), ("d", 9.7, 0.05), ("δα", 2.9, 0.05), ("δθ", 16.6, 0.1)] {
        let (_, own) = terms.iter().find(|(label, _)| *label == what).expect("a term");
        Known { what, value, tolerance, cite: END_GAUGE }.is(*own);
    }
    // α and θ come in only with a factor whose best value is zero.
    assert!(terms[4..].iter().all(|(_, own)| *own == 0.0), "{terms:?}");
}

#[test]
fn end_gauge_second_order_is_left_out_and_would_be_two_nanometres() {
    // H.1.7 of the guide adds about 12 nm and 1.7 nm from products of two small factors. Ours is first order only:
    // it stays at 32 nm where all of it is 34 nm, and a Monte Carlo of the same model shows the difference.
    let EndGauge { inputs, length } = end_gauge();
    let first_order = inputs.standard_uncertainty(&length);
    let mut random = Pcg::seeded(101);
    let lengths: Vec<f64> = (0..400_000)
        .map(|_| {
            let (standard, difference) = (random.normal(50.000_623e6, 25.0), random.normal(215.0, 9.7));
            let (alpha, theta) = (random.normal(11.5e-6, 1.2e-6), random.normal(-0.1, 0.41));
            let (alpha_difference, theta_difference) = (random.normal(0.0, 0.58e-6), random.normal(0.0, 0.029));
            standard + difference - standard * (alpha_difference * theta + alpha * theta_difference)
        })
        .collect();
    let (_, all_orders) = mean_and_deviation(&lengths);
    Known { what: "with second order", value: 33.911_149_5, tolerance: 0.15, cite: END_GAUGE }.is(all_orders);
    assert!(all_orders - first_order > 1.5, "{all_orders} against {first_order}");
}

/// Voltage in V, current in mA, phase in rad: five simultaneous readings.
const READINGS: [[f64; 5]; 3] = [
    [5.007, 4.994, 5.005, 4.990, 4.999],
    [19.663, 19.639, 19.640, 19.685, 19.678],
    [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
];

/// Mean of readings, and covariance of the means of two rows.
fn covariance_of_means(a: &[f64; 5], b: &[f64; 5]) -> f64 {
    let mean = |row: &[f64; 5]| row.iter().sum::<f64>() / 5.0;
    let (mean_a, mean_b) = (mean(a), mean(b));
    a.iter().zip(b).map(|(x, y)| (x - mean_a) * (y - mean_b)).sum::<f64>() / (5.0 * 4.0)
}

#[test]
fn impedance_of_correlated_readings() {
    let mut inputs = Inputs::default();
    let means: Vec<Linear> = READINGS
        .iter()
        .enumerate()
        .map(|(label, row)| inputs.add(label, row.iter().sum::<f64>() / 5.0, libm::sqrt(covariance_of_means(row, row))))
        .collect();
    let [voltage, current, phase] = means.as_slice() else { panic!("three quantities") };
    const CORRELATED: [(usize, usize, f64); 3] = [(0, 1, -0.355_311_2), (0, 2, 0.857_624_2), (1, 2, -0.645_111_2)];
    for (a, b, value) in CORRELATED {
        let own = |row: &[f64; 5]| libm::sqrt(covariance_of_means(row, row));
        let r = covariance_of_means(&READINGS[a], &READINGS[b]) / own(&READINGS[a]) / own(&READINGS[b]);
        Known { what: "r of the readings", value, tolerance: 1e-7, cite: IMPEDANCE }.is(r);
        inputs.correlate(&means[a], &means[b], r);
    }
    let impedance = &(voltage / current) * 1000.0;
    let (resistance, reactance) = (&impedance * &phase.cos(), &impedance * &phase.sin());
    let results = [
        ("R", &resistance, 127.732_169_9, 0.071_071_4),
        ("X", &reactance, 219.846_511_9, 0.295_581_7),
        ("Z", &impedance, 254.259_701_9, 0.236_336_1),
    ];
    for (what, result, value, standard) in results {
        Known { what, value, tolerance: 1e-6, cite: IMPEDANCE }.is(result.value());
        Known { what, value: standard, tolerance: 1e-7, cite: IMPEDANCE }.is(inputs.standard_uncertainty(result));
    }
    let pairs = [
        ("r(R, X)", &resistance, &reactance, -0.588_429_8),
        ("r(R, Z)", &resistance, &impedance, -0.485_259_2),
        ("r(X, Z)", &reactance, &impedance, 0.992_511_7),
    ];
    for (what, one, other, value) in pairs {
        let r = inputs.correlation(one, other).expect("a correlation");
        Known { what, value, tolerance: 1e-6, cite: IMPEDANCE }.is(r);
    }
}

/// y = x1 + x2 + x3 + x4, first order.
fn sum_of(standards: [f64; 4]) -> f64 {
    let mut inputs = Inputs::default();
    let sum = standards.iter().fold(Linear::exact(0.0), |sum, &u| &sum + &inputs.add((), 0.0, u));
    inputs.standard_uncertainty(&sum)
}

#[test]
fn a_sum_of_four() {
    Known { what: "u", value: 2.0, tolerance: 1e-12, cite: SUM }.is(sum_of([1.0; 4]));
    let mut inputs = Inputs::default();
    let rectangles = (0..4).fold(Linear::exact(0.0), |sum, _| &sum + &inputs.add_rectangular((), 0.0, ROOT_3));
    Known { what: "u of rectangles", value: 2.0, tolerance: 1e-12, cite: SUM }
        .is(inputs.standard_uncertainty(&rectangles));
    let mut random = Pcg::seeded(9_002);
    let normal: Vec<f64> = (0..400_000).map(|_| (0..4).map(|_| random.normal(0.0, 1.0)).sum()).collect();
    let flat: Vec<f64> = (0..400_000).map(|_| (0..4).map(|_| random.rectangular(0.0, ROOT_3)).sum()).collect();
    Known { what: "95 % of four normals", value: 3.92, tolerance: 0.025, cite: SUM }.is(half_width(normal, 0.95));
    Known { what: "95 % of four rectangles", value: 3.88, tolerance: 0.025, cite: SUM }.is(half_width(flat, 0.95));
    // In closed form, of which 3.88 is the rounding.
    let exact = 4.0 * ROOT_3 - 2.0 * ROOT_3 * libm::pow(0.6, 0.25);
    Known { what: "in closed form", value: 3.879_406_741_3, tolerance: 1e-9, cite: SUM }.is(exact);
}

#[test]
fn one_large_rectangle_is_not_covered_by_a_normal_interval() {
    let combined = sum_of([1.0, 1.0, 1.0, 10.0]);
    Known { what: "u", value: libm::sqrt(103.0), tolerance: 1e-9, cite: SUM }.is(combined);
    let first_order = 1.96 * combined;
    Known { what: "first order, 95 %", value: 19.9, tolerance: 0.05, cite: SUM }.is(first_order);
    let mut random = Pcg::seeded(9_024);
    let widths = [1.0, 1.0, 1.0, 10.0].map(|standard: f64| standard * ROOT_3);
    let sums: Vec<f64> =
        (0..400_000).map(|_| widths.iter().map(|&width| random.rectangular(0.0, width)).sum()).collect();
    let (_, deviation) = mean_and_deviation(&sums);
    // The standard uncertainty is right; it is the interval made from it that is too wide by a sixth.
    Known { what: "deviation", value: combined, tolerance: 0.05, cite: SUM }.is(deviation);
    let monte_carlo = half_width(sums, 0.95);
    Known { what: "Monte Carlo, 95 %", value: 17.0, tolerance: 0.1, cite: SUM }.is(monte_carlo);
    assert!(first_order > 1.15 * monte_carlo, "{first_order} against {monte_carlo}");
}

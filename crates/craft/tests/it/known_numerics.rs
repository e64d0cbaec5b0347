//! Curves, isotonic regression, robust middles and least squares against other libraries and certified fits.
//!
//! Computed with scipy 1.17.1 and scikit-learn 1.9.1 unless said otherwise; agreement is asked to 1e-11.

use handcoat_craft::numerics::{
    Direction, KnotsError, LeastSquares, MAD_TO_SD, Pchip, Polyline, isotonic, median, median_absolute_deviation,
    non_negative, theil_sen,
};
use handcoat_craft::source::{Citation, Status};
use proptest::{collection, prop_assert, proptest};

use crate::bench::near;

const TOLERANCE: f64 = 1e-11;

/// A print curve that falls with the density of the step.
const FALLING_X: [f64; 9] = [0.0, 0.15, 0.3, 0.6, 0.9, 1.2, 1.5, 1.8, 2.1];
const FALLING_Y: [f64; 9] = [1.45, 1.44, 1.38, 1.10, 0.74, 0.41, 0.19, 0.09, 0.07];
const FALLING_Q: [f64; 9] = [0.05, 0.15, 0.25, 0.45, 0.75, 1.0, 1.35, 1.7, 2.0];

fn pchip(x: &[f64], y: &[f64]) -> Pchip {
    Pchip::through(x, y).expect("a curve")
}

/// scipy.interpolate.PchipInterpolator.
#[test]
fn a_falling_print_curve_is_followed() {
    const VALUES: [f64; 9] = [
        1.448_677_248_677,
        1.44,
        1.406_200_607_903,
        1.259_268_617_021,
        0.923_668_478_261,
        0.622_985_507_246,
        0.284_187_5,
        0.110_679_012_346,
        0.072_716_049_383,
    ];
    const SLOPES: [f64; 9] = [
        0.0,
        -0.114_285_714_286,
        -0.536_170_212_766,
        -1.05,
        -1.147_826_086_957,
        -0.88,
        -0.458_333_333_333,
        -0.111_111_111_111,
        0.0,
    ];
    let curve = pchip(&FALLING_X, &FALLING_Y);
    for (q, value) in FALLING_Q.into_iter().zip(VALUES) {
        near(curve.at(q).expect("inside"), value, TOLERANCE);
    }
    for (own, slope) in curve.slopes().iter().zip(SLOPES) {
        near(*own, slope, TOLERANCE);
    }
    for (x, slope) in FALLING_X.into_iter().zip(SLOPES) {
        near(curve.slope_at(x).expect("inside"), slope, TOLERANCE);
    }
    near(curve.integral(0.0, 2.1).expect("inside"), 1.401_734_042_553, TOLERANCE);
    let halves = curve.integral(0.0, 0.77).expect("inside") + curve.integral(0.77, 2.1).expect("inside");
    near(halves, 1.401_734_042_553, TOLERANCE);
    near(curve.integral(2.1, 0.0).expect("inside"), -1.401_734_042_553, TOLERANCE);
    for (density, place) in [
        (1.40, 0.262_269_304_455),
        (1.00, 0.688_033_260_506),
        (0.75, 0.891_341_977_794),
        (0.50, 1.108_499_146_469),
        (0.11, 1.702_342_020_214),
    ] {
        near(curve.first_at(density).expect("reached"), place, TOLERANCE);
    }
    assert_eq!((curve.at(-0.01), curve.at(2.11), curve.first_at(1.46), curve.first_at(0.06)), (None, None, None, None));
    assert_eq!((curve.first_at(1.45), curve.first_at(0.07)), (Some(0.0), Some(2.1)));
}

/// numpy.interp and its inverse, on the same points.
#[test]
fn straight_lines_are_followed() {
    let lines = Polyline::through(&FALLING_X, &FALLING_Y).expect("lines");
    let values = [1.446_666_666_667, 1.44, 1.4, 1.24, 0.92, 0.63, 0.3, 0.123_333_333_333, 0.076_666_666_667];
    for (q, value) in FALLING_Q.into_iter().zip(values) {
        near(lines.at(q).expect("inside"), value, TOLERANCE);
    }
    for (density, place) in
        [(1.40, 0.25), (1.00, 0.683_333_333_333), (0.75, 0.891_666_666_667), (0.50, 1.118_181_818_182), (0.11, 1.74)]
    {
        near(lines.first_at(density).expect("reached"), place, TOLERANCE);
    }
    assert_eq!((lines.at(3.0), lines.first_at(2.0)), (None, None));
}

/// What other cubics do on the same points (scipy CubicSpline not-a-knot, Akima1DInterpolator makima): they pass the highest or the
/// lowest reading, and this one does not.
#[test]
fn other_cubics_overshoot_and_this_one_does_not() {
    const NOT_A_KNOT_AT_0_05: f64 = 1.451_196_298_458;
    const MAKIMA: [f64; 2] = [1.450_797_430_083, 0.069_922_027_290];
    let curve = pchip(&FALLING_X, &FALLING_Y);
    let fine: Vec<f64> = (0..=2100).map(|own| curve.at(f64::from(own) / 1000.0).expect("inside")).collect();
    assert!(fine.iter().all(|own| (0.07..=1.45).contains(own)));
    let at = |x: f64| curve.at(x).expect("inside");
    assert!(at(0.05) < NOT_A_KNOT_AT_0_05 - 1e-3 && at(0.05) < MAKIMA[0] - 1e-3 && at(2.0) > MAKIMA[1] + 1e-3);
    assert!(fine.windows(2).all(|pair| pair[1] <= pair[0]));
}

#[test]
fn flats_jumps_and_short_curves_are_followed() {
    type Row = (&'static [f64], &'static [f64], &'static [(f64, f64)], &'static [f64]);
    const ROWS: [Row; 5] = [
        (
            &[0.0, 1.0, 2.0, 3.0, 5.0, 8.0],
            &[0.0, 0.0, 1.0, 1.0, 4.0, 9.0],
            &[
                (0.5, 0.0),
                (1.5, 0.5),
                (2.5, 1.0),
                (4.0, 2.106_643_356_643),
                (6.5, 6.427_534_965_035),
                (7.9, 8.823_688_448_588),
            ],
            &[0.0, 0.0, 0.0, 0.0, 1.573_426_573_427, 1.766_666_666_667],
        ),
        // The data RPN15A of Fritsch and Carlson 1980, from memory; values computed.
        (
            &[7.99, 8.09, 8.19, 8.7, 9.2, 10.0, 12.0, 15.0, 20.0],
            &[0.0, 2.764_29e-5, 4.374_98e-2, 0.169_183, 0.469_428, 0.943_740, 0.998_636, 0.999_919, 0.999_994],
            &[
                (8.0, 0.000_000_276_743),
                (8.15, 0.023_528_278_366),
                (8.5, 0.116_632_576_939),
                (9.0, 0.337_534_326_846),
                (9.5, 0.685_217_945_111),
                (11.0, 0.986_043_362_535),
                (13.0, 0.999_361_822_092),
                (17.0, 0.999_968_025_772),
            ],
            &[],
        ),
        (&[0.0, 1.0], &[2.0, 5.0], &[(0.25, 2.75)], &[3.0, 3.0]),
        (
            &[0.0, 1.0, 3.0],
            &[0.0, 1.0, 1.5],
            &[(0.5, 0.602_678_571_429), (2.0, 1.357_142_857_143)],
            &[1.25, 0.428_571_428_571, 0.0],
        ),
        (
            &[0.0, 1.0, 3.0],
            &[0.0, 1.0, 0.5],
            &[(0.5, 0.677_083_333_333), (2.0, 0.9375)],
            &[1.416_666_666_667, 0.0, -0.75],
        ),
    ];
    for (x, y, values, slopes) in ROWS {
        let curve = pchip(x, y);
        for (q, value) in values {
            near(curve.at(*q).expect("inside"), *value, TOLERANCE);
        }
        for (own, slope) in curve.slopes().iter().zip(slopes) {
            near(*own, *slope, TOLERANCE);
        }
    }
    // A peak has no first place for a value; a flat has its left end.
    assert_eq!(pchip(&[0.0, 1.0, 3.0], &[0.0, 1.0, 0.5]).first_at(0.7), None);
    assert_eq!(pchip(&[0.0, 1.0, 2.0, 3.0, 5.0, 8.0], &[0.0, 0.0, 1.0, 1.0, 4.0, 9.0]).first_at(1.0), Some(2.0));
}

#[test]
fn points_that_make_no_curve_are_refused() {
    for (x, y, why) in [
        (&[1.0][..], &[1.0][..], KnotsError::TooFew),
        (&[1.0, 2.0], &[1.0], KnotsError::TooFew),
        (&[1.0, f64::NAN], &[1.0, 2.0], KnotsError::NotFinite),
        (&[1.0, 2.0], &[1.0, f64::INFINITY], KnotsError::NotFinite),
        (&[1.0, 1.0], &[1.0, 2.0], KnotsError::NotRising),
        (&[2.0, 1.0], &[1.0, 2.0], KnotsError::NotRising),
    ] {
        assert_eq!(Pchip::through(x, y), Err(why));
        assert_eq!(Polyline::through(x, y), Err(why));
    }
}

/// scipy.optimize.isotonic_regression and sklearn.isotonic.IsotonicRegression, which agree to the last digit.
#[test]
fn violators_are_pooled() {
    type Row = (&'static [f64], Option<&'static [f64]>, Direction, &'static [f64], &'static [usize]);
    const THIRD: f64 = 10.0 / 3.0;
    const ROWS: [Row; 6] = [
        (&[1.0, 3.0, 2.0, 4.0, 3.0, 5.0], None, Direction::Up, &[1.0, 2.5, 2.5, 3.5, 3.5, 5.0], &[0, 1, 3, 5, 6]),
        (
            &[0.1, 0.05, 0.2, 0.18, 0.3, 0.5, 0.45, 0.4, 0.7],
            None,
            Direction::Up,
            &[0.075, 0.075, 0.19, 0.19, 0.3, 0.45, 0.45, 0.45, 0.7],
            &[0, 2, 4, 5, 8, 9],
        ),
        (&[4.0, 5.0, 1.0, 6.0, 8.0, 7.0], None, Direction::Up, &[THIRD, THIRD, THIRD, 6.0, 7.5, 7.5], &[0, 3, 4, 6]),
        (&[1.0, 2.0, 3.0, 0.0], Some(&[1.0, 1.0, 1.0, 3.0]), Direction::Up, &[1.0; 4], &[0, 4]),
        (
            &[1.45, 1.46, 1.38, 1.40, 1.10, 0.74, 0.75, 0.41, 0.19, 0.20, 0.07],
            None,
            Direction::Down,
            &[1.455, 1.455, 1.39, 1.39, 1.10, 0.745, 0.745, 0.41, 0.195, 0.195, 0.07],
            &[0, 2, 4, 5, 7, 8, 10, 11],
        ),
        (&[3.0, 2.0, 1.0], None, Direction::Up, &[2.0; 3], &[0, 3]),
    ];
    for (values, weights, direction, expected, blocks) in ROWS {
        let found = isotonic(values, weights, direction).expect("a fit");
        for (own, expected) in found.values.iter().zip(expected) {
            near(*own, *expected, TOLERANCE);
        }
        assert_eq!((found.values.len(), found.blocks.as_slice()), (expected.len(), blocks), "{values:?}");
    }
    assert_eq!(isotonic(&[1.0, 2.0], Some(&[1.0]), Direction::Up), None);
    assert_eq!(isotonic(&[1.0, 2.0], Some(&[1.0, 0.0]), Direction::Up), None);
    assert_eq!(isotonic(&[f64::NAN], None, Direction::Up), None);
    assert_eq!(isotonic(&[], None, Direction::Up).map(|own| own.values), Some(vec![]));
}

/// scipy.stats.median_abs_deviation and theilslopes.
#[test]
fn wild_values_move_no_middle() {
    let wild = [2.1, 2.3, 1.9, 2.0, 2.2, 5.0, 2.05];
    near(median(&wild).expect("a middle"), 2.1, TOLERANCE);
    let deviation = median_absolute_deviation(&wild).expect("a deviation");
    near(deviation, 0.1, TOLERANCE);
    near(deviation * MAD_TO_SD, 0.148_260_221_851, TOLERANCE);
    near(median(&[4.0, 1.0, 3.0, 2.0]).expect("a middle"), 2.5, 0.0);
    assert_eq!((median(&[]), median_absolute_deviation(&[])), (None, None));
    let x = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0];
    assert_eq!(theil_sen(&x, &[1.0, 2.0, 3.0, 10.0, 5.0, 6.2]), Some((1.0, 1.5)));
    assert_eq!((theil_sen(&[1.0, 1.0], &[1.0, 2.0]), theil_sen(&[1.0], &[1.0, 2.0])), (None, None));
}

fn columns(x: &[f64], powers: &[i32]) -> Vec<Vec<f64>> {
    x.iter().map(|x| powers.iter().map(|power| libm::pow(*x, f64::from(*power))).collect()).collect()
}

/// numpy.linalg.lstsq.
#[test]
fn a_parabola_is_fitted() {
    let y = [2.1, 7.7, 13.6, 27.2, 40.9, 61.1];
    let fit = LeastSquares::fit(&columns(&[0.0, 1.0, 2.0, 3.0, 4.0, 5.0], &[0, 1, 2]), &y, None).expect("a fit");
    for (own, expected) in fit.coefficients.iter().zip([2.478_571_428_571, 2.359_285_714_286, 1.860_714_285_714]) {
        near(*own, expected, TOLERANCE);
    }
    near(fit.residual_squares, 3.746_571_428_571, TOLERANCE);
    assert_eq!(fit.freedom, 3);
}

/// NIST Statistical Reference Datasets, Norris (linear, lower difficulty): certified values seen; the data typed from memory, and a
/// slip in them would show in the fifteen certified digits.
#[test]
fn the_certified_line_of_norris_is_found() {
    const CITE: Citation = Citation::seen("nist-strd", "linear regression, data set Norris");
    assert_eq!(CITE.status, Status::Seen);
    const DATA: [(f64, f64); 36] = [
        (0.2, 0.1),
        (337.4, 338.8),
        (118.2, 118.1),
        (884.6, 888.0),
        (10.1, 9.2),
        (226.5, 228.1),
        (666.3, 668.5),
        (996.3, 998.5),
        (448.6, 449.1),
        (777.0, 778.9),
        (558.2, 559.2),
        (0.4, 0.3),
        (0.6, 0.1),
        (775.5, 778.1),
        (666.9, 668.8),
        (338.0, 339.3),
        (447.5, 448.9),
        (11.6, 10.8),
        (556.0, 557.7),
        (228.1, 228.3),
        (995.8, 998.0),
        (887.6, 888.8),
        (120.2, 119.6),
        (0.3, 0.3),
        (0.3, 0.6),
        (556.8, 557.6),
        (339.1, 339.3),
        (887.2, 888.0),
        (999.0, 998.5),
        (779.0, 778.9),
        (11.1, 10.2),
        (118.3, 117.6),
        (229.2, 228.9),
        (669.1, 668.4),
        (448.9, 449.2),
        (0.5, 0.2),
    ];
    let (x, y): (Vec<f64>, Vec<f64>) = DATA.into_iter().unzip();
    let fit = LeastSquares::fit(&columns(&x, &[0, 1]), &y, None).expect("a fit");
    let relative = |own: f64, certified: f64| near(own / certified, 1.0, 1e-12);
    relative(fit.coefficients[0], -0.262_323_073_774_029);
    relative(fit.coefficients[1], 1.002_116_818_020_45);
    relative(fit.deviation(0).expect("a deviation"), 0.232_818_234_301_152);
    relative(fit.deviation(1).expect("a deviation"), 4.297_968_481_999_37e-4);
    relative(libm::sqrt(fit.residual_variance().expect("a variance")), 0.884_796_396_144_373);
    let mean = y.iter().sum::<f64>() / 36.0;
    let total: f64 = y.iter().map(|own| (own - mean) * (own - mean)).sum();
    relative(1.0 - fit.residual_squares / total, 0.999_993_745_883_712);
}

/// NIST Statistical Reference Datasets, NoInt2: from memory, computed again. Its R² is of squares about zero.
#[test]
fn the_certified_line_through_zero_is_found() {
    const CITE: Citation = Citation::memory("nist-strd", "linear regression, data set NoInt2");
    assert_eq!(CITE.status, Status::Memory);
    let y = [3.0, 4.0, 4.0];
    let fit = LeastSquares::fit(&columns(&[4.0, 5.0, 6.0], &[1]), &y, None).expect("a fit");
    near(fit.coefficients[0], 0.727_272_727_272_727, 1e-14);
    near(fit.deviation(0).expect("a deviation"), 0.042_082_731_807_843_2, 1e-14);
    near(libm::sqrt(fit.residual_variance().expect("a variance")), 0.369_274_472_937_998, 1e-14);
    near(1.0 - fit.residual_squares / 41.0, 0.993_348_115_299_335, 1e-14);
}

/// JCGM 100:2008 H.3, the line of a thermometer: point values seen second-hand, data from memory, all computed again.
#[test]
fn the_thermometer_line_of_the_gum_has_its_uncertainties() {
    const CITE: Citation = Citation::second_hand("jcgm100", "H.3, calibration of a thermometer");
    assert_eq!(CITE.status, Status::SeenSecondHand);
    let t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    let b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    let rows: Vec<Vec<f64>> = t.iter().map(|own| vec![1.0, own - 20.0]).collect();
    let fit = LeastSquares::fit(&rows, &b, None).expect("a fit");
    near(fit.coefficients[0], -0.171_203_79, 1e-8);
    near(fit.coefficients[1], 0.002_182_7, 1e-7);
    let variance = fit.residual_variance().expect("a variance");
    near(libm::sqrt(variance), 0.003_497_56, 1e-8);
    near(fit.deviation(0).expect("a deviation"), 0.002_877_6, 1e-7);
    near(fit.deviation(1).expect("a deviation"), 0.000_667_94, 1e-8);
    let covariance = fit.covariance(0, 1).expect("a covariance") * variance;
    near(covariance / 0.002_877_6 / 0.000_667_94, -0.930_429_6, 1e-4);
    let (at_30, unscaled) = fit.predict(&[1.0, 10.0]);
    near(at_30, -0.149_376_8, 1e-7);
    near(libm::sqrt(unscaled * variance), 0.004_138_6, 1e-7);
}

/// Weights 1/u² of two means: the weighted mean and its variance, by hand.
#[test]
fn weights_are_one_over_u_squared() {
    let fit = LeastSquares::fit(&[vec![1.0], vec![1.0]], &[1.0, 2.0], Some(&[4.0, 1.0])).expect("a fit");
    near(fit.coefficients[0], 1.2, 1e-14);
    near(fit.covariance(0, 0).expect("a variance"), 0.2, 1e-14);
    near(fit.residual_squares, 4.0 * 0.04 + 0.64, 1e-14);
    assert_eq!(LeastSquares::fit(&[vec![1.0, 2.0], vec![2.0, 4.0]], &[1.0, 2.0], None), None);
    assert_eq!(LeastSquares::fit(&[vec![1.0, 2.0]], &[1.0], None), None);
    assert_eq!(LeastSquares::fit(&[], &[], None), None);
    assert_eq!(LeastSquares::fit(&[vec![1.0]], &[1.0], Some(&[-1.0])), None);
}

/// scipy.optimize.nnls.
#[test]
fn coefficients_stay_above_zero() {
    let rows = [[1.0, 0.0, 0.0], [1.0, 1.0, 0.0], [1.0, 1.0, 1.0], [1.0, 1.0, 1.0]].map(|row| row.to_vec());
    let (x, length) = non_negative(&rows, &[1.0, 2.0, 1.5, 3.0]).expect("a fit");
    for (own, expected) in x.iter().zip([1.0, 1.0, 0.25]) {
        near(*own, expected, TOLERANCE);
    }
    near(length, 1.060_660_171_779_8, 1e-12);
    // What only a negative coefficient would fit stays at zero.
    let (x, length) = non_negative(&[vec![1.0, 1.0], vec![1.0, 2.0]], &[2.0, 1.0]).expect("a fit");
    near(x[0], 1.5, TOLERANCE);
    assert_eq!(x[1], 0.0);
    near(length, libm::sqrt(0.5), TOLERANCE);
}

proptest! {
    /// Properties that characterise the solution: ordered, weighted total kept, and nothing to gain (Kuhn and Tucker) by shifting
    /// any head of the list down or any tail up.
    #[test]
    fn isotonic_values_are_the_nearest_ones(y in collection::vec(-5.0..5.0_f64, 1..30)) {
        let found = isotonic(&y, None, Direction::Up).expect("a fit");
        prop_assert!(found.values.windows(2).all(|pair| pair[0] <= pair[1]));
        let mut head = 0.0;
        for (place, (own, fitted)) in y.iter().zip(&found.values).enumerate() {
            head += own - fitted;
            prop_assert!(head >= -1e-9, "{place}");
        }
        prop_assert!(head.abs() < 1e-9);
        let down: Vec<f64> = y.iter().map(|own| -own).collect();
        let mirrored = isotonic(&down, None, Direction::Down).expect("a fit");
        prop_assert!(mirrored.values.iter().zip(&found.values).all(|(a, b)| *a == -*b));
    }

    /// A curve through rising points never falls, and its inverse is its inverse.
    #[test]
    fn a_curve_through_rising_points_never_falls(steps in collection::vec((0.01..1.0_f64, 0.0..1.0_f64), 2..20)) {
        let (mut x, mut y) = (vec![0.0], vec![0.0]);
        for (across, up) in steps {
            x.push(x[x.len() - 1] + across);
            y.push(y[y.len() - 1] + up);
        }
        let curve = pchip(&x, &y);
        let last = x[x.len() - 1];
        let mut before = 0.0;
        for part in 0..=200 {
            let value = curve.at((last * f64::from(part) / 200.0).min(last)).expect("inside");
            prop_assert!(value >= before - 1e-12);
            before = value;
            // At the very top rounding of the last piece may leave the range.
            let Some(back) = curve.first_at(value) else { continue };
            prop_assert!((curve.at(back).expect("inside") - value).abs() < 1e-9);
        }
    }
}

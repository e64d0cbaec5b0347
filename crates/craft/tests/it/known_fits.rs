//! Curves whose parameters do not enter linearly, against certified fits.

use handcoat_craft::numerics::CurveFit;
use handcoat_craft::source::{Citation, Status};

use crate::bench::near;
use crate::known_tables::{exponential, growth};

type Certified = (f64, f64);

/// Certified value and deviation of each parameter, and the sum of squares, from each of the starts that come with a data set.
fn certified(
    fit_from: impl Fn(&[f64]) -> Option<CurveFit>,
    starts: &[&[f64]],
    parameters: &[Certified],
    squares: f64,
    digits: f64,
) {
    for start in starts {
        let fit = fit_from(start).unwrap_or_else(|| panic!("no fit from {start:?}"));
        for (k, (value, deviation)) in parameters.iter().enumerate() {
            near(fit.parameters[k] / value, 1.0, digits);
            near(fit.deviation(k).expect("a deviation") / deviation, 1.0, digits);
        }
        near(fit.residual_squares() / squares, 1.0, 1e-9);
    }
}

/// NIST Statistical Reference Datasets, Misra1a (lower difficulty, two parameters, 14 observations).
#[test]
fn the_certified_exponential_of_misra_is_found() {
    const CITE: Citation = Citation::seen("nist-strd", "nonlinear regression, data set Misra1a");
    assert_eq!(CITE.status, Status::Seen);
    const X: [f64; 14] =
        [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0];
    const Y: [f64; 14] =
        [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78];
    certified(
        |start| CurveFit::fit(&X, &Y, None, start, exponential),
        &[&[500.0, 1e-4], &[250.0, 5e-4]],
        &[(2.389_421_291_8e2, 2.707_007_524_1), (5.501_564_318_1e-4, 7.266_868_843_6e-6)],
        1.245_513_889_4e-1,
        1e-8,
    );
}

/// NIST Statistical Reference Datasets, Rat43 (higher difficulty, four parameters, 15 observations): a sigmoid, as a print curve is.
#[test]
fn the_certified_sigmoid_of_ratkowsky_is_found() {
    const CITE: Citation = Citation::seen("nist-strd", "nonlinear regression, data set Rat43");
    assert_eq!(CITE.status, Status::Seen);
    const Y: [f64; 15] = [
        16.08, 33.83, 65.80, 97.20, 191.55, 326.20, 386.87, 520.53, 590.03, 651.92, 724.93, 699.56, 689.96, 637.56,
        717.41,
    ];
    let x: Vec<f64> = (1..=15).map(f64::from).collect();
    certified(
        |start| CurveFit::fit(&x, &Y, None, start, growth),
        &[&[100.0, 10.0, 1.0, 1.0], &[700.0, 5.0, 0.75, 1.3]],
        &[
            (6.996_415_127_0e2, 1.630_229_781_7e1),
            (5.277_125_302_5, 2.082_873_582_9),
            (7.596_293_832_9e-1, 1.956_612_345_1e-1),
            (1.279_248_385_9, 6.876_193_638_5e-1),
        ],
        8.786_404_908_0e3,
        1e-6,
    );
}

/// Weights of 1/u² give the covariance of the u: readings twice as good have half the deviation, and a line is a line.
#[test]
fn weights_carry_over_and_what_is_no_fit_is_none() {
    let line = |x: f64, b: &[f64]| (b[0] + b[1] * x, vec![1.0, x]);
    let (x, y) = ([0.0, 1.0, 2.0, 3.0], [1.0, 3.1, 4.9, 7.0]);
    let fit = |u: f64| CurveFit::fit(&x, &y, Some(&[1.0 / (u * u); 4]), &[0.0, 0.0], line).expect("a fit");
    let (coarse, fine) = (fit(0.2), fit(0.1));
    near(coarse.parameters[1], 1.98, 1e-9);
    near(coarse.covariance(1, 1).expect("a variance"), 0.04 / 5.0, 1e-12);
    near(fine.covariance(1, 1).expect("a variance"), 0.01 / 5.0, 1e-12);
    assert_eq!((fine.freedom(), fine.covariance(2, 0)), (2, None));
    let same = |_: f64, b: &[f64]| (b[0] + b[1], vec![1.0, 1.0]);
    assert_eq!(CurveFit::fit(&x, &y, None, &[0.0, 0.0], same), None);
    assert_eq!(CurveFit::fit(&x[..1], &y[..1], None, &[0.0, 0.0], line), None);
    assert_eq!(CurveFit::fit(&x, &y[..3], None, &[0.0, 0.0], line), None);
    assert_eq!(CurveFit::fit(&x, &y, Some(&[0.0; 4]), &[0.0, 0.0], line), None);
    assert_eq!(CurveFit::fit(&x, &[f64::NAN; 4], None, &[0.0, 0.0], line), None);
    // Falls for ever: there is no least sum to end at.
    let falling = |_: f64, b: &[f64]| (libm::exp(-b[0]), vec![-libm::exp(-b[0])]);
    assert_eq!(CurveFit::fit(&x, &[0.0, -1.0, 0.0, -1.0], None, &[0.0], falling), None);
}

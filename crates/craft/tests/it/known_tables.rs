//! Curves, pooled values, lines and fits against scipy and scikit-learn: `tests/known/curves.csv`, made by the script beside it.
//!
//! The data of the rows were thrown with dice, so that they hold what nobody thought of; the rows that somebody did think of stand in
//! `known_numerics.rs`.

use handcoat_craft::numerics::{CurveFit, Direction, LeastSquares, Pchip, isotonic, non_negative, theil_sen};

use crate::bench::near;

const CURVES: &str = include_str!("../../../../tests/known/curves.csv");

type Lists = Vec<Vec<f64>>;

/// The lists of numbers of each row of a name; there are some.
fn rows(name: &str) -> Vec<Lists> {
    let list = |text: &str| text.split(' ').map(|own| own.parse().expect("a number")).collect();
    let found: Vec<Lists> = CURVES
        .lines()
        .filter_map(|line| line.split_once(',').filter(|(own, _)| *own == name))
        .map(|(_, lists)| lists.split(',').map(list).collect())
        .collect();
    assert!(!found.is_empty(), "no rows called {name}");
    found
}

/// Equal but for the last of twelve digits.
fn all_near(own: &[f64], expected: &[f64]) {
    assert_eq!(own.len(), expected.len());
    for (own, expected) in own.iter().zip(expected) {
        near(*own, *expected, 2e-11 * expected.abs().max(1.0));
    }
}

#[test]
fn curves_through_any_points_are_those_of_scipy() {
    for row in rows("pchip") {
        let curve = Pchip::through(&row[0], &row[1]).expect("a curve");
        let values: Vec<f64> = row[2].iter().map(|x| curve.at(*x).expect("inside")).collect();
        all_near(&values, &row[3]);
        all_near(curve.slopes(), &row[4]);
        let (from, to) = (row[0][0], row[0][row[0].len() - 1]);
        all_near(&[curve.integral(from, to).expect("inside")], &row[5]);
    }
}

/// The synthetic wedge of 21 steps, backwards, as scipy solves its pieces.
#[test]
fn places_where_a_wedge_has_a_density_are_those_of_scipy() {
    for row in rows("inverse") {
        let curve = Pchip::through(&row[0], &row[1]).expect("a curve");
        all_near(&[curve.first_at(row[2][0]).expect("reached")], &row[3]);
    }
}

#[test]
fn pooled_values_are_those_of_both_libraries() {
    for row in rows("pooled") {
        let direction = if row[2] == [1.0] { Direction::Up } else { Direction::Down };
        let found = isotonic(&row[0], Some(&row[1]), direction).expect("a fit");
        all_near(&found.values, &row[3]);
        let blocks: Vec<f64> = found.blocks.iter().map(|own| *own as f64).collect();
        assert_eq!(blocks, row[4]);
    }
}

#[test]
fn lines_are_those_of_scipy() {
    for row in rows("line") {
        let (slope, intercept) = theil_sen(&row[0], &row[1]).expect("a line");
        all_near(&[slope, intercept], &row[2]);
        let columns: Vec<Vec<f64>> = row[0].iter().map(|x| vec![*x, 1.0]).collect();
        let fit = LeastSquares::fit(&columns, &row[1], None).expect("a fit");
        let deviations = [0, 1].map(|own| fit.deviation(own).expect("a deviation"));
        all_near(&[fit.coefficients[0], fit.coefficients[1], deviations[0], deviations[1]], &row[3]);
    }
}

#[test]
fn coefficients_not_below_zero_are_those_of_scipy() {
    for row in rows("not-negative") {
        let matrix: Vec<Vec<f64>> = row[1].chunks(row[0][0] as usize).map(<[f64]>::to_vec).collect();
        let (found, length) = non_negative(&matrix, &row[2]).expect("a fit");
        all_near(&found, &row[3]);
        all_near(&[length], &row[4]);
    }
}

#[test]
fn parabolas_are_those_of_numpy() {
    for row in rows("parabola") {
        let columns: Vec<Vec<f64>> = row[0].iter().map(|x| vec![1.0, *x, x * x]).collect();
        let fit = LeastSquares::fit(&columns, &row[1], None).expect("a fit");
        all_near(&fit.coefficients, &row[2]);
        all_near(&[fit.residual_squares], &row[3]);
    }
}

/// b1 (1 - exp(-b2 x)) and its slopes.
pub(crate) fn exponential(x: f64, b: &[f64]) -> (f64, Vec<f64>) {
    let left = libm::exp(-b[1] * x);
    (b[0] * (1.0 - left), vec![1.0 - left, b[0] * x * left])
}

/// b1 / (1 + exp(b2 - b3 x))^(1/b4) and its slopes.
pub(crate) fn growth(x: f64, b: &[f64]) -> (f64, Vec<f64>) {
    let part = libm::exp(b[1] - b[2] * x);
    let under = libm::pow(1.0 + part, -1.0 / b[3]);
    let value = b[0] * under;
    let by_place = -value / b[3] * part / (1.0 + part);
    (value, vec![under, by_place, -by_place * x, value * libm::log(1.0 + part) / (b[3] * b[3])])
}

#[test]
fn sigmoids_are_those_of_scipy() {
    for name in ["misra1a", "rat43", "growth"] {
        let model = if name == "misra1a" { exponential } else { growth };
        for row in rows(name) {
            let fit = CurveFit::fit(&row[0], &row[1], None, &row[2], model).expect("a fit");
            for (k, (parameter, deviation)) in row[3].iter().zip(&row[4]).enumerate() {
                near(fit.parameters[k] / parameter, 1.0, 1e-6);
                // Theirs comes from slopes by differences.
                near(fit.deviation(k).expect("a deviation") / deviation, 1.0, 1e-4);
            }
            near(fit.residual_squares() / row[5][0], 1.0, 1e-8);
        }
    }
}

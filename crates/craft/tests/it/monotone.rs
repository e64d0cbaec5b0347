//! The robust monotone spline: it never turns, leaves wild readings aside, and comes nearer to the truth than a curve through all readings.

use handcoat_craft::numerics::{Direction, MonotoneSpline, Pchip, isotonic};
use proptest::{collection, prop_assert, proptest};

use crate::bench::near;
use crate::known_montecarlo::{Pcg, mean_and_deviation};

/// A print in lightness over its input: a sigmoid in density with toe and shoulder, of this steepness and middle.
fn truth(x: f64, steep: f64, middle: f64) -> f64 {
    let density = 0.07 + 1.4 / (1.0 + libm::exp(steep * (x - middle)));
    let y = libm::pow(10.0, -density);
    if y > 216.0 / 24389.0 { 116.0 * libm::cbrt(y) - 16.0 } else { y * 24389.0 / 27.0 }
}

fn places(n: usize) -> Vec<f64> {
    (0..n).map(|own| own as f64 / (n - 1) as f64).collect()
}

fn rms(curve: impl Fn(f64) -> f64, truth: impl Fn(f64) -> f64) -> f64 {
    let squares: f64 = (0..=256)
        .map(|own| {
            let x = f64::from(own) / 256.0;
            let off = curve(x) - truth(x);
            off * off
        })
        .sum();
    libm::sqrt(squares / 257.0)
}

#[test]
fn a_line_is_a_line_and_a_curve_is_near() {
    let x = places(21);
    let line: Vec<f64> = x.iter().map(|own| 10.0 + 80.0 * own).collect();
    let fit = MonotoneSpline::fit(&x, &line, None, Direction::Up).expect("a fit");
    for own in [0.0, 0.03, 0.5, 0.77, 1.0] {
        near(fit.at(own), 10.0 + 80.0 * own, 1e-6);
    }
    let smooth: Vec<f64> = x.iter().map(|own| truth(*own, 9.0, 0.45)).collect();
    let fit = MonotoneSpline::fit(&x, &smooth, None, Direction::Up).expect("a fit");
    assert!(rms(|own| fit.at(own), |own| truth(own, 9.0, 0.45)) < 0.15);
    let falling: Vec<f64> = smooth.iter().map(|own| -own).collect();
    let turned = MonotoneSpline::fit(&x, &falling, None, Direction::Down).expect("a fit");
    near(turned.at(0.4), -fit.at(0.4), 1e-9);
    assert_eq!(MonotoneSpline::fit(&x[..4], &smooth[..4], None, Direction::Up), None);
    assert_eq!(MonotoneSpline::fit(&[0.5; 9], &[1.0; 9], None, Direction::Up), None);
    assert_eq!(MonotoneSpline::fit(&x, &smooth, Some(&[0.0; 21]), Direction::Up), None);
}

/// Readings with noise 0.5 L* and one in twenty moved by 6: nearer to the truth than isotonic regression with a curve through it, on the
/// same readings, and the noise is found again.
#[test]
fn noise_is_smoothed_and_wild_readings_left_aside() {
    let mut dice = Pcg::seeded(3);
    let (mut own, mut other, mut noise, mut kept) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for round in 0..60 {
        let (steep, middle) = (6.0 + f64::from(round % 7), 0.3 + f64::from(round % 5) * 0.08);
        let x = places(31);
        let mut y: Vec<f64> = x.iter().map(|own| truth(*own, steep, middle) + dice.normal(0.0, 0.5)).collect();
        let wild = [4 + round as usize % 9, 17 + round as usize % 11];
        for (place, sign) in wild.into_iter().zip([1.0, -1.0]) {
            y[place] += 6.0 * sign;
        }
        let fit = MonotoneSpline::fit(&x, &y, None, Direction::Up).expect("a fit");
        own.push(rms(|x| fit.at(x), |x| truth(x, steep, middle)));
        let pooled = isotonic(&y, None, Direction::Up).expect("a fit").values;
        let curve = Pchip::through(&x, &pooled).expect("a curve");
        other.push(rms(|x| curve.at(x).expect("inside"), |x| truth(x, steep, middle)));
        noise.push(fit.deviation);
        kept.push(wild.iter().map(|place| fit.weights[*place]).sum::<f64>() / 2.0);
    }
    let [own, other, noise, kept] = [own, other, noise, kept].map(|own| mean_and_deviation(&own).0);
    assert!(own < 0.5 * other, "{own} against {other}");
    near(noise, 0.5, 0.15);
    assert!(kept < 0.1, "{kept}");
}

proptest! {
    #[test]
    fn whatever_is_read_the_curve_never_turns(y in collection::vec(-50.0..150.0_f64, 5..40), repeated in 1_usize..4) {
        let x: Vec<f64> = (0..y.len()).map(|own| (own / repeated) as f64).collect();
        let Some(fit) = MonotoneSpline::fit(&x, &y, None, Direction::Up) else {
            return Ok(());
        };
        let last = x[x.len() - 1];
        let mut before = f64::NEG_INFINITY;
        for part in 0..=100 {
            let value = fit.at(last * f64::from(part) / 100.0);
            prop_assert!(value.is_finite() && value >= before - 1e-9, "{value} after {before}");
            before = value;
        }
    }
}

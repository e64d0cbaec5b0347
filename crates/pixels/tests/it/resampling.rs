//! Resampling against a slow, obvious reference in double precision, written apart from the product.

use handcoat_pixels::{Filter, resample_plane};

use crate::made::grey;

/// The kernels, as their papers have them.
fn kernel(filter: Filter, x: f64) -> f64 {
    let x = x.abs();
    let sinc = |x: f64| if x == 0.0 { 1.0 } else { (std::f64::consts::PI * x).sin() / (std::f64::consts::PI * x) };
    match filter {
        Filter::Lanczos3 => {
            if x < 3.0 {
                sinc(x) * sinc(x / 3.0)
            } else {
                0.0
            }
        }
        // Keys 1981 with a = -0.5.
        Filter::Cubic => {
            let a = -0.5;
            if x <= 1.0 {
                (a + 2.0) * x.powi(3) - (a + 3.0) * x.powi(2) + 1.0
            } else if x < 2.0 {
                a * x.powi(3) - 5.0 * a * x.powi(2) + 8.0 * a * x - 4.0 * a
            } else {
                0.0
            }
        }
        Filter::Linear => (1.0 - x).max(0.0),
        Filter::Area => panic!("an area is no kernel"),
    }
}

/// The weights of every pixel of the source for one of the result.
fn weights(filter: Filter, from: u32, to: u32, place: u32) -> Vec<f64> {
    let scale = f64::from(from) / f64::from(to);
    let own: Vec<f64> = (0..from)
        .map(|source| {
            if filter == Filter::Area {
                let (low, high) = (f64::from(place) * scale, f64::from(place + 1) * scale);
                (high.min(f64::from(source) + 1.0) - low.max(f64::from(source))).max(0.0)
            } else {
                let center = (f64::from(place) + 0.5) * scale - 0.5;
                kernel(filter, (f64::from(source) - center) / scale.max(1.0))
            }
        })
        .collect();
    let sum: f64 = own.iter().sum();
    own.into_iter().map(|weight| weight / sum).collect()
}

fn reference(filter: Filter, source: &[u16], from: (u32, u32), to: (u32, u32)) -> Vec<f64> {
    let across: Vec<Vec<f64>> = (0..to.0).map(|x| weights(filter, from.0, to.0, x)).collect();
    let down: Vec<Vec<f64>> = (0..to.1).map(|y| weights(filter, from.1, to.1, y)).collect();
    let mut out = Vec::new();
    for down in &down {
        let row: Vec<f64> = (0..from.0 as usize)
            .map(|x| down.iter().enumerate().map(|(y, w)| w * f64::from(source[y * from.0 as usize + x])).sum())
            .collect();
        out.extend(across.iter().map(|own| own.iter().zip(&row).map(|(w, v)| w * v).sum::<f64>()));
    }
    out
}

#[test]
fn within_one_code_of_double_precision() {
    let mut worst = 0.0_f64;
    for filter in [Filter::Lanczos3, Filter::Cubic, Filter::Linear, Filter::Area] {
        for (from, to) in [
            ((61, 47), (104, 80)),
            ((61, 47), (61, 80)),
            ((100, 70), (33, 41)),
            ((50, 64), (51, 63)),
            ((200, 130), (9, 7)),
            ((5, 4), (90, 60)),
            ((1, 1), (7, 9)),
            ((300, 3), (531, 2)),
        ] {
            let source = grey(from.0, from.1, 7);
            let made = resample_plane(filter, &source, from, to);
            for (own, exact) in made.iter().zip(reference(filter, &source, from, to)) {
                worst = worst.max((f64::from(*own) - exact.clamp(0.0, 65535.0)).abs());
            }
        }
    }
    // Half a code is rounding.
    assert!(worst < 0.6, "{worst}");
}

#[test]
fn even_tones_stay_even_to_the_edges() {
    for filter in [Filter::Lanczos3, Filter::Cubic, Filter::Linear, Filter::Area] {
        for code in [0, 1, 255, 32_767, 65_534, 65_535] {
            for to in [(97, 45), (20, 13), (30, 20)] {
                let made = resample_plane(filter, &vec![code; 600], (30, 20), to);
                assert!(made.iter().all(|&own| own == code), "{filter:?} {code} {to:?}");
            }
        }
    }
}

#[test]
fn a_step_from_black_to_white_rings_within_the_ends() {
    let source: Vec<u16> = (0..40 * 40).map(|at| if at % 40 < 20 { 0 } else { 65535 }).collect();
    let made = resample_plane(Filter::Lanczos3, &source, (40, 40), (68, 68));
    // Overshoot is cut: what is far from the step is black or white exactly, and no code has wrapped around.
    let row = &made[..68];
    assert!(row[..28].iter().all(|&code| code < 5_000), "{row:?}");
    assert!(row[40..].iter().all(|&code| code > 60_000), "{row:?}");
    assert_eq!((row[0], row[67]), (0, 65535));
}

#[test]
fn the_same_size_is_the_same_picture() {
    let source = grey(33, 21, 3);
    for filter in [Filter::Lanczos3, Filter::Cubic, Filter::Linear, Filter::Area] {
        assert_eq!(resample_plane(filter, &source, (33, 21), (33, 21)), source);
        // Of the same width, columns are not mixed.
        let made = resample_plane(filter, &source, (33, 21), (33, 42));
        let flat: Vec<u16> = (0..21).flat_map(|_| source[..33].to_vec()).collect();
        let of_flat = resample_plane(filter, &flat, (33, 21), (33, 42));
        assert_eq!(&of_flat[..33], &source[..33], "{filter:?}");
        assert_eq!(made.len(), 33 * 42);
    }
}

//! The least of a function of a few numbers, without its slopes (Nelder and Mead, *Comput. J.* 7 (1965) 308-313; from memory).
//!
//! For smooth functions of two to five unknowns of about the same scale. A fixed count of steps, so that the same question takes the same
//! time and gives the same bits.

use alloc::vec;
use alloc::vec::Vec;

/// Walks from `start`, whose first simplex reaches `reach` in each direction, for so many steps. Values that are not finite are avoided.
pub fn simplex_least(start: &[f64], reach: f64, steps: usize, mut of: impl FnMut(&[f64]) -> f64) -> Vec<f64> {
    let mut asked = |own: &[f64]| {
        let value = of(own);
        if value.is_finite() { value } else { f64::INFINITY }
    };
    let mut corners: Vec<(f64, Vec<f64>)> = vec![(asked(start), start.to_vec())];
    for axis in 0..start.len() {
        let mut corner = start.to_vec();
        if let Some(own) = corner.get_mut(axis) {
            *own += reach;
        }
        corners.push((asked(&corner), corner));
    }
    for _ in 0..steps {
        corners.sort_by(|a, b| a.0.total_cmp(&b.0));
        let count = corners.len();
        let [best, .., second, worst] = corners.as_slice() else { break };
        let (least, next, most, away) = (best.0, second.0, worst.0, worst.1.clone());
        let middle: Vec<f64> = (0..start.len())
            .map(|axis| {
                let own = corners.iter().take(count - 1).filter_map(|corner| corner.1.get(axis));
                own.sum::<f64>() / (count - 1) as f64
            })
            .collect();
        let along = |by: f64| -> Vec<f64> { middle.iter().zip(&away).map(|(m, w)| m + by * (m - w)).collect() };
        let reflected = along(1.0);
        let value = asked(&reflected);
        let put = if value < least {
            let further = along(2.0);
            let beyond = asked(&further);
            if beyond < value { Some((beyond, further)) } else { Some((value, reflected)) }
        } else if value < next {
            Some((value, reflected))
        } else {
            let nearer = along(if value < most { 0.5 } else { -0.5 });
            let inside = asked(&nearer);
            (inside < value.min(most)).then_some((inside, nearer))
        };
        match (put, corners.last_mut()) {
            (Some(own), Some(worst)) => *worst = own,
            _ => {
                let best = corners.first().map(|own| own.1.clone()).unwrap_or_default();
                for corner in corners.iter_mut().skip(1) {
                    corner.1 = corner.1.iter().zip(&best).map(|(own, best)| 0.5 * (own + best)).collect();
                    corner.0 = asked(&corner.1);
                }
            }
        }
    }
    corners.sort_by(|a, b| a.0.total_cmp(&b.0));
    corners.into_iter().next().map_or_else(|| start.to_vec(), |own| own.1)
}

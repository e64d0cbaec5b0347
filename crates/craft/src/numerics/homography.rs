//! The map between two flat pictures of one flat sheet: a projective transformation of the plane.
//!
//! Eight numbers from four points or more, by least squares on the linear equations (Hartley and Zisserman, *Multiple View Geometry in Computer
//! Vision*, 2nd ed. (2004), 4.1, from memory), with both sets of points brought to a middle of 0 and a mean distance of √2 first (4.4, from memory).

use alloc::vec::Vec;

/// From (x, y) to ((ax + by + c) / w, (dx + ey + f) / w), w = gx + hy + i.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography([[f64; 3]; 3]);

type Matrix = [[f64; 3]; 3];

/// A point of the first plane, and the one of the second it goes to.
pub type PointPair = ((f64, f64), (f64, f64));

fn times(one: &Matrix, other: &Matrix) -> Matrix {
    let column = |at: usize| other.map(|row| row.get(at).copied().unwrap_or(0.0));
    let columns = [column(0), column(1), column(2)];
    one.map(|row| columns.map(|column| row.iter().zip(column).map(|(a, b)| a * b).sum()))
}

/// Brings points to a middle of 0 and a mean distance of √2: the scale, and the middle.
fn evened(points: impl Iterator<Item = (f64, f64)> + Clone, count: f64) -> Option<(f64, f64, f64)> {
    let (x, y) = points.clone().fold((0.0, 0.0), |(x, y), own| (x + own.0 / count, y + own.1 / count));
    let far = points.map(|own| libm::hypot(own.0 - x, own.1 - y)).sum::<f64>() / count;
    (far.is_finite() && far > 0.0).then(|| (core::f64::consts::SQRT_2 / far, x, y))
}

/// Solves eight equations by elimination with the largest of each column first. None where they say too little.
fn solve(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for step in 0..8 {
        let size = |row: &[f64; 9]| row.get(step).map_or(0.0, |own| own.abs());
        let best = (step..8).max_by(|a, b| {
            let of = |at: &usize| rows.get(*at).map_or(0.0, &size);
            of(a).total_cmp(&of(b))
        })?;
        rows.swap(step, best);
        let lead = *rows.get(step)?;
        let head = *lead.get(step)?;
        if head.abs() < 1e-12 {
            return None;
        }
        for row in rows.iter_mut().skip(step + 1) {
            let part = *row.get(step)? / head;
            row.iter_mut().zip(lead).for_each(|(own, lead)| *own -= part * lead);
        }
    }
    let mut found = [0.0; 8];
    for step in (0..8).rev() {
        let row = rows.get(step)?;
        let known: f64 = row.iter().zip(found).skip(step + 1).take(7 - step).map(|(a, b)| a * b).sum();
        *found.get_mut(step)? = (row.last()? - known) / row.get(step)?;
    }
    found.iter().all(|own| own.is_finite()).then_some(found)
}

impl Homography {
    /// The map that takes the first of each pair nearest to the second; exact for four pairs. None for fewer, or when three of four lie in one line.
    #[must_use]
    pub fn through(pairs: &[PointPair]) -> Option<Self> {
        if pairs.len() < 4 {
            return None;
        }
        let count = pairs.len() as f64;
        let (s, sx, sy) = evened(pairs.iter().map(|own| own.0), count)?;
        let (t, tx, ty) = evened(pairs.iter().map(|own| own.1), count)?;
        // Normal equations of the linear ones: with evened points they are as good as any other way for so few unknowns.
        let mut rows = [[0.0; 9]; 8];
        for ((x, y), (u, v)) in pairs {
            let ((x, y), (u, v)) = ((s * (x - sx), s * (y - sy)), (t * (u - tx), t * (v - ty)));
            for own in [[x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, u], [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, v]] {
                for (row, one) in rows.iter_mut().zip(own) {
                    row.iter_mut().zip(own).for_each(|(sum, other)| *sum += one * other);
                }
            }
        }
        let [a, b, c, d, e, f, g, h] = solve(rows)?;
        let even = [[s, 0.0, -s * sx], [0.0, s, -s * sy], [0.0, 0.0, 1.0]];
        let back = [[1.0 / t, 0.0, tx], [0.0, 1.0 / t, ty], [0.0, 0.0, 1.0]];
        Some(Self(times(&back, &times(&[[a, b, c], [d, e, f], [g, h, 1.0]], &even))))
    }

    /// Where a point goes.
    #[must_use]
    pub fn map(&self, x: f64, y: f64) -> (f64, f64) {
        let [u, v, w] = self.0.map(|[a, b, c]| a * x + b * y + c);
        (u / w, v / w)
    }

    /// The way back. None when everything falls onto one line.
    #[must_use]
    pub fn inverse(&self) -> Option<Self> {
        let [[a, b, c], [d, e, f], [g, h, i]] = self.0;
        let cofactors = [
            [e * i - f * h, c * h - b * i, b * f - c * e],
            [f * g - d * i, a * i - c * g, c * d - a * f],
            [d * h - e * g, b * g - a * h, a * e - b * d],
        ];
        let size = a * (e * i - f * h) + b * (f * g - d * i) + c * (d * h - e * g);
        let own = cofactors.map(|row| row.map(|own| own / size));
        own.iter().flatten().all(|own| own.is_finite()).then_some(Self(own))
    }

    /// Pixels, or whatever the second plane counts, to a unit of the first at a place: the square root of how an area grows.
    #[must_use]
    pub fn scale(&self, x: f64, y: f64) -> f64 {
        let step = 0.5;
        let (left, right) = (self.map(x - step, y), self.map(x + step, y));
        let (above, below) = (self.map(x, y - step), self.map(x, y + step));
        let area = (right.0 - left.0) * (below.1 - above.1) - (right.1 - left.1) * (below.0 - above.0);
        libm::sqrt(area.abs())
    }

    /// Root mean square distance of where the pairs' first go from their second.
    #[must_use]
    pub fn residual(&self, pairs: &[PointPair]) -> f64 {
        let off: Vec<f64> = pairs
            .iter()
            .map(|((x, y), (u, v))| {
                let own = self.map(*x, *y);
                (own.0 - u) * (own.0 - u) + (own.1 - v) * (own.1 - v)
            })
            .collect();
        libm::sqrt(off.iter().sum::<f64>() / off.len().max(1) as f64)
    }
}

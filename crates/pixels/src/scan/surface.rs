//! Light that falls off over the sheet, from how bright bare paper is here and there.

use handcoat_craft::numerics::median;

/// A smooth surface of the second degree, as a part of its brightest place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    parts: [f64; 6],
    middle: (f64, f64),
    half: (f64, f64),
    /// From the darkest to the brightest of the places it was found at, as a part of the brightest.
    pub fall: f64,
}

fn terms(u: f64, v: f64) -> [f64; 6] {
    [1.0, u, v, u * u, u * v, v * v]
}

/// Solves six equations by elimination with the largest of each column first.
fn solve(mut rows: [[f64; 7]; 6]) -> Option<[f64; 6]> {
    for step in 0..6 {
        let best = (step..6).max_by(|a, b| {
            let size = |at: &usize| rows.get(*at).and_then(|own| own.get(step)).map_or(0.0, |own| own.abs());
            size(a).total_cmp(&size(b))
        })?;
        rows.swap(step, best);
        let lead = *rows.get(step)?;
        let head = *lead.get(step)?;
        if head.abs() < 1e-9 {
            return None;
        }
        for (at, row) in rows.iter_mut().enumerate() {
            if at != step {
                let part = *row.get(step)? / head;
                row.iter_mut().zip(lead).for_each(|(own, lead)| *own -= part * lead);
            }
        }
    }
    let mut found = [0.0; 6];
    for (step, (own, row)) in found.iter_mut().zip(rows).enumerate() {
        *own = row.last()? / row.get(step)?;
    }
    Some(found)
}

impl Surface {
    /// Through how bright it is at places (x, y, brightness); a few wild ones are left out. None of fewer than nine, or when they lie in a line.
    #[must_use]
    pub fn through(places: &[(f64, f64, f64)]) -> Option<Self> {
        let ends = |own: &dyn Fn(&(f64, f64, f64)) -> f64| {
            let low = places.iter().map(own).fold(f64::MAX, f64::min);
            let high = places.iter().map(own).fold(f64::MIN, f64::max);
            ((low + high) / 2.0, ((high - low) / 2.0).max(f64::MIN_POSITIVE))
        };
        let (x, y) = (ends(&|own| own.0), ends(&|own| own.1));
        let (middle, half) = ((x.0, y.0), (x.1, y.1));
        let mut own = Self { parts: [0.0; 6], middle, half, fall: 0.0 };
        let mut kept = places.to_vec();
        for _ in 0..3 {
            if kept.len() < 9 {
                return None;
            }
            let mut rows = [[0.0; 7]; 6];
            for (x, y, light) in &kept {
                let all = terms((x - middle.0) / half.0, (y - middle.1) / half.1);
                for (row, one) in rows.iter_mut().zip(all) {
                    row.iter_mut().zip(all.iter().chain([light])).for_each(|(sum, other)| *sum += one * other);
                }
            }
            own.parts = solve(rows)?;
            let off: Vec<f64> = places.iter().map(|(x, y, light)| (own.raw(*x, *y) - light).abs()).collect();
            let most = 4.0 * median(&off)?.max(1e-9);
            kept = places.iter().zip(&off).filter(|own| *own.1 <= most).map(|own| *own.0).collect();
        }
        let lights: Vec<f64> = places.iter().map(|(x, y, _)| own.raw(*x, *y)).collect();
        let low = lights.iter().copied().fold(f64::MAX, f64::min);
        let high = lights.iter().copied().fold(f64::MIN, f64::max);
        if low.is_nan() || low <= 0.0 {
            return None;
        }
        own.fall = 1.0 - low / high;
        own.parts = own.parts.map(|part| part / high);
        Some(own)
    }

    fn raw(&self, x: f64, y: f64) -> f64 {
        let all = terms((x - self.middle.0) / self.half.0, (y - self.middle.1) / self.half.1);
        all.iter().zip(self.parts).map(|(one, part)| one * part).sum()
    }

    /// How bright it is there, as a part of the brightest.
    #[must_use]
    pub fn at(&self, x: f64, y: f64) -> f64 {
        self.raw(x, y)
    }
}

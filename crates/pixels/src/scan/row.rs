//! Long dark strips of a scan, and the tones along one.

use handcoat_craft::source::{ROW_AREAS, ROW_CUTS, ROW_KEPT, ROW_SAME, ROW_SHAPE};

use super::Scan;
use super::blobs::blobs;
use super::marks::{ends, smaller};

/// A strip on a scan, by the line through its middle, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Where the line begins.
    pub from: (f64, f64),
    /// Where it ends.
    pub to: (f64, f64),
    /// From the one side of the strip to the other.
    pub width: f64,
}

impl Strip {
    /// Its length.
    #[must_use]
    pub fn length(&self) -> f64 {
        (self.to.0 - self.from.0).hypot(self.to.1 - self.from.1)
    }

    fn middle(&self) -> (f64, f64) {
        ((self.from.0 + self.to.0) / 2.0, (self.from.1 + self.to.1) / 2.0)
    }

    /// The place so far along its line, and so far to the side of it.
    #[must_use]
    pub fn place(&self, along: f64, across: f64) -> (f64, f64) {
        let length = self.length().max(f64::MIN_POSITIVE);
        let (x, y) = ((self.to.0 - self.from.0) / length, (self.to.1 - self.from.1) / length);
        (self.from.0 + along * x - across * y, self.from.1 + along * y + across * x)
    }

    /// Turned about its middle, clockwise.
    #[must_use]
    pub fn turned(&self, degrees: f64) -> Self {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let middle = self.middle();
        let turn = |own: (f64, f64)| {
            let (x, y) = (own.0 - middle.0, own.1 - middle.1);
            (middle.0 + x * cos - y * sin, middle.1 + x * sin + y * cos)
        };
        Self { from: turn(self.from), to: turn(self.to), ..*self }
    }

    /// The other way round.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self { from: self.to, to: self.from, ..*self }
    }

    /// So much longer at both ends.
    #[must_use]
    pub fn longer(&self, by: f64) -> Self {
        Self { from: self.place(-by, 0.0), to: self.place(self.length() + by, 0.0), ..*self }
    }

    /// How its line is turned, clockwise from left to right, degrees.
    #[must_use]
    pub fn turn_degrees(&self) -> f64 {
        (self.to.1 - self.from.1).atan2(self.to.0 - self.from.0).to_degrees()
    }
}

/// How looks across a strip become one tone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Across {
    /// Their mean, in which an edge that is not square to the line is soft.
    Mean,
    /// The middle one, which specks and hairs do not move.
    Middle,
}

impl Scan {
    /// L* at each pixel along a strip, of looks over an inner part of its width; none where one of them is off the scan.
    #[must_use]
    pub fn along(&self, strip: &Strip, inner: f64, looks: usize, across: Across) -> Vec<Option<f64>> {
        let count = looks.max(1);
        let mut own = Vec::with_capacity(count);
        let at = |along: f64, look: usize| {
            let part = (look as f64 + 0.5) / count as f64 - 0.5;
            let (x, y) = strip.place(along, part * inner * strip.width);
            let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
            inside.then(|| self.l_star(self.tone(x as usize, y as usize)))
        };
        (0..strip.length() as usize)
            .map(|along| {
                own.clear();
                own.extend((0..count).filter_map(|look| at(along as f64 + 0.5, look)));
                if own.len() < count {
                    return None;
                }
                Some(match across {
                    Across::Mean => own.iter().sum::<f64>() / count as f64,
                    Across::Middle => *own.select_nth_unstable_by(count / 2, f64::total_cmp).1,
                })
            })
            .collect()
    }
}

/// Long strips darker than the paper around them, the largest first.
#[must_use]
pub fn strips(scan: &Scan) -> Vec<Strip> {
    if scan.width == 0 || scan.height == 0 {
        return Vec::new();
    }
    let (plane, factor) = smaller(scan);
    let (dark, light) = ends(&plane.tones);
    let all = plane.tones.len() as f64;
    let (length, fill, off) = ROW_SHAPE.value;
    let mut found: Vec<Strip> = Vec::new();
    for cut in ROW_CUTS.value {
        let below = (dark + cut * (light - dark)) as u16;
        for blob in blobs(&plane.tones, plane.width, below, ROW_AREAS.value.0 * all..ROW_AREAS.value.1 * all) {
            if blob.length < length || (blob.fill - fill).abs() > off {
                continue;
            }
            let scale = factor as f64;
            let (long, wide) = ((blob.area * blob.length).sqrt() * scale, (blob.area / blob.length).sqrt() * scale);
            let middle = (blob.middle.0 * scale, blob.middle.1 * scale);
            let half = (blob.towards.0 * long / 2.0, blob.towards.1 * long / 2.0);
            let own = Strip {
                from: (middle.0 - half.0, middle.1 - half.1),
                to: (middle.0 + half.0, middle.1 + half.1),
                width: wide,
            };
            let near = |other: &Strip| {
                let there = other.middle();
                (there.0 - middle.0).hypot(there.1 - middle.1) < ROW_SAME.value * other.length().max(long)
            };
            if !found.iter().any(near) {
                found.push(own);
            }
        }
    }
    found.sort_by(|a, b| (b.length() * b.width).total_cmp(&(a.length() * a.width)));
    found.truncate(ROW_KEPT.value);
    found
}

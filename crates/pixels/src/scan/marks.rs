//! Spots that look like a mark, and four of them in a ring.

use handcoat_craft::source::{
    MARK_ALIKE, MARK_AREAS, MARK_CUTS, MARK_OFF, MARK_OFF_LOOSE, MARK_SAME, MARK_TURN, MARKS_KEPT, MARKS_SIDE_PX,
    SCAN_ENDS,
};

use super::Scan;
use super::blobs::{Blob, blobs};

/// How a mark looks whatever its size and turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MarkShape {
    /// Standard deviation along, as a multiple of that across.
    pub length: f64,
    /// The area as a part of that of an ellipse with the same standard deviations.
    pub fill: f64,
    /// Third moment along, over the third power of the standard deviation.
    pub skew: f64,
    /// From its middle back to the middle of its round end, as a part of the square root of its area.
    pub back: f64,
    /// Whether that place is light.
    pub hollow: bool,
}

/// A spot that looks like a mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MarkSeen {
    /// Its middle.
    pub middle: (f64, f64),
    /// The direction of its thin end.
    pub towards: (f64, f64),
    /// Pixels of its area.
    pub area: f64,
    /// Whether there is a light place in it.
    pub hollow: bool,
    /// How far its shape is from the one looked for; 1 is the last that is taken.
    pub off: f64,
}

/// How far spots and rings may be from what is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MarkCare {
    /// As near as a chart that is to be read has them.
    Sure,
    /// So far that it only says why there is none.
    Loose,
}

impl MarkCare {
    fn off(self) -> f64 {
        match self {
            Self::Sure => 1.0,
            Self::Loose => MARK_OFF_LOOSE.value,
        }
    }

    fn of(self, (sure, loose): (f64, f64)) -> f64 {
        match self {
            Self::Sure => sure,
            Self::Loose => loose,
        }
    }
}

/// A picture of one tone a pixel.
pub(super) struct Plane {
    pub(super) width: usize,
    pub(super) tones: Vec<u16>,
}

impl Plane {
    fn at(&self, x: f64, y: f64) -> Option<u16> {
        let own = (x >= 0.0 && y >= 0.0).then_some((x as usize, y as usize))?;
        (own.0 < self.width).then(|| self.tones.get(own.1 * self.width + own.0).copied()).flatten()
    }
}

/// A smaller picture for looking around.
pub(super) fn smaller(scan: &Scan) -> (Plane, usize) {
    let factor = (scan.width.max(scan.height) / MARKS_SIDE_PX.value).max(1);
    let (width, height) = (scan.width / factor, scan.height / factor);
    if factor == 1 {
        return (Plane { width, tones: scan.tones().to_vec() }, 1);
    }
    let mut tones = Vec::with_capacity(width * height);
    let mut sums = vec![0_u32; width];
    for rows in scan.tones().chunks_exact(scan.width * factor) {
        sums.fill(0);
        for row in rows.chunks_exact(scan.width) {
            for (sum, own) in sums.iter_mut().zip(row.chunks_exact(factor)) {
                *sum += own.iter().map(|own| u32::from(*own)).sum::<u32>();
            }
        }
        tones.extend(sums.iter().map(|own| (own / (factor * factor) as u32) as u16));
    }
    (Plane { width, tones }, factor)
}

/// The codes a small part of the pixels is below, and above.
pub(super) fn ends(tones: &[u16]) -> (f64, f64) {
    let mut counts = [0_usize; 256];
    for own in tones {
        if let Some(count) = counts.get_mut(usize::from(own >> 8)) {
            *count += 1;
        }
    }
    let few = (SCAN_ENDS.value * tones.len() as f64) as usize;
    let place = |counts: &mut dyn Iterator<Item = (usize, &usize)>| {
        let mut seen = 0;
        for (at, own) in counts {
            seen += own;
            if seen > few {
                return Some(at);
            }
        }
        None
    };
    let low = place(&mut counts.iter().enumerate()).unwrap_or(0);
    let high = place(&mut counts.iter().enumerate().rev()).unwrap_or(255);
    ((low << 8) as f64, (high << 8 | 255) as f64)
}

fn looks_like(blob: &Blob, shape: &MarkShape) -> f64 {
    let part = |own: f64, wanted: f64, most: f64| (own / wanted - 1.0).abs() / most;
    let (length, fill, skew) = MARK_OFF.value;
    let skew = (blob.skew - shape.skew).abs() / skew;
    part(blob.length, shape.length, length).max(part(blob.fill, shape.fill, fill)).max(skew)
}

/// Spots that look like one of the shapes, the best first.
#[must_use]
pub fn marks_like(scan: &Scan, shapes: &[MarkShape], care: MarkCare) -> Vec<MarkSeen> {
    if scan.width == 0 || scan.height == 0 {
        return Vec::new();
    }
    let (plane, factor) = smaller(scan);
    let (dark, light) = ends(&plane.tones);
    let areas = MARK_AREAS.value.0..MARK_AREAS.value.1 * plane.tones.len() as f64;
    let scale = factor as f64;
    let mut found: Vec<MarkSeen> = Vec::new();
    for cut in MARK_CUTS.value {
        let below = (dark + cut * (light - dark)) as u16;
        for blob in blobs(&plane.tones, plane.width, below, areas.clone()) {
            let side = blob.area.sqrt();
            for shape in shapes {
                let off = looks_like(&blob, shape);
                let belly = (
                    blob.middle.0 - shape.back * side * blob.towards.0,
                    blob.middle.1 - shape.back * side * blob.towards.1,
                );
                let open = plane.at(belly.0, belly.1).is_some_and(|own| own >= below);
                if off > care.off() || open != shape.hollow {
                    continue;
                }
                let own = MarkSeen {
                    middle: (blob.middle.0 * scale, blob.middle.1 * scale),
                    towards: blob.towards,
                    area: blob.area * scale * scale,
                    hollow: shape.hollow,
                    off,
                };
                let near = |other: &&mut MarkSeen| {
                    (other.middle.0 - own.middle.0).hypot(other.middle.1 - own.middle.1)
                        < MARK_SAME.value * side * scale
                };
                match found.iter_mut().find(near) {
                    Some(other) if other.off <= off => {}
                    Some(other) => *other = own,
                    None => found.push(own),
                }
            }
        }
    }
    found.sort_by(|a, b| a.off.total_cmp(&b.off));
    found.truncate(MARKS_KEPT.value);
    found
}

/// Rings of four marks of which each points to the next, that turn by right angles to one side; the first has the light place. With `mirrored` they
/// turn to the other side. Of several from one first mark the one whose shapes are nearest; the nearest ring of all comes first.
#[must_use]
pub fn rings_of_four(marks: &[MarkSeen], mirrored: bool, care: MarkCare) -> Vec<[MarkSeen; 4]> {
    let least = care.of(MARK_TURN.value).to_radians().cos();
    let factor = care.of(MARK_ALIKE.value);
    let alike = |a: &MarkSeen, b: &MarkSeen| a.area < factor * b.area && b.area < factor * a.area;
    let along = |from: &MarkSeen, to: &MarkSeen| {
        let (x, y) = (to.middle.0 - from.middle.0, to.middle.1 - from.middle.1);
        let far = x.hypot(y);
        far > 0.0 && (x * from.towards.0 + y * from.towards.1) / far > least
    };
    let turns = |from: &MarkSeen, to: &MarkSeen| {
        let side = from.towards.0 * to.towards.1 - from.towards.1 * to.towards.0;
        (if mirrored { -side } else { side }) > least
    };
    let follows = |from: &MarkSeen, to: &MarkSeen| !to.hollow && alike(from, to) && along(from, to) && turns(from, to);
    let mut all: Vec<(f64, [MarkSeen; 4])> = Vec::new();
    for first in marks.iter().filter(|own| own.hollow) {
        let mut best: Option<(f64, [MarkSeen; 4])> = None;
        for second in marks.iter().filter(|own| follows(first, own)) {
            for third in marks.iter().filter(|own| follows(second, own)) {
                for fourth in marks.iter().filter(|own| follows(third, own)) {
                    if along(fourth, first) && turns(fourth, first) {
                        let ring = [*first, *second, *third, *fourth];
                        let off = ring.iter().map(|own| own.off).sum();
                        if best.is_none_or(|own| off < own.0) {
                            best = Some((off, ring));
                        }
                    }
                }
            }
        }
        all.extend(best);
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all.into_iter().map(|own| own.1).collect()
}

//! Where the chart lies on the scan: its marks, its code, its check cells, each held against the others.

use handcoat_craft::numerics::{Homography, PointPair, median};
use handcoat_craft::source::{
    CHART_SQUARE_MM, SCAN_CELLS_RIGHT, SCAN_LEAST_CONTRAST, SCAN_LEAST_PX_PER_MM, SCAN_MOST_BLUR_MM, SCAN_MOST_OFF_MM,
    SCAN_MOST_SKEW, SCAN_MOST_TAPER,
};
use handcoat_craft::tone::{
    CODE_SQUARES, ChartCode, ChartFrame, ChartLayout, ChartSize, DropMark, DropShape, NoCode, Spot,
};
use handcoat_pixels::{Close, MarkSeen, MarkShape, Scan, four_in_a_ring, marks_like};

use super::refused::NotRead;

/// Where the chart lies.
#[derive(Clone, Debug)]
pub(super) struct Located {
    pub(super) layout: ChartLayout,
    /// From millimetres on the chart to pixels of the scan, and back.
    pub(super) to: Homography,
    pub(super) back: Homography,
    pub(super) px_per_mm: f64,
    pub(super) blur_mm: f64,
    pub(super) off_mm: f64,
    /// Black and paper, L*.
    pub(super) tones: (f64, f64),
    /// Check cells that are as the layout has them, and all.
    pub(super) cells: (usize, usize),
}

/// What was found on the way, for the picture: also of a scan that is refused.
#[derive(Clone, Debug, Default)]
pub(super) struct Trail {
    pub(super) seen: Vec<MarkSeen>,
    pub(super) ring: Option<[MarkSeen; 4]>,
    /// The frame that fits best, and the map to it.
    pub(super) frame: Option<(ChartFrame, Homography)>,
    /// Cells that are not as the layout has them.
    pub(super) wrong: Vec<Spot>,
}

/// Around a drop, beyond half its length, mm: what is looked at closely.
const AROUND_DROP_MM: f64 = 0.9;
/// Around the middle of a check cell, mm.
const AROUND_CELL_MM: f64 = 2.7;
/// Side of the inner part of a check cell, mm.
const INNER_CELL_MM: f64 = 1.6;
/// Standard deviation of the square of a pixel, in pixels: blur that every scan has.
const PIXEL_BLUR: f64 = 0.29;
/// A cell further off than so many times the middle distance has dust on it.
const CELL_WILD: f64 = 3.0;
/// Never wild below this, mm.
const CELL_NEVER_WILD_MM: f64 = 0.08;
/// Exact, by the definition of the inch.
const MM_PER_INCH: f64 = 25.4;
/// What is left out of a cell, in standard deviations and L*.
const CELL_TRIM: (f64, f64) = (3.0, 3.0);

fn shape(hollow: bool) -> MarkShape {
    let own = DropShape::of(hollow);
    let back = own.middle_mm / own.area_mm2.sqrt();
    MarkShape { length: own.length, fill: own.fill, skew: own.skew, back, hollow }
}

/// A drop looked at closely.
fn closely(scan: &Scan, seen: &MarkSeen, mark: &DropMark, px_per_mm: f64) -> Option<Close> {
    let out = mark.to_half_mm() * px_per_mm;
    let radius = (DropMark::reach_mm() + AROUND_DROP_MM) * px_per_mm;
    let mut middle = seen.middle;
    let mut close = None;
    // Twice, so that the circle is around the drop as it was found the first time.
    for _ in 0..2 {
        let own = scan.close((middle.0 + out * seen.towards.0, middle.1 + out * seen.towards.1), radius)?;
        middle = own.middle;
        close = Some(own);
    }
    close
}

/// How far corners are from right angles, degrees, and how different opposite sides are, as a part.
fn skew(ring: &[MarkSeen; 4]) -> (f64, f64) {
    let [a, b, c, d] = ring.map(|own| own.middle);
    let side = |from: (f64, f64), to: (f64, f64)| (to.0 - from.0, to.1 - from.1);
    let long = |own: (f64, f64)| own.0.hypot(own.1);
    let angle = |one: (f64, f64), other: (f64, f64)| {
        ((one.0 * other.0 + one.1 * other.1) / (long(one) * long(other))).clamp(-1.0, 1.0).asin().abs().to_degrees()
    };
    let sides = [side(a, b), side(b, c), side(c, d), side(d, a)];
    let [above, right, below, left] = sides;
    let corners = [angle(above, right), angle(right, below), angle(below, left), angle(left, above)];
    let differ = |one: (f64, f64), other: (f64, f64)| (long(one) / long(other)).ln().abs();
    (corners.into_iter().fold(0.0, f64::max), differ(above, below).max(differ(right, left)))
}

/// How soft the sharpest edges of the whole scan are, mm, where it says how large it is.
fn softness(scan: &Scan) -> Option<f64> {
    let px_per_mm = scan.ppi()?.per_inch() / f64::from(scan.factor()) / MM_PER_INCH;
    scan.softness().map(|own| blur_mm(own, px_per_mm))
}

/// Blur in mm without that of the pixels.
fn blur_mm(blur: f64, px_per_mm: f64) -> f64 {
    (blur * blur - PIXEL_BLUR * PIXEL_BLUR).max(0.0).sqrt() / px_per_mm
}

/// The four drops, in a ring.
fn ring(scan: &Scan, trail: &mut Trail) -> Result<[MarkSeen; 4], NotRead> {
    trail.seen = marks_like(scan, &[shape(true), shape(false)]);
    if let Some(ring) = four_in_a_ring(&trail.seen, false) {
        trail.ring = Some(ring);
        return Ok(ring);
    }
    trail.ring = four_in_a_ring(&trail.seen, true);
    // Drops that are so soft that they look like none.
    if trail.ring.is_none()
        && !trail.seen.is_empty()
        && let Some(blur) = softness(scan)
        && blur > SCAN_MOST_BLUR_MM.value
    {
        return Err(NotRead::Blurred(blur));
    }
    Err(match (trail.ring, trail.seen.len()) {
        (Some(_), _) => NotRead::Mirrored,
        (None, 0) => NotRead::NoMarks,
        (None, count) => NotRead::FewMarks(count),
    })
}

/// The code of squares of a frame, where it has to be.
fn squares(scan: &Scan, frame: &ChartFrame, to: &Homography) -> Option<String> {
    let first = frame.square(0, 0);
    let square = CHART_SQUARE_MM.value;
    let place = |column: f64, row: f64| to.map(first.x_mm + (column - 0.5) * square, first.y_mm + (row - 0.5) * square);
    scan.squares(CODE_SQUARES, &place)
}

/// Of all sizes the one whose code stands where it has to be.
fn by_code(
    scan: &Scan,
    close: &[Close; 4],
    blur_mm: f64,
    trail: &mut Trail,
) -> Result<(ChartCode, ChartFrame, Homography), NotRead> {
    let mut why = if blur_mm > SCAN_MOST_BLUR_MM.value { NotRead::Blurred(blur_mm) } else { NotRead::Code };
    let mut nearest = f64::INFINITY;
    for size in ChartSize::ALL {
        let frame = ChartFrame::of(size);
        let middles = frame.marks.map(|own| (own.middle().x_mm, own.middle().y_mm));
        let pairs: Vec<_> = middles.into_iter().zip(close.map(|own| own.middle)).collect();
        let Some(to) = Homography::through(&pairs) else { continue };
        // A frame of other proportions would be drawn out.
        let (across, down) = (frame.width_mm / 2.0, frame.height_mm / 2.0);
        let long = |dx: f64, dy: f64| {
            let (one, other) = (to.map(across - dx, down - dy), to.map(across + dx, down + dy));
            (other.0 - one.0).hypot(other.1 - one.1)
        };
        let drawn_out = (long(1.0, 0.0) / long(0.0, 1.0)).ln().abs();
        if drawn_out < nearest {
            nearest = drawn_out;
            trail.frame = Some((frame.clone(), to));
        }
        let Some(text) = squares(scan, &frame, &to) else { continue };
        match ChartCode::read(&text) {
            Ok(code) if code.size == size => {
                trail.frame = Some((frame.clone(), to));
                return Ok((code, frame, to));
            }
            Ok(code) => {
                let what = format!(
                    "the code is of {} levels, and the marks are of a chart of {}",
                    code.size.levels(),
                    size.levels()
                );
                why = NotRead::Disagree(what);
            }
            Err(NoCode::Later(version)) => why = NotRead::Later(version),
            Err(NoCode::Foreign) => why = NotRead::Foreign(text),
        }
    }
    Err(why)
}

/// Finds the chart, and holds marks, code and cells against each other.
pub(super) fn locate(scan: &Scan, trail: &mut Trail) -> Result<Located, NotRead> {
    let ring = ring(scan, trail)?;
    let shapes = ring.map(|own| DropShape::of(own.hollow));
    let areas = ring.iter().zip(&shapes).map(|(seen, shape)| (seen.area / shape.area_mm2).sqrt());
    let px_per_mm = areas.sum::<f64>() / ring.len() as f64;
    if px_per_mm < SCAN_LEAST_PX_PER_MM.value {
        return Err(NotRead::Coarse(px_per_mm));
    }
    let (angle, taper) = skew(&ring);
    if angle > SCAN_MOST_SKEW.value || taper > SCAN_MOST_TAPER.value {
        return Err(NotRead::Skewed(angle, taper));
    }
    // How a drop is made does not depend on the size of the chart.
    let [first, second, third, fourth] = ChartFrame::of(ChartSize::Strip).marks;
    let look = |seen: &MarkSeen, mark: &DropMark| closely(scan, seen, mark, px_per_mm).ok_or(NotRead::Cut);
    let [a, b, c, d] = ring;
    let close = [look(&a, &first)?, look(&b, &second)?, look(&c, &third)?, look(&d, &fourth)?];
    let blurs = close.iter().zip(&shapes).map(|(own, shape)| own.blur(shape.outline_mm * px_per_mm));
    let blur = blurs.sum::<f64>() / close.len() as f64;
    let blur_mm = blur_mm(blur, px_per_mm);
    let mean = |own: &dyn Fn(&Close) -> f64| close.iter().map(own).sum::<f64>() / close.len() as f64;
    let tones = (mean(&|own| own.tones.0), mean(&|own| own.tones.1));
    if tones.1 - tones.0 < SCAN_LEAST_CONTRAST.value {
        return Err(NotRead::Flat(tones.1 - tones.0));
    }
    let (code, frame, to) = by_code(scan, &close, blur_mm, trail)?;
    if blur_mm > SCAN_MOST_BLUR_MM.value {
        return Err(NotRead::Blurred(blur_mm));
    }
    let layout = ChartLayout::of(code);
    let back = to.inverse().ok_or(NotRead::Cut)?;
    let px_per_mm = to.scale(frame.width_mm / 2.0, frame.height_mm / 2.0);

    let mut pairs: Vec<_> = frame.marks.iter().zip(&close).map(|(mark, own)| (at(mark.middle()), own.middle)).collect();
    let middle = 0.5 * (tones.0 + tones.1);
    for cell in &layout.cells {
        let seen = scan.measure((&to, &back), at(cell.at), INNER_CELL_MM, CELL_TRIM).ok_or(NotRead::Cut)?;
        if (seen.lab().l_star < middle) != cell.dark {
            trail.wrong.push(cell.at);
        } else if cell.dark {
            let place = to.map(cell.at.x_mm, cell.at.y_mm);
            let own = scan.close(place, AROUND_CELL_MM * px_per_mm).ok_or(NotRead::Cut)?;
            pairs.push((at(cell.at), own.middle));
        }
    }
    let (all, wrong) = (layout.cells.len(), trail.wrong.len());
    if ((all - wrong) as f64) < SCAN_CELLS_RIGHT.value * all as f64 {
        return Err(NotRead::Disagree(format!(
            "{wrong} of {all} check cells are not as seed {} has them",
            layout.code.seed
        )));
    }
    let (to, off) = settled(&pairs, px_per_mm).ok_or(NotRead::Cut)?;
    let off_mm = off / px_per_mm;
    if off_mm > SCAN_MOST_OFF_MM.value {
        return Err(NotRead::Bent(off_mm));
    }
    let back = to.inverse().ok_or(NotRead::Cut)?;
    trail.frame = Some((frame, to));
    Ok(Located { layout, to, back, px_per_mm, blur_mm, off_mm, tones, cells: (all - wrong, all) })
}

/// The map through all pairs but those with dust on them, and how far they lie off, in pixels.
fn settled(pairs: &[PointPair], px_per_mm: f64) -> Option<(Homography, f64)> {
    let first = Homography::through(pairs)?;
    let off: Vec<f64> = pairs.iter().map(|own| first.residual(&[*own])).collect();
    let most = (CELL_WILD * median(&off)?).max(CELL_NEVER_WILD_MM * px_per_mm);
    // The four drops stay, being the larger.
    let kept: Vec<_> =
        pairs.iter().zip(&off).enumerate().filter(|(at, own)| *at < 4 || *own.1 <= most).map(|own| *own.1.0).collect();
    let to = Homography::through(&kept)?;
    Some((to, to.residual(&kept)))
}

/// A place as two numbers.
pub(super) fn at(spot: Spot) -> (f64, f64) {
    (spot.x_mm, spot.y_mm)
}

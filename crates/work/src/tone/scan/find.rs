//! Where the chart lies on the scan: its marks, its code, its check cells, each held against the others.

use handcoat_craft::numerics::{Homography, PointPair, median};
use handcoat_craft::source::{
    AROUND_CELL_MM, AROUND_DROP_MM, CELL_TRIM, CELL_WILD, CHART_SQUARE_MM, INNER_CELL_MM, MARKS_AGREE, MARKS_TELL,
    PIXEL_BLUR, SCAN_CELLS_RIGHT, SCAN_LEAST_CONTRAST, SCAN_LEAST_PX_PER_MM, SCAN_MOST_BLUR_MM, SCAN_MOST_OFF_MM,
    SCAN_MOST_SKEW, SCAN_MOST_TAPER,
};
use handcoat_craft::tone::{
    CODE_SQUARES, ChartCode, ChartFrame, ChartLayout, ChartSize, DropMark, DropShape, NoCode, Spot,
};
use handcoat_pixels::{Close, MarkCare, MarkSeen, MarkShape, Scan, marks_like, rings_of_four};

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

impl Located {
    /// How far its upper edge is turned, clockwise, degrees.
    pub(super) fn turn_degrees(&self) -> f64 {
        let (from, to) = (self.to.map(0.0, 0.0), self.to.map(self.layout.frame.width_mm, 0.0));
        (to.1 - from.1).atan2(to.0 - from.0).to_degrees()
    }
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

/// Exact, by the definition of the inch.
const MM_PER_INCH: f64 = 25.4;

fn shape(hollow: bool) -> MarkShape {
    let own = DropShape::of(hollow);
    let back = own.middle_mm / own.area_mm2.sqrt();
    MarkShape { length: own.length, fill: own.fill, skew: own.skew, back, hollow }
}

/// A drop looked at closely.
fn closely(scan: &Scan, seen: &MarkSeen, mark: &DropMark, px_per_mm: f64) -> Option<Close> {
    let out = mark.to_half_mm() * px_per_mm;
    let radius = (DropMark::reach_mm() + AROUND_DROP_MM.value) * px_per_mm;
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

/// Blur in mm without that of the pixels.
fn blur_mm(blur: f64, px_per_mm: f64) -> f64 {
    (blur * blur - PIXEL_BLUR.value * PIXEL_BLUR.value).max(0.0).sqrt() / px_per_mm
}

/// Pixels to a millimetre by the areas of drops.
fn by_areas<'a>(drops: impl Iterator<Item = &'a MarkSeen>) -> Option<f64> {
    let all: Vec<f64> = drops.map(|own| (own.area / DropShape::of(own.hollow).area_mm2).sqrt()).collect();
    median(&all)
}

/// The four drops, in a ring.
fn ring(scan: &Scan, trail: &mut Trail) -> Result<[MarkSeen; 4], NotRead> {
    let shapes = [shape(true), shape(false)];
    trail.seen = marks_like(scan, &shapes, MarkCare::Sure);
    let rings = rings_of_four(&trail.seen, false, MarkCare::Sure);
    // A drop with the level line is the first of its chart and of no other.
    if rings.len() > 1 {
        return Err(NotRead::Several(rings.len()));
    }
    if let Some(ring) = rings.first() {
        trail.ring = Some(*ring);
        return Ok(*ring);
    }
    trail.ring = rings_of_four(&trail.seen, true, MarkCare::Sure).first().copied();
    if trail.ring.is_some() {
        return Err(NotRead::Mirrored);
    }
    Err(no_ring(scan, &shapes, trail))
}

/// Whether four spots that were looked at with less care are the drops of one flat sheet, however it is pulled: where a map puts the middles, sizes and
/// directions have to follow.
fn of_one_sheet(ring: &[MarkSeen; 4], mirrored: bool) -> bool {
    let (most_apart, most_turned) = MARKS_AGREE.value;
    ChartSize::ALL.into_iter().map(ChartFrame::of).any(|frame| {
        // A mirrored sheet is one of which left is right.
        let flip = |x: f64| if mirrored { frame.width_mm - x } else { x };
        let middles = frame.marks.map(|own| (flip(own.middle().x_mm), own.middle().y_mm));
        let pairs: Vec<_> = middles.into_iter().zip(ring.map(|own| own.middle)).collect();
        let Some(to) = Homography::through(&pairs) else { return false };
        let sizes: Vec<f64> = ring
            .iter()
            .zip(middles)
            .map(|(seen, at)| (seen.area / DropShape::of(seen.hollow).area_mm2).sqrt() / to.scale(at.0, at.1))
            .collect();
        let ends = sizes.iter().fold((f64::MAX, 0.0_f64), |(low, high), own| (low.min(*own), high.max(*own)));
        let along = ring.iter().zip(middles).zip(frame.marks).all(|((seen, at), mark)| {
            let out = (if mirrored { -mark.towards.0 } else { mark.towards.0 }, mark.towards.1);
            let (from, tip) = (to.map(at.0, at.1), to.map(at.0 + out.0, at.1 + out.1));
            let way = (tip.0 - from.0, tip.1 - from.1);
            let part = (way.0 * seen.towards.0 + way.1 * seen.towards.1) / way.0.hypot(way.1);
            part > most_turned.to_radians().cos()
        });
        along && ends.1 < most_apart * ends.0
    })
}

/// Why there is no ring: by what the scan says of itself, by spots that are drops only when looked at with less care, and by its sharpest edges.
fn no_ring(scan: &Scan, shapes: &[MarkShape], trail: &mut Trail) -> NotRead {
    let sure = trail.seen.len();
    let spots = marks_like(scan, shapes, MarkCare::Loose);
    let said = scan.ppi().map(|own| own.per_inch() / f64::from(scan.factor()) / MM_PER_INCH);
    let turned =
        |mirrored| rings_of_four(&spots, mirrored, MarkCare::Loose).into_iter().find(|own| of_one_sheet(own, mirrored));
    let loose = turned(false);
    // A few spots may be anything; four in a ring, or several sure drops, are of a chart.
    let seen = match &loose {
        Some(ring) => by_areas(ring.iter()),
        None => (sure >= MARKS_TELL.value).then(|| by_areas(trail.seen.iter())).flatten(),
    };
    if spots.is_empty() {
        return NotRead::NoMarks;
    }
    if let Some(px_per_mm) = said.or(seen).filter(|own| *own < SCAN_LEAST_PX_PER_MM.value) {
        return NotRead::Coarse(px_per_mm);
    }
    if let Some(ring) = loose {
        let (angle, taper) = skew(&ring);
        trail.ring = loose;
        if angle > SCAN_MOST_SKEW.value || taper > SCAN_MOST_TAPER.value {
            return NotRead::Skewed(angle, taper);
        }
    }
    // Drops that are so soft that they look like none.
    let blur = said.or(seen).and_then(|px_per_mm| scan.softness().map(|own| blur_mm(own, px_per_mm)));
    if let Some(blur) = blur.filter(|own| *own > SCAN_MOST_BLUR_MM.value) {
        return NotRead::Blurred(blur);
    }
    if loose.is_none() && turned(true).is_some() {
        return NotRead::Mirrored;
    }
    if sure == 0 { NotRead::NoMarks } else { NotRead::FewMarks(sure) }
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
    let px_per_mm = by_areas(ring.iter()).ok_or(NotRead::NoMarks)?;
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
        let seen = scan.measure((&to, &back), at(cell.at), INNER_CELL_MM.value, CELL_TRIM.value).ok_or(NotRead::Cut)?;
        if (seen.lab().l_star < middle) != cell.dark {
            trail.wrong.push(cell.at);
        } else if cell.dark {
            let place = to.map(cell.at.x_mm, cell.at.y_mm);
            let own = scan.close(place, AROUND_CELL_MM.value * px_per_mm).ok_or(NotRead::Cut)?;
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
    let most = (CELL_WILD.value.0 * median(&off)?).max(CELL_WILD.value.1 * px_per_mm);
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

//! The picture of what was found: drops, code, check cells and patches over the scan.

use handcoat_craft::numerics::Homography;
use handcoat_craft::source::CHART_INNER_MM;
use handcoat_craft::tone::{ChartFrame, ChartLayout, Spot};
use handcoat_pixels::{Colour, Overlay, Scan};

use super::find::Trail;
use super::patches::PatchRead;

fn square(to: &Homography, at: Spot, side: f64) -> Vec<(f64, f64)> {
    let half = side / 2.0;
    let corners = [(-half, -half), (half, -half), (half, half), (-half, half)];
    corners.map(|own| to.map(at.x_mm + own.0, at.y_mm + own.1)).to_vec()
}

/// The picture as a PNG. Without patches it shows why nothing was read.
pub(super) fn drawing(scan: &Scan, trail: &Trail, patches: Option<&[PatchRead]>) -> Option<Vec<u8>> {
    let mut over = Overlay::default();
    let read = patches.is_some();
    for seen in &trail.seen {
        let in_ring = trail.ring.is_some_and(|own| own.contains(seen));
        if in_ring || !read {
            let colour = if in_ring && (read || trail.frame.is_some()) { Colour::Good } else { Colour::Told };
            let radius = seen.area.sqrt();
            over.circle(seen.middle, radius, colour);
            let (x, y) = seen.middle;
            over.line((x, y), (x + 2.0 * radius * seen.towards.0, y + 2.0 * radius * seen.towards.1), colour);
        }
    }
    if let Some((frame, to)) = &trail.frame {
        let colour = if read { Colour::Good } else { Colour::Bad };
        let (width, height) = (frame.width_mm, frame.height_mm);
        let edge = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
        over.outline(edge.map(|own| to.map(own.0, own.1)).to_vec(), colour);
        over.outline(square(to, frame.code, ChartFrame::code_side_mm()), colour);
        for wrong in &trail.wrong {
            over.outline(square(to, *wrong, ChartLayout::cell_side_mm()), Colour::Bad);
        }
        for own in patches.unwrap_or_default() {
            let colour = match (own.aside(), own.flags.is_empty()) {
                (true, _) => Colour::Bad,
                (false, false) => Colour::Told,
                (false, true) => Colour::Good,
            };
            over.outline(square(to, own.patch.at, CHART_INNER_MM.value), colour);
        }
    }
    over.png(scan)
}

//! The chloride ratio on a line: short, enough, far over, and where this batch stands with its ±.

use handcoat_craft::measure::{AmountRatio, Uncertain, with_uncertainty};
use handcoat_craft::source::{CHLORIDE_EXCESS, CHLORIDE_SHORT, LEAST_CHLORIDE};

use crate::svg::{Anchor, Drawing, Ink, Theme};

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 74.0;
const LEFT: f64 = 14.0;
const AXIS: f64 = 40.0;
const FROM: f64 = 1.6;
const TO: f64 = 3.4;

/// Draws it. A ratio beyond the line stands at its end, with its number.
#[must_use]
pub fn chloride_scale(ratio: &Uncertain<AmountRatio>, theme: Theme) -> String {
    let shown = with_uncertainty(ratio);
    let best = ratio.best.to_ratio();
    let description = format!(
        "Added chloride per metal {shown} (k = 2). Short under {}, needed {}, far over {}.",
        CHLORIDE_SHORT.value, LEAST_CHLORIDE.value, CHLORIDE_EXCESS.value
    );
    let mut drawing = Drawing::new(theme, WIDTH, HEIGHT, "Added chloride per metal", &description);
    let x = |value: f64| LEFT + (value.clamp(FROM, TO) - FROM) / (TO - FROM) * (WIDTH - 2.0 * LEFT);

    let (low, high) = (x(best - ratio.expanded()), x(best + ratio.expanded()));
    drawing.rect(Ink::Band, (low, AXIS - 9.0), (high - low, 18.0));
    drawing.line(Ink::Line, 1.0, (x(FROM), AXIS), (x(TO), AXIS));
    for (value, word) in [(CHLORIDE_SHORT.value, "short"), (CHLORIDE_EXCESS.value, "far over")] {
        drawing.line(Ink::Main, 1.0, (x(value), AXIS - 12.0), (x(value), AXIS + 12.0));
        drawing.text(Ink::Soft, 12.0, Anchor::Middle, (x(value), AXIS + 27.0), &format!("{word} {value:.2}"));
    }
    drawing.ring(Ink::Metal, (x(best), AXIS), 5.0);
    drawing.text(Ink::Main, 14.0, Anchor::Middle, (x(best), AXIS - 16.0), &shown.to_string());
    drawing.finish()
}

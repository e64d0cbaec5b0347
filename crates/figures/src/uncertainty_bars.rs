//! Where the ± of a strength comes from: one bar for each cause, longest first.

use handcoat_craft::measure::{COVERAGE, percent};

use crate::svg::{Anchor, Drawing, Ink, Theme};

const WIDTH: f64 = 420.0;
const ROW: f64 = 22.0;
const LABELS: f64 = 168.0;
const NUMBERS: f64 = 56.0;

/// One cause and the relative standard uncertainty it brings.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Cause, in words.
    pub label: String,
    /// Relative standard uncertainty (k = 1).
    pub relative: f64,
}

/// Draws the bars at k = 2. They combine as squares, so they do not add up to the whole.
#[must_use]
pub fn uncertainty_bars(bars: &[Bar], theme: Theme) -> String {
    let height = ROW * bars.len() as f64 + 6.0;
    let described: Vec<String> = bars.iter().map(|bar| format!("{} {}", bar.label, shown(bar))).collect();
    let description = format!("Relative uncertainty (k = 2): {}.", described.join(", "));
    let mut drawing = Drawing::new(theme, WIDTH, height, "Where the ± comes from", &description);
    let longest = bars.iter().map(|bar| bar.relative).fold(0.0, f64::max);
    for (place, bar) in bars.iter().enumerate() {
        let base = ROW * place as f64 + 16.0;
        let length = if longest > 0.0 { bar.relative / longest * (WIDTH - LABELS - NUMBERS) } else { 0.0 };
        drawing.text(Ink::Main, 13.0, Anchor::End, (LABELS - 10.0, base), &bar.label);
        drawing.rect(Ink::Metal, (LABELS, base - 9.0), (length.max(1.0), 9.0));
        drawing.text(Ink::Soft, 13.0, Anchor::Start, (LABELS + length.max(1.0) + 8.0, base), &shown(bar));
    }
    drawing.finish()
}

fn shown(bar: &Bar) -> String {
    percent(bar.relative * COVERAGE)
}

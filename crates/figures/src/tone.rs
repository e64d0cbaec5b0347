//! Drawings of the station *tone*: a response with its readings, what is left of them, the coat's drift over the sheet, a correction, and
//! what a second print says.

use handcoat_craft::measure::{COVERAGE, fixed, significant};
use handcoat_craft::tone::{Correction, PatchReading, Response, ToneFit, ToneLeft};

use crate::plot::{Axis, CROWDED, Layer, Look, Plot, PlotWidth, Point, Stroke, Ticks};
use crate::svg::{Anchor, Drawing, Ink, Theme};

fn part_axis(label: &str) -> Axis {
    Axis { label: label.into(), from: 0.0, to: 1.0, ticks: Ticks::Round }
}

/// The outermost of some values, with room around them, never narrower than `least` on either side of nothing.
fn around_nothing(values: impl Iterator<Item = f64>, least: f64) -> f64 {
    values.filter(|own| own.is_finite()).fold(least, |most, own| most.max(own.abs() * 1.1))
}

fn left_aside(fit: &ToneFit, place: usize) -> bool {
    fit.outliers.contains(&place)
}

/// What a point says: its input, and by how much it is off.
fn words(reading: &PatchReading, residual: f64, aside: bool) -> String {
    let side = if residual < 0.0 { "darker" } else { "lighter" };
    format!(
        "input {}: L* {}, {} {side} than the curve{}",
        fixed(reading.input.to_part(), 3),
        fixed(reading.lightness.to_l_star(), 1),
        fixed(residual.abs(), 2),
        if aside { "; left aside" } else { "" }
    )
}

/// Lightness of the print for each input: the curve, its ± and the readings as they were read.
#[must_use]
pub fn response_plot(
    readings: &[PatchReading],
    fit: &ToneFit,
    correction: &Correction,
    width: PlotWidth,
    theme: Theme,
) -> String {
    let rows = || fit.response.lightness().iter().zip(fit.response.standard()).enumerate();
    let band = rows().map(|(row, (own, u))| (Response::input_of(row), own - COVERAGE * u, own + COVERAGE * u));
    let curve = rows().map(|(row, (own, _))| (Response::input_of(row), *own));
    let points = readings.iter().enumerate().map(|(place, own)| {
        let aside = left_aside(fit, place);
        let residual = fit.residuals.get(place).copied().unwrap_or(0.0);
        let look = if aside { Look::Crossed } else { Look::Open };
        let at = (own.input.to_part(), own.lightness.to_l_star());
        Point { at, plus_minus: None, look, words: words(own, residual, aside) }
    });
    let (black, white) = (fit.response.black(), fit.response.white());
    let reached = correction.white.at.best.to_part();
    let read = readings.iter().map(|own| own.lightness.to_l_star());
    let (low, high) = read.chain([black, white]).fold((f64::INFINITY, 0.0_f64), |(a, b), own| (a.min(own), b.max(own)));
    let upright = Layer::Upright(reached, "white reached".into());
    let line = Layer::Line { through: curve.collect(), stroke: Stroke::Curve, words: None };
    let (points, band) = (Layer::Points(points.collect()), Layer::Band(band.collect()));
    // Few readings lie upon the curve; many would hide it.
    let layers =
        if readings.len() > CROWDED { vec![band, points, upright, line] } else { vec![band, upright, line, points] };
    let plot = Plot {
        title: "What this set-up prints".into(),
        description: format!(
            "Lightness from {} at input 0 to {} at input 1, through {} readings; the band is k = 2. Paper white is reached at input {}.",
            fixed(black, 1),
            fixed(white, 1),
            readings.len(),
            fixed(reached, 2)
        ),
        x: part_axis("input, from darkest to paper white"),
        y: Axis {
            label: "L* of the dry print".into(),
            from: (low - 3.0).max(0.0),
            to: high + 4.0,
            ticks: Ticks::Round,
        },
        layers,
    };
    plot.draw(width, theme)
}

/// What is left of each reading beside curve and drift; the band is what one reading scatters (k = 2).
#[must_use]
pub fn residual_plot(readings: &[PatchReading], fit: &ToneFit, width: PlotWidth, theme: Theme) -> String {
    let noise = COVERAGE * fit.quality.noise;
    let most = around_nothing(fit.residuals.iter().copied(), (noise * 1.5).max(0.2));
    let points = readings.iter().zip(&fit.residuals).enumerate().map(|(place, (own, residual))| {
        let aside = left_aside(fit, place);
        let look = if aside { Look::Crossed } else { Look::Open };
        Point { at: (own.input.to_part(), *residual), plus_minus: None, look, words: words(own, *residual, aside) }
    });
    let plot = Plot {
        title: "What is left of the readings".into(),
        description: format!(
            "Readings less curve and drift, against the input; the band is what one reading scatters, {} L* (k = 2). {} of {} were left aside.",
            significant(noise, 2),
            fit.outliers.len(),
            readings.len()
        ),
        x: part_axis("input, from darkest to paper white"),
        y: Axis { label: "reading less curve, L*".into(), from: -most, to: most, ticks: Ticks::Round },
        layers: vec![
            Layer::Band(vec![(0.0, -noise, noise), (1.0, -noise, noise)]),
            Layer::Level(0.0, "the curve".into()),
            Layer::Points(points.collect()),
        ],
    };
    plot.draw(width, theme)
}

/// The input to send for each wanted tone.
#[must_use]
pub fn correction_plot(correction: &Correction, width: PlotWidth, theme: Theme) -> String {
    let curve = correction.inputs().iter().enumerate().map(|(row, own)| (Correction::tone_of(row), *own));
    let white = correction.white.sent.to_part();
    let mut layers = vec![Layer::Line { through: vec![(0.0, 0.0), (1.0, 1.0)], stroke: Stroke::Dashed, words: None }];
    if white < 0.99 {
        layers.push(Layer::Level(white, format!("white {}", fixed(white, 2))));
    }
    layers.push(Layer::Line { through: curve.collect(), stroke: Stroke::Curve, words: None });
    let plot = Plot {
        title: "The correction".into(),
        description: format!(
            "What is sent for each wanted tone: {} for black, {} for the middle, {} for white; the dashed line changes nothing.",
            fixed(correction.black.sent.to_part(), 3),
            fixed(correction.inputs().get(128).copied().unwrap_or(0.0), 3),
            fixed(white, 3)
        ),
        x: part_axis("wanted tone, from black to white"),
        y: part_axis("input to send"),
        layers,
    };
    plot.draw(width, theme)
}

/// What a print through the correction was off, with the ± of that (k = 2).
#[must_use]
pub fn left_plot(left: &[ToneLeft], width: PlotWidth, theme: Theme) -> String {
    let band = left.iter().map(|own| (own.tone, own.off - COVERAGE * own.standard, own.off + COVERAGE * own.standard));
    let most = around_nothing(left.iter().flat_map(|own| [own.off.abs() + COVERAGE * own.standard]), 0.5);
    let worst = left.iter().copied().max_by(|a, b| a.off.abs().total_cmp(&b.off.abs()));
    let plot = Plot {
        title: "What the corrected print was off".into(),
        description: worst.map_or(String::new(), |own| {
            let side = if own.off < 0.0 { "darker" } else { "lighter" };
            format!(
                "Most at tone {}: {} L* {side} than wanted; the band is k = 2, and where it holds nothing the print is right as far as anybody can tell.",
                fixed(own.tone, 2),
                fixed(own.off.abs(), 2)
            )
        }),
        x: part_axis("wanted tone, from black to white"),
        y: Axis { label: "lighter than wanted, L*".into(), from: -most, to: most, ticks: Ticks::Round },
        layers: vec![
            Layer::Band(band.collect()),
            Layer::Level(0.0, "as wanted".into()),
            Layer::Line {
                through: left.iter().map(|own| (own.tone, own.off)).collect(),
                stroke: Stroke::Curve,
                words: None,
            },
        ],
    };
    plot.draw(width, theme)
}

/// Room around the sheet for its words.
const RIM: f64 = 14.0;
/// The largest dot.
const LARGEST: f64 = 11.0;

/// The coat's drift over the sheet: a dot for each patch, filled where the coat prints darker, open where lighter, as large as the drift.
/// None where no places are known. On a sheet of paper the map is small: there its key stands in the title, large enough to be read.
#[must_use]
pub fn drift_map(readings: &[PatchReading], fit: &ToneFit, theme: Theme) -> Option<String> {
    let placed: Vec<(f64, f64, f64)> = readings
        .iter()
        .zip(&fit.drift)
        .filter_map(|(own, drift)| {
            let place = own.place?;
            Some((place.across.to_millimetres(), place.down.to_millimetres(), *drift))
        })
        .collect();
    let ends = |of: fn(&(f64, f64, f64)) -> f64| {
        placed.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), own| (a.min(own), b.max(own)))
    };
    let ((left, right), (top, bottom)) = (ends(|own| own.0), ends(|own| own.1));
    let most = placed.iter().map(|own| own.2.abs()).fold(0.0, f64::max);
    if placed.len() < 2 || most <= 0.0 {
        return None;
    }
    let (wide, high) = ((right - left).max(1.0), (bottom - top).max(1.0));
    let scale = (320.0 / wide).min(300.0 / high);
    let edge = RIM + LARGEST;
    let keyed = theme != Theme::Paper;
    let (width, height) = (wide * scale + 2.0 * edge, high * scale + 2.0 * edge + if keyed { 24.0 } else { 0.0 });
    let description = format!(
        "The coat over the sheet, seen as it lies: filled dots print darker, open ones lighter; the largest is {} L*.",
        significant(most, 2)
    );
    let width = if keyed { width.max(340.0) } else { width };
    let mut drawing = Drawing::new(theme, width, height, "Drift of the coat over the sheet", &description);
    let corner = |x: f64, y: f64| (edge + x * scale, edge + y * scale);
    let (out_left, out_top) = (edge - LARGEST - 4.0, edge - LARGEST - 4.0);
    let (out_right, out_bottom) = (edge + wide * scale + LARGEST + 4.0, edge + high * scale + LARGEST + 4.0);
    for (from, to) in [
        ((out_left, out_top), (out_right, out_top)),
        ((out_right, out_top), (out_right, out_bottom)),
        ((out_right, out_bottom), (out_left, out_bottom)),
        ((out_left, out_bottom), (out_left, out_top)),
    ] {
        drawing.line(Ink::Line, 1.0, from, to);
    }
    for (x, y, drift) in &placed {
        // The area tells, as an eye reads it.
        let radius = 1.2 + (LARGEST - 1.2) * (drift.abs() / most).sqrt();
        let ground = if *drift < 0.0 { Ink::Main } else { Ink::Sheet };
        let side = if *drift < 0.0 { "darker" } else { "lighter" };
        drawing.open_group(1.0, &format!("{} L* {side}", fixed(drift.abs(), 2)));
        drawing.dot(ground, Ink::Main, corner(x - left, y - top), radius);
        drawing.close_group();
    }
    if keyed {
        let key = format!("filled darker, open lighter; largest {} L*", significant(most, 2));
        drawing.text(Ink::Soft, 15.0, Anchor::Start, (out_left, out_bottom + 20.0), &key);
    }
    Some(drawing.finish())
}

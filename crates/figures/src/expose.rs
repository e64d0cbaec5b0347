//! Plots of the station *expose*: density against log exposure, and the contrast ladder.

use std::fmt::Write as _;

use handcoat_craft::expose::{Dose, Ladder, LadderWedge, WedgeFit};
use handcoat_craft::measure::{COVERAGE, LogRange, ReadingNoise, Uncertain, fixed, significant, with_uncertainty};
use handcoat_craft::numerics::Pchip;

use crate::plot::{Axis, Layer, Look, Plot, PlotWidth, Point, Stroke, Ticks};
use crate::svg::Theme;

/// Points a curve is drawn through.
const FINE: usize = 160;

/// Draws what was read under a wedge: the density of the print against the light under each step, which falls to the left. `noise` is
/// that of one reading.
#[must_use]
pub fn wedge_plot(fit: &WedgeFit, noise: ReadingNoise, width: PlotWidth, theme: Theme) -> String {
    // From the densest step to the thinnest, as the light grows.
    let steps: Vec<_> = fit.steps.iter().rev().collect();
    let x: Vec<f64> = steps.iter().map(|own| -own.step.to_density()).collect();
    let y: Vec<f64> = steps.iter().map(|own| own.fitted.to_density()).collect();
    let (least, most) = (x.first().copied().unwrap_or(-1.0), x.last().copied().unwrap_or(0.0));
    let curve: Vec<(f64, f64)> = match Pchip::through(&x, &y) {
        Ok(own) => fine(least, most).filter_map(|at| Some((-at, own.at(at)?))).collect(),
        Err(_) => x.iter().zip(&y).map(|(x, y)| (-x, *y)).collect(),
    };
    let off = COVERAGE * noise.to_density();
    let dmax = fit.dmax.best.to_density();
    let mut layers = vec![
        Layer::Band(curve.iter().map(|(x, y)| (*x, y - off, y + off)).collect()),
        Layer::Line { through: curve, stroke: Stroke::Curve, words: None },
        Layer::Level(dmax, format!("{} {}", if fit.ends.black { "Dmax" } else { "darkest" }, fixed(dmax, 2))),
    ];
    let end = |own: &Uncertain<LogRange>| own.best.to_log_h();
    if let (Some(black), Some(shoulder), Some(scale)) = (&fit.black_below, &fit.shoulder_below, &fit.scale) {
        let (black, shoulder) = (end(black), end(shoulder));
        layers.push(Layer::Upright(black, "full black".into()));
        layers.push(Layer::Upright(shoulder, "90 %".into()));
        layers.push(Layer::Upright(shoulder + end(scale), "lightest tone".into()));
    }
    let point = |own: &&handcoat_craft::expose::ReadStep| {
        let (step, mean) = (own.step.to_density(), own.mean.to_density());
        let words = format!(
            "under step {}: {}, the curve {}",
            fixed(step, 2),
            fixed(mean, 3),
            fixed(own.fitted.to_density(), 3)
        );
        Point { at: (step, mean), plus_minus: None, look: Look::Open, words }
    };
    layers.push(Layer::Points(steps.iter().map(point).collect()));
    let top = steps.iter().map(|own| own.mean.to_density()).fold(dmax, f64::max);
    let description = format!(
        "Density of the print from {} (base) to {} (Dmax) under {} steps; the curve through them and its ± for one reading (k = 2).",
        with_uncertainty(&fit.base),
        with_uncertainty(&fit.dmax),
        steps.len()
    );
    let plot = Plot {
        title: "Print density against light".into(),
        description,
        x: Axis {
            label: "density of the step: less light to the left".into(),
            from: -least,
            to: -most,
            ticks: Ticks::Round,
        },
        y: Axis { label: "density of the print".into(), from: 0.0, to: top + 0.15, ticks: Ticks::Round },
        layers,
    };
    plot.draw(width, theme)
}

/// One wedge on a ladder.
#[derive(Clone, Debug, PartialEq)]
pub struct LadderMark {
    /// Its dose and scale.
    pub wedge: LadderWedge,
    /// None of one's own: what others report.
    pub borrowed: bool,
    /// What it says when it is pointed at.
    pub words: String,
}

/// What is asked of a ladder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LadderAim {
    /// The range of the negative.
    pub range: LogRange,
    /// The dose it comes to, when there is one.
    pub dose: Option<Dose>,
}

/// Draws exposure scale against the doublings of the dose: own wedges filled, borrowed ones open and paler as they count for less.
#[must_use]
pub fn ladder_plot(
    ladder: &Ladder,
    marks: &[LadderMark],
    aim: Option<LadderAim>,
    width: PlotWidth,
    theme: Theme,
) -> String {
    let Ok((least, most)) = ladder.doses() else { return String::new() };
    let doublings = |dose: Dose| dose.in_unit().log2();
    let (from, to) = (doublings(least), doublings(most));
    let at = |x: f64| {
        let dose = match least {
            Dose::InCoat(_) => {
                handcoat_craft::measure::AgentDose::milligrams_per_millilitre(x.exp2()).map(Dose::InCoat)
            }
            Dose::InDeveloper(_) => {
                handcoat_craft::measure::DeveloperDose::grams_per_litre(x.exp2()).map(Dose::InDeveloper)
            }
        };
        ladder.scale_at(dose.ok()?).ok().flatten()
    };
    let grid: Vec<_> = fine(from, to).filter_map(|x| Some((x, at(x)?))).collect();
    let without = marks.iter().any(|own| own.wedge.dose.is_none());
    // A wedge without agent has no place among doublings; it stands by itself to the left.
    let nothing = from - 1.0;
    let place = |dose: Option<Dose>| dose.map_or(nothing, doublings);
    let band = grid.iter().map(|(x, own)| {
        let (best, off) = (own.scale.best.to_log_h(), COVERAGE * own.scale.standard());
        (*x, best - off, best + off)
    });
    let line = grid.iter().map(|(x, own)| (*x, own.scale.best.to_log_h())).collect();
    let mut layers =
        vec![Layer::Band(band.collect()), Layer::Line { through: line, stroke: Stroke::Curve, words: None }];
    if let Some(aim) = aim {
        let range = aim.range.to_log_h();
        layers.push(Layer::Level(range, format!("the negative {}", fixed(range, 2))));
        layers.extend(aim.dose.map(|own| Layer::Upright(doublings(own), dose_words(own))));
    }
    let points = marks.iter().map(|own| {
        let x = place(own.wedge.dose);
        let look = match own.borrowed {
            false => Look::Filled,
            true => Look::Fading(at(x).map_or(1.0, |own| own.borrowed)),
        };
        let scale = &own.wedge.scale;
        let off = (!own.borrowed).then(|| COVERAGE * scale.standard());
        Point { at: (x, scale.best.to_log_h()), plus_minus: off, look, words: own.words.clone() }
    });
    layers.push(Layer::Points(points.collect()));
    let span = marks.iter().map(|own| own.wedge.scale.best.to_log_h());
    let span = span.chain(grid.iter().flat_map(|(_, own)| {
        let (best, off) = (own.scale.best.to_log_h(), COVERAGE * own.scale.standard());
        [best - off, best + off]
    }));
    let span = span.chain(aim.map(|own| own.range.to_log_h()));
    let (low, high) = span.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), own| (low.min(own), high.max(own)));
    let mut ticks: Vec<(f64, String)> = without.then(|| (nothing, "none".into())).into_iter().collect();
    let mut next = from;
    while next <= to + 0.5 {
        ticks.push((next, significant(next.exp2(), 2)));
        next += 1.0;
    }
    let mut description = String::from("Exposure scale against dose. ");
    for own in marks {
        let _ = write!(description, "{}. ", own.words);
    }
    let plot = Plot {
        title: "Contrast ladder".into(),
        description: description.trim_end().into(),
        x: Axis {
            label: format!("dose in {}, each mark double the last", least.unit()),
            from: if without { nothing - 0.3 } else { from - 0.3 },
            to: to + 0.3,
            ticks: Ticks::At(ticks),
        },
        y: Axis { label: "exposure scale in log H".into(), from: low - 0.08, to: high + 0.08, ticks: Ticks::Round },
        layers,
    };
    plot.draw(width, theme)
}

fn dose_words(dose: Dose) -> String {
    format!("{} {}", significant(dose.in_unit(), 2), dose.unit())
}

fn fine(from: f64, to: f64) -> impl Iterator<Item = f64> {
    (0..=FINE).map(move |own| from + (to - from) * own as f64 / FINE as f64)
}

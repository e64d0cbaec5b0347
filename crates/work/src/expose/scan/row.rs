//! Edges along a row of steps, and the even steps between them.
//!
//! Steps at both ends of a wedge print alike, so that no edge is seen between them: length and place of the steps come from the edges that are seen, and the
//! count is never theirs.

use handcoat_craft::numerics::median;
use handcoat_craft::source::{
    ROW_BLUR_EDGE, ROW_EDGE, ROW_END_EDGE, ROW_END_OFF, ROW_EVEN, ROW_FILLED, ROW_LEAST_EDGES, ROW_OFF, ROW_STEPS,
    ROW_TRIED, ROW_WINDOWS,
};

/// An edge: where it is along the row, and how much lighter it is beyond it, L*.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Edge {
    at: f64,
    rise: f64,
}

/// Even steps along a row, from its dark end.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// Where a step begins; which, is not said by it.
    pub(super) begins: f64,
    /// Where paper meets the first step, where it does.
    pub(super) paper_ends: Option<f64>,
    /// The length of a step.
    pub(super) step: f64,
    /// Where edges of the row were seen.
    pub(super) edges: Vec<f64>,
    /// How far they lie off, root mean square, in steps.
    pub(super) off: f64,
    /// Blur of their edges, in steps.
    pub(super) blur: Option<f64>,
}

impl Row {
    /// The place of an edge that is nearest.
    pub(super) fn nearest(&self, at: f64) -> f64 {
        self.begins + ((at - self.begins) / self.step).round() * self.step
    }
}

/// How much lighter it is over a window behind each place than over one before it.
fn rises(tones: &[f64], window: usize) -> Vec<f64> {
    let mut sum = 0.0;
    let sums: Vec<f64> = std::iter::once(0.0)
        .chain(tones.iter().map(|own| {
            sum += own;
            sum
        }))
        .collect();
    let at = |place: usize| sums.get(place).copied().unwrap_or(sum);
    (0..=tones.len())
        .map(|place| {
            if place < window || place + window > tones.len() {
                return 0.0;
            }
            (at(place + window) + at(place - window) - 2.0 * at(place)) / window as f64
        })
        .collect()
}

/// Where tones change suddenly.
fn edges(tones: &[f64], window: usize) -> Vec<Edge> {
    let rises = rises(tones, window);
    let sizes: Vec<f64> = rises.iter().map(|own| own.abs()).collect();
    let (least, unrest) = ROW_EDGE.value;
    let least = least.max(unrest * median(&sizes).unwrap_or(0.0));
    let mut all = Vec::new();
    for (place, (rise, size)) in rises.iter().zip(&sizes).enumerate() {
        let before = sizes.iter().take(place).skip(place.saturating_sub(window));
        let behind = sizes.iter().skip(place + 1).take(window);
        if size >= &least && before.into_iter().all(|own| own < size) && behind.into_iter().all(|own| own <= size) {
            all.push(Edge { at: place as f64, rise: *rise });
        }
    }
    all
}

/// How well edges lie at even distances, from 0 to 1, and where the first would.
fn even(edges: &[Edge], step: f64) -> (f64, f64) {
    let turn = |own: &Edge| std::f64::consts::TAU * own.at / step;
    let (cos, sin) = edges.iter().fold((0.0, 0.0), |sum, own| (sum.0 + turn(own).cos(), sum.1 + turn(own).sin()));
    (cos.hypot(sin) / edges.len().max(1) as f64, sin.atan2(cos) / std::f64::consts::TAU * step)
}

/// The length of a step: the longest that fits nearly as well as the best, for half of it fits as well.
fn step_of(edges: &[Edge], length: f64) -> Option<f64> {
    let (fewest, most) = ROW_STEPS.value;
    // Of no length every step would be tried for ever.
    if length < fewest {
        return None;
    }
    let mut tried = Vec::new();
    let mut step = length / most;
    while step <= length / fewest {
        tried.push((step, even(edges, step).0));
        step *= 1.0 + ROW_TRIED.value;
    }
    let best = tried.iter().map(|own| own.1).fold(0.0, f64::max);
    let peaks = tried.windows(3).filter_map(|own| {
        let [before, here, behind] = own else { return None };
        (here.1 >= before.1 && here.1 >= behind.1 && here.1 >= ROW_EVEN.value * best).then_some(here.0)
    });
    peaks.fold(None, |longest: Option<f64>, own| Some(longest.map_or(own, |other| other.max(own))))
}

/// A straight line through places by their numbers: where it begins, and its slope.
fn line(pairs: &[(f64, f64)]) -> Option<(f64, f64)> {
    let count = pairs.len() as f64;
    let (x, y) = pairs.iter().fold((0.0, 0.0), |sum, own| (sum.0 + own.0 / count, sum.1 + own.1 / count));
    let (xx, xy) = pairs
        .iter()
        .fold((0.0, 0.0), |sum, own| (sum.0 + (own.0 - x) * (own.0 - x), sum.1 + (own.0 - x) * (own.1 - y)));
    (xx > 0.0).then(|| (y - xy / xx * x, xy / xx))
}

/// The even steps along a row whose dark end comes first; `within` says where edges are of it, `length` how long it is about. None where there are none.
pub(super) fn row(tones: &[f64], within: (f64, f64), length: f64) -> Option<Row> {
    // How long a step is shows only afterwards: of a strip of which no more than the tones is seen a window may be twice as long.
    let window = ((length / ROW_WINDOWS.value) as usize).max(2);
    let both = [window, 2 * window].into_iter().filter_map(|own| row_by(tones, within, length, own));
    both.fold(None, |best: Option<Row>, own| {
        let good = |own: &Row| (own.paper_ends.is_some(), own.edges.len());
        Some(best.filter(|other| good(other) >= good(&own)).unwrap_or(own))
    })
}

fn row_by(tones: &[f64], within: (f64, f64), length: f64, window: usize) -> Option<Row> {
    let all = edges(tones, window);
    let ends = tones.iter().fold((f64::MAX, f64::MIN), |(low, high), own| (low.min(*own), high.max(*own)));
    let half = within.0 + (within.1 - within.0) / 2.0;
    let outer = |own: &&Edge| own.rise <= -ROW_END_EDGE.value * (ends.1 - ends.0) && own.at < half;
    let paper_ends = all.iter().rfind(outer).map(|own| own.at);
    let from = paper_ends.unwrap_or(within.0);
    let own: Vec<Edge> =
        all.iter().filter(|own| own.rise > 0.0 && own.at > from && own.at <= within.1).copied().collect();
    if own.len() < ROW_LEAST_EDGES.value {
        return None;
    }
    let mut step = step_of(&own, length)?;
    let mut begins = even(&own, step).1;
    let number = |at: f64, begins: f64, step: f64| ((at - begins) / step).round();
    let (wild, most_off, least_part) = ROW_OFF.value;
    let mut kept: Vec<Edge> = Vec::new();
    // Until the same edges stay: a few times are enough, and too many do no harm.
    for _ in 0..ROW_LEAST_EDGES.value {
        let off = |own: &Edge| own.at - begins - number(own.at, begins, step) * step;
        kept = own.iter().filter(|own| off(own).abs() <= wild * step).copied().collect();
        let pairs: Vec<(f64, f64)> = kept.iter().map(|own| (number(own.at, begins, step), own.at)).collect();
        (begins, step) = line(&pairs)?;
    }
    let mut numbers: Vec<f64> = kept.iter().map(|own| number(own.at, begins, step)).collect();
    numbers.dedup();
    let (first, last) = (numbers.first()?, numbers.last()?);
    let squares = kept.iter().map(|own| (own.at - begins - number(own.at, begins, step) * step) / step);
    let off = (squares.map(|own| own * own).sum::<f64>() / kept.len() as f64).sqrt();
    let is_row = numbers.len() >= ROW_LEAST_EDGES.value
        && numbers.len() as f64 >= ROW_FILLED.value * (last - first + 1.0)
        && kept.len() as f64 >= least_part * own.len() as f64
        && off <= most_off;
    let found = Row { begins, paper_ends, step, edges: kept.iter().map(|own| own.at).collect(), off, blur: None };
    // The first step begins where paper ends, so there has to be a place of an edge.
    let ends_off = paper_ends.map_or(0.0, |own| (own - found.nearest(own)).abs() / step);
    (is_row && ends_off <= ROW_END_OFF.value).then(|| Row { blur: blur(tones, &kept, step), ..found })
}

/// Standard deviation of the blur of edges, in steps: the steepest rise from place to place against that from the middle of one step to that of the next.
fn blur(tones: &[f64], edges: &[Edge], step: f64) -> Option<f64> {
    let half = step / 2.0;
    let one = |own: &Edge| {
        let (from, to) = ((own.at - half).max(0.0) as usize, (own.at + half) as usize);
        let all = (*tones.get(to)?) - (*tones.get(from)?);
        let around = tones.iter().take(to).skip(from);
        let next = around.clone().skip(1);
        let steepest = around.zip(next).map(|(one, next)| next - one).fold(0.0, f64::max);
        // The steepest place of a step that is smeared by a normal spread.
        (all >= ROW_BLUR_EDGE.value).then(|| all / steepest / std::f64::consts::TAU.sqrt() / step)
    };
    let all: Vec<f64> = edges.iter().filter_map(one).collect();
    median(&all)
}

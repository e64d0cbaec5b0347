//! A plot: two linear axes with few round ticks, a pale band for the ±, a curve, measured points, and words on the things themselves
//! instead of a legend.
//!
//! It knows nothing of what it shows. Whoever draws brings coordinates in the units of the axes; an axis whose `from` is the larger
//! end runs backwards, and one that is no number line (doses by doublings) brings its own ticks. What lies outside the axes is cut
//! off; what is no number is not drawn. Words look for a place where they cover least. It is readable in one colour.

use crate::svg::{Anchor, Drawing, Ink, Theme};

/// One axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What is on it, with its unit.
    pub label: String,
    /// Its value at the left or at the bottom.
    pub from: f64,
    /// Its value at the right or at the top.
    pub to: f64,
    /// Where it is marked.
    pub ticks: Ticks,
}

/// Where an axis is marked.
#[derive(Clone, Debug, PartialEq)]
pub enum Ticks {
    /// At round numbers.
    Round,
    /// At these values, with these words.
    At(Vec<(f64, String)>),
}

/// One thing that is drawn; the first lies lowest.
#[derive(Clone, Debug, PartialEq)]
pub enum Layer {
    /// The ± of a curve: at each x from one y to another.
    Band(Vec<(f64, f64, f64)>),
    /// A line through points in order, named at its end or not at all.
    Line {
        /// Where it goes.
        through: Vec<(f64, f64)>,
        /// How it is drawn.
        stroke: Stroke,
        /// What it is called.
        words: Option<String>,
    },
    /// Measured points.
    Points(Vec<Point>),
    /// A dashed hairline upwards at an x, and what it means.
    Upright(f64, String),
    /// A dashed hairline across at a y, and what it means.
    Level(f64, String),
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// The curve the plot is about.
    Curve,
    /// A thinner one beside it.
    Thin,
    /// What is aimed at.
    Dashed,
}

/// One point.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Where.
    pub at: (f64, f64),
    /// How far its whiskers reach up and down; none has none.
    pub plus_minus: Option<f64>,
    /// How it looks.
    pub look: Look,
    /// What it says when it is pointed at.
    pub words: String,
}

/// How a point looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Look {
    /// A small open circle: measured.
    Open,
    /// A filled one: the maker's own.
    Filled,
    /// An open one that is seen as far as it still counts, from 0 to 1.
    Fading(f64),
    /// Crossed: left out.
    Crossed,
}

/// How wide it is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlotWidth {
    /// For a telephone.
    Phone,
    /// For a page or a sheet of paper.
    Page,
}

/// A plot.
#[derive(Clone, Debug, PartialEq)]
pub struct Plot {
    /// Its title, for those who do not see it.
    pub title: String,
    /// All of it in words.
    pub description: String,
    /// The axis to the right.
    pub x: Axis,
    /// The axis upwards.
    pub y: Axis,
    /// What is drawn.
    pub layers: Vec<Layer>,
}

const TEXT: f64 = 14.0;
const LINE: f64 = 17.0;
/// More points than this are drawn smaller: side by side they would be a ribbon.
pub(crate) const CROWDED: usize = 48;

/// The rectangle between the axes, and the way from values to places.
struct Frame {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
    x: (f64, f64),
    y: (f64, f64),
}

/// A word's own rectangle: left, top, right, bottom.
type Rect = [f64; 4];

impl Frame {
    fn place(&self, at: (f64, f64)) -> Option<(f64, f64)> {
        let (x0, x1) = self.x;
        let (y0, y1) = self.y;
        let x = self.left + (at.0 - x0) / (x1 - x0) * (self.right - self.left);
        let y = self.bottom - (at.1 - y0) / (y1 - y0) * (self.bottom - self.top);
        (x.is_finite() && y.is_finite()).then_some((x, y))
    }

    fn holds(&self, at: (f64, f64)) -> bool {
        let (slack_x, slack_y) = (1e-6, 1e-6);
        (self.left - slack_x..=self.right + slack_x).contains(&at.0)
            && (self.top - slack_y..=self.bottom + slack_y).contains(&at.1)
    }

    /// The part of a stretch that lies inside (Liang and Barsky 1984, from memory).
    fn cut(&self, from: (f64, f64), to: (f64, f64)) -> Option<((f64, f64), (f64, f64))> {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        let sides = [
            (-dx, from.0 - self.left),
            (dx, self.right - from.0),
            (-dy, from.1 - self.top),
            (dy, self.bottom - from.1),
        ];
        for (along, room) in sides {
            if along == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if along < 0.0 {
                enters = enters.max(room / along);
            } else {
                leaves = leaves.min(room / along);
            }
        }
        let at = |part: f64| (from.0 + part * dx, from.1 + part * dy);
        (enters <= leaves).then(|| (at(enters), at(leaves)))
    }
}

/// A range that is one: never empty, never anything but numbers.
fn reach(axis: &Axis) -> (f64, f64) {
    match (axis.from.is_finite(), axis.to.is_finite()) {
        (true, true) if axis.from != axis.to => (axis.from, axis.to),
        (true, _) => (axis.from, axis.from + 1.0),
        (false, true) => (axis.to - 1.0, axis.to),
        (false, false) => (0.0, 1.0),
    }
}

/// Round values over a range, `most` of them at most, and how many decimals tell them apart.
fn round_ticks((from, to): (f64, f64), most: f64) -> (Vec<f64>, usize) {
    let (low, high) = (from.min(to), from.max(to));
    let least = (high - low) / most.max(1.0);
    let power = least.log10().floor();
    let unit = 10f64.powf(power);
    let factor = [1.0, 2.0, 5.0, 10.0].into_iter().find(|own| own * unit >= least * (1.0 - 1e-9)).unwrap_or(10.0);
    let step = factor * unit;
    let decimals = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
    let first = (low / step - 1e-9).ceil();
    let last = (high / step + 1e-9).floor();
    let count = (last - first).clamp(0.0, 60.0) as usize;
    ((0..=count).map(|own| (first + own as f64) * step).collect(), decimals)
}

fn tick_words(value: f64, decimals: usize) -> String {
    let shown = format!("{:.decimals$}", value.abs());
    let nothing = shown.chars().all(|own| matches!(own, '0' | '.'));
    if value < 0.0 && !nothing { format!("−{shown}") } else { shown }
}

/// How wide a text is set, nearly: the faces are narrow.
fn text_width(text: &str) -> f64 {
    text.chars().count() as f64 * TEXT * 0.48
}

impl Plot {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, width: PlotWidth, theme: Theme) -> String {
        let (wide, high) = match width {
            PlotWidth::Phone => (356.0, 320.0),
            PlotWidth::Page => (640.0, 400.0),
        };
        let (x, y) = (reach(&self.x), reach(&self.y));
        let x_ticks = ticks(&self.x, x, wide / 66.0);
        let y_ticks = ticks(&self.y, y, high / 62.0);
        let widest = y_ticks.iter().map(|own| text_width(&own.1)).fold(0.0, f64::max);
        let frame = Frame { left: widest + 14.0, right: wide - 14.0, top: 34.0, bottom: high - 48.0, x, y };
        let mut drawing = Drawing::new(theme, wide, high, &self.title, &self.description);
        for layer in &self.layers {
            if let Layer::Band(over) = layer {
                band(&mut drawing, &frame, over);
            }
        }
        self.axes(&mut drawing, &frame, wide, &x_ticks, &y_ticks);
        // What words should not cover, and the words themselves.
        let mut taken: Vec<(f64, f64)> = Vec::new();
        let mut words: Vec<(&str, Vec<Rect>)> = Vec::new();
        for layer in &self.layers {
            match layer {
                Layer::Band(_) => {}
                Layer::Line { through, stroke, words: named } => {
                    let places: Vec<_> = through.iter().filter_map(|own| frame.place(*own)).collect();
                    let drawn = line(&mut drawing, &frame, &places, *stroke);
                    if let (Some(named), Some(end)) = (named, drawn.last()) {
                        words.push((named, beside(*end, named)));
                    }
                    taken.extend(along(&drawn));
                }
                Layer::Points(points) => {
                    let size = if points.len() > CROWDED { 0.6 } else { 1.0 };
                    for own in points {
                        taken.extend(point(&mut drawing, &frame, own, size));
                    }
                }
                Layer::Upright(at, own) => {
                    let Some((place, _)) = frame.place((*at, y.0)).filter(|own| frame.holds(*own)) else { continue };
                    drawing.dashed(Ink::Soft, 1.0, (place, frame.top), (place, frame.bottom));
                    taken.extend(along(&[(place, frame.top), (place, frame.bottom)]));
                    words.push((own, along_upright(place, &frame, own)));
                }
                Layer::Level(at, own) => {
                    let Some((_, place)) = frame.place((x.0, *at)).filter(|own| frame.holds(*own)) else { continue };
                    drawing.dashed(Ink::Soft, 1.0, (frame.left, place), (frame.right, place));
                    taken.extend(along(&[(frame.left, place), (frame.right, place)]));
                    words.push((own, along_level(place, &frame, own)));
                }
            }
        }
        let mut boxes: Vec<Rect> = Vec::new();
        for (own, places) in words {
            let inside = places.into_iter().map(|own| moved_inside(own, wide, &frame));
            let best = inside.min_by(|a, b| cost(a, &boxes, &taken).total_cmp(&cost(b, &boxes, &taken)));
            if let Some([left, top, right, bottom]) = best {
                drawing.halo(Ink::Main, TEXT, (left, bottom - 4.0), own);
                boxes.push([left, top, right, bottom]);
            }
        }
        drawing.finish()
    }

    fn axes(&self, drawing: &mut Drawing, frame: &Frame, wide: f64, x: &[(f64, String)], y: &[(f64, String)]) {
        let Frame { left, right, top, bottom, .. } = *frame;
        drawing.line(Ink::Soft, 1.0, (left, bottom), (right, bottom));
        drawing.line(Ink::Soft, 1.0, (left, top), (left, bottom));
        let mut free_from = f64::NEG_INFINITY;
        let mut marks: Vec<_> =
            x.iter().filter_map(|own| Some((frame.place((own.0, frame.y.0))?.0, own.1.as_str()))).collect();
        marks.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (place, words) in marks {
            let half = text_width(words) / 2.0;
            if !frame.holds((place, bottom)) {
                continue;
            }
            drawing.line(Ink::Soft, 1.0, (place, bottom), (place, bottom + 5.0));
            let middle = place.clamp(half + 1.0, wide - half - 1.0);
            // A mark whose word has no room stands without it.
            if middle - half > free_from {
                drawing.text(Ink::Main, TEXT, Anchor::Middle, (middle, bottom + 19.0), words);
                free_from = middle + half + 4.0;
            }
        }
        for (value, words) in y {
            let Some((_, place)) = frame.place((frame.x.0, *value)).filter(|own| frame.holds(*own)) else { continue };
            drawing.line(Ink::Soft, 1.0, (left - 5.0, place), (left, place));
            drawing.text(Ink::Main, TEXT, Anchor::End, (left - 8.0, place + 5.0), words);
        }
        drawing.text(Ink::Soft, TEXT, Anchor::End, (right, bottom + 41.0), &self.x.label);
        drawing.text(Ink::Soft, TEXT, Anchor::Start, (1.0, 15.0), &self.y.label);
    }
}

fn ticks(axis: &Axis, range: (f64, f64), most: f64) -> Vec<(f64, String)> {
    match &axis.ticks {
        Ticks::At(own) => own.clone(),
        Ticks::Round => {
            let (values, decimals) = round_ticks(range, most);
            values.into_iter().map(|own| (own, tick_words(own, decimals))).collect()
        }
    }
}

fn band(drawing: &mut Drawing, frame: &Frame, over: &[(f64, f64, f64)]) {
    let inside = |at: (f64, f64)| {
        let (x, y) = frame.place(at)?;
        Some((x.clamp(frame.left, frame.right), y.clamp(frame.top, frame.bottom)))
    };
    let above = over.iter().filter_map(|own| inside((own.0, own.2)));
    let below = over.iter().rev().filter_map(|own| inside((own.0, own.1)));
    let corners: Vec<_> = above.chain(below).collect();
    drawing.area(Ink::Band, &corners);
}

/// Draws what is inside, and gives where it went.
fn line(drawing: &mut Drawing, frame: &Frame, places: &[(f64, f64)], stroke: Stroke) -> Vec<(f64, f64)> {
    let mut stretches: Vec<Vec<(f64, f64)>> = Vec::new();
    for (from, to) in places.iter().zip(places.iter().skip(1)) {
        let Some((from, to)) = frame.cut(*from, *to) else { continue };
        match stretches.last_mut().filter(|own| own.last() == Some(&from)) {
            Some(own) => own.push(to),
            None => stretches.push(vec![from, to]),
        }
    }
    for own in &stretches {
        match stroke {
            Stroke::Curve => drawing.polyline(Ink::Light, 2.5, None, own),
            Stroke::Thin => drawing.polyline(Ink::Main, 1.2, None, own),
            Stroke::Dashed => drawing.polyline(Ink::Soft, 1.2, Some("6 5"), own),
        }
    }
    stretches.into_iter().flatten().collect()
}

fn point(drawing: &mut Drawing, frame: &Frame, own: &Point, size: f64) -> Option<(f64, f64)> {
    let at = frame.place(own.at).filter(|place| frame.holds(*place))?;
    let seen = if let Look::Fading(seen) = own.look { seen.clamp(0.15, 1.0) } else { 1.0 };
    drawing.open_group(seen, &own.words);
    if let Some(off) = own.plus_minus {
        let ends = [own.at.1 - off, own.at.1 + off].map(|y| frame.place((own.at.0, y)));
        if let [Some(low), Some(high)] = ends {
            let within = |y: f64| y.clamp(frame.top, frame.bottom);
            drawing.line(Ink::Main, 1.2, (at.0, within(low.1)), (at.0, within(high.1)));
        }
    }
    match own.look {
        Look::Open | Look::Fading(_) => drawing.dot(Ink::Sheet, Ink::Main, at, 4.0 * size),
        Look::Filled => drawing.dot(Ink::Main, Ink::Main, at, 4.5 * size),
        Look::Crossed => {
            for (x, y) in [(4.0, 4.0), (4.0, -4.0)] {
                drawing.line(Ink::Main, 1.6, (at.0 - x, at.1 - y), (at.0 + x, at.1 + y));
            }
        }
    }
    drawing.close_group();
    Some(at)
}

/// A line as points so close that no word lies between two of them.
fn along(corners: &[(f64, f64)]) -> Vec<(f64, f64)> {
    const APART: f64 = 6.0;
    let stretch = |((x, y), (to_x, to_y)): (&(f64, f64), &(f64, f64))| {
        let steps = ((to_x - x).hypot(to_y - y) / APART).ceil().clamp(1.0, 200.0) as usize;
        let at = move |step: usize| step as f64 / steps as f64;
        let (x, y, across, up) = (*x, *y, to_x - x, to_y - y);
        (0..=steps).map(move |step| (x + across * at(step), y + up * at(step)))
    };
    corners.iter().zip(corners.iter().skip(1)).flat_map(stretch).collect()
}

/// Places for a word at the end of a line, the best first.
fn beside(end: (f64, f64), words: &str) -> Vec<Rect> {
    let wide = text_width(words);
    let tops = [-LINE - 5.0, 5.0, -2.0 * LINE - 5.0, LINE + 5.0, -3.0 * LINE - 5.0, 2.0 * LINE + 5.0];
    let row = |top: f64| {
        [8.0, -wide - 8.0, -wide / 2.0].map(|left| {
            let (left, top) = (end.0 + left, end.1 + top);
            [left, top, left + wide, top + LINE]
        })
    };
    tops.into_iter().flat_map(row).collect()
}

/// Places beside an upright line, from the top down.
fn along_upright(x: f64, frame: &Frame, words: &str) -> Vec<Rect> {
    let wide = text_width(words);
    let rows = ((frame.bottom - frame.top) / LINE).clamp(1.0, 40.0) as usize;
    let row = |row: usize| {
        let top = frame.top + 2.0 + row as f64 * LINE;
        [x + 5.0, x - wide - 5.0].map(|left| [left, top, left + wide, top + LINE])
    };
    (0..rows).flat_map(row).collect()
}

/// Places above and below a level line, from the right to the left.
fn along_level(y: f64, frame: &Frame, words: &str) -> Vec<Rect> {
    let wide = text_width(words);
    let (least, most) = (frame.left + 6.0, (frame.right - wide - 4.0).max(frame.left + 6.0));
    let column = |step: usize| {
        let left = most - (most - least) * step as f64 / 6.0;
        // Further off where points lie close beside the line.
        [y - LINE - 3.0, y + 4.0, y - 2.0 * LINE - 3.0, y + LINE + 4.0].map(|top| [left, top, left + wide, top + LINE])
    };
    (0..=6).flat_map(column).collect()
}

fn moved_inside([left, top, right, bottom]: Rect, wide: f64, frame: &Frame) -> Rect {
    let across = (wide - 2.0 - right).min(0.0).max(frame.left + 4.0 - left);
    let up = (frame.bottom - 2.0 - bottom).min(0.0).max(frame.top - top);
    [left + across, top + up, right + across, bottom + up]
}

/// How much a place covers: other words most, then lines and points; the earlier of two that are alike is taken.
fn cost(own: &Rect, boxes: &[Rect], taken: &[(f64, f64)]) -> f64 {
    let [left, top, right, bottom] = *own;
    let apart = |other: &&Rect| {
        let [l, t, r, b] = **other;
        left < r && l < right && top < b && t < bottom
    };
    let covers =
        |at: &&(f64, f64)| (left - 4.0..=right + 4.0).contains(&at.0) && (top - 2.0..=bottom + 2.0).contains(&at.1);
    boxes.iter().filter(apart).count() as f64 * 100.0 + taken.iter().filter(covers).count() as f64
}

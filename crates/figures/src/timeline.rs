//! The day as lines of time: one row for each print, hours on top, every kind of step with its own stroke, so that
//! it can be read in one colour.

use std::fmt::Write as _;

use handcoat_craft::measure::Span;
use handcoat_craft::session::{Step, TimeOfDay};

use crate::svg::{Anchor, Drawing, Ink, Theme};

/// One step on its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimelineBar {
    /// Which step.
    pub step: Step,
    /// From, after the beginning of the session.
    pub begins: Span,
    /// Until.
    pub ends: Span,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimelineRow {
    /// Whose.
    pub name: String,
    /// What happens on it, in order.
    pub bars: Vec<TimelineBar>,
}

/// How wide it is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TimelineWidth {
    /// For a telephone: names stand above their rows.
    Phone,
    /// For a page or a sheet of paper: names stand to the left.
    Page,
}

/// How a kind of step is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stroke {
    Hand,
    Air,
    Light,
    Bath,
}

const KEY: [(Stroke, &str); 4] = [
    (Stroke::Hand, "by hand"),
    (Stroke::Air, "dries by itself"),
    (Stroke::Light, "under the lamp"),
    (Stroke::Bath, "in a bath"),
];
/// Minutes between two marks of the axis, the closest first.
const MARKS: [u64; 12] = [5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440, 2880];
/// No more than this of a name is shown; the table beside it has the whole.
const NAME_LETTERS: usize = 18;
const BAR: f64 = 11.0;
const HEAD: f64 = 24.0;

struct Measures {
    width: f64,
    left: f64,
    right: f64,
    row: f64,
    /// From the top of a row to the middle of its bars.
    middle: f64,
    text: f64,
    between_marks: f64,
    key_columns: usize,
}

impl TimelineWidth {
    fn measures(self) -> Measures {
        match self {
            Self::Phone => Measures {
                width: 360.0,
                left: 4.0,
                right: 10.0,
                row: 54.0,
                middle: 42.0,
                text: 13.0,
                between_marks: 46.0,
                key_columns: 2,
            },
            Self::Page => Measures {
                width: 640.0,
                left: 112.0,
                right: 14.0,
                row: 36.0,
                middle: 25.0,
                text: 12.0,
                between_marks: 48.0,
                key_columns: 4,
            },
        }
    }
}

fn stroke(step: Step) -> Stroke {
    match step {
        Step::Coat(_) | Step::Load => Stroke::Hand,
        Step::Dry(_) | Step::Humidify | Step::Hang => Stroke::Air,
        Step::Expose => Stroke::Light,
        Step::Develop | Step::Rinse | Step::Clear(_) | Step::Wash => Stroke::Bath,
    }
}

fn minutes(span: Span) -> f64 {
    span.to_seconds() / 60.0
}

/// How wide a text is set, nearly: the faces are narrow.
fn text_width(text: &str, size: f64) -> f64 {
    text.chars().count() as f64 * size * 0.47
}

fn shown_name(name: &str) -> String {
    if name.chars().count() <= NAME_LETTERS {
        return name.into();
    }
    name.chars().take(NAME_LETTERS - 1).chain(['…']).collect()
}

/// Draws the rows. The times on top are those of a clock that stands at `begins` when the session begins.
#[must_use]
pub fn timeline(rows: &[TimelineRow], begins: TimeOfDay, width: TimelineWidth, theme: Theme) -> String {
    let own = width.measures();
    let end = rows.iter().flat_map(|row| &row.bars).map(|bar| bar.ends).max().unwrap_or(Span::ZERO);
    let plot = own.width - own.left - own.right;
    let per_minute = plot / minutes(end).max(1.0);
    let x = |span: Span| own.left + minutes(span) * per_minute;
    let key_rows = KEY.len().div_ceil(own.key_columns);
    let bottom = HEAD + own.row * rows.len() as f64;
    let height = bottom + 14.0 + 20.0 * key_rows as f64;
    let title = format!("The session from {} to {}", begins.after(Span::ZERO), begins.after(end));
    let mut drawing = Drawing::new(theme, own.width, height, &title, &described(rows, begins));
    axis(&mut drawing, &own, begins, end, rows.len(), x);
    for (place, row) in rows.iter().enumerate() {
        let top = HEAD + own.row * place as f64;
        let middle = top + own.middle;
        drawing.line(Ink::Line, 0.5, (0.0, top), (own.width, top));
        let name = shown_name(&row.name);
        match width {
            TimelineWidth::Phone => {
                drawing.text(Ink::Main, own.text + 1.0, Anchor::Start, (own.left, top + 16.0), &name)
            }
            TimelineWidth::Page => drawing.text(Ink::Main, own.text + 1.0, Anchor::Start, (0.0, middle + 4.0), &name),
        }
        let mut free_from = own.left;
        for bar in &row.bars {
            let (from, to) = (x(bar.begins), x(bar.ends));
            draw(&mut drawing, stroke(bar.step), from, to, middle);
            let word = bar.step.to_string();
            let wide = text_width(&word, own.text - 2.0);
            // A word stands over its own bar, or where nothing else is said.
            if wide <= to - from + 3.0 && from + 1.0 >= free_from {
                drawing.text(Ink::Soft, own.text - 2.0, Anchor::Start, (from, middle - BAR / 2.0 - 4.0), &word);
                free_from = from + wide;
            }
        }
    }
    drawing.line(Ink::Line, 0.5, (0.0, bottom), (own.width, bottom));
    for (place, (kind, words)) in KEY.iter().enumerate() {
        let column = (own.width - 8.0) / own.key_columns as f64;
        let left = 4.0 + column * (place % own.key_columns) as f64;
        let middle = bottom + 20.0 + 20.0 * (place / own.key_columns) as f64;
        draw(&mut drawing, *kind, left, left + 24.0, middle);
        drawing.text(Ink::Soft, own.text, Anchor::Start, (left + 31.0, middle + 4.0), words);
    }
    drawing.finish()
}

fn axis(drawing: &mut Drawing, own: &Measures, begins: TimeOfDay, end: Span, rows: usize, x: impl Fn(Span) -> f64) {
    let room = x(end) - own.left;
    let marks = |step: &u64| minutes(end) / *step as f64 * own.between_marks <= room;
    let step = MARKS.iter().copied().find(marks).unwrap_or(1440 * 7);
    let Ok(step) = Span::milliseconds(step * 60_000) else { return };
    let mut at = begins.to_next(step);
    while at <= end {
        drawing.line(Ink::Line, 0.5, (x(at), HEAD - 5.0), (x(at), HEAD));
        // Beside the bars only: no line goes through a word.
        for row in 0..rows {
            let top = HEAD + own.row * row as f64;
            drawing.line(Ink::Line, 0.5, (x(at), top + own.middle - BAR / 2.0 - 1.5), (x(at), top + own.row));
        }
        // The first hour of the day may stand at the very left, the last at the very right.
        let anchor = if x(at) < own.left + 12.0 {
            Anchor::Start
        } else if x(at) > own.width - 16.0 {
            Anchor::End
        } else {
            Anchor::Middle
        };
        let time = begins.after(at);
        let time = time.split(' ').next().unwrap_or_default();
        drawing.text(Ink::Main, own.text, anchor, (x(at), HEAD - 9.0), time);
        let Ok(next) = Span::milliseconds(at.to_milliseconds() + step.to_milliseconds()) else { return };
        at = next;
    }
}

fn draw(drawing: &mut Drawing, kind: Stroke, from: f64, to: f64, middle: f64) {
    let (top, low) = (middle - BAR / 2.0, middle + BAR / 2.0);
    // Bars that follow each other stay apart.
    let to = (to - 1.2).max(from + 0.6);
    match kind {
        Stroke::Hand => drawing.rect(Ink::Metal, (from, top), (to - from, BAR)),
        Stroke::Air => {
            drawing.line(Ink::Main, 1.2, (from, middle), (to, middle));
            drawing.line(Ink::Main, 1.2, (to, middle - 3.0), (to, middle + 3.0));
        }
        Stroke::Light => {
            for y in [top + 1.5, low - 1.5] {
                drawing.line(Ink::Light, 3.0, (from, y), (to, y));
            }
        }
        Stroke::Bath => {
            drawing.rect(Ink::Band, (from, top), (to - from, BAR));
            for (one, other) in
                [((from, top), (to, top)), ((from, low), (to, low)), ((from, top), (from, low)), ((to, top), (to, low))]
            {
                drawing.line(Ink::Main, 0.8, one, other);
            }
        }
    }
}

/// All of it in words.
fn described(rows: &[TimelineRow], begins: TimeOfDay) -> String {
    let mut out = String::new();
    for row in rows {
        let bars: Vec<String> = row
            .bars
            .iter()
            .map(|bar| format!("{} {} to {}", bar.step, begins.after(bar.begins), begins.after(bar.ends)))
            .collect();
        let _ = write!(out, "{}: {}. ", row.name, bars.join(", "));
    }
    out.trim_end().into()
}

//! Sheets of labels: where on the page each label lies.
//!
//! The sizes are common ones, described here by their measures alone (common practice, no source). Whoever has other
//! sheets measures them and fills in a [`LabelStock`].

use std::borrow::Cow;

use crate::SheetError;
use crate::length::Millimetres;

/// A page of labels, all of one size, in columns and rows.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelStock {
    /// What to call it.
    pub name: Cow<'static, str>,
    /// Width of the page.
    pub page_width: Millimetres,
    /// Height of the page.
    pub page_height: Millimetres,
    /// Width of one label.
    pub label_width: Millimetres,
    /// Height of one label.
    pub label_height: Millimetres,
    /// Labels side by side.
    pub columns: u16,
    /// Labels one below the other.
    pub rows: u16,
    /// From the page's left edge to the first label.
    pub left: Millimetres,
    /// From the page's top edge to the first label.
    pub top: Millimetres,
    /// From the left edge of one label to that of the next.
    pub column_pitch: Millimetres,
    /// From the top edge of one label to that of the next.
    pub row_pitch: Millimetres,
}

const A4: (f64, f64) = (210.0, 297.0);
const LETTER: (f64, f64) = (215.9, 279.4);

const fn stock(
    name: &'static str,
    page: (f64, f64),
    label: (f64, f64),
    (columns, rows): (u16, u16),
    first: (f64, f64),
    pitch: (f64, f64),
) -> LabelStock {
    LabelStock {
        name: Cow::Borrowed(name),
        page_width: Millimetres::new(page.0),
        page_height: Millimetres::new(page.1),
        label_width: Millimetres::new(label.0),
        label_height: Millimetres::new(label.1),
        columns,
        rows,
        left: Millimetres::new(first.0),
        top: Millimetres::new(first.1),
        column_pitch: Millimetres::new(pitch.0),
        row_pitch: Millimetres::new(pitch.1),
    }
}

/// Usual sheets, and a roll of single labels.
pub const LABEL_STOCKS: &[LabelStock] = &[
    stock("A4, 2 × 4 of 99 × 67 mm", A4, (99.0, 67.0), (2, 4), (4.5, 14.5), (102.0, 67.0)),
    stock("A4, 3 × 7 of 63.5 × 38.1 mm", A4, (63.5, 38.1), (3, 7), (7.25, 15.15), (66.0, 38.1)),
    stock("A4, 3 × 8 of 70 × 37 mm", A4, (70.0, 37.0), (3, 8), (0.0, 0.5), (70.0, 37.0)),
    stock("Letter, 2 × 5 of 101.6 × 50.8 mm", LETTER, (101.6, 50.8), (2, 5), (4.0, 12.7), (106.3, 50.8)),
    stock("roll of 62 × 100 mm", (62.0, 100.0), (62.0, 100.0), (1, 1), (0.0, 0.0), (62.0, 100.0)),
];

/// White left inside a label's edge: the die of a sheet wanders by about a millimetre.
const INSIDE_MM: f64 = 2.5;
/// What most desk printers leave white along the page's edge (common practice, no source).
const UNPRINTED_MM: f64 = 5.0;
/// More on a page could hold no word.
const MOST_LABELS: usize = 1000;
/// Rounding of measures.
const SLACK_MM: f64 = 0.05;

/// A rectangle on the page, in millimetres from its top left corner.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub(crate) struct Room {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

impl LabelStock {
    /// Labels on one page.
    #[must_use]
    pub fn positions(&self) -> usize {
        usize::from(self.columns) * usize::from(self.rows)
    }

    /// Whether the labels lie on the page and not on each other.
    ///
    /// # Errors
    /// [`SheetError::Stock`] with what does not fit.
    pub fn check(&self) -> Result<(), SheetError> {
        let wrong = |what: &str| Err(SheetError::Stock { name: self.name.to_string(), what: what.into() });
        let measures =
            [self.page_width, self.page_height, self.label_width, self.label_height, self.column_pitch, self.row_pitch];
        let sound = |mm: &f64| mm.is_finite() && (0.0..=2000.0).contains(mm);
        if !measures.iter().map(|length| length.to_mm()).all(|mm| sound(&mm) && mm >= 1.0)
            || ![self.left.to_mm(), self.top.to_mm()].iter().all(sound)
        {
            return wrong("a measure is under 1 mm, over 2000 mm or no number");
        }
        if self.positions() == 0 {
            return wrong("it has no columns or no rows");
        }
        if self.positions() > MOST_LABELS {
            return wrong("it has over a thousand labels on a page");
        }
        if (self.columns > 1 && self.column_pitch.to_mm() + SLACK_MM < self.label_width.to_mm())
            || (self.rows > 1 && self.row_pitch.to_mm() + SLACK_MM < self.label_height.to_mm())
        {
            return wrong("the pitch is smaller than the label, so labels would lie on each other");
        }
        let last = self.place(self.positions());
        if last.left + last.width > self.page_width.to_mm() + SLACK_MM
            || last.top + last.height > self.page_height.to_mm() + SLACK_MM
        {
            return wrong("the last label runs over the edge of the page");
        }
        Ok(())
    }

    /// Where the label of a position lies; positions are counted row by row from 1.
    pub(crate) fn place(&self, position: usize) -> Room {
        let columns = usize::from(self.columns);
        let (row, column) = ((position - 1) / columns, (position - 1) % columns);
        Room {
            left: self.left.to_mm() + self.column_pitch.to_mm() * column as f64,
            top: self.top.to_mm() + self.row_pitch.to_mm() * row as f64,
            width: self.label_width.to_mm(),
            height: self.label_height.to_mm(),
        }
    }

    /// The part of that label which is printed on: not at its edge, nor where the page's edge stays white. A roll is
    /// printed to the edge.
    pub(crate) fn printable(&self, position: usize) -> Room {
        let room = self.place(position);
        let unprinted = if self.positions() == 1 { 0.0 } else { UNPRINTED_MM };
        let inside = |from_edge: f64| INSIDE_MM.max(unprinted - from_edge);
        let (left, top) = (inside(room.left), inside(room.top));
        let right = inside(self.page_width.to_mm() - room.left - room.width);
        let bottom = inside(self.page_height.to_mm() - room.top - room.height);
        Room {
            left: room.left + left,
            top: room.top + top,
            width: (room.width - left - right).max(0.0),
            height: (room.height - top - bottom).max(0.0),
        }
    }
}

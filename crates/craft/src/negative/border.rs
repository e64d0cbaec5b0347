//! What stands around the picture on the film: a wedge of the same tones through the same curve, ticks at the corners, a rule to measure, a
//! line of words, a code of squares. All in pixels of the sheet before it is mirrored.

use alloc::vec::Vec;

use super::{PixelSize, pixels_of};
use crate::source::{
    BORDER_GAP_MM, BORDER_MM, CODE_GAP_MM, CODE_SQUARE_MM, CODE_SQUARES, LINE_ENOUGH_MM, LINE_LEAST_MM, LINE_MM,
    MM_PER_INCH, RULE_MM, TICK_MM, WEDGE_LEAST_MM, WEDGE_STEP_MM, WEDGE_STEPS,
};

/// A rectangle on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rect {
    /// The first column.
    pub left: u32,
    /// The first row.
    pub top: u32,
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
}

impl Rect {
    /// Whether all of it lies within that size, and it has a pixel.
    #[must_use]
    pub fn within(self, sheet: PixelSize) -> bool {
        let ends = |from: u32, size: u32, most: u32| size > 0 && from.checked_add(size).is_some_and(|end| end <= most);
        ends(self.left, self.width, sheet.width) && ends(self.top, self.height, sheet.height)
    }

    /// Whether two of them share a pixel.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        let apart =
            |a: u32, a_size: u32, b: u32, b_size: u32| a.saturating_add(a_size) <= b || b.saturating_add(b_size) <= a;
        !apart(self.left, self.width, other.left, other.width) && !apart(self.top, self.height, other.top, other.height)
    }
}

/// What a rectangle is filled with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mark {
    /// A wanted tone from 0 to 1, which goes through the curve like the picture.
    Tone(f64),
    /// All the ink there is.
    Ink,
}

/// Where a line of words has room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// Where.
    pub place: Rect,
    /// Whether it runs from the foot of the sheet upwards, along the left side.
    pub upwards: bool,
}

/// The sheet with the picture in its border.
#[derive(Clone, Debug, PartialEq)]
pub struct Border {
    /// The whole sheet.
    pub sheet: PixelSize,
    /// Where the picture lies.
    pub picture: Rect,
    /// What is drawn, none over another nor over the picture.
    pub marks: Vec<(Rect, Mark)>,
    /// Where the code of squares goes, where there is room.
    pub code: Option<Rect>,
    /// Where a line of words goes, where there is room.
    pub line: Option<Line>,
    /// Columns from the first edge of the rule to the last, where there is a rule.
    pub rule: Option<u32>,
}

impl Border {
    /// The border of a picture. None beyond what a sheet can have.
    #[must_use]
    pub fn around(picture: PixelSize, ppi: f64) -> Option<Self> {
        let px = |millimetres: f64| pixels_of(millimetres, ppi).max(1);
        let (border, gap) = (px(BORDER_MM.value), px(BORDER_GAP_MM.value));
        let wide = |own: u32| own.checked_add(border)?.checked_add(border);
        let sheet = PixelSize { width: wide(picture.width)?, height: wide(picture.height)? };
        let (right, below) = (border + picture.width, border + picture.height);
        let picture = Rect { left: border, top: border, width: picture.width, height: picture.height };
        let mut own = Self { sheet, picture, marks: Vec::new(), code: None, line: None, rule: None };

        // The code at the right end of the lower border, when as much is left for the wedge.
        // Its squares are whole pixels; of resolutions that are much used each has 1/60 of an inch.
        let square = ((CODE_SQUARE_MM.value / MM_PER_INCH.value * ppi) as u32).max(1);
        let side = CODE_SQUARES.value * square;
        let steps = WEDGE_STEPS.value as u32;
        let with_code =
            picture.width.checked_sub(side + 3 * gap).filter(|left| *left >= steps * px(WEDGE_LEAST_MM.value));
        let room = with_code.unwrap_or(picture.width.saturating_sub(2 * gap));
        if with_code.is_some() {
            own.code =
                Some(Rect { left: right - side - gap, top: below + px(CODE_GAP_MM.value), width: side, height: side });
        }
        let step = (room / steps).min(px(WEDGE_STEP_MM.value));
        if step >= px(WEDGE_LEAST_MM.value) {
            for number in 0..steps {
                let place = Rect {
                    left: border + gap + number * step,
                    top: below + gap,
                    width: step,
                    height: px(WEDGE_STEP_MM.value),
                };
                own.add(place, Mark::Tone(f64::from(number) / f64::from(steps - 1)));
            }
        }
        own.ticks(gap, px(TICK_MM.value.0), px(TICK_MM.value.1));
        own.rule(px(RULE_MM.value), px(TICK_MM.value.1), |millimetres| pixels_of(millimetres, ppi));
        own.line(gap, px);
        Some(own)
    }

    /// A line of words above the picture beside the rule, where it is long enough, or else along the left side.
    fn line(&mut self, gap: u32, px: impl Fn(f64) -> u32) {
        let Rect { left, top, width, height } = self.picture;
        let high = px(LINE_MM.value);
        let begin = self.rule.map_or(left + gap, |rule| left + 3 * gap + rule);
        let above = Rect {
            left: begin,
            top: top.saturating_sub(gap + high),
            width: (left + width).saturating_sub(begin + gap),
            height: high,
        };
        let beside = Rect {
            left: left.saturating_sub(gap + high),
            top: top + gap,
            width: high,
            height: height.saturating_sub(2 * gap),
        };
        let upwards = above.width < px(LINE_ENOUGH_MM.value) && beside.height > above.width;
        let place = if upwards { beside } else { above };
        let free =
            place.within(self.sheet) && !self.picture.meets(place) && self.marks.iter().all(|own| !own.0.meets(place));
        if free && place.width.max(place.height) >= px(LINE_LEAST_MM.value) {
            self.line = Some(Line { place, upwards });
        }
    }

    /// Two ticks at each corner, on the lines of the edges and away from the picture.
    fn ticks(&mut self, gap: u32, length: u32, width: u32) {
        let Rect { left, top, width: across, height: down } = self.picture;
        let (right, below) = (left + across, top + down);
        // A tick lies outside the edge it marks: its inner side is the edge.
        for (column, row) in [(left - width, top - width), (right, below)] {
            for at in [left.saturating_sub(gap + length), right + gap] {
                self.add(Rect { left: at, top: row, width: length, height: width }, Mark::Ink);
            }
            for at in [top.saturating_sub(gap + length), below + gap] {
                self.add(Rect { left: column, top: at, width, height: length }, Mark::Ink);
            }
        }
    }

    /// A rule in the upper border, with a tick at each tenth; only where the picture is wider than it.
    fn rule(&mut self, length: u32, thin: u32, px: impl Fn(f64) -> u32) {
        const TENTHS: u32 = 10;
        let high = px(BORDER_GAP_MM.value).max(1);
        if length + 2 * high > self.picture.width {
            return;
        }
        let left = self.picture.left + high;
        let base = self.picture.top.saturating_sub(2 * high);
        self.add(Rect { left, top: base - thin, width: length, height: thin }, Mark::Ink);
        for tenth in 0..=TENTHS {
            let at = px(RULE_MM.value * f64::from(tenth) / f64::from(TENTHS));
            // The first and the last stand within the length, so that it is measured from outer side to outer side.
            let at = at.min(length - thin);
            let tall = if tenth % (TENTHS / 2) == 0 { 2 * high } else { high };
            let top = (base - thin).saturating_sub(tall);
            self.add(Rect { left: left + at, top, width: thin, height: tall }, Mark::Ink);
        }
        self.rule = Some(length);
    }

    /// What would lie beyond the sheet, or over something, is left out.
    fn add(&mut self, place: Rect, mark: Mark) {
        let free = !self.picture.meets(place)
            && self.code.is_none_or(|own| !own.meets(place))
            && self.marks.iter().all(|own| !own.0.meets(place));
        if place.within(self.sheet) && free {
            self.marks.push((place, mark));
        }
    }
}

//! What stands around the picture on the film: a wedge of the same tones through the same curve, ticks at the corners, a rule to measure, a
//! line of words, a code of squares. All in pixels of the sheet before it is mirrored.
//!
//! It is laid out for a border above and below; one to the left and to the right is that of the picture turned, turned back.

use alloc::vec::Vec;

use super::{PixelSize, pixels_of};
use crate::source::{
    BORDER_GAP_MM, BORDER_MM, CODE_GAP_MM, CODE_SQUARE_LEAST_MM, CODE_SQUARE_MM, CODE_SQUARES, LABEL_MM,
    LINE_ENOUGH_MM, LINE_LEAST_MM, LINE_MM, MM_PER_INCH, RULE_MM, RULE_SHORT_MM, TICK_MM, WEDGE_LEAST_MM,
    WEDGE_STEP_MM, WEDGE_STEPS,
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

/// On which sides of a picture its border stands. Of a square the sides above and below are the short ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// On all four.
    All,
    /// On the two short ones.
    Short,
    /// On the two long ones.
    Long,
    /// On one short one: below, or to the right.
    OneShort,
    /// On one long one.
    OneLong,
}

impl Sides {
    /// All of them, those with the most of a border first.
    pub const ALL: [Self; 5] = [Self::All, Self::Short, Self::Long, Self::OneShort, Self::OneLong];
}

/// How large the squares of the code are where they have room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CodeSize {
    /// As large as they are read at best; the border is so much wider there.
    Large,
    /// As large as the border is wide.
    Small,
}

/// The sheet with the picture in its border.
#[derive(Clone, Debug, PartialEq)]
pub struct Border {
    /// On which sides it stands.
    pub sides: Sides,
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
    /// The rule, where there is one.
    pub rule: Option<Rule>,
}

/// A rule to measure on the film.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Its length in millimetres, from the outer side of its first tick to that of its last.
    pub millimetres: f64,
    /// The same in pixels.
    pub pixels: u32,
    /// Where its length stands in figures.
    pub label: Line,
}

/// The layout of a border above and below, as it grows.
struct Layout<'a> {
    border: Border,
    px: &'a dyn Fn(f64) -> u32,
    /// Pixels of the border to the left and to the right, above, and below; none where it does not stand.
    beside: u32,
    above: u32,
    below: u32,
}

impl Border {
    /// The border of a picture on those sides. None beyond what a sheet can have.
    #[must_use]
    pub fn around(picture: PixelSize, ppi: f64, sides: Sides, squares: CodeSize) -> Option<Self> {
        let upright = picture.width <= picture.height;
        let turned = match sides {
            Sides::All => false,
            Sides::Short | Sides::OneShort => !upright,
            Sides::Long | Sides::OneLong => upright,
        };
        let own = if turned { PixelSize { width: picture.height, height: picture.width } } else { picture };
        let border = Self::above_and_below(own, ppi, sides, squares)?;
        Some(if turned { border.turned() } else { border })
    }

    fn above_and_below(picture: PixelSize, ppi: f64, sides: Sides, squares: CodeSize) -> Option<Self> {
        let px = |millimetres: f64| pixels_of(millimetres, ppi).max(1);
        let (border, gap) = (px(BORDER_MM.value), px(BORDER_GAP_MM.value));
        let one = matches!(sides, Sides::OneShort | Sides::OneLong);

        // The code at the right end of the lower border, when as much is left for the wedge. Its squares are whole pixels.
        let steps = WEDGE_STEPS.value as u32;
        let beside_code = |side: u32| {
            let left = picture.width.checked_sub(side + 3 * gap)?;
            (left >= steps * px(WEDGE_LEAST_MM.value)).then_some((side, left))
        };
        let side = |square: f64| CODE_SQUARES.value * ((square / MM_PER_INCH.value * ppi) as u32).max(1);
        let large = (squares == CodeSize::Large).then(|| side(CODE_SQUARE_MM.value));
        let code = [large, Some(side(CODE_SQUARE_LEAST_MM.value))].into_iter().flatten().find_map(beside_code);

        let beside = if sides == Sides::All { border } else { 0 };
        let above = if one { 0 } else { border };
        let below = border.max(code.map_or(0, |own| px(CODE_GAP_MM.value) + own.0));
        let sheet = PixelSize {
            width: picture.width.checked_add(beside)?.checked_add(beside)?,
            height: picture.height.checked_add(above)?.checked_add(below)?,
        };
        let picture = Rect { left: beside, top: above, width: picture.width, height: picture.height };
        let own = Self { sides, sheet, picture, marks: Vec::new(), code: None, line: None, rule: None };
        let mut layout = Layout { border: own, px: &px, beside, above, below };
        let (right, foot) = (beside + picture.width, above + picture.height);
        if let Some((side, _)) = code {
            let (left, top) = (right - side - gap, foot + px(CODE_GAP_MM.value));
            layout.border.code = Some(Rect { left, top, width: side, height: side });
        }
        let room = code.map_or(picture.width.saturating_sub(2 * gap), |own| own.1);
        let step = (room / steps).min(px(WEDGE_STEP_MM.value));
        if step >= px(WEDGE_LEAST_MM.value) {
            layout.wedge(Rect { left: beside + gap, top: foot + gap, width: step, height: px(WEDGE_STEP_MM.value) });
        }
        layout.ticks();
        layout.rule();
        layout.line();
        Some(layout.border)
    }

    /// The same a quarter turn against the clock: what was above is to the left, and its words run upwards.
    fn turned(self) -> Self {
        let width = self.sheet.width;
        let place =
            |own: Rect| Rect { left: own.top, top: width - own.left - own.width, width: own.height, height: own.width };
        let line = |own: Line| Line { place: place(own.place), upwards: true };
        Self {
            sides: self.sides,
            sheet: PixelSize { width: self.sheet.height, height: width },
            picture: place(self.picture),
            marks: self.marks.into_iter().map(|own| (place(own.0), own.1)).collect(),
            code: self.code.map(place),
            line: self.line.map(line),
            rule: self.rule.map(|own| Rule { label: line(own.label), ..own }),
        }
    }
}

impl Layout<'_> {
    fn px(&self, millimetres: f64) -> u32 {
        (self.px)(millimetres)
    }

    /// The wedge from its first step on. The steps at its ends have a fine outline: one of them is clear film, and without it nobody would see
    /// where it lies.
    fn wedge(&mut self, first: Rect) {
        let (thin, steps) = (self.px(TICK_MM.value.1), WEDGE_STEPS.value as u32);
        let Rect { left, top, width: step, height } = first;
        for number in 0..steps {
            let begin = left + number * step;
            let (from, to) = match number {
                1 => (begin + thin, begin + step),
                own if own + 2 == steps => (begin, begin + step - thin),
                _ => (begin, begin + step),
            };
            let place = Rect { left: from, top, width: to.saturating_sub(from), height };
            self.add(place, Mark::Tone(f64::from(number) / f64::from(steps - 1)));
        }
        for begin in [left, left + (steps - 1) * step] {
            let (Some(before), Some(over)) = (begin.checked_sub(thin), top.checked_sub(thin)) else { continue };
            for row in [over, top + height] {
                self.add(Rect { left: before, top: row, width: step + 2 * thin, height: thin }, Mark::Ink);
            }
            for column in [before, begin + step] {
                self.add(Rect { left: column, top, width: thin, height }, Mark::Ink);
            }
        }
    }

    /// Two ticks at each corner, on the lines of the edges and away from the picture.
    fn ticks(&mut self) {
        let (gap, length, width) = (self.px(BORDER_GAP_MM.value), self.px(TICK_MM.value.0), self.px(TICK_MM.value.1));
        let Rect { left, top, width: across, height: down } = self.border.picture;
        let (right, below) = (left + across, top + down);
        // A tick lies outside the edge it marks: its inner side is the edge. Where the sheet ends there, its outer side is.
        let columns =
            if self.beside > 0 { [left.saturating_sub(width), right] } else { [left, right.saturating_sub(width)] };
        if self.beside > 0 {
            for row in [top.checked_sub(width), Some(below)].into_iter().flatten() {
                for at in [left.checked_sub(gap + length), Some(right + gap)].into_iter().flatten() {
                    self.add(Rect { left: at, top: row, width: length, height: width }, Mark::Ink);
                }
            }
        }
        for column in columns {
            for at in [top.checked_sub(gap + length), Some(below + gap)].into_iter().flatten() {
                self.add(Rect { left: column, top: at, width, height: length }, Mark::Ink);
            }
        }
    }

    /// The row of the rule and of the words where there is no border above: under the wedge, beside the code. Its first column, the one
    /// behind its last, its first row, the one behind its last.
    fn row_below(&self) -> (u32, u32, u32, u32) {
        let gap = self.px(BORDER_GAP_MM.value);
        let Rect { left, top, width, height } = self.border.picture;
        let foot = top + height + self.px(BORDER_MM.value);
        let end = self.border.code.map_or((left + width).saturating_sub(gap), |own| own.left);
        // The outline of the wedge is between.
        let begin = top + height + gap + self.px(WEDGE_STEP_MM.value) + 2 * self.px(TICK_MM.value.1);
        (left + gap, end, begin, foot.min(top + height + self.below))
    }

    /// A rule with a tick at each tenth, the long one where it has room, or else the short one.
    fn rule(&mut self) {
        const TENTHS: u32 = 10;
        let (gap, thin) = (self.px(BORDER_GAP_MM.value), self.px(TICK_MM.value.1));
        let (begin, end, first, last) = self.row_below();
        let picture = self.border.picture;
        let (label_wide, label_high) = (self.px(LABEL_MM.value.0), self.px(LABEL_MM.value.1));
        // Its line, how tall its ticks are, and what its figures ask for behind it.
        let (base, low, tall, behind) = match self.above {
            0 => (last.saturating_sub(thin), gap, last.saturating_sub(first + thin), gap / 2 + label_wide),
            _ => (picture.top.saturating_sub(2 * gap + thin), gap, 2 * gap, 0),
        };
        let room = if self.above > 0 { picture.width.saturating_sub(2 * gap) } else { end.saturating_sub(begin) };
        let found = [RULE_MM.value, RULE_SHORT_MM.value].into_iter().find(|own| self.px(*own) + behind <= room);
        let Some(millimetres) = found.filter(|_| tall > 0) else { return };
        let length = self.px(millimetres);
        self.add(Rect { left: begin, top: base, width: length, height: thin }, Mark::Ink);
        for tenth in 0..=TENTHS {
            let at = (self.px)(millimetres * f64::from(tenth) / f64::from(TENTHS));
            // The first and the last stand within the length, so that it is measured from outer side to outer side.
            let at = if tenth == 0 { 0 } else { at.min(length - thin) };
            let tall = if tenth % (TENTHS / 2) == 0 { tall } else { low.min(tall) };
            self.add(Rect { left: begin + at, top: base.saturating_sub(tall), width: thin, height: tall }, Mark::Ink);
        }
        let (left, top) = if behind > 0 {
            (begin + length + gap / 2, last.saturating_sub(label_high))
        } else {
            // Above its first ticks.
            (begin, base.saturating_sub(tall + gap / 4 + label_high))
        };
        let place = Rect { left, top, width: label_wide, height: label_high };
        self.border.rule = Some(Rule { millimetres, pixels: length, label: Line { place, upwards: false } });
    }

    /// A line of words above the picture beside the rule, where it is long enough, or else along the left side; where there is no border above,
    /// below beside the rule.
    fn line(&mut self) {
        let (gap, high) = (self.px(BORDER_GAP_MM.value), self.px(LINE_MM.value));
        let Rect { left, top, width, height } = self.border.picture;
        let behind_rule = |begin: u32, own: &Rule| begin + own.pixels + 2 * gap;
        let (place, upwards) = if self.above == 0 {
            let (begin, end, _, last) = self.row_below();
            let begin = self.border.rule.map_or(begin, |own| own.label.place.left + own.label.place.width + gap);
            let place =
                Rect { left: begin, top: last.saturating_sub(high), width: end.saturating_sub(begin), height: high };
            (place, false)
        } else {
            let begin = self.border.rule.as_ref().map_or(left + gap, |own| behind_rule(left + gap, own));
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
            let upwards = self.beside > 0 && above.width < self.px(LINE_ENOUGH_MM.value) && beside.height > above.width;
            (if upwards { beside } else { above }, upwards)
        };
        let free = place.within(self.border.sheet) && self.is_free(place);
        if free && place.width.max(place.height) >= self.px(LINE_LEAST_MM.value) {
            self.border.line = Some(Line { place, upwards });
        }
    }

    fn is_free(&self, place: Rect) -> bool {
        let own = &self.border;
        !own.picture.meets(place)
            && own.code.is_none_or(|own| !own.meets(place))
            && own.rule.is_none_or(|own| !own.label.place.meets(place))
            && own.marks.iter().all(|own| !own.0.meets(place))
    }

    /// What would lie beyond the sheet, or over something, is left out.
    fn add(&mut self, place: Rect, mark: Mark) {
        if place.within(self.border.sheet) && self.is_free(place) {
            self.border.marks.push((place, mark));
        }
    }
}

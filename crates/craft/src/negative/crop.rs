//! What of a picture is shown: parts of its sides, or the largest piece of a proportion from its middle.

use super::{PixelSize, Rect};

/// What is shown of a picture as it stands upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Crop {
    /// Parts of its sides, 0 to 1: from the left, from the top, across, down.
    Parts(f64, f64, f64, f64),
    /// The largest piece from the middle whose sides have this proportion, across to down.
    Proportion(f64, f64),
}

/// That parts go beyond a side of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beyond {
    /// Whether it is the right side, or the foot.
    pub across: bool,
    /// Where it begins, from 0 to 1.
    pub from: f64,
    /// How much it takes.
    pub size: f64,
}

impl Crop {
    /// Which side it goes beyond, if any: what is more than the whole by no more than a rounding is the whole.
    #[must_use]
    pub fn beyond(self) -> Option<Beyond> {
        let Self::Parts(left, top, across, down) = self else { return None };
        let over = |from: f64, size: f64| from + size > 1.0 + 1e-9;
        if over(left, across) {
            return Some(Beyond { across: true, from: left, size: across });
        }
        over(top, down).then_some(Beyond { across: false, from: top, size: down })
    }

    /// In whole pixels. None when it is beyond the picture, or nothing is left.
    #[must_use]
    pub fn of(self, picture: PixelSize) -> Option<Rect> {
        let (width, height) = (f64::from(picture.width), f64::from(picture.height));
        let whole = |own: f64| libm::round(own).max(0.0) as u32;
        let area = match self {
            Self::Parts(left, top, across, down) => {
                let (left_px, top_px) = (whole(left * width), whole(top * height));
                // Rounding both ends, so that neighbouring crops meet and the whole stays the whole.
                let (right, below) = (whole((left + across) * width), whole((top + down) * height));
                Rect {
                    left: left_px,
                    top: top_px,
                    width: right.checked_sub(left_px)?,
                    height: below.checked_sub(top_px)?,
                }
            }
            Self::Proportion(across, down) => {
                let wide = whole(height * across / down).min(picture.width);
                let high = whole(width * down / across).min(picture.height);
                // One of the two is the whole side.
                let (wide, high) =
                    if width * down >= height * across { (wide, picture.height) } else { (picture.width, high) };
                Rect { left: (picture.width - wide) / 2, top: (picture.height - high) / 2, width: wide, height: high }
            }
        };
        area.within(picture).then_some(area)
    }
}

/// A piece of a picture where it lies after so many quarter turns clockwise.
#[must_use]
pub fn turned(area: Rect, picture: PixelSize, turns: u8) -> Rect {
    let Rect { left, top, width, height } = area;
    let (right, below) = (picture.width.saturating_sub(left + width), picture.height.saturating_sub(top + height));
    match turns % 4 {
        0 => area,
        1 => Rect { left: below, top: left, width: height, height: width },
        2 => Rect { left: right, top: below, width, height },
        _ => Rect { left: top, top: right, width: height, height: width },
    }
}

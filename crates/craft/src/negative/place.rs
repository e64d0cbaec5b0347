//! Several pictures on one sheet of film: in rows from the upper left, the whole of them in the middle of the sheet. The same pictures always lie
//! the same way.

use alloc::vec::Vec;

use super::{PixelSize, Rect};

/// A sheet of film, in pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Film {
    /// The whole sheet.
    pub sheet: PixelSize,
    /// What stays free at each edge.
    pub margin: u32,
    /// What stays free between pictures.
    pub gap: u32,
}

/// Not all of them have room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{fit} of {of} fit on this sheet of film")]
pub struct NoRoom {
    /// How many were placed.
    pub fit: usize,
    /// How many there are.
    pub of: usize,
}

/// A row that was begun.
struct Row {
    top: u64,
    height: u64,
    used: u64,
}

impl Film {
    /// Places all of them, each with what stands around it. They keep their order where they have room in it; where they do not, the highest
    /// go first.
    ///
    /// # Errors
    /// [`NoRoom`] when neither places all.
    pub fn place(self, pictures: &[PixelSize]) -> Result<Vec<Rect>, NoRoom> {
        let given: Vec<usize> = (0..pictures.len()).collect();
        let mut by_height = given.clone();
        by_height.sort_by_key(|own| pictures.get(*own).map(|own| core::cmp::Reverse((own.height, own.width))));
        let mut most = 0;
        for order in [given, by_height] {
            let placed = self.rows(pictures, &order);
            let fit = placed.iter().flatten().count();
            most = most.max(fit);
            if fit == pictures.len() {
                return Ok(self.centred(placed.into_iter().flatten().collect()));
            }
        }
        Err(NoRoom { fit: most, of: pictures.len() })
    }

    /// The largest part of their size, in hundredths, at which all have room; none where there is none. `sizes` says how large they are at a
    /// part of it.
    #[must_use]
    pub fn largest(self, sizes: impl Fn(f64) -> Option<Vec<PixelSize>>) -> Option<f64> {
        const HUNDREDTHS: u32 = 100;
        (1..=HUNDREDTHS)
            .rev()
            .map(|own| f64::from(own) / f64::from(HUNDREDTHS))
            .find(|part| sizes(*part).is_some_and(|own| self.place(&own).is_ok()))
    }

    /// In rows from the upper left, each in the first row that has room for it.
    fn rows(self, pictures: &[PixelSize], order: &[usize]) -> Vec<Option<Rect>> {
        let (margin, gap) = (u64::from(self.margin), u64::from(self.gap));
        let right = u64::from(self.sheet.width).saturating_sub(margin);
        let below = u64::from(self.sheet.height).saturating_sub(margin);
        let mut rows: Vec<Row> = Vec::new();
        let mut placed: Vec<Option<Rect>> = alloc::vec![None; pictures.len()];
        for number in order {
            let Some(own) = pictures.get(*number) else { continue };
            let (width, height) = (u64::from(own.width), u64::from(own.height));
            let last = rows.len();
            let room = rows.iter_mut().enumerate().find(|(index, row)| {
                // The last row may still become higher.
                let high = height <= row.height || (index + 1 == last && row.top + height <= below);
                high && row.used + gap + width <= right
            });
            let at = match room {
                Some((_, row)) => {
                    let left = row.used + gap;
                    row.used = left + width;
                    row.height = row.height.max(height);
                    Some((left, row.top))
                }
                None => {
                    let top = rows.last().map_or(margin, |own| own.top + own.height + gap);
                    let fits = margin + width <= right && top + height <= below;
                    fits.then(|| {
                        rows.push(Row { top, height, used: margin + width });
                        (margin, top)
                    })
                }
            };
            // OK because both are less than a side of the sheet.
            let rect =
                at.map(|(left, top)| Rect { left: left as u32, top: top as u32, width: own.width, height: own.height });
            if let Some(slot) = placed.get_mut(*number) {
                *slot = rect;
            }
        }
        placed
    }

    /// All of them moved to the middle of the sheet.
    fn centred(self, mut placed: Vec<Rect>) -> Vec<Rect> {
        let right = placed.iter().map(|own| own.left + own.width).max().unwrap_or(0);
        let below = placed.iter().map(|own| own.top + own.height).max().unwrap_or(0);
        let spare = |side: u32, end: u32| side.saturating_sub(self.margin).saturating_sub(end) / 2;
        let (across, down) = (spare(self.sheet.width, right), spare(self.sheet.height, below));
        for own in &mut placed {
            own.left += across;
            own.top += down;
        }
        placed
    }
}

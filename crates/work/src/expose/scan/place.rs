//! Where a row of steps lies on a scan: in a box that is said, or as the only long strip of steps.

use handcoat_craft::measure::{fixed, shortened};
use handcoat_craft::source::{
    ROW_BEYOND, ROW_BOX_OFF, ROW_BOX_ROOM, ROW_INNER, ROW_LEAST_PX, ROW_LOOKS, ROW_MOST_BLUR, ROW_TURN, ROW_TURN_FIRST,
};
use handcoat_pixels::{Across, Scan, Strip, strips};

use super::refused::NotRead;
use super::row::{Row, row};
use crate::{Question, Refusal, Remedy};

/// Exact, by the definition of the inch.
const MM_PER_INCH: f64 = 25.4;

/// A box on a scan as it is said: from the left, from the top, across, down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum ScanBox {
    /// In parts of the scan.
    Parts([f64; 4]),
    /// In millimetres.
    Millimetres([f64; 4]),
}

/// The row as it was found.
#[derive(Clone, Debug)]
pub(super) struct Found {
    /// The middle line, from where paper or the box begins before the dark end.
    pub(super) strip: Strip,
    pub(super) row: Row,
    /// Where the first step begins along the line.
    pub(super) begins: f64,
}

impl ScanBox {
    pub(super) fn read(text: &str) -> Result<Self, Refusal> {
        let about = Question::ScanBox;
        let all = |unit: &str| {
            let one = |own: &str| {
                let own = own.trim().strip_suffix(unit)?.trim().parse::<f64>().ok()?;
                (own.is_finite() && own >= 0.0).then_some(own)
            };
            let parts: Vec<&str> = text.trim().split(',').collect();
            let [left, top, size] = parts.as_slice() else { return None };
            let (across, down) = size.split_once('x')?;
            Some([one(left)?, one(top)?, one(across)?, one(down)?])
        };
        let parts = all("%").map(|own| Self::Parts(own.map(|own| own / 100.0)));
        parts.or_else(|| all("mm").map(Self::Millimetres)).ok_or_else(|| {
            let cause = format!(
                "`{}` is no box on a scan; expected from the left, from the top, across and down, all in % of the scan or all in mm, as \
                 `10%,5%,80%x12%` or `20mm,15mm,130mmx25mm`",
                shortened(text.trim())
            );
            let remedies =
                vec![Remedy::Write(about, "10%,5%,80%x12%".into()), Remedy::Write(about, "20mm,15mm,130mmx25mm".into())];
            Refusal::unreadable("box_unreadable", about, cause, remedies)
        })
    }

    /// The strip that fills it, along its longer side.
    pub(super) fn strip(self, scan: &Scan) -> Result<Strip, Refusal> {
        let about = Question::ScanBox;
        let (wide, high) = (scan.width() as f64, scan.height() as f64);
        let [left, top, across, down] = match self {
            Self::Parts([left, top, across, down]) => [left * wide, top * high, across * wide, down * high],
            Self::Millimetres(own) => {
                let ppi = scan.ppi().ok_or_else(|| {
                    let cause = "the scan does not say how many pixels an inch has, so a box in mm has no place on it; expected one in % of the scan";
                    let remedies = vec![Remedy::Write(about, "10%,5%,80%x12%".into())];
                    Refusal::rule("box_no_ppi", about, cause.into(), remedies)
                })?;
                own.map(|own| own * ppi.per_inch() / f64::from(scan.factor()) / MM_PER_INCH)
            }
        };
        // A pixel beyond is rounding.
        let within = left + across <= wide + 1.0 && top + down <= high + 1.0;
        if !within || across < ROW_LEAST_PX.value || down < ROW_LEAST_PX.value {
            let cause = format!(
                "the box reaches from {} to {} % across the scan and from {} to {} % down; expected one that lies on the scan and holds the row of steps",
                fixed(100.0 * left / wide, 1),
                fixed(100.0 * (left + across) / wide, 1),
                fixed(100.0 * top / high, 1),
                fixed(100.0 * (top + down) / high, 1)
            );
            return Err(Refusal::rule("box_beyond", about, cause, vec![Remedy::Write(about, "10%,5%,80%x12%".into())]));
        }
        let (x, y) = (left + across / 2.0, top + down / 2.0);
        Ok(if across >= down {
            Strip { from: (left, y), to: (left + across, y), width: down }
        } else {
            Strip { from: (x, top), to: (x, top + down), width: across }
        })
    }
}

/// How sharp edges across a strip are.
fn sharpness(scan: &Scan, strip: &Strip) -> f64 {
    let tones = scan.along(strip, ROW_INNER.value.0, ROW_LOOKS.value, Across::Mean);
    let rises = tones.iter().zip(tones.iter().skip(2)).filter_map(|(one, next)| Some((*next)? - (*one)?));
    rises.map(|own| own * own).sum()
}

/// The strip turned so that its edges are sharpest, and by how much, degrees.
fn settled(scan: &Scan, strip: &Strip) -> (Strip, f64) {
    let (_, far, close) = ROW_TURN.value;
    let best = |from: f64, to: f64, step: f64| {
        let count = ((to - from) / step).round() as usize;
        let all = (0..=count).map(|own| from + own as f64 * step);
        let all = all.map(|turn| (turn, sharpness(scan, &strip.turned(turn))));
        all.fold((0.0, 0.0), |best: (f64, f64), own| if own.1 > best.1 { own } else { best }).0
    };
    let first = best(-far, far, ROW_TURN_FIRST.value);
    let turn = best(first - ROW_TURN_FIRST.value, first + ROW_TURN_FIRST.value, close);
    (strip.turned(turn), turn)
}

/// Tones along a strip that lie on the scan, with the strip they are of: its dark end first.
fn tones(scan: &Scan, strip: &Strip) -> (Strip, Vec<f64>) {
    let own = scan.along(strip, ROW_INNER.value.0, ROW_LOOKS.value, Across::Middle);
    let skipped = own.iter().take_while(|own| own.is_none()).count();
    let mut tones: Vec<f64> = own.into_iter().skip(skipped).map_while(|own| own).collect();
    let (from, to) = (skipped as f64, (skipped + tones.len()) as f64);
    let mut strip = Strip { from: strip.place(from, 0.0), to: strip.place(to, 0.0), ..*strip };
    let light = tones.iter().fold(0.0, |most: f64, own| most.max(*own));
    let (dark, moment) = tones
        .iter()
        .enumerate()
        .fold((0.0, 0.0), |sum, (at, own)| (sum.0 + light - own, sum.1 + (light - own) * at as f64));
    if moment > dark * tones.len() as f64 / 2.0 {
        tones.reverse();
        strip = strip.reversed();
    }
    (strip, tones)
}

/// The row of a strip, and where the strip itself begins and ends along its line.
fn row_of(scan: &Scan, strip: &Strip) -> Option<(Strip, Row, (f64, f64))> {
    let beyond = ROW_BEYOND.value * strip.length();
    let (line, tones) = tones(scan, &strip.longer(beyond));
    // Where the line was cut at the edge of the scan, its ends are no longer as far beyond.
    let along = |place: (f64, f64)| {
        let (x, y) = ((line.to.0 - line.from.0) / line.length(), (line.to.1 - line.from.1) / line.length());
        (place.0 - line.from.0) * x + (place.1 - line.from.1) * y
    };
    let (one, other) = (along(strip.from), along(strip.to));
    let ends = (one.min(other), one.max(other));
    let found = row(&tones, (ends.0, ends.1 + beyond), strip.length())?;
    Some((line, found, ends))
}

/// Finds the row of so many steps in a box.
pub(super) fn in_box(scan: &Scan, strip: &Strip, steps: u8) -> Result<Found, NotRead> {
    let (strip, turn) = settled(scan, strip);
    let (line, row, ends) = row_of(scan, &strip).ok_or(NotRead::None { boxed: true })?;
    if turn.abs() > ROW_TURN.value.0 {
        return Err(NotRead::Skewed(turn));
    }
    let count = f64::from(steps);
    let (from, most_off) = (row.paper_ends.unwrap_or(ends.0), ROW_BOX_OFF.value);
    let begins = row.nearest(from);
    let room = (ends.1 - from) / row.step;
    let most = if row.paper_ends.is_some() { count * (1.0 + ROW_BOX_ROOM.value) } else { count };
    let by_box = row.paper_ends.is_none() && room.round() != count;
    if room < count - 2.0 * most_off || room > most + 2.0 * most_off || by_box {
        return Err(NotRead::Count { seen: room.round() as usize, said: steps });
    }
    if row.paper_ends.is_none() {
        let off = |at: f64| (at - row.nearest(at)).abs() / row.step;
        let worst = off(ends.0).max(off(ends.1));
        if worst > most_off {
            return Err(NotRead::BoxOff(worst));
        }
    }
    sound(Found { strip: line, begins, row }, steps)
}

/// Finds the only row of steps on the scan.
pub(super) fn alone(scan: &Scan, steps: u8) -> Result<Found, NotRead> {
    let rows = strips(scan).into_iter().filter_map(|strip| {
        let (strip, _) = settled(scan, &strip);
        let (line, row, _) = row_of(scan, &strip)?;
        // Only paper says where the first step begins.
        let begins = row.nearest(row.paper_ends?);
        Some(Found { strip: line, begins, row })
    });
    let mut rows: Vec<Found> = rows.collect();
    match (rows.pop(), rows.len()) {
        (Some(own), 0) => sound(own, steps),
        (Some(_), more) => Err(NotRead::Several(more + 1)),
        (None, _) => Err(NotRead::None { boxed: false }),
    }
}

/// A row that is fine enough, sharp enough, and has no more steps than were said.
fn sound(own: Found, steps: u8) -> Result<Found, NotRead> {
    if own.row.step < ROW_LEAST_PX.value {
        return Err(NotRead::Coarse(own.row.step));
    }
    if let Some(blur) = own.row.blur.filter(|own| *own > ROW_MOST_BLUR.value) {
        return Err(NotRead::Blurred(blur));
    }
    let last = own.row.edges.iter().map(|at| ((at - own.begins) / own.row.step).round()).fold(0.0, f64::max);
    if last > f64::from(steps) {
        return Err(NotRead::Count { seen: last as usize, said: steps });
    }
    Ok(own)
}

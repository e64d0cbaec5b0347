//! Curves through given points: a monotone cubic and straight lines between neighbours.
//!
//! The cubic is that of Fritsch and Carlson (*SIAM J. Numer. Anal.* 17 (1980) 238-246) with the slopes of Fritsch and Butland
//! (*SIAM J. Sci. Stat. Comput.* 5 (1984) 300-304): a harmonic mean of the neighbouring chords inside, a three-point formula at the
//! ends, held back where it would overshoot. It never leaves the range of the points it goes through.

use alloc::vec::Vec;

/// Why points make no curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum KnotsError {
    #[error("a curve needs two points at least, with as many values as places")]
    TooFew,
    #[error("a place or a value is no finite number")]
    NotFinite,
    #[error("the places of a curve rise from each to the next")]
    NotRising,
}

/// Points and the slope at each; between them a cubic.
#[derive(Clone, Debug, PartialEq)]
pub struct Pchip {
    x: Vec<f64>,
    y: Vec<f64>,
    slopes: Vec<f64>,
}

/// Points, and straight lines between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Polyline {
    x: Vec<f64>,
    y: Vec<f64>,
}

/// The ends of one piece: place and value at the left, place and value at the right, slopes at both.
#[derive(Clone, Copy)]
struct Piece {
    x: (f64, f64),
    y: (f64, f64),
    slopes: (f64, f64),
}

impl Piece {
    fn width(self) -> f64 {
        self.x.1 - self.x.0
    }

    /// The value at a part `t` of the way.
    fn value(self, t: f64) -> f64 {
        let (h, rise) = (self.width(), self.y.1 - self.y.0);
        let (a, b) = (h * self.slopes.0, h * self.slopes.1);
        self.y.0 + t * (a + t * ((3.0 * rise - 2.0 * a - b) + t * (a + b - 2.0 * rise)))
    }

    /// The slope at a part `t` of the way.
    fn slope(self, t: f64) -> f64 {
        let (h, rise) = (self.width(), self.y.1 - self.y.0);
        let (a, b) = (h * self.slopes.0, h * self.slopes.1);
        (a + t * (2.0 * (3.0 * rise - 2.0 * a - b) + t * 3.0 * (a + b - 2.0 * rise))) / h
    }

    /// The integral from its left end to a part `t` of the way.
    fn integral(self, t: f64) -> f64 {
        let (h, rise) = (self.width(), self.y.1 - self.y.0);
        let (a, b) = (h * self.slopes.0, h * self.slopes.1);
        let (square, cubic) = (3.0 * rise - 2.0 * a - b, a + b - 2.0 * rise);
        h * t * (self.y.0 + t * (a / 2.0 + t * (square / 3.0 + t * cubic / 4.0)))
    }

    /// Where it first has a value between those of its ends, as a place.
    fn first_at(self, value: f64) -> f64 {
        if value == self.y.0 {
            return self.x.0;
        }
        if value == self.y.1 {
            return self.x.1;
        }
        let rising = self.y.1 > self.y.0;
        let (mut low, mut high) = (0.0, 1.0);
        // Halving ends when two neighbouring numbers are left, at the latest after so many rounds; it is the same everywhere.
        for _ in 0..64 {
            let middle = 0.5 * (low + high);
            if (self.value(middle) < value) == rising {
                low = middle;
            } else {
                high = middle;
            }
        }
        self.x.0 + 0.5 * (low + high) * self.width()
    }
}

fn checked(x: &[f64], y: &[f64]) -> Result<(), KnotsError> {
    if x.len() < 2 || x.len() != y.len() {
        return Err(KnotsError::TooFew);
    }
    if x.iter().chain(y).any(|own| !own.is_finite()) {
        return Err(KnotsError::NotFinite);
    }
    if x.windows(2).any(|pair| matches!(pair, [a, b] if a >= b)) {
        return Err(KnotsError::NotRising);
    }
    Ok(())
}

/// Index of the piece a place lies in; none outside.
fn piece_of(x: &[f64], at: f64) -> Option<usize> {
    let (first, last) = (x.first()?, x.last()?);
    if !(at >= *first && at <= *last) {
        return None;
    }
    Some(x.partition_point(|own| *own <= at).saturating_sub(1).min(x.len() - 2))
}

/// Index of the first piece that reaches a value, for values that rise or fall throughout; none for others and outside.
fn first_piece(y: &[f64], value: f64) -> Option<usize> {
    let (first, last) = (*y.first()?, *y.last()?);
    let rising = last >= first;
    let ordered = |pair: &[f64]| matches!(pair, [a, b] if if rising { a <= b } else { a >= b });
    if !(y.windows(2).all(ordered) && value >= first.min(last) && value <= first.max(last)) {
        return None;
    }
    let reached = |own: &f64| if rising { *own >= value } else { *own <= value };
    Some(y.iter().position(reached)?.saturating_sub(1).min(y.len() - 2))
}

/// The end slope of scipy's and others' rule: three points, held back where it would overshoot.
fn end_slope(near: f64, far: f64, chord: f64, next: f64) -> f64 {
    let slope = ((2.0 * near + far) * chord - near * next) / (near + far);
    let sign = |own: f64| f64::from(i8::from(own > 0.0) - i8::from(own < 0.0));
    if sign(slope) != sign(chord) {
        0.0
    } else if sign(chord) != sign(next) && slope.abs() > 3.0 * chord.abs() {
        3.0 * chord
    } else {
        slope
    }
}

impl Pchip {
    /// A curve through points whose places rise.
    ///
    /// # Errors
    /// [`KnotsError`] for fewer than two points, for unequal counts, for what is not finite, for places that do not rise.
    pub fn through(x: &[f64], y: &[f64]) -> Result<Self, KnotsError> {
        checked(x, y)?;
        let widths: Vec<f64> = x.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let chords: Vec<f64> = y.windows(2).zip(&widths).map(|(pair, width)| (pair[1] - pair[0]) / width).collect();
        let mut slopes = Vec::with_capacity(x.len());
        if let [only] = chords.as_slice() {
            slopes.extend([*only, *only]);
        } else {
            let last = chords.len() - 1;
            slopes.push(end_slope(widths[0], widths[1], chords[0], chords[1]));
            for k in 1..=last {
                let (left, right) = (chords[k - 1], chords[k]);
                let (a, b) = (2.0 * widths[k] + widths[k - 1], widths[k] + 2.0 * widths[k - 1]);
                let turns = left * right <= 0.0;
                slopes.push(if turns { 0.0 } else { (a + b) / (a / left + b / right) });
            }
            slopes.push(end_slope(widths[last], widths[last - 1], chords[last], chords[last - 1]));
        }
        Ok(Self { x: x.to_vec(), y: y.to_vec(), slopes })
    }

    fn piece(&self, k: usize) -> Piece {
        let pair = |own: &[f64]| (own[k], own[k + 1]);
        Piece { x: pair(&self.x), y: pair(&self.y), slopes: pair(&self.slopes) }
    }

    /// The slope at each point.
    #[must_use]
    pub fn slopes(&self) -> &[f64] {
        &self.slopes
    }

    /// Places and values it goes through.
    #[must_use]
    pub fn points(&self) -> (&[f64], &[f64]) {
        (&self.x, &self.y)
    }

    /// The value at a place; none outside the points.
    #[must_use]
    pub fn at(&self, x: f64) -> Option<f64> {
        let piece = self.piece(piece_of(&self.x, x)?);
        Some(piece.value((x - piece.x.0) / piece.width()))
    }

    /// The slope at a place; none outside the points.
    #[must_use]
    pub fn slope_at(&self, x: f64) -> Option<f64> {
        let piece = self.piece(piece_of(&self.x, x)?);
        Some(piece.slope((x - piece.x.0) / piece.width()))
    }

    /// The first place with this value, for points that rise throughout or fall throughout; none for others and outside.
    #[must_use]
    pub fn first_at(&self, value: f64) -> Option<f64> {
        Some(self.piece(first_piece(&self.y, value)?).first_at(value))
    }

    /// The integral from one place to another; none when one of them is outside.
    #[must_use]
    pub fn integral(&self, from: f64, to: f64) -> Option<f64> {
        let (first, last) = (piece_of(&self.x, from)?, piece_of(&self.x, to)?);
        if to < from {
            return self.integral(to, from).map(|own| -own);
        }
        let part = |k: usize, x: f64| {
            let piece = self.piece(k);
            piece.integral((x - piece.x.0) / piece.width())
        };
        let whole: f64 = (first..last).map(|k| self.piece(k).integral(1.0)).sum();
        Some(whole + part(last, to) - part(first, from))
    }
}

impl Polyline {
    /// Straight lines through points whose places rise.
    ///
    /// # Errors
    /// [`KnotsError`] as for [`Pchip::through`].
    pub fn through(x: &[f64], y: &[f64]) -> Result<Self, KnotsError> {
        checked(x, y)?;
        Ok(Self { x: x.to_vec(), y: y.to_vec() })
    }

    /// The value at a place; none outside the points.
    #[must_use]
    pub fn at(&self, x: f64) -> Option<f64> {
        let k = piece_of(&self.x, x)?;
        let t = (x - self.x[k]) / (self.x[k + 1] - self.x[k]);
        Some(self.y[k] + t * (self.y[k + 1] - self.y[k]))
    }

    /// The first place with this value, for points that rise throughout or fall throughout; none for others and outside.
    #[must_use]
    pub fn first_at(&self, value: f64) -> Option<f64> {
        let k = first_piece(&self.y, value)?;
        let rise = self.y[k + 1] - self.y[k];
        let t = if rise == 0.0 { 0.0 } else { (value - self.y[k]) / rise };
        Some(self.x[k] + t * (self.x[k + 1] - self.x[k]))
    }
}

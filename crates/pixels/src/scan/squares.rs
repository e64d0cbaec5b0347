//! A code of squares whose place is known: no searching, each square is looked at where it has to be.

use handcoat_craft::source::{SQUARE_CUTS, SQUARE_LOOK};
use rqrr::{BitGrid, Grid};

use super::Scan;

struct Squares {
    side: usize,
    dark: Vec<bool>,
}

impl BitGrid for Squares {
    fn size(&self) -> usize {
        self.side
    }

    fn bit(&self, y: usize, x: usize) -> bool {
        self.dark.get(y * self.side + x).copied().unwrap_or(false)
    }
}

impl Scan {
    /// The tone between pixels.
    pub(super) fn between(&self, x: f64, y: f64) -> f64 {
        let (x, y) = ((x - 0.5).max(0.0), (y - 0.5).max(0.0));
        let (column, row) = (x as usize, y as usize);
        let (right, below) = ((column + 1).min(self.width - 1), (row + 1).min(self.height - 1));
        let (u, v) = (x - column as f64, y - row as f64);
        let tone =
            |column: usize, row: usize| f64::from(self.tone(column.min(self.width - 1), row.min(self.height - 1)));
        let above = tone(column, row) + (tone(right, row) - tone(column, row)) * u;
        let under = tone(column, below) + (tone(right, below) - tone(column, below)) * u;
        above + (under - above) * v
    }

    /// What a code of squares says. `place` takes columns and rows of squares, fractions too, to pixels.
    #[must_use]
    pub fn squares(&self, side: usize, place: &dyn Fn(f64, f64) -> (f64, f64)) -> Option<String> {
        if self.width < 2 || self.height < 2 {
            return None;
        }
        let looks = [-SQUARE_LOOK.value, 0.0, SQUARE_LOOK.value];
        let look = |column: usize, row: usize| {
            let all = looks.iter().flat_map(|v| looks.map(|u| (u, *v)));
            let sum: f64 = all
                .map(|(u, v)| {
                    let (x, y) = place(column as f64 + 0.5 + u, row as f64 + 0.5 + v);
                    self.between(x, y)
                })
                .sum();
            sum / (looks.len() * looks.len()) as f64
        };
        let tones: Vec<f64> = (0..side * side).map(|own| look(own % side, own / side)).collect();
        let mut sorted = tones.clone();
        sorted.sort_by(f64::total_cmp);
        let part = |own: usize| sorted.get(sorted.len() * own / 10).copied().unwrap_or(0.0);
        let (dark, light) = (part(1), part(9));
        SQUARE_CUTS.value.into_iter().find_map(|cut| {
            let below = dark + cut * (light - dark);
            let dark = tones.iter().map(|own| *own < below).collect();
            Grid::new(Squares { side, dark }).decode().ok().map(|own| own.1)
        })
    }
}

//! Which patches to print next: those that lower the expected error most for the paper that is coated for them.
//!
//! The expected error after a reading does not depend on what the reading says, only on where it is, so patches can be chosen before they
//! are printed. One after the other the level is taken that lowers it most (greedy, and of levels that are nearly alike another than before; for variances of linear models within a few percent of
//! the best set: Krause, Singh and Guestrin, *J. Mach. Learn. Res.* 9 (2008) 235-284, from memory), until another is not worth its paper.

use alloc::vec::Vec;

use super::ToneFit;
use super::family::Family;
use super::gauss::drifted;
use super::outcome::expected_error;
use crate::measure::{Area, ToneInput};
use crate::source::{NEXT_ALIKE, NEXT_LEVELS, NEXT_MOST, NEXT_WORTH, PATCH_WORTH};

/// One patch to print.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextPatch {
    /// Its input.
    pub input: ToneInput,
    /// The expected error once it and those before it were read, L*.
    pub expected: f64,
    /// How much it lowers that, L* to a cm² of coated paper.
    pub gain_per_cm2: f64,
}

/// Patches to print, the most useful first.
#[derive(Clone, Debug, PartialEq)]
pub struct NextPatches {
    /// The expected error as things stand, L*.
    pub now: f64,
    /// What to print.
    pub patches: Vec<NextPatch>,
    /// What one patch takes of coated paper.
    pub area: Area,
}

impl NextPatches {
    /// The expected error when all were read, L*.
    #[must_use]
    pub fn after(&self) -> f64 {
        self.patches.last().map_or(self.now, |own| own.expected)
    }

    /// The same by level: the input, and how often it is printed.
    #[must_use]
    pub fn levels(&self) -> Vec<(ToneInput, usize)> {
        let mut levels: Vec<(ToneInput, usize)> = Vec::new();
        for own in &self.patches {
            match levels.iter_mut().find(|(input, _)| *input == own.input) {
                Some((_, count)) => *count += 1,
                None => levels.push((own.input, 1)),
            }
        }
        levels.sort_by(|a, b| a.0.to_part().total_cmp(&b.0.to_part()));
        levels
    }
}

/// Chooses patches. `expected` is the expected error after readings at these inputs, beside all that is known; `most` bounds their count.
#[must_use]
pub fn next_patches(expected: &dyn Fn(&[ToneInput]) -> f64, area: Area, most: usize) -> NextPatches {
    let levels: Vec<ToneInput> = (0..NEXT_LEVELS.value)
        .filter_map(|own| ToneInput::part(own as f64 / (NEXT_LEVELS.value - 1) as f64).ok())
        .collect();
    let now = expected(&[]);
    let (mut chosen, mut patches, mut last): (Vec<ToneInput>, _, _) = (Vec::new(), Vec::new(), now);
    while patches.len() < most.min(NEXT_MOST.value) {
        let with = |level: &ToneInput| {
            let mut all = chosen.clone();
            all.push(*level);
            (*level, expected(&all))
        };
        let tried: Vec<(ToneInput, f64)> = levels.iter().map(with).collect();
        let least = tried.iter().map(|own| own.1).fold(f64::INFINITY, f64::min);
        let alike = tried.iter().filter(|own| last - own.1 >= NEXT_ALIKE.value * (last - least));
        let copies = |own: &ToneInput| chosen.iter().filter(|other| *other == own).count();
        let best = alike.min_by(|a, b| copies(&a.0).cmp(&copies(&b.0)).then(a.1.total_cmp(&b.1)));
        let Some((input, after)) = best.copied() else { break };
        if last - after < PATCH_WORTH.value * last {
            break;
        }
        let gain_per_cm2 = (last - after) / area.to_square_centimetres();
        patches.push(NextPatch { input, expected: after, gain_per_cm2 });
        chosen.push(input);
        last = after;
    }
    // A sheet that hardly helps is not coated for its patches.
    if now - last < NEXT_WORTH.value {
        patches.clear();
    }
    NextPatches { now, patches, area }
}

impl ToneFit {
    /// The expected error of a corrected print, L* (root mean square over tones), on another day, once patches at these inputs were read on a
    /// sheet of that day with this fit as the earlier one. What the coat of that sheet has in common over all of it is one unknown more, so a tone that is printed
    /// again on the same sheet says nothing more of it.
    #[must_use]
    pub fn expected_after(&self, inputs: &[ToneInput]) -> f64 {
        let curve = self.memory.curve();
        let field = self.quality.field.map_or(0.0, |own| own.deviation * own.deviation);
        let shared = (self.quality.sheet_u * self.quality.sheet_u).min(field);
        let noise = self.quality.noise * self.quality.noise + field - shared;
        // It is printed on another day, and what drifts from day to day is not known better for the earlier sheet.
        let known = drifted(&self.memory, &Family::new());
        let count = known.nrows();
        let mut after = known.resize(count + 1, count + 1, 0.0);
        // OK because the matrix has just been given this row and column.
        after[(count, count)] = shared;
        let last = curve.lightness.len() - 1;
        for input in inputs {
            let row = ((input.to_part() * last as f64 + 0.5) as usize).min(last);
            let slopes = curve.slopes.row(row).into_owned().insert_column(count, 1.0);
            let gain = &after * slopes.transpose();
            let own = (&slopes * &gain).sum() + noise;
            if own > 0.0 {
                after -= &gain * gain.transpose() / own;
            }
        }
        expected_error(&curve, &after.resize(count, count, 0.0))
    }
}

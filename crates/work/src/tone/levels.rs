//! A chart to print, as a table: its inputs, and where on the sheet each patch lies. The column of lightness is left for the readings.
//!
//! Patches lie in no order of tone, so that an uneven coat does not look like tone, and two of one level lie as far apart as may be. The same
//! questions give the same chart.

use handcoat_craft::measure::{Readable, Size, ToneInput, fixed, shortened};
use handcoat_craft::tone::NextPatches;

use super::next::patch_side;
use crate::{Question, Refusal, Remedy};

/// Answers about a chart to print. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LevelAnswers {
    /// How many patches.
    pub count: Option<String>,
    /// The side of a patch, its border with it.
    pub patch: Option<String>,
    /// The part of the sheet that is coated for them.
    pub sheet: Option<String>,
}

/// Patches of a chart where nothing else is said.
const USUAL_COUNT: usize = 31;
/// What a chart needs, and what a sheet holds.
const COUNTS: std::ops::RangeInclusive<usize> = 5..=400;
const USUAL_SHEET: &str = "200x140mm";
/// Orders that are tried.
const SHUFFLES: usize = 64;

/// A chart of so many levels, evenly from the darkest to paper white, as a table that is read again once its readings are filled in.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or the sheet does not hold the patches.
pub fn chart_levels(answers: &LevelAnswers) -> Result<String, Refusal> {
    let about = Question::PatchMost;
    let count = answers.count.as_ref().map_or(Ok(USUAL_COUNT), |text| {
        text.trim().parse::<usize>().ok().filter(|own| COUNTS.contains(own)).ok_or_else(|| {
            let cause = format!(
                "`{}` is no count of patches; expected a whole number from {} to {}",
                shortened(text.trim()),
                COUNTS.start(),
                COUNTS.end()
            );
            Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, USUAL_COUNT.to_string())])
        })
    })?;
    let inputs: Vec<f64> = (0..count).map(|own| own as f64 / (count - 1) as f64).collect();
    table(answers, &inputs)
}

/// The same for patches that come next.
///
/// # Errors
/// [`Refusal`] as for [`chart_levels`].
pub fn next_levels(answers: &LevelAnswers, next: &NextPatches) -> Result<String, Refusal> {
    let levels = next.levels();
    let inputs: Vec<f64> =
        levels.iter().flat_map(|(own, count): &(ToneInput, usize)| vec![own.to_part(); *count]).collect();
    table(answers, &inputs)
}

fn table(answers: &LevelAnswers, inputs: &[f64]) -> Result<String, Refusal> {
    let mut out = String::from("patch,input,l_star,x_mm,y_mm\n");
    for (patch, (input, x, y)) in (1..).zip(placed(answers, inputs)?) {
        out.push_str(&format!("{patch},{},,{},{}\n", fixed(input, 4), fixed(x, 1), fixed(y, 1)));
    }
    Ok(out)
}

/// Each input with the middle of its patch, in mm from the upper left corner, row by row.
fn placed(answers: &LevelAnswers, inputs: &[f64]) -> Result<Vec<(f64, f64, f64)>, Refusal> {
    let side = patch_side(answers.patch.as_ref())?.to_millimetres();
    let about = Question::ChartSheet;
    let size = Size::read(answers.sheet.as_deref().unwrap_or(USUAL_SHEET))
        .map_err(|error| Refusal::quantity(about, Size::FORMS, &error))?;
    let (wide, high) = (size.width.to_millimetres(), size.height.to_millimetres());
    // A sheet of exactly so many patches holds them, whatever the last bit says.
    let hold = |own: f64| (own / side + 1e-9).floor().min(*COUNTS.end() as f64) as usize;
    let (most_columns, most_rows) = (hold(wide), hold(high));
    let pitch = |columns: usize| {
        let rows = inputs.len().div_ceil(columns).max(1);
        (rows <= most_rows).then(|| (columns, rows, (wide / columns as f64).min(high / rows as f64)))
    };
    let best = (1..=most_columns).filter_map(pitch).max_by(|a, b| a.2.total_cmp(&b.2));
    let Some((columns, rows, _)) = best else {
        let cause = format!(
            "a sheet of {} × {} mm holds {} patches of {} mm, and {} are wanted; take a larger sheet, smaller patches or fewer",
            fixed(wide, 0),
            fixed(high, 0),
            most_columns * most_rows,
            fixed(side, 1),
            inputs.len()
        );
        return Err(Refusal::rule("patches_no_room", about, cause, vec![Remedy::Write(about, "30x40cm".into())]));
    };
    let (across, down) = (wide / columns as f64, high / rows as f64);
    let place = |cell: usize| (((cell % columns) as f64 + 0.5) * across, ((cell / columns) as f64 + 0.5) * down);
    let order = shuffled(inputs, &place);
    Ok(order.into_iter().enumerate().map(|(cell, input)| (input, place(cell).0, place(cell).1)).collect())
}

/// Of some orders the one in which two of one level lie furthest apart.
fn shuffled(inputs: &[f64], place: &dyn Fn(usize) -> (f64, f64)) -> Vec<f64> {
    // Lehmer's generator with Park and Miller's numbers: the same order everywhere.
    let mut state: u64 = 16_807;
    let mut below = |count: usize| {
        state = state * 16_807 % 2_147_483_647;
        state as usize % count
    };
    let nearest = |order: &[f64]| {
        let mut least = f64::INFINITY;
        for (a, one) in order.iter().enumerate() {
            for (b, _) in order.iter().enumerate().skip(a + 1).filter(|own| own.1 == one) {
                let ((x, y), (other_x, other_y)) = (place(a), place(b));
                least = least.min((x - other_x).hypot(y - other_y));
            }
        }
        least
    };
    let (mut order, mut best) = (inputs.to_vec(), (f64::NEG_INFINITY, inputs.to_vec()));
    for _ in 0..SHUFFLES {
        for at in (1..order.len()).rev() {
            order.swap(at, below(at + 1));
        }
        let apart = nearest(&order);
        if apart > best.0 {
            best = (apart, order.clone());
        }
    }
    best.1
}

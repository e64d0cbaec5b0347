//! The chart of an invented paper, and a print of it through a curve.

use handcoat_craft::measure::ToneInput;
use handcoat_craft::tone::Correction;

/// A chart of an invented paper to begin with: 31 patches in no order on a sheet of 200 by 140 mm, with some scatter and one wrong reading.
/// `corrected` gives the same paper printed through a curve that is sent for each tone.
#[must_use]
pub fn sample_chart(corrected: Option<&Correction>) -> String {
    const PATCHES: usize = 31;
    let mut out = String::from("patch,input,l_star,x_mm,y_mm,copy\n");
    // A fixed sequence (Lehmer's generator with Park and Miller's numbers) stands in for scatter: the same sample everywhere.
    let mut state: u64 = if corrected.is_some() { 48_271 } else { 16_807 };
    let mut next = || {
        state = state * 16_807 % 2_147_483_647;
        state as f64 / 2_147_483_647.0 - 0.5
    };
    for patch in 0..PATCHES {
        // Thirteen has no factor in common with 31, so every level comes once, far from its neighbours.
        let tone = ((patch * 13) % PATCHES) as f64 / (PATCHES - 1) as f64;
        let sent = corrected.map_or(tone, |own| ToneInput::part(tone).map_or(tone, |tone| own.send(tone).to_part()));
        let (x, y) = (15.0 + 28.0 * (patch % 7) as f64, 15.0 + 26.0 * (patch / 7) as f64);
        let coat = 0.8 * (x / 70.0).sin() - 0.6 * (y / 45.0).cos();
        let wrong = if patch == 17 && corrected.is_none() { -4.5 } else { 0.0 };
        let l_star = sample_paper(sent) + coat + 0.5 * (next() + next()) + wrong;
        out.push_str(&format!("{},{tone:.4},{l_star:.2},{x},{y},1\n", patch + 1));
    }
    out
}

/// What an invented paper prints for an input, L*: dark and steep at first, white from about input 0.9 on.
#[must_use]
pub fn sample_paper(input: f64) -> f64 {
    let bent = |x: f64| 1.0 / (1.0 + (-7.5 * (x - 0.42)).exp());
    22.0 + 71.5 * ((bent(input.min(0.92)) - bent(0.0)) / (bent(0.92) - bent(0.0)))
}

//! What was read of a scan, as one process tells another. What lies where follows from the code, so only what was measured goes along.

use handcoat_craft::colour::Lab;
use handcoat_craft::tone::{ChartCode, ChartLayout};
use serde::{Deserialize, Serialize};

use super::patches::{PatchFlag, PatchRead};
use super::read::{ChartScan, warnings};

/// A chart that was read, on its way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SentScan {
    code: String,
    patches: Vec<SentPatch>,
    px_per_mm: f64,
    factor: u32,
    blur_mm: f64,
    off_mm: f64,
    cells: (usize, usize),
    black_l_star: f64,
    paper_l_star: f64,
    light_fall: Option<f64>,
    light_evened: bool,
    codes_by: String,
    colour: bool,
    ppi: Option<f64>,
    turn_degrees: f64,
    profile_sha256: Option<String>,
}

/// What was measured of a patch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct SentPatch {
    lab: [f64; 3],
    density: Option<f64>,
    l_star_u: f64,
    scatter: f64,
    left_out: f64,
    flags: Vec<String>,
}

/// What codes are taken for.
const CODES_BY: [&str; 4] = ["strip", "gamma", "profile", "srgb"];

impl SentScan {
    /// To send.
    #[must_use]
    pub fn of(own: &ChartScan) -> Self {
        let patch = |own: &PatchRead| SentPatch {
            lab: [own.lab.l_star, own.lab.a_star, own.lab.b_star],
            density: own.density,
            l_star_u: own.l_star_u,
            scatter: own.scatter,
            left_out: own.left_out,
            flags: own.flags.iter().map(|own| own.word().into()).collect(),
        };
        Self {
            code: own.layout.code.to_string(),
            patches: own.patches.iter().map(patch).collect(),
            px_per_mm: own.px_per_mm,
            factor: own.factor,
            blur_mm: own.blur_mm,
            off_mm: own.off_mm,
            cells: own.cells,
            black_l_star: own.black_l_star,
            paper_l_star: own.paper_l_star,
            light_fall: own.light_fall,
            light_evened: own.light_evened,
            codes_by: own.codes_by.into(),
            colour: own.colour,
            ppi: own.ppi,
            turn_degrees: own.turn_degrees,
            profile_sha256: own.profile_sha256.clone(),
        }
    }

    /// As it was read. None when it was not sent by us.
    #[must_use]
    pub fn scan(self) -> Option<ChartScan> {
        let layout = ChartLayout::of(ChartCode::read(&self.code).ok()?);
        if layout.patches.len() != self.patches.len() {
            return None;
        }
        let patch = |(patch, own): (_, SentPatch)| {
            let [l_star, a_star, b_star] = own.lab;
            Some(PatchRead {
                patch,
                lab: Lab { l_star, a_star, b_star },
                density: own.density,
                l_star_u: own.l_star_u,
                scatter: own.scatter,
                left_out: own.left_out,
                flags: own.flags.iter().map(|own| PatchFlag::of(own)).collect::<Option<_>>()?,
            })
        };
        let patches = layout.patches.iter().copied().zip(self.patches).map(patch).collect::<Option<_>>()?;
        let mut own = ChartScan {
            layout,
            patches,
            px_per_mm: self.px_per_mm,
            factor: self.factor,
            blur_mm: self.blur_mm,
            off_mm: self.off_mm,
            cells: self.cells,
            black_l_star: self.black_l_star,
            paper_l_star: self.paper_l_star,
            light_fall: self.light_fall,
            light_evened: self.light_evened,
            codes_by: CODES_BY.into_iter().find(|own| *own == self.codes_by)?,
            colour: self.colour,
            ppi: self.ppi,
            turn_degrees: self.turn_degrees,
            profile_sha256: self.profile_sha256,
            warnings: Vec::new(),
        };
        own.warnings = warnings(&own);
        Some(own)
    }
}

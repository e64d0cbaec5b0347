//! A step strip of known densities beside the print: what a scan makes of each, and so what its tones are.

use handcoat_craft::colour::Xyz;
use handcoat_craft::measure::{Bounded, PrintDensity, fixed};
use handcoat_craft::numerics::{Direction, Homography, Pchip, isotonic};
use handcoat_craft::source::{STRIP_OFF, STRIP_STEP_MM, STRIP_TRIM};
use handcoat_exchange::{DecimalMark, ReferenceStep, read_reference};
use handcoat_pixels::Scan;

use crate::exchange::found;
use crate::{Question, Refusal, Remedy};

/// Fewest steps.
const FEWEST: usize = 5;
const MM_PER_INCH: f64 = 25.4;

/// From the density a scan shows to that of the strip.
#[derive(Clone, Debug)]
pub(crate) struct Reference {
    curve: Pchip,
    /// What the scan shows of the lightest and the darkest step, and what they are.
    ends: [(f64, f64); 2],
}

/// The density of light that comes back.
fn dense(y: f64) -> f64 {
    -y.max(1e-6).log10()
}

/// What to do about any of it.
fn another() -> Vec<Remedy> {
    vec![Remedy::Write(Question::Reference, "strip.csv".into())]
}

impl Reference {
    /// Reads the table of a strip.
    pub(super) fn steps(bytes: &[u8]) -> Result<Vec<ReferenceStep>, Refusal> {
        let table = read_reference(bytes, DecimalMark::Point);
        match found(&table.findings, "`density`, `x_mm` and `y_mm`", "strip.csv") {
            None => Ok(table.steps),
            Some(mut refusal) => {
                refusal.about = Some(Question::Reference);
                refusal.remedies = vec![Remedy::Write(Question::Reference, "strip.csv".into())];
                Err(refusal)
            }
        }
    }

    /// Looks at the strip on the scan. Places are from the upper left corner of the scan as its file has it.
    pub(super) fn of(scan: &Scan, steps: &[ReferenceStep]) -> Result<Self, Refusal> {
        let ppi = scan.ppi().ok_or_else(|| {
            let cause = "the scan does not say how many pixels an inch has, so the places of the steps are not known; expected a file that says it";
            Refusal::rule("reference_no_ppi", Question::Reference, cause.into(), another())
        })?;
        let per_mm = ppi.per_inch() / f64::from(scan.factor()) / MM_PER_INCH;
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let pairs = corners.map(|(x, y)| ((x, y), (x * per_mm, y * per_mm)));
        let maps = Homography::through(&pairs).and_then(|to| to.inverse().map(|back| (to, back)));
        // OK because the corners of a square are no line, and a number of pixels to the inch is above none.
        let (to, back) = maps.expect("BUG: a plain scale has no way back");
        let mut all: Vec<(f64, f64)> = Vec::new();
        for own in steps {
            let middle = (own.across.to_millimetres(), own.down.to_millimetres());
            let seen = scan.measure((&to, &back), middle, STRIP_STEP_MM.value, STRIP_TRIM.value).ok_or_else(|| {
                let cause = format!(
                    "a step is said to lie at {}, {} mm, which is not on the scan; expected places in mm from its upper left corner",
                    fixed(middle.0, 1),
                    fixed(middle.1, 1)
                );
                Refusal::rule("reference_off_scan", Question::Reference, cause, another())
            })?;
            all.push((dense(seen.xyz.y), own.density.to_density()));
        }
        Self::through(all)
    }

    fn through(mut all: Vec<(f64, f64)>) -> Result<Self, Refusal> {
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        all.dedup_by(|a, b| a.0 == b.0);
        let (seen, stated): (Vec<f64>, Vec<f64>) = all.into_iter().unzip();
        let unusable = || {
            let cause = format!(
                "the {} different steps of the strip do not darken on the scan as their densities rise; expected {FEWEST} at least that do. Look at their places",
                seen.len()
            );
            Refusal::rule("reference_unordered", Question::Reference, cause, another())
        };
        let even = isotonic(&stated, None, Direction::Up).filter(|_| seen.len() >= FEWEST).ok_or_else(unusable)?;
        let off = even.values.iter().zip(&stated).map(|(own, stated)| (own - stated).abs()).fold(0.0, f64::max);
        let mut ends = seen.iter().copied().zip(even.values.iter().copied());
        let (Some(first), Some(last)) = (ends.next(), ends.next_back()) else { return Err(unusable()) };
        if off > STRIP_OFF.value || last.1 - first.1 < STRIP_OFF.value {
            return Err(unusable());
        }
        let curve = Pchip::through(&seen, &even.values).map_err(|_| unusable())?;
        Ok(Self { curve, ends: [first, last] })
    }

    /// The density of a tone: by the strip, and beyond its ends as far from them as the scan shows.
    pub(super) fn density(&self, y: f64) -> f64 {
        let own = dense(y);
        let [first, last] = self.ends;
        match own {
            own if own < first.0 => first.1 + own - first.0,
            own if own > last.0 => last.1 + own - last.0,
            own => self.curve.at(own).unwrap_or(own),
        }
    }

    /// The tone of a colour by the strip, its tint as it was.
    pub(crate) fn settle(&self, xyz: Xyz) -> (Xyz, f64) {
        let density = self.density(xyz.y).clamp(PrintDensity::LEAST, PrintDensity::MOST);
        let part = 10_f64.powf(-density) / xyz.y.max(1e-9);
        (Xyz { x: xyz.x * part, y: xyz.y * part, z: xyz.z * part }, density)
    }
}

//! From a file to the readings under a wedge.

use std::path::Path;

use handcoat_craft::colour::White;
use handcoat_craft::expose::StepTablet;
use handcoat_craft::measure::{Bounded as _, PrintDensity, fixed};
use handcoat_craft::numerics::Homography;
use handcoat_craft::source::{
    PATCH_NEVER_WILD, PATCH_WILD, PIXELS_TOGETHER, ROW_BACK, ROW_INNER, SCAN_CLIPPED_PART, SCAN_LEAST_CONTRAST,
    SCAN_LEAST_U, USUAL_TABLET,
};
use handcoat_pixels::{Colour, Measured, Overlay, Scan};
use serde::{Deserialize, Serialize};

use super::place::{Found, ScanBox, alone, in_box};
use super::refused::NotRead;
use crate::expose::typed::{TabletAnswers, tablet};
use crate::tone::{OpenedScan, PatchFlag, ScanAnswers, flags_of, open_scan};
use crate::{Question, Refusal};

/// Answers about a scan of a print under a wedge. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct WedgeScanAnswers {
    /// What the codes of the scan are.
    pub scan: ScanAnswers,
    /// Where the row lies: `10%,5%,80%x12%` or `20mm,15mm,130mmx25mm`.
    pub place: Option<String>,
    /// The steps of the wedge.
    pub tablet: TabletAnswers,
}

/// A step that was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StepOnScan {
    /// Its number, the thinnest being 1.
    pub step: u8,
    /// The density of the wedge there.
    pub step_density: f64,
    /// The density of the print there.
    pub print_density: f64,
    /// Its lightness.
    pub l_star: f64,
    /// Standard uncertainty of that from its scatter alone.
    pub l_star_u: f64,
    /// Scatter inside it, L*.
    pub scatter: f64,
    /// Part of its pixels that was left out.
    pub left_out: f64,
    /// What is to be said of it.
    pub flags: Vec<PatchFlag>,
}

impl StepOnScan {
    /// Whether it is left out of the readings.
    #[must_use]
    pub fn aside(&self) -> bool {
        self.flags.contains(&PatchFlag::Spoilt)
    }
}

/// A print under a wedge that was read from a scan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WedgeScan {
    /// Its steps from the thinnest on, those that are left aside too.
    pub steps: Vec<StepOnScan>,
    /// Edges between steps that were seen.
    pub edges: usize,
    /// How far they lie off even distances, root mean square, in steps.
    pub off_steps: f64,
    /// Blur of edges, in steps.
    pub blur_steps: Option<f64>,
    /// Pixels along a step, of the picture it was read from.
    pub step_px: f64,
    /// Pixels of the file to one of that picture, each way.
    pub factor: u32,
    /// How the row lies turned from its thinnest step on, clockwise from left to right, degrees.
    pub turn_degrees: f64,
    /// Whether paper showed where step 1 begins; else it is the box.
    pub begins_by_paper: bool,
    /// What its codes were taken for: `profile`, `srgb` or `gamma`; or `strip`.
    pub codes_by: String,
    /// Pixels to the inch, where the file says so.
    pub ppi: Option<f64>,
    /// SHA-256 of the embedded profile.
    pub profile_sha256: Option<String>,
    /// What to know, with codes.
    pub warnings: Vec<(String, String)>,
}

impl WedgeScan {
    /// Steps that are left out of the readings.
    #[must_use]
    pub fn aside(&self) -> usize {
        self.steps.iter().filter(|own| own.aside()).count()
    }
}

/// A scan that was looked at: the readings or why there are none, and a picture of what was found where there is one.
#[derive(Debug)]
pub struct WedgeOutcome {
    /// The readings.
    pub read: Result<WedgeScan, Refusal>,
    /// A PNG.
    pub overlay: Option<Vec<u8>>,
}

/// Steps that are said to be so many are said how far apart they are too, unless they are as usual.
fn tablet_of(answers: &TabletAnswers) -> Result<StepTablet, Refusal> {
    let own = tablet(answers)?;
    if answers.increment.is_none() && own.steps() != USUAL_TABLET.value.steps {
        return Err(Refusal::missing(Question::StepIncrement, "0.10"));
    }
    Ok(own)
}

/// Reads a scan of a print under a wedge. The file is only read.
#[must_use]
pub fn read_wedge_scan(answers: &WedgeScanAnswers, path: &Path) -> WedgeOutcome {
    let place = answers.place.as_deref().map(ScanBox::read).transpose();
    let opened = tablet_of(&answers.tablet).and_then(|tablet| Ok((tablet, place?, open_scan(&answers.scan, path)?)));
    let (tablet, place, opened) = match opened {
        Ok(own) => own,
        Err(refusal) => return WedgeOutcome { read: Err(refusal), overlay: None },
    };
    let scan = &opened.scan;
    let strip = match place.map(|own| own.strip(scan)).transpose() {
        Ok(own) => own,
        Err(refusal) => return WedgeOutcome { read: Err(refusal), overlay: None },
    };
    let mut over = Overlay::default();
    if let Some(strip) = &strip {
        let (length, side) = (strip.length(), strip.width / 2.0);
        let corners = [(0.0, -side), (length, -side), (length, side), (0.0, side)];
        over.outline(corners.map(|own| strip.place(own.0, own.1)).to_vec(), Colour::Told);
    }
    let found = match &strip {
        Some(strip) => in_box(scan, strip, tablet.steps()),
        None => alone(scan, tablet.steps()),
    };
    let read = found.and_then(|found| {
        for at in &found.row.edges {
            let side = found.strip.width / 2.0;
            over.line(found.strip.place(*at, -side), found.strip.place(*at, side), Colour::Good);
        }
        let measured = measured(scan, &found, tablet.steps())?;
        read(&opened, &found, &tablet, &measured, &mut over)
    });
    WedgeOutcome { read: read.map_err(|own| own.refusal()), overlay: over.png(scan) }
}

/// From a step and a square across it to pixels: what is measured of a step is a square there.
fn map(found: &Found) -> Option<Homography> {
    let (across, along) = ROW_INNER.value;
    let side = across * found.strip.width / along;
    let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let place = |own: (f64, f64)| found.strip.place(found.begins + own.0 * found.row.step, own.1 * side);
    Homography::through(&corners.map(|own| (own, place(own))))
}

fn measured(scan: &Scan, found: &Found, steps: u8) -> Result<Vec<Measured>, NotRead> {
    let maps = map(found).and_then(|to| to.inverse().map(|back| (to, back)));
    let (to, back) = maps.ok_or(NotRead::Cut(1))?;
    let trim = (PATCH_WILD.value, PATCH_NEVER_WILD.value);
    let one = |step: u8| {
        scan.measure((&to, &back), (f64::from(step) - 0.5, 0.0), ROW_INNER.value.1, trim).ok_or(NotRead::Cut(step))
    };
    (1..=steps).map(one).collect()
}

fn read(
    opened: &OpenedScan,
    found: &Found,
    tablet: &StepTablet,
    measured: &[Measured],
    over: &mut Overlay,
) -> Result<WedgeScan, NotRead> {
    let most = SCAN_CLIPPED_PART.value;
    let at_end = |end: &dyn Fn(&Measured) -> f64| measured.iter().filter(|own| end(own) > most).count();
    let (dark, light) = (at_end(&|own| own.clipped.0), at_end(&|own| own.clipped.1));
    let mut steps = Vec::new();
    for (step, own) in (1_u8..).zip(measured) {
        let by_strip = opened.strip.as_ref().map(|strip| strip.settle(own.xyz));
        let plain = || (own.xyz, -own.xyz.y.max(1e-6).log10());
        let (xyz, density) = by_strip.unwrap_or_else(plain);
        let kept = (own.count as f64 * (1.0 - own.wild) / PIXELS_TOGETHER.value).max(1.0);
        let read = StepOnScan {
            step,
            step_density: tablet.density(step).map_or(0.0, |own| own.to_density()),
            print_density: density.clamp(PrintDensity::LEAST, PrintDensity::MOST),
            l_star: xyz.to_lab(White::IccD50).l_star,
            l_star_u: (own.scatter / kept.sqrt()).max(SCAN_LEAST_U.value),
            scatter: own.scatter,
            left_out: own.wild,
            flags: flags_of(own),
        };
        let colour = match (read.aside(), read.flags.is_empty()) {
            (true, _) => Colour::Bad,
            (false, false) => Colour::Told,
            (false, true) => Colour::Good,
        };
        let (across, along) = ROW_INNER.value;
        let (half, side) = (along / 2.0 * found.row.step, across * found.strip.width / 2.0);
        let middle = found.begins + (f64::from(step) - 0.5) * found.row.step;
        let corners = [(-half, -side), (half, -side), (half, side), (-half, side)];
        over.outline(corners.map(|own| found.strip.place(middle + own.0, own.1)).to_vec(), colour);
        steps.push(read);
    }
    if dark > 0 {
        return Err(NotRead::Clipped(true, dark));
    }
    if light > 0 {
        return Err(NotRead::Clipped(false, light));
    }
    let sound: Vec<&StepOnScan> = steps.iter().filter(|own| !own.aside()).collect();
    let ends = sound.iter().fold((f64::MAX, f64::MIN), |(low, high), own| (low.min(own.l_star), high.max(own.l_star)));
    // Also when none is sound: the ends are then the wrong way round.
    if ends.1 - ends.0 < SCAN_LEAST_CONTRAST.value {
        return Err(NotRead::Flat((ends.1 - ends.0).max(0.0)));
    }
    for (one, next) in sound.iter().zip(sound.iter().skip(1)) {
        if next.l_star < one.l_star - ROW_BACK.value {
            return Err(NotRead::Order(next.step, one.l_star - next.l_star));
        }
    }
    let mut own = WedgeScan {
        steps,
        edges: found.row.edges.len(),
        off_steps: found.row.off,
        blur_steps: found.row.blur,
        step_px: found.row.step,
        factor: opened.scan.factor(),
        turn_degrees: found.strip.turn_degrees(),
        begins_by_paper: found.row.paper_ends.is_some(),
        codes_by: opened.codes_by.into(),
        ppi: opened.scan.ppi().map(handcoat_pixels::Ppi::per_inch),
        profile_sha256: opened.profile_sha256.clone(),
        warnings: Vec::new(),
    };
    own.warnings = warnings(&own);
    Ok(own)
}

fn warnings(own: &WedgeScan) -> Vec<(String, String)> {
    let mut all = Vec::new();
    if own.codes_by == "srgb" {
        let said =
            "the scan has no profile; its codes are taken for sRGB. Embed the scanner's profile, or say its gamma";
        all.push(("scan_no_profile".into(), said.into()));
    }
    let aside: Vec<String> = own.steps.iter().filter(|own| own.aside()).map(|own| own.step.to_string()).collect();
    if !aside.is_empty() {
        let said = format!("left aside, a mark covers much of them or they have two tones: steps {}", aside.join(", "));
        all.push(("wedge_steps_aside".into(), said));
    }
    if !own.begins_by_paper {
        let said = "no paper is seen before step 1, so the box alone says which step is the first; look at the picture of what was found";
        all.push(("wedge_begins_by_box".into(), said.into()));
    }
    all
}

/// The readings as the table `expose wedge` reads.
#[must_use]
pub fn wedge_scan_csv(scan: &WedgeScan) -> String {
    let mut out = String::from("step,step_density,print_density,l_star,l_star_u\n");
    for own in scan.steps.iter().filter(|own| !own.aside()) {
        out.push_str(&format!(
            "{},{},{},{},{}\n",
            own.step,
            fixed(own.step_density, 3),
            fixed(own.print_density, 4),
            fixed(own.l_star, 3),
            fixed(own.l_star_u, 3)
        ));
    }
    out
}

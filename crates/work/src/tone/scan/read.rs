//! From a file to the readings of a chart.

use std::path::Path;

use handcoat_craft::measure::{fixed, read_digits, shortened};
use handcoat_craft::source::SCANNER_GAMMAS;
use handcoat_craft::tone::ChartLayout;
use handcoat_pixels::{Budget, CodeMeaning, Picture, Scan};
use serde::{Deserialize, Serialize};

use super::drawing::drawing;
use super::facts::sha256;
use super::find::{Trail, locate};
use super::patches::{PatchRead, tones};
use super::reference::Reference;
use super::refused::NotRead;
use crate::negative::{NO_INK, picture_refused};
use crate::{Question, Refusal, Remedy};

/// Answers about a scan. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ScanAnswers {
    /// The power its codes were made with, where it has no profile or a wrong one.
    pub gamma: Option<String>,
    /// The table of a step strip of known densities that lies beside the print: what stands in the file.
    pub reference: Option<Vec<u8>>,
    /// Leave the light as it fell, even where it falls off.
    pub as_lit: bool,
}

/// A chart that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartScan {
    /// What lies where.
    pub layout: ChartLayout,
    /// Its patches, row by row, those that are left aside too.
    pub patches: Vec<PatchRead>,
    /// Pixels to a millimetre of the picture it was read from.
    pub px_per_mm: f64,
    /// Pixels of the file to one of that picture, each way.
    pub factor: u32,
    /// Blur of its edges, mm.
    pub blur_mm: f64,
    /// How far marks and cells lie off their places, root mean square, mm.
    pub off_mm: f64,
    /// Check cells as they have to be, and all.
    pub cells: (usize, usize),
    /// L* of the drops, and of bare paper.
    pub black_l_star: f64,
    /// The same between the patches.
    pub paper_l_star: f64,
    /// How far the light falls off over the chart, as a part.
    pub light_fall: Option<f64>,
    /// Whether it was made even.
    pub light_evened: bool,
    /// What its codes were taken for: `profile`, `srgb` or `gamma`; or `strip` where a step strip says what they are.
    pub codes_by: &'static str,
    /// Whether it has colour.
    pub colour: bool,
    /// Pixels to the inch, where the file says so.
    pub ppi: Option<f64>,
    /// How far the chart lies turned on it, clockwise, degrees.
    pub turn_degrees: f64,
    /// SHA-256 of the embedded profile.
    pub profile_sha256: Option<String>,
    /// What to know, with codes.
    pub warnings: Vec<(&'static str, String)>,
}

impl ChartScan {
    /// Patches that are left out of the readings.
    #[must_use]
    pub fn aside(&self) -> usize {
        self.patches.iter().filter(|own| own.aside()).count()
    }
}

/// A scan that was looked at: the readings or why there are none, and a picture of what was found where there is one.
#[derive(Debug)]
pub struct ScanOutcome {
    /// The readings.
    pub read: Result<ChartScan, Refusal>,
    /// A PNG.
    pub overlay: Option<Vec<u8>>,
}

impl ScanAnswers {
    fn meaning(&self) -> Result<CodeMeaning, Refusal> {
        let about = Question::ScannerGamma;
        let Some(text) = &self.gamma else { return Ok(CodeMeaning::AsTagged) };
        let (least, most) = SCANNER_GAMMAS.value;
        let own = match read_digits("gamma", "`2.2`", text) {
            Ok((digits, "")) => Some(digits.to_f64()),
            _ => None,
        };
        own.filter(|own| (least..=most).contains(own)).map(CodeMeaning::Gamma).ok_or_else(|| {
            let cause = format!(
                "`{}` is no gamma of a scanner; expected a number from {} to {}",
                shortened(text.trim()),
                fixed(least, 1),
                fixed(most, 1)
            );
            Refusal::unreadable("gamma_unreadable", about, cause, vec![Remedy::Write(about, "2.2".into())])
        })
    }
}

/// A scan that was opened, before anything is looked for on it.
pub(crate) struct OpenedScan {
    pub(crate) scan: Scan,
    /// The step strip beside the print.
    pub(crate) strip: Option<Reference>,
    /// What its codes are taken for: `profile`, `srgb` or `gamma`; or `strip`.
    pub(crate) codes_by: &'static str,
    /// SHA-256 of the embedded profile.
    pub(crate) profile_sha256: Option<String>,
}

/// Opens a scan. The file is only read.
///
/// # Errors
/// [`Refusal`] when an answer or the picture is not taken.
pub(crate) fn open_scan(answers: &ScanAnswers, path: &Path) -> Result<OpenedScan, Refusal> {
    let meaning = answers.meaning()?;
    let refused = |own| {
        let mut refusal = picture_refused(path, &own);
        refusal.about = Some(Question::Scan);
        if let [Remedy::Write(about, example)] = refusal.remedies.as_mut_slice() {
            (*about, *example) = (Question::Scan, "scan.tif".into());
        }
        refusal
    };
    let picture = Picture::open(path, &Budget::default()).map_err(refused)?;
    let steps = answers.reference.as_ref().map(|own| Reference::steps(own)).transpose()?;
    let scan = Scan::read(&picture, meaning).map_err(refused)?;
    let strip = steps.map(|own| Reference::of(&scan, &own)).transpose()?;
    let codes_by = match meaning {
        _ if strip.is_some() => "strip",
        CodeMeaning::Gamma(_) => "gamma",
        CodeMeaning::AsTagged if scan.through_profile() => "profile",
        CodeMeaning::AsTagged => "srgb",
    };
    Ok(OpenedScan { scan, strip, codes_by, profile_sha256: picture.header().profile.as_deref().map(sha256) })
}

/// Reads a scan. The file is only read.
#[must_use]
pub fn read_scan(answers: &ScanAnswers, path: &Path) -> ScanOutcome {
    let opened = match open_scan(answers, path) {
        Ok(own) => own,
        Err(refusal) => return ScanOutcome { read: Err(refusal), overlay: None },
    };
    let scan = &opened.scan;
    let mut trail = Trail::default();
    let read = read(&opened, !answers.as_lit, &mut trail);
    let overlay = drawing(scan, &trail, read.as_ref().ok().map(|own| own.patches.as_slice()));
    ScanOutcome { read: read.map_err(|own| own.refusal()), overlay }
}

fn read(opened: &OpenedScan, even: bool, trail: &mut Trail) -> Result<ChartScan, NotRead> {
    let scan = &opened.scan;
    let chart = locate(scan, trail)?;
    let tones = tones(scan, &chart, even, opened.strip.as_ref())?;
    let mut own = ChartScan {
        patches: tones.patches,
        px_per_mm: chart.px_per_mm,
        factor: scan.factor(),
        blur_mm: chart.blur_mm,
        off_mm: chart.off_mm,
        cells: chart.cells,
        black_l_star: chart.tones.0,
        paper_l_star: tones.paper,
        light_fall: tones.fall,
        light_evened: tones.evened,
        codes_by: opened.codes_by,
        colour: scan.has_colour(),
        ppi: scan.ppi().map(handcoat_pixels::Ppi::per_inch),
        turn_degrees: chart.turn_degrees(),
        profile_sha256: opened.profile_sha256.clone(),
        layout: chart.layout,
        warnings: Vec::new(),
    };
    own.warnings = warnings(&own);
    Ok(own)
}

/// What to know of it, by what was measured.
pub(super) fn warnings(own: &ChartScan) -> Vec<(&'static str, String)> {
    let mut all = Vec::new();
    if own.codes_by == "srgb" {
        let said =
            "the scan has no profile; its codes are taken for sRGB. Embed the scanner's profile, or say its gamma";
        all.push(("scan_no_profile", said.into()));
    }
    let aside = own.aside();
    if aside > 0 {
        all.push(("scan_patches_aside", format!("{aside} patches are left aside: a mark covers much of them")));
    }
    let apart = own.patches.iter().filter(|own| own.flags.contains(&super::PatchFlag::Apart)).count();
    if apart > 0 {
        all.push((
            "scan_copies_apart",
            format!("{apart} patches are far from others of their level: an uneven coat, or a stain"),
        ));
    }
    if let Some(fall) = own.light_fall.filter(|_| own.light_evened) {
        let said = format!(
            "the light falls off by {} % over the chart, and was made even by the paper between the patches",
            fixed(100.0 * fall, 1)
        );
        all.push(("scan_light_evened", said));
    }
    all
}

/// The readings as a table for `tone fit`.
#[must_use]
pub fn scan_csv(scan: &ChartScan) -> String {
    // Red, green and blue of 16 bits have commas of their own.
    let ink = scan.layout.code.ink.map_or(NO_INK.into(), |own| own.to_string());
    let ink = if ink.contains(',') { format!("\"{ink}\"") } else { ink };
    let by_strip = scan.patches.iter().any(|own| own.density.is_some());
    let mut out = String::from("patch,input,x_mm,y_mm,copy,l_star,l_star_u");
    out.push_str(if by_strip { ",density" } else { "" });
    out.push_str(if scan.colour { ",a_star,b_star,ink\n" } else { ",ink\n" });
    for own in scan.patches.iter().filter(|own| !own.aside()) {
        let patch = &own.patch;
        let (input, x, y) = (fixed(patch.input.to_part(), 6), fixed(patch.at.x_mm, 1), fixed(patch.at.y_mm, 1));
        let (tone, off) = (fixed(own.lab.l_star, 3), fixed(own.l_star_u, 3));
        let density = own.density.map_or(String::new(), |own| format!(",{}", fixed(own, 4)));
        let (a, b) = (fixed(own.lab.a_star, 2), fixed(own.lab.b_star, 2));
        let tint = if scan.colour { format!(",{a},{b}") } else { String::new() };
        out.push_str(&format!("{},{input},{x},{y},{},{tone},{off}{density}{tint},{ink}\n", patch.number, patch.copy));
    }
    out
}

//! Tones of the patches of a chart, and whether they can be believed.

use handcoat_craft::colour::{Lab, White, Xyz};
use handcoat_craft::numerics::{MAD_TO_SD, median, median_absolute_deviation};
use handcoat_craft::source::{
    BARE_PAPER_MM, CHART_INNER_MM, COPIES_APART, COPIES_WILD, LAMP_FALL, ORDER_AGREES, PATCH_DUSTY, PATCH_NEVER_WILD,
    PATCH_SLOPE, PATCH_SPOILT, PATCH_UNEVEN, PATCH_WILD, PIXELS_TOGETHER, SCAN_CLIPPED_PART, SCAN_LEAST_U,
    SCAN_MOST_FALL, SCAN_MOST_UNEVEN,
};
use handcoat_craft::tone::{ChartPatch, Spot};
use handcoat_pixels::{Measured, Scan, Surface};
use serde::{Deserialize, Serialize};

use super::find::{Located, at};
use super::reference::Reference;
use super::refused::NotRead;

/// What is to be said of a patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum PatchFlag {
    /// Specks were left out of it.
    Dust,
    /// Its tone changes from side to side.
    Slope,
    /// It is far from others of its level.
    Apart,
    /// A mark covers much of it: it is left aside.
    Spoilt,
}

impl PatchFlag {
    /// The word of it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dust => "dust",
            Self::Slope => "slope",
            Self::Apart => "apart",
            Self::Spoilt => "spoilt",
        }
    }

    /// The flag of a word.
    pub(super) fn of(word: &str) -> Option<Self> {
        [Self::Dust, Self::Slope, Self::Apart, Self::Spoilt].into_iter().find(|own| own.word() == word)
    }

    /// Whether the patch is left aside for it.
    #[must_use]
    pub fn aside(self) -> bool {
        self == Self::Spoilt
    }
}

/// A patch that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct PatchRead {
    /// Which.
    pub patch: ChartPatch,
    /// Its colour, even light assumed or made.
    pub lab: Lab,
    /// Its density, where a strip of known ones was beside it.
    pub density: Option<f64>,
    /// Standard uncertainty of its L* from its scatter alone.
    pub l_star_u: f64,
    /// Scatter inside it, L*.
    pub scatter: f64,
    /// Part of its pixels that was left out.
    pub left_out: f64,
    /// What is to be said of it.
    pub flags: Vec<PatchFlag>,
}

impl PatchRead {
    /// Whether it is left out of the readings.
    #[must_use]
    pub fn aside(&self) -> bool {
        self.flags.iter().any(|own| own.aside())
    }
}

/// What was read of all patches, and of the light.
pub(super) struct Tones {
    pub(super) patches: Vec<PatchRead>,
    /// How far the light falls off over the chart, as a part; and whether it was made even.
    pub(super) fall: Option<f64>,
    pub(super) evened: bool,
    /// L* of bare paper between the patches.
    pub(super) paper: f64,
}

fn measured(scan: &Scan, chart: &Located, spot: Spot, side: f64) -> Result<Measured, NotRead> {
    let trim = (PATCH_WILD.value, PATCH_NEVER_WILD.value);
    scan.measure((&chart.to, &chart.back), at(spot), side, trim).ok_or(NotRead::Cut)
}

/// Reads all patches.
pub(super) fn tones(scan: &Scan, chart: &Located, even: bool, strip: Option<&Reference>) -> Result<Tones, NotRead> {
    let spots = chart.layout.frame.paper();
    let paper: Vec<Measured> =
        spots.iter().map(|own| measured(scan, chart, *own, BARE_PAPER_MM.value)).collect::<Result<_, _>>()?;
    let lights: Vec<(f64, f64, f64)> =
        spots.iter().zip(&paper).map(|(spot, own)| (spot.x_mm, spot.y_mm, own.xyz.y)).collect();
    let surface = Surface::through(&lights);
    let fall = surface.map(|own| own.fall);
    let all = chart.layout.patches.iter().map(|own| Ok((*own, measured(scan, chart, own.at, CHART_INNER_MM.value)?)));
    let all: Vec<(ChartPatch, Measured)> = all.collect::<Result<_, NotRead>>()?;
    clipped(&all, &paper)?;
    lit(surface.as_ref(), &lights, even)?;
    let surface = surface.filter(|own| even && own.fall > LAMP_FALL.value);
    let mut patches: Vec<PatchRead> = all.iter().map(|own| read(own, surface.as_ref(), strip)).collect();
    copies(&mut patches)?;
    order(&patches)?;
    let light: Vec<f64> = paper.iter().map(|own| own.lab().l_star).collect();
    Ok(Tones { patches, fall, evened: surface.is_some(), paper: median(&light).unwrap_or(0.0) })
}

/// Light that falls off further than it can be made even, or not evenly.
fn lit(surface: Option<&Surface>, lights: &[(f64, f64, f64)], even: bool) -> Result<(), NotRead> {
    let Some(surface) = surface.filter(|_| even) else { return Ok(()) };
    if surface.fall > SCAN_MOST_FALL.value {
        return Err(NotRead::Fall(surface.fall));
    }
    let l_star = |y: f64| Xyz { x: 0.0, y, z: 0.0 }.to_lab(White::IccD50).l_star;
    // What is left of each place beside the light that was found; specks and stains are few.
    let left: Vec<f64> = lights.iter().map(|own| l_star(own.2 / surface.at(own.0, own.1))).collect();
    let off = MAD_TO_SD * median_absolute_deviation(&left).unwrap_or(0.0);
    if off > SCAN_MOST_UNEVEN.value { Err(NotRead::Uneven(off)) } else { Ok(()) }
}

/// Tones at an end of the scale are not known.
fn clipped(all: &[(ChartPatch, Measured)], paper: &[Measured]) -> Result<(), NotRead> {
    let most = SCAN_CLIPPED_PART.value;
    let at_end = |end: &dyn Fn(&Measured) -> f64| all.iter().filter(|own| end(&own.1) > most).count();
    let dark = at_end(&|own| own.clipped.0);
    if dark > 0 {
        return Err(NotRead::Clipped(true, dark));
    }
    let light = at_end(&|own| own.clipped.1);
    let bare = paper.iter().filter(|own| own.clipped.1 > most).count();
    if light > 0 || 2 * bare > paper.len() {
        return Err(NotRead::Clipped(false, light));
    }
    Ok(())
}

fn read((patch, own): &(ChartPatch, Measured), surface: Option<&Surface>, strip: Option<&Reference>) -> PatchRead {
    let part = surface.map_or(1.0, |own| own.at(patch.at.x_mm, patch.at.y_mm));
    let xyz = Xyz { x: own.xyz.x / part, y: own.xyz.y / part, z: own.xyz.z / part };
    let by_strip = strip.map(|own| own.settle(xyz));
    let (xyz, density) = by_strip.map_or((xyz, None), |own| (own.0, Some(own.1)));
    let kept = (own.count as f64 * (1.0 - own.wild) / PIXELS_TOGETHER.value).max(1.0);
    PatchRead {
        patch: *patch,
        lab: xyz.to_lab(White::IccD50),
        density,
        l_star_u: (own.scatter / kept.sqrt()).max(SCAN_LEAST_U.value),
        scatter: own.scatter,
        left_out: own.wild,
        flags: flags_of(own),
    }
}

/// What is to be said of what was measured: a patch of a chart, or a step of a wedge.
pub(crate) fn flags_of(own: &Measured) -> Vec<PatchFlag> {
    let mut flags = Vec::new();
    // Much left out beside a slope is a mark that fades into what is left.
    let fading = own.wild > PATCH_DUSTY.value && own.slope > PATCH_SLOPE.value;
    if fading || own.wild > PATCH_SPOILT.value || own.scatter > PATCH_UNEVEN.value {
        flags.push(PatchFlag::Spoilt);
    } else if own.wild > PATCH_DUSTY.value {
        flags.push(PatchFlag::Dust);
    }
    if own.slope > PATCH_SLOPE.value {
        flags.push(PatchFlag::Slope);
    }
    flags
}

/// Holds patches of one level against each other.
fn copies(patches: &mut [PatchRead]) -> Result<(), NotRead> {
    let own: Vec<(f64, f64)> =
        patches.iter().filter(|own| !own.aside()).map(|own| (own.patch.input.to_part(), own.lab.l_star)).collect();
    let middle = |input: f64| {
        let alike: Vec<f64> = own.iter().filter(|own| own.0 == input).map(|own| own.1).collect();
        median(&alike)
    };
    let off: Vec<f64> = own.iter().filter_map(|own| middle(own.0).map(|middle| (own.1 - middle).abs())).collect();
    if let Some(typical) = median(&off).filter(|own| *own > COPIES_WILD.value / 2.0) {
        return Err(NotRead::Copies(2.0 * typical));
    }
    for patch in patches.iter_mut() {
        let apart = middle(patch.patch.input.to_part()).map_or(0.0, |own| (patch.lab.l_star - own).abs());
        if apart > COPIES_APART.value {
            patch.flags.push(PatchFlag::Apart);
        }
    }
    Ok(())
}

/// Ranks from 0 on; equal values share the mean of theirs.
fn ranks(values: &[f64]) -> Vec<f64> {
    let below = |own: &f64| values.iter().filter(|other| *other < own).count() as f64;
    let alike = |own: &f64| values.iter().filter(|other| *other == own).count() as f64;
    values.iter().map(|own| below(own) + (alike(own) - 1.0) / 2.0).collect()
}

/// Tones have to rise with their inputs.
fn order(patches: &[PatchRead]) -> Result<(), NotRead> {
    let (inputs, tones): (Vec<f64>, Vec<f64>) =
        patches.iter().filter(|own| !own.aside()).map(|own| (own.patch.input.to_part(), own.lab.l_star)).unzip();
    let (one, other) = (ranks(&inputs), ranks(&tones));
    let middle = (inputs.len() as f64 - 1.0) / 2.0;
    let sum = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| (a - middle) * (b - middle)).sum::<f64>();
    let agree = sum(&one, &other) / (sum(&one, &one) * sum(&other, &other)).sqrt();
    // Also when it is no number: all alike.
    if agree >= ORDER_AGREES.value { Ok(()) } else { Err(NotRead::Order(agree)) }
}

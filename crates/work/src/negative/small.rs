//! A small picture of a large one, to show on a page.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use handcoat_pixels::{Budget, Dither, Filter, Format, Job, Lut, NotMade, Output, Picture, Ppi, Run, make};

use super::refused::{picture as refused, unwritable};
use crate::Refusal;

static GO_ON: AtomicBool = AtomicBool::new(false);

/// A PNG in 8 bits of the picture as its codes are, at most `side` pixels on its long side; longer where it would be less than a 64th.
///
/// # Errors
/// [`Refusal`] when the picture is not taken, or there is no room for a file that is gone again.
pub fn small_picture(source: &Path, side: u32) -> Result<Vec<u8>, Refusal> {
    let picture = Picture::open(source, &Budget::default()).map_err(|own| refused(source, &own))?;
    small(source, picture.without_profile(), side, Output::Eight(Dither::BlueNoise))
}

/// The same in other samples, through the profile where the picture has one.
pub(crate) fn small_in(source: &Path, side: u32, output: Output) -> Result<Vec<u8>, Refusal> {
    let picture = Picture::open(source, &Budget::default()).map_err(|own| refused(source, &own))?;
    small(source, picture, side, output)
}

fn small(source: &Path, picture: Picture, side: u32, output: Output) -> Result<Vec<u8>, Refusal> {
    let (width, height) = picture.header().upright();
    let scale = (f64::from(side.max(1)) / f64::from(width.max(height).max(1))).clamp(1.0 / 63.0, 1.0);
    let scaled = |own: u32| (f64::from(own) * scale).round().max(1.0).max((f64::from(own) / 63.0).ceil()) as u32;
    // OK because 72 to the inch is a usual number.
    let ppi = Ppi::new(72.0).expect("BUG: no such ppi");
    let mut job = Job::plain(Arc::new(picture), (scaled(width), scaled(height)), ppi);
    job.mirror = false;
    job.output = output;
    job.format = Format::Png;
    for own in &mut job.pictures {
        own.table = Lut::straight();
        own.filter = Filter::Area;
    }
    let folder = tempfile::tempdir().map_err(|own| unwritable(&std::env::temp_dir(), &own))?;
    let target = folder.path().join("small.png");
    let run = Run { cancel: &GO_ON, ..Run::default() };
    make(&job, &target, &run).map_err(|error| match error {
        NotMade::Picture { refused: own, .. } => refused(source, &own),
        other => unwritable(&target, &std::io::Error::other(other.to_string())),
    })?;
    std::fs::read(&target).map_err(|own| unwritable(&target, &own))
}

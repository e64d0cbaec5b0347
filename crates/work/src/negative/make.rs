//! The picture is opened, the sheet planned, the file made.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use handcoat_craft::negative::{Border, Mark, PictureFacts, PixelSize, Rect, table, warnings};
use handcoat_pixels::{
    Budget, Checkpoint, Checkpoints, Depth, Drawn, Filter, GreyTone, Job, Lut, Made, Orientation, Output, Picture,
    Placed, Ppi, Progress, Run, SheetSize, grey_profile, make as made_of,
};

use super::answers::NegativeAnswers;
use super::curve::CurveOf;
use super::drawn::{Plain, Squares};
use super::refused::{job, not_made, picture as refused, unwritable};
use crate::{Question, Refusal, Remedy};

/// What goes along while a negative is made.
pub struct Hooks<'a> {
    /// Told how many rows of how many are written.
    pub progress: &'a (dyn Fn(u32, u32) + Sync),
    /// Looked at again and again: whether to stop.
    pub cancel: &'a AtomicBool,
    /// Where it can go on later is handed out here, when that is wanted.
    pub checkpoint: Option<&'a (dyn Fn(&Checkpoint) + Sync)>,
    /// Where an earlier run got to.
    pub resume: Option<Checkpoint>,
    /// Told what the file is just before it gets its name.
    pub whole: &'a (dyn Fn(&Negative) + Sync),
}

impl<'a> Hooks<'a> {
    /// Told how far it is, and asked whether to stop.
    #[must_use]
    pub fn of(progress: &'a (dyn Fn(u32, u32) + Sync), cancel: &'a AtomicBool) -> Self {
        Self { progress, cancel, checkpoint: None, resume: None, whole: &|_| {} }
    }
}

/// Bands from one checkpoint to the next: at most 64 MiB of a sheet.
const CHECKPOINT_EVERY: u32 = 16;

/// A negative that was made.
#[derive(Clone, Debug, PartialEq)]
pub struct Negative {
    /// Pixels of the file across.
    pub width_px: u32,
    /// And down.
    pub height_px: u32,
    /// Pixels of the picture in it.
    pub picture: PixelSize,
    /// Pixels to the inch.
    pub ppi: f64,
    /// So many times as many pixels across as the picture has.
    pub scale: f64,
    /// Of the whole file, in hexadecimal.
    pub sha256: String,
    /// Bytes of the file.
    pub bytes: u64,
    /// Whether the picture came through its embedded profile.
    pub profile_used: bool,
    /// Whether light and dark are changed over, and left and right.
    pub inverted: bool,
    /// And left and right.
    pub mirrored: bool,
    /// The border, where there is one.
    pub border: Option<Border>,
    /// What is written in its code of squares.
    pub code: Option<String>,
    /// Where the curve is from.
    pub curve: String,
    /// The response the curve is of.
    pub response: Option<u32>,
    /// What to know, with codes.
    pub warnings: Vec<(&'static str, String)>,
}

impl Negative {
    /// Its sides in millimetres.
    #[must_use]
    pub fn millimetres(&self) -> (f64, f64) {
        PixelSize { width: self.width_px, height: self.height_px }.millimetres(self.ppi)
    }
}

/// Makes a negative. Order: grey, resample, curve, invert, mirror left to right.
///
/// # Errors
/// [`Refusal`] when an answer or the picture cannot be taken, or the file cannot be written; nothing half made stands under its name.
pub fn make(
    answers: &NegativeAnswers,
    source: &Path,
    target: &Path,
    curve: &CurveOf,
    hooks: &Hooks<'_>,
) -> Result<Negative, Refusal> {
    let (side, about) = answers.side()?;
    let ppi = answers.ppi()?;
    let format = answers.format(target)?;
    let stands = target.symlink_metadata().is_ok();
    if stands && !answers.force {
        return Err(Refusal::occupied(Question::Output, target));
    }
    let opened = Picture::open(source, &Budget::default()).map_err(|own| refused(source, &own))?;
    if stands && same_file(source, target) {
        let cause = format!("`{}` is the picture itself, which is never written over", target.display());
        return Err(Refusal::rule("picture_overwritten", Question::Output, cause, vec![Remedy::AnotherName]));
    }
    let header = opened.header();
    let (width, height) = header.upright();
    let own = PixelSize { width, height };
    let (eight_bit, profile_used) = (header.depth == Depth::Eight, header.profile.is_some());
    let too_small = || {
        let cause = format!("at {} pixels to the inch this side has no pixel", ppi.per_inch());
        Refusal::rule("negative_size", about, cause, vec![Remedy::Write(about, "10in".into())])
    };
    let size = PixelSize::of(own, side, ppi.per_inch()).ok_or_else(too_small)?;
    let entries = table(&curve.points, !answers.no_invert).map_err(|error| {
        let remedies = vec![Remedy::Write(Question::Curve, "curve.csv".into())];
        Refusal::rule("curve_none", Question::Curve, error.to_string(), remedies)
    })?;
    let border = if answers.no_border { None } else { Border::around(size, ppi.per_inch()) };
    let name = |path: &Path| path.file_stem().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let code = border.as_ref().map(|_| format!("{} | {} | {}ppi", name(source), curve.from, ppi.per_inch()));
    let plan =
        Plan { picture: Arc::new(opened), size, entries: &entries, border: border.as_ref(), code: code.as_deref() };
    let (job_, drawn_code) = plan.job(answers, ppi, format)?;
    job_.check().map_err(|own| job(about, &own))?;

    let facts = PictureFacts { pixels: own, eight_bit };
    let all = warnings(facts, size, ppi.per_inch(), &entries);
    let mut said: Vec<_> = all.iter().map(|own| (own.code(), own.to_string())).collect();
    said.extend(curve.doubts.iter().cloned());
    let negative = |made: &Made| Negative {
        width_px: made.width_px,
        height_px: made.height_px,
        picture: size,
        ppi: ppi.per_inch(),
        scale: f64::from(size.width) / f64::from(own.width.max(1)),
        sha256: made.sha256.clone(),
        bytes: made.bytes,
        profile_used,
        inverted: !answers.no_invert,
        mirrored: !answers.no_mirror,
        border: border.clone(),
        code: code.clone().filter(|_| drawn_code),
        curve: curve.from.clone(),
        response: curve.response,
        warnings: said.clone(),
    };

    let progress = |own: Progress| (hooks.progress)(own.rows, own.of);
    let whole = |own: &Made| (hooks.whole)(&negative(own));
    let checkpoint = hooks.checkpoint.map(|keep| Checkpoints { every: CHECKPOINT_EVERY, keep });
    let run = Run {
        progress: &progress,
        cancel: hooks.cancel,
        checkpoint,
        resume: hooks.resume.clone(),
        durable: true,
        whole: &whole,
        ..Run::default()
    };
    let beside = if stands { beside(target) } else { target.to_owned() };
    if stands {
        // What an earlier run that was killed left under this name of ours.
        let _ = std::fs::remove_file(&beside);
    }
    let made = made_of(&job_, &beside, &run).map_err(|own| not_made(about, source, target, &own))?;
    if stands {
        std::fs::rename(&beside, target).map_err(|own| {
            // The first failure is the one to tell of, whether or not this works.
            let _ = std::fs::remove_file(&beside);
            unwritable(target, &own)
        })?;
    }
    Ok(negative(&made))
}

/// The name under which a file is made that takes the place of another.
fn beside(target: &Path) -> PathBuf {
    let mut name = target.as_os_str().to_owned();
    name.push(".new");
    PathBuf::from(name)
}

fn same_file(one: &Path, other: &Path) -> bool {
    matches!((one.canonicalize(), other.canonicalize()), (Ok(one), Ok(other)) if one == other)
}

/// What lies where.
struct Plan<'a> {
    picture: Arc<Picture>,
    size: PixelSize,
    entries: &'a [u16],
    border: Option<&'a Border>,
    code: Option<&'a str>,
}

impl Plan<'_> {
    /// The sheet, and whether the code of squares found room on it.
    fn job(
        &self,
        answers: &NegativeAnswers,
        ppi: Ppi,
        format: handcoat_pixels::Format,
    ) -> Result<(Job, bool), Refusal> {
        let sheet = self.border.map_or(self.size, |own| own.sheet);
        let at = self.border.map_or((0, 0), |own| (own.picture.left, own.picture.top));
        // OK because a table of `craft` has an entry for each of the codes.
        let table = Lut::from_entries(self.entries).expect("BUG: a table without 65,536 entries");
        let placed = Placed {
            picture: Arc::clone(&self.picture),
            turn: Orientation::upright(),
            crop: None,
            size: (self.size.width, self.size.height),
            filter: Filter::default(),
            table,
            at,
        };
        let mut drawn = Vec::new();
        for (place, mark) in self.border.iter().flat_map(|own| &own.marks) {
            let code = match mark {
                Mark::Ink => 0,
                Mark::Tone(tone) => {
                    let entry = (tone * f64::from(u16::MAX) + 0.5) as usize;
                    self.entries.get(entry).copied().unwrap_or(u16::MAX)
                }
            };
            drawn.push(strip(Arc::new(Plain(code)), *place));
        }
        let place = self.border.and_then(|own| own.code);
        let squares = self.code.zip(place).and_then(|(text, place)| Squares::of(text, place));
        let has_code = squares.is_some();
        drawn.extend(squares.map(|(own, place)| strip(Arc::new(own), place)));
        let job = Job {
            sheet: SheetSize { width: sheet.width, height: sheet.height },
            // Clear film, whether or not light and dark are changed over.
            ground: u16::MAX,
            pictures: vec![placed],
            drawn,
            mirror: !answers.no_mirror,
            output: Output::Sixteen,
            format,
            ppi,
            profile: Some(grey_profile(GreyTone::Lightness)),
            note: None,
        };
        Ok((job, has_code))
    }
}

fn strip(strips: Arc<dyn handcoat_pixels::DrawnStrips>, place: Rect) -> Drawn {
    Drawn { strips, size: (place.width, place.height), at: (place.left, place.top) }
}

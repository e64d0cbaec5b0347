//! The pictures are opened, the sheet planned, the file made.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use handcoat_craft::measure::{fixed, significant};
use handcoat_craft::negative::{Border, PictureFacts, PixelSize, Rect, Sides, Warning, warnings};
use handcoat_pixels::{
    Beyond, Checkpoint, Checkpoints, Format, Job, Made, NotMade, Output, Progress, Run, forget_unfinished,
    make as made_of, unfinished,
};

use super::answers::NegativeAnswers;
use super::curve::CurveOf;
use super::file::{check_target, same_file};
use super::plan::{Planned, plan, plan_of_heads, plan_of_known};
use super::refused::{not_made, unwritable};
use super::rule::Rule;
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

/// One picture on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureOnFilm {
    /// Its file.
    pub file: PathBuf,
    /// Where it lies on the sheet before that is mirrored, without its border.
    pub place: Rect,
    /// Its own pixels, as it is shown.
    pub own: PixelSize,
    /// So many times as many pixels across as it has.
    pub scale: f64,
    /// Whether it came through its embedded profile, or what the file says in the place of one.
    pub profile_used: bool,
    /// What its numbers were taken for, in words.
    pub tones: String,
    /// What of the whole picture lies beyond 0 to 1, and was kept to the ends.
    pub beyond: Option<Beyond>,
    /// Its border, from the upper left of that.
    pub border: Option<Border>,
    /// What is written in its code of squares.
    pub code: Option<String>,
    /// What its line of words reads.
    pub line: Option<String>,
}

/// A negative that was made.
#[derive(Clone, Debug, PartialEq)]
pub struct Negative {
    /// Pixels of the file across.
    pub width_px: u32,
    /// And down.
    pub height_px: u32,
    /// Pixels of the first picture in it.
    pub picture: PixelSize,
    /// Pixels to the inch, as the file says.
    pub ppi: f64,
    /// The same as lengths are counted, after what the rule said.
    pub counted_ppi: f64,
    /// So many times as many pixels across as the first picture has.
    pub scale: f64,
    /// What leads from film and print back to it: eight signs.
    pub mark: String,
    /// SHA-256 of each picture that was opened, copies not counted.
    pub sources: Vec<String>,
    /// Of the whole file, in hexadecimal.
    pub sha256: String,
    /// Bytes of the file.
    pub bytes: u64,
    /// Whether the first picture came through its embedded profile.
    pub profile_used: bool,
    /// Whether light and dark are changed over, and left and right.
    pub inverted: bool,
    /// And left and right.
    pub mirrored: bool,
    /// The border of the first picture, where there is one.
    pub border: Option<Border>,
    /// What is written in its code of squares.
    pub code: Option<String>,
    /// Where the curve is from.
    pub curve: String,
    /// The response the curve is of.
    pub response: Option<u32>,
    /// Every picture, copies too.
    pub pictures: Vec<PictureOnFilm>,
    /// Whether the size of the film was said.
    pub on_film: bool,
    /// Bits of a sample.
    pub bits: u8,
    /// The one ink it is in.
    pub ink: Option<String>,
    /// What was measured for the rule, and what it said.
    pub rule: Option<Rule>,
    /// What to know, with codes.
    pub warnings: Vec<(&'static str, String)>,
}

impl Negative {
    /// Its sides in millimetres.
    #[must_use]
    pub fn millimetres(&self) -> (f64, f64) {
        PixelSize { width: self.width_px, height: self.height_px }.millimetres(self.counted_ppi)
    }

    /// Lengths of the rules in its borders in millimetres, each once.
    #[must_use]
    pub fn rules_mm(&self) -> Vec<f64> {
        let mut all: Vec<f64> = Vec::new();
        for own in self.pictures.iter().filter_map(|own| Some(own.border.as_ref()?.rule?.millimetres)) {
            if !all.contains(&own) {
                all.push(own);
            }
        }
        all
    }
}

/// Makes a negative. Order: upright, turned, cropped, grey, resample, curve, invert, mirror left to right.
///
/// # Errors
/// [`Refusal`] when an answer or a picture cannot be taken, or the file cannot be written; nothing half made stands under its name.
pub fn make(
    answers: &NegativeAnswers,
    source: &Path,
    target: &Path,
    curve: &CurveOf,
    hooks: &Hooks<'_>,
) -> Result<Negative, Refusal> {
    let format = answers.format(target)?;
    check_target(Question::Output, target, answers.force)?;
    let mut planned = plan(answers, source, curve)?;
    for own in &planned.shown {
        if let Some(written) = every_name(target).iter().find(|name| same_file(&own.file, name)) {
            let cause = format!("`{}` is the picture itself, which is never written over", written.display());
            return Err(Refusal::rule("picture_overwritten", Question::Output, cause, vec![Remedy::AnotherName]));
        }
    }
    let job = planned.job(format)?;
    planned.count_beyond()?;
    let whole = |own: &Made| (hooks.whole)(&negative(answers, &planned, curve, own.clone()));
    let made = written(&job, target, answers.force, hooks, &whole);
    let made = made.map_err(|own| refusal(&planned, source, target, own))?;
    Ok(negative(answers, &planned, curve, made))
}

/// Whether a negative can be made as it is asked: answers, picture and place on the film. To be asked before a long job; only the head of
/// the picture is read.
///
/// # Errors
/// As [`make`], of all that can be known before.
pub fn check_fits(answers: &NegativeAnswers, source: &Path, target: &Path, curve: &CurveOf) -> Result<(), Refusal> {
    let format = answers.format(target)?;
    plan_of_heads(answers, source, curve)?.job(format)?;
    Ok(())
}

/// Whether a small picture can have that name beside its negative; to be asked before a long job.
///
/// # Errors
/// [`Refusal`] when it is no PNG or the negative's own, or something stands there.
pub fn check_preview(target: &Path, negative: Option<&Path>, force: bool) -> Result<(), Refusal> {
    let about = Question::Preview;
    if negative == Some(target) {
        let cause = format!("`{}` is the name of the negative and of the small picture", target.display());
        let remedies = vec![Remedy::Write(about, "preview.png".into()), Remedy::LeaveOut(about)];
        return Err(Refusal::rule("preview_is_file", about, cause, remedies));
    }
    if NegativeAnswers::default().format(target).ok() != Some(Format::Png) {
        let cause = format!("`{}` is named as no PNG; expected a name in .png", target.display());
        let remedies = vec![Remedy::Write(about, "preview.png".into())];
        return Err(Refusal::unreadable("preview_name_unknown", about, cause, remedies));
    }
    check_target(about, target, force)
}

/// Makes a small picture of the sheet as it prints, a PNG of at most 1200 pixels on its longer side: right-reading, in the tones that are wanted.
/// `known` are the SHA-256 of the pictures in their order, where the negative was made before and they were read for it; none where not.
///
/// # Errors
/// The same as [`make`].
pub fn preview(
    answers: &NegativeAnswers,
    source: &Path,
    target: &Path,
    curve: &CurveOf,
    known: &[String],
    hooks: &Hooks<'_>,
) -> Result<(), Refusal> {
    let about = Question::Preview;
    check_preview(target, None, answers.force)?;
    let planned = plan_of_known(answers, source, curve, known)?;
    if planned.shown.iter().any(|own| every_name(target).iter().any(|name| same_file(&own.file, name))) {
        let cause = format!("`{}` is the picture itself, which is never written over", target.display());
        return Err(Refusal::rule("picture_overwritten", about, cause, vec![Remedy::AnotherName]));
    }
    let made = written(&planned.small(), target, answers.force, hooks, &|_| {});
    made.map_err(|own| refusal(&planned, source, target, own))?;
    Ok(())
}

/// Why a file was not written.
pub(super) enum NotWritten {
    Made(NotMade),
    Named(std::io::Error),
}

fn refusal(planned: &Planned, source: &Path, target: &Path, error: NotWritten) -> Refusal {
    let made = match error {
        NotWritten::Named(own) => return unwritable(target, &own),
        NotWritten::Made(own) => own,
    };
    // Which of the pictures it was.
    let number = if let NotMade::Picture { number, .. } = &made { number.checked_sub(1) } else { None };
    let placed = number.and_then(|own| planned.placed.get(own)).and_then(|own| planned.shown.get(own.0));
    not_made(planned.about, placed.map_or(source, |own| &own.file), target, &made)
}

/// Writes a sheet under its name, in the place of another when that is wanted.
pub(super) fn written(
    job: &Job,
    target: &Path,
    force: bool,
    hooks: &Hooks<'_>,
    whole: &(dyn Fn(&Made) + Sync),
) -> Result<Made, NotWritten> {
    let stands = force && target.symlink_metadata().is_ok();
    let progress = |own: Progress| (hooks.progress)(own.rows, own.of);
    let run = Run {
        progress: &progress,
        cancel: hooks.cancel,
        checkpoint: hooks.checkpoint.map(|keep| Checkpoints { every: CHECKPOINT_EVERY, keep }),
        resume: hooks.resume.clone(),
        durable: true,
        whole,
        ..Run::default()
    };
    let beside = if stands { beside(target) } else { target.to_owned() };
    if stands {
        // What an earlier run that was killed left under this name of ours.
        let _ = std::fs::remove_file(&beside);
    }
    let made = made_of(job, &beside, &run).map_err(NotWritten::Made)?;
    if stands {
        std::fs::rename(&beside, target).map_err(|own| {
            // The first failure is the one to tell of, whether or not this works.
            let _ = std::fs::remove_file(&beside);
            NotWritten::Named(own)
        })?;
    }
    Ok(made)
}

/// What lies beyond the ends, and what became of it.
fn beyond_words(own: Beyond) -> String {
    let share = 100.0 * own.pixels as f64 / own.of.max(1) as f64;
    format!(
        "{} % of its pixels lie beyond 0 to 1 (smallest value {}, largest {}); they became plain black and plain white, and what they held is lost: bring its values within 0 to 1 first where that is not meant",
        significant(share, 2),
        significant(own.least, 3),
        significant(own.most, 3)
    )
}

/// On which sides, in words.
#[must_use]
pub fn sides_words(own: Sides) -> &'static str {
    match own {
        Sides::All => "on all sides",
        Sides::Short => "on the short sides",
        Sides::Long => "on the long sides",
        Sides::OneShort => "on one short side",
        Sides::OneLong => "on one long side",
    }
}

/// What to know of it.
fn known(planned: &Planned, curve: &CurveOf) -> Vec<(&'static str, String)> {
    let mut said = Vec::new();
    for own in &planned.shown {
        let facts = PictureFacts { pixels: own.own, eight_bit: own.eight_bit };
        let which = if planned.shown.len() > 1 { format!("{}: ", own.file.display()) } else { String::new() };
        let all = warnings(facts, own.size, planned.ppi.per_inch(), &planned.entries);
        said.extend(all.iter().map(|own| (own.code(), format!("{which}{own}"))));
        if own.profile_used && curve.response.is_none() {
            let words = "it is brought to lightness before the curve; a curve that was found without profiles gives other tones";
            said.push(("profile_before_table", format!("{which}{words}")));
        }
        said.extend(own.beyond.map(|beyond| ("values_beyond", format!("{which}{}", beyond_words(beyond)))));
    }
    let mut more = Vec::new();
    if matches!(planned.output, Output::Eight(_)) {
        more.extend(Warning::of_dither(&planned.entries));
    }
    if curve.response.is_none() {
        more.extend(curve.ends().and_then(Warning::of_ends));
    }
    if let Some(own) = &curve.setup {
        more.extend(own.film_range.zip(own.scale).and_then(|(film, paper)| Warning::of_range(film, paper)));
    }
    said.extend(more.iter().map(|own| (own.code(), own.to_string())));
    if let Some(rule) = &planned.rule {
        said.extend(rule.said());
    }
    if let Some(own) = planned.fewer_sides {
        let words = format!("this film has no room for a border all around; it stands {}", sides_words(own));
        said.push(("border_fewer_sides", words));
    }
    if planned.sheet_turned {
        let (across, down) = planned.sheet.millimetres(planned.counted);
        let words = format!(
            "the film is taken the other way, {} mm wide and {} mm high; as it was said it has no room",
            fixed(across, 0),
            fixed(down, 0)
        );
        said.push(("sheet_turned", words));
    }
    said.extend(curve.ink_other(planned.ink.as_ref().map(|own| own.name.as_str()), "this negative"));
    said.extend(curve.doubts.iter().cloned());
    said
}

fn negative(answers: &NegativeAnswers, planned: &Planned, curve: &CurveOf, made: Made) -> Negative {
    let placed = planned.placed.iter().filter_map(|own| Some((planned.shown.get(own.0)?, own.1)));
    let pictures: Vec<PictureOnFilm> = placed
        .map(|(own, place)| PictureOnFilm {
            file: own.file.clone(),
            place: Planned::picture_in(own, place),
            own: own.own,
            scale: f64::from(own.size.width) / f64::from(own.own.width.max(1)),
            profile_used: own.profile_used,
            tones: own.tones.clone(),
            beyond: own.beyond,
            border: own.border.clone(),
            code: own.code.clone(),
            line: own.line.clone(),
        })
        .collect();
    let first = pictures.first();
    Negative {
        width_px: made.width_px,
        height_px: made.height_px,
        picture: first.map_or(planned.sheet, |own| PixelSize { width: own.place.width, height: own.place.height }),
        ppi: planned.ppi.per_inch(),
        counted_ppi: planned.counted,
        scale: first.map_or(1.0, |own| own.scale),
        mark: planned.mark.clone(),
        sources: planned.sha256.clone(),
        sha256: made.sha256,
        bytes: made.bytes,
        profile_used: first.is_some_and(|own| own.profile_used),
        inverted: !answers.no_invert,
        mirrored: !answers.no_mirror,
        border: first.and_then(|own| own.border.clone()),
        code: first.and_then(|own| own.code.clone()),
        curve: curve.from.clone(),
        response: curve.response,
        on_film: planned.on_film,
        bits: if matches!(planned.output, Output::Eight(_)) { 8 } else { 16 },
        ink: planned.ink.as_ref().map(|own| own.name.clone()),
        rule: planned.rule.clone(),
        warnings: known(planned, curve),
        pictures,
    }
}

/// The name under which a file is made that takes the place of another.
fn beside(target: &Path) -> PathBuf {
    let mut name = target.as_os_str().to_owned();
    name.push(".handcoat-new");
    PathBuf::from(name)
}

/// Every name that is written under while a negative is made: its own, that of its unfinished file, and the same beside a file it takes the place of.
fn every_name(target: &Path) -> [PathBuf; 4] {
    let beside = beside(target);
    [target.to_owned(), unfinished(target), unfinished(&beside), beside]
}

/// Takes away what is left unfinished of a negative, unless somebody works on it.
pub fn forget(target: &Path) {
    for own in [target, &beside(target)] {
        forget_unfinished(own);
    }
}

//! Strips of candidate inks: one for each, from no ink to all of it. On the print the maker sees which reaches paper white first.

use std::path::Path;

use handcoat_craft::measure::{Length, Readable};
use handcoat_craft::negative::{InkSheet, Line, PixelSize};
use handcoat_craft::source::{INK_LENGTH_MM, MOST_INKS};
use handcoat_pixels::{InkRows, Job, Output, SheetSize};

use super::answers::NegativeAnswers;
use super::chosen::ink;
use super::drawn::{Codes, Plain, Words, strip};
use super::file::check_target;
use super::make::{Hooks, NotWritten, written};
use super::refused::{job as refused_job, not_made, unwritable};
use crate::{Question, Refusal, Remedy};

/// Answers about a sheet of inks. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct InkAnswers {
    pub inks: Vec<String>,
    pub length: Option<String>,
    pub ppi: Option<String>,
    pub packing: Option<String>,
    pub no_mirror: bool,
    pub force: bool,
}

/// A sheet of inks that was made.
#[derive(Clone, Debug, PartialEq)]
pub struct InksMade {
    /// Pixels of the file.
    pub pixels: PixelSize,
    /// Pixels to the inch.
    pub ppi: f64,
    /// The inks from above, as they are written.
    pub inks: Vec<String>,
    /// Steps of a strip.
    pub steps: usize,
    /// Of the whole file, in hexadecimal.
    pub sha256: String,
    /// Bytes of the file.
    pub bytes: u64,
}

/// Makes a sheet of inks.
///
/// # Errors
/// [`Refusal`] when an answer cannot be taken, or the file cannot be written.
pub fn make_inks(answers: &InkAnswers, target: &Path, hooks: &Hooks<'_>) -> Result<InksMade, Refusal> {
    let about = Question::InkColour;
    let shared = NegativeAnswers { ppi: answers.ppi.clone(), packing: answers.packing.clone(), ..Default::default() };
    let (format, ppi) = (shared.format(target)?, shared.ppi()?);
    check_target(Question::Output, target, answers.force)?;
    let inks = answers.inks.iter().map(|own| ink(own)).collect::<Result<Vec<_>, _>>()?;
    if inks.is_empty() {
        return Err(Refusal::missing(about, "#204060"));
    }
    if inks.len() > MOST_INKS.value {
        let cause = format!("{} inks are said; at most {} are on one sheet", inks.len(), MOST_INKS.value);
        return Err(Refusal::rule("inks_many", about, cause, vec![Remedy::LeaveOut(about)]));
    }
    let about = Question::StripLength;
    let length = match &answers.length {
        None => INK_LENGTH_MM.value,
        Some(text) => Length::read(text).map_err(|own| Refusal::quantity(about, Length::FORMS, &own))?.to_millimetres(),
    };
    let sheet = InkSheet::of(inks.len(), length, ppi.per_inch()).ok_or_else(|| {
        let cause = format!("at {} pixels to the inch a step of such a strip has no pixel", ppi.per_inch());
        Refusal::rule("negative_size", about, cause, vec![Remedy::Write(about, "190mm".into())])
    })?;
    let mut drawn = Vec::new();
    let mut rows = InkRows { first: 0, high: 0, every: 0, inks: [None; InkRows::MOST] };
    for (number, (own, place)) in inks.iter().zip(&sheet.strips).enumerate() {
        let words = format!("{} · {} · from no ink to all of it", number + 1, own.name);
        let words = Words::of(&words, Line { place: place.name, upwards: false }, Codes::FILM);
        drawn.extend(words.map(|(own, at)| strip(own, at)));
        let most = place.steps.len().saturating_sub(1).max(1) as f64;
        for (step, at) in place.steps.iter().enumerate() {
            let code = f64::from(u16::MAX) * (1.0 - step as f64 / most);
            drawn.push(strip(Plain(code.round() as u16), *at));
        }
        match number {
            0 => (rows.first, rows.high, rows.every) = (place.rows.0, place.rows.1 - place.rows.0, u32::MAX),
            1 => rows.every = place.rows.0 - rows.first,
            _ => {}
        }
        if let Some(slot) = rows.inks.get_mut(number) {
            *slot = Some(own.ink);
        }
    }
    let job = Job {
        sheet: SheetSize { width: sheet.sheet.width, height: sheet.sheet.height },
        ground: u16::MAX,
        pictures: Vec::new(),
        drawn,
        mirror: !answers.no_mirror,
        output: Output::Strips(rows),
        format,
        ppi,
        profile: None,
        note: None,
    };
    job.check().map_err(|own| refused_job(about, &own))?;
    let made = written(&job, target, answers.force, hooks, &|_| {}).map_err(|own| match own {
        NotWritten::Named(own) => unwritable(target, &own),
        NotWritten::Made(own) => not_made(about, target, target, &own),
    })?;
    Ok(InksMade {
        pixels: sheet.sheet,
        ppi: ppi.per_inch(),
        inks: inks.into_iter().map(|own| own.name).collect(),
        steps: handcoat_craft::source::INK_STEPS.value,
        sha256: made.sha256,
        bytes: made.bytes,
    })
}

//! The answers about a chart read, and its file made.

use std::path::Path;
use std::sync::Arc;

use handcoat_craft::measure::{Readable, Size, fixed, shortened};
use handcoat_craft::negative::{Line, Rect, pixels_of, table};
use handcoat_craft::source::{CHART_BAND_MM, CHART_LETTERS_MM};
use handcoat_craft::tone::{BookTag, ChartCode, ChartInk, ChartLayout, ChartSize};
use handcoat_pixels::{Drawn, GreyTone, Ink, Job, Output, Progress, Run, SheetSize, grey_profile, make as made_of};

use super::drawn::{ChartDrawn, FilmCodes};
use super::whose::ChartOf;
use crate::negative::{Codes, CurveOf, Hooks, NamedInk, NegativeAnswers, Plain, Words, not_made, strip};
use crate::{Question, Refusal, Remedy};

/// Answers about a chart for film. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct ChartPrintAnswers {
    pub levels: Option<String>,
    pub seed: Option<String>,
    pub sheet: Option<String>,
    pub ppi: Option<String>,
    pub packing: Option<String>,
    /// The one ink it is printed in.
    pub ink: Option<String>,
    /// Words for the line of letters.
    pub note: Option<String>,
    /// The day in it.
    pub day: Option<String>,
    /// The short strip instead of a chart.
    pub strip: bool,
    /// With light and dark as the print has them.
    pub no_invert: bool,
    /// With left and right as the print has them.
    pub no_mirror: bool,
}

/// A chart that was made.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartMade {
    /// What lies where.
    pub layout: ChartLayout,
    /// Pixels of the file across.
    pub width_px: u32,
    /// And down.
    pub height_px: u32,
    /// The upper left pixel of the chart in the file as it is seen on the print.
    pub at_px: (u32, u32),
    /// Pixels to the inch.
    pub ppi: f64,
    /// Of the whole file, in hexadecimal.
    pub sha256: String,
    /// The curve it goes through, where there is one.
    pub curve: Option<String>,
    /// The one ink it is in, where it is in one.
    pub ink: Option<String>,
    /// What the line of letters reads.
    pub letters: Option<String>,
    /// What to know, with codes.
    pub warnings: Vec<(&'static str, String)>,
}

/// Levels where nothing else is said.
const USUAL: ChartSize = ChartSize::Forty;
impl ChartPrintAnswers {
    /// What the line of letters shall read: the set-up, the lot of its paper or a note, the day.
    fn letters(&self, of: &ChartOf) -> Result<Option<String>, Refusal> {
        let note = self.note.as_deref().map(str::trim).filter(|own| !own.is_empty());
        let lot = of.setup.as_ref().and_then(|own| own.lot.as_ref()).map(|own| format!("lot {own}"));
        let name = of.setup.as_ref().map(|own| own.name.clone());
        let parts = [name, lot, note.map(String::from), self.file().day()?];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        Ok((!parts.is_empty()).then(|| parts.join(" · ")))
    }

    /// What is answered as for any file for film.
    fn file(&self) -> NegativeAnswers {
        NegativeAnswers {
            ppi: self.ppi.clone(),
            packing: self.packing.clone(),
            ink: self.ink.clone(),
            day: self.day.clone(),
            ..NegativeAnswers::default()
        }
    }

    fn size(&self) -> Result<ChartSize, Refusal> {
        let about = Question::ChartLevels;
        let Some(text) = &self.levels else { return Ok(if self.strip { ChartSize::Strip } else { USUAL }) };
        if self.strip {
            let cause = format!(
                "a strip always has {} levels, and a number of levels is said besides",
                ChartSize::Strip.levels()
            );
            return Err(Refusal::rule("levels_of_strip", about, cause, vec![Remedy::LeaveOut(about)]));
        }
        let found = text.trim().parse().ok().and_then(ChartSize::of_levels);
        found.filter(|own| *own != ChartSize::Strip).ok_or_else(|| {
            let sizes: Vec<String> = ChartSize::ALL.iter().skip(1).map(|own| own.levels().to_string()).collect();
            let cause = format!(
                "there is no chart of `{}` levels; there are charts of {}, and a strip",
                shortened(text.trim()),
                sizes.join(", ")
            );
            let remedies = sizes.into_iter().map(|own| Remedy::Write(about, own)).collect();
            Refusal::unreadable("levels_unknown", about, cause, remedies)
        })
    }

    fn seed(&self) -> Result<u32, Refusal> {
        let about = Question::Seed;
        let Some(text) = &self.seed else { return Ok(1) };
        text.trim().parse().map_err(|_| {
            let cause =
                format!("`{}` is no seed; expected a whole number from 0 to {}", shortened(text.trim()), u32::MAX);
            Refusal::unreadable("seed_unreadable", about, cause, vec![Remedy::Write(about, "1".into())])
        })
    }

    /// Pixels of the sheet, turned so that the chart fits where it does.
    fn sheet(&self, layout: &ChartLayout, ppi: f64) -> Result<(u32, u32), Refusal> {
        let frame = &layout.frame;
        let own = (pixels_of(frame.width_mm, ppi), pixels_of(frame.height_mm, ppi));
        let about = Question::ChartSheet;
        let Some(text) = &self.sheet else { return Ok(own) };
        let size = Size::read(text).map_err(|error| Refusal::quantity(about, Size::FORMS, &error))?;
        let (wide, high) = (size.width.to_millimetres(), size.height.to_millimetres());
        let px = (pixels_of(wide, ppi), pixels_of(high, ppi));
        let fits = |sheet: &(u32, u32)| sheet.0 >= own.0 && sheet.1 >= own.1;
        [px, (px.1, px.0)].into_iter().find(fits).ok_or_else(|| {
            let cause = format!(
                "the chart is {} × {} mm and does not fit a sheet of {} × {} mm; take a larger sheet or fewer levels",
                fixed(frame.width_mm, 0),
                fixed(frame.height_mm, 0),
                fixed(wide, 0),
                fixed(high, 0)
            );
            let larger = Remedy::Write(about, "8x10in".into());
            Refusal::rule(
                "chart_no_room",
                about,
                cause,
                vec![larger, Remedy::Write(Question::ChartLevels, "12".into())],
            )
        })
    }
}

/// Where the line of letters has room, in pixels of the chart: between its upper drops.
fn line(width_mm: f64, per_mm: f64) -> Line {
    let (high, top) = CHART_LETTERS_MM.value;
    let px = |mm: f64| (mm * per_mm).round().max(0.0) as u32;
    let band = CHART_BAND_MM.value;
    let place = Rect { left: px(band), top: px(top), width: px(width_mm - 2.0 * band), height: px(high) };
    Line { place, upwards: false }
}

/// The code of a chart, its book's letters as far as there is room.
fn code_of(
    answers: &ChartPrintAnswers,
    of: &ChartOf,
    through_curve: bool,
    ink: Option<Ink>,
) -> Result<ChartCode, Refusal> {
    let code = ChartCode {
        size: answers.size()?,
        seed: answers.seed()?,
        book: of.book.as_deref().map(BookTag::of).unwrap_or_default(),
        through_curve,
        ink: ink.map(|own| ChartInk([own.red, own.green, own.blue])),
    };
    let seed = code.seed;
    code.fitted().ok_or_else(|| {
        let about = Question::Seed;
        let cause = format!(
            "seed {seed} and an ink of 16 bits have no room together in the code of squares; take a seed of nine digits or fewer"
        );
        Refusal::rule("seed_long", about, cause, vec![Remedy::Write(about, "1".into())])
    })
}

/// A chart as it is asked for, before any file is made.
pub(super) struct ChartPlan {
    pub(super) layout: ChartLayout,
    pub(super) output: Output,
    pub(super) ink: Option<NamedInk>,
    /// What its line of letters shall read.
    pub(super) letters: Option<String>,
}

pub(super) fn planned(answers: &ChartPrintAnswers, through_curve: bool, of: &ChartOf) -> Result<ChartPlan, Refusal> {
    let (output, ink) = answers.file().output(of.setup.as_ref().and_then(|own| own.ink.as_ref()))?;
    let layout = ChartLayout::of(code_of(answers, of, through_curve, ink.as_ref().map(|own| own.ink))?);
    Ok(ChartPlan { layout, output, ink, letters: answers.letters(of)? })
}

/// Makes a chart: drawn as the print is to be, through the curve where there is one, light for dark, left for right, in the ink of its set-up. `of` says
/// of what it is.
///
/// # Errors
/// [`Refusal`] when an answer cannot be taken, or the file cannot be written.
pub fn make_chart(
    answers: &ChartPrintAnswers,
    target: &Path,
    curve: Option<&CurveOf>,
    of: &ChartOf,
    hooks: &Hooks<'_>,
) -> Result<ChartMade, Refusal> {
    let file = answers.file();
    let ChartPlan { layout, output, ink, letters } = planned(answers, curve.is_some(), of)?;
    let (ppi, format) = (file.ppi()?, file.format(target)?);
    let sheet = answers.sheet(&layout, ppi.per_inch())?;
    let frame = &layout.frame;
    let own = (pixels_of(frame.width_mm, ppi.per_inch()), pixels_of(frame.height_mm, ppi.per_inch()));
    let at = ((sheet.0 - own.0) / 2, (sheet.1 - own.1) / 2);
    let px_per_mm = f64::from(own.0) / frame.width_mm;
    let invert = !answers.no_invert;
    let entries = match curve {
        None => None,
        Some(curve) => Some(table(&curve.points, invert).map_err(|error| Refusal::no_curve(&error.to_string()))?),
    };
    let code_for = |input: f64| {
        let sent = (input * f64::from(u16::MAX) + 0.5) as u16;
        let plain = if invert { u16::MAX - sent } else { sent };
        entries.as_ref().and_then(|own| own.get(usize::from(sent))).copied().unwrap_or(plain)
    };
    // Paper is all the ink there is, and black is clear film, whatever the curve says.
    let (paper, black) = if invert { (0, u16::MAX) } else { (u16::MAX, 0) };
    let squares = handcoat_figures::qr_of_25(&layout.code.to_string()).map_err(|error| {
        Refusal::output("chart_code_failed", error.to_string(), vec![Remedy::LeaveOut(Question::Book)])
    })?;
    let film = FilmCodes { paper, black, of: &code_for };
    let drawn = ChartDrawn::of(&layout, &squares, px_per_mm, own.0, &film);
    let mut all: Vec<Drawn> = Vec::new();
    if sheet != own {
        // Around the chart the film is clear, and no ink is used up.
        all.push(Drawn { strips: Arc::new(Plain(u16::MAX)), size: sheet, at: (0, 0) });
    }
    all.push(Drawn { strips: Arc::new(drawn), size: own, at });
    let codes = Codes { ink: black, clear: paper };
    let letters =
        letters.and_then(|own| Words::of(&own, line(frame.width_mm, px_per_mm), codes)).map(|(own, place)| {
            let (said, place) =
                (own.words().to_owned(), Rect { left: place.left + at.0, top: place.top + at.1, ..place });
            all.push(strip(own, place));
            said
        });
    let job = Job {
        sheet: SheetSize { width: sheet.0, height: sheet.1 },
        ground: u16::MAX,
        pictures: Vec::new(),
        drawn: all,
        mirror: !answers.no_mirror,
        output,
        format,
        ppi,
        // A profile would change an ink on its way to the printer.
        profile: ink.is_none().then(|| grey_profile(GreyTone::Lightness)),
        note: None,
    };
    let progress = |own: Progress| (hooks.progress)(own.rows, own.of);
    let run = Run { progress: &progress, cancel: hooks.cancel, durable: true, ..Run::default() };
    let made = made_of(&job, target, &run).map_err(|own| not_made(Question::ChartSheet, target, target, &own))?;
    Ok(ChartMade {
        layout,
        width_px: made.width_px,
        height_px: made.height_px,
        at_px: at,
        ppi: ppi.per_inch(),
        sha256: made.sha256,
        curve: curve.map(|own| own.from.clone()),
        warnings: curve
            .and_then(|own| own.ink_other(ink.as_ref().map(|own| own.name.as_str()), "this chart"))
            .into_iter()
            .collect(),
        ink: ink.map(|own| own.name),
        letters,
    })
}

/// What each patch is, as a table whose column of lightness is left for readings by hand.
#[must_use]
pub fn chart_print_csv(layout: &ChartLayout) -> String {
    let mut out = String::from("patch,input,l_star,x_mm,y_mm,copy\n");
    for own in &layout.patches {
        let (input, x, y) = (fixed(own.input.to_part(), 6), fixed(own.at.x_mm, 1), fixed(own.at.y_mm, 1));
        out.push_str(&format!("{},{input},,{x},{y},{}\n", own.number, own.copy));
    }
    out
}

//! The sheet is planned: which pictures, how large, where, what stands around them, which samples.
//!
//! Long because what is planned and what is said where it does not fit are reckoned from the same sizes, borders and film.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use handcoat_craft::measure::{Length, fixed, shortened};
use handcoat_craft::negative::{
    Beyond as BeyondSide, Border, CodeSize, Crop, Film, NoRoom, PixelSize, Rect, Side, Sides, table, turned,
};
use handcoat_craft::source::{MOST_PLACED, PREVIEW_PX};
use handcoat_pixels::{
    Area, Beyond, Budget, Channels, Depth, Dither, Drawn, FileKind, Filter, Format, GreyTone, Header, Job, Lut,
    Orientation, Output, Picture, Placed, Ppi, Refused, SheetSize, Stated, grey_profile,
};

use super::answers::NegativeAnswers;
use super::chosen::NamedInk;
use super::curve::CurveOf;
use super::drawn::{Codes, Plain, Squares, Words, mark, strip};
use super::mark::{code_of, mark_of, sha256_of};
use super::refused::{job as refused_job, picture as refused};
use super::rule::Rule;
use crate::{Question, Refusal, Remedy};

/// A picture as it was opened, and what is made of it.
pub(super) struct Shown {
    pub(super) file: PathBuf,
    pub(super) picture: Arc<Picture>,
    /// Its pixels as it is shown, cropped and turned.
    pub(super) own: PixelSize,
    pub(super) crop: Option<Area>,
    pub(super) side: Side,
    pub(super) size: PixelSize,
    pub(super) border: Option<Border>,
    /// What its code of squares and its line of words read, where they have room.
    pub(super) code: Option<String>,
    pub(super) line: Option<String>,
    pub(super) eight_bit: bool,
    pub(super) profile_used: bool,
    /// What its numbers were taken for, in words.
    pub(super) tones: String,
    /// What of it lies beyond 0 to 1, where that was counted.
    pub(super) beyond: Option<Beyond>,
}

/// A sheet that can be made.
pub(super) struct Planned {
    pub(super) shown: Vec<Shown>,
    /// SHA-256 of each of them.
    pub(super) sha256: Vec<String>,
    /// What leads from film and print back to this sheet.
    pub(super) mark: String,
    /// Which of them lies where, with what stands around it.
    pub(super) placed: Vec<(usize, Rect)>,
    pub(super) sheet: PixelSize,
    /// Whether the film lies the other way than it was said.
    pub(super) sheet_turned: bool,
    /// On which sides the border stands, where that was chosen because not all have room.
    pub(super) fewer_sides: Option<Sides>,
    pub(super) on_film: bool,
    pub(super) entries: Vec<u16>,
    pub(super) ppi: Ppi,
    /// The pixels to the inch that lengths are counted with.
    pub(super) counted: f64,
    pub(super) rule: Option<Rule>,
    pub(super) output: Output,
    pub(super) ink: Option<NamedInk>,
    /// The side that was said, for what is refused.
    pub(super) about: Question,
    turn: Orientation,
    filter: Filter,
    mirror: bool,
}

fn name(path: &Path) -> String {
    path.file_stem().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Plans a sheet.
pub(super) fn plan(answers: &NegativeAnswers, source: &Path, curve: &CurveOf) -> Result<Planned, Refusal> {
    planned(answers, source, curve, |_, file| sha256_of(file))
}

/// The same where the SHA-256 of the pictures are known, in their order; one that is not is read for it.
///
/// # Errors
/// As [`plan`].
pub(super) fn plan_of_known(
    answers: &NegativeAnswers,
    source: &Path,
    curve: &CurveOf,
    known: &[String],
) -> Result<Planned, Refusal> {
    planned(answers, source, curve, |place, file| {
        known.get(place).map_or_else(|| sha256_of(file), |own| Ok(own.clone()))
    })
}

/// The same of the heads of the pictures alone: all is where it will be, and the mark is not that of the negative.
///
/// # Errors
/// As [`plan`].
pub(super) fn plan_of_heads(answers: &NegativeAnswers, source: &Path, curve: &CurveOf) -> Result<Planned, Refusal> {
    planned(answers, source, curve, |_, _| Ok(String::new()))
}

fn planned(
    answers: &NegativeAnswers,
    source: &Path,
    curve: &CurveOf,
    hash: impl Fn(usize, &Path) -> std::io::Result<String>,
) -> Result<Planned, Refusal> {
    let files: Vec<&Path> = std::iter::once(source).chain(answers.also.iter().map(PathBuf::as_path)).collect();
    let (sides, about) = answers.sides(files.len())?;
    let ppi = answers.ppi()?;
    let setup = curve.setup.as_ref();
    let rule = answers.rule(curve)?;
    let counted = rule.as_ref().map_or(ppi.per_inch(), |own| own.read.counted(ppi.per_inch()));
    let (output, ink) = answers.output(setup.and_then(|own| own.ink.as_ref()))?;
    let (copies, film) = (answers.copies()?, answers.film(counted)?);
    let (crop, turns, filter, day) = (answers.crop()?, answers.turns()?, answers.filter()?, answers.day()?);
    let count = files.len() * copies;
    if count > MOST_PLACED.value {
        let cause = format!("{count} pictures are to lie on one sheet; at most {} do", MOST_PLACED.value);
        let fewer = Remedy::Write(Question::Copies, (MOST_PLACED.value / files.len()).max(1).to_string());
        return Err(Refusal::rule("placed_many", Question::Copies, cause, vec![fewer]));
    }
    if count > 1 && film.is_none() {
        return Err(Refusal::missing(Question::FilmSheet, "8x10in"));
    }
    let entries = table(&curve.points, !answers.no_invert).map_err(|error| Refusal::no_curve(&error.to_string()))?;
    let (mut pictures, mut sha256) = (Vec::new(), Vec::new());
    for (place, file) in files.iter().enumerate() {
        // A header that is refused is refused before all of the file is read.
        pictures.push(Picture::open(file, &Budget::default()).map_err(|own| refused(file, &own))?);
        sha256.push(hash(place, file).map_err(|own| refused(file, &Refused::Unreadable(own)))?);
    }
    let mark = mark_of(&sha256, answers, curve);
    let mut shown = Vec::new();
    for ((file, picture), side) in files.iter().zip(pictures).zip(sides) {
        let header = picture.header();
        let (eight_bit, profile_used) = (header.depth == Depth::Eight, header.is_tagged());
        let tones = tones(header);
        let (width, height) = header.upright();
        let upright = PixelSize { width, height };
        let whole = Rect { left: 0, top: 0, width, height };
        let area = crop.map_or(Some(whole), |own| own.of(upright)).ok_or_else(|| {
            let said = answers.crop.as_deref().unwrap_or_default();
            crop_refused(crop.and_then(Crop::beyond), said, file, upright)
        })?;
        let area = turned(area, upright, turns);
        let own = PixelSize { width: area.width, height: area.height };
        let size = PixelSize::of(own, side, counted).ok_or_else(|| {
            let cause = format!("at {} pixels to the inch this side has no pixel", ppi.per_inch());
            Refusal::rule("negative_size", about, cause, vec![Remedy::Write(about, "10in".into())])
        })?;
        let crop = crop.map(|_| Area { left: area.left, top: area.top, width: area.width, height: area.height });
        let picture = Arc::new(picture);
        shown.push(Shown {
            file: file.to_path_buf(),
            picture,
            own,
            crop,
            side,
            size,
            border: None,
            code: None,
            line: None,
            eight_bit,
            profile_used,
            tones,
            beyond: None,
        });
    }
    unpacked_at_once(&shown, copies)?;
    let order: Vec<usize> = (0..shown.len()).flat_map(|own| std::iter::repeat_n(own, copies)).collect();
    let borders = Borders { asked: answers.border_sides()?, counted, order: &order };
    let (chosen, sheet, rects, sheet_turned) = match film {
        None => {
            let own = borders.first();
            let all = borders.around(&shown, own);
            let sheet = Borders::block(shown.first(), all.first());
            (own, sheet, vec![Rect { left: 0, top: 0, width: sheet.width, height: sheet.height }], false)
        }
        Some(film) => borders.placed(film, &shown).map_err(|own| {
            let full = Full { film, counted, shown: &shown, copies, answers, about, sides: borders.asked };
            full.refusal(own.fit, own.of)
        })?,
    };
    let fewer_sides = chosen.filter(|own| borders.asked == Asked::BySize && own.0 != Sides::All).map(|own| own.0);
    for (own, border) in borders.around(&shown, chosen).into_iter().enumerate() {
        let Some(own) = shown.get_mut(own) else { continue };
        own.border = border;
        let code = code_of(&mark);
        let place = own.border.as_ref().and_then(|own| own.code);
        own.code = place.and_then(|place| Squares::of(&code, place, Codes::FILM)).map(|_| code);
        own.line = own.border.as_ref().and_then(|own| own.line).and_then(|line| {
            let words = words(&mark, &name(&own.file), curve, day.as_deref(), own.size, counted, ppi);
            Words::of(&words, line, Codes::FILM).map(|own| own.0.words().to_owned())
        });
    }
    Ok(Planned {
        shown,
        sha256,
        mark,
        placed: order.into_iter().zip(rects).collect(),
        sheet,
        sheet_turned,
        fewer_sides,
        on_film: film.is_some(),
        entries,
        ppi,
        counted,
        rule,
        output,
        ink,
        about,
        turn: Orientation::quarter_turns(turns),
        filter,
        mirror: !answers.no_mirror,
    })
}

/// Why a crop shows nothing: it goes beyond a side, or what it leaves has no pixel.
fn crop_refused(beyond: Option<BeyondSide>, said: &str, file: &Path, picture: PixelSize) -> Refusal {
    let about = Question::Crop;
    let percent = |own: f64| fixed(100.0 * own, 1);
    let of = format!("`{}` of `{}`", shortened(said.trim()), file.display());
    let cause = match beyond {
        Some(BeyondSide { across: true, from, size }) => format!(
            "{of} goes beyond the right side of the picture: {} % from the left and {} % across come to {} %; expected at most 100 %",
            percent(from),
            percent(size),
            percent(from + size)
        ),
        Some(BeyondSide { across: false, from, size }) => format!(
            "{of} goes beyond the foot of the picture: {} % from the top and {} % down come to {} %; expected at most 100 %",
            percent(from),
            percent(size),
            percent(from + size)
        ),
        None => {
            format!("{of} leaves no pixel of its {} × {}; expected a part that is shown", picture.width, picture.height)
        }
    };
    let remedies = vec![Remedy::Write(about, "10%,5%,80%x90%".into()), Remedy::LeaveOut(about)];
    Refusal::rule("crop_beyond", about, cause, remedies)
}

/// What the numbers of a picture are taken for.
fn tones(header: &Header) -> String {
    match (&header.profile, header.stated, header.channels) {
        (Some(_), ..) => "brought to lightness by its profile".into(),
        (None, Some(Stated::Srgb), _) => "brought to lightness as sRGB, as the file says".into(),
        (None, Some(Stated::Gamma(own, _)), _) => {
            format!("brought to lightness by the gamma of {} the file says", fixed(100_000.0 / f64::from(own.max(1)), 2))
        }
        (None, None, Channels::Grey) => {
            "it has no profile, its numbers are taken as they are: as tones from black to white".into()
        }
        (None, None, Channels::Rgb) => {
            "it has no profile, its numbers are taken as they are: 0.2126 of red, 0.7152 of green and 0.0722 of blue make a tone".into()
        }
    }
}

/// What the line of words says of a picture. The mark stands first: where words have no room, those at the end are left out.
fn words(
    mark: &str,
    name: &str,
    curve: &CurveOf,
    day: Option<&str>,
    size: PixelSize,
    counted: f64,
    ppi: Ppi,
) -> String {
    let (across, down) = size.millimetres(counted);
    let sides = format!("{} × {} mm, {} ppi", fixed(across, 0), fixed(down, 0), ppi.per_inch());
    let parts = [Some(mark), Some(name), Some(curve.from.as_str()), day, Some(sides.as_str())];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

/// What is asked of the border.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Asked {
    /// There shall be none.
    None,
    /// On all sides, or on those that have room.
    BySize,
    /// On these.
    On(Sides),
}

/// On which sides, and how large its code is; none without a border.
type Chosen = Option<(Sides, CodeSize)>;

/// The borders that may be made.
struct Borders<'a> {
    asked: Asked,
    counted: f64,
    order: &'a [usize],
}

impl Borders<'_> {
    /// On film that is as large as it has to be.
    fn first(&self) -> Chosen {
        match self.asked {
            Asked::None => None,
            Asked::BySize => Some((Sides::All, CodeSize::Large)),
            Asked::On(own) => Some((own, CodeSize::Large)),
        }
    }

    fn around(&self, shown: &[Shown], chosen: Chosen) -> Vec<Option<Border>> {
        let one = |own: &Shown| chosen.and_then(|(sides, code)| Border::around(own.size, self.counted, sides, code));
        shown.iter().map(one).collect()
    }

    /// A picture with what stands around it.
    fn block(shown: Option<&Shown>, border: Option<&Option<Border>>) -> PixelSize {
        let alone = shown.map_or(PixelSize { width: 0, height: 0 }, |own| own.size);
        border.and_then(Option::as_ref).map_or(alone, |own| own.sheet)
    }

    /// The first that has room on the film: as it was said or lying the other way, on as many sides as may be.
    fn placed(&self, film: Film, shown: &[Shown]) -> Result<(Chosen, PixelSize, Vec<Rect>, bool), NoRoom> {
        let sides: &[Sides] = match &self.asked {
            Asked::None => &[],
            Asked::BySize => &Sides::ALL,
            Asked::On(own) => std::slice::from_ref(own),
        };
        let lying = Film { sheet: sideways(film.sheet), ..film };
        let of_sides = sides.iter().flat_map(|sides| {
            // A sheet of film has two ways to lie in the printer, and people name it by its short side first.
            [(film, false), (lying, true)]
                .into_iter()
                .flat_map(move |film| [CodeSize::Large, CodeSize::Small].map(|code| (Some((*sides, code)), film)))
        });
        let bare = [(None, (film, false)), (None, (lying, true))].into_iter().filter(|_| self.asked == Asked::None);
        let mut first = None;
        for (chosen, (film, is_lying)) in of_sides.chain(bare) {
            let all = self.around(shown, chosen);
            let blocks: Vec<PixelSize> =
                self.order.iter().map(|own| Self::block(shown.get(*own), all.get(*own))).collect();
            match film.place(&blocks) {
                Ok(placed) => return Ok((chosen, film.sheet, placed, is_lying)),
                // What is told is how many fit at best.
                Err(own) => first = first.filter(|other: &NoRoom| other.fit >= own.fit).or(Some(own)),
            }
        }
        Err(first.unwrap_or(NoRoom { fit: 0, of: self.order.len() }))
    }
}

/// A JPEG is unpacked as a whole, and each copy of it anew.
fn unpacked_at_once(shown: &[Shown], copies: usize) -> Result<(), Refusal> {
    let most = Budget::default().jpeg_pixels;
    let jpegs = shown.iter().filter(|own| own.picture.header().kind == FileKind::Jpeg);
    let pixels: u64 = jpegs
        .map(|own| {
            let header = own.picture.header();
            u64::from(header.width) * u64::from(header.height)
        })
        .sum();
    let all = pixels.saturating_mul(copies as u64);
    if copies * shown.len() > 1 && all > most {
        let cause = format!(
            "the JPEGs of this sheet come to {all} pixels that are held at once, copies counted; at most {most} are. A TIFF needs no such room"
        );
        return Err(Refusal::rule("copies_memory", Question::Picture, cause, vec![Remedy::OtherPicture]));
    }
    Ok(())
}

/// A sheet of film that does not hold all.
struct Full<'a> {
    film: Film,
    counted: f64,
    shown: &'a [Shown],
    copies: usize,
    answers: &'a NegativeAnswers,
    about: Question,
    sides: Asked,
}

impl Full<'_> {
    fn blocks(&self, block: impl Fn(&Shown) -> Option<PixelSize>) -> Option<Vec<PixelSize>> {
        let one = |own: &Shown| Some(std::iter::repeat_n(block(own)?, self.copies));
        Some(self.shown.iter().map(one).collect::<Option<Vec<_>>>()?.into_iter().flatten().collect())
    }

    /// A picture of that size with the border that was asked for; where none was, with one on all sides.
    fn block(&self, size: PixelSize) -> Option<PixelSize> {
        self.block_on(size, self.may_stand().first().copied())
    }

    /// The sides a border may stand on; none where there is to be none.
    fn may_stand(&self) -> &[Sides] {
        match &self.sides {
            Asked::None => &[],
            Asked::BySize => &Sides::ALL,
            Asked::On(own) => std::slice::from_ref(own),
        }
    }

    fn block_on(&self, size: PixelSize, sides: Option<Sides>) -> Option<PixelSize> {
        let Some(sides) = sides else { return Some(size) };
        Some(Border::around(size, self.counted, sides, CodeSize::Small)?.sheet)
    }

    /// They with their sides so much smaller.
    fn smaller(&self, part: f64, sides: Option<Sides>) -> Option<Vec<PixelSize>> {
        self.blocks(|own| {
            let size = PixelSize::of(own.own, millimetres(own.side, part)?.0, self.counted)?;
            self.block_on(size, sides)
        })
    }

    /// The largest part of their size at which they fit, the film either way up, with the border where it may stand.
    fn largest(&self) -> Option<f64> {
        let lying = Film { sheet: sideways(self.film.sheet), ..self.film };
        let sides = self.may_stand();
        let bare = sides.is_empty().then_some(None);
        let every: Vec<Option<Sides>> = sides.iter().copied().map(Some).chain(bare).collect();
        let parts = every.iter().flat_map(|own| {
            [self.film, lying].into_iter().filter_map(|film| film.largest(|part| self.smaller(part, *own)))
        });
        parts.max_by(f64::total_cmp)
    }

    /// A length no longer than so many millimetres, in the unit it was asked in.
    fn written(&self, millimetres: f64) -> String {
        let asked = self.answers.width.as_ref().or(self.answers.height.as_ref());
        if asked.is_some_and(|own| own.trim().ends_with("in")) {
            return format!("{}in", fixed((millimetres / 25.4 * 100.0).floor() / 100.0, 2));
        }
        format!("{}mm", fixed(millimetres, 1))
    }

    fn refusal(&self, fit: usize, of: usize) -> Refusal {
        let film = Question::FilmSheet;
        let (across, down) = self.film.sheet.millimetres(self.counted);
        let mut remedies = Vec::new();
        let lying = self.blocks(|own| Some(sideways(self.block(own.size)?))).unwrap_or_default();
        if self.answers.turn.is_none() && self.film.place(&lying).is_ok() {
            remedies.push(Remedy::Write(Question::Turn, "90".into()));
        }
        if let Some(part) = self.largest() {
            let all: Vec<String> =
                self.shown.iter().filter_map(|own| Some(self.written(millimetres(own.side, part)?.1))).collect();
            let one = all.first().filter(|one| all.iter().all(|own| own == *one)).cloned();
            remedies.push(Remedy::Write(self.about, one.unwrap_or_else(|| all.join(","))));
        }
        if self.shown.len() == 1 && fit > 0 {
            remedies.push(Remedy::Write(Question::Copies, fit.to_string()));
        }
        if remedies.is_empty() {
            remedies.push(Remedy::Write(film, "16x20in".into()));
        }
        let alone = self.blocks(|own| Some(own.size)).unwrap_or_default();
        let fits = |sheet: PixelSize| Film { sheet, ..self.film }.place(&alone).is_ok();
        let bare = if !self.answers.no_border && (fits(self.film.sheet) || fits(sideways(self.film.sheet))) {
            "; without a border (`--no-border`) all of them fit"
        } else {
            ""
        };
        let cause = format!(
            "{fit} of {of} pictures fit on film of {} × {} mm, with what stands around them and what stays free{bare}",
            fixed(across, 0),
            fixed(down, 0)
        );
        Refusal::rule("film_full", film, cause, remedies)
    }
}

/// A size with its sides changed over.
fn sideways(own: PixelSize) -> PixelSize {
    PixelSize { width: own.height, height: own.width }
}

/// A side at a part of it, and its millimetres, a tenth rounded down.
fn millimetres(side: Side, part: f64) -> Option<(Side, f64)> {
    let tenths = |own: Length| (own.to_millimetres() * part * 10.0).floor() / 10.0;
    let of = |own: f64| Length::millimetres(own).ok();
    match side {
        Side::Width(own) => Some((Side::Width(of(tenths(own))?), tenths(own))),
        Side::Height(own) => Some((Side::Height(of(tenths(own))?), tenths(own))),
    }
}

/// A rectangle where it lies on the sheet.
fn moved(own: Rect, by: Rect) -> Rect {
    Rect { left: own.left + by.left, top: own.top + by.top, ..own }
}

impl Planned {
    /// Counts what of the pictures lies beyond 0 to 1; those in whole numbers are not read for it.
    pub(super) fn count_beyond(&mut self) -> Result<(), Refusal> {
        for own in &mut self.shown {
            own.beyond = own.picture.beyond().map_err(|refused_as| refused(&own.file, &refused_as))?;
        }
        Ok(())
    }

    /// Where the picture itself lies within its place.
    pub(super) fn picture_in(shown: &Shown, place: Rect) -> Rect {
        shown.border.as_ref().map_or(place, |own| moved(own.picture, place))
    }

    fn placed(&self) -> impl Iterator<Item = (&Shown, Rect)> {
        self.placed.iter().filter_map(|own| Some((self.shown.get(own.0)?, own.1)))
    }

    /// The job of the negative.
    pub(super) fn job(&self, format: Format) -> Result<Job, Refusal> {
        // OK because a table of `craft` has an entry for each of the codes.
        let table = Lut::from_entries(&self.entries).expect("BUG: a table without 65,536 entries");
        let tone = |own: f64| {
            let entry = (own * f64::from(u16::MAX) + 0.5) as usize;
            self.entries.get(entry).copied().unwrap_or(u16::MAX)
        };
        let mut pictures = Vec::new();
        let mut drawn = Vec::new();
        for (own, place) in self.placed() {
            pictures.push(self.picture(own, Self::picture_in(own, place), table.clone()));
            drawn.extend(around(own, place, Codes::FILM, &tone, |own| own));
        }
        // An ink goes to the driver as it is said; a profile would change it.
        let profile = self.ink.is_none().then(|| grey_profile(GreyTone::Lightness));
        // Who draws other words makes another file of it; the note says so to whoever goes on after a kill.
        let lines: Vec<&str> = self.shown.iter().filter_map(|own| own.line.as_deref()).collect();
        let job = Job {
            sheet: SheetSize { width: self.sheet.width, height: self.sheet.height },
            // Clear film, whether or not light and dark are changed over.
            ground: u16::MAX,
            pictures,
            drawn,
            mirror: self.mirror,
            output: self.output.clone(),
            format,
            ppi: self.ppi,
            profile,
            note: (!lines.is_empty()).then(|| lines.join("; ")),
        };
        job.check().map_err(|own| refused_job(self.about, &own))?;
        Ok(job)
    }

    fn picture(&self, own: &Shown, at: Rect, table: Lut) -> Placed {
        Placed {
            picture: Arc::clone(&own.picture),
            turn: self.turn,
            crop: own.crop,
            size: (at.width, at.height),
            filter: self.filter,
            table,
            at: (at.left, at.top),
        }
    }

    /// A small picture of the whole sheet as it prints: right-reading, light where the print is light, the tones those that are wanted.
    pub(super) fn small(&self) -> Job {
        let side = self.sheet.width.max(self.sheet.height).max(1);
        let part = (f64::from(PREVIEW_PX.value) / f64::from(side)).min(1.0);
        let pixels = |own: u32| (f64::from(own) * part).round() as u32;
        let (width, height) = (pixels(self.sheet.width).max(1), pixels(self.sheet.height).max(1));
        // Both ends are rounded, so that what meets still meets; what would have no pixel has one.
        let less = |own: Rect| {
            let span = |from: u32, size: u32, most: u32| {
                let from_px = pixels(from).min(most - 1);
                (from_px, pixels(from + size).clamp(from_px + 1, most.max(from_px + 1)) - from_px)
            };
            let ((left, width), (top, height)) = (span(own.left, own.width, width), span(own.top, own.height, height));
            Rect { left, top, width, height }
        };
        let tone = |own: f64| (own * f64::from(u16::MAX) + 0.5) as u16;
        let (mut pictures, mut drawn) = (Vec::new(), Vec::new());
        for (own, place) in self.placed() {
            let at = less(Self::picture_in(own, place));
            let placed = Placed { filter: Filter::Area, ..self.picture(own, at, Lut::straight()) };
            let one = Job::plain(Arc::clone(&own.picture), (1, 1), self.ppi);
            let possible = Job { sheet: SheetSize { width, height }, pictures: vec![placed.clone()], ..one };
            if possible.check().is_ok() {
                pictures.push(placed);
            } else {
                // So small that no picture is made of it.
                drawn.push(strip(Plain(tone(0.5)), at));
            }
            drawn.extend(around(own, place, Codes::PRINT, &tone, less));
        }
        Job {
            sheet: SheetSize { width, height },
            ground: Codes::PRINT.clear,
            pictures,
            drawn,
            mirror: false,
            output: Output::Eight(Dither::BlueNoise),
            format: Format::Png,
            ppi: self.ppi,
            profile: Some(grey_profile(GreyTone::Lightness)),
            note: None,
        }
    }
}

/// What stands around a picture, each brought to its place by `to`.
fn around(own: &Shown, place: Rect, codes: Codes, tone: &dyn Fn(f64) -> u16, to: impl Fn(Rect) -> Rect) -> Vec<Drawn> {
    let Some(border) = &own.border else { return Vec::new() };
    let there = |own: Rect| to(moved(own, place));
    let mut drawn: Vec<Drawn> = border.marks.iter().map(|own| mark(own.1, there(own.0), codes, tone)).collect();
    let squares = own.code.as_ref().zip(border.code).and_then(|(text, at)| Squares::of(text, there(at), codes));
    drawn.extend(squares.map(|(own, at)| strip(own, at)));
    let moved_line =
        |own: handcoat_craft::negative::Line| handcoat_craft::negative::Line { place: there(own.place), ..own };
    let rule = border.rule.and_then(|own| {
        let text = format!("{} mm", fixed(own.millimetres, 0));
        Words::of(&text, moved_line(own.label), codes)
    });
    drawn.extend(rule.map(|(own, at)| strip(own, at)));
    let line = border.line.map(moved_line);
    let words = own.line.as_ref().zip(line).and_then(|(text, line)| Words::of(text, line, codes));
    drawn.extend(words.map(|(own, at)| strip(own, at)));
    drawn
}

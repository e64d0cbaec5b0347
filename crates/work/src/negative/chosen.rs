//! What is chosen about film and file, read: the sheet, what is shown and how it is turned, samples and ink.

use handcoat_craft::measure::{Length, Readable, Size, shortened};
use handcoat_craft::negative::{Crop, Film, PixelSize, Sides, pixels_of};
use handcoat_craft::source::{FILM_GAP_MM, FILM_MARGIN_MM, INK_NONE, MOST_PLACED};
use handcoat_pixels::{Dither, Filter, Ink, Output};

use super::answers::NegativeAnswers;
use super::plan::Asked;
use super::table::{BORDER_SIDES, DEPTHS, DITHERS, FILTERS, TURNS};
use crate::{Day, Question, Refusal, Remedy};

/// An ink, and how it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct NamedInk {
    pub(crate) ink: Ink,
    pub(crate) name: String,
}

/// The answer that there is no one ink: grey.
pub(crate) const NO_INK: &str = "none";

/// Whether both are the same ink, however each is written.
pub(crate) fn same_ink(one: &str, other: &str) -> bool {
    match (one.trim(), other.trim()) {
        (NO_INK, other) => other == NO_INK,
        (one, other) => ink(one).ok().map(|own| own.ink) == ink(other).ok().map(|own| own.ink),
    }
}

/// An ink in a sentence.
pub(crate) fn ink_words(ink: &str) -> String {
    if ink.trim() == NO_INK { "grey".into() } else { format!("the ink {}", shortened(ink.trim())) }
}

/// The word for sides of a border.
#[must_use]
pub fn sides_word(own: Sides) -> &'static str {
    let place = Sides::ALL.iter().position(|it| *it == own);
    place.and_then(|own| BORDER_SIDES.get(own)).copied().unwrap_or_default()
}

/// Which of these words was said, counted from the first.
fn chosen(about: Question, answer: Option<&String>, all: &[&str]) -> Result<Option<usize>, Refusal> {
    let Some(text) = answer else { return Ok(None) };
    let place = all.iter().position(|own| *own == text.trim());
    place.map(Some).ok_or_else(|| {
        let cause =
            format!("`{}` is no answer to {}; expected {}", shortened(text.trim()), about.asks(), all.join(" or "));
        let remedies = all.iter().map(|own| Remedy::Write(about, (*own).into())).collect();
        Refusal::unreadable("choice_unknown", about, cause, remedies)
    })
}

fn length(about: Question, answer: Option<&String>, usual: f64) -> Result<f64, Refusal> {
    let Some(text) = answer else { return Ok(usual) };
    let read = Length::read(text).map_err(|error| Refusal::quantity(about, Length::FORMS, &error))?;
    Ok(read.to_millimetres())
}

/// One ink: `#rrggbb`, or three numbers up to 65535.
pub(crate) fn ink(text: &str) -> Result<NamedInk, Refusal> {
    let about = Question::InkColour;
    let own = text.trim();
    let read = match own.strip_prefix('#') {
        Some(hex) if hex.len() == 6 && hex.bytes().all(|own| own.is_ascii_hexdigit()) => {
            let part = |at: usize| u16::from_str_radix(hex.get(at..at + 2)?, 16).ok().map(|own| own * 257);
            part(0).zip(part(2)).zip(part(4)).map(|((red, green), blue)| Ink { red, green, blue })
        }
        Some(_) => None,
        None => {
            let parts: Result<Vec<u16>, _> = own.split(',').map(|own| own.trim().parse()).collect();
            match parts.as_deref() {
                Ok([red, green, blue]) => Some(Ink { red: *red, green: *green, blue: *blue }),
                _ => None,
            }
        }
    };
    if read.as_ref().is_some_and(|own| [own.red, own.green, own.blue].iter().all(|part| *part >= INK_NONE.value)) {
        let cause = format!(
            "`{}` is the white of the film: red, green and blue are all {} of 65535 or more, and no ink is laid down; expected a colour that prints",
            shortened(own),
            INK_NONE.value
        );
        return Err(Refusal::rule("ink_white", about, cause, vec![Remedy::Write(about, "#204060".into())]));
    }
    read.map(|ink| NamedInk { ink, name: own.replace(' ', "") }).ok_or_else(|| {
        let cause = format!(
            "`{}` is no ink; expected red, green and blue as `#204060` or as three numbers up to 65535 such as `8224,16448,24672`",
            shortened(own)
        );
        Refusal::unreadable("ink_unreadable", about, cause, vec![Remedy::Write(about, "#204060".into())])
    })
}

impl NegativeAnswers {
    /// The sheet of film, where its size is said.
    pub(super) fn film(&self, ppi: f64) -> Result<Option<Film>, Refusal> {
        let about = Question::FilmSheet;
        let Some(text) = &self.sheet else {
            let alone = [(&self.film_margin, Question::FilmMargin), (&self.gap, Question::FilmGap)];
            if let Some((_, said)) = alone.iter().find(|own| own.0.is_some()) {
                let cause = "what stays free of the film is said, and not how large the film is".into();
                let remedies = vec![Remedy::Write(about, "8x10in".into()), Remedy::LeaveOut(*said)];
                return Err(Refusal::rule("film_unsaid", about, cause, remedies));
            }
            return Ok(None);
        };
        let written = match text.trim().to_ascii_lowercase().as_str() {
            "a4" => "210x297mm".into(),
            "letter" => "8.5x11in".into(),
            _ => text.clone(),
        };
        let forms = "`8x10in`, `a4`, `letter` or `297x210mm`";
        let size = Size::read(&written).map_err(|error| Refusal::quantity(about, forms, &error))?;
        let px = |millimetres: f64| pixels_of(millimetres, ppi);
        let margin = length(Question::FilmMargin, self.film_margin.as_ref(), FILM_MARGIN_MM.value)?;
        let gap = length(Question::FilmGap, self.gap.as_ref(), FILM_GAP_MM.value)?;
        let sheet = PixelSize { width: px(size.width.to_millimetres()), height: px(size.height.to_millimetres()) };
        Ok(Some(Film { sheet, margin: px(margin), gap: px(gap) }))
    }

    /// How often each picture is on the film.
    pub(super) fn copies(&self) -> Result<usize, Refusal> {
        let about = Question::Copies;
        let Some(text) = &self.copies else { return Ok(1) };
        text.trim().parse().ok().filter(|own| (1..=MOST_PLACED.value).contains(own)).ok_or_else(|| {
            let cause =
                format!("`{}` is no number of copies; expected 1 to {}", shortened(text.trim()), MOST_PLACED.value);
            Refusal::unreadable("copies_unreadable", about, cause, vec![Remedy::Write(about, "2".into())])
        })
    }

    /// What is shown of each picture.
    pub(super) fn crop(&self) -> Result<Option<Crop>, Refusal> {
        let Some(text) = &self.crop else { return Ok(None) };
        let own = text.trim();
        let number = |text: &str| text.trim().parse::<f64>().ok().filter(|own| own.is_finite());
        let percent = |text: &str| {
            let own = number(text.trim().strip_suffix('%')?)?;
            (0.0..=100.0).contains(&own).then_some(own / 100.0)
        };
        let proportion = || {
            let (across, down) = own.split_once(':')?;
            let (across, down) = (number(across)?, number(down)?);
            (across > 0.0 && down > 0.0).then_some(Crop::Proportion(across, down))
        };
        let parts = || {
            let all: Vec<&str> = own.split(',').collect();
            let [left, top, size] = all.as_slice() else { return None };
            let (across, down) = size.split_once('x')?;
            Some(Crop::Parts(percent(left)?, percent(top)?, percent(across)?, percent(down)?))
        };
        proportion().or_else(parts).map(Some).ok_or_else(|| {
            let about = Question::Crop;
            let cause = format!(
                "`{}` is no part of a picture; expected parts from the left and the top, across and down as `10%,5%,80%x90%`, or a \
                 proportion as `4:5`",
                shortened(own)
            );
            let remedies = vec![Remedy::Write(about, "10%,5%,80%x90%".into()), Remedy::Write(about, "4:5".into())];
            Refusal::unreadable("crop_unreadable", about, cause, remedies)
        })
    }

    /// Quarter turns clockwise.
    pub(super) fn turns(&self) -> Result<u8, Refusal> {
        Ok(chosen(Question::Turn, self.turn.as_ref(), TURNS)?.map_or(0, |own| own as u8 + 1))
    }

    pub(super) fn filter(&self) -> Result<Filter, Refusal> {
        Ok(match chosen(Question::Filter, self.filter.as_ref(), FILTERS)? {
            Some(1) => Filter::Cubic,
            Some(2) => Filter::Linear,
            Some(3) => Filter::Area,
            _ => Filter::Lanczos3,
        })
    }

    /// The samples, and the ink they are in; `kept` is that of the set-up.
    pub(crate) fn output(&self, kept: Option<&String>) -> Result<(Output, Option<NamedInk>), Refusal> {
        let eight = chosen(Question::BitDepth, self.depth.as_ref(), DEPTHS)? == Some(1);
        let dither = match chosen(Question::Dither, self.dither.as_ref(), DITHERS)? {
            Some(0) => Dither::BlueNoise,
            _ => Dither::Diffusion,
        };
        let own = match self.ink.as_ref().or(kept).map(|own| own.trim()) {
            None | Some(NO_INK) => None,
            Some(text) => Some(ink(text)?),
        };
        if self.dither.is_some() && !eight {
            let about = Question::Dither;
            let cause = "how 16 bits become 8 is said, and 16 are written".into();
            let remedies = vec![Remedy::Write(Question::BitDepth, "8".into()), Remedy::LeaveOut(about)];
            return Err(Refusal::rule("dither_of_sixteen", about, cause, remedies));
        }
        match own {
            Some(ink) if eight => {
                let cause = format!("the ink `{}` is written in 16 bits, and 8 are said", ink.name);
                let remedies =
                    vec![Remedy::LeaveOut(Question::BitDepth), Remedy::Write(Question::InkColour, NO_INK.into())];
                Err(Refusal::rule("ink_of_eight", Question::BitDepth, cause, remedies))
            }
            Some(ink) => Ok((Output::Ink(ink.ink), Some(ink))),
            None => Ok((if eight { Output::Eight(dither) } else { Output::Sixteen }, None)),
        }
    }

    /// On which sides the border shall stand.
    pub(super) fn border_sides(&self) -> Result<Asked, Refusal> {
        let about = Question::BorderSides;
        let said = chosen(about, self.border_sides.as_ref(), BORDER_SIDES)?;
        match (said.and_then(|own| Sides::ALL.get(own)), self.no_border) {
            (Some(_), true) => {
                let cause = "sides of a border are said, and that there shall be none".into();
                Err(Refusal::rule("border_both", about, cause, vec![Remedy::LeaveOut(about)]))
            }
            (None, true) => Ok(Asked::None),
            (Some(own), false) => Ok(Asked::On(*own)),
            (None, false) => Ok(Asked::BySize),
        }
    }

    /// The day in the border, as it is written.
    pub(crate) fn day(&self) -> Result<Option<String>, Refusal> {
        self.day.as_ref().map(|own| Day::read(own).map(|own| own.to_string())).transpose()
    }
}

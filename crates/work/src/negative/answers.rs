//! What somebody said of a negative, read.

use std::path::{Path, PathBuf};

use handcoat_craft::measure::{Length, Readable, fixed, read_digits, shortened};
use handcoat_craft::negative::Side;
use handcoat_craft::source::{PPI_RANGE, USUAL_PPI};
use handcoat_pixels::{Format, Packing, Ppi};
use serde::{Deserialize, Serialize};

use crate::{Question, Refusal, Remedy};

/// Answers about a negative. `None` is a question left open. As JSON a key that is not there is left open, and one that is not known is refused;
/// [`super::ANSWER_FIELDS`] says each in words.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct NegativeAnswers {
    /// Further pictures on the same sheet of film.
    pub also: Vec<PathBuf>,
    pub width: Option<String>,
    pub height: Option<String>,
    pub ppi: Option<String>,
    pub crop: Option<String>,
    pub turn: Option<String>,
    pub filter: Option<String>,
    pub sheet: Option<String>,
    pub film_margin: Option<String>,
    pub gap: Option<String>,
    pub copies: Option<String>,
    pub setup: Option<String>,
    pub ink: Option<String>,
    pub rule_measured: Option<String>,
    pub rule_on: Option<String>,
    pub day: Option<String>,
    pub depth: Option<String>,
    pub dither: Option<String>,
    pub packing: Option<String>,
    pub border_sides: Option<String>,
    /// Without a border around the picture.
    pub no_border: bool,
    /// With light and dark as the picture has them.
    pub no_invert: bool,
    /// With left and right as the picture has them.
    pub no_mirror: bool,
    /// In the place of what stands under that name.
    pub force: bool,
}

const PACKINGS: [(&str, Packing); 3] = [("none", Packing::None), ("deflate", Packing::Deflate), ("lzw", Packing::Lzw)];

impl NegativeAnswers {
    /// The side that is said of each of so many pictures, and which question said it: one length for all of them, or one for each in their
    /// order, with commas between them.
    pub(super) fn sides(&self, pictures: usize) -> Result<(Vec<Side>, Question), Refusal> {
        let read = |about: Question, text: &str| {
            Length::read(text).map_err(|error| Refusal::quantity(about, Length::FORMS, &error))
        };
        let (text, about, side): (&String, Question, fn(Length) -> Side) = match (&self.width, &self.height) {
            (Some(text), None) => (text, Question::PrintWidth, Side::Width),
            (None, Some(text)) => (text, Question::PrintHeight, Side::Height),
            (None, None) => return Err(Refusal::missing(Question::PrintWidth, "10in")),
            (Some(_), Some(_)) => {
                let cause = "width and height are both said; the one follows from the other and the picture".into();
                let about = Question::PrintHeight;
                return Err(Refusal::rule("sides_both", about, cause, vec![Remedy::LeaveOut(about)]));
            }
        };
        // A comma within a number is a decimal one: lists have a unit before each.
        if let (1, _) | (_, Ok(_)) = (pictures, Length::read(text)) {
            let own = read(about, text)?;
            return Ok((vec![side(own); pictures], about));
        }
        let lengths = text.split(',').map(|own| read(about, own)).collect::<Result<Vec<_>, _>>()?;
        if lengths.len() != pictures {
            let cause = format!(
                "{} lengths are said and there are {pictures} pictures; expected one for all, or one for each",
                lengths.len()
            );
            let one = text.split(',').next().unwrap_or_default().trim().into();
            return Err(Refusal::rule("sides_count", about, cause, vec![Remedy::Write(about, one)]));
        }
        Ok((lengths.into_iter().map(side).collect(), about))
    }

    /// Pixels to the inch.
    pub(crate) fn ppi(&self) -> Result<Ppi, Refusal> {
        let about = Question::Ppi;
        let Some(text) = &self.ppi else { return Ok(usual_ppi()) };
        let (least, most) = PPI_RANGE.value;
        let refused = || {
            let cause = format!(
                "`{}` is no number of pixels to the inch; expected one from {} to {}, such as 720",
                shortened(text.trim()),
                fixed(least, 0),
                fixed(most, 0)
            );
            Refusal::unreadable("ppi_unreadable", about, cause, vec![Remedy::Write(about, "720".into())])
        };
        let own = match read_digits("number of pixels to the inch", "`720`", text) {
            Ok((digits, unit)) if unit.is_empty() || unit == "ppi" => digits.to_f64(),
            _ => return Err(refused()),
        };
        Some(own).filter(|own| (least..=most).contains(own)).and_then(Ppi::new).ok_or_else(refused)
    }

    /// The kind of file, by its name and how it shall be packed.
    pub(crate) fn format(&self, target: &Path) -> Result<Format, Refusal> {
        let about = Question::Packing;
        let packing = match &self.packing {
            None => None,
            Some(text) => Some(PACKINGS.iter().find(|own| own.0 == text.trim()).map(|own| own.1).ok_or_else(|| {
                let cause =
                    format!("`{}` is no way to pack a TIFF; expected none, deflate or lzw", shortened(text.trim()));
                let remedies = PACKINGS.map(|own| Remedy::Write(about, own.0.into())).to_vec();
                Refusal::unreadable("compression_unknown", about, cause, remedies)
            })?),
        };
        let ending = target.extension().map(|own| own.to_string_lossy().to_lowercase()).unwrap_or_default();
        match (ending.as_str(), packing) {
            ("tif" | "tiff", packing) => Ok(Format::Tiff(packing.unwrap_or(Packing::Deflate))),
            ("png", None) => Ok(Format::Png),
            ("png", Some(_)) => {
                let cause = "a PNG is always packed in its own way; how to pack is said for a TIFF".into();
                Err(Refusal::rule("compression_of_png", about, cause, vec![Remedy::LeaveOut(about)]))
            }
            _ => {
                let about = Question::Output;
                let cause = format!("`{}` is named as no picture; expected a name in .tif or .png", target.display());
                let remedies = vec![Remedy::Write(about, "negative.tif".into())];
                Err(Refusal::unreadable("picture_name_unknown", about, cause, remedies))
            }
        }
    }
}

fn usual_ppi() -> Ppi {
    // OK because the usual number stands in the range.
    Ppi::new(USUAL_PPI.value).expect("BUG: the usual ppi is none")
}

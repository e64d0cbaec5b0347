//! What goes from one process to another, and into the book: a curve, what a file came to, a refusal, each as JSON.

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use handcoat_craft::measure::ToneInput;
use serde::{Deserialize, Serialize};

use super::curve::{CurveOf, FilmSetup, RuleFilm};
use super::make::Negative;
use crate::{Question, Refusal, RefusalKind, Remedy};

/// A curve as it is kept: its points and not its name alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeptCurve {
    /// A wanted tone and what is sent for it, both from 0 to 1.
    pub points: Vec<(f64, f64)>,
    /// Where it is from, in words.
    pub from: String,
    /// Number of the response it is of.
    pub response: Option<u32>,
    /// Number and name of the set-up of that response.
    #[serde(default)]
    pub of_setup: Option<(u32, String)>,
    /// What the set-up it is used for said of negatives.
    #[serde(default)]
    pub setup: Option<FilmSetup>,
    /// The film on which the rule was measured.
    #[serde(default)]
    pub rule_film: Option<RuleFilm>,
    /// The one ink its chart was printed in; nothing where it was not known.
    #[serde(default)]
    pub ink: Option<String>,
    /// What spoke against using it, with a code.
    #[serde(default)]
    pub doubts: Vec<(String, String)>,
}

impl KeptCurve {
    /// Number and name of the set-up it is used for: the one that was said, or that of its response.
    #[must_use]
    pub fn for_setup(&self) -> Option<(u32, String)> {
        let said = self.setup.as_ref().and_then(|own| Some((own.number?, own.name.clone())));
        said.or_else(|| self.of_setup.clone())
    }

    /// To keep.
    #[must_use]
    pub fn of(curve: &CurveOf) -> Self {
        Self {
            points: curve.points.iter().map(|own| (own.0.to_part(), own.1.to_part())).collect(),
            from: curve.from.clone(),
            response: curve.response,
            of_setup: curve.of_setup.clone(),
            setup: curve.setup.clone(),
            rule_film: curve.rule_film.clone(),
            ink: curve.ink.clone(),
            doubts: curve.doubts.iter().map(|own| (own.0.to_owned(), own.1.clone())).collect(),
        }
    }

    /// To use. Points beyond a tone are left out; none are kept.
    #[must_use]
    pub fn curve(&self) -> CurveOf {
        let part = |own: f64| ToneInput::part(own).ok();
        CurveOf {
            points: self.points.iter().filter_map(|own| part(own.0).zip(part(own.1))).collect(),
            from: self.from.clone(),
            response: self.response,
            of_setup: self.of_setup.clone(),
            setup: self.setup.clone(),
            rule_film: self.rule_film.clone(),
            ink: self.ink.clone(),
            doubts: self.doubts.iter().map(|own| (known_word(&own.0), own.1.clone())).collect(),
        }
    }
}

/// What a file came to, in plain values.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FileFacts {
    /// Of the whole file, in hexadecimal.
    pub sha256: String,
    /// Bytes of the file.
    pub bytes: u64,
    /// Pixels across.
    pub width_px: u32,
    /// Pixels down.
    pub height_px: u32,
    /// Pixels to the inch.
    pub ppi: f64,
    /// Its sides in millimetres.
    pub millimetres: (f64, f64),
    /// Those of the first picture, without what stands around it; none of what was made before that was kept.
    #[serde(default)]
    pub image_millimetres: Option<(f64, f64)>,
    /// By how much its lengths were corrected, one where they were not; none of what was made before that was kept.
    #[serde(default)]
    pub rule_correction: Option<f64>,
    /// Lengths of the rules in its borders in millimetres, each once: nothing where it carries none; none of what was made before that was kept.
    #[serde(default)]
    pub rules_mm: Option<Vec<f64>>,
    /// What to know, with codes.
    pub warnings: Vec<(String, String)>,
    /// What leads from film and print back to it; empty of one that was made before there were marks.
    #[serde(default)]
    pub mark: String,
    /// SHA-256 of the picture; empty of one that was made when it was not known yet.
    #[serde(default)]
    pub source_sha256: String,
    /// Those of the further pictures, in their order.
    #[serde(default)]
    pub also_sha256: Vec<String>,
}

impl FileFacts {
    /// Of a negative that was made.
    #[must_use]
    pub fn of(negative: &Negative) -> Self {
        let (source_sha256, also_sha256) =
            negative.sources.split_first().map_or_else(Default::default, |own| (own.0.clone(), own.1.to_vec()));
        Self {
            mark: negative.mark.clone(),
            sha256: negative.sha256.clone(),
            bytes: negative.bytes,
            width_px: negative.width_px,
            height_px: negative.height_px,
            ppi: negative.ppi,
            millimetres: negative.millimetres(),
            image_millimetres: Some(negative.picture.millimetres(negative.counted_ppi)),
            rule_correction: Some(negative.rule.as_ref().map_or(1.0, |own| own.read.correction())),
            rules_mm: Some(negative.rules_mm()),
            warnings: negative.warnings.iter().map(|own| (own.0.to_owned(), own.1.clone())).collect(),
            source_sha256,
            also_sha256,
        }
    }
}

/// A refusal on its way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SentRefusal {
    code: String,
    kind: RefusalKind,
    about: Option<Question>,
    cause: String,
    remedies: Vec<Remedy>,
}

impl SentRefusal {
    /// To send.
    #[must_use]
    pub fn of(refusal: &Refusal) -> Self {
        let plain = |own: &Question| !matches!(own, Question::Field(_));
        Self {
            code: refusal.code.into(),
            kind: refusal.kind,
            about: refusal.about.filter(plain),
            cause: refusal.cause.clone(),
            remedies: refusal.remedies.iter().filter(|own| serde_json::to_value(own).is_ok()).cloned().collect(),
        }
    }

    /// As it was refused.
    #[must_use]
    pub fn refusal(self) -> Refusal {
        Refusal {
            code: known_word(&self.code),
            kind: self.kind,
            about: self.about,
            cause: self.cause,
            excerpt: None,
            remedies: self.remedies,
        }
    }
}

/// Codes are words of the program and few; each that comes back is kept once for good.
static WORDS: Mutex<BTreeSet<&'static str>> = Mutex::new(BTreeSet::new());

/// The longest code, and the most of them: who sends more is not us.
const LONGEST: usize = 60;
const MOST: usize = 500;

fn known_word(text: &str) -> &'static str {
    let mut words = WORDS.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = words.get(text) {
        return known;
    }
    if text.len() > LONGEST || words.len() >= MOST {
        return "unknown";
    }
    let kept: &'static str = Box::leak(text.to_owned().into_boxed_str());
    words.insert(kept);
    kept
}

//! The curve of a negative: points of a table, or those of a response that is kept.

use handcoat_craft::measure::{Bounded, ToneInput, significant};
use handcoat_craft::negative::Warning;
use handcoat_craft::tone::Correction;
use handcoat_exchange::{DecimalMark, read_curve};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::chosen::{NO_INK, ink_words, same_ink};
use super::kept::one_negative;
use super::mark::mark_in;
use super::rule::NO_FILM;
use crate::exchange::found;
use crate::expose::one_setup;
use crate::tone::ResponseView;
use crate::{Question, Refusal, Remedy, Studio};

/// What a set-up says of its negatives.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FilmSetup {
    /// Its number; none in what was kept before that was.
    #[serde(default)]
    pub number: Option<u32>,
    /// Its name.
    pub name: String,
    /// The one ink they are printed in.
    pub ink: Option<String>,
    /// What the rule in the border measured.
    pub rule_measured: Option<String>,
    /// The density range from clear film to all of the ink, to the light of its lamp.
    pub film_range: Option<f64>,
    /// The exposure scale of its paper, log exposure.
    pub scale: Option<f64>,
}

/// The film on which the rule was measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RuleFilm {
    /// Which, in words.
    pub words: String,
    /// By how much its lengths were corrected: one where they were not.
    pub correction: f64,
    /// Lengths of the rules it carries in millimetres; none where that is not known.
    #[serde(default)]
    pub rules_mm: Option<Vec<f64>>,
}

/// A curve, and where it is from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CurveOf {
    /// A wanted tone and what is sent for it.
    pub points: Vec<(ToneInput, ToneInput)>,
    /// Where it is from, in words.
    pub from: String,
    /// Number of the response it is of.
    pub response: Option<u32>,
    /// Number and name of the set-up of that response.
    pub of_setup: Option<(u32, String)>,
    /// What the set-up it is used for says of negatives.
    pub setup: Option<FilmSetup>,
    /// The film on which the rule was measured, where it is named.
    pub rule_film: Option<RuleFilm>,
    /// The one ink its chart was printed in; `none` where it was grey, nothing where it is not known.
    pub ink: Option<String>,
    /// What speaks against using it, with a code.
    pub doubts: Vec<(&'static str, String)>,
}

/// The curve of a table `input,output`.
///
/// # Errors
/// [`Refusal`] when it cannot be read.
pub fn curve_of_table(name: &str, bytes: &[u8]) -> Result<CurveOf, Refusal> {
    let mut table = read_curve(bytes, DecimalMark::Point);
    if !table.findings.is_empty() {
        // A table with decimal commas is one from its first line to its last, or is none.
        let comma = read_curve(bytes, DecimalMark::Comma);
        if comma.findings.is_empty() {
            table = comma;
        }
    }
    if let Some(mut refusal) = found(&table.findings, "`input` and `output`", "curve.csv") {
        refusal.about = Some(Question::Curve);
        refusal.remedies = vec![Remedy::Write(Question::Curve, "curve.csv".into())];
        return Err(refusal);
    }
    let ends = table.points.first().zip(table.points.last()).map(|own| (own.0.1, own.1.1));
    if let Some((first, last)) = ends.filter(|own| own.0 == own.1) {
        let cause = format!(
            "every tone is sent as {}: a film of one tone prints no picture; expected outputs that rise from {} on",
            significant(last.to_part(), 3),
            significant(first.to_part(), 3)
        );
        let remedies = vec![Remedy::Write(Question::Curve, "curve.csv".into())];
        return Err(Refusal::rule("curve_flat", Question::Curve, cause, remedies));
    }
    Ok(CurveOf { points: table.points, from: name.into(), ..CurveOf::default() })
}

/// The curve of a response that is kept, with what speaks against it.
#[must_use]
pub fn curve_of_response(view: &ResponseView) -> CurveOf {
    let part = |own: f64| ToneInput::part(own.clamp(ToneInput::LEAST, ToneInput::MOST)).ok();
    let points = view.read.correction.inputs().iter().enumerate();
    let points = points.filter_map(|(row, sent)| part(Correction::tone_of(row)).zip(part(*sent))).collect();
    let of = view.setup.as_ref().map_or(String::new(), |own| format!(" of {}", own.1));
    let mut doubts: Vec<(&'static str, String)> = view.doubts.iter().map(|own| (own.code(), own.to_string())).collect();
    let white = view.read.correction.white;
    doubts.extend(Warning::of_white(white.sent.to_part(), white.margin()).map(|own| (own.code(), own.to_string())));
    CurveOf {
        points,
        from: format!("response {}{of}", view.number),
        response: Some(view.number),
        of_setup: view.setup.clone(),
        setup: None,
        rule_film: None,
        ink: view.ink.clone(),
        doubts,
    }
}

/// The same curve with what the set-up it is used for says of negatives: the one that is said, or that of its response.
///
/// # Errors
/// [`Refusal`] when the set-up is not there, or the book cannot be read.
pub fn with_setup(
    studio: &Studio,
    mut curve: CurveOf,
    said: Option<&String>,
    now: Timestamp,
) -> Result<CurveOf, Refusal> {
    let view = match (said, &curve.of_setup) {
        (Some(written), _) => one_setup(studio, written, now)?,
        // One that is no longer kept says nothing, and its response is doubted for that already.
        (None, Some((number, _))) => match one_setup(studio, &number.to_string(), now) {
            Ok(own) => own,
            Err(_) => return Ok(curve),
        },
        (None, None) => return Ok(curve),
    };
    let text = |key: &str| view.known.iter().find(|own| own.0.key == key).map(|own| own.1.clone());
    if let Some((number, name)) = curve.of_setup.as_ref().filter(|own| own.0 != view.number) {
        let words = format!(
            "the curve is of set-up {number} ({name}) and the negative is for {}; another paper, coat, lamp, film or ink has another curve",
            view.name
        );
        curve.doubts.push(("setup_other", words));
    }
    curve.setup = Some(FilmSetup {
        number: Some(view.number),
        name: view.name.clone(),
        ink: text("ink_colour"),
        rule_measured: text("rule_measured"),
        film_range: text("film_range").and_then(|own| crate::field::number(&own)),
        scale: view.scale.map(|own| own.0.best.to_log_h()),
    });
    Ok(curve)
}

/// The same with the film on which the rule was measured: a kept negative by its name, its number or a mark of its files; none for one whose
/// lengths were not corrected.
///
/// # Errors
/// [`Refusal`] when the negative is not there, no file of it was made here, or the book cannot be read.
pub fn with_rule_film(
    studio: &Studio,
    mut curve: CurveOf,
    said: Option<&String>,
    now: Timestamp,
) -> Result<CurveOf, Refusal> {
    let about = Question::RuleFilm;
    let Some(written) = said.filter(|own| own.trim() != NO_FILM) else { return Ok(curve) };
    let view = one_negative(studio, written, now).map_err(|mut own| {
        own.about = own.about.map(|_| about);
        for remedy in &mut own.remedies {
            if let Remedy::Write(own, _) = remedy {
                *own = about;
            }
        }
        own
    })?;
    let mark = mark_in(written);
    let marked = view.made.iter().find(|own| mark.as_ref() == Some(&own.facts.mark));
    let Some(making) = marked.or(view.made.first()) else {
        let cause = format!(
            "negative {}, `{}`, was entered by hand; whether its lengths were corrected is not in the book",
            view.number, view.name
        );
        let remedies = vec![Remedy::Write(about, NO_FILM.into()), Remedy::LeaveOut(about)];
        return Err(Refusal::rule("rule_film_unknown", about, cause, remedies));
    };
    let words = format!("negative {} ({})", view.number, view.name);
    curve.rule_film = Some(RuleFilm { words, correction: making.rule_correction(), rules_mm: making.rules_mm() });
    Ok(curve)
}

impl CurveOf {
    /// What speaks against using it in another ink than that of its chart; `own` is the ink, `what` what is printed in it.
    pub(crate) fn ink_other(&self, own: Option<&str>, what: &str) -> Option<(&'static str, String)> {
        let (of, own) = (self.ink.as_deref()?, own.unwrap_or(NO_INK));
        let words = || {
            let (of, own) = (ink_words(of), ink_words(own));
            format!("the chart of the curve was printed in {of}, and {what} is in {own}; another ink has another curve")
        };
        (!same_ink(of, own)).then(|| ("ink_other", words()))
    }

    /// What is sent for the darkest and the lightest tone.
    pub(super) fn ends(&self) -> Option<(f64, f64)> {
        Some((self.points.first()?.1.to_part(), self.points.last()?.1.to_part()))
    }
}

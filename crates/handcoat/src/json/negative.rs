//! A negative that was made, as JSON.

use std::path::Path;

use handcoat_work::negative::{
    FileStanding, InksMade, JobView, Making, Negative, NegativeLink, NegativeView, PictureOnFilm, Rule, RuleOn,
    sides_word,
};
use serde_json::{Value, json};

pub(crate) fn made(negative: &Negative, target: &Path, preview: Option<&Path>, seconds: f64) -> Value {
    let (width_mm, height_mm) = negative.millimetres();
    let warnings = negative.warnings.iter().map(|own| json!({ "code": own.0, "message": own.1 }));
    json!({
        "file": target,
        "width_px": negative.width_px,
        "height_px": negative.height_px,
        "width_mm": width_mm,
        "height_mm": height_mm,
        "picture_width_px": negative.picture.width,
        "picture_height_px": negative.picture.height,
        "ppi": plain(negative.ppi),
        "scale": plain(negative.scale),
        "profile_used": negative.profile_used,
        "inverted": negative.inverted,
        "mirrored": negative.mirrored,
        "border": negative.border.is_some(),
        "mark": negative.mark,
        "border_code": negative.code,
        "border_sides": negative.border.as_ref().map(|own| sides_word(own.sides)),
        "rule_px": negative.border.as_ref().and_then(|own| own.rule).map(|own| own.pixels),
        "rule_mm": negative.border.as_ref().and_then(|own| own.rule).map(|own| own.millimetres),
        "curve": negative.curve,
        "response_number": negative.response,
        "sha256": negative.sha256,
        "bytes": negative.bytes,
        "seconds": seconds,
        "bits": negative.bits,
        "ink": negative.ink,
        "film_said": negative.on_film,
        "counted_ppi": plain(negative.counted_ppi),
        "rule_measured_mm": negative.rule.as_ref().map(|own| plain(own.measured.to_millimetres())),
        "rule_on": negative.rule.as_ref().and_then(rule_on),
        "rule_uncorrected_mm": negative.rule.as_ref().map(|own| plain(own.read.to_millimetres())),
        "rule_corrected": negative.rule.as_ref().is_some_and(|own| own.read.corrected),
        "preview": preview,
        "pictures": negative.pictures.iter().map(|own| picture(own, negative.counted_ppi)).collect::<Vec<_>>(),
        "warnings": warnings.collect::<Vec<_>>(),
    })
}

/// A number without what only binary fractions add to it.
fn plain(own: f64) -> f64 {
    (own * 1e6).round() / 1e6
}

/// The film the rule was measured on, where it was corrected or is named.
fn rule_on(own: &Rule) -> Option<String> {
    match &own.on {
        RuleOn::Film(film) => Some(film.words.clone()),
        RuleOn::BySetup(film) => Some(format!("by set-up {}", film.words)),
        RuleOn::Plain | RuleOn::Setup => None,
    }
}

pub(crate) fn job(own: &JobView) -> Value {
    let (done, of) = own.rows;
    let refused = own.refused.as_ref().map(|own| json!({ "code": own.0, "message": own.1 }));
    json!({
        "job": own.number,
        "state": own.standing.word(),
        "source": own.source,
        "file": own.target,
        "rows": done,
        "of_rows": of,
        "left_s": own.left_seconds,
        "begun": own.begun.to_string(),
        "refused": refused,
        "act": own.act,
        "negative": own.negative,
    })
}

/// What is there.
fn said(text: &str) -> Option<&str> {
    (!text.is_empty()).then_some(text)
}

fn setup(own: &(u32, String)) -> Value {
    json!({ "number": own.0, "name": own.1 })
}

fn making(own: &Making, standing: Option<FileStanding>) -> Value {
    let (width_mm, height_mm) = (plain(own.facts.millimetres.0), plain(own.facts.millimetres.1));
    let warnings = own.facts.warnings.iter().map(|own| json!({ "code": own.0, "message": own.1 }));
    json!({
        "at": own.at.to_string(),
        "source": own.source,
        "source_sha256": own.facts.source_sha256,
        "also_sha256": own.facts.also_sha256,
        "file": own.file,
        "file_state": standing.map(FileStanding::word),
        "mark": said(&own.facts.mark),
        "sha256": own.facts.sha256,
        "bytes": own.facts.bytes,
        "width_px": own.facts.width_px,
        "height_px": own.facts.height_px,
        "width_mm": width_mm,
        "height_mm": height_mm,
        "image_width_mm": own.facts.image_millimetres.map(|own| plain(own.0)),
        "image_height_mm": own.facts.image_millimetres.map(|own| plain(own.1)),
        "ppi": plain(own.facts.ppi),
        "settings": own.answers,
        "curve": own.curve.from,
        "curve_points": own.curve.points,
        "response_number": own.curve.response,
        "setup": own.setup.as_ref().map(setup),
        "curve_setup": own.curve.of_setup.as_ref().map(setup),
        "warnings": warnings.collect::<Vec<_>>(),
    })
}

/// `files` says how each of its files stands, in their order; in a list nobody looks.
pub(crate) fn kept(own: &NegativeView, files: Option<&[FileStanding]>) -> Value {
    let standing = |place: usize| files?.get(place).copied();
    let fields = own.known.iter().map(|own| (own.0.key.to_owned(), Value::from(own.1.clone())));
    json!({
        "negative": own.number,
        "name": own.name,
        "put_away": own.put_away,
        "mark": own.made.first().and_then(|own| said(&own.facts.mark)),
        "fields": fields.collect::<serde_json::Map<_, _>>(),
        "made": own.made.iter().enumerate().map(|own| making(own.1, standing(own.0))).collect::<Vec<_>>(),
        "curve_stale": own.doubts.stale,
        "doubts": own.doubts.said.iter().map(|own| json!({ "code": own.0, "message": own.1 })).collect::<Vec<_>>(),
        "prints": own.prints.iter().map(|own| json!({ "print": own.0, "title": own.1 })).collect::<Vec<_>>(),
    })
}

/// What leads from a print to its negative.
pub(crate) fn link(own: Option<&NegativeLink>) -> Value {
    own.map_or(Value::Null, |own| {
        json!({
            "negative": own.number,
            "sha256": own.sha256,
            "curve": own.curve,
            "response_number": own.response,
            "setup": own.setup.as_ref().map(setup),
            "curve_setup": own.curve_setup.as_ref().map(setup),
        })
    })
}

fn picture(own: &PictureOnFilm, ppi: f64) -> Value {
    let (width_mm, height_mm) =
        handcoat_craft::negative::PixelSize { width: own.place.width, height: own.place.height }.millimetres(ppi);
    json!({
        "file": own.file,
        "left_px": own.place.left,
        "top_px": own.place.top,
        "width_px": own.place.width,
        "height_px": own.place.height,
        "width_mm": width_mm,
        "height_mm": height_mm,
        "shown_width_px": own.own.width,
        "shown_height_px": own.own.height,
        "scale": plain(own.scale),
        "profile_used": own.profile_used,
        "tones": own.tones,
        "beyond_pixels": own.beyond.map_or(0, |own| own.pixels),
        "beyond_percent": own.beyond.map_or(0.0, |own| 100.0 * own.pixels as f64 / own.of.max(1) as f64),
        "smallest_value": own.beyond.map(|own| own.least),
        "largest_value": own.beyond.map(|own| own.most),
        "border_code": own.code,
        "border_line": own.line,
    })
}

pub(crate) fn inks(made: &InksMade, target: &Path) -> Value {
    let (width_mm, height_mm) = made.pixels.millimetres(made.ppi);
    json!({
        "file": target,
        "width_px": made.pixels.width,
        "height_px": made.pixels.height,
        "width_mm": width_mm,
        "height_mm": height_mm,
        "ppi": plain(made.ppi),
        "inks": made.inks,
        "steps": made.steps,
        "sha256": made.sha256,
        "bytes": made.bytes,
    })
}

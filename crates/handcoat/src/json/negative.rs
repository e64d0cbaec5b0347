//! A negative that was made, as JSON.

use std::path::Path;

use handcoat_work::negative::{InksMade, Negative, PictureOnFilm};
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
        "ppi": negative.ppi,
        "scale": negative.scale,
        "profile_used": negative.profile_used,
        "inverted": negative.inverted,
        "mirrored": negative.mirrored,
        "border": negative.border.is_some(),
        "border_code": negative.code,
        "rule_px": negative.border.as_ref().and_then(|own| own.rule),
        "curve": negative.curve,
        "response_number": negative.response,
        "sha256": negative.sha256,
        "bytes": negative.bytes,
        "seconds": seconds,
        "bits": negative.bits,
        "ink": negative.ink,
        "film_said": negative.on_film,
        "counted_ppi": negative.counted_ppi,
        "rule_measured_mm": negative.rule.map(|own| own.0.to_millimetres()),
        "rule_corrected": negative.rule.is_some_and(|own| own.1.corrected),
        "preview": preview,
        "pictures": negative.pictures.iter().map(|own| picture(own, negative.counted_ppi)).collect::<Vec<_>>(),
        "warnings": warnings.collect::<Vec<_>>(),
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
        "scale": own.scale,
        "profile_used": own.profile_used,
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
        "ppi": made.ppi,
        "inks": made.inks,
        "steps": made.steps,
        "sha256": made.sha256,
        "bytes": made.bytes,
    })
}

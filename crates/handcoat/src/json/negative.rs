//! A negative that was made, as JSON.

use std::path::Path;

use handcoat_work::negative::Negative;
use serde_json::{Value, json};

pub(crate) fn made(negative: &Negative, target: &Path, seconds: f64) -> Value {
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
        "warnings": warnings.collect::<Vec<_>>(),
    })
}

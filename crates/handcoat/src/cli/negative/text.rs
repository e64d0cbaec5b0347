//! What `handcoat negative …` says in words.

use std::fmt::Write as _;
use std::path::Path;

use handcoat_craft::measure::{fixed, significant};
use handcoat_work::negative::Negative;

pub(super) fn made(negative: &Negative, target: &Path) -> String {
    let (across, down) = negative.millimetres();
    let mut out = format!(
        "{}: {} × {} pixels, {} × {} mm at {} to the inch\n",
        target.display(),
        negative.width_px,
        negative.height_px,
        fixed(across, 1),
        fixed(down, 1),
        significant(negative.ppi, 6)
    );
    let size = match negative.scale {
        1.0 => "pixel for pixel".into(),
        scale => format!("{} times as many pixels across as the picture has", significant(scale, 3)),
    };
    let tones = if negative.profile_used {
        "brought to lightness by its profile"
    } else {
        "as its codes are, it has no profile"
    };
    let _ = writeln!(out, "Picture: {} × {} pixels, {size}; {tones}.", negative.picture.width, negative.picture.height);
    let turned = match (negative.inverted, negative.mirrored) {
        (true, true) => "light for dark, left for right",
        (true, false) => "light for dark, not mirrored",
        (false, true) => "light and dark as they are, left for right",
        (false, false) => "light and dark as they are, not mirrored",
    };
    let _ = writeln!(out, "Curve: {}; {turned}.", negative.curve);
    if let Some(border) = &negative.border {
        let wedge = border.marks.iter().any(|own| matches!(own.1, handcoat_craft::negative::Mark::Tone(_)));
        let parts = [
            (wedge, "a wedge of eleven tones"),
            (border.rule.is_some(), "a rule of 100 mm to measure on the film"),
            (true, "ticks on the lines of the edges"),
        ];
        let parts: Vec<&str> = parts.into_iter().filter(|own| own.0).map(|own| own.1).collect();
        let code = negative.code.as_ref().map_or(String::new(), |own| format!(", a code that reads `{own}`"));
        let _ = writeln!(out, "Border: {}{code}.", parts.join(", "));
    }
    for (code, warning) in &negative.warnings {
        let _ = writeln!(out, "Note: {warning} [{code}]");
    }
    let _ = writeln!(out, "{} bytes, SHA-256 {}", negative.bytes, negative.sha256);
    out
}

//! What `handcoat negative …` says in words.

use std::fmt::Write as _;
use std::path::Path;

use handcoat_craft::measure::{fixed, significant};
use handcoat_work::negative::{InksMade, Negative};

pub(super) fn made(negative: &Negative, target: &Path, preview: Option<&Path>) -> String {
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
    let several = negative.pictures.len() > 1;
    for own in &negative.pictures {
        let size = match own.scale {
            1.0 => "pixel for pixel".into(),
            scale => format!("{} times as many pixels across as the picture has", significant(scale, 3)),
        };
        let tones = if own.profile_used {
            "brought to lightness by its profile"
        } else {
            "as its codes are, it has no profile"
        };
        let name = if several { format!(" {}", own.file.display()) } else { String::new() };
        let at = if several || negative.on_film {
            format!(" at {}, {} from left and top", own.place.left, own.place.top)
        } else {
            String::new()
        };
        let _ = writeln!(out, "Picture{name}: {} × {} pixels{at}, {size}; {tones}.", own.place.width, own.place.height);
    }
    let samples = match (&negative.ink, negative.bits) {
        (Some(ink), _) => format!("one ink, {ink}, in RGB of 16 bits without a profile"),
        (None, bits) => format!("grey of {bits} bits"),
    };
    let _ = writeln!(out, "Samples: {samples}.");
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
            (negative.pictures.iter().any(|own| own.line.is_some()), "name, curve and size in letters"),
        ];
        let parts: Vec<&str> = parts.into_iter().filter(|own| own.0).map(|own| own.1).collect();
        let code = negative.code.as_ref().map_or(String::new(), |own| format!(", a code that reads `{own}`"));
        let _ = writeln!(out, "Border: {}{code}.", parts.join(", "));
    }
    if let Some(own) = preview {
        let _ = writeln!(out, "As it will print, small: {}", own.display());
    }
    for (code, warning) in &negative.warnings {
        let _ = writeln!(out, "Note: {warning} [{code}]");
    }
    let _ = writeln!(out, "{} bytes, SHA-256 {}", negative.bytes, negative.sha256);
    out
}

pub(super) fn inks(made: &InksMade, target: &Path) -> String {
    let (across, down) = made.pixels.millimetres(made.ppi);
    let mut out = format!(
        "{}: {} × {} pixels, {} × {} mm at {} to the inch\n",
        target.display(),
        made.pixels.width,
        made.pixels.height,
        fixed(across, 1),
        fixed(down, 1),
        significant(made.ppi, 6)
    );
    for (number, ink) in made.inks.iter().enumerate() {
        let _ = writeln!(out, "Strip {}: {ink}, {} steps from no ink to all of it", number + 1, made.steps);
    }
    let _ = writeln!(out, "On the print, the strip that first comes to the white of the paper blocks most.");
    let _ = writeln!(out, "{} bytes, SHA-256 {}", made.bytes, made.sha256);
    out
}

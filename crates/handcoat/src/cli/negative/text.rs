//! What `handcoat negative …` says in words.

use std::fmt::Write as _;
use std::path::Path;

use crate::cli::words::quoted;
use handcoat_craft::measure::{fixed, significant};
use handcoat_work::negative::{FileStanding, InksMade, JobChange, JobStanding, JobView, Negative, NegativeView};

/// What is said of a file, its name before the first line.
pub(super) fn made(lines: &[String], target: &Path, preview: Option<&Path>) -> String {
    let mut out = format!("{}: {}\n", target.display(), lines.join("\n"));
    if let Some(own) = preview {
        let _ = writeln!(out, "As it will print, small: {}", own.display());
    }
    out
}

/// The lines of that.
pub(in crate::cli) fn lines(negative: &Negative) -> Vec<String> {
    words(negative).lines().map(String::from).collect()
}

fn words(negative: &Negative) -> String {
    let (across, down) = negative.millimetres();
    let mut out = format!(
        "{} × {} pixels, {} × {} mm at {} to the inch\n",
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
        let tones = &own.tones;
        let name = if several { format!(" {}", own.file.display()) } else { String::new() };
        let at = if several || negative.on_film {
            format!(" at {}, {} from left and top", own.place.left, own.place.top)
        } else {
            String::new()
        };
        let _ = writeln!(out, "Picture{name}: {} × {} pixels{at}, {size}; {tones}.", own.place.width, own.place.height);
    }
    let samples = match (&negative.ink, negative.bits) {
        (Some(ink), _) => format!("One ink, {ink}, RGB, 16 bits, without a profile"),
        (None, bits) => format!("Grey, {bits} bits"),
    };
    let _ = writeln!(out, "{samples}.");
    let turned = match (negative.inverted, negative.mirrored) {
        (true, true) => "light for dark, left for right",
        (true, false) => "light for dark, not mirrored",
        (false, true) => "not inverted, left for right",
        (false, false) => "not inverted, not mirrored",
    };
    let _ = writeln!(out, "Curve: {}; {turned}.", negative.curve);
    if let Some(border) = &negative.border {
        let wedge = border.marks.iter().any(|own| matches!(own.1, handcoat_craft::negative::Mark::Tone(_)));
        let rule = border.rule.map_or("no rule, for which it is too narrow".into(), |own| {
            format!("a rule of {} mm to measure on the film", fixed(own.millimetres, 0))
        });
        let lettered = negative.pictures.iter().any(|own| own.line.is_some());
        let parts = [
            (wedge, "a wedge of eleven tones"),
            (true, rule.as_str()),
            (true, "ticks on the lines of the edges"),
            (lettered, "mark, name, curve and size in letters"),
        ];
        let parts: Vec<&str> = parts.into_iter().filter(|own| own.0).map(|own| own.1).collect();
        let sides = handcoat_work::negative::sides_words(border.sides);
        let code = negative.code.as_ref().map_or(String::new(), |own| format!(", a code that reads `{own}`"));
        let letters = if lettered {
            String::new()
        } else {
            format!("; letters have no room in it, so write the mark {} on the film", negative.mark)
        };
        let _ = writeln!(out, "Border {sides}: {}{code}{letters}.", parts.join(", "));
    }
    let _ = writeln!(out, "Mark: {}.", negative.mark);
    for (code, warning) in &negative.warnings {
        let _ = writeln!(out, "Note: {warning} [{code}]");
    }
    let _ = writeln!(out, "{} bytes, SHA-256 {}", negative.bytes, negative.sha256);
    out
}

/// A span in the words of a clock, rounded up: `40 s`, `12 min`.
pub(crate) fn left(seconds: f64) -> String {
    let seconds = seconds.max(0.0).ceil();
    if seconds < 100.0 {
        format!("{} s", fixed(seconds, 0))
    } else {
        format!("{} min", fixed((seconds / 60.0).ceil(), 0))
    }
}

/// A job in one line or two.
pub(super) fn job(own: &JobView) -> String {
    let mut out = format!("{:>4}  {:<11}  {}", own.number, own.standing.word(), own.target);
    let (done, of) = own.rows;
    if of > 0 && own.standing != JobStanding::Made {
        let _ = write!(out, ", row {done} of {of}");
    }
    if let Some(seconds) = own.left_seconds {
        let _ = write!(out, ", {} left", left(seconds));
    }
    if let Some(negative) = own.negative {
        let _ = write!(out, ", negative {negative}");
    }
    out.push('\n');
    if let Some((code, cause)) = &own.refused {
        let _ = writeln!(out, "      {cause} [{code}]");
    }
    if own.standing.can_go_on() {
        let more = match own.way_on() {
            Some(JobChange { target: Some(target), .. }) => format!(" -o {}", quoted(&target)),
            Some(JobChange { name: Some(name), .. }) => format!(" --keep {}", quoted(&name)),
            _ => String::new(),
        };
        let _ = writeln!(out, "      go on: handcoat negative resume {}{more}", own.number);
        let _ = writeln!(out, "      or put it away: handcoat negative put-away {}", own.number);
    }
    out
}

/// A negative in one line.
pub(super) fn brief(own: &NegativeView) -> String {
    let mut out = format!("{:>4}  {}", own.number, own.name);
    match own.made.first() {
        Some(made) => {
            let sides = |own: (f64, f64)| format!("{} × {} mm", fixed(own.0, 1), fixed(own.1, 1));
            let film = sides(made.facts.millimetres);
            let size = made
                .facts
                .image_millimetres
                .map_or(film.clone(), |own| format!("image {} on film of {film}", sides(own)));
            let _ = write!(out, ", {size}, curve {}, made {}", made.curve.from, made.at);
        }
        None => out.push_str(", entered by hand"),
    }
    if own.doubts.stale {
        out.push_str("  ! its curve is stale");
    }
    out.push('\n');
    out
}

/// All that is known of one.
pub(super) fn kept(own: &NegativeView, files: &[FileStanding]) -> String {
    let mut out = format!("Negative {}  {}\n", own.number, own.name);
    if own.put_away {
        out.push_str("  put away: it is not offered for new prints\n");
    }
    if let Some(mark) = own.made.first().map(|own| &own.facts.mark).filter(|own| !own.is_empty()) {
        let _ = writeln!(out, "  mark: {mark}");
    }
    for (field, words) in &own.known {
        let _ = writeln!(out, "  {}: {words}", field.label);
    }
    for ((code, _), sentence) in own.doubts.said.iter().zip(own.doubts.sentences()) {
        let _ = writeln!(out, "  ! {sentence} [{code}]");
    }
    for (made, standing) in own.made.iter().zip(files) {
        let _ = writeln!(out, "  made {}: {}", made.at, made.file);
        if let Some(says) = standing.says() {
            let _ = writeln!(out, "    ! {says} [file_{}]", standing.word());
        }
        let _ = writeln!(out, "    from {}, SHA-256 {}", made.source, made.facts.source_sha256);
        if let Some((number, name)) = &made.setup {
            let _ = writeln!(out, "    set-up {number}: {name}");
        }
        let other = made.curve.of_setup.as_ref().filter(|of| made.setup.as_ref().is_some_and(|own| own.0 != of.0));
        if let Some((number, name)) = other {
            let _ = writeln!(out, "    its curve is of set-up {number}: {name}");
        }
        for line in &made.lines {
            let _ = writeln!(out, "    {line}");
        }
    }
    let prints: Vec<String> = own.prints.iter().map(|own| format!("{} ({})", own.0, own.1)).collect();
    let prints = if prints.is_empty() { "none yet".into() } else { prints.join(", ") };
    let _ = writeln!(out, "  prints from it: {prints}");
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

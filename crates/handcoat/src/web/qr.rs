//! A QR code, on a terminal and on a page.

use std::fmt::Write as _;

use maud::{Markup, PreEscaped};
use qrcode::{Color, EcLevel, QrCode};

/// Light modules around the code, as ISO/IEC 18004 asks.
const QUIET: usize = 4;

/// The modules, quiet zone included; `true` is dark. Nothing when the text is too long for a code.
fn modules(text: &str) -> Option<Vec<Vec<bool>>> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    let side = code.width();
    let colours = code.to_colors();
    let dark = |row: usize, column: usize| {
        let inside = |place: usize| place.checked_sub(QUIET).filter(|place| *place < side);
        let place = inside(row).zip(inside(column)).map(|(row, column)| row * side + column);
        place.and_then(|place| colours.get(place)).is_some_and(|colour| *colour == Color::Dark)
    };
    let all = 0..side + 2 * QUIET;
    Some(all.clone().map(|row| all.clone().map(|column| dark(row, column)).collect()).collect())
}

/// Two rows of modules a line, light ones printed: a camera reads it on a dark terminal.
pub(crate) fn lines(text: &str) -> String {
    let Some(modules) = modules(text) else { return String::new() };
    let mut out = String::new();
    for pair in modules.chunks(2) {
        let (upper, lower) = (pair.first(), pair.get(1));
        for column in 0..modules.len() {
            let light = |row: Option<&Vec<bool>>| row.and_then(|row| row.get(column)).is_some_and(|dark| !dark);
            out.push(match (light(upper), light(lower)) {
                (true, true) => '█',
                (true, false) => '▀',
                (false, true) => '▄',
                (false, false) => ' ',
            });
        }
        out.push('\n');
    }
    out
}

/// As a drawing in the colours of the page. Its ground is always the lighter colour, or no camera reads it.
pub(crate) fn drawing(text: &str) -> Markup {
    let Some(modules) = modules(text) else { return PreEscaped(String::new()) };
    let side = modules.len();
    let mut path = String::new();
    for (row, line) in modules.iter().enumerate() {
        for (column, _) in line.iter().enumerate().filter(|(_, dark)| **dark) {
            let _ = write!(path, "M{column} {row}h1v1h-1z");
        }
    }
    PreEscaped(format!(
        "<svg class=\"qr\" role=\"img\" aria-label=\"the address with the code, for a camera\" viewBox=\"0 0 {side} {side}\" \
         shape-rendering=\"crispEdges\"><rect class=\"ground\" width=\"{side}\" height=\"{side}\"/><path d=\"{path}\"/></svg>"
    ))
}

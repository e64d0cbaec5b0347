//! A QR code (ISO/IEC 18004) as one path of squares, with its quiet zone.

use std::fmt::Write as _;

use qrcode::bits::Bits;
use qrcode::{Color, EcLevel, QrCode, Version};

/// Modules left white on every side (ISO/IEC 18004, from memory).
const QUIET: usize = 4;

/// Why no code can be drawn.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum QrError {
    /// There is nothing to encode.
    #[error("there is no text for the QR code; expected at least one character")]
    Empty,
    /// More than the code holds.
    #[error("the text for the QR code has {bytes} bytes, more than a code can hold; expected a short code or address")]
    TooLong {
        /// Length of the text.
        bytes: usize,
    },
}

impl QrError {
    /// The stable code of this error.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Empty => "qr_empty",
            Self::TooLong { .. } => "qr_too_long",
        }
    }
}

/// Draws the code of a text, always black on white: readers want it so. One unit of the drawing is one module; up to
/// 15 % of it may be soiled (level M).
///
/// # Errors
/// [`QrError`] when the text is empty or too long.
pub fn qr(text: &str) -> Result<String, QrError> {
    let code = encode(text)?;
    let width = code.width();
    let side = width + 2 * QUIET;
    let modules = code.to_colors();
    let mut path = String::new();
    for (y, row) in modules.chunks(width).enumerate() {
        let mut x = 0;
        // A run of dark modules is one rectangle: fewer seams between neighbours.
        for run in row.chunk_by(|one, other| one == other) {
            if run.first() == Some(&Color::Dark) {
                let _ = write!(path, "M{} {}h{}v1h-{}z", x + QUIET, y + QUIET, run.len(), run.len());
            }
            x += run.len();
        }
    }
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" width=\"{side}\" height=\"{side}\" \
         role=\"img\" shape-rendering=\"crispEdges\"><title>QR code</title>\
         <path d=\"M0 0h{side}v{side}h-{side}z\" fill=\"#ffffff\"/><path d=\"{path}\" fill=\"#000000\"/></svg>"
    ))
}

/// Modules along one side of the drawing of [`qr`], quiet zone included: what decides how large it must be printed.
///
/// # Errors
/// [`QrError`] when the text is empty or too long.
pub fn qr_modules(text: &str) -> Result<usize, QrError> {
    Ok(encode(text)?.width() + 2 * QUIET)
}

/// The squares of [`qr`], row by row, the quiet zone with them: how many a side has, and which are dark. For whoever draws in pixels.
///
/// # Errors
/// [`QrError`] when the text is empty or too long.
pub fn qr_squares(text: &str) -> Result<(usize, Vec<bool>), QrError> {
    Ok(with_quiet(&encode(text)?))
}

/// The same of the smallest code, 21 squares a side and 29 with its quiet zone, of which a quarter may be soiled (level Q): up to 16 capitals and
/// digits.
///
/// # Errors
/// [`QrError`] when the text is empty or too long.
pub fn qr_small(text: &str) -> Result<(usize, Vec<bool>), QrError> {
    if text.is_empty() {
        return Err(QrError::Empty);
    }
    let too_long = || QrError::TooLong { bytes: text.len() };
    // One run of capitals and digits: cut into runs of each, some texts come out longer and have no room.
    if !text.bytes().all(|own| own.is_ascii_uppercase() || own.is_ascii_digit()) {
        return Err(too_long());
    }
    let mut bits = Bits::new(Version::Normal(1));
    let code = bits
        .push_alphanumeric_data(text.as_bytes())
        .and_then(|()| bits.push_terminator(EcLevel::Q))
        .and_then(|()| QrCode::with_bits(bits, EcLevel::Q));
    Ok(with_quiet(&code.map_err(|_| too_long())?))
}

fn with_quiet(code: &QrCode) -> (usize, Vec<bool>) {
    let (width, modules) = (code.width(), code.to_colors());
    let side = width + 2 * QUIET;
    let mut dark = vec![false; side * side];
    for (place, module) in modules.iter().enumerate() {
        let (x, y) = (place % width + QUIET, place / width + QUIET);
        if let Some(own) = dark.get_mut(y * side + x) {
            *own = *module == Color::Dark;
        }
    }
    (side, dark)
}

/// The squares of a small code that always has 25 a side, without anything around it: up to 38 capitals, digits and a few signs.
///
/// # Errors
/// [`QrError`] when the text is empty or too long.
pub fn qr_of_25(text: &str) -> Result<Vec<bool>, QrError> {
    if text.is_empty() {
        return Err(QrError::Empty);
    }
    let code = QrCode::with_version(text, Version::Normal(2), EcLevel::M);
    let code = code.map_err(|_| QrError::TooLong { bytes: text.len() })?;
    Ok(code.to_colors().into_iter().map(|own| own == Color::Dark).collect())
}

fn encode(text: &str) -> Result<QrCode, QrError> {
    if text.is_empty() {
        return Err(QrError::Empty);
    }
    // The only way a text fails at a stated level is its length.
    QrCode::with_error_correction_level(text, EcLevel::M).map_err(|_| QrError::TooLong { bytes: text.len() })
}

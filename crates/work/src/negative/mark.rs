//! The mark of a negative: eight signs of its pictures, its settings and its curve, known before it is made. They stand in the letters and in the
//! code of squares of its border, so that film and print lead back to it.

use std::io::Read as _;
use std::path::Path;

use serde_json::Value;
use sha2::{Digest as _, Sha256};

use super::answers::NegativeAnswers;
use super::apart::KeptCurve;
use super::curve::CurveOf;

/// Signs of a mark. Of ten thousand negatives two have one mark once in a hundred books.
const SIGNS: usize = 8;
/// What the code of squares says before the mark: with it as much as the smallest code holds.
const BEFORE: &str = "HANDCOAT";
/// Settings that are no part of what is made: where further pictures lie, whose bytes count, and what stood under the name of the file.
const NOT_OF_IT: [&str; 2] = ["also", "force"];

/// SHA-256 of a file, in hexadecimal.
///
/// # Errors
/// When it cannot be read.
pub fn sha256_of(path: &Path) -> std::io::Result<String> {
    let mut file = std::fs::File::open(path)?;
    let mut hash = Sha256::new();
    let mut room = vec![0; 1 << 18];
    loop {
        match file.read(&mut room)? {
            0 => return Ok(hexadecimal(&hash.finalize())),
            // OK because no more was read than there is room.
            read => hash.update(&room[..read]),
        }
    }
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|own| format!("{own:02x}")).collect()
}

/// The mark of a negative of these pictures, by their SHA-256 in their order: what was answered, the points of the curve, and what its set-up
/// says of ink and rule, and by how much the film was corrected that the rule was measured on. What was left open has no part in it.
pub(super) fn mark_of(pictures: &[String], answers: &NegativeAnswers, curve: &CurveOf) -> String {
    let open = |own: &Value| own.is_null() || *own == Value::Bool(false);
    let mut settings = serde_json::to_value(answers).unwrap_or_default();
    if let Some(own) = settings.as_object_mut() {
        own.retain(|key, value| !NOT_OF_IT.contains(&key.as_str()) && !open(value));
    }
    let setup = curve.setup.as_ref().map(|own| (&own.ink, &own.rule_measured));
    // Keys of an object stand in their order, so that the same settings are the same bytes.
    let mut all = serde_json::json!([pictures, settings, KeptCurve::of(curve).points, setup]);
    if let (Some(own), Some(all)) = (&curve.rule_film, all.as_array_mut()) {
        all.push(own.correction.into());
    }
    let mut mark = hexadecimal(&Sha256::digest(all.to_string())).to_uppercase();
    mark.truncate(SIGNS);
    mark
}

/// What the code of squares says.
pub(super) fn code_of(mark: &str) -> String {
    format!("{BEFORE}{mark}")
}

/// The mark in what somebody wrote or read from a code of squares; none where there is none.
pub(super) fn mark_in(written: &str) -> Option<String> {
    let text = written.trim().to_uppercase();
    let mark = text.strip_prefix(BEFORE).unwrap_or(&text).trim();
    (mark.len() == SIGNS && mark.bytes().all(|own| own.is_ascii_hexdigit())).then(|| mark.to_owned())
}

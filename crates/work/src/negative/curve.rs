//! The curve of a negative: points of a table, or those of a response that is kept.

use handcoat_craft::measure::{Bounded, ToneInput};
use handcoat_craft::tone::Correction;
use handcoat_exchange::{DecimalMark, read_curve};

use crate::exchange::found;
use crate::tone::ResponseView;
use crate::{Question, Refusal, Remedy};

/// A curve, and where it is from.
#[derive(Clone, Debug, PartialEq)]
pub struct CurveOf {
    /// A wanted tone and what is sent for it.
    pub points: Vec<(ToneInput, ToneInput)>,
    /// Where it is from, in words.
    pub from: String,
    /// Number of the response it is of.
    pub response: Option<u32>,
    /// What speaks against using it, with a code.
    pub doubts: Vec<(&'static str, String)>,
}

/// The curve of a table `input,output`.
///
/// # Errors
/// [`Refusal`] when it cannot be read.
pub fn curve_of_table(name: &str, bytes: &[u8]) -> Result<CurveOf, Refusal> {
    let table = read_curve(bytes, DecimalMark::Point);
    if let Some(mut refusal) = found(&table.findings, "`input` and `output`", "curve.csv") {
        refusal.about = Some(Question::Curve);
        refusal.remedies = vec![Remedy::Write(Question::Curve, "curve.csv".into())];
        return Err(refusal);
    }
    Ok(CurveOf { points: table.points, from: name.into(), response: None, doubts: Vec::new() })
}

/// The curve of a response that is kept, with what speaks against it.
#[must_use]
pub fn curve_of_response(view: &ResponseView) -> CurveOf {
    let part = |own: f64| ToneInput::part(own.clamp(ToneInput::LEAST, ToneInput::MOST)).ok();
    let points = view.read.correction.inputs().iter().enumerate();
    let points = points.filter_map(|(row, sent)| part(Correction::tone_of(row)).zip(part(*sent))).collect();
    let of = view.setup.as_ref().map_or(String::new(), |own| format!(" of {}", own.1));
    CurveOf {
        points,
        from: format!("response {}{of}", view.number),
        response: Some(view.number),
        doubts: view.doubts.iter().map(|own| (own.code(), own.to_string())).collect(),
    }
}

//! A proof: a picture as a set-up would print it, before any metal is spent. Grey, curve, response, then the print's own black, white and
//! tint, brought to what a screen shows.

use std::path::Path;

use handcoat_craft::colour::Lab;
use handcoat_craft::measure::{Bounded as _, ToneInput, shortened};
use handcoat_craft::source::{PROOF_MOST_PX, PROOF_PX};
use handcoat_craft::tone::{Proof, Tint};
use handcoat_pixels::{Colours, Output};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::read::ToneRead;
use crate::negative::{CurveOf, small_in};
use crate::{Question, Refusal, Remedy};

/// Answers about a proof. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct ProofAnswers {
    pub pixels: Option<String>,
    /// a* and b* of all tones.
    pub tint: Option<String>,
}

/// Below this many pixels a side is no picture.
const LEAST_PX: u32 = 16;
/// a* and b* as far as encodings of colour have room for them.
const MOST_TINT: f64 = 128.0;
const TINT_EXAMPLE: &str = "1.5,6";

impl ProofAnswers {
    /// Pixels of the longer side.
    ///
    /// # Errors
    /// [`Refusal`] for what is no count of them.
    pub fn side(&self) -> Result<u32, Refusal> {
        let Some(text) = &self.pixels else { return Ok(PROOF_PX.value) };
        let most = PROOF_MOST_PX.value;
        text.trim().parse().ok().filter(|own| (LEAST_PX..=most).contains(own)).ok_or_else(|| {
            let about = Question::ProofPixels;
            let cause = format!(
                "`{}` is no number of pixels for the longer side; expected {LEAST_PX} to {most}",
                shortened(text.trim())
            );
            Refusal::unreadable(
                "count_unreadable",
                about,
                cause,
                vec![Remedy::Write(about, PROOF_PX.value.to_string())],
            )
        })
    }

    /// The tint that is said; none where nothing is.
    ///
    /// # Errors
    /// [`Refusal`] for what is not a* and b*.
    pub fn even_tint(&self) -> Result<Option<Tint>, Refusal> {
        let Some(text) = &self.tint else { return Ok(None) };
        let number = |text: &str| text.trim().parse::<f64>().ok().filter(|own| own.abs() <= MOST_TINT);
        let pair = text.split_once(',').and_then(|own| number(own.0).zip(number(own.1)));
        pair.map(|own| Some(Tint::even(own.0, own.1))).ok_or_else(|| {
            let cause = format!(
                "`{}` is no tint; expected a* and b* as `{TINT_EXAMPLE}`, each at most {MOST_TINT} from nothing",
                shortened(text.trim())
            );
            no_tint(cause)
        })
    }
}

fn no_tint(cause: String) -> Refusal {
    let about = Question::Tint;
    let remedies = vec![Remedy::Write(about, TINT_EXAMPLE.into()), Remedy::LeaveOut(about)];
    Refusal::unreadable("tint_unreadable", about, cause, remedies)
}

/// The tint of the patches a scan was read for: what `tone read --json` printed.
///
/// # Errors
/// [`Refusal`] when it is not that, or the scan had no colour.
pub fn tint_of_scan(bytes: &[u8]) -> Result<Tint, Refusal> {
    let read: Value = serde_json::from_slice(bytes).map_err(|error| {
        no_tint(format!("the tint is no JSON ({error}); expected what `handcoat tone read … --json` printed"))
    })?;
    let rows = read.get("readings").and_then(Value::as_array);
    let rows = rows.ok_or_else(|| {
        no_tint("the JSON has no `readings`; expected what `handcoat tone read … --json` printed".into())
    })?;
    let patch = |row: &Value| {
        let number = |key: &str| row.get(key).and_then(Value::as_f64);
        let within = |key: &str| number(key).filter(|own| own.abs() <= MOST_TINT);
        let lab = Lab { l_star: within("l_star")?, a_star: within("a_star")?, b_star: within("b_star")? };
        Some((ToneInput::part(number("input")?).ok()?, lab))
    };
    let kept = rows.iter().filter(|own| own.get("left_aside") != Some(&Value::Bool(true)));
    let patches: Vec<(ToneInput, Lab)> = kept.filter_map(patch).collect();
    if patches.is_empty() {
        return Err(no_tint("its readings have no a* and b*; expected those of a scan in colour".into()));
    }
    Ok(Tint::read(&patches))
}

/// All that a proof is made of, to be sent to who opens the picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ProofAsked {
    lightness: Vec<f64>,
    curve: Vec<(f64, f64)>,
    /// L*, a* and b*.
    tint: Vec<[f64; 3]>,
}

impl ProofAsked {
    fn of(proof: &Proof) -> Self {
        Self {
            lightness: proof.lightness.clone(),
            curve: proof.curve.iter().map(|own| (own.0.to_part(), own.1.to_part())).collect(),
            tint: proof.tint.known().iter().map(|own| [own.l_star, own.a_star, own.b_star]).collect(),
        }
    }

    fn proof(&self) -> Proof {
        let part = |own: f64| ToneInput::part(own.clamp(ToneInput::LEAST, ToneInput::MOST)).ok();
        let colour = |[l_star, a_star, b_star]: [f64; 3]| Lab { l_star, a_star, b_star };
        Proof {
            lightness: self.lightness.clone(),
            curve: self.curve.iter().filter_map(|own| part(own.0).zip(part(own.1))).collect(),
            tint: Tint::of(self.tint.iter().copied().map(colour).collect()),
        }
    }

    /// The tones that are wanted, to stand beside a proof: L* from 0 to 100, neutral.
    #[must_use]
    pub fn wanted() -> Self {
        Self::of(&Proof::wanted())
    }
}

/// Which curve a proof goes through.
#[derive(Clone, Copy, Debug)]
pub enum ProofCurve<'a> {
    /// That of its response.
    Own,
    /// None: tones are sent as they are.
    None,
    /// Another.
    Other(&'a CurveOf),
}

/// What is asked for a proof of a response.
#[must_use]
pub fn proof(read: &ToneRead, curve: ProofCurve<'_>, tint: Tint) -> ProofAsked {
    let response = &read.fit.response;
    ProofAsked::of(&match curve {
        ProofCurve::Own => Proof::of(response, Some(&read.correction), tint),
        ProofCurve::None => Proof::of(response, None, tint),
        ProofCurve::Other(own) => Proof { curve: own.points.clone(), ..Proof::of(response, None, tint) },
    })
}

/// How well a response is known over all its inputs, one standard deviation (rms), L*.
#[must_use]
pub fn proof_u(read: &ToneRead) -> f64 {
    let all = read.fit.response.standard();
    (all.iter().map(|own| own * own).sum::<f64>() / all.len().max(1) as f64).sqrt()
}

/// What every proof says.
pub const PROOF_SAYS: &str = "it shows tone and tint alone, not surface, grain of the paper or sharpness; the black of a screen is not that of \
                              paper, and a print is seen by the light it hangs in";

/// Makes a proof: a PNG in sRGB, at most `side` pixels on its longer side.
///
/// # Errors
/// [`Refusal`] when the picture is not taken, or the points are no curve.
pub fn proof_picture(asked: &ProofAsked, source: &Path, side: u32) -> Result<Vec<u8>, Refusal> {
    let colours = asked.proof().colours().ok_or_else(|| {
        Refusal::no_curve("no curve goes through these points: two or more are needed, their inputs rising")
    })?;
    let colours = Colours::of(|code| {
        let own = colours.get(usize::from(code)).map(|own| [own.red, own.green, own.blue]);
        own.unwrap_or_default()
    });
    small_in(source, side, Output::Colours(colours))
}

//! `handcoat tone curve` and `handcoat tone proof`: a response for other programs, and a picture as it would print.

use std::path::{Path, PathBuf};

use clap::Args;
use handcoat_craft::measure::{COVERAGE, fixed, significant};
use handcoat_craft::tone::Tint;
use handcoat_work::tone::{
    ForOthers, PROOF_SAYS, ProofAnswers, ProofCurve, ResponseView, ToneRead, curve_csv, curve_link, outside_name,
    proof as proof_of, proof_u, response_profile, tint_of_scan,
};
use handcoat_work::{Question, Refusal};
use serde_json::{Value, json};

use super::{Left, MOST_BYTES, earlier};
use crate::cli::book::BookArgs;
use crate::cli::{import, negative};
use crate::{apart, json};

const CURVE_EXAMPLES: &str = "\
Examples:
  handcoat tone curve 3 --csv curve.csv --device-link curve.icc
  handcoat tone curve fit.json --profile print.icc

The device link is for programs that send a grey picture through ICC files: the wanted tone goes in, what is sent to the printer comes out, 16 bits, before light \
and dark are changed over. The profile says what the print is for what is sent: embed it in a picture that went through the curve, or name it to a program that shows how a print will look; by \
relative intents the paper's white is the screen's. Without any file named the table is shown.";

#[derive(Debug, Args)]
#[command(after_help = CURVE_EXAMPLES)]
pub(in crate::cli) struct CurveArgs {
    /// The response: the JSON of its fit, or its number where it is kept
    #[arg(value_name = "RESPONSE")]
    of: String,
    /// Write the correction to this CSV file: input,output
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Write the correction to this file as an ICC device link, grey to grey
    #[arg(long, value_name = "FILE")]
    device_link: Option<PathBuf>,
    /// Write what the print is to this file as a grey ICC profile
    #[arg(long, value_name = "FILE")]
    profile: Option<PathBuf>,
    #[command(flatten)]
    whose: BookArgs,
}

const PROOF_EXAMPLES: &str = "\
Examples:
  handcoat tone proof heron.tif -o proof.png --of 3
  handcoat tone proof heron.tif -o proof.png --of fit.json --tint 1.5,6
  handcoat tone proof heron.tif -o straight.png --of 3 --curve none

The picture goes through the curve and the response to the L* of the print, with the black and the white of its paper, and is written in sRGB. The tint is that of the \
scan the response was read from, where it had colour; or a* and b* of all tones, 0,0 for none, or what `tone read --json` printed of another scan. It shows tone and tint alone: the black of a screen is not that of paper.";

#[derive(Debug, Args)]
#[command(after_help = PROOF_EXAMPLES)]
pub(in crate::cli) struct ProofArgs {
    /// The picture, a TIFF, PNG or JPEG; it is only read
    #[arg(value_name = "PICTURE")]
    picture: PathBuf,
    /// The PNG file to write
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// The response it is printed by: the JSON of its fit, or its number where it is kept
    #[arg(long, value_name = "FIT")]
    of: Option<String>,
    /// Another curve than that of the response: a table input,output, the number of a kept response, or none
    #[arg(long, value_name = "CURVE")]
    curve: Option<String>,
    /// Its tint: a*,b* of all tones, or the JSON of a scan that was read in colour [default: that of the response]
    #[arg(long, value_name = "TINT", allow_hyphen_values = true)]
    tint: Option<String>,
    /// Pixels of the longer side [default: 1600]
    #[arg(long, value_name = "COUNT")]
    pixels: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn curve(args: &CurveArgs) -> Result<String, Refusal> {
    let mut left = Left::default();
    left.free(&[
        (Question::CurveFile, args.csv.as_ref()),
        (Question::LinkFile, args.device_link.as_ref()),
        (Question::ProfileFile, args.profile.as_ref()),
    ])?;
    let (read, view) = earlier(Question::Response, &args.of, &args.whose)?;
    let number = view.as_ref().map(|own| own.number);
    let setup = view.as_ref().and_then(|own| own.setup.as_ref()).map(|own| own.1.as_str());
    let link = args.device_link.as_ref().map(|_| curve_link(&read, &outside_name("Curve", number, setup)));
    let print = args.profile.as_ref().map(|_| response_profile(&read, &outside_name("Print", number, setup)));
    left.write("curve", Question::CurveFile, args.csv.as_ref(), || Ok(curve_csv(&read).into_bytes()))?;
    let bytes = |own: &Option<ForOthers>| Ok(own.as_ref().map(|own| own.bytes.clone()).unwrap_or_default());
    left.write("device link", Question::LinkFile, args.device_link.as_ref(), || bytes(&link))?;
    left.write("profile of the print", Question::ProfileFile, args.profile.as_ref(), || bytes(&print))?;
    left.stay();
    if args.whose.json {
        let rows = read.correction.predicted().iter();
        return Ok(json::lines(&json!({
            "response_number": number,
            "curve": rows.map(|own| json!({ "tone": own.tone, "sent_input": own.sent })).collect::<Vec<_>>(),
            "device_link_off_codes_of_65535": link.as_ref().map(|own| own.off),
            "profile_off_l_star": print.as_ref().map(|own| own.off),
            "doubts": doubts(view.as_ref()).iter().map(|own| json!({ "code": own.0, "message": own.1 })).collect::<Vec<_>>(),
            "files": left.json(),
        })));
    }
    if left.named.is_empty() {
        return Ok(curve_csv(&read));
    }
    let mut said = left.words();
    if let Some(own) = &link {
        said.push_str(&format!(
            "  the link is within {} of 65,535 codes of the curve, read along straight lines\n",
            significant(own.off, 2)
        ));
    }
    if let Some(own) = &print {
        said.push_str(&format!(
            "  the profile is within {} L* of the response, read along straight lines\n",
            significant(own.off, 2)
        ));
    }
    for (code, words) in doubts(view.as_ref()) {
        said.push_str(&format!("Note: {words} [{code}]\n"));
    }
    Ok(said)
}

fn doubts(view: Option<&ResponseView>) -> Vec<(&'static str, String)> {
    view.map(ResponseView::doubt_words).unwrap_or_default()
}

/// The tint that is said or else was read with the response, and where it is from.
fn tint(args: &ProofArgs, read: &ToneRead) -> Result<(Tint, &'static str), Refusal> {
    let Some(text) = &args.tint else {
        return Ok(match read.tint() {
            Some(own) => (own, "tint by the patches the response was read from"),
            None => (Tint::default(), "neutral; no tint was said, and the response was read without one"),
        });
    };
    let path = Path::new(text.trim());
    if path.extension().is_some_and(|own| own == "json") {
        let bytes = import::read(path, "a scan that was read", "read.json", MOST_BYTES).map_err(|mut refusal| {
            refusal.about = Some(Question::Tint);
            refusal
        })?;
        return Ok((tint_of_scan(&bytes)?, "tint by the patches of a scan"));
    }
    let even = ProofAnswers { pixels: None, tint: Some(text.clone()) }.even_tint()?;
    Ok((even.unwrap_or_default(), "tint as said, the same for all tones"))
}

fn sides(png: &[u8]) -> (u32, u32) {
    // The head of a PNG has them at fixed places.
    let side = |at: usize| png.get(at..at + 4).and_then(|own| own.try_into().ok()).map_or(0, u32::from_be_bytes);
    (side(16), side(20))
}

pub(super) fn proof(args: &ProofArgs) -> Result<String, Refusal> {
    let target = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "proof.png"))?;
    let mut left = Left::default();
    left.free(&[(Question::Output, Some(target))])?;
    let of = args.of.as_ref().ok_or_else(|| Refusal::missing(Question::ProofOf, "fit.json"))?;
    let (read, view) = earlier(Question::ProofOf, of, &args.whose)?;
    let side = ProofAnswers { pixels: args.pixels.clone(), tint: None }.side()?;
    let (tint, tint_from) = tint(args, &read)?;
    let none = args.curve.as_ref().is_some_and(|own| own.trim() == "none");
    let other = args.curve.as_ref().filter(|_| !none);
    let other = other.map(|own| negative::curve_of(Some(own), None, &args.whose, crate::clock::now())).transpose()?;
    let through = match (&other, none) {
        (Some(own), _) => ProofCurve::Other(own),
        (None, true) => ProofCurve::None,
        (None, false) => ProofCurve::Own,
    };
    let from = match (&other, none) {
        (Some(own), _) => format!("the curve of {}", own.from),
        (None, true) => "no curve".into(),
        (None, false) => "its own curve".into(),
    };
    let png = apart::proof_picture(&proof_of(&read, through, tint.clone()), &args.picture, side)?;
    left.put(Question::Output, target, &png)?;
    left.stay();
    let (width, height) = sides(&png);
    let shown = Shown { read: &read, view: view.as_ref(), tint: &tint, tint_from, through: from };
    Ok(match args.whose.json {
        true => json::lines(&shown.json(target, (width, height))),
        false => shown.text(target, (width, height)),
    })
}

/// A proof that was made, for who reads of it.
struct Shown<'a> {
    read: &'a ToneRead,
    view: Option<&'a ResponseView>,
    tint: &'a Tint,
    tint_from: &'static str,
    through: String,
}

impl Shown<'_> {
    fn json(&self, target: &Path, (width, height): (u32, u32)) -> Value {
        let response = &self.read.fit.response;
        let colour = |l_star: f64| {
            let own = self.tint.at(l_star);
            json!({ "l_star": own.l_star, "a_star": own.a_star, "b_star": own.b_star })
        };
        let doubts = doubts(self.view);
        json!({
            "file": target.display().to_string(),
            "width_px": width,
            "height_px": height,
            "response_number": self.view.map(|own| own.number),
            "through": self.through,
            "black": colour(response.black()),
            "white": colour(response.white()),
            "tint_from": self.tint_from,
            "l_star_u": proof_u(self.read),
            "says": PROOF_SAYS,
            "doubts": doubts.iter().map(|own| json!({ "code": own.0, "message": own.1 })).collect::<Vec<_>>(),
        })
    }

    fn text(&self, target: &Path, (width, height): (u32, u32)) -> String {
        let response = &self.read.fit.response;
        let number = self.view.map_or(String::from("the response"), |own| format!("response {}", own.number));
        let mut out = format!(
            "{}: {width} × {height} pixels, as {number} prints it through {}\n  paper {} L*, black {} L*; {}\n  the print is expected within {} L* of it (k = 2, rms over \
             tones), as far as the readings know\nNote: {PROOF_SAYS}.\n",
            target.display(),
            self.through,
            fixed(response.white(), 1),
            fixed(response.black(), 1),
            self.tint_from,
            significant(COVERAGE * proof_u(self.read), 2)
        );
        for (code, words) in doubts(self.view) {
            out.push_str(&format!("Note: {words} [{code}]\n"));
        }
        out
    }
}

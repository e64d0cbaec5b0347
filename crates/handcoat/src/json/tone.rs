//! JSON of the station *tone*. A fit itself is written in `work`, because the next fit and the book read it back.

use handcoat_craft::tone::{EndShift, NextPatches, ToneLeft};
use handcoat_work::tone::{CheckRead, ResponseView, curve_to_use, document, followed_by};
use serde_json::{Value, json};

/// What a print through a curve said, and the fit it improves under `update`.
pub(crate) fn checked(check: &CheckRead) -> Value {
    let own = &check.verified;
    let left = |own: &ToneLeft| json!({ "tone": own.tone, "off_l_star": own.off, "off_l_star_u": own.standard });
    let end =
        |own: &EndShift| json!({ "l_star": own.lightness, "shift_l_star": own.shift, "shift_l_star_u": own.standard });
    let readings = check.rows.iter().zip(&own.print.residuals).enumerate().map(|(place, (row, residual))| {
        json!({
            "line": row.line,
            "patch": row.patch,
            "tone": row.reading.input.to_part(),
            "l_star": row.reading.lightness.to_l_star(),
            "residual_l_star": residual,
            "left_aside": own.print.outliers.contains(&place),
        })
    });
    json!({
        "residual": own.left.iter().map(left).collect::<Vec<_>>(),
        "black": end(&own.black),
        "white": end(&own.white),
        "without_curve": own.without_curve,
        "rms_l_star": own.rms,
        "noise_l_star": own.noise,
        "beside_noise_l_star": own.beside_noise,
        "within_noise": own.within_noise(),
        "beyond_part": own.beyond,
        "worst": own.worst().as_ref().map(left),
        "readings": readings.collect::<Vec<_>>(),
        "update": check.update.as_ref().map(document),
        "update_refused": own.update.as_ref().err().map(ToString::to_string),
    })
}

/// Patches to print.
pub(crate) fn next(next: &NextPatches, verified: bool) -> Value {
    let patch = |own: &handcoat_craft::tone::NextPatch| {
        json!({
            "input": own.input.to_part(),
            "expected_rms_l_star": own.expected,
            "gain_l_star_per_cm2": own.gain_per_cm2,
        })
    };
    let level = |(input, count): (handcoat_craft::measure::ToneInput, usize)| json!({ "input": input.to_part(), "copies": count });
    json!({
        "verified": verified,
        "expected_rms_l_star": next.now,
        "expected_rms_after_l_star": next.after(),
        "patch_area_cm2": next.area.to_square_centimetres(),
        "patches": next.patches.iter().map(patch).collect::<Vec<_>>(),
        "levels": next.levels().into_iter().map(level).collect::<Vec<_>>(),
    })
}

/// A patch of a chart to print, out of its line in the table.
pub(crate) fn level(line: &str) -> Value {
    let cells: Vec<&str> = line.split(',').collect();
    let number = |at: usize| cells.get(at).and_then(|own| own.parse::<f64>().ok());
    json!({ "patch": cells.first().and_then(|own| own.parse::<u32>().ok()), "input": number(1), "x_mm": number(3), "y_mm": number(4) })
}

/// A kept response without its rows.
pub(crate) fn brief(view: &ResponseView) -> Value {
    let checked = view.checked.as_ref().map(|own| {
        json!({
            "at": own.at.to_string(),
            "readings": own.readings,
            "rms_l_star": own.rms_l_star,
            "noise_l_star": own.noise_l_star,
            "beside_noise_l_star": own.beside_noise_l_star,
        })
    });
    let doubts: Vec<Value> =
        view.doubt_words().into_iter().map(|(code, message)| json!({ "code": code, "message": message })).collect();
    json!({
        "number": view.number,
        "at": view.at.to_string(),
        "setup": view.setup.as_ref().map(|own| &own.1),
        "setup_number": view.setup.as_ref().map(|own| own.0),
        "note": view.note,
        "ink": view.ink,
        "follows": view.follows,
        "patches": view.read.rows.len(),
        "target": view.read.target().word(),
        "predicted_rms_l_star": view.read.correction.expected_rms(),
        "standing": view.standing().word(),
        "doubts": doubts,
        "checked": checked,
        "scan": view.scan,
    })
}

/// The same in a list: whether its curve is the one to use, and what followed.
pub(crate) fn listed(all: &[ResponseView], view: &ResponseView) -> Value {
    let mut value = brief(view);
    if let Value::Object(out) = &mut value {
        let of = view.setup.as_ref().map(|own| own.0);
        out.insert("use_this_curve".into(), json!(curve_to_use(all, of) == Some(view.number)));
        out.insert("followed_by".into(), json!(followed_by(all, view.number)));
    }
    value
}

/// A kept response with all of its fit, so that it serves as a prior as it is.
pub(crate) fn whole(view: &ResponseView) -> Value {
    let mut value = document(&view.read);
    if let (Value::Object(out), Value::Object(own)) = (&mut value, brief(view)) {
        out.extend(own);
    }
    value
}

//! JSON of the station *expose*. Where a wedge did not bracket, times and the scale are null.

use handcoat_craft::expose::{Dose, Predicted, ReadStep, Wanted};
use handcoat_craft::measure::{Bounded, LogRange, Span, Uncertain};
use handcoat_work::expose::{
    EYE_BASE, EYE_SCALE, Exposed, EyeRead, InkRead, LadderPoint, LadderRead, STRIP_BASE, SetupView, StepOnScan,
    StripRead, TestRead, TestView, WedgeRead, WedgeScan, agent_word, base_criterion, noise_from, scale_criterion,
    shoulder_criterion,
};
use serde_json::{Map, Value, json};

fn best<Q: Bounded>(own: Option<&Uncertain<Q>>) -> Value {
    own.map_or(Value::Null, |own| json!(own.best.in_unit()))
}

fn standard<Q: Bounded>(own: Option<&Uncertain<Q>>) -> Value {
    own.map_or(Value::Null, |own| json!(own.standard()))
}

/// A time under `…_time_s`, or a count under `…_units`; the other is null.
fn exposed(out: &mut Map<String, Value>, name: &str, own: Option<&Exposed>) {
    let (time, units) = match own {
        Some(Exposed::Time(own)) => (Some(&own.set), None),
        Some(Exposed::Units(own)) => (None, Some(&own.set)),
        None => (None, None),
    };
    out.insert(format!("{name}_time_s"), best(time));
    out.insert(format!("{name}_time_u_s"), standard(time));
    out.insert(format!("{name}_units"), best(units));
    out.insert(format!("{name}_units_u"), standard(units));
    // The ± of an exposure is a factor: half and double are as far from it. By eye, black begins before what is set.
    let between = own.and_then(Exposed::between);
    let (least, most) = (between.map(|own| own.0), between.map(|own| own.1));
    out.insert(format!("{name}_time_least_s"), json!(least.filter(|_| time.is_some())));
    out.insert(format!("{name}_time_most_s"), json!(most.filter(|_| time.is_some())));
    out.insert(format!("{name}_units_least"), json!(least.filter(|_| units.is_some())));
    out.insert(format!("{name}_units_most"), json!(most.filter(|_| units.is_some())));
    out.insert(format!("{name}_seen"), json!(own.map(Exposed::seen)));
}

/// What a scan of a print under a wedge was read as.
pub(crate) fn wedge_scan(scan: &WedgeScan, file: &str, sha256: &str) -> Value {
    let step = |own: &StepOnScan| {
        json!({
            "step": own.step,
            "step_density": own.step_density,
            "print_density": own.print_density,
            "l_star": own.l_star,
            "l_star_u": own.l_star_u,
            "scatter_l_star": own.scatter,
            "left_out_part": own.left_out,
            "left_aside": own.aside(),
            "flags": own.flags.iter().map(|own| own.word()).collect::<Vec<_>>(),
        })
    };
    let warnings: Vec<Value> =
        scan.warnings.iter().map(|(code, message)| json!({ "code": code, "message": message })).collect();
    json!({
        "file": file,
        "sha256": sha256,
        "edges_seen": scan.edges,
        "edges_off_steps": scan.off_steps,
        "blur_steps": scan.blur_steps,
        "step_px": scan.step_px,
        "reduced_by": scan.factor,
        "turn_degrees": scan.turn_degrees,
        "begins_by_paper": scan.begins_by_paper,
        "codes_by": scan.codes_by,
        "ppi": scan.ppi,
        "profile_sha256": scan.profile_sha256,
        "left_aside": scan.aside(),
        "warnings": warnings,
        "readings": scan.steps.iter().map(step).collect::<Vec<_>>(),
    })
}

/// A wedge that was read.
pub(crate) fn wedge(read: &WedgeRead) -> Value {
    let fit = &read.fit;
    let mut out = Map::new();
    exposed(&mut out, "base", read.base.as_ref());
    exposed(&mut out, "shoulder", read.shoulder.as_ref());
    let mut put = |key: &str, value: Value| out.insert(key.into(), value);
    put("base_density", json!(fit.base.best.to_density()));
    put("base_density_u", json!(fit.base.standard()));
    put("dmax", json!(fit.dmax.best.to_density()));
    put("dmax_u", json!(fit.dmax.standard()));
    put("exposure_scale", best(fit.scale.as_ref()));
    put("exposure_scale_u", standard(fit.scale.as_ref()));
    put("exposure_scale_criterion", json!(scale_criterion(&fit.criteria)));
    put("base_time_criterion", json!(base_criterion(&fit.criteria)));
    put("shoulder_time_criterion", json!(shoulder_criterion(&fit.criteria)));
    put("bracketed", json!(fit.bracketed()));
    put("black_bracketed", json!(fit.ends.black));
    put("white_bracketed", json!(fit.ends.white));
    put("black_below_test_log_h", best(fit.black_below.as_ref()));
    put("black_below_test_u_log_h", standard(fit.black_below.as_ref()));
    put("wedge", json!("silver"));
    put("read", json!(if fit.state == handcoat_craft::expose::DryOrWet::Dry { "dry" } else { "wet" }));
    put("reading_u", json!(read.noise.reading().to_density()));
    put("reading_u_from", json!(noise_from(read.noise)));
    let step = |own: &ReadStep| {
        json!({
            "step_density": own.step.to_density(),
            "print_density": own.mean.to_density(),
            "readings": own.count,
            "fitted_density": own.fitted.to_density(),
        })
    };
    put("steps", json!(fit.steps.iter().map(step).collect::<Vec<_>>()));
    let warning = |own: &handcoat_craft::expose::Warning| json!({ "code": own.code(), "message": own.to_string() });
    put("warnings", json!(fit.warnings.iter().map(warning).collect::<Vec<_>>()));
    Value::Object(out)
}

/// Steps of ink: an order, and no quantity.
pub(crate) fn ink(read: &InkRead) -> Value {
    let rank = read.rank;
    json!({
        "wedge": "ink",
        "steps": read.prints.len(),
        "last_black_step": rank.last_black,
        "last_tone_step": rank.last_tone,
        "bracketed": rank.last_black.is_some() && rank.last_tone.is_some(),
        "exposure_scale": null,
        "exposure_scale_u": null,
        "base_time_s": null,
        "base_time_u_s": null,
    })
}

/// A wedge judged by eye.
pub(crate) fn eye(read: &EyeRead) -> Value {
    let mut out = Map::new();
    exposed(&mut out, "base", read.base.as_ref());
    out.insert("exposure_scale".into(), best(read.scale.as_ref()));
    out.insert("exposure_scale_u".into(), standard(read.scale.as_ref()));
    out.insert("exposure_scale_criterion".into(), json!(EYE_SCALE));
    out.insert("base_time_criterion".into(), json!(EYE_BASE));
    out.insert("bracketed".into(), json!(read.black && read.white));
    out.insert("black_bracketed".into(), json!(read.black));
    out.insert("white_bracketed".into(), json!(read.white));
    Value::Object(out)
}

/// Strips.
pub(crate) fn strips(read: &StripRead) -> Value {
    let row = |own: &handcoat_craft::expose::Strip<Span>| json!({ "strip": own.number, "add_s": own.add.to_seconds(), "total_s": own.total.to_seconds() });
    let mut out = Map::new();
    exposed(&mut out, "base", read.base.map(Exposed::Time).as_ref());
    out.insert("strips".into(), json!(read.strips.iter().map(row).collect::<Vec<_>>()));
    out.insert("base_time_criterion".into(), json!(STRIP_BASE));
    out.insert("bracketed".into(), json!(read.base.is_some()));
    Value::Object(out)
}

fn dose_key(dose: Dose) -> &'static str {
    match dose {
        Dose::InCoat(_) => "dose_mg_per_ml",
        Dose::InDeveloper(_) => "dose_g_per_l",
    }
}

fn scale(own: &Uncertain<LogRange>) -> Value {
    json!({ "exposure_scale": own.best.to_log_h(), "exposure_scale_u": own.standard() })
}

fn predicted(dose: Dose, own: &Predicted) -> Value {
    let mut row = Map::new();
    row.insert(dose_key(dose).into(), json!(dose.in_unit()));
    row.insert("exposure_scale".into(), json!(own.scale.best.to_log_h()));
    row.insert("exposure_scale_u".into(), json!(own.scale.standard()));
    row.insert("borrowed_part".into(), json!(own.borrowed));
    Value::Object(row)
}

/// A ladder and what a negative asks for.
pub(crate) fn ladder(read: &LadderRead) -> Value {
    let (slope, slope_u) = read.ladder.per_doubling();
    let wanted = read.wanted.as_ref().map(|own| match own {
        Wanted::Dose { dose, relative, at, base } => {
            let mut out = match predicted(*dose, at) {
                Value::Object(own) => own,
                _ => Map::new(),
            };
            out.insert("answer".into(), json!("dose"));
            out.insert("dose_rel_u".into(), json!(relative));
            out.insert("base_time_s".into(), best(base.as_ref()));
            out.insert("base_time_u_s".into(), standard(base.as_ref()));
            Value::Object(out)
        }
        Wanted::NoAgent { without, borrowed } => {
            json!({ "answer": "no_agent", "without": scale(without), "borrowed": borrowed })
        }
        Wanted::SofterNegative { most, borrowed } => {
            json!({ "answer": "softer_negative", "most": scale(most), "borrowed": borrowed })
        }
        Wanted::HarderNegative { least } => {
            json!({ "answer": "harder_negative", "least": scale(&least.scale), "borrowed_part": least.borrowed })
        }
    });
    json!({
        "agent": agent_word(read.by),
        "setup": read.setup,
        "points": read.points.iter().map(point).collect::<Vec<_>>(),
        "own_wedges": read.ladder.own(),
        "exposure_scale_criterion": read.criterion,
        "counted_otherwise": read.otherwise.iter().map(|(test, criterion)| json!({ "test": test, "exposure_scale_criterion": criterion })).collect::<Vec<_>>(),
        "stale": !read.suspect.is_empty(),
        "stale_because": read.suspect,
        "scale_per_doubling": slope,
        "scale_per_doubling_u": slope_u,
        "rungs": read.rungs.iter().map(|(dose, own)| predicted(*dose, own)).collect::<Vec<_>>(),
        "wanted": wanted,
    })
}

/// One wedge of a ladder: own, or borrowed.
fn point(own: &LadderPoint) -> Value {
    let LadderPoint { wedge, test, borrowed } = own;
    let mut row = Map::new();
    match wedge.dose {
        Some(dose) => row.insert(dose_key(dose).into(), json!(dose.in_unit())),
        None => row.insert("dose".into(), json!("none")),
    };
    row.insert("exposure_scale".into(), json!(wedge.scale.best.to_log_h()));
    row.insert("exposure_scale_u".into(), json!(wedge.scale.standard()));
    row.insert("base_time_s".into(), best(wedge.base.as_ref()));
    row.insert("base_time_u_s".into(), standard(wedge.base.as_ref()));
    row.insert("from".into(), json!(if *borrowed { "borrowed" } else { "own" }));
    row.insert("test".into(), json!(test));
    Value::Object(row)
}

/// A set-up and its base exposure.
pub(crate) fn setup(own: &SetupView) -> Value {
    let known: Map<String, Value> = own.known.iter().map(|(field, text)| (field.key.into(), json!(text))).collect();
    let mut out = Map::new();
    exposed(&mut out, "base", own.base.as_ref().map(|own| &own.exposed));
    out.insert("number".into(), json!(own.number));
    out.insert("name".into(), json!(own.name));
    out.insert("known".into(), Value::Object(known));
    let base = own.base.as_ref();
    out.insert("base_time_criterion".into(), json!(base.map(|own| &own.criterion)));
    out.insert("base_dose".into(), json!(base.map(|own| own.dose.as_deref().unwrap_or("none"))));
    out.insert("base_test".into(), json!(base.map(|own| own.test)));
    out.insert("base_at".into(), json!(base.map(|own| own.at.to_string())));
    out.insert("base_age_d".into(), json!(base.map(|own| own.days)));
    out.insert("base_stale".into(), json!(base.map(|own| !own.suspect.is_empty())));
    out.insert("base_stale_because".into(), json!(base.map_or(&[][..], |own| &own.suspect)));
    out.insert("exposure_scale".into(), best(own.scale.as_ref().map(|own| &own.0)));
    out.insert("exposure_scale_u".into(), standard(own.scale.as_ref().map(|own| &own.0)));
    out.insert("exposure_scale_test".into(), json!(own.scale.as_ref().map(|own| own.1)));
    Value::Object(out)
}

fn test(own: &TestView) -> Map<String, Value> {
    let mut out = Map::new();
    exposed(&mut out, "base", own.found.base.as_ref());
    out.insert("test".into(), json!(own.number));
    out.insert("at".into(), json!(own.at.to_string()));
    out.insert("way".into(), json!(own.way.word()));
    out.insert("setup".into(), json!(own.setup.as_ref().map(|own| &own.1)));
    out.insert("setup_number".into(), json!(own.setup.as_ref().map(|own| own.0)));
    out.insert("dose".into(), json!(own.dose));
    out.insert("note".into(), json!(own.note));
    out.insert("bracketed".into(), json!(own.found.bracketed));
    out.insert("base_time_criterion".into(), json!(own.found.base_criterion));
    out.insert("exposure_scale".into(), best(own.found.scale.as_ref()));
    out.insert("exposure_scale_u".into(), standard(own.found.scale.as_ref()));
    out.insert("exposure_scale_criterion".into(), json!(own.found.scale_criterion));
    out
}

/// Set-ups and tests.
pub(crate) fn kept(setups: &[SetupView], tests: &[TestView]) -> Value {
    json!({
        "setups": setups.iter().map(setup).collect::<Vec<_>>(),
        "tests": tests.iter().map(test).collect::<Vec<_>>(),
    })
}

/// One test: what was said of it when it was kept, and what it reads as.
pub(crate) fn one_test(own: &TestView, read: Option<&TestRead>) -> Value {
    let mut out = test(own);
    let read = read.map(|own| match own {
        TestRead::Wedge(own) => wedge(own),
        TestRead::Ink(own) => ink(own),
        TestRead::Eye(own) => eye(own),
        TestRead::Strip(own) => strips(own),
    });
    out.insert("read".into(), json!(read));
    Value::Object(out)
}

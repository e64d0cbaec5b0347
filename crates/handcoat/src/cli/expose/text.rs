//! What `handcoat expose …` says in words.

use std::fmt::Write as _;

use handcoat_craft::expose::{Dose, DryOrWet, Wanted};
use handcoat_craft::measure::{COVERAGE, LogRange, Uncertain, fixed, significant, with_uncertainty};
use handcoat_work::expose::{
    EYE_BASE, EyeRead, InkRead, LadderRead, STRIP_BASE, StripRead, TestWay, WedgeRead, agent_word, base_criterion,
    base_time_words, exposed_words, next_test_words, noise_from, not_bracketed_words, scale_criterion,
    shoulder_criterion, time_words,
};

use crate::cli::table;

fn scale(own: &Uncertain<LogRange>) -> String {
    format!("{} log H", with_uncertainty(own))
}

pub(super) fn wedge(read: &WedgeRead) -> String {
    let fit = &read.fit;
    let state = if fit.state == DryOrWet::Dry { "dry" } else { "wet" };
    let mut out = String::new();
    if let (Some(base), Some(shoulder), Some(range)) = (&read.base, &read.shoulder, &fit.scale) {
        let _ = writeln!(out, "Base exposure through clear film  {}", exposed_words(base));
        let _ = writeln!(out, "  by: {}", base_criterion(&fit.criteria));
        let _ = writeln!(out, "Exposure scale  {}", scale(range));
        let _ = writeln!(out, "  by: {}", scale_criterion(&fit.criteria));
        let _ = writeln!(
            out,
            "By the other criterion, {}, it would be {}",
            shoulder_criterion(&fit.criteria),
            exposed_words(shoulder)
        );
    } else {
        out.push_str(not_bracketed_words(TestWay::Wedge));
        out.push('\n');
    }
    let _ = writeln!(
        out,
        "Base {}, Dmax {}, read {state} (± is k = 2; one reading is known to {}, {})",
        with_uncertainty(&fit.base),
        with_uncertainty(&fit.dmax),
        significant(read.noise.reading().to_density(), 2),
        noise_from(read.noise)
    );
    for warning in &fit.warnings {
        let _ = writeln!(out, "Note: {warning} [{}]", warning.code());
    }
    let mut cells = vec![["step density", "print density", "readings", "curve"].map(String::from).to_vec()];
    cells.extend(fit.steps.iter().map(|own| {
        vec![
            fixed(own.step.to_density(), 2),
            fixed(own.mean.to_density(), 3),
            own.count.to_string(),
            fixed(own.fitted.to_density(), 3),
        ]
    }));
    out.push_str(&table::columns(&cells));
    out
}

pub(super) fn ink(read: &InkRead) -> String {
    let rank = read.rank;
    let mut out = match rank.last_black {
        Some(step) => format!("Step {step} of {} is the last full black.\n", read.prints.len()),
        None => String::from("No step after the first is full black: the ink did not bracket the black.\n"),
    };
    let _ = match rank.last_tone {
        Some(step) => writeln!(out, "Step {step} is the last with a tone; from step {} on it is white.", step + 1),
        None => writeln!(out, "The last step still has a tone: the ink did not bracket the white."),
    };
    out.push_str(
        "Steps of ink only rank: how dense an ink is to the lamp is not known, so no time and no scale is said.\n",
    );
    out
}

pub(super) fn eye(read: &EyeRead) -> String {
    let mut out = String::new();
    if let (Some(base), Some(range)) = (&read.base, &read.scale) {
        let _ = writeln!(out, "Base exposure through clear film  {}", exposed_words(base));
        let _ = writeln!(out, "  by: {EYE_BASE}");
        let _ = writeln!(out, "Exposure scale  {}", scale(range));
        out.push_str("  by: from the last full black to the last visible tone, by eye (± is k = 2)\n");
    }
    if !read.black {
        out.push_str(
            "No two steps are as black as each other, so nothing shows full black: the wedge did not bracket, expose longer.\n",
        );
    }
    if !read.white {
        out.push_str(
            "The last step still has a tone: the wedge did not bracket, expose shorter or take a longer wedge.\n",
        );
    }
    if read.base.is_none() {
        let _ = writeln!(out, "{}", next_test_words(read.black, read.white, &read.test));
    }
    out
}

pub(super) fn strips(read: &StripRead) -> String {
    let mut cells = vec![["strip", "add", "in all"].map(String::from).to_vec()];
    cells.extend(read.strips.iter().map(|own| {
        let add = if own.number == 1 {
            format!("{} over all", own.add.clock())
        } else {
            format!("+{} s", significant(own.add.to_seconds(), 6))
        };
        vec![own.number.to_string(), add, own.total.clock()]
    }));
    let mut out = table::columns(&cells);
    match &read.base {
        Some(base) => {
            let _ = writeln!(out, "Base exposure through clear film  {}", base_time_words(base));
            let _ = writeln!(out, "  by: {STRIP_BASE}");
            out.push_str("Strips give a time only; for the exposure scale use a wedge.\n");
        }
        None if read.longer => {
            out.push_str(not_bracketed_words(TestWay::Strip));
            out.push('\n');
        }
        None => out.push_str(
            "Before each addition move the card over one more strip. Judge it dry: name the first strip that is no blacker than the one before it.\n",
        ),
    }
    out
}

fn borrowed(part: f64) -> String {
    if part <= 0.0 { "own".into() } else { format!("{} % borrowed", fixed((part * 100.0).max(1.0), 0)) }
}

/// How well a dose is known. Its logarithm is what the line knows, so beyond a half a ± would reach below nothing.
fn dose_off(dose: Dose, relative: f64) -> String {
    let off = COVERAGE * relative;
    if off <= 0.5 {
        return format!("± {} % (k = 2)", fixed(off * 100.0, 0));
    }
    let [least, most] = [-off, off].map(|own| significant(dose.in_unit() * own.exp(), 2));
    format!("from {least} to {most} {} (k = 2)", dose.unit())
}

pub(super) fn ladder(read: &LadderRead) -> String {
    let (slope, slope_u) = read.ladder.per_doubling();
    let mut out = format!(
        "Each doubling of the dose takes {} ± {} log H off the scale (k = 2; own wedges with agent: {})\n",
        fixed(-slope, 3),
        fixed(2.0 * slope_u, 3),
        read.ladder.own()
    );
    if let Some(setup) = &read.setup {
        let kept = read.points.iter().filter(|own| own.test.is_some()).count();
        let _ = writeln!(out, "{setup}, with {}: {kept} kept wedges stand on it", agent_word(read.by));
    }
    for words in &read.suspect {
        let _ = writeln!(out, "! find it anew: {words}");
    }
    if let Some(criterion) = &read.criterion {
        let _ = writeln!(out, "The scale is counted {criterion}");
    }
    for (test, criterion) in &read.otherwise {
        let _ = writeln!(out, "Test {test} is counted otherwise, not used: {criterion}");
    }
    let mut cells = vec![["dose", "exposure scale", "rests on"].map(String::from).to_vec()];
    cells.extend(read.rungs.iter().map(|(dose, own)| {
        let dose = format!("{} {}", significant(dose.in_unit(), 3), dose.unit());
        vec![dose, with_uncertainty(&own.scale).to_string(), borrowed(own.borrowed)]
    }));
    out.push_str(&table::columns(&cells));
    let whose = |borrowed: bool| if borrowed { " (as others report: measure, do not trust)" } else { "" };
    let _ = match &read.wanted {
        None => Ok(()),
        Some(Wanted::Dose { dose, relative, at, base }) => {
            let _ = writeln!(
                out,
                "The negative asks for {} {} {} ({}; scale {})",
                significant(dose.in_unit(), 3),
                dose.unit(),
                dose_off(*dose, *relative),
                borrowed(at.borrowed),
                with_uncertainty(&at.scale)
            );
            match base {
                Some(base) => writeln!(out, "  base exposure there  {}", time_words(base)),
                None => writeln!(out, "  its base exposure is not known from own wedges; make a wedge with this dose"),
            }
        }
        Some(Wanted::NoAgent { without, borrowed }) => writeln!(
            out,
            "The negative asks for no agent, or for less than was read: without any the scale is {}{}",
            with_uncertainty(without),
            whose(*borrowed)
        ),
        Some(Wanted::SofterNegative { most, borrowed }) => writeln!(
            out,
            "Change the negative: it has more range than the paper takes, {} at most{}. Make it softer.",
            with_uncertainty(most),
            whose(*borrowed)
        ),
        Some(Wanted::HarderNegative { least }) => writeln!(
            out,
            "Change the negative: it has less range than {} at the largest dose that is known. Make it harder.",
            with_uncertainty(&least.scale)
        ),
    };
    out
}

//! What was found, how good it is and what is left, in the same words at every door.

use handcoat_craft::measure::{COVERAGE, Lightness, Uncertain, fixed, significant, with_uncertainty};
use handcoat_craft::tone::{EndReached, EndShift, NextPatches, PriorUse};

use super::check::CheckRead;
use super::read::ToneRead;

/// One number in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToneRow {
    /// What it is.
    pub label: &'static str,
    /// The number, with its ± where it has one (k = 2).
    pub value: String,
    /// Its unit, and what belongs to it.
    pub unit: String,
}

fn row(label: &'static str, value: String, unit: impl Into<String>) -> ToneRow {
    ToneRow { label, value, unit: unit.into() }
}

fn end_light(read: &ToneRead, white: bool) -> String {
    let response = &read.fit.response;
    let (best, standard) = if white {
        (response.white(), response.standard().last())
    } else {
        (response.black(), response.standard().first())
    };
    Lightness::l_star(best).map_or_else(
        |_| fixed(best, 1),
        |own| with_uncertainty(&Uncertain::new(own, standard.copied().unwrap_or(0.0))).to_string(),
    )
}

fn reached(end: &EndReached) -> String {
    let (best, off) = (end.at.best.to_part(), COVERAGE * end.at.standard());
    if off < 0.0005 { fixed(best, 3) } else { format!("{} ± {}", fixed(best, 3), fixed(off, 3)) }
}

/// What was found, row by row.
#[must_use]
pub fn found_rows(read: &ToneRead) -> Vec<ToneRow> {
    let (quality, correction) = (&read.fit.quality, &read.correction);
    let mut rows = vec![
        row(
            "a corrected print is expected within",
            significant(correction.expected_rms(), 2),
            "L* of the target on average over tones (rms)",
        ),
        row("paper white", end_light(read, true), "L*"),
        row("black", end_light(read, false), "L*"),
        row(
            "paper white is reached at input",
            reached(&correction.white),
            format!("; sent for white: {}", fixed(correction.white.sent.to_part(), 3)),
        ),
        row(
            "all is black up to input",
            reached(&correction.black),
            format!("; sent for black: {}", fixed(correction.black.sent.to_part(), 3)),
        ),
        row("one reading scatters by", significant(quality.noise, 2), "L* (one standard deviation)"),
    ];
    if let Some(field) = &quality.field {
        let over = format!(
            "L* over the sheet (one standard deviation), in patches about {} mm across",
            significant(field.length_mm, 2)
        );
        rows.push(row("the coat drifts by", significant(field.deviation, 2), over));
    }
    if quality.sheet_u > 0.0 {
        let why = "L* (k = 2), which no single sheet can tell; it moves no tone against another";
        rows.push(row("the whole sheet may be off by", significant(COVERAGE * quality.sheet_u, 2), why));
    }
    rows.push(row("readings left aside", read.fit.outliers.len().to_string(), format!("of {}", read.rows.len())));
    rows
}

/// How good it is, in one sentence.
#[must_use]
pub fn good_sentence(read: &ToneRead) -> String {
    format!(
        "A print through its curve is expected within {} L* of the target on average over tones (rms).",
        significant(read.correction.expected_rms(), 2)
    )
}

/// What became of an earlier response; nothing where there was none.
#[must_use]
pub fn prior_sentence(prior: PriorUse) -> Option<&'static str> {
    match prior {
        // That one was made from the same readings is a warning, and needs no second sentence.
        PriorUse::None | PriorUse::Repeated => None,
        PriorUse::Used => Some("The earlier response agrees as far as such set-ups drift, and was used."),
        PriorUse::Contradicted => Some("The earlier response does not agree with these readings, and was left aside."),
    }
}

/// The readings that were left aside, each in words.
#[must_use]
pub fn aside_words(read: &ToneRead) -> Vec<String> {
    let one = |place: &usize| {
        let own = read.rows.get(*place)?;
        let off = read.fit.residuals.get(*place).copied().unwrap_or(0.0);
        let name = own.patch.as_ref().map_or_else(|| format!("line {}", own.line), |own| format!("patch {own}"));
        let side = if off < 0.0 { "too dark" } else { "too light" };
        Some(format!("{name} (input {}): {} L* {side}", fixed(own.reading.input.to_part(), 3), fixed(off.abs(), 1)))
    };
    read.fit.outliers.iter().filter_map(one).collect()
}

/// What a print through the curve says, in one clause.
#[must_use]
pub fn verdict(check: &CheckRead) -> String {
    let own = &check.verified;
    let (rms, noise) = (significant(own.rms, 2), significant(own.noise, 2));
    if own.within_noise() {
        format!(
            "the print is off by {rms} L* on average over tones (rms), which is what readings and coat scatter by themselves ({noise} L*)"
        )
    } else {
        format!(
            "the print is off by {rms} L* on average over tones (rms); readings and coat explain {noise} L*, and {} L* is left",
            significant(own.beside_noise, 2)
        )
    }
}

/// What is left, row by row.
#[must_use]
pub fn check_rows(check: &CheckRead) -> Vec<ToneRow> {
    let own = &check.verified;
    let mut rows = vec![
        row("the print is off by", significant(own.rms, 2), "L* on average over tones (rms)"),
        row("readings and coat explain", significant(own.noise, 2), "L*"),
        row("left beside that", significant(own.beside_noise, 2), "L*"),
    ];
    if let Some(worst) = own.worst() {
        let side = if worst.off < 0.0 { "darker than wanted" } else { "lighter than wanted" };
        rows.push(row(
            "most at tone",
            fixed(worst.tone, 2),
            format!(": {} ± {} L* {side}", fixed(worst.off.abs(), 2), fixed(COVERAGE * worst.standard, 2)),
        ));
    }
    rows.push(shift_row("black against the response", &own.black));
    rows.push(shift_row("white against the response", &own.white));
    rows.push(row("tones off by more than ± (k = 2)", fixed(own.beyond * 100.0, 0), "%"));
    rows
}

fn shift_row(label: &'static str, end: &EndShift) -> ToneRow {
    let value = format!("{} ± {}", signed(end.shift), fixed(COVERAGE * end.standard, 2));
    row(label, value, format!("L* (now {}; the whole sheet's share is in the ±)", fixed(end.lightness, 1)))
}

/// A difference with its sign; nothing has none.
#[must_use]
pub fn signed(own: f64) -> String {
    let shown = fixed(own.abs(), 2);
    match own {
        _ if shown == "0.00" => shown,
        own if own < 0.0 => format!("−{shown}"),
        _ => format!("+{shown}"),
    }
}

/// What was off at some wanted tones, each with its ±: tone, off, ±. The ends are what the rest is held against, and have none.
#[must_use]
pub fn left_cells(check: &CheckRead, steps: usize) -> Vec<[String; 3]> {
    let all = &check.verified.left;
    let one = |(row, own): (usize, &handcoat_craft::tone::ToneLeft)| {
        let tone = fixed(own.tone, 3);
        match row {
            0 => [tone, "set to this print's own black".into(), String::new()],
            _ if row + 1 == all.len() => [tone, "set to this print's own white".into(), String::new()],
            _ => [tone, signed(own.off), fixed(COVERAGE * own.standard, 2)],
        }
    };
    all.iter().enumerate().step_by((all.len() / steps.max(1)).max(1)).map(one).collect()
}

/// What is said first of a print that does not look as if it went through the curve.
#[must_use]
pub fn without_curve(check: &CheckRead, of: Option<u32>) -> Option<String> {
    let whose = of.map_or("this fit".into(), |own| format!("response {own}"));
    check
        .verified
        .without_curve
        .then(|| format!("This looks like a chart that did not go through the curve of {whose}"))
}

/// The patches to print: input and how often, darkest first.
#[must_use]
pub fn level_words(next: &NextPatches) -> String {
    let one = |(input, count): &(handcoat_craft::measure::ToneInput, usize)| match count {
        1 => fixed(input.to_part(), 3),
        _ => format!("{} ({count} times)", fixed(input.to_part(), 3)),
    };
    next.levels().iter().map(one).collect::<Vec<_>>().join(", ")
}

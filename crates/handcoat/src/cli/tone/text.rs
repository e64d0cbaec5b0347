//! What `handcoat tone …` says in words: what was found, how good it is, the next step.

use std::fmt::Write as _;

use handcoat_craft::measure::{COVERAGE, fixed, significant};
use handcoat_craft::tone::NextPatches;
use handcoat_work::tone::{
    CheckRead, ResponseView, ToneRead, ToneRow, aside_words, check_rows, curve_to_use, followed_by, found_rows,
    left_cells, level_words, prior_sentence, verdict, without_curve,
};

use crate::cli::table;

/// Rows of the curve that are printed.
const STEPS: usize = 16;

/// What ± stands for; scatter and drift are always one standard deviation.
const COVERED: &str = "± is k = 2; scatter and drift are one standard deviation.\n";

fn rows(rows: &[ToneRow]) -> String {
    let width = |text: &str| text.chars().count();
    let label = rows.iter().map(|own| width(own.label)).max().unwrap_or(0);
    let value = rows.iter().map(|own| width(&own.value)).max().unwrap_or(0);
    let mut out = String::new();
    for own in rows {
        let pad = " ".repeat(label - width(own.label));
        let right = " ".repeat(value - width(&own.value));
        let gap = if own.unit.starts_with([';', ':']) { "" } else { " " };
        let _ = writeln!(out, "  {}{pad}  {right}{}{gap}{}", own.label, own.value, own.unit);
    }
    out
}

pub(super) fn fit(read: &ToneRead) -> String {
    let mut out = rows(&found_rows(read));
    out.push_str(COVERED);
    let _ = writeln!(out, "Target: {}.", read.target().says());
    if let Some(said) = prior_sentence(read.fit.prior) {
        let _ = writeln!(out, "{said}");
    }
    for own in aside_words(read) {
        let _ = writeln!(out, "Left aside: {own}");
    }
    for warning in &read.warnings {
        let _ = writeln!(out, "Note: {warning} [{}]", warning.code());
    }
    let mut cells = vec![["tone", "send", "L* wanted", "± (k = 2)"].map(String::from).to_vec()];
    let all = read.correction.predicted();
    cells.extend(all.iter().step_by((all.len() / STEPS).max(1)).map(|own| {
        vec![fixed(own.tone, 3), fixed(own.sent, 3), fixed(own.wanted, 1), fixed(COVERAGE * own.standard, 1)]
    }));
    out.push_str(&table::columns(&cells));
    out
}

pub(super) fn fit_next(has_curve: bool) -> String {
    let curve = if has_curve { "" } else { "write the curve with --csv curve.csv, " };
    format!(
        "Next: {curve}send a chart through it, print that on the same set-up, read it dry, then: handcoat tone verify corrected.csv --of fit.json\n"
    )
}

pub(super) fn checked(check: &CheckRead, of: Option<u32>) -> String {
    let mut said = verdict(check);
    said.get_mut(..1).map(str::make_ascii_uppercase);
    let looks = without_curve(check, of).map_or(String::new(), |own| format!("Note: {own} [without_curve]\n"));
    let mut out = format!("{looks}{said}.\n");
    out.push_str(&rows(&check_rows(check)));
    out.push_str(COVERED);
    match &check.update {
        Some(update) => {
            if let Some(said) = prior_sentence(update.fit.prior) {
                let _ = writeln!(out, "{said}");
            }
            let _ = writeln!(
                out,
                "With these readings a corrected print is expected within {} L* of the target.",
                significant(update.correction.expected_rms(), 2)
            );
        }
        None => {
            let why = check.verified.update.as_ref().err().map_or(String::new(), |own| format!(": {own}"));
            let _ = writeln!(out, "These readings give no better curve{why}.");
        }
    }
    let mut cells = vec![["tone", "off by", "± (k = 2)"].map(String::from).to_vec()];
    cells.extend(left_cells(check, STEPS).into_iter().map(|own| own.to_vec()));
    out.push_str(&table::columns(&cells));
    out
}

pub(super) fn checked_next(check: &CheckRead, of: &str, file: &str) -> String {
    if check.verified.without_curve {
        let (of, file) = (super::super::words::quoted(of), super::super::words::quoted(file));
        return format!(
            "Next: send the chart through the curve and print it; or read this one as a new chart: handcoat tone fit {file} --prior {of}\n"
        );
    }
    if check.verified.within_noise() {
        let of = super::super::words::quoted(of);
        return format!("Next: print with this curve. What more patches would gain: handcoat tone next {of}\n");
    }
    "Next: take the improved curve (--csv better.csv) and print a chart through it once more.\n".into()
}

pub(super) fn next(next: &NextPatches, verified: bool) -> String {
    let mut out = String::new();
    if !verified {
        out.push_str("Note: no print through this curve was read yet; that says more than more patches of the chart [never_verified]\n");
    }
    let side = next.area.to_square_centimetres();
    if next.patches.is_empty() {
        let _ = writeln!(
            out,
            "No more patches are worth their paper: a corrected print is expected within {} L* already.",
            significant(next.now, 2)
        );
        return out;
    }
    let _ = writeln!(
        out,
        "Print these inputs, spread over the sheet: {}\nThey take {} cm² and lower the expected error from {} to {} L*.",
        level_words(next),
        significant(side * next.patches.len() as f64, 3),
        significant(next.now, 3),
        significant(next.after(), 3)
    );
    let mut cells = vec![["patch", "input", "then expected", "gain per cm²"].map(String::from).to_vec()];
    cells.extend(next.patches.iter().enumerate().map(|(place, own)| {
        vec![
            (place + 1).to_string(),
            fixed(own.input.to_part(), 3),
            format!("{} L*", fixed(own.expected, 3)),
            format!("{} L*", fixed(own.gain_per_cm2, 4)),
        ]
    }));
    out.push_str(&table::columns(&cells));
    out.push_str(
        "Next: print them, read them into a table of their own, then: handcoat tone fit more.csv --prior fit.json\n",
    );
    out
}

pub(super) fn line(view: &ResponseView) -> String {
    let of = view.setup.as_ref().map_or(String::new(), |own| format!(" of {}", own.1));
    let mut out = format!(
        "response {}{of}: {}, {} patches, expected within {} L*\n",
        view.number,
        view.standing().word(),
        view.read.rows.len(),
        significant(view.read.correction.expected_rms(), 2)
    );
    if let Some(own) = &view.checked {
        let _ = writeln!(
            out,
            "       checked with {} patches: off by {} L* on average over tones (rms), {} L* beside the noise",
            own.readings,
            significant(own.rms_l_star, 2),
            significant(own.beside_noise_l_star, 2)
        );
    }
    for (code, own) in view.doubt_words() {
        let _ = writeln!(out, "       ! {own} [{code}]");
    }
    if let Some(own) = view.ink.as_ref().filter(|own| *own != "none") {
        let _ = writeln!(out, "       printed in the ink {own}");
    }
    if let Some(own) = &view.note {
        let _ = writeln!(out, "       {own}");
    }
    out
}

/// The same in a list, with what it is beside the others.
pub(super) fn listed(all: &[ResponseView], view: &ResponseView) -> String {
    let mut out = line(view);
    if curve_to_use(all, view.setup.as_ref().map(|own| own.0)) == Some(view.number) {
        out.push_str("       use this curve\n");
    }
    if let Some(next) = followed_by(all, view.number) {
        let _ = writeln!(out, "       followed by response {next}");
    }
    out
}

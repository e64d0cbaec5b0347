//! A response, a correction and a print through it as they stand on a page: how good it is first, then the plots, each with its table, and
//! the next step.

use handcoat_craft::measure::{COVERAGE, fixed, significant};
use handcoat_craft::tone::{NextPatches, Standing};
use handcoat_figures::{PlotWidth, Theme, correction_plot, drift_map, left_plot, residual_plot, response_plot};
use handcoat_work::tone::{
    CheckRead, Checked, ResponseView, ToneRead, ToneRow, aside_words, check_rows, found_rows, left_cells, level_words,
    prior_sentence, signed, verdict,
};
use maud::{Markup, PreEscaped, html};

use super::expose::plots;
use super::words::{capitalised, day};

/// Rows of a curve that stand in a table.
const STEPS: usize = 16;

fn rows(all: &[ToneRow]) -> Markup {
    html! {
        dl.facts.even {
            @for own in all {
                dt { (own.label) }
                // A colon or a semicolon follows its number without a gap.
                dd { b { (own.value) } @if !own.unit.starts_with([';', ':']) { " " } (own.unit) }
            }
        }
    }
}

/// A plot in both widths.
fn plot(of: impl Fn(PlotWidth) -> String) -> Markup {
    plots(&PreEscaped(of(PlotWidth::Page)), &PreEscaped(of(PlotWidth::Phone)))
}

/// What a chart came to: how good it is, and the numbers.
pub(super) fn found(read: &ToneRead) -> Markup {
    let aside = aside_words(read);
    html! {
        div.sheet {
            h3 { "How good it is" }
            p.number { "within " b { (significant(read.correction.expected_rms(), 2)) } " L*" }
            p.why { "So far a print through this curve is expected to be off the target, on average over tones (rms). About 1 L* can just be seen side by side (common practice, no source)." }
            @for warning in &read.warnings { p.note { (capitalised(&warning.to_string())) "." } }
            (rows(found_rows(read).get(1..).unwrap_or_default()))
            p { "Target: " (read.target().says()) "." }
            @if let Some(said) = prior_sentence(read.fit.prior) { p { (said) } }
            @if !aside.is_empty() { p { "Left aside: " (aside.join("; ")) "." } }
        }
    }
}

/// Its plots, each with its table.
pub(super) fn drawn(read: &ToneRead) -> Markup {
    let readings = read.readings();
    let (fit, correction) = (&read.fit, &read.correction);
    let drift = drift_map(&readings, fit, Theme::Page);
    html! {
        div.sheet {
            h3 { "What this set-up prints" }
            (plot(|width| response_plot(&readings, fit, correction, width, Theme::Page)))
            h3 { "The correction" }
            (plot(|width| correction_plot(correction, width, Theme::Page)))
            details.more {
                summary { "The curve as a table" }
                table {
                    thead { tr { th scope="col" { "wanted tone" } th.n scope="col" { "send" } th.n scope="col" { "L*" } th.n scope="col" { "±" } } }
                    @for own in correction.predicted().iter().step_by((correction.predicted().len() / STEPS).max(1)) {
                        tr { th scope="row" { (fixed(own.tone, 3)) } td.n { (fixed(own.sent, 3)) } td.n { (fixed(own.wanted, 1)) } td.n { (fixed(COVERAGE * own.standard, 1)) } }
                    }
                }
            }
            h3 { "What is left of the readings" }
            (plot(|width| residual_plot(&readings, fit, width, Theme::Page)))
            (residual_table(read))
            @if let Some(drift) = drift {
                h3 { "The coat over the sheet" }
                div.drawing { (PreEscaped(drift)) }
            }
        }
    }
}

fn residual_table(read: &ToneRead) -> Markup {
    let at = |all: &[f64], place: usize| all.get(place).copied().unwrap_or(0.0);
    let drifts = read.fit.quality.field.is_some();
    html! {
        details.more {
            summary { "The readings as a table" }
            table {
                thead { tr { th scope="col" { "input" } th.n scope="col" { "L*" } @if drifts { th.n scope="col" { "coat" } } th.n scope="col" { "left" } } }
                @for (place, own) in read.rows.iter().enumerate() {
                    tr {
                        th scope="row" { (fixed(own.reading.input.to_part(), 3)) @if read.fit.outliers.contains(&place) { " left aside" } }
                        td.n { (fixed(own.reading.lightness.to_l_star(), 1)) }
                        @if drifts { td.n { (signed(at(&read.fit.drift, place))) } }
                        td.n { (signed(at(&read.fit.residuals, place))) }
                    }
                }
            }
        }
    }
}

/// What a print through a curve says.
pub(super) fn checked(check: &CheckRead) -> Markup {
    let (left, print) = (&check.verified.left, &check.verified.print);
    html! {
        div.sheet {
            h3 { "What is left" }
            p.number { b { (significant(check.verified.rms, 2)) } " L*" }
            p.lead { (capitalised(&verdict(check))) "." }
            (plot(|width| left_plot(left, width, Theme::Page)))
            (rows(check_rows(check).get(1..).unwrap_or_default()))
            details.more {
                summary { "By tone, as a table" }
                table {
                    thead { tr { th scope="col" { "wanted tone" } th.n scope="col" { "off by, L*" } th.n scope="col" { "±" } } }
                    @for [tone, off, plus_minus] in left_cells(check, STEPS) {
                        tr { th scope="row" { (tone) } @if plus_minus.is_empty() { td.soft colspan="2" { (off) } } @else { td.n { (off) } td.n { (plus_minus) } } }
                    }
                }
            }
            h3 { "What is left of the readings" }
            (plot(|width| residual_plot(&check.sent, print, width, Theme::Page)))
            @if let Some(drift) = drift_map(&check.sent, print, Theme::Page) {
                h3 { "The coat over the sheet" }
                div.drawing { (PreEscaped(drift)) }
            }
            @match &check.update {
                Some(update) => {
                    h3 { "What it taught" }
                    @if let Some(said) = prior_sentence(update.fit.prior) { p { (said) } }
                    p { "With these readings a corrected print is expected within " b { (significant(update.correction.expected_rms(), 2)) } " L* of the target." }
                }
                None => p.note { "These readings give no better curve" @if let Err(why) = &check.verified.update { ": " (why) } "." },
            }
        }
    }
}

/// What a print through a response's curve said, in a line.
pub(super) fn checked_line(own: &Checked) -> String {
    let left = match own.beside_noise_l_star {
        0.0 => "no more than noise".into(),
        own => format!("{} L* of it beside the noise", significant(own, 2)),
    };
    let rms = significant(own.rms_l_star, 2);
    format!("checked {} with {} patches: off by {rms} L*, {left}", day(own.at), own.readings)
}

/// How a response stands, in words.
pub(super) fn standing_words(standing: Standing) -> &'static str {
    match standing {
        Standing::Holds => "holds",
        Standing::Check => "to be checked",
        Standing::Stale => "of a set-up that has changed",
    }
}

/// Why a response is doubted, each in a line.
pub(super) fn doubts(view: &ResponseView) -> Markup {
    html! {
        @if !view.doubts.is_empty() {
            div.due {
                p { b { @if view.standing() == Standing::Stale { "It does not hold any more. " } @else { "Check it. " } } }
                ul { @for own in view.doubt_words() { li { (capitalised(&own.1)) } } }
            }
        }
    }
}

/// Patches to print.
pub(super) fn next(next: &NextPatches) -> Markup {
    html! {
        div.sheet {
            @if next.patches.is_empty() {
                h3 { "No more patches are worth their paper" }
                p.lead { "A corrected print is expected within " b { (significant(next.now, 2)) } " L* of the target already." }
            } @else {
                h3 { "Print these inputs" }
                p.lead { b { (level_words(next)) } }
                p.why { "Spread over the sheet, each with room around it; no two of one level side by side." }
                dl.facts.even {
                    dt { "coated paper they take" } dd { b { (significant(next.area.to_square_centimetres() * next.patches.len() as f64, 3)) } " cm²" }
                    dt { "expected now" } dd { b { (significant(next.now, 3)) } " L*" }
                    dt { "expected after" } dd { b { (significant(next.after(), 3)) } " L*" }
                }
                details.more {
                    summary { "One after the other" }
                    table {
                        thead { tr { th scope="col" { "input" } th.n scope="col" { "then expected, L*" } th.n scope="col" { "gain per cm²" } } }
                        @for own in &next.patches {
                            tr { th scope="row" { (fixed(own.input.to_part(), 3)) } td.n { (fixed(own.expected, 3)) } td.n { (fixed(own.gain_per_cm2, 4)) } }
                        }
                    }
                }
            }
        }
    }
}

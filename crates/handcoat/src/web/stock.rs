//! A stock plan as it stands on a page.

use handcoat_craft::measure::percent;
use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::solution::SolutionPlan;
use handcoat_craft::stock::{Batch, WayOut};
use handcoat_figures::{Theme, chloride_scale, uncertainty_bars};
use handcoat_work::stock::{
    Planned, Row, bars, budget_words, cause_words, form_words, keeping_words, known_by, result_rows, solution_known_by,
    solution_result_rows, solution_steps, solution_title, solution_weigh_rows, strength_off, title, way_care,
    way_words, weigh_rows, weighed_words,
};
use maud::{Markup, PreEscaped, html};

/// Rows of words and numbers: the number bold, its unit in a quiet column of its own.
pub(super) fn rows(rows: &[Row], class: &str) -> Markup {
    html! {
        table class=(class) {
            @for row in rows {
                tr {
                    th scope="row" { (row.label) @if let Some(cas) = row.cas { " " span.cas { "CAS " (cas) } } }
                    td.n { (row.value) }
                    td.u { (row.unit) }
                }
            }
        }
    }
}

/// The plan, its drawings, and what was weighed beside it.
pub(crate) fn plan(planned: &Planned) -> Markup {
    html! { (sheet(planned)) (weighed(planned, &|_| None)) }
}

/// The plan and its drawings.
pub(super) fn sheet(planned: &Planned) -> Markup {
    let plan = &planned.plan;
    html! {
        div.sheet {
            h3 { @if planned.as_weighed.is_some() { "As planned: " } (title(plan)) }
            @if planned.as_weighed.is_some() { p.why { "These are the plan's figures. Take a way above, and its own stand here." } }
            @if let Some(first) = plan.warnings.first() {
                p.note { (first) }
            }
            (rows(&weigh_rows(plan), "big"))
            h4 { "What it will be" }
            (rows(&result_rows(plan, &plan.batch), ""))
            @if let Some((cause, part)) = plan.batch.dominant() {
                p.why { "± is k = 2; " (cause_words(cause)) " dominates it (" (percent(part)) " of the variance)." }
            }
            @for line in known_by(plan, &plan.batch) { p.why { (line) "." } }
            @if let Some(words) = budget_words(plan) { p.why { (words) "." } }
            p.why { "Ready after " (READY_AFTER.value) " hours, when it is clear." }
            (drawings(&plan.batch))
            @if plan.warnings.len() > 1 {
                h4 { "To know before you begin" }
                ul { @for warning in plan.warnings.iter().skip(1) { li { (warning) } } }
            }
        }
    }
}

/// A planned solution: what to weigh, what it will be, and the steps with each caution before what it is about.
pub(super) fn solution(plan: &SolutionPlan) -> Markup {
    let known = solution_known_by(plan);
    html! {
        div.sheet {
            h3 { (solution_title(plan)) }
            @if let Some(first) = plan.warnings.first() { p.note { (first) } }
            (rows(&solution_weigh_rows(plan), "big"))
            @for own in &plan.request.ingredients { p.why { (form_words(own)) "." } }
            h4 { "What it will be" }
            (rows(&solution_result_rows(plan), ""))
            @for line in known { p.why { (line) "." } }
            @if let Some(row) = keeping_words(plan) { p.why { "Keeping: " (row.advice) "." } }
            @if plan.warnings.len() > 1 {
                h4 { "To know before you begin" }
                ul { @for warning in plan.warnings.iter().skip(1) { li { (warning) } } }
            }
            h4 { "Step by step" }
            ol {
                @for step in solution_steps(plan) {
                    li {
                        @if let Some(care) = &step.care { p.note { b { "Mind. " } (care) } }
                        (step.what) @if let Some(target) = &step.target { ": " b { (target) } }
                    }
                }
            }
        }
    }
}

fn drawings(batch: &Batch) -> Markup {
    let bars = bars(batch);
    html! {
        @if batch.chloride_excess().is_some() && batch.strengths.relative.is_some() {
            h4 { "Added chloride per metal" }
            div.drawing.fine { (PreEscaped(chloride_scale(&batch.chloride_to_metal, Theme::Page))) }
        }
        @if !bars.is_empty() {
            h4 { "Where the ± comes from" }
            div.drawing.fine { (PreEscaped(uncertainty_bars(&bars, Theme::Page))) }
        }
    }
}

/// What was weighed, and the ways on from there, each with where it leads; nothing where nothing was.
pub(super) fn weighed(planned: &Planned, leads: &dyn Fn(&WayOut) -> Option<String>) -> Markup {
    let Some(now) = &planned.as_weighed else { return html! {} };
    let plan = &planned.plan;
    let strength = strength_off(now).map_or("as strong as planned".into(), |off| format!("{off} than planned"));
    html! {
        p.note {
            b { "As weighed." } @for sentence in weighed_words(plan, now) { " " (sentence) }
            " In the planned volume it is " (strength) "."
        }
        @for ways in [&now.ways, &now.chloride_ways] {
            @if !ways.is_empty() {
                div.ways { @for out in ways { (way(planned, out, leads(out))) } }
            }
        }
        details {
            summary { "What it would be in the planned volume" }
            div.sheet { (rows(&result_rows(plan, &now.batch), "")) }
        }
    }
}

fn way(planned: &Planned, out: &WayOut, leads: Option<String>) -> Markup {
    let (heading, words) = way_words(&planned.plan, out);
    html! {
        div.way {
            h4 { (heading) }
            p { (words) @if let Some(extra) = out.more_in_stock() { "; " b { (extra) } " more in stock" } "." }
            @if let Some(care) = way_care(out) { p.why { "Mind: " (care) "." } }
            @if let Some(address) = leads { p { a.btn.quiet href=(address) aria-label=(format!("Take this way: {heading}")) { "Take this way" } } }
        }
    }
}

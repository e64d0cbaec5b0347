//! A plan in words, for a terminal.

use std::fmt::Write as _;

use handcoat_craft::measure::{Volume, fixed, percent, significant};
use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::solution::SolutionPlan;
use handcoat_craft::stock::{AsWeighed, Ladder, Plan, Powder, Warning};
use handcoat_work::stock::{
    Planned, budget_words, cause_words, form_words, keeping_words, known_by, not_in_it, plain, result_rows,
    solution_known_by, solution_result_rows, solution_steps, solution_title, solution_weigh_rows, strength_off, title,
    way_care, way_words, weigh_rows, weighed_words,
};

use crate::cli::table;

/// The whole of it.
pub(super) fn plan_text(planned: &Planned) -> String {
    let plan = &planned.plan;
    let mut out = format!("{}\n\nWeigh and measure\n{}", title(plan), table::rows(&weigh_rows(plan)));
    let _ = write!(out, "\nWhat it will be\n{}", table::rows(&result_rows(plan, &plan.batch)));
    if let Some((cause, part)) = plan.batch.dominant() {
        let _ = writeln!(out, "  ± is k = 2; {} dominates it ({} of the variance)", cause_words(cause), percent(part));
        for line in known_by(plan, &plan.batch) {
            let _ = writeln!(out, "  {line}");
        }
    }
    if let Some(words) = budget_words(plan) {
        let _ = writeln!(out, "  {words}");
    }
    let _ = writeln!(out, "  ready after {} hours, when it is clear", READY_AFTER.value);
    out.push_str(&warnings_text(&plan.warnings));
    if let Some(now) = &planned.as_weighed {
        out.push_str(&weighed_text(plan, now));
    }
    out
}

/// A planned solution, with its steps.
pub(super) fn solution_text(plan: &SolutionPlan) -> String {
    let mut out = format!("{}\n", solution_title(plan));
    for own in &plan.request.ingredients {
        let _ = writeln!(out, "  {}", form_words(own));
    }
    let _ = write!(out, "\nWeigh and measure\n{}", table::rows(&solution_weigh_rows(plan)));
    let _ = write!(out, "\nWhat it will be\n{}", table::rows(&solution_result_rows(plan)));
    if let Some((cause, part)) = plan.dissolved.first().and_then(|own| own.dominant()) {
        let _ = writeln!(out, "  ± is k = 2; {} dominates it ({} of the variance)", cause_words(cause), percent(part));
    }
    for line in solution_known_by(plan) {
        let _ = writeln!(out, "  {line}");
    }
    let hours = plan.rest_h();
    if hours > 0.0 {
        let unit = if hours == 1.0 { "hour" } else { "hours" };
        let _ = writeln!(out, "  ready after {hours} {unit}, when it is clear");
    }
    if let Some(row) = keeping_words(plan) {
        let _ = writeln!(out, "  keeping: {}", row.advice);
    }
    out.push_str(&warnings_text(&plan.warnings));
    out.push_str("\nStep by step\n");
    for (number, step) in (1..).zip(solution_steps(plan)) {
        if let Some(care) = &step.care {
            let _ = writeln!(out, "      Mind: {care}");
        }
        let target = step.target.map_or(String::new(), |target| format!(": {target}"));
        let _ = writeln!(out, "  {number:>2}  {}{target}", step.what);
    }
    out
}

fn warnings_text(warnings: &[Warning]) -> String {
    let mut out = String::new();
    if !warnings.is_empty() {
        out.push_str("\nTo know before you begin\n");
    }
    for warning in warnings {
        let _ = writeln!(out, "  {warning} [{}]", warning.code());
    }
    out
}

/// The rungs of a ladder, one a line, and what the first is made from.
pub(super) fn ladder_text(powder: &Powder, ladder: &Ladder) -> String {
    let metal = powder.salt().metal().element();
    let known = ladder.rungs.iter().any(|rung| rung.relative.is_some());
    let heads = ["g per 100 mL", "mol/L", &format!("mg {metal}/mL"), "± of it", "make mL", "from above mL", "water mL"];
    let mut cells = vec![heads.map(String::from).to_vec()];
    for rung in &ladder.rungs {
        let ml = |volume: Option<Volume>| volume.map_or("-".into(), |volume| fixed(volume.to_millilitres(), 1));
        cells.push(vec![
            significant(rung.percent.to_grams_per_100_ml(), 4),
            plain(rung.molarity),
            plain(rung.metal),
            rung.relative_expanded().map_or(String::new(), percent),
            ml(Some(rung.make)),
            ml(rung.from_above),
            ml(rung.water),
        ]);
    }
    if !known {
        for row in &mut cells {
            row.remove(3);
        }
    }
    let mut out = format!(
        "Halving ladder of {}: one part of the rung above, one part of distilled water\n{}",
        powder.salt().formula(),
        table::columns(&cells)
    );
    let first = ladder
        .rungs
        .first()
        .map_or(String::new(), |rung| format!(", made up to {} mL", significant(rung.make.to_millilitres(), 5)));
    let _ = writeln!(out, "  the first rung takes {} g of powder{first}", fixed(ladder.powder.to_grams(), 3));
    if known {
        out.push_str("  ± is k = 2; each halving adds to it\n");
        out.extend(not_in_it(&powder.left_open()).map(|words| format!("  {words}\n")));
    }
    out.push_str(&warnings_text(&ladder.warnings));
    out
}

fn weighed_text(plan: &Plan, now: &AsWeighed) -> String {
    let mut out = String::from("\nAs weighed, in the planned volume\n");
    out.push_str(&table::rows(&result_rows(plan, &now.batch)));
    let strength = strength_off(now).map_or("as strong as planned".into(), |off| format!("{off} than planned"));
    let _ = writeln!(out, "  {strength}");
    for sentence in weighed_words(plan, now) {
        let _ = writeln!(out, "  {sentence}");
    }
    for (heading, ways) in [("Ways on", &now.ways), ("For the chloride", &now.chloride_ways)] {
        if ways.is_empty() {
            continue;
        }
        let _ = writeln!(out, "\n{heading}");
        for way in ways {
            let (what, how) = way_words(plan, way);
            let cost = way.more_in_stock().map_or(String::new(), |extra| format!("; {extra} more in stock"));
            let care = way_care(way).map_or(String::new(), |care| format!("\n    {care}"));
            let _ = writeln!(out, "  {what}: {how}{cost}{care}");
        }
    }
    out
}

//! A plan in words, for a terminal.

use std::fmt::Write as _;

use handcoat_craft::measure::percent;
use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::{AsWeighed, Plan};
use handcoat_work::stock::{
    Planned, budget_words, cause_words, known_by, result_rows, strength_off, title, way_words, weigh_rows,
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
    if !plan.warnings.is_empty() {
        out.push_str("\nTo know before you begin\n");
    }
    for warning in &plan.warnings {
        let _ = writeln!(out, "  {warning} [{}]", warning.code());
    }
    if let Some(now) = &planned.as_weighed {
        out.push_str(&weighed_text(plan, now));
    }
    out
}

fn weighed_text(plan: &Plan, now: &AsWeighed) -> String {
    let mut out = String::from("\nAs weighed, in the planned volume\n");
    out.push_str(&table::rows(&result_rows(plan, &now.batch)));
    let strength = strength_off(now).map_or("as strong as planned".into(), |off| format!("{off} than planned"));
    let _ = writeln!(out, "  {strength}");
    for (heading, ways) in [("Ways on", &now.ways), ("For the chloride", &now.chloride_ways)] {
        if ways.is_empty() {
            continue;
        }
        let _ = writeln!(out, "\n{heading}");
        for way in ways {
            let (what, how) = way_words(plan, way);
            let cost = way.more_in_stock().map_or(String::new(), |extra| format!("; {extra} more in stock"));
            let care = way.warning.as_ref().map_or(String::new(), |warning| format!("\n    {warning}"));
            let _ = writeln!(out, "  {what}: {how}{cost}{care}");
        }
    }
    out
}

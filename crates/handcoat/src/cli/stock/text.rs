//! A plan in words, for a terminal.

use std::fmt::Write as _;

use handcoat_craft::measure::percent;
use handcoat_craft::source::READY_AFTER;
use handcoat_work::stock::{Planned, cause_words, known_by, result_rows, title, way_words, weigh_rows};

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
    let _ = writeln!(out, "  ready after {} hours, when it is clear", READY_AFTER.value);
    if !plan.warnings.is_empty() {
        out.push_str("\nTo know before you begin\n");
    }
    for warning in &plan.warnings {
        let _ = writeln!(out, "  {warning} [{}]", warning.code());
    }
    if planned.as_weighed.is_some() {
        out.push_str(&weighed_text(planned));
    }
    out
}

fn weighed_text(planned: &Planned) -> String {
    let (plan, Some(now)) = (&planned.plan, &planned.as_weighed) else { return String::new() };
    let mut out = String::from("\nAs weighed, in the planned volume\n");
    out.push_str(&table::rows(&result_rows(plan, &now.batch)));
    let strength = if now.stronger.abs() < 5e-4 {
        "  as strong as planned".into()
    } else if now.stronger > 0.0 {
        format!("  {} stronger than planned", percent(now.stronger))
    } else {
        format!("  {} weaker than planned", percent(-now.stronger))
    };
    let _ = writeln!(out, "{strength}");
    for (heading, ways) in [("Ways on", &now.ways), ("For the chloride", &now.chloride_ways)] {
        if ways.is_empty() {
            continue;
        }
        let _ = writeln!(out, "\n{heading}");
        for way in ways {
            let (what, how) = way_words(plan, way);
            let cost = way.extra_cost.filter(|extra| extra.to_minor() > 0);
            let cost = cost.map_or(String::new(), |extra| format!("; {extra} more in stock"));
            let care = way.warning.as_ref().map_or(String::new(), |warning| format!("\n    {warning}"));
            let _ = writeln!(out, "  {what}: {how}{cost}{care}");
        }
    }
    out
}

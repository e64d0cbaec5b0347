//! A coat in words, for a terminal: the drops first, in the order they are dropped.

use std::fmt::Write as _;

use handcoat_craft::coat::{Coat, Plan};
use handcoat_craft::measure::{fixed, percent, significant};
use handcoat_work::coat::{
    Coated, cause_words, drop_lines, fact_rows, last_words, less_words, margin_words, ratio_words, rounding_words,
    uptake_words,
};

use super::large;
use crate::cli::table;

pub(super) fn plan_text(coated: &Coated) -> String {
    let plan = &coated.plan;
    let size = plan.request.sheet.image;
    let cm = |mm: f64| significant(mm / 10.0, 4);
    let mut out = format!(
        "Coat for an image of {} x {} cm with {}\n",
        cm(size.width.to_millimetres()),
        cm(size.height.to_millimetres()),
        margin_words(plan)
    );
    let places = plan.coats.iter().flat_map(drop_lines).map(|(count, _)| count.to_string().len()).max().unwrap_or(1);
    for (place, coat) in plan.coats.iter().enumerate() {
        out.push_str(&drops_text(plan, coat, place, places));
    }
    let _ = write!(out, "\nFor one sheet\n{}", table::rows(&fact_rows(plan)));
    for own in &plan.metals {
        if let Some((cause, mg)) = own.causes.first().filter(|(_, mg)| *mg > 0.0) {
            let variance = own.mass.standard() * 1000.0;
            let part = percent(mg * mg / (variance * variance));
            let _ = writeln!(
                out,
                "  ± is k = 2; {} dominates that of the {} ({part} of the variance)",
                cause_words(plan, *cause),
                own.element.weight().name
            );
        }
    }
    let _ = writeln!(out, "  {}", uptake_words(plan));
    let _ = writeln!(out, "  {}", rounding_words(plan));
    if let Some(words) = ratio_words(plan) {
        let _ = writeln!(out, "  {words}");
    }
    if !plan.cost.without.is_empty() {
        let _ = writeln!(out, "  without a price: {}", plan.cost.without.join("; "));
    }
    out.push_str(&bottles_text(plan));
    if let Some(last) = &coated.last {
        let _ = write!(out, "\nLast time\n  {}\n", last_words(last).join("\n  "));
    }
    if !plan.less.is_empty() {
        out.push_str("\nCan I use less?\n");
        for less in &plan.less {
            let _ = writeln!(out, "  {}", less_words(less));
        }
    }
    out.push_str("\nWhat this rests on\n");
    for own in &coated.used {
        let _ = writeln!(out, "  {}: {}", own.origin.heading(), own.words);
    }
    if !plan.warnings.is_empty() {
        out.push_str("\nTo know before you begin\n");
    }
    for warning in &plan.warnings {
        let _ = writeln!(out, "  {warning} [{}]", warning.code());
    }
    out
}

fn drops_text(plan: &Plan, coat: &Coat, place: usize, places: usize) -> String {
    let mut out = String::from("\n");
    if plan.coats.len() > 1 {
        let which = if place == 0 { "First coat" } else { "Second coat" };
        let _ = writeln!(out, "{which}, {} % of full strength: drop in this order\n", fixed(coat.strength * 100.0, 0));
    } else {
        out.push_str("Drop in this order\n\n");
    }
    for (count, name) in drop_lines(coat) {
        let word = if count == 1 { "drop" } else { "drops" };
        let _ = writeln!(out, "{}", large::count(count, places, &format!("{word} of {name}")));
    }
    if let Some(water) = coat.water_ml {
        let _ = writeln!(out, "  and {} mL of distilled water\n", fixed(water, 1));
    }
    // Each block ends in an empty line of its own; the next heading brings one.
    out.pop();
    out
}

/// What all sheets take, where there are several or bottles that end.
fn bottles_text(plan: &Plan) -> String {
    let holds_known = plan.for_all.iter().any(|own| own.holds.is_some());
    if plan.request.sheets == 1 && plan.request.loss.is_none() && !holds_known {
        return String::new();
    }
    let lost = plan.request.loss.map_or(String::new(), |loss| format!(", {} more for loss", percent(loss.of_whole())));
    let mut out = format!("\nFor {} sheets{lost}\n", plan.request.sheets);
    if plan.request.sheets == 1 {
        out = format!("\nFrom the bottles{lost}\n");
    }
    for own in &plan.for_all {
        let holds = own.holds.map_or(String::new(), |holds| format!(" of {} mL", fixed(holds.to_millilitres(), 1)));
        let left = own.sheets_left.map_or(String::new(), |left| format!(": good for {left}"));
        let _ = writeln!(out, "  {} mL{holds}  {}{left}", fixed(own.volume.to_millilitres(), 2), own.name);
    }
    if let Some(left) = plan.prints_left {
        let _ = writeln!(out, "  the bottles are good for {left} such sheets");
    }
    out
}

//! A coat plan as it stands on a page: the counts first, the rest beneath.

use handcoat_craft::coat::{Coat, ForAll, Plan};
use handcoat_craft::measure::{fixed, percent};
use handcoat_work::coat::{
    Coated, LastTime, cause_words, coat_heading, drop_lines, fact_rows, image_words, last_words, less_words,
    margin_words, ratio_words, rounding_words, uptake_words,
};
use maud::{Markup, html};

use super::stock::rows;
use super::words::capitalised;

/// The plan. One warning stands large before the drops; the others are below.
pub(super) fn sheet(coated: &Coated) -> Markup {
    let plan = &coated.plan;
    let (care, others): (Vec<_>, Vec<_>) = plan.warnings.iter().partition(|own| own.code() == "care");
    let single = plan.coats.len() == 1;
    html! {
        div.sheet {
            p.soft { (image_words(plan)) " with " (margin_words(plan)) "." }
            @if let Some(first) = others.first() { p.note { (capitalised(&first.to_string())) "." } }
            @for (place, coat) in plan.coats.iter().enumerate() {
                h3 { (coat_heading(plan, place).unwrap_or_else(|| "Drop in this order".into())) }
                (drops(coat, coated.last.as_ref().filter(|_| single)))
            }
            @if let Some(last) = &coated.last { (last_time(last)) }
            @for own in care { p.why { b { "Care. " } (capitalised(&own.to_string())) "." } }
            h4 { "What one sheet comes to" }
            (rows(&fact_rows(plan), ""))
            (whys(plan))
            (bottles(plan))
            @if !plan.less.is_empty() {
                h4 { "Can I use less?" }
                ul { @for less in &plan.less { li { (capitalised(&less_words(less))) "." } } }
            }
            details.more {
                summary { "What this rests on" }
                ul { @for own in &coated.used { li { b { (own.origin.heading()) } ": " (own.words) } } }
            }
            @if others.len() > 1 {
                details.more {
                    summary { "More to know before you begin" }
                    ul { @for own in others.iter().skip(1) { li { (capitalised(&own.to_string())) "." } } }
                }
            }
        }
    }
}

/// Counts in the order they are dropped, and beside them those of last time.
fn drops(coat: &Coat, last: Option<&LastTime>) -> Markup {
    html! {
        ol.counts {
            @for ((count, name), pour) in drop_lines(coat).into_iter().zip(&coat.pours) {
                li {
                    b { (count) }
                    span {
                        @if count == 1 { "drop of " } @else { "drops of " } strong { (name) }
                        @if let Some(before) = last.and_then(|last| last.drops_of(&pour.name)) { span.soft { "last time " (before) } }
                    }
                }
            }
        }
        @if let Some(water) = coat.water_ml { p.lead { "and " b { (fixed(water, 1)) " mL" } " of distilled water" } }
    }
}

fn last_time(last: &LastTime) -> Markup {
    let lines = last_words(last);
    html! {
        p.last {
            b { "Last time: " }
            @for (place, line) in lines.iter().enumerate() { @if place == 1 { ": " } @else if place > 1 { ", " } (line) }
            "."
        }
    }
}

fn whys(plan: &Plan) -> Markup {
    let causes = plan.metals.iter().filter_map(|own| {
        let (cause, mg) = own.causes.first().filter(|(_, mg)| *mg > 0.0)?;
        let whole = own.mass.standard() * 1000.0;
        Some((own.element.weight().name, cause_words(plan, *cause), percent(mg * mg / (whole * whole))))
    });
    html! {
        @for (metal, cause, part) in causes {
            p.why { "± is k = 2; that of the " (metal) " comes from " (cause) " most (" (part) " of the variance)." }
        }
        p.why { (capitalised(&uptake_words(plan))) "." }
        p.why { (capitalised(&rounding_words(plan))) "." }
        @if let Some(words) = ratio_words(plan) { p.why { (words) "." } }
        @if !plan.cost.without.is_empty() { p.why { "Without a price: " (plan.cost.without.join("; ")) "." } }
    }
}

/// What all sheets take out of each bottle, and for how many it is good.
fn bottles(plan: &Plan) -> Markup {
    let sheets = plan.request.sheets;
    let known = plan.for_all.iter().any(|own| own.holds.is_some());
    let lost = plan.request.loss.map_or(String::new(), |loss| format!(", {} more for loss", percent(loss.of_whole())));
    html! {
        @if known || sheets > 1 {
            h4 { "From the bottles, for " @if sheets == 1 { "one sheet" } @else { (sheets) " sheets" } (lost) }
            table {
                @for own in &plan.for_all {
                    tr {
                        th scope="row" { (own.name) }
                        td.n { (fixed(own.volume.to_millilitres(), 2)) }
                        td.u { "mL" }
                        td { (left(own)) }
                    }
                }
            }
        }
    }
}

fn left(own: &ForAll) -> String {
    match (own.holds, own.sheets_left) {
        (Some(holds), Some(left)) => format!("of {} mL, good for {left}", fixed(holds.to_millilitres(), 1)),
        _ => "no bottle".into(),
    }
}

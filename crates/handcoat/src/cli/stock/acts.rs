//! Acts on jars and bottles, and the shelf.

use std::fmt::Write as _;

use handcoat_craft::measure::significant;
use handcoat_work::shelf::{Due, ItemView, Solute, shelf};
use handcoat_work::{Done, Moment, Refusal, Studio};
use jiff::Timestamp;

use super::shelf_args::ShelfArgs;
use crate::cli::book::{ActArgs, done_text, read_instant};
use crate::json;

/// Opens the book, does one act, says what it came to.
pub(super) fn act<A>(
    args: &ActArgs,
    answers: &A,
    work: impl FnOnce(&mut Studio, &Moment, &A) -> Result<Done, Refusal>,
) -> Result<String, Refusal> {
    let moment = args.moment()?;
    let mut studio = args.whose.open()?;
    Ok(done_text(&work(&mut studio, &moment, answers)?, &args.whose))
}

pub(super) fn run_shelf(args: &ShelfArgs) -> Result<String, Refusal> {
    let studio = args.whose.open()?;
    let at = args.at.as_deref().map_or_else(|| Ok(Timestamp::now()), read_instant)?;
    let items = shelf(&studio, at)?;
    if args.whose.json {
        return Ok(json::lines(&json::ledger::shelf(&items)));
    }
    if items.is_empty() {
        return Ok("The shelf is empty. Begin with: handcoat stock receive PdCl2 --mass 10g\n".into());
    }
    Ok(items.iter().map(item_text).collect())
}

fn item_text(item: &ItemView) -> String {
    let formula = item.formula.as_ref().map_or("unknown".into(), |formula| formula.subscripted());
    let mut out = format!("{}  {} {}, {formula}: {}", item.code, item.kind.word(), item.name, item.amount);
    if !item.dissolved.is_empty() {
        let _ = write!(out, ", {}", item.dissolved.iter().map(Solute::long).collect::<Vec<_>>().join(" + "));
    } else if let (Some(percent), Some(strength)) = (item.percent, item.strength) {
        let _ = write!(
            out,
            ", {} %, {} mg metal/mL",
            significant(percent.to_grams_per_100_ml(), 4),
            significant(strength.to_milligrams_per_millilitre(), 4)
        );
    }
    let costs: Vec<String> = item.cost.iter().map(ToString::to_string).collect();
    if !costs.is_empty() {
        let _ = write!(out, ", cost {}", costs.join(" + "));
    }
    out.push('\n');
    for due in &item.due {
        let words = match due {
            Due::Rest(until) => format!("rests until {until}"),
            Due::LookAgain => format!("look again: handcoat stock look {} clear", item.code),
            Due::Test(test, why) => format!("{test} test is due: {why}"),
        };
        let _ = writeln!(out, "       {words}");
    }
    for notice in &item.notices {
        let _ = writeln!(out, "       {notice}");
    }
    out
}

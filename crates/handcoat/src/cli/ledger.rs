//! `handcoat ledger …`

use std::fmt::Write as _;

use clap::{Args, Subcommand};
use handcoat_craft::ledger::{Commodity, ContentsIn, Tally};
use handcoat_craft::measure::{Money, fixed};
use handcoat_work::Refusal;
use handcoat_work::ledger::{acts, balance, balance_by_holder, value, where_by_holder, whereabouts_of};

use super::book::BookArgs;
use super::table;
use crate::json;

#[derive(Debug, Subcommand)]
pub(super) enum LedgerCommand {
    /// Show what every account holds
    Balance(BalanceArgs),
    /// Show where the metal of a jar went, to the microgram
    Where(WhereArgs),
    /// List the newest acts
    Acts(ActsArgs),
}

#[derive(Debug, Args)]
pub(super) struct BalanceArgs {
    /// What a metal costs today, to value what is on the shelf: 'Pd 38EUR/g' (may be repeated)
    #[arg(long, value_name = "PRICE")]
    metal_price: Vec<String>,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct WhereArgs {
    /// A jar (or a bottle that was bought); every one when left out
    item: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct ActsArgs {
    /// How many
    #[arg(long, default_value_t = 20)]
    most: u32,
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run(command: &LedgerCommand) -> Result<String, Refusal> {
    match command {
        LedgerCommand::Balance(args) => run_balance(args),
        LedgerCommand::Where(args) => run_where(args),
        LedgerCommand::Acts(args) => run_acts(args),
    }
}

/// A tally in the unit people read it in.
pub(crate) fn amount_words(commodity: Commodity, amount: Tally) -> String {
    let units = amount.to_units();
    match commodity {
        Commodity::Metal(element) => format!("{} g {element}", millionths(units)),
        Commodity::Contents(_, ContentsIn::Micrograms) => format!("{} g powder", millionths(units)),
        Commodity::Contents(_, ContentsIn::Nanolitres) => format!("{} mL", millionths(units)),
        Commodity::Money(currency) => {
            let sum = Money::minor(units.saturating_abs(), currency);
            let sum = sum.map_or_else(|_| format!("{units} minor {currency}"), |sum| sum.to_string());
            if units < 0 { format!("-{sum}") } else { sum }
        }
    }
}

/// Six decimals, exactly: no rounding stands between the ledger and the page.
fn millionths(units: i64) -> String {
    let sign = if units < 0 { "-" } else { "" };
    let size = units.unsigned_abs();
    format!("{sign}{}.{:06}", size / 1_000_000, size % 1_000_000)
}

fn run_balance(args: &BalanceArgs) -> Result<String, Refusal> {
    let studio = args.whose.open()?;
    let valued = args.metal_price.iter().map(|price| value(&studio, price)).collect::<Result<Vec<_>, _>>()?;
    if args.whose.json {
        return Ok(json::lines(&json::ledger::balance(&balance(&studio)?, &valued)));
    }
    let rows = balance_by_holder(&studio)?;
    if rows.is_empty() {
        return Ok("Nothing has been received yet. Begin with: handcoat stock receive PdCl2 --mass 10g\n".into());
    }
    let cells: Vec<Vec<String>> = rows
        .iter()
        .map(|row| {
            let name = row.name.as_ref().map_or(String::new(), |name| format!(" {name}"));
            // The contents of an item are said by its name where they stand under another account.
            let of = row.contents_of.as_ref().filter(|_| row.name.is_none());
            let of = of.map_or(String::new(), |name| format!(" (of {name})"));
            vec![format!("{}{name}{of}", row.holder), amount_words(row.commodity, row.amount)]
        })
        .collect();
    let mut out = table::columns(&cells);
    for own in valued {
        let grams = own.amount.to_mass().map_or(0.0, handcoat_craft::measure::Mass::to_grams);
        let _ = writeln!(out, "  {} g of {} on the shelf are worth {}", fixed(grams, 3), own.element, own.worth);
    }
    Ok(out)
}

fn run_where(args: &WhereArgs) -> Result<String, Refusal> {
    let studio = args.whose.open()?;
    let found = whereabouts_of(&studio, args.item.as_deref())?;
    if args.whose.json {
        return Ok(json::lines(&json::ledger::whereabouts(&found)));
    }
    if found.is_empty() {
        return Ok("No metal has been received yet.\n".into());
    }
    let mut out = String::new();
    for own in found.iter() {
        let metal = own.commodity;
        let _ = writeln!(out, "{}: {} came in, and is now in", own.name, amount_words(metal, own.received));
        let mut cells: Vec<Vec<String>> = where_by_holder(&own.rows)
            .into_iter()
            .map(|(holder, name, amount)| {
                let name = name.map_or(String::new(), |name| format!(" {name}"));
                vec![format!("{holder}{name}"), amount_words(metal, amount)]
            })
            .collect();
        let sum = own.rows.iter().fold(Tally::ZERO, |sum, row| sum.plus(row.amount).unwrap_or(sum));
        cells.push(vec!["together".into(), amount_words(metal, sum)]);
        out.push_str(&table::columns(&cells));
    }
    Ok(out)
}

fn run_acts(args: &ActsArgs) -> Result<String, Refusal> {
    let studio = args.whose.open()?;
    let rows = acts(&studio, args.most)?;
    if args.whose.json {
        return Ok(json::lines(&json::ledger::acts(&rows)));
    }
    let mut out = String::new();
    for row in rows {
        let undone = row.undone_by.map_or(String::new(), |by| format!(" (taken back by {by})"));
        let undoes = row.undoes.map_or(String::new(), |act| format!(" of act {act}"));
        let _ = writeln!(out, "{:>5}  {}  {}{undoes}{undone}", row.act, row.at, row.kind);
        for sentence in row.said {
            let _ = writeln!(out, "       {sentence}");
        }
    }
    Ok(out)
}

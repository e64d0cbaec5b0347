//! Exact decimals: a whole count of small units becomes digits and a point, and nothing is rounded.

use handcoat_craft::ledger::{Commodity, Tally};
use handcoat_craft::measure::{Currency, Mass, Money, Volume};

/// `units` with the point so many digits from the right.
fn pointed(units: i64, decimals: usize) -> String {
    let sign = if units < 0 { "-" } else { "" };
    let digits = format!("{:0width$}", units.unsigned_abs(), width = decimals + 1);
    let whole = digits.len() - decimals;
    let (front, back): (String, String) = (digits.chars().take(whole).collect(), digits.chars().skip(whole).collect());
    if back.is_empty() { format!("{sign}{front}") } else { format!("{sign}{front}.{back}") }
}

/// Grams with six decimals.
pub(crate) fn grams(mass: Mass) -> String {
    pointed(mass.to_micrograms(), 6)
}

/// Millilitres with six decimals.
pub(crate) fn millilitres(volume: Volume) -> String {
    pointed(volume.to_nanolitres(), 6)
}

/// Whole units of a currency with the decimals it has.
pub(crate) fn major(minor: Tally, currency: Currency) -> String {
    pointed(minor.to_units(), usize::from(currency.minor_digits()))
}

/// A sum of money in whole units of its currency.
pub(crate) fn money(sum: Money) -> String {
    major(Tally::from(sum), sum.currency())
}

/// An amount in the unit its commodity is read in: g, mL, whole units of a currency.
pub(crate) fn amount(commodity: Commodity, tally: Tally) -> String {
    match commodity {
        Commodity::Metal(_) | Commodity::Contents(..) => pointed(tally.to_units(), 6),
        Commodity::Money(currency) => major(tally, currency),
    }
}

//! `journal.ledger`: the entries as a double-entry journal in plain text, for programs that balance books.
//!
//! One transaction for each act that moved anything: `date (act) kind: what it said`, then postings, account and amount two spaces apart.
//! Amounts are exact; a commodity that is not letters alone stands in quotes. In such journals two spaces end an account, a colon
//! parts it, `;` begins a remark and `|` parts a description, so in names and sentences these become others and nothing else is changed.

use std::fmt::Write as _;

use handcoat_craft::ledger::{Account, Commodity, ContentsIn};
use jiff::Timestamp;
use jiff::tz::Offset;

use crate::decimal::amount;
use crate::tables::said;
use crate::whole::WholeBook;

/// The day of an instant in UTC. Journals know no year before 1: such a slip of a date stands on the first day there is.
fn day(at: Timestamp) -> String {
    let date = Offset::UTC.to_datetime(at).date();
    if date.year() > 0 { date.to_string() } else { "0001-01-01".into() }
}

/// A text on one line with single spaces, and with harmless marks for those that mean something in a journal.
fn plain(text: &str, marks: &[(char, char)]) -> String {
    let harmless = |c: char| match marks.iter().find(|(own, _)| *own == c) {
        Some((_, instead)) => *instead,
        None if c.is_control() => ' ',
        None => c,
    };
    let kept: String = text.chars().map(harmless).collect();
    kept.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// `shelf:jar:3 palladium chloride`, `supplier`, `unexplained`. The number keeps it unique, whatever the name.
fn account_name(book: &WholeBook, account: Account) -> String {
    match account {
        Account::Item(kind, number) => {
            let name = plain(book.name_of(account).unwrap_or_default(), &[(':', ' '), (';', ',')]);
            format!("shelf:{}:{number} {name}", kind.word()).trim_end().into()
        }
        other => other.to_string(),
    }
}

/// `Pd`, `EUR`, `"contents 3 g"`: quoted where there is more than letters.
fn commodity_name(commodity: Commodity) -> String {
    match commodity {
        Commodity::Metal(_) | Commodity::Money(_) => commodity.to_string(),
        Commodity::Contents(item, ContentsIn::Micrograms) => format!("\"contents {item} g\""),
        Commodity::Contents(item, ContentsIn::Nanolitres) => format!("\"contents {item} mL\""),
    }
}

/// The journal.
pub(crate) fn journal(book: &WholeBook) -> Vec<u8> {
    let mut out =
        String::from("; Metal and powder in g, solution in mL, money in whole units of its currency. Days are UTC.\n");
    for act in &book.acts {
        let Some(entry) = &act.entry else { continue };
        let described = plain(&format!("{}: {}", act.kind, said(&act.body)), &[(';', ','), ('|', '/')]);
        let _ = writeln!(out, "\n{} ({}) {}", day(act.at), act.number, described.trim_end_matches(':'));
        for line in entry.lines() {
            let (account, commodity) = (account_name(book, line.account), commodity_name(line.commodity));
            let _ = writeln!(out, "    {account}  {} {commodity}", amount(line.commodity, line.amount));
        }
    }
    out.into_bytes()
}

//! The files of an export.

use std::fmt::Write as _;

use sha2::{Digest as _, Sha256};

use crate::columns::{COLUMNS, Use};
use crate::whole::WholeBook;
use crate::{document, journal, tables};

/// Names of all files of an export, in the order of their bytes.
pub const NAMES: [&str; 9] = [
    "README.txt",
    "acts.csv",
    "balances.csv",
    "book.json",
    "items.csv",
    "journal.ledger",
    "lines.csv",
    "manifest.sha256",
    "records.csv",
];

const README: &str = "\
A whole book, as files. Text is UTF-8, lines end in LF, instants are RFC 3339 in UTC, the decimal mark is a point.
The same book gives the same bytes again. Check them with: sha256sum -c manifest.sha256

items.csv       everything that is or was on the shelf, by number
acts.csv        every act, by number; `undone_by` names the act that took it back
lines.csv       every line of every entry: account, commodity, signed amount under its unit
balances.csv    what every account holds
records.csv     papers, tools, lamps, baths, supplies, coats and prints: one row for each thing known of each
photo-….jpg     pictures of prints under the SHA-256 of their bytes, as they came
book.json       all of it in one document, amounts as the whole micrograms, nanolitres and minor units the book keeps
journal.ledger  the entries as a double-entry journal in plain text

In lines.csv and balances.csv `amount_money` is in whole units of the currency that `commodity` names; `contents:3` is what is in
item 3. Each commodity sums to zero over all accounts. Uncertainties end in `_u` or have `_u` before the unit; they are
standard uncertainties (k = 1).

Cells hold the data as they are. A cell that begins with = + - or @ is a name or a negative amount, and no formula: when a
spreadsheet asks, have every column read as text. No mark is put in front of such cells, because whoever reads the table next would
take it for part of the name.

The columns of items.csv. `handcoat import` reads them again (those marked * it passes over), and those at the end besides.

";

fn readme() -> String {
    let mut out = String::from(README);
    let mut row = |name: &str, takes: &str| {
        let _ = writeln!(out, "{name:<20}{takes}");
    };
    for column in COLUMNS.iter().filter(|column| column.used != Use::In) {
        let star = if column.used == Use::Out { "*" } else { "" };
        row(&format!("{}{star}", column.name), column.takes);
    }
    row("cost_EUR", "what it cost in whole units of that currency; one column for each currency");
    for column in COLUMNS.iter().filter(|column| column.used == Use::In) {
        row(column.name, column.takes);
    }
    out
}

fn sum_of(bytes: &[u8]) -> String {
    let mut hex = String::new();
    for byte in Sha256::digest(bytes) {
        let _ = write!(hex, "{byte:02x}");
    }
    hex
}

/// Name and bytes of every file, the manifest last.
#[must_use]
pub fn files(book: &WholeBook) -> Vec<(String, Vec<u8>)> {
    let own = vec![
        ("README.txt", readme().into_bytes()),
        ("acts.csv", tables::acts(book)),
        ("balances.csv", tables::balances(book)),
        ("book.json", document::document(book)),
        ("items.csv", tables::items(book)),
        ("journal.ledger", journal::journal(book)),
        ("lines.csv", tables::lines(book)),
        ("records.csv", tables::records(book)),
    ];
    let mut files: Vec<(String, Vec<u8>)> = own.into_iter().map(|(name, bytes)| (name.into(), bytes)).collect();
    files.extend(book.photos.iter().cloned());
    // The form that the program sha256sum writes and checks.
    let manifest: String = files.iter().map(|(name, bytes)| format!("{}  {name}\n", sum_of(bytes))).collect();
    files.push(("manifest.sha256".into(), manifest.into_bytes()));
    files
}

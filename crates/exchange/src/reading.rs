//! A table of jars and bottles, read cell by cell. Nothing is guessed: the decimal mark is declared, a column nobody knows is said.

use handcoat_craft::ledger::{Commodity, ItemKind};
use handcoat_craft::measure::{Currency, Money, Readable, read_digits};
use jiff::Timestamp;

use crate::columns::{COST, column_named};
use crate::fault::{CellFinding, Fault};
use crate::shelf::{Relative, ShelfRow, Standing};

/// The mark between whole and part, as it was declared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecimalMark {
    /// `10.5`
    Point,
    /// `10,5`
    Comma,
}

impl DecimalMark {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Point, Self::Comma];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Point => "point",
            Self::Comma => "comma",
        }
    }

    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Point => Self::Comma,
            Self::Comma => Self::Point,
        }
    }

    pub(crate) fn sign(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }
}

/// A table that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct ShelfTable {
    /// The mark between cells, as the line of column names has it: `,`, `;` or a tab.
    pub separator: char,
    /// Rows that could be read whole.
    pub rows: Vec<ShelfRow>,
    /// What could not be read, in the order of the file.
    pub findings: Vec<CellFinding>,
}

/// One cell and where it stands.
struct Cell<'t> {
    line: u64,
    column: &'t str,
    text: &'t str,
    mark: DecimalMark,
}

impl Cell<'_> {
    fn finding(&self, fault: Fault) -> CellFinding {
        let takes = column_named(self.column).map_or("whole units of the currency, such as 480.00", |own| own.takes);
        let hint = takes.into();
        CellFinding { line: self.line, column: self.column.into(), seen: self.text.into(), fault, hint }
    }

    /// The number with a decimal point.
    fn number(&self) -> Result<String, Fault> {
        if self.text.contains(self.mark.other().sign()) {
            return Err(Fault::OtherMark(self.mark));
        }
        let (_, rest) = read_digits("number", "`10` or a decimal number", self.text).map_err(Fault::Quantity)?;
        if !rest.is_empty() {
            return Err(Fault::Unit);
        }
        Ok(self.text.replace(self.mark.sign(), "."))
    }

    /// A quantity in the unit of its column.
    fn quantity<Q: Readable>(&self, unit: &str) -> Result<Q, Fault> {
        Q::read(&format!("{}{unit}", self.number()?)).map_err(Fault::Quantity)
    }

    fn word<T: Copy>(&self, words: impl IntoIterator<Item = (&'static str, T)>) -> Result<T, Fault> {
        let found = words.into_iter().find(|(word, _)| *word == self.text.to_lowercase());
        found.map(|(_, meant)| meant).ok_or(Fault::Word)
    }

    fn relative(&self) -> Result<Relative, Fault> {
        self.number()?.parse().ok().and_then(Relative::part).ok_or(Fault::Word)
    }
}

fn take(row: &mut ShelfRow, cell: &Cell<'_>) -> Result<(), Fault> {
    let text = || Some(String::from(cell.text));
    if let Some(code) = cell.column.strip_prefix(COST).filter(|code| Currency::code(code).is_ok()) {
        row.costs.push(cell.quantity::<Money>(code)?);
        return Ok(());
    }
    match cell.column {
        "standing" => row.standing = cell.word(Standing::ALL.map(|own| (own.word(), own)))?,
        "kind" => row.kind = Some(cell.word(ItemKind::ALL.map(|own| (own.word(), own)))?),
        "name" => row.name = text(),
        "formula" => row.formula = text(),
        "hydrate" => row.hydrate = text(),
        "purity_percent" => row.purity = Some(cell.quantity("%")?),
        "purity_of" => row.purity_of = text(),
        "chloride" => row.chloride = text(),
        "chloride_to_metal" => row.chloride_to_metal = Some(cell.quantity("")?),
        "mass_g" => row.mass = Some(cell.quantity("g")?),
        "mass_u_g" => row.mass_u = Some(cell.quantity("g")?),
        "volume_ml" => row.volume = Some(cell.quantity("mL")?),
        "volume_u_ml" => row.volume_u = Some(cell.quantity("mL")?),
        "metal" => match cell.text.parse() {
            Ok(Commodity::Metal(element)) => row.metal = Some(element),
            _ => return Err(Fault::Word),
        },
        "metal_g" => row.metal_mass = Some(cell.quantity("g")?),
        "strength_rel_u" => row.strength_u = Some(cell.relative()?),
        "percent_wv" => row.percent = Some(cell.quantity("%")?),
        "molarity_mol_per_l" => row.molarity = Some(cell.quantity("mol/L")?),
        "metal_mg_per_ml" => row.metal_per_ml = Some(cell.quantity("mg/mL")?),
        "level_percent" => row.level = Some(cell.quantity("%")?),
        "capacity_ml" => row.capacity = Some(cell.quantity("mL")?),
        "gross_g" => row.gross = Some(cell.quantity("g")?),
        "empty_g" => row.empty = Some(cell.quantity("g")?),
        "density_g_per_ml" => row.density = Some(cell.quantity("g/mL")?),
        "balance_g" => row.balance = Some(cell.quantity("g")?),
        "cost_incomplete" => row.cost_incomplete = Some(cell.word([("yes", true), ("no", false)])?),
        "supplier" => row.supplier = text(),
        "lot" => row.lot = text(),
        "day" => row.day = text(),
        "ready_after" => {
            row.ready_after = Some(cell.text.parse::<Timestamp>().map_err(|_| Fault::Instant)?);
        }
        "label" => row.label = text(),
        "note" => row.note = text(),
        // Of the book it comes from: passed over.
        _ => {}
    }
    Ok(())
}

pub(crate) fn of_file(line: u64, seen: &str, fault: Fault, hint: &str) -> CellFinding {
    CellFinding { line, column: String::new(), seen: seen.into(), fault, hint: hint.into() }
}

/// Names of columns that are sound, and what is wrong with the others.
fn header(names: &[String]) -> Vec<CellFinding> {
    let mut findings = Vec::new();
    for (place, name) in names.iter().enumerate() {
        let known =
            column_named(name).is_some() || name.strip_prefix(COST).is_some_and(|code| Currency::code(code).is_ok());
        let fault = if !known {
            Fault::ColumnUnknown
        } else if names.iter().take(place).any(|other| other == name) {
            Fault::ColumnRepeated
        } else {
            continue;
        };
        let hint = "rename it as README.txt of an export lists them, or take it out";
        findings.push(CellFinding { column: name.clone(), ..of_file(1, name, fault, hint) });
    }
    if !names.iter().any(|name| name == "formula") {
        let hint = "add a column `formula`; `unknown` is an answer";
        findings.push(of_file(1, "formula", Fault::ColumnMissing, hint));
    }
    findings
}

/// Counts the lines of a text as records are met. The parser's own count stands still on blank lines before a record.
pub(crate) struct Lines<'t> {
    pub(crate) text: &'t str,
    pub(crate) counted: usize,
    pub(crate) line: u64,
}

impl Lines<'_> {
    /// The line on which the record begins whose place, blank lines in front included, is `byte`.
    pub(crate) fn at(&mut self, byte: u64) -> u64 {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX);
        let ahead = self.text.bytes().enumerate().skip(self.counted);
        for (place, own) in ahead {
            if place >= byte && own != b'\n' {
                break;
            }
            self.line += u64::from(own == b'\n');
            self.counted = place + 1;
        }
        self.line
    }
}

/// The text of a table, with one sort of line ends; or where it is none.
pub(crate) fn decoded(bytes: &[u8]) -> Result<String, Box<CellFinding>> {
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let place = error.valid_up_to();
        let before = bytes.iter().take(place).filter(|byte| **byte == b'\n').count() as u64;
        Box::new(of_file(before + 1, &(place + 1).to_string(), Fault::NotText, "save the table as UTF-8"))
    })?;
    // Spreadsheets put a byte order mark in front; it is no part of the first name.
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n").replace('\r', "\n"))
}

/// Reads a table of jars and bottles. The mark between cells is the one the line of column names has; the decimal mark is as declared.
#[must_use]
pub fn read_shelf(bytes: &[u8], mark: DecimalMark) -> ShelfTable {
    let mut table = ShelfTable { separator: ',', rows: Vec::new(), findings: Vec::new() };
    let text = match decoded(bytes) {
        Ok(text) => text,
        Err(finding) => {
            table.findings.push(*finding);
            return table;
        }
    };
    let first = text.lines().next().unwrap_or_default();
    // No name of a column holds one of these, so the line of names says which it is.
    table.separator = ['\t', ';', ','].into_iter().find(|mark| first.contains(*mark)).unwrap_or(',');
    let separator = u8::try_from(u32::from(table.separator)).unwrap_or(b',');
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    // What is text already is read without fail.
    let mut records = reader.records().map_while(Result::ok);
    let names: Vec<String> = records.next().map_or(Vec::new(), |own| own.iter().map(String::from).collect());
    table.findings = header(&names);
    if !table.findings.is_empty() {
        return table;
    }
    let mut any = false;
    let mut lines = Lines { text: &text, counted: 0, line: 1 };
    for record in records {
        if record.iter().all(str::is_empty) {
            continue;
        }
        any = true;
        let line = lines.at(record.position().map_or(0, csv::Position::byte));
        if record.len() != names.len() {
            let fault = Fault::Uneven { names: names.len(), cells: record.len() };
            let hint = "put a cell that holds the separator in quotes, or add the cells that are missing";
            table.findings.push(of_file(line, record.get(0).unwrap_or_default(), fault, hint));
            continue;
        }
        let mut row = ShelfRow { line, ..ShelfRow::default() };
        let found = table.findings.len();
        for (column, text) in names.iter().zip(record.iter()).filter(|(_, text)| !text.is_empty()) {
            let cell = Cell { line, column, text, mark };
            table.findings.extend(take(&mut row, &cell).err().map(|fault| cell.finding(fault)));
        }
        if table.findings.len() == found {
            table.rows.push(row);
        }
    }
    if !any {
        table.findings.push(of_file(1, "", Fault::Empty, "write one row for each jar or bottle"));
    }
    table
}

/// A table to begin with: column names and rows of an invented shelf.
#[must_use]
pub fn sample(mark: DecimalMark) -> String {
    const ROWS: [[&str; 11]; 4] = [
        [
            "kind",
            "name",
            "formula",
            "hydrate",
            "purity_percent",
            "mass_g",
            "volume_ml",
            "percent_wv",
            "cost_EUR",
            "day",
            "note",
        ],
        ["jar", "big jar", "PdCl2", "none", "99.9", "8.45", "", "", "412.50", "2026-03-14", "invented"],
        ["jar", "salt", "NaCl", "", "99.5", "250", "", "", "4.90", "", "invented"],
        ["bottle", "bought palladium", "Na2PdCl4", "unknown", "", "", "42.5", "15", "96.00", "2026-01-20", "invented"],
    ];
    let separator = match mark {
        DecimalMark::Point => ",",
        DecimalMark::Comma => ";",
    };
    let number = |text: &&str| text.parse::<f64>().is_ok();
    let cell = |text: &&str| if number(text) { text.replace('.', &mark.sign().to_string()) } else { (*text).into() };
    let rows = ROWS.iter().map(|row| row.iter().map(cell).collect::<Vec<_>>().join(separator) + "\n");
    rows.collect()
}

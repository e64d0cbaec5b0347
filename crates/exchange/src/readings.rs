//! Densities under the steps of a wedge: a table with `step_density` and `print_density`, or a CGATS.17 text with the same names, or
//! with `D_VIS` for the print. Ink steps need no `step_density`. Other columns are passed over.
//!
//! CGATS.17 (text for graphic-arts measurements): field names between `BEGIN_DATA_FORMAT` and `END_DATA_FORMAT`, rows between
//! `BEGIN_DATA` and `END_DATA`, cells set apart by blanks, numbers with a point (structure from memory).

use handcoat_craft::measure::{Bounded, PrintDensity, ReadError, StepDensity, read_digits};

use crate::DecimalMark;
use crate::fault::{CellFinding, Fault};
use crate::reading::{Lines, decoded, of_file};

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WedgeRow {
    /// Line of the file.
    pub line: u64,
    /// Density of the step; none in a table of ink steps.
    pub step: Option<StepDensity>,
    /// Density of the print under it.
    pub print: PrintDensity,
}

/// A table of readings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WedgeTable {
    /// Rows that could be read whole, in the order of the file.
    pub rows: Vec<WedgeRow>,
    /// What could not be read, in the order of the file.
    pub findings: Vec<CellFinding>,
}

const STEP: &str = "step_density";
const PRINT: &str = "print_density";
/// The visual density of CGATS.17.
const D_VIS: &str = "d_vis";

const TAKES_STEP: &str = "density of the step to the light of the lamp, such as 0.65";
const TAKES_PRINT: &str = "density of the print, such as 1.45";

/// Lines with cells in them: the number of the line, and the cells.
type Cells = Vec<(u64, Vec<String>)>;

/// Reads densities. In a table the mark between cells is the one the line of names has, and the decimal mark is as declared; a CGATS.17
/// text has points. With `ink` the steps have no density.
#[must_use]
pub fn read_wedge(bytes: &[u8], mark: DecimalMark, ink: bool) -> WedgeTable {
    let text = match decoded(bytes) {
        Ok(text) => text,
        Err(finding) => return WedgeTable { rows: Vec::new(), findings: vec![*finding] },
    };
    if text.lines().any(|line| line.trim() == "BEGIN_DATA_FORMAT") {
        let (names, cells) = measurements(&text);
        return readings(&names, &cells, DecimalMark::Point, ink);
    }
    let (names, cells) = table(&text);
    readings(&names, &cells, mark, ink)
}

fn table(text: &str) -> (Vec<String>, Cells) {
    let first = text.lines().next().unwrap_or_default();
    let separator = ['\t', ';', ','].into_iter().find(|mark| first.contains(*mark)).unwrap_or(',');
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(u8::try_from(u32::from(separator)).unwrap_or(b','))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    // What is text already is read without fail.
    let mut records = reader.records().map_while(Result::ok);
    let names = records.next().map_or(Vec::new(), |own| own.iter().map(String::from).collect());
    let mut lines = Lines { text, counted: 0, line: 1 };
    let mut cells = Vec::new();
    for record in records {
        if !record.iter().all(str::is_empty) {
            let line = lines.at(record.position().map_or(0, csv::Position::byte));
            cells.push((line, record.iter().map(String::from).collect()));
        }
    }
    (names, cells)
}

fn measurements(text: &str) -> (Vec<String>, Cells) {
    let (mut names, mut cells, mut inside) = (Vec::new(), Vec::new(), "");
    for (line, own) in (1..).zip(text.lines()) {
        let own = own.trim();
        match own {
            "BEGIN_DATA_FORMAT" | "BEGIN_DATA" => inside = own,
            "END_DATA_FORMAT" | "END_DATA" => inside = "",
            _ if own.is_empty() || own.starts_with('#') => {}
            _ if inside == "BEGIN_DATA_FORMAT" => names.extend(own.split_whitespace().map(String::from)),
            _ if inside == "BEGIN_DATA" => {
                cells.push((line, own.split_whitespace().map(|own| own.trim_matches('"').into()).collect()));
            }
            _ => {}
        }
    }
    (names, cells)
}

/// The number in a cell, as what it measures.
fn density<Q: Bounded>(text: &str, mark: DecimalMark) -> Result<Q, Fault> {
    if text.contains(mark.other().sign()) {
        return Err(Fault::OtherMark(mark));
    }
    let (digits, rest) = read_digits("density", "`1.45`", text).map_err(Fault::Quantity)?;
    if !rest.is_empty() {
        return Err(Fault::Unit);
    }
    Q::from_unit(digits.to_f64()).map_err(|error| Fault::Quantity(ReadError::OutOfBounds(error)))
}

fn readings(names: &[String], cells: &Cells, mark: DecimalMark, ink: bool) -> WedgeTable {
    let mut table = WedgeTable::default();
    let lower: Vec<String> = names.iter().map(|name| name.to_lowercase()).collect();
    let places =
        |name: &str| lower.iter().enumerate().filter(move |own| own.1 == name).map(|own| own.0).collect::<Vec<_>>();
    let mut one = |name: &str, other: Option<&str>, hint: &str| {
        let found = [places(name), other.map_or(Vec::new(), &places)].concat();
        match found.as_slice() {
            [place] => Some(*place),
            [] => {
                table.findings.push(of_file(1, name, Fault::ColumnMissing, hint));
                None
            }
            _ => {
                table.findings.push(of_file(1, name, Fault::ColumnRepeated, hint));
                None
            }
        }
    };
    let step = if ink { None } else { one(STEP, None, TAKES_STEP) };
    let print = one(PRINT, Some(D_VIS), TAKES_PRINT);
    let Some(print) = print.filter(|_| table.findings.is_empty()) else { return table };
    if cells.is_empty() {
        table.findings.push(of_file(1, "", Fault::Empty, "write one row for each reading"));
    }
    for (line, row) in cells {
        if row.len() != names.len() {
            let fault = Fault::Uneven { names: names.len(), cells: row.len() };
            let hint = "with a decimal comma, set cells apart by semicolons and declare the comma";
            table.findings.push(of_file(*line, row.first().map_or("", String::as_str), fault, hint));
            continue;
        }
        let cell = |place: usize| row.get(place).map_or("", String::as_str);
        let finding = |place: usize, fault: Fault, hint: &str| {
            let column = names.get(place).cloned().unwrap_or_default();
            CellFinding { line: *line, column, seen: cell(place).into(), fault, hint: hint.into() }
        };
        let print_read = density::<PrintDensity>(cell(print), mark);
        let step_read = step.map(|place| density::<StepDensity>(cell(place), mark).map_err(|own| (place, own)));
        match (step_read.transpose(), print_read) {
            (Ok(step), Ok(print)) => table.rows.push(WedgeRow { line: *line, step, print }),
            (Err((place, fault)), _) => table.findings.push(finding(place, fault, TAKES_STEP)),
            (_, Err(fault)) => table.findings.push(finding(print, fault, TAKES_PRINT)),
        }
    }
    table
}

//! A table of measurements as cells: CSV with the mark between cells its line of names has, or CGATS.17 text. What a column means is
//! known to whoever reads it.
//!
//! CGATS.17 (text for graphic-arts measurements): field names between `BEGIN_DATA_FORMAT` and `END_DATA_FORMAT`, rows between
//! `BEGIN_DATA` and `END_DATA`, how many rows there are after `NUMBER_OF_SETS`, cells set apart by blanks, numbers with a point (structure from memory).

use handcoat_craft::measure::{Bounded, ReadError, read_digits};

use crate::DecimalMark;
use crate::fault::{CellFinding, Fault};
use crate::reading::{Lines, decoded, of_file};

/// One row: the number of its line, and its cells.
pub(crate) struct Row {
    pub(crate) line: u64,
    pub(crate) cells: Vec<String>,
}

/// Names of columns and the rows beneath them.
pub(crate) struct Cells {
    names: Vec<String>,
    rows: Vec<Row>,
    mark: DecimalMark,
}

/// Where a column stands, if it does.
pub(crate) enum Column {
    /// Here.
    At(usize),
    /// Nowhere.
    Missing,
    /// More than once.
    Repeated,
}

impl Cells {
    /// Takes a table apart. A CGATS.17 text has points whatever was declared.
    pub(crate) fn read(bytes: &[u8], mark: DecimalMark) -> Result<Self, Box<CellFinding>> {
        let text = decoded(bytes)?;
        let measured = text.lines().any(|line| line.trim() == "BEGIN_DATA_FORMAT");
        let (names, rows) = if measured { measurements(&text)? } else { table(&text) };
        Ok(Self { names, rows, mark: if measured { DecimalMark::Point } else { mark } })
    }

    /// The place of a column by any of its names, in any case.
    pub(crate) fn column(&self, names: &[&str]) -> Column {
        let mut found = self.names.iter().enumerate().filter(|own| names.contains(&own.1.to_lowercase().as_str()));
        match (found.next(), found.next()) {
            (Some((place, _)), None) => Column::At(place),
            (None, _) => Column::Missing,
            (Some(_), Some(_)) => Column::Repeated,
        }
    }

    /// The place of a column that must be there; what is wrong with it goes to the findings.
    pub(crate) fn needed(&self, names: &[&str], hint: &str, findings: &mut Vec<CellFinding>) -> Option<usize> {
        let fault = match self.column(names) {
            Column::At(place) => return Some(place),
            Column::Missing => Fault::ColumnMissing,
            Column::Repeated => Fault::ColumnRepeated,
        };
        findings.push(of_file(1, names.first().copied().unwrap_or_default(), fault, hint));
        None
    }

    /// The place of a column that may be there.
    pub(crate) fn optional(&self, names: &[&str], hint: &str, findings: &mut Vec<CellFinding>) -> Option<usize> {
        match self.column(names) {
            Column::At(place) => Some(place),
            Column::Missing => None,
            Column::Repeated => {
                findings.push(of_file(1, names.first().copied().unwrap_or_default(), Fault::ColumnRepeated, hint));
                None
            }
        }
    }

    /// Rows with as many cells as there are names; the others, and that there is none at all, go to the findings.
    pub(crate) fn even(&self, findings: &mut Vec<CellFinding>) -> Vec<&Row> {
        if self.rows.is_empty() {
            findings.push(of_file(1, "", Fault::Empty, "write one row for each reading"));
        }
        let mut even = Vec::with_capacity(self.rows.len());
        for row in &self.rows {
            if row.cells.len() == self.names.len() {
                even.push(row);
                continue;
            }
            let fault = Fault::Uneven { names: self.names.len(), cells: row.cells.len() };
            let hint = "with a decimal comma, set cells apart by semicolons and declare the comma";
            findings.push(of_file(row.line, row.cells.first().map_or("", String::as_str), fault, hint));
        }
        even
    }

    /// What a cell is called and holds, where something is wrong with it.
    pub(crate) fn finding(&self, row: &Row, place: usize, fault: Fault, hint: &str) -> CellFinding {
        let column = self.names.get(place).cloned().unwrap_or_default();
        CellFinding { line: row.line, column, seen: row.text(place).into(), fault, hint: hint.into() }
    }

    /// The number in a cell, as what it measures; `what` and `forms` name it in the words of a fault.
    pub(crate) fn number<Q: Bounded>(
        &self,
        row: &Row,
        place: usize,
        what: &'static str,
        forms: &'static str,
    ) -> Result<Q, Fault> {
        let digits = self.digits(row.text(place), what, forms)?;
        Q::from_unit(digits).map_err(|error| Fault::Quantity(ReadError::OutOfBounds(error)))
    }

    /// A bare number in the decimal mark of the table.
    pub(crate) fn digits(&self, text: &str, what: &'static str, forms: &'static str) -> Result<f64, Fault> {
        if text.contains(self.mark.other().sign()) {
            return Err(Fault::OtherMark(self.mark));
        }
        let (digits, rest) = read_digits(what, forms, within_reason(text)).map_err(Fault::Quantity)?;
        if !rest.is_empty() {
            return Err(Fault::Unit);
        }
        Ok(digits.to_f64())
    }
}

/// A number without the decimals no reading has: other programs write all seventeen digits of a double and more, and only what stands
/// behind the mark may be cut.
fn within_reason(text: &str) -> &str {
    const TOLD: usize = 17;
    let own = text.trim();
    let plain = own.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b',' | b'-'));
    let Some(mark) = own.find(['.', ',']).filter(|_| plain && own.len() > TOLD) else { return text };
    let whole = own.bytes().take(mark).filter(u8::is_ascii_digit).count();
    own.get(..(mark + 1 + TOLD.saturating_sub(whole)).min(own.len())).filter(|_| whole < TOLD).unwrap_or(text)
}

impl Row {
    /// What stands in a cell.
    pub(crate) fn text(&self, place: usize) -> &str {
        self.cells.get(place).map_or("", String::as_str)
    }
}

fn table(text: &str) -> (Vec<String>, Vec<Row>) {
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
    let mut rows = Vec::new();
    for record in records {
        if !record.iter().all(str::is_empty) {
            let line = lines.at(record.position().map_or(0, csv::Position::byte));
            rows.push(Row { line, cells: record.iter().map(String::from).collect() });
        }
    }
    (names, rows)
}

/// Names and rows; a text that was cut off is none, for what is missing may be an end of the scale.
fn measurements(text: &str) -> Result<(Vec<String>, Vec<Row>), Box<CellFinding>> {
    let (mut names, mut rows, mut inside) = (Vec::new(), Vec::new(), "");
    let (mut said, mut ended) = (None, false);
    let hint = "take the file from the instrument anew";
    for (line, own) in (1..).zip(text.lines()) {
        let own = own.trim();
        match own {
            "BEGIN_DATA_FORMAT" | "BEGIN_DATA" => inside = own,
            "END_DATA_FORMAT" => inside = "",
            "END_DATA" => (inside, ended) = ("", true),
            _ if own.is_empty() || own.starts_with('#') => {}
            _ if inside == "BEGIN_DATA_FORMAT" => names.extend(own.split_whitespace().map(String::from)),
            _ if inside == "BEGIN_DATA" => {
                let cells = own.split_whitespace().map(|own| own.trim_matches('"').into()).collect();
                rows.push(Row { line, cells });
            }
            _ => {
                let count =
                    own.strip_prefix("NUMBER_OF_SETS").and_then(|own| own.trim().trim_matches('"').parse().ok());
                said = count.map_or(said, |own: usize| Some(said.unwrap_or(0) + own));
            }
        }
    }
    if !ended || !inside.is_empty() {
        return Err(Box::new(of_file(1, "", Fault::CutOff, hint)));
    }
    match said.filter(|own| *own != rows.len()) {
        Some(said) => Err(Box::new(of_file(1, "", Fault::RowsMissing { said, rows: rows.len() }, hint))),
        None => Ok((names, rows)),
    }
}

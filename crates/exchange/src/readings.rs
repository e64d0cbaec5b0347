//! Densities under the steps of a wedge: a table with `step_density` and `print_density`, or a CGATS.17 text with the same names, or
//! with `D_VIS` for the print. Ink steps need no `step_density`. Other columns are passed over.

use handcoat_craft::measure::{PrintDensity, StepDensity};

use crate::DecimalMark;
use crate::cells::Cells;
use crate::fault::CellFinding;

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

const STEP: &[&str] = &["step_density"];
/// The second is the visual density of CGATS.17.
const PRINT: &[&str] = &["print_density", "d_vis"];

const TAKES_STEP: &str = "density of the step to the light of the lamp, such as 0.65";
const TAKES_PRINT: &str = "density of the print, such as 1.45";

/// Reads densities. In a table the mark between cells is the one the line of names has, and the decimal mark is as declared; a CGATS.17
/// text has points. With `ink` the steps have no density.
#[must_use]
pub fn read_wedge(bytes: &[u8], mark: DecimalMark, ink: bool) -> WedgeTable {
    let cells = match Cells::read(bytes, mark) {
        Ok(cells) => cells,
        Err(finding) => return WedgeTable { rows: Vec::new(), findings: vec![*finding] },
    };
    let mut table = WedgeTable::default();
    let step = if ink { None } else { cells.needed(STEP, TAKES_STEP, &mut table.findings) };
    let print = cells.needed(PRINT, TAKES_PRINT, &mut table.findings);
    let Some(print) = print.filter(|_| table.findings.is_empty()) else { return table };
    let (what, forms) = ("density", "`1.45`");
    for row in cells.even(&mut table.findings) {
        let print_read = cells.number::<PrintDensity>(row, print, what, forms);
        let step_read =
            step.map(|place| cells.number::<StepDensity>(row, place, what, forms).map_err(|own| (place, own)));
        match (step_read.transpose(), print_read) {
            (Ok(step), Ok(print)) => table.rows.push(WedgeRow { line: row.line, step, print }),
            (Err((place, fault)), _) => table.findings.push(cells.finding(row, place, fault, TAKES_STEP)),
            (_, Err(fault)) => table.findings.push(cells.finding(row, print, fault, TAKES_PRINT)),
        }
    }
    table.findings.sort_by_key(|own| own.line);
    table
}

//! A step strip of known densities that lies beside a print on the glass: a table with `density`, `x_mm` and `y_mm`. Other columns are passed over.

use handcoat_craft::measure::{Length, PrintDensity};

use crate::DecimalMark;
use crate::cells::Cells;
use crate::fault::CellFinding;

/// One step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReferenceStep {
    /// Its density.
    pub density: PrintDensity,
    /// Its middle from the left edge of the scan.
    pub across: Length,
    /// And from its upper edge.
    pub down: Length,
}

/// A strip.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReferenceTable {
    /// Rows that could be read whole, in the order of the file.
    pub steps: Vec<ReferenceStep>,
    /// What could not be read, in the order of the file.
    pub findings: Vec<CellFinding>,
}

const TAKES_DENSITY: &str = "density of the step, such as 1.05";
const TAKES_PLACE: &str = "where the middle of the step lies on the scan in mm, such as 42.5";

/// Reads a strip. In a table the mark between cells is the one the line of names has, and the decimal mark is as declared.
#[must_use]
pub fn read_reference(bytes: &[u8], mark: DecimalMark) -> ReferenceTable {
    let cells = match Cells::read(bytes, mark) {
        Ok(cells) => cells,
        Err(finding) => return ReferenceTable { steps: Vec::new(), findings: vec![*finding] },
    };
    let mut table = ReferenceTable::default();
    let density = cells.needed(&["density", "d_vis"], TAKES_DENSITY, &mut table.findings);
    let across = cells.needed(&["x_mm"], TAKES_PLACE, &mut table.findings);
    let down = cells.needed(&["y_mm"], TAKES_PLACE, &mut table.findings);
    let (Some(density), Some(across), Some(down)) = (density, across, down) else { return table };
    for row in cells.even(&mut table.findings) {
        let own = cells.number::<PrintDensity>(row, density, "density", "`1.05`");
        let x = cells.number::<Length>(row, across, "place", "`42.5`");
        let y = cells.number::<Length>(row, down, "place", "`42.5`");
        match (own, x, y) {
            (Ok(density), Ok(across), Ok(down)) => table.steps.push(ReferenceStep { density, across, down }),
            (Err(fault), _, _) => table.findings.push(cells.finding(row, density, fault, TAKES_DENSITY)),
            (_, Err(fault), _) => table.findings.push(cells.finding(row, across, fault, TAKES_PLACE)),
            (_, _, Err(fault)) => table.findings.push(cells.finding(row, down, fault, TAKES_PLACE)),
        }
    }
    table.findings.sort_by_key(|own| own.line);
    table
}

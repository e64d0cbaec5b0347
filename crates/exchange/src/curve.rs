//! A curve as a table: `input` and `output`, both from 0 to 1. That of a correction has the wanted tone under `input` and what is sent to
//! the film under `output`.

use handcoat_craft::measure::{Bounded, ToneInput};
use handcoat_craft::tone::Correction;

use crate::DecimalMark;
use crate::cells::Cells;
use crate::fault::{CellFinding, Fault};
use crate::reading::of_file;

/// Points of a curve.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CurveTable {
    /// Input and output, in the order of the file.
    pub points: Vec<(ToneInput, ToneInput)>,
    /// What could not be read, in the order of the file.
    pub findings: Vec<CellFinding>,
}

const INPUT: &[&str] = &["input"];
const OUTPUT: &[&str] = &["output"];
const TAKES_INPUT: &str = "a tone from 0 to 1, larger than that of the row before";
const TAKES_OUTPUT: &str = "what is sent for it, from 0 to 1, not smaller than that of the row before";
const TAKES_ENDS: &str = "a curve goes from input 0 to input 1";

/// Reads a curve: rising inputs from 0 to 1, outputs that never fall.
#[must_use]
pub fn read_curve(bytes: &[u8], mark: DecimalMark) -> CurveTable {
    let cells = match Cells::read(bytes, mark) {
        Ok(cells) => cells,
        Err(finding) => return CurveTable { points: Vec::new(), findings: vec![*finding] },
    };
    let mut table = CurveTable::default();
    let input = cells.needed(INPUT, TAKES_INPUT, &mut table.findings);
    let output = cells.needed(OUTPUT, TAKES_OUTPUT, &mut table.findings);
    let (Some(input), Some(output)) = (input, output) else { return table };
    let mut last_line = 1;
    for row in cells.even(&mut table.findings) {
        last_line = row.line;
        let read = |at: usize, hint: &'static str| {
            cells
                .number::<ToneInput>(row, at, "tone", "`0.35`")
                .map_err(|own| Box::new(cells.finding(row, at, own, hint)))
        };
        match (read(input, TAKES_INPUT), read(output, TAKES_OUTPUT)) {
            (Ok(from), Ok(to)) => {
                let before = table.points.last().copied();
                if before.is_some_and(|own: (ToneInput, ToneInput)| from <= own.0) {
                    table.findings.push(cells.finding(row, input, Fault::Word, TAKES_INPUT));
                } else if before.is_some_and(|own| to < own.1) {
                    table.findings.push(cells.finding(row, output, Fault::Word, TAKES_OUTPUT));
                } else {
                    table.points.push((from, to));
                }
            }
            (from, to) => table.findings.extend([from.err(), to.err()].into_iter().flatten().map(|own| *own)),
        }
    }
    let ends = (table.points.first().map(|own| own.0), table.points.last().map(|own| own.0));
    let whole = matches!(ends, (Some(first), Some(last)) if first.to_part() <= ToneInput::LEAST && last.to_part() >= ToneInput::MOST);
    if !whole && table.findings.is_empty() {
        let seen = ends.1.map_or(String::new(), |own| own.to_part().to_string());
        table.findings.push(of_file(last_line, &seen, Fault::Word, TAKES_ENDS));
    }
    table.findings.sort_by_key(|own| own.line);
    table
}

/// A correction as a table, with a decimal point and six places: finer than a sixteenth bit.
#[must_use]
pub fn curve_table(correction: &Correction) -> String {
    let mut out = String::from("input,output\n");
    for (row, sent) in correction.inputs().iter().enumerate() {
        out.push_str(&format!("{:.8},{sent:.6}\n", Correction::tone_of(row)));
    }
    out
}

//! Rows of words and numbers, lined up for a terminal.

use std::fmt::Write as _;

use handcoat_work::stock::Row;

/// How wide a label may get before its number moves to the right.
const LEAST_LABEL: usize = 34;

/// Label left, number right, unit behind it.
pub(super) fn rows(rows: &[Row]) -> String {
    let width = |text: &str| text.chars().count();
    let label = rows.iter().map(|row| width(&row.label)).max().unwrap_or(0).max(LEAST_LABEL);
    let value = rows.iter().map(|row| width(&row.value)).max().unwrap_or(0);
    let mut out = String::new();
    for row in rows {
        let pad = " ".repeat(label - width(&row.label) + value - width(&row.value));
        let cas = row.cas.map_or(String::new(), |cas| format!("   CAS {cas}"));
        let line = format!("  {}  {pad}{} {}{cas}", row.label, row.value, row.unit);
        let _ = writeln!(out, "{}", line.trim_end());
    }
    out
}

/// Plain cells in columns, the first to the left and the others to the right.
pub(super) fn columns(cells: &[Vec<String>]) -> String {
    let count = cells.iter().map(Vec::len).max().unwrap_or(0);
    let width = |text: &String| text.chars().count();
    let widths: Vec<usize> =
        (0..count).map(|column| cells.iter().filter_map(|row| row.get(column)).map(width).max().unwrap_or(0)).collect();
    let mut out = String::new();
    for row in cells {
        let mut line = String::from(" ");
        for (column, cell) in row.iter().enumerate() {
            let pad = " ".repeat(widths[column] - width(cell));
            line.push(' ');
            line.push_str(&if column == 0 { format!("{cell}{pad}") } else { format!(" {pad}{cell}") });
        }
        let _ = writeln!(out, "{}", line.trim_end());
    }
    out
}

/// Plain cells in columns, all to the left but the first, which is a time.
pub(super) fn left_columns<const N: usize>(cells: &[[String; N]]) -> String {
    let width = |text: &String| text.chars().count();
    let widths: [usize; N] =
        std::array::from_fn(|column| cells.iter().filter_map(|row| row.get(column)).map(width).max().unwrap_or(0));
    let mut out = String::new();
    for row in cells {
        let mut line = String::from(" ");
        for (column, (cell, wide)) in row.iter().zip(widths).enumerate() {
            let pad = " ".repeat(wide - width(cell));
            line.push_str(&if column == 0 { format!(" {pad}{cell}") } else { format!("  {cell}{pad}") });
        }
        let _ = writeln!(out, "{}", line.trim_end());
    }
    out
}

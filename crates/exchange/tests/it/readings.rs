//! Densities under a wedge, read cell by cell.

use handcoat_exchange::{DecimalMark, WedgeTable, read_wedge};

fn read(text: &str) -> WedgeTable {
    read_wedge(text.as_bytes(), DecimalMark::Point, false)
}

fn pairs(table: &WedgeTable) -> Vec<(f64, f64)> {
    assert_eq!(table.findings, [], "{:?}", table.findings);
    table.rows.iter().map(|row| (row.step.expect("a step").to_density(), row.print.to_density())).collect()
}

const EXPECTED: [(f64, f64); 2] = [(0.05, 1.45), (0.2, -0.01)];

#[test]
fn the_same_readings_in_every_writing() {
    let texts = [
        "step_density,print_density\n0.05,1.45\n0.20,-0.01\n",
        "print_density\tnote\tStep_Density\r\n1.45\t\t0.05\r\n\r\n-0.01\tpale\t0.20\r\n",
        "\u{feff}step_density;print_density\n0.05;1.45\n0.2;-0.01\n",
        "CGATS.17\n# a remark\nBEGIN_DATA_FORMAT\nSAMPLE_ID STEP_DENSITY\nD_VIS\nEND_DATA_FORMAT\nBEGIN_DATA\nA1 0.05 1.45\nA2 0.20 -0.01\nEND_DATA\n",
    ];
    for text in texts {
        assert_eq!(pairs(&read(text)), EXPECTED, "{text}");
    }
    let comma = read_wedge(b"step_density;print_density\n0,05;1,45\n0,2;-0,01\n", DecimalMark::Comma, false);
    assert_eq!(pairs(&comma), EXPECTED);
}

#[test]
fn what_cannot_be_read_is_found_by_line() {
    for (text, line, code) in [
        ("step_density,print_density\n", 1, "table_empty"),
        ("step,print\n0.1,0.2\n", 1, "column_missing"),
        ("step_density,print_density,print_density\n0.1,0.2,0.3\n", 1, "column_repeated"),
        ("step_density,print_density\n0.1,0.2\n\n0.2\n", 4, "row_uneven"),
        ("step_density,print_density\n0.1,0,2\n", 2, "row_uneven"),
        ("step_density;print_density\n0.1;0,2\n", 2, "decimal_mark_other"),
        ("step_density,print_density\n0.1,1.2D\n", 2, "unit_unwanted"),
        ("step_density,print_density\n0.1,black\n", 2, "number_missing"),
        ("step_density,print_density\n,1.2\n", 2, "value_missing"),
        ("step_density,print_density\n7,1.2\n", 2, "value_out_of_bounds"),
    ] {
        let found = read(text).findings;
        let first = found.first().unwrap_or_else(|| panic!("nothing found in {text}"));
        assert_eq!((first.line, first.fault.code()), (line, code), "{text}");
    }
    assert_eq!(read_wedge(b"step\xff", DecimalMark::Point, false).findings.len(), 1);
}

#[test]
fn steps_of_ink_have_no_density() {
    let table = read_wedge(b"print_density\n1.4\n0.1\n", DecimalMark::Point, true);
    assert_eq!(table.rows.iter().map(|row| row.step).collect::<Vec<_>>(), [None, None]);
}

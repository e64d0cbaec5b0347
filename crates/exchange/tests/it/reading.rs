//! Tables of jars and bottles, cell by cell.

use handcoat_craft::measure::{Mass, Volume};
use proptest::{collection, prop_assert, prop_assert_eq, proptest};

use handcoat_exchange::{COLUMNS, DecimalMark, Fault, read_shelf, sample};

fn codes(text: &str, mark: DecimalMark) -> Vec<(u64, String, &'static str)> {
    let found = read_shelf(text.as_bytes(), mark).findings;
    found.iter().map(|own| (own.line, own.column.clone(), own.fault.code())).collect()
}

#[test]
fn the_sample_is_read_with_either_mark_and_says_the_same() {
    let [point, comma] = DecimalMark::ALL.map(|mark| read_shelf(sample(mark).as_bytes(), mark));
    assert!(point.findings.is_empty(), "{:?}", point.findings);
    assert_eq!((point.separator, comma.separator), (',', ';'));
    assert_eq!(point.rows, comma.rows);
    assert_eq!(point.rows[0].mass, Some(Mass::micrograms(8_450_000).expect("a mass")));
    assert_eq!(point.rows[2].volume, Some(Volume::nanolitres(42_500_000).expect("a volume")));
    assert_eq!((point.rows[2].line, point.rows[2].costs[0].to_minor()), (4, 9_600));
    // A byte order mark, CRLF and a blank line change nothing.
    let windows = format!("\u{feff}{}\r\n", sample(DecimalMark::Point).replace('\n', "\r\n"));
    assert_eq!(read_shelf(windows.as_bytes(), DecimalMark::Point).rows, point.rows);
}

#[test]
fn what_cannot_be_taken_is_found_by_line_and_column() {
    use DecimalMark::{Comma, Point};
    let mass = |cell: &str| format!("formula,mass_g\nPdCl2,10\nPdCl2,{cell}\n");
    for (text, mark, line, column, code) in [
        (mass("\"1,5\""), Point, 3, "mass_g", "decimal_mark_other"),
        ("formula;mass_g\nPdCl2;1.5\n".into(), Comma, 2, "mass_g", "decimal_mark_other"),
        ("formula;mass_g\nPdCl2;1.500,5\n".into(), Comma, 2, "mass_g", "decimal_mark_other"),
        ("formula;mass_g\nPdCl2;1,500,5\n".into(), Comma, 2, "mass_g", "number_two_marks"),
        (mass("10 g"), Point, 3, "mass_g", "unit_unwanted"),
        (mass("1e3"), Point, 3, "mass_g", "unit_unwanted"),
        (mass("-1"), Point, 3, "mass_g", "value_negative"),
        (mass("1 000"), Point, 3, "mass_g", "number_grouped"),
        (mass("much"), Point, 3, "mass_g", "number_missing"),
        (mass("0.0000001"), Point, 3, "mass_g", "value_too_fine"),
        (mass("1,2"), Point, 3, "", "row_uneven"),
        ("formula,weight\nPdCl2,10\n".into(), Point, 1, "weight", "column_unknown"),
        ("formula,cost_euro\nPdCl2,10\n".into(), Point, 1, "cost_euro", "column_unknown"),
        ("formula,mass_g,mass_g\nPdCl2,10,10\n".into(), Point, 1, "mass_g", "column_repeated"),
        ("name,mass_g\njar,10\n".into(), Point, 1, "", "column_missing"),
        ("formula,kind\nPdCl2,tin\n".into(), Point, 2, "kind", "word_unknown"),
        ("formula,metal\nPdCl2,Fe\n".into(), Point, 2, "metal", "word_unknown"),
        ("formula,cost_incomplete\nPdCl2,perhaps\n".into(), Point, 2, "cost_incomplete", "word_unknown"),
        ("formula,strength_rel_u\nPdCl2,-0.1\n".into(), Point, 2, "strength_rel_u", "word_unknown"),
        ("formula,ready_after\nPdCl2,soon\n".into(), Point, 2, "ready_after", "instant_unreadable"),
        ("formula,mass_g\n".into(), Point, 1, "", "table_empty"),
        ("formula,mass_g\n,\n".into(), Point, 1, "", "table_empty"),
    ] {
        assert_eq!(codes(&text, mark), [(line, String::from(column), code)], "{text}");
    }
    // Blank lines count; a line break inside quotes does not begin a row.
    let text = "formula,note,mass_g\n\nPdCl2,\"two\nlines\",1\n\n\nPdCl2,,ten\n";
    assert_eq!(codes(text, Point), [(7, String::from("mass_g"), "number_missing")]);
    assert_eq!(codes("", Point), [(1, String::new(), "column_missing")]);
    let latin = read_shelf(b"formula,note\nPdCl2,M\xfcller\n", Point);
    assert_eq!((latin.findings[0].line, &latin.findings[0].fault), (2, &Fault::NotText));
}

#[test]
fn every_finding_of_a_table_is_told_at_once() {
    let text = "formula,kind,mass_g\nPdCl2,tin,ten\nNaCl,jar,1\nPdCl2,jar,1g\n";
    let table = read_shelf(text.as_bytes(), DecimalMark::Point);
    assert_eq!(table.findings.len(), 3, "{:?}", table.findings);
    assert_eq!(table.rows.len(), 1, "only the sound row is given");
    assert!(table.findings.iter().all(|own| !own.hint.is_empty() && !own.to_string().ends_with('.')));
}

#[test]
fn every_column_that_is_read_ends_up_in_its_row() {
    for column in COLUMNS.iter().filter(|own| !["number", "code", "made_of", "formula"].contains(&own.name)) {
        let cell = match column.name {
            "standing" => "retired",
            "kind" => "vial",
            "metal" => "Pt",
            "cost_incomplete" => "yes",
            "ready_after" => "2026-03-14T10:30:00Z",
            _ => "0.5",
        };
        let table = read_shelf(format!("formula,{}\nPdCl2,{cell}\n", column.name).as_bytes(), DecimalMark::Point);
        assert!(table.findings.is_empty(), "{}: {:?}", column.name, table.findings);
        let bare = read_shelf(b"formula\nPdCl2\n", DecimalMark::Point);
        assert_ne!(table.rows, bare.rows, "{} is read and goes nowhere", column.name);
    }
}

proptest! {
    #[test]
    fn any_bytes_are_rows_or_findings(bytes in collection::vec(proptest::num::u8::ANY, 0..200)) {
        for mark in DecimalMark::ALL {
            let table = read_shelf(&bytes, mark);
            prop_assert!(!table.rows.is_empty() || !table.findings.is_empty());
        }
    }

    #[test]
    fn any_cells_under_known_names_are_found_on_their_line(
        picked in collection::vec((0_usize..35, "[-+=@0-9., ;\"a-z€\n]{0,10}|\\PC{0,8}|[0-9]{1,4}[.,][0-9]{1,7}"), 1..8),
        comma in proptest::bool::ANY,
    ) {
        let mark = DecimalMark::ALL[usize::from(comma)];
        let mut chosen = picked;
        chosen.sort_unstable();
        chosen.dedup_by_key(|(column, _)| *column);
        let columns: Vec<_> = chosen.iter().filter_map(|(place, cell)| COLUMNS.get(*place).map(|own| (own.name, cell))).collect();
        let quoted = |cell: &str| format!("\"{}\"", cell.replace('"', "\"\""));
        let names: Vec<&str> = columns.iter().map(|(name, _)| *name).filter(|name| *name != "formula").chain(["formula"]).collect();
        let cells: Vec<String> =
            columns.iter().filter(|(name, _)| *name != "formula").map(|(_, cell)| quoted(cell)).chain(["PdCl2".into()]).collect();
        let text = format!("{}\n{}\n", names.join(","), cells.join(","));
        let table = read_shelf(text.as_bytes(), mark);
        for found in &table.findings {
            prop_assert_eq!(found.line, 2, "{}", text);
            prop_assert!(names.contains(&found.column.as_str()) && !found.to_string().is_empty(), "{}", text);
        }
        // What was taken as a number has the declared mark or none.
        if table.findings.is_empty() {
            for (name, cell) in columns.iter().filter(|(name, _)| name.ends_with("_g") || name.ends_with("_ml")) {
                let other = if comma { '.' } else { ',' };
                prop_assert!(!cell.trim().contains(other), "{} {}", name, text);
            }
        }
    }
}

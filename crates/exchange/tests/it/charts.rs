//! Readings of a chart and curves, read cell by cell.

use handcoat_craft::tone::{Correction, RESPONSE_ROWS, Response, Target};
use handcoat_exchange::{ChartTable, DecimalMark, chart_table, curve_table, read_chart, read_curve, read_wedge};

fn read(text: &str) -> ChartTable {
    read_chart(text.as_bytes(), DecimalMark::Point)
}

#[test]
fn the_same_chart_in_every_writing() {
    let texts = [
        "input,l_star\n0,22.5\n1,93.25\n",
        "patch\tL_star\tnote\tInput\r\nA1\t22.5\t\t0\r\n\r\nA2\t93.25\tpale\t1\r\n",
        "\u{feff}input;l_star;x_mm;y_mm\n0;22.5;;\n1.0;93.25;;\n",
        "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID INPUT LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\nA1 0 22.5\nA2 1 93.25\nEND_DATA\n",
    ];
    for text in texts {
        let table = read(text);
        assert_eq!(table.findings, [], "{text}");
        let pairs: Vec<(f64, f64)> =
            table.rows.iter().map(|own| (own.reading.input.to_part(), own.reading.lightness.to_l_star())).collect();
        assert_eq!(pairs, [(0.0, 22.5), (1.0, 93.25)], "{text}");
        assert!(table.rows.iter().all(|own| own.reading.place.is_none()));
    }
    let comma = read_chart(b"input;l_star\n0,5;46,5\n", DecimalMark::Comma);
    assert_eq!(comma.rows.first().map(|own| own.reading.lightness.to_l_star()), Some(46.5));
}

#[test]
fn densities_become_lightness_and_what_stands_beside_is_kept() {
    // CIE 1976 of density 1.2 is L* 30.1804317842 (colour-science 0.4.7, computed).
    let table = read("patch,input,density,x_mm,y_mm,copy,l_star_u\nB7,0.25,1.2,42.5,17,2,0.4\nB8,0.3,1.0,,,1,\n");
    assert_eq!(table.findings, []);
    let [first, second] = table.rows.as_slice() else { panic!("two rows") };
    assert!((first.reading.lightness.to_l_star() - 30.180_431_784_2).abs() < 1e-8);
    let place = first.reading.place.expect("a place");
    assert_eq!((place.across.to_millimetres(), place.down.to_millimetres()), (42.5, 17.0));
    assert_eq!((first.patch.as_deref(), first.copy.as_deref()), (Some("B7"), Some("2")));
    assert_eq!(first.reading.spread.map(|own| own.to_l_star()), Some(0.4));
    assert!(second.reading.place.is_none() && second.reading.spread.is_none());
    // Where both stand there and agree, the lightness was read: CIE 1976 of density 1.0 is L* 37.84.
    for both in ["input,density,l_star\n0.5,1.0,38.1\n", "input,density,l_star\n0.5,,38.1\n"] {
        assert_eq!(read(both).rows.first().map(|own| own.reading.lightness.to_l_star()), Some(38.1));
    }
    for (density, light) in [("1.0", "40"), ("0.93", "37.8"), ("1.07", "37.8")] {
        let found = read(&format!("input,density,l_star\n0.5,{density},{light}\n")).findings;
        let found: Vec<_> = found.iter().map(|own| (own.column.as_str(), own.fault.code())).collect();
        assert_eq!(found, [("density", "reading_contradicted")], "{density} {light}");
    }
    let again = read(&chart_table(table.rows.iter().map(|own| &own.reading)));
    let kept: Vec<_> =
        again.rows.iter().map(|own| (own.reading.input, own.reading.lightness, own.reading.place)).collect();
    let first: Vec<_> =
        table.rows.iter().map(|own| (own.reading.input, own.reading.lightness, own.reading.place)).collect();
    assert_eq!(kept, first);
}

#[test]
fn measurements_that_were_cut_off_are_no_table() {
    let whole = "CGATS.17\nNUMBER_OF_SETS 2\nBEGIN_DATA_FORMAT\nINPUT LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n0 22.5\n1 93.25\nEND_DATA\n";
    assert_eq!((read(whole).rows.len(), read(whole).findings), (2, vec![]));
    for (cut, says) in [
        (whole.replace("END_DATA\n", ""), "before END_DATA"),
        (whole.replace("1 93.25\nEND_DATA\n", ""), "before END_DATA"),
        (whole.replace("1 93.25\n", ""), "says 2 and there are 1 rows"),
        (whole.replace("SETS 2", "SETS\t1"), "says 1 and there are 2 rows"),
    ] {
        let table = read(&cut);
        let [found] = table.findings.as_slice() else { panic!("one finding in {cut}") };
        assert_eq!((found.fault.code(), table.rows.len()), ("table_cut_off", 0), "{cut}");
        assert!(found.to_string().contains(says), "{found}");
    }
    let wedge = whole.replace("INPUT LAB_L", "STEP_DENSITY D_VIS").replace("END_DATA\n", "").replace("93.25", "1.2");
    let found = read_wedge(wedge.as_bytes(), DecimalMark::Point, false).findings;
    assert_eq!(found.first().map(|own| own.fault.code()), Some("table_cut_off"));
}

#[test]
fn what_cannot_be_read_is_found_by_line_and_column() {
    for (text, line, column, code) in [
        ("input,l_star\n", 1, "", "table_empty"),
        ("input,tone\n0,22\n", 1, "", "column_missing"),
        ("l_star\n22\n", 1, "", "column_missing"),
        ("input,l_star,x_mm\n0,22,5\n", 1, "", "column_missing"),
        ("input,input,l_star\n0,0,22\n", 1, "", "column_repeated"),
        ("input,l_star\n0,22\n\n0.5\n", 4, "", "row_uneven"),
        ("input;l_star\n0;22,5\n", 2, "l_star", "decimal_mark_other"),
        ("input,l_star\n50,22\n", 2, "input", "value_out_of_bounds"),
        ("input,l_star\n50g,22\n", 2, "input", "unit_unwanted"),
        ("input,l_star\n0.5,dark\n", 2, "l_star", "number_missing"),
        ("input,density\n0.5,5\n", 2, "density", "value_out_of_bounds"),
        ("input,l_star,x_mm,y_mm\n0.5,40,10,\n", 2, "y_mm", "value_missing"),
        ("input,l_star,l_star_u\n0.5,40,x\n", 2, "l_star_u", "number_missing"),
    ] {
        let found = read(text).findings;
        let first = found.first().unwrap_or_else(|| panic!("nothing found in {text}"));
        assert_eq!((first.line, first.column.as_str(), first.fault.code()), (line, column, code), "{text}");
        assert!(!first.hint.is_empty());
    }
    assert_eq!(read_chart(b"input\xff", DecimalMark::Point).findings.len(), 1);
}

#[test]
fn a_curve_comes_back_as_it_went() {
    let rows = (0..RESPONSE_ROWS).map(|row| 20.0 + 70.0 * Response::input_of(row).powi(2)).collect();
    let response = Response::new(rows, vec![0.2; RESPONSE_ROWS]).expect("a response");
    let correction = Correction::of_response(&response, Target::Lightness).expect("a correction");
    let text = curve_table(&correction);
    assert!(text.starts_with("input,output\n0.00000000,"));
    let table = read_curve(text.as_bytes(), DecimalMark::Point);
    assert_eq!(table.findings, []);
    for ((row, sent), (tone, read)) in correction.inputs().iter().enumerate().zip(&table.points) {
        assert!((tone.to_part() - Correction::tone_of(row)).abs() < 1e-8);
        assert!((read.to_part() - sent).abs() < 1e-6);
    }
    for (text, code) in [
        ("input,output\n0,0\n0.5,0.6\n0.5,0.7\n1,1\n", "word_unknown"),
        ("input,output\n0,0\n0.5,0.6\n0.7,0.5\n1,1\n", "word_unknown"),
        ("input,output\n0,0\n0.9,1\n", "word_unknown"),
        ("input,output\n0,0\n1,1.2\n", "value_out_of_bounds"),
        ("input,l_star\n0,0\n", "column_missing"),
        ("input,output\n", "table_empty"),
    ] {
        let found = read_curve(text.as_bytes(), DecimalMark::Point).findings;
        assert_eq!(found.first().map(|own| own.fault.code()), Some(code), "{text}");
    }
}

#[test]
fn an_input_may_be_percent() {
    for text in ["input,l_star\n0 %,22\n35%,50\n1,93\n", "input_percent;l_star\n0;22\n35 %;50\n100;93\n"] {
        let table = read(text);
        assert_eq!(table.findings, [], "{text}");
        let inputs: Vec<f64> = table.rows.iter().map(|own| own.reading.input.to_part()).collect();
        assert_eq!(inputs, [0.0, 0.35, 1.0], "{text}");
    }
    for text in
        ["input,l_star\n35,50\n", "input,l_star\n135%,50\n", "input_percent,l_star\n101,50\n", "input,l_star\n3%5,50\n"]
    {
        assert_eq!(read(text).findings.len(), 1, "{text}");
    }
    assert_eq!(read("input,input_percent,l_star\n0.35,35,50\n").rows.len(), 1, "where both stand there, the part");
}

#[test]
fn a_curve_of_another_program_is_read_with_all_its_digits_and_with_commas() {
    let text = "input,output\n0,0.006141140130578954\n0.49999999999999994449,0.5\n1,1.0000000000000000000000\n";
    let table = read_curve(text.as_bytes(), DecimalMark::Point);
    assert!(table.findings.is_empty(), "{:?}", table.findings);
    let own: Vec<(f64, f64)> = table.points.iter().map(|own| (own.0.to_part(), own.1.to_part())).collect();
    assert!((own[0].1 - 0.006_141_140_130_578_954).abs() < 1e-12 && (own[1].0 - 0.5).abs() < 1e-12, "{own:?}");
    // A whole number that long is no reading.
    let long = read_curve(b"input,output\n0,0\n1234567890123456789012,1\n", DecimalMark::Point);
    assert_eq!(long.findings.len(), 1, "{:?}", long.findings);
    let comma = read_curve("input;output\n0;0,006141140130578954\n1;1\n".as_bytes(), DecimalMark::Comma);
    assert!(comma.findings.is_empty(), "{:?}", comma.findings);
}

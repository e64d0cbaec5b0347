//! What cannot be printed is refused with what was seen and what to do.

use handcoat_sheets::{
    Hazards, LABEL_STOCKS, Label, LabelStock, Millimetres, Offset, SheetError, calibration_page, labels,
};

use crate::labels::{DAY, label, sheet};

fn refused(all: &[Label], stock: &LabelStock, start: usize, offset: Offset) -> (&'static str, String) {
    let error = labels(all, stock, start, offset, DAY).expect_err("a refusal");
    (error.code(), error.to_string())
}

fn one() -> [Label; 1] {
    [label("Citric acid", Hazards::NotEntered)]
}

#[test]
fn a_position_the_page_does_not_have() {
    for start in [0, 9, usize::MAX] {
        let (code, words) = refused(&one(), &LABEL_STOCKS[0], start, Offset::default());
        assert_eq!(code, "label_start_beyond");
        assert!(words.contains(&start.to_string()) && words.contains("1 to 8"), "{words}");
    }
    assert!(labels(&one(), &LABEL_STOCKS[0], 8, Offset::default(), DAY).is_ok());
}

#[test]
fn nothing_to_print_and_nothing_to_know_it_by() {
    assert_eq!(refused(&[], &LABEL_STOCKS[0], 1, Offset::default()).0, "labels_none");
    let nameless = Label { name: " \n\t".into(), ..one()[0].clone() };
    let codeless = Label { code: String::new(), ..one()[0].clone() };
    for (label, what) in [(nameless, "no name"), (codeless, "no code")] {
        let (code, words) = refused(&[label], &LABEL_STOCKS[0], 1, Offset::default());
        assert_eq!(code, "label_blank");
        assert!(words.contains(what), "{words}");
    }
}

#[test]
fn words_that_fit_in_no_way_are_not_cut() {
    let codes = "H272 H301 H312 H314 H317 H330 H334 H340 H350 H360FD H372 H400 H410";
    let hazards = Hazards::FromSheet(sheet(codes, "GHS03 GHS05 GHS06 GHS08 GHS09"));
    let name = "A very long name ".repeat(60);
    let all = [one()[0].clone(), label(&name, hazards)];
    let (code, words) = refused(&all, &LABEL_STOCKS[1], 1, Offset::default());
    assert_eq!(code, "label_full");
    assert!(words.contains("`A very long name A very") && words.contains("larger label"), "{words}");
    let long_strength = Label { strength: Some("1.0 mol/L ".repeat(200)), ..one()[0].clone() };
    assert_eq!(refused(&[long_strength], &LABEL_STOCKS[1], 1, Offset::default()).0, "label_full");
}

#[test]
fn a_qr_code_nobody_could_scan_is_refused_or_left_out() {
    let too_long = Label { qr: Some("x".repeat(4000)), ..one()[0].clone() };
    assert_eq!(refused(&[too_long], &LABEL_STOCKS[0], 1, Offset::default()).0, "qr_too_long");
    let empty = Label { qr: Some(String::new()), ..one()[0].clone() };
    assert_eq!(refused(&[empty], &LABEL_STOCKS[0], 1, Offset::default()).0, "qr_empty");
    // Too fine for the label, not for the world: the typed code stays.
    let fine = Label { qr: Some("x".repeat(1500)), ..one()[0].clone() };
    assert!(labels(&[fine], &LABEL_STOCKS[1], 1, Offset::default(), DAY).is_ok());
}

#[test]
fn measures_that_do_not_go_together() {
    let mm = Millimetres::new;
    let good = &LABEL_STOCKS[1];
    let wrong = [
        LabelStock { rows: 8, ..good.clone() },
        LabelStock { columns: 0, ..good.clone() },
        LabelStock { column_pitch: mm(60.0), ..good.clone() },
        LabelStock { row_pitch: mm(30.0), ..good.clone() },
        LabelStock { left: mm(20.0), ..good.clone() },
        LabelStock { top: mm(-3.0), ..good.clone() },
        LabelStock { label_width: mm(f64::NAN), ..good.clone() },
        LabelStock { page_height: mm(0.0), ..good.clone() },
        LabelStock { page_width: mm(f64::INFINITY), ..good.clone() },
        LabelStock { columns: u16::MAX, rows: u16::MAX, ..good.clone() },
        LabelStock {
            columns: 100,
            rows: 100,
            label_width: mm(1.5),
            label_height: mm(2.0),
            column_pitch: mm(1.5),
            row_pitch: mm(2.0),
            ..good.clone()
        },
    ];
    for stock in wrong {
        assert!(matches!(stock.check(), Err(SheetError::Stock { .. })), "{stock:?}");
        assert_eq!(refused(&one(), &stock, 1, Offset::default()).0, "label_stock_wrong");
        assert!(calibration_page(&stock, Offset::default(), DAY).is_err());
    }
    for stock in LABEL_STOCKS {
        assert!(stock.check().is_ok(), "{}", stock.name);
    }
    // A label with no room on it is refused too, and does not fall over.
    let tiny = LabelStock { label_width: mm(4.0), label_height: mm(3.0), ..good.clone() };
    assert_eq!(refused(&one(), &tiny, 1, Offset::default()).0, "label_full");
}

#[test]
fn an_offset_no_printer_has() {
    for mm in [20.5, -300.0, f64::NAN, f64::INFINITY] {
        let offset = Offset { right: Millimetres::new(0.0), down: Millimetres::new(mm) };
        assert_eq!(refused(&one(), &LABEL_STOCKS[0], 1, offset).0, "offset_too_large");
        assert!(calibration_page(&LABEL_STOCKS[0], offset, DAY).is_err());
    }
}

#[test]
fn signs_the_faces_do_not_have_are_refused_and_not_printed_as_boxes() {
    let foreign = label("パラジウム", Hazards::NotEntered);
    let (code, words) = refused(&[foreign], &LABEL_STOCKS[0], 1, Offset::default());
    assert_eq!(code, "sheet_not_set", "{words}");
}

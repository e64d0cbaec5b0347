//! Labels: everything inside its label, the right lines left out, the code readable, unknown hazards said loudly.

use handcoat_craft::source::{HazardStatement, Pictogram, SignalWord};
use handcoat_sheets::{Hazards, LABEL_STOCKS, LEFT_OUT, Label, LabelStock, Millimetres, Offset, SheetHazards, labels};

use crate::printed::{Printed, Word, poppler};

pub(crate) const DAY: (i32, u8, u8) = (2026, 3, 1);
const NOT_ENTERED: &str = "hazards not entered: read the supplier's sheet";

pub(crate) fn sheet(codes: &str, signs: &str) -> SheetHazards {
    let statement = |code| HazardStatement::from_code(code).map(|row| (row.code.into(), row.text.into()));
    SheetHazards {
        supplier: "Invented Chemicals".into(),
        date: "2025-11-03".into(),
        signal_word: Some(SignalWord::Danger),
        statements: codes.split_whitespace().map(|code| statement(code).expect("a code")).collect(),
        pictograms: signs.split_whitespace().map(|code| Pictogram::from_code(code).expect("a sign")).collect(),
    }
}

pub(crate) fn label(name: &str, hazards: Hazards) -> Label {
    Label {
        name: name.into(),
        content: Some("tetrachloropalladate in water".into()),
        formula: Some("Na2PdCl4".into()),
        cas: Some("13820-53-6".into()),
        form: Some("solution".into()),
        strength: Some("15.0 % w/v".into()),
        batch: Some("Pd-2026-03".into()),
        made: Some("2026-02-27".into()),
        ready_after: Some("2026-02-28 14:00".into()),
        empty_weight: Some("41.27 g".into()),
        code: "000176".into(),
        qr: Some("handcoat 000176".into()),
        hazards,
    }
}

fn palladium() -> Hazards {
    Hazards::FromSheet(sheet("H290 H302 H317 H318 H410", "GHS05 GHS07 GHS09"))
}

/// As many statements and signs as anything in the trade has.
fn dichromate() -> Hazards {
    let codes = "H272 H301 H312 H314 H317 H330 H334 H340 H350 H360FD H372 H400 H410";
    Hazards::PureSubstance(sheet(codes, "GHS03 GHS05 GHS06 GHS08 GHS09"))
}

fn set(all: &[Label], stock: &LabelStock, start: usize) -> Printed {
    Printed::new(&labels(all, stock, start, Offset::default(), DAY).expect("labels"))
}

/// The label a word lies in, by page and position, counted from the measures of the stock alone.
fn label_of(word: &Word, stock: &LabelStock) -> Option<(usize, usize)> {
    let within = |low: f64, high: f64, from: Millimetres, size: Millimetres, pitch: Millimetres, count: u16| {
        (0..count).find(|n| {
            let edge = from.to_mm() + pitch.to_mm() * f64::from(*n);
            low >= edge && high <= edge + size.to_mm()
        })
    };
    let column = within(word.left, word.right, stock.left, stock.label_width, stock.column_pitch, stock.columns)?;
    // What poppler gives is the line with the room above its letters; the middle half is surely letter.
    let quarter = (word.bottom - word.top) / 4.0;
    let row =
        within(word.top + quarter, word.bottom - quarter, stock.top, stock.label_height, stock.row_pitch, stock.rows)?;
    Some((word.page, usize::from(row * stock.columns + column) + 1))
}

fn words_of(words: &[Word], stock: &LabelStock, at: (usize, usize)) -> String {
    let own: Vec<&str> =
        words.iter().filter(|word| label_of(word, stock) == Some(at)).map(|word| word.text.as_str()).collect();
    own.join(" ")
}

#[test]
fn every_word_lies_inside_its_label_on_every_stock() {
    if !poppler() {
        return;
    }
    let long_words = "Platinum stock from a vial of potassium tetrachloroplatinate(II) that was weighed before and after, \
                      rinsed twice, left to stand for a day, filtered, and is kept for the large prints of the spring";
    let long_word = "Potassiumtetrachloroplatinatesolutionwithoutanyspacesinitsnamewhichnobodywouldwritebutmay";
    let names = ["Palladium stock", long_words, long_word];
    let all: Vec<Label> = names
        .iter()
        .flat_map(|name| [palladium(), dichromate(), Hazards::NotEntered].map(|hazards| label(name, hazards)))
        .collect();
    for stock in LABEL_STOCKS {
        let printed = set(&all, stock, stock.positions());
        let words = printed.words();
        for word in &words {
            assert!(label_of(word, stock).is_some(), "{}: {word:?} lies in no label", stock.name);
        }
        inked_inside(&printed, stock);
        for (place, label) in all.iter().enumerate() {
            let place = stock.positions() - 1 + place;
            let at = (place / stock.positions() + 1, place % stock.positions() + 1);
            let said = words_of(&words, stock, at);
            let run = said.replace(' ', "");
            assert!(run.contains(&label.name.replace(' ', "")), "{} at {at:?}: name cut in {said}", stock.name);
            assert!(said.contains("15.0 % w/v") && said.contains("000176"), "{} at {at:?}: {said}", stock.name);
            match &label.hazards {
                Hazards::NotEntered => assert!(said.contains(NOT_ENTERED), "{} at {at:?}: {said}", stock.name),
                Hazards::FromSheet(sheet) | Hazards::PureSubstance(sheet) => {
                    for (code, _) in &sheet.statements {
                        assert!(said.contains(code.as_str()), "{} at {at:?}: no {code} in {said}", stock.name);
                    }
                    assert!(said.contains("Danger"), "{} at {at:?}: {said}", stock.name);
                    assert!(run.contains("sheetofInventedChemicals,2025-11-03"), "{} at {at:?}: {said}", stock.name);
                    let pure = matches!(label.hazards, Hazards::PureSubstance(_));
                    assert_eq!(run.contains("aspuresubstance"), pure, "{} at {at:?}: {said}", stock.name);
                }
            }
        }
    }
}

/// No point of ink lies within two millimetres of a label's edge, or outside of all labels.
fn inked_inside(printed: &Printed, stock: &LabelStock) {
    let info = printed.tool("pdfinfo", &[], &[]);
    let pages = info.lines().find_map(|line| line.strip_prefix("Pages:")).and_then(|n| n.trim().parse().ok());
    for page in 1..=pages.expect("a number of pages") {
        let ink = printed.ink(page, 120);
        assert!(!ink.is_empty());
        for (y, from, to) in ink {
            let word =
                Word { page, left: from - 2.0, right: to + 2.0, top: y - 2.0, bottom: y + 2.0, text: String::new() };
            let column = (0..stock.columns).any(|n| {
                let edge = stock.left.to_mm() + stock.column_pitch.to_mm() * f64::from(n);
                word.left >= edge && word.right <= edge + stock.label_width.to_mm()
            });
            let row = (0..stock.rows).any(|n| {
                let edge = stock.top.to_mm() + stock.row_pitch.to_mm() * f64::from(n);
                word.top >= edge && word.bottom <= edge + stock.label_height.to_mm()
            });
            assert!(column && row, "{}, page {page}: ink at {y:.1} mm from {from:.1} to {to:.1} mm", stock.name);
        }
    }
}

/// What each part of the sample prints, and nothing else does. The QR code is no word and is read elsewhere.
const PRINTED: [(&str, &str); 9] = [
    ("empty_weight", "41.27 g"),
    ("content", "tetrachloropalladate in water"),
    ("form", "solution"),
    ("batch", "Pd-2026-03"),
    ("made", "2026-02-27"),
    ("ready_after", "14:00"),
    ("statement_texts", "Harmful if swallowed"),
    ("cas", "13820-53-6"),
    ("formula", "Na2PdCl4"),
];

#[test]
fn lines_are_left_out_by_need_and_only_as_far_as_needed() {
    if !poppler() {
        return;
    }
    // Every part that can be left out is looked for, but the QR code.
    let mut parts: Vec<&str> = PRINTED.iter().map(|(key, _)| *key).chain(["qr"]).collect();
    let mut listed = LEFT_OUT.to_vec();
    parts.sort_unstable();
    listed.sort_unstable();
    assert_eq!(parts, listed);
    let mut counts = Vec::new();
    for height in [70.0, 60.0, 50.0, 45.0, 41.0, 38.0, 35.0, 32.0, 29.0, 27.0, 25.0] {
        let length = Millimetres::new;
        let stock = LabelStock {
            name: "a roll".into(),
            page_height: length(height),
            label_height: length(height),
            page_width: length(70.0),
            label_width: length(70.0),
            ..LABEL_STOCKS.last().expect("a roll").clone()
        };
        let said = set(&[label("Palladium stock", palladium())], &stock, 1).text();
        let gone: Vec<&str> = PRINTED.iter().filter(|(_, words)| !said.contains(words)).map(|(key, _)| *key).collect();
        // Of the facts that share a paragraph the weight of the empty bottle goes first and the formula last.
        let flow = ["form", "batch", "made", "ready_after", "cas", "formula"];
        assert!(gone.contains(&"empty_weight") || !flow.iter().any(|key| gone.contains(key)), "{height} mm: {gone:?}");
        assert!(!gone.contains(&"formula") || flow.iter().all(|key| gone.contains(key)), "{height} mm: {gone:?}");
        assert!(!gone.contains(&"cas") || gone.contains(&"statement_texts"), "{height} mm: {gone:?}");
        assert!(said.contains("Palladium stock") && said.contains("15.0 % w/v") && said.contains("000176"), "{said}");
        assert!(["H290", "H302", "H317", "H318", "H410"].iter().all(|code| said.contains(code)), "{said}");
        counts.push(gone.len());
    }
    // The counts need not grow at every step: where formula and CAS number would go, smaller pictograms make room again.
    assert_eq!(counts[0], 0, "nothing is left out while there is room: {counts:?}");
    assert!(counts.last() >= Some(&8), "{counts:?}");
    let mut kinds = counts.clone();
    kinds.sort_unstable();
    kinds.dedup();
    assert!(kinds.len() >= 4, "no more than needed: {counts:?}");
}

#[test]
fn a_qr_code_is_read_back_from_paper() {
    if !poppler() {
        return;
    }
    for stock in LABEL_STOCKS {
        let texts = ["handcoat 000176", "handcoat 000184", "handcoat 000192"];
        let all = texts.map(|text| Label { qr: Some(text.into()), ..label("Citric acid", Hazards::NotEntered) });
        let printed = set(&all, stock, 1);
        let pages = if stock.positions() == 1 { 3 } else { 1 };
        let mut read = Vec::new();
        for page in 1..=pages {
            let grey = printed.grey(page, 300);
            // A telephone sees one label at a time; corners of neighbouring codes would look like a code too.
            for column in 0..usize::from(stock.columns) {
                let dots = |mm: f64| (mm / 25.4 * 300.0) as usize;
                let from = dots(stock.left.to_mm() + stock.column_pitch.to_mm() * column as f64);
                let width = dots(stock.label_width.to_mm()).min(grey.width - from);
                for row in 0..usize::from(stock.rows).min(2) {
                    let above = dots(stock.top.to_mm() + stock.row_pitch.to_mm() * row as f64);
                    let height = dots(stock.label_height.to_mm()).min(grey.height - above);
                    let mut image = rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| {
                        grey.points[(above + y) * grey.width + from + x]
                    });
                    read.extend(image.detect_grids().iter().map(|grid| grid.decode().map(|(_, text)| text)));
                }
            }
        }
        let mut read: Vec<_> = read.into_iter().map(|text| text.unwrap_or_else(|error| error.to_string())).collect();
        read.sort();
        assert_eq!(read, texts, "{}", stock.name);
    }
}

#[test]
fn name_and_strength_are_read_from_a_metre() {
    if !poppler() {
        return;
    }
    // On the three larger kinds of label with the hazards of a palladium salt. A letter a two-hundredth of the distance
    // high is read with ease (a rule of thumb for signs, no source): 5 mm a metre away, the whole line a little more.
    for stock in LABEL_STOCKS.iter().filter(|stock| stock.label_height.to_mm() > 50.0) {
        let words = set(&[label("Palladium stock", palladium())], stock, 1).words();
        let tall = |text: &str| {
            let word = words.iter().find(|word| word.text == text).unwrap_or_else(|| panic!("no {text}"));
            word.bottom - word.top
        };
        assert!(tall("Palladium") > 6.5, "{}: name {:.1} mm", stock.name, tall("Palladium"));
        assert!(tall("15.0") > 5.5, "{}: strength {:.1} mm", stock.name, tall("15.0"));
    }
}

#[test]
fn nothing_known_never_looks_harmless() {
    if !poppler() {
        return;
    }
    let stock = &LABEL_STOCKS[0];
    let said = |hazards| set(&[label("Sodium sulfite", hazards)], stock, 1).text();
    let empty = SheetHazards { signal_word: None, ..sheet("", "") };
    assert!(said(Hazards::NotEntered).contains(NOT_ENTERED));
    // A sheet that says nothing says whose it is; nobody's sheet says nothing at all.
    let by_sheet = said(Hazards::FromSheet(empty.clone()));
    assert!(by_sheet.contains("no hazard statement on the supplier's sheet"), "{by_sheet}");
    assert!(by_sheet.contains("Invented Chemicals, 2025-11-03"), "{by_sheet}");
    for hazards in [Hazards::FromSheet, Hazards::PureSubstance] {
        assert!(said(hazards(SheetHazards { supplier: "  ".into(), ..empty.clone() })).contains(NOT_ENTERED));
    }
    let signs_only = said(Hazards::FromSheet(sheet("", "GHS06")));
    assert!(signs_only.contains("Danger · statements not entered: read the supplier's sheet"), "{signs_only}");
    // What is known is printed also when nobody wrote down where from.
    let bare = SheetHazards { supplier: String::new(), date: String::new(), ..sheet("H302", "GHS07") };
    let said = said(Hazards::FromSheet(bare));
    assert!(said.contains("H302") && said.contains("supplier not stated, date not stated"), "{said}");
}

#[test]
fn pictograms_print_with_a_dark_frame_in_one_colour() {
    if !poppler() {
        return;
    }
    // One label, all nine signs, on an otherwise quiet large paper.
    let large = LabelStock {
        page_width: Millimetres::new(250.0),
        label_width: Millimetres::new(250.0),
        ..LABEL_STOCKS.last().expect("a roll").clone()
    };
    let codes = "GHS01 GHS02 GHS03 GHS04 GHS05 GHS06 GHS07 GHS08 GHS09";
    let sample = Label { qr: None, ..label("All signs", Hazards::FromSheet(sheet("", codes))) };
    let grey = set(&[sample], &large, 1).grey(1, 200);
    let dark = grey.points.iter().filter(|point| (40..=90).contains(*point)).count() as f64;
    let frame = dark / (200.0 / 25.4_f64).powi(2);
    // Nine diamonds with sides of 16 mm have a frame of 4.9 % of their width (their corners mitred): about 70 mm² each.
    assert!((500.0..800.0).contains(&frame), "{frame:.0} mm² of frames");
    assert!(grey.height > 700);
}

#[test]
fn labels_begin_where_asked_and_go_on_over_pages() {
    if !poppler() {
        return;
    }
    let stock = &LABEL_STOCKS[2];
    let all: Vec<Label> = (1..=6).map(|n| label(&format!("Bottle{n}"), Hazards::NotEntered)).collect();
    let printed = set(&all, stock, 22);
    printed.is_archival(2);
    let at: Vec<_> = printed
        .words()
        .iter()
        .filter(|word| word.text.starts_with("Bottle"))
        .map(|word| label_of(word, stock).expect("a label"))
        .collect();
    assert_eq!(at, [(1, 22), (1, 23), (1, 24), (2, 1), (2, 2), (2, 3)]);
}

#[test]
fn an_offset_moves_every_word_by_as_much() {
    if !poppler() {
        return;
    }
    let all = [label("Palladium stock", palladium())];
    let led = Offset { right: Millimetres::new(1.5), down: Millimetres::new(-2.25) };
    let straight = set(&all, &LABEL_STOCKS[0], 4).words();
    let moved = Printed::new(&labels(&all, &LABEL_STOCKS[0], 4, led, DAY).expect("labels")).words();
    assert_eq!(straight.len(), moved.len());
    for (one, other) in straight.iter().zip(&moved) {
        assert_eq!(one.text, other.text);
        assert!((other.left - one.left - 1.5).abs() < 0.01 && (other.top - one.top + 2.25).abs() < 0.01, "{other:?}");
    }
}

#[test]
fn the_same_words_give_the_same_bytes_and_stay_words() {
    let odd = "A & #set page(height: 1cm) \\ $x$ [odd]\n*words* <b> \u{7} label-full:0";
    let all = [label(odd, dichromate()), label("Palladium stock", palladium())];
    let set = || labels(&all, &LABEL_STOCKS[0], 3, Offset::default(), DAY).expect("labels");
    let once = set();
    assert!(once == set());
    if !poppler() {
        return;
    }
    let printed = Printed::new(&once);
    printed.is_archival(1);
    let said = printed.text();
    assert!(said.contains("#set page(height: 1cm) \\ $x$ [odd] *words* <b>"), "{said}");
}

//! The page that shows how far a printer is off: its marks must stand where they say.

use handcoat_sheets::{LABEL_STOCKS, Millimetres, Offset, calibration_page};

use crate::labels::DAY;
use crate::printed::{Grey, Printed, poppler};

const DPI: usize = 600;

fn point(mm: f64) -> usize {
    (mm / 25.4 * DPI as f64).round() as usize
}

fn dark(grey: &Grey, x: usize, y: usize) -> bool {
    grey.points[y * grey.width + x] < 128
}

/// Middles of the dark runs among points, in millimetres.
fn middles(points: impl Iterator<Item = bool>) -> Vec<f64> {
    let mut found = Vec::new();
    let mut begun = None;
    for (at, is_dark) in points.chain([false]).enumerate() {
        match (is_dark, begun) {
            (true, None) => begun = Some(at),
            (false, Some(from)) => {
                found.push((from + at) as f64 / 2.0 / DPI as f64 * 25.4);
                begun = None;
            }
            _ => {}
        }
    }
    found
}

#[test]
fn rulers_step_by_a_millimetre_and_the_cross_stands_at_twenty() {
    if !poppler() {
        return;
    }
    for (right, down) in [(0.0, 0.0), (1.25, 2.5)] {
        let offset = Offset { right: Millimetres::new(right), down: Millimetres::new(down) };
        let printed = Printed::new(&calibration_page(&LABEL_STOCKS[0], offset, DAY).expect("a page"));
        printed.is_archival(1);
        let grey = printed.grey(1, DPI);
        // Along a line close to the edge lie the marks of one ruler and nothing else.
        let top = middles((point(4.0)..grey.width).map(|x| dark(&grey, x, point(down + 1.5))));
        let left = middles((point(6.0)..grey.height).map(|y| dark(&grey, point(right + 1.5), y)));
        for (marks, start, led, least) in [(top, 4.0, right, 200), (left, 6.0, down, 285)] {
            assert!(marks.len() >= least, "{} marks", marks.len());
            for mark in marks {
                let ruler = mark + start - led;
                assert!((ruler - ruler.round()).abs() < 0.1, "a mark at {ruler:.3} mm of the ruler");
            }
        }
        // The cross, through its arms: 5 mm beside its middle, where nothing else is dark.
        let column = middles((point(14.0)..point(26.0)).map(|x| dark(&grey, x, point(down + 25.0))));
        let row = middles((point(14.0)..point(30.0)).map(|y| dark(&grey, point(right + 25.0), y)));
        for (arm, led) in [(column, right), (row, down)] {
            let at = arm.iter().map(|mm| mm + 14.0 - led).find(|mm| (mm - 20.0).abs() < 3.0).expect("an arm");
            assert!((at - 20.0).abs() < 0.1, "the cross stands at {at:.3} mm");
        }
        assert!(printed.text().contains("should be 20 mm"));
        assert!(printed.text().contains(&format!("offset of {right} mm to the right and {down} mm down")));
    }
}

#[test]
fn every_stock_has_its_page_with_all_words_on_it() {
    if !poppler() {
        return;
    }
    for stock in LABEL_STOCKS {
        let bytes = calibration_page(stock, Offset::default(), DAY).expect("a page");
        assert!(bytes == calibration_page(stock, Offset::default(), DAY).expect("a page"));
        let printed = Printed::new(&bytes);
        for word in printed.words() {
            let inside = word.left >= 0.0
                && word.top >= 0.0
                && word.right <= stock.page_width.to_mm()
                && word.bottom <= stock.page_height.to_mm();
            assert!(inside, "{}: {word:?} is off the page", stock.name);
        }
        assert!(printed.text().contains("that is no fault"), "{}", stock.name);
    }
}

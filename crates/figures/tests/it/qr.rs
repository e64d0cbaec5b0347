//! A QR code is read back from its own drawing by a reader that is not ours.

use handcoat_figures::{QrError, qr, qr_modules};

/// Points a module is painted with.
const SCALE: usize = 5;

/// Paints the drawing, which knows only runs `M x y h n v1 h-n z`, into grey points.
fn paint(svg: &str) -> (usize, Vec<u8>) {
    let side: usize = svg
        .split("viewBox=\"0 0 ")
        .nth(1)
        .and_then(|rest| rest.split(' ').next())
        .expect("a box")
        .parse()
        .expect("a number");
    let path = svg.rsplit("<path d=\"").next().and_then(|rest| rest.split('"').next()).expect("a path");
    let width = side * SCALE;
    let mut grey = vec![255; width * width];
    for run in path.split('M').skip(1) {
        let numbers: Vec<usize> = run
            .split(|c: char| !c.is_ascii_digit())
            .filter(|word| !word.is_empty())
            .map(|word| word.parse().expect("digits"))
            .collect();
        let [x, y, n, 1, again] = numbers[..] else { panic!("no run: {run}") };
        assert_eq!(n, again);
        for row in y * SCALE..(y + 1) * SCALE {
            grey[row * width + x * SCALE..row * width + (x + n) * SCALE].fill(0);
        }
    }
    (width, grey)
}

#[test]
fn what_is_drawn_is_what_was_written() {
    for text in ["000176", "handcoat 000176", "ÄÖ → platinum", &"long ".repeat(60)] {
        let (width, grey) = paint(&qr(text).expect("a drawing"));
        assert_eq!(width, qr_modules(text).expect("a size") * SCALE);
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(width, width, |x, y| grey[y * width + x]);
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1, "{text}");
        assert_eq!(grids[0].decode().expect("readable").1, text);
    }
}

#[test]
fn four_modules_around_it_stay_white() {
    let (width, grey) = paint(&qr("000176").expect("a drawing"));
    let quiet = 4 * SCALE;
    let white = |x: usize, y: usize| grey[y * width + x] == 255;
    for along in 0..width {
        for across in 0..quiet {
            let far = width - 1 - across;
            assert!(white(along, across) && white(across, along) && white(along, far) && white(far, along));
        }
    }
    // And no more than four: the finder pattern begins there.
    assert!(!white(quiet, quiet));
}

#[test]
fn what_cannot_be_encoded_is_refused() {
    assert_eq!(qr(""), Err(QrError::Empty));
    let error = qr(&"x".repeat(5000)).expect_err("too long");
    assert_eq!((error.code(), &error), ("qr_too_long", &QrError::TooLong { bytes: 5000 }));
    assert!(error.to_string().contains("5000"));
}

//! A negative for ink on film: the table, its size, its border, its warnings.

use handcoat_craft::measure::{Length, ToneInput};
use handcoat_craft::negative::{
    Beyond, Border, Crop, Mark, PictureFacts, PixelSize, Rect, RuleRead, Side, table, warnings,
};

use crate::bench::near;

fn points(own: &[(f64, f64)]) -> Vec<(ToneInput, ToneInput)> {
    let part = |own| ToneInput::part(own).expect("a part");
    own.iter().map(|own| (part(own.0), part(own.1))).collect()
}

fn side(millimetres: f64) -> Length {
    Length::millimetres(millimetres).expect("a length")
}

#[test]
fn a_straight_curve_keeps_every_code_and_its_inversion_is_the_rest_to_white() {
    let straight = table(&points(&[(0.0, 0.0), (1.0, 1.0)]), false).expect("a table");
    assert!(straight.iter().enumerate().all(|(code, own)| usize::from(*own) == code));
    let inverted = table(&points(&[(0.0, 0.0), (1.0, 1.0)]), true).expect("a table");
    assert!(inverted.iter().enumerate().all(|(code, own)| usize::from(*own) == 65535 - code));
}

#[test]
fn a_table_goes_through_its_points_and_never_back() {
    let own = points(&[(0.0, 0.06), (0.2, 0.31), (0.4, 0.31), (0.8, 0.7), (1.0, 0.93)]);
    let made = table(&own, false).expect("a table");
    assert_eq!(made.len(), 65536);
    assert!(made.is_sorted());
    for (from, to) in &own {
        let code = (from.to_part() * 65535.0).round() as usize;
        assert!((f64::from(made[code]) - to.to_part() * 65535.0).abs() <= 1.0, "{from:?}");
    }
    // Between two equal points it stands still.
    assert_eq!(made[20000], made[26000]);
    assert!(table(&own[..1], false).is_err());
}

#[test]
fn a_width_of_its_own_pixels_keeps_them() {
    let picture = PixelSize { width: 7200, height: 4801 };
    assert_eq!(PixelSize::of(picture, Side::Width(side(254.0)), 720.0), Some(picture));
    let half = PixelSize::of(picture, Side::Height(side(254.0)), 360.0).expect("a size");
    assert_eq!(half, PixelSize { width: 5399, height: 3600 });
    near(half.millimetres(360.0).1, 254.0, 1e-9);
    assert_eq!(PixelSize::of(picture, Side::Width(side(0.0)), 720.0), None);
}

#[test]
fn a_border_has_eleven_steps_eight_ticks_a_rule_and_a_code_and_nothing_over_another() {
    let picture = PixelSize { width: 7200, height: 5760 };
    let border = Border::around(picture, 720.0).expect("a border");
    let tones = border.marks.iter().filter(|own| matches!(own.1, Mark::Tone(_))).count();
    assert_eq!(tones, 11);
    // Two ticks at each of four corners; eleven on the rule, and the rule.
    assert_eq!(border.marks.len() - tones, 8 + 12);
    assert_eq!(border.rule, Some(2835));
    let code = border.code.expect("room for a code");
    // Squares of 1/60 of an inch, twelve pixels; the last dark one lies within 12 mm of the picture, as far as is coated.
    assert_eq!((code.width, code.height), (29 * 12, 29 * 12));
    let dark_until = code.top + 25 * 12 - (border.picture.top + border.picture.height);
    near(f64::from(dark_until) / 720.0 * 25.4, 11.6, 0.05);
    let mut all: Vec<Rect> = border.marks.iter().map(|own| own.0).collect();
    all.extend([code, border.picture]);
    for (place, one) in all.iter().enumerate() {
        assert!(one.left + one.width <= border.sheet.width && one.top + one.height <= border.sheet.height, "{one:?}");
        assert!(all[place + 1..].iter().all(|other| !one.meets(*other)), "{one:?} lies over another");
    }
}

#[test]
fn a_small_picture_has_what_there_is_room_for() {
    let border = Border::around(PixelSize { width: 400, height: 300 }, 360.0).expect("a border");
    assert_eq!((border.rule, border.code), (None, None));
    let tiny = Border::around(PixelSize { width: 1, height: 1 }, 72.0).expect("a border");
    assert!(tiny.marks.iter().all(|own| own.1 == Mark::Ink));
    assert_eq!(Border::around(PixelSize { width: u32::MAX, height: 1 }, 720.0), None);
}

#[test]
fn warnings_come_beyond_their_bounds_and_not_before() {
    let straight = table(&points(&[(0.0, 0.0), (1.0, 1.0)]), true).expect("a table");
    let steep = table(&points(&[(0.0, 0.0), (0.1, 0.8), (1.0, 1.0)]), true).expect("a table");
    let picture = |eight_bit| PictureFacts { pixels: PixelSize { width: 1800, height: 1200 }, eight_bit };
    let codes = |picture, width: u32, table: &[u16]| -> Vec<&str> {
        warnings(picture, PixelSize { width, height: width * 2 / 3 }, 720.0, table)
            .iter()
            .map(|own| own.code())
            .collect()
    };
    assert!(codes(picture(true), 7200, &straight).is_empty());
    assert_eq!(codes(picture(false), 7236, &straight), ["source_coarse", "much_enlarged"]);
    assert_eq!(codes(picture(true), 1800, &steep), ["steps_seen"]);
    assert!(codes(picture(false), 1800, &steep).is_empty());
}

#[test]
fn a_rule_on_a_film_that_was_corrected_tells_of_the_printer_and_of_that_film() {
    // A printer that makes everything 1 % short. Its film is made with 1/0.99 as many pixels, and measures 100 mm: the printer is as it was.
    let first = RuleRead::of(side(99.0)).expect("a printer");
    assert!(first.corrected);
    near(first.counted(720.0), 720.0 / 0.99, 1e-9);
    let again = RuleRead::on(side(100.0), first.correction()).expect("a printer");
    near(again.scale, 0.99, 1e-12);
    near(again.to_millimetres(), 99.0, 1e-9);
    assert!(again.corrected && !again.differs(first));
    // Half a percent long on it: 99 mm by 1.005.
    let off = RuleRead::on(side(100.5), first.correction()).expect("a printer");
    near(off.to_millimetres(), 99.495, 1e-9);
    assert!(off.differs(first) && first.differs(off));
    // What was left as it is corrects nothing, and what is beyond a printer together is refused.
    let close = RuleRead::of(side(99.8)).expect("a printer");
    near(RuleRead::on(side(100.2), close.correction()).expect("a printer").scale, 1.002, 1e-12);
    assert!(RuleRead::on(side(97.0), 0.97).is_err() && RuleRead::of(side(97.0)).is_ok());
}

#[test]
fn sides_in_millimetres_are_plain_numbers() {
    // 1889 pixels at 360 are 133.27944… mm, and 1890 are 133.35: as a binary fraction one of them ends in a row of nines.
    for (pixels, ppi, words) in
        [(1890, 360.0, "133.35"), (3779, 720.0, "133.314722"), (1575, 300.0, "133.35"), (6299, 1200.0, "133.328833")]
    {
        let (across, _) = PixelSize { width: pixels, height: 1 }.millimetres(ppi);
        assert_eq!(across.to_string(), words);
    }
    let long = (1..4000).map(|own| PixelSize { width: own, height: 1 }.millimetres(720.0).0.to_string());
    assert!(long.into_iter().all(|own| own.split_once('.').is_none_or(|parts| parts.1.len() <= 6)));
}

#[test]
fn a_crop_says_which_side_it_goes_beyond() {
    assert_eq!(Crop::Parts(0.6, 0.0, 0.6, 1.0).beyond(), Some(Beyond { across: true, from: 0.6, size: 0.6 }));
    assert_eq!(Crop::Parts(0.0, 0.5, 1.0, 0.7).beyond(), Some(Beyond { across: false, from: 0.5, size: 0.7 }));
    assert_eq!(Crop::Parts(0.1, 0.2, 0.9, 0.8).beyond(), None, "up to both edges");
    assert_eq!(Crop::Proportion(1.0, 100_000.0).beyond(), None);
}

//! A negative for ink on film: the table, its size, its border, its warnings.

use handcoat_craft::measure::{Length, ToneInput};
use handcoat_craft::negative::{
    Beyond, Border, CodeSize, Crop, Film, Mark, PictureFacts, PixelSize, Rect, RuleRead, Side, Sides, pixels_of, table,
    warnings,
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

/// Everything of a border with its picture.
fn all_of(border: &Border) -> Vec<Rect> {
    let mut all: Vec<Rect> = border.marks.iter().map(|own| own.0).collect();
    all.extend(border.code);
    all.extend(border.line.map(|own| own.place));
    all.extend(border.rule.map(|own| own.label.place));
    all.push(border.picture);
    all
}

fn lies_apart(border: &Border) {
    let all = all_of(border);
    for (place, one) in all.iter().enumerate() {
        assert!(one.within(border.sheet), "{one:?} of {:?}", border.sides);
        let over = all[place + 1..].iter().find(|other| one.meets(**other));
        assert_eq!(over, None, "{one:?} lies over another, {:?}", border.sides);
    }
}

fn around(picture: PixelSize, ppi: f64) -> Option<Border> {
    Border::around(picture, ppi, Sides::All, CodeSize::Large)
}

#[test]
fn a_border_has_eleven_steps_eight_ticks_a_rule_and_a_code_and_nothing_over_another() {
    let picture = PixelSize { width: 7200, height: 5760 };
    let border = around(picture, 720.0).expect("a border");
    let tones: Vec<Rect> = border.marks.iter().filter(|own| matches!(own.1, Mark::Tone(_))).map(|own| own.0).collect();
    assert_eq!(tones.len(), 11);
    // Two ticks at each of four corners; eleven on the rule, and the rule; four lines around each end of the wedge.
    assert_eq!(border.marks.len() - tones.len(), 8 + 12 + 8);
    let rule = border.rule.expect("a rule");
    assert_eq!((rule.pixels, rule.millimetres), (2835, 100.0));
    let code = border.code.expect("room for a code");
    // Squares of fourteen pixels, 0.494 mm; the last dark one lies within 14 mm of the picture.
    assert_eq!((code.width, code.height), (29 * 14, 29 * 14));
    let dark_until = code.top + 25 * 14 - (border.picture.top + border.picture.height);
    near(f64::from(dark_until) / 720.0 * 25.4, 13.3, 0.1);
    lies_apart(&border);
    // The clear step of the wedge has ink on every side of it, at a distance of nothing.
    for own in [tones[0], tones[10]] {
        let ink = |x: u32, y: u32| {
            let pixel = Rect { left: x, top: y, width: 1, height: 1 };
            border.marks.iter().any(|it| it.1 == Mark::Ink && it.0.meets(pixel))
        };
        for x in own.left..own.left + own.width {
            assert!(ink(x, own.top - 1) && ink(x, own.top + own.height), "{x}");
        }
        for y in own.top..own.top + own.height {
            assert!(ink(own.left - 1, y) && ink(own.left + own.width, y), "{y}");
        }
    }
}

#[test]
fn squares_are_half_a_millimetre_where_there_is_room_and_smaller_where_there_is_none() {
    for (ppi, large, small) in [(300.0, 6, 5), (360.0, 7, 6), (720.0, 14, 12), (1440.0, 28, 24)] {
        let picture = PixelSize { width: (8.0 * ppi) as u32, height: (10.0 * ppi) as u32 };
        let square = |code| {
            let border = Border::around(picture, ppi, Sides::All, code).expect("a border");
            lies_apart(&border);
            (border.code.expect("a code").width / 29, border.sheet.height)
        };
        let ((one, high), (other, low)) = (square(CodeSize::Large), square(CodeSize::Small));
        assert_eq!((one, other), (large, small), "{ppi}");
        assert!(f64::from(high - low) / ppi * 25.4 < 2.5, "{ppi}");
    }
}

#[test]
fn a_border_on_fewer_sides_is_as_wide_as_the_picture_there_and_holds_the_same() {
    let (upright, lying) = (PixelSize { width: 2880, height: 3600 }, PixelSize { width: 3600, height: 2880 });
    let wide = pixels_of(14.0, 360.0);
    for picture in [upright, lying] {
        let (short, long) = (picture.width.min(picture.height), picture.width.max(picture.height));
        for (sides, across, along) in [
            (Sides::Short, short, long + 2 * wide),
            (Sides::OneShort, short, long + wide),
            (Sides::Long, long, short + 2 * wide),
            (Sides::OneLong, long, short + wide),
        ] {
            let border = Border::around(picture, 360.0, sides, CodeSize::Small).expect("a border");
            let on_short = matches!(sides, Sides::Short | Sides::OneShort);
            let expected = if on_short == (picture == upright) {
                PixelSize { width: across, height: along }
            } else {
                PixelSize { width: along, height: across }
            };
            assert_eq!(border.sheet, expected, "{sides:?}");
            assert_eq!((border.picture.width, border.picture.height), (picture.width, picture.height));
            lies_apart(&border);
            let tones = border.marks.iter().filter(|own| matches!(own.1, Mark::Tone(_))).count();
            let rule = border.rule.expect("a rule");
            assert_eq!((tones, rule.millimetres), (11, 100.0), "{sides:?}");
            assert!(border.code.is_some() && border.line.is_some(), "{sides:?}");
            // The wedge keeps two millimetres from the picture.
            let (free, own) = (pixels_of(2.0, 360.0), border.picture);
            let away = |place: Rect| {
                let beyond = |from: u32, size: u32, at: u32, whole: u32| {
                    at.saturating_sub(from + size).max(from.saturating_sub(at + whole))
                };
                beyond(place.left, place.width, own.left, own.width).max(beyond(
                    place.top,
                    place.height,
                    own.top,
                    own.height,
                ))
            };
            let near = border.marks.iter().filter(|own| own.1 != Mark::Ink).map(|own| away(own.0)).min();
            assert_eq!(near, Some(free), "{sides:?}");
        }
    }
    // Eight by ten inches on film of 8.5 by 11, 5 mm left free: only one short side has room.
    let room = |sides, code| {
        let border = Border::around(upright, 360.0, sides, code).expect("a border");
        let film = Film { sheet: PixelSize { width: 3060, height: 3960 }, margin: pixels_of(5.0, 360.0), gap: 0 };
        film.place(&[border.sheet]).is_ok()
    };
    assert!(!room(Sides::Short, CodeSize::Small) && !room(Sides::OneLong, CodeSize::Small));
    assert!(room(Sides::OneShort, CodeSize::Small));
}

#[test]
fn every_border_lies_apart_whatever_the_size() {
    for ppi in [72.0, 300.0, 720.0] {
        for (across, down) in [(25.0, 25.0), (60.0, 45.0), (70.0, 200.0), (101.6, 127.0), (127.0, 178.0), (254.0, 90.0)]
        {
            let picture = PixelSize { width: pixels_of(across, ppi), height: pixels_of(down, ppi) };
            for sides in Sides::ALL {
                for code in [CodeSize::Large, CodeSize::Small] {
                    lies_apart(&Border::around(picture, ppi, sides, code).expect("a border"));
                }
            }
        }
    }
}

#[test]
fn a_small_picture_has_what_there_is_room_for() {
    let rule = |millimetres: f64, sides| {
        let side = pixels_of(millimetres, 360.0);
        let border = Border::around(PixelSize { width: side, height: 2 * side }, 360.0, sides, CodeSize::Large);
        border.expect("a border").rule.map(|own| (own.millimetres, own.pixels))
    };
    // Four inches: the long rule has no room, the short one has; at two inches neither.
    assert_eq!(rule(101.6, Sides::All), Some((50.0, pixels_of(50.0, 360.0))));
    assert_eq!(rule(50.8, Sides::All), None);
    assert_eq!(rule(110.0, Sides::All), Some((100.0, pixels_of(100.0, 360.0))));
    // Where its figures stand behind it and the code beside it, it asks for more.
    assert_eq!(rule(110.0, Sides::OneShort), Some((50.0, pixels_of(50.0, 360.0))));
    let border = around(PixelSize { width: 400, height: 300 }, 360.0).expect("a border");
    assert!(border.rule.is_none() && border.code.is_none());
    let tiny = around(PixelSize { width: 1, height: 1 }, 72.0).expect("a border");
    assert!(tiny.marks.iter().all(|own| own.1 == Mark::Ink));
    assert_eq!(around(PixelSize { width: u32::MAX, height: 1 }, 720.0), None);
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

//! Where pictures lie on the film: within it, none over another, in the same way each time; what is cropped and how a rule corrects.

use handcoat_craft::measure::Length;
use handcoat_craft::negative::{
    Border, CodeSize, Crop, Film, InkSheet, NoRoom, PixelSize, Rect, RuleRead, Sides, Warning, dither_step, pixels_of,
    turned,
};
use proptest::prelude::{Strategy, any, prop, prop_assert, prop_assert_eq, prop_assume, proptest};

use crate::bench::near;

fn size(width: u32, height: u32) -> PixelSize {
    PixelSize { width, height }
}

fn sizes() -> impl Strategy<Value = Vec<PixelSize>> {
    prop::collection::vec((1_u32..400, 1_u32..400).prop_map(|own| size(own.0, own.1)), 1..12)
}

/// Two that keep a distance: grown by it on the right and below they do not meet.
fn apart(one: Rect, other: Rect, gap: u32) -> bool {
    let grown = |own: Rect| Rect { width: own.width + gap, height: own.height + gap, ..own };
    !grown(one).meets(other) && !grown(other).meets(one)
}

proptest! {
    #[test]
    fn all_lie_within_the_film_none_over_another_and_the_gap_is_kept(
        pictures in sizes(), width in 1_u32..1500, height in 1_u32..1500, margin in 0_u32..60, gap in 0_u32..40
    ) {
        let film = Film { sheet: size(width, height), margin, gap };
        match film.place(&pictures) {
            Ok(placed) => {
                prop_assert_eq!(placed.len(), pictures.len());
                for (index, (own, picture)) in placed.iter().zip(&pictures).enumerate() {
                    prop_assert_eq!(size(own.width, own.height), *picture);
                    prop_assert!(own.left >= margin && own.top >= margin);
                    prop_assert!(own.left + own.width + margin <= width && own.top + own.height + margin <= height);
                    prop_assert!(placed[index + 1..].iter().all(|other| apart(*own, *other, gap)));
                }
                // In the middle: what is left over is the same on both sides, but for one pixel.
                let (left, right) = (placed.iter().map(|own| own.left).min().unwrap_or(0), placed.iter().map(|own| own.left + own.width).max().unwrap_or(0));
                prop_assert!(left.abs_diff(width - right) <= 1);
                prop_assert_eq!(film.place(&pictures), Ok(placed));
                // What fits on a sheet fits on a larger one of one row more.
                prop_assert_eq!(film.largest(|part| (part == 1.0).then(|| pictures.clone())), Some(1.0));
            }
            Err(NoRoom { fit, of }) => {
                prop_assert_eq!(of, pictures.len());
                prop_assert!(fit < of);
                // One that fits alone is never said to have no room.
                let alone = |own: &&PixelSize| own.width + 2 * margin <= width && own.height + 2 * margin <= height;
                prop_assert_eq!(fit > 0, pictures.iter().any(|own| alone(&own)));
            }
        }
    }

    #[test]
    fn four_turns_are_none_and_a_piece_keeps_its_pixels(
        width in 1_u32..500, height in 1_u32..500, parts in any::<[u16; 4]>(), turns in 0_u8..4
    ) {
        let picture = size(width, height);
        let [left, top, across, down] = parts.map(|own| f64::from(own) / 65536.0);
        let crop = Crop::Parts(left, top, (1.0 - left) * across, (1.0 - top) * down).of(picture);
        prop_assume!(crop.is_some());
        let area = crop.expect("a piece");
        prop_assert!(area.within(picture));
        let whole = if turns % 2 == 0 { picture } else { size(height, width) };
        let there = turned(area, picture, turns);
        prop_assert!(there.within(whole));
        prop_assert_eq!(turned(there, whole, 4 - turns), area);
        // The pixel at its upper left, turned by hand: clockwise (x, y) becomes (height - 1 - y, x).
        let mut corners = vec![(area.left, area.top), (area.left + area.width - 1, area.top + area.height - 1)];
        let mut now = picture;
        for _ in 0..turns {
            corners = corners.iter().map(|(x, y)| (now.height - 1 - y, *x)).collect();
            now = size(now.height, now.width);
        }
        prop_assert_eq!((there.left, there.top), (corners[0].0.min(corners[1].0), corners[0].1.min(corners[1].1)));
    }
}

#[test]
fn a_row_is_filled_before_the_next_and_what_does_not_fit_is_counted() {
    let film = Film { sheet: size(1000, 700), margin: 10, gap: 20 };
    let placed = film.place(&[size(300, 300); 6]).expect("room");
    let lefts: Vec<u32> = placed.iter().map(|own| own.left).collect();
    // Three of 300 with two gaps of 20 are 940, and 980 are there: 10 and 20 at the left.
    assert_eq!(lefts, [30, 350, 670, 30, 350, 670]);
    assert_eq!(film.place(&[size(300, 300); 7]), Err(NoRoom { fit: 6, of: 7 }));
    let smaller = film.largest(|part| Some(vec![size((300.0 * part) as u32, (300.0 * part) as u32); 7]));
    // Four of 228 and three gaps are 972 across, and two rows are enough; of 231 they are 984, and 980 are there.
    assert_eq!(smaller, Some(0.76));
    // Higher ones first where the given order has no room.
    let high = [size(480, 100), size(480, 560), size(480, 100), size(480, 560)];
    let placed = film.place(&high).expect("room");
    assert!(placed[1].top < placed[0].top);
    assert_eq!(film.place(&[]), Ok(Vec::new()));
}

#[test]
fn a_crop_by_proportion_is_the_largest_from_the_middle() {
    let crop = |across, down, picture| Crop::Proportion(across, down).of(picture);
    assert_eq!(crop(4.0, 5.0, size(1000, 1000)), Some(Rect { left: 100, top: 0, width: 800, height: 1000 }));
    assert_eq!(crop(5.0, 4.0, size(1000, 1000)), Some(Rect { left: 0, top: 100, width: 1000, height: 800 }));
    assert_eq!(crop(1.0, 1.0, size(7, 7)), Some(Rect { left: 0, top: 0, width: 7, height: 7 }));
    assert_eq!(Crop::Parts(0.0, 0.0, 1.0, 1.0).of(size(3, 9)), Some(Rect { left: 0, top: 0, width: 3, height: 9 }));
    assert_eq!(Crop::Parts(0.5, 0.0, 0.6, 1.0).of(size(100, 9)), None);
    assert_eq!(Crop::Parts(0.0, 0.0, 0.001, 1.0).of(size(100, 9)), None);
}

#[test]
fn a_rule_corrects_beyond_three_tenths_of_a_percent_up_to_five() {
    let read = |millimetres| RuleRead::of(Length::millimetres(millimetres).expect("a length"));
    let off = read(99.5).expect("a printer");
    assert!(off.corrected);
    // 254 mm at 720 to the inch are 7200 pixels; a printer that makes 99.5 of 100 needs 7236 of them.
    assert_eq!(pixels_of(254.0, off.counted(720.0)), 7236);
    near(f64::from(7236) / 720.0 * 25.4 * 0.995, 254.0, 0.01);
    for near_enough in [99.7, 100.0, 100.3] {
        let own = read(near_enough).expect("a printer");
        assert!(!own.corrected && own.counted(720.0) == 720.0);
    }
    assert!(read(95.0).is_ok() && read(105.0).is_ok());
    assert!(read(94.9).is_err() && read(105.1).is_err());
    // The short rule is known by what it measures; half the length shows half as much.
    let short = read(49.75).expect("a printer");
    assert!((short.millimetres, short.corrected) == (50.0, false) && off.millimetres == 100.0);
    let short = read(49.5).expect("a printer");
    assert!(short.corrected && pixels_of(254.0, short.counted(720.0)) == 7273);
    assert!(read(47.5).is_ok() && read(47.4).is_err() && read(52.6).is_err());
}

#[test]
fn a_line_of_words_stands_beside_the_rule_or_along_the_side() {
    let border = |across: f64, down: f64| {
        let picture = size(pixels_of(across, 360.0), pixels_of(down, 360.0));
        Border::around(picture, 360.0, Sides::All, CodeSize::Large).expect("a border")
    };
    let (wide, high, small) = (border(254.0, 203.0), border(130.0, 180.0), border(15.0, 15.0));
    let line = wide.line.expect("a line");
    assert!(!line.upwards && line.place.left > wide.picture.left + wide.rule.expect("a rule").pixels);
    assert!(high.line.expect("a line").upwards);
    assert_eq!(small.line, None);
    for own in [&wide, &high] {
        let place = own.line.expect("a line").place;
        assert!(place.within(own.sheet) && !own.picture.meets(place));
        assert!(own.marks.iter().all(|mark| !mark.0.meets(place)) && own.code.is_none_or(|code| !code.meets(place)));
    }
}

#[test]
fn strips_of_inks_lie_one_under_the_other() {
    let sheet = InkSheet::of(3, 190.0, 360.0).expect("a sheet");
    assert_eq!(sheet.strips.len(), 3);
    let mut all: Vec<Rect> = Vec::new();
    for strip in &sheet.strips {
        assert_eq!(strip.steps.len(), 21);
        assert!(strip.steps.iter().all(|own| (own.top, own.top + own.height) == strip.rows));
        all.push(strip.name);
        all.extend(&strip.steps);
    }
    for (index, own) in all.iter().enumerate() {
        assert!(own.within(sheet.sheet) && all[index + 1..].iter().all(|other| !own.meets(*other)));
    }
    // No strip shares a row with another: never a field of two directions.
    assert!(sheet.strips.windows(2).all(|own| own[0].rows.1 < own[1].name.top));
    assert_eq!(InkSheet::of(3, 0.1, 72.0), None);
    assert_eq!(InkSheet::of(0, 190.0, 360.0), None);
}

#[test]
fn eight_bits_are_warned_of_where_a_curve_is_flat_between_its_ends() {
    let straight: Vec<u16> = (0..=u16::MAX).collect();
    near(dither_step(&straight), 1.0 / 255.0, 1e-4);
    assert_eq!(Warning::of_dither(&straight), None);
    // A fifth of the slope in the middle: a code is five times as much of the tones.
    let flat = |code: u32| match code {
        0..20000 => code * 2,
        20000..40000 => 40000 + (code - 20000) / 5,
        _ => 44000 + (code - 40000) * 21535 / 25535,
    };
    let table: Vec<u16> = (0..65536).map(|own| flat(own) as u16).collect();
    near(dither_step(&table), 5.0 / 255.0, 1e-4);
    assert_eq!(Warning::of_dither(&table).map(|own| own.code()), Some("dither_seen"));
    // Turned over it is the same; flat ends are none.
    let turned: Vec<u16> = table.iter().map(|own| u16::MAX - own).collect();
    near(dither_step(&turned), 5.0 / 255.0, 1e-4);
    let ends: Vec<u16> = (0..65536_u32).map(|own| own.clamp(20000, 40000) as u16).collect();
    near(dither_step(&ends), 1.0 / 255.0, 1e-4);
    assert!(Warning::of_range(1.9, 1.9).is_none() && Warning::of_range(1.7, 1.9).is_some());
    assert!(Warning::of_ends((0.0, 1.0)).is_none() && Warning::of_ends((0.1, 1.0)).is_some());
}

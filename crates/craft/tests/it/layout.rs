//! A chart that knows itself: the same from the same code, on every machine and for good.

use handcoat_craft::numerics::Homography;
use handcoat_craft::tone::{BookTag, ChartCode, ChartFrame, ChartInk, ChartLayout, ChartSize, DropShape, NoCode};

fn chart(size: ChartSize, seed: u32) -> ChartLayout {
    ChartLayout::of(ChartCode { size, seed, book: BookTag::of("Invented studio"), through_curve: false, ink: None })
}

/// FNV-1a of everything that depends on the seed.
fn sum(own: &ChartLayout) -> u64 {
    let mut text = String::new();
    for patch in &own.patches {
        let level = patch.input.to_part() * (own.code.size.levels() - 1) as f64;
        text.push_str(&format!("{:.0}/{}@{:.1},{:.1};", level, patch.copy, patch.at.x_mm, patch.at.y_mm));
    }
    own.cells.iter().for_each(|cell| text.push(if cell.dark { '1' } else { '0' }));
    let add = |hash: u64, byte: u8| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    text.bytes().fold(0xcbf2_9ce4_8422_2325, add)
}

#[test]
fn layout_1_stays_as_it_is() {
    // Pinned: our own output. A change here makes every chart that was printed unreadable; it needs a new version of the layout instead.
    const PINNED: [(ChartSize, u32, u64); 6] = [
        (ChartSize::Strip, 1, 8_670_671_483_192_679_863),
        (ChartSize::Twelve, 1, 17_369_396_343_673_180_582),
        (ChartSize::TwentyFour, 1, 6_577_082_557_937_562_940),
        (ChartSize::Forty, 1, 2_626_809_408_491_173_582),
        (ChartSize::NinetySix, 1, 14_916_894_530_978_541_863),
        (ChartSize::Forty, 4_294_967_295, 3_146_609_972_890_961_212),
    ];
    let found: Vec<(ChartSize, u32, u64)> =
        PINNED.iter().map(|own| (own.0, own.1, sum(&chart(own.0, own.1)))).collect();
    assert_eq!(found, PINNED);
}

#[test]
fn each_level_is_there_as_often_as_it_says_and_nothing_lies_over_another() {
    for size in ChartSize::ALL {
        for seed in [0, 1, 7, 123_456] {
            let own = chart(size, seed);
            assert_eq!(own.patches.len(), size.levels() * size.copies());
            for level in 0..size.levels() {
                let input = level as f64 / (size.levels() - 1) as f64;
                let copies: Vec<usize> =
                    own.patches.iter().filter(|own| own.input.to_part() == input).map(|own| own.copy).collect();
                assert_eq!(copies.iter().sum::<usize>(), size.copies() * (size.copies() + 1) / 2, "{copies:?}");
            }
            // Boxes: a half side each.
            let code = own.frame.code;
            let mut boxes: Vec<(f64, f64, f64)> =
                own.patches.iter().map(|own| (own.at.x_mm, own.at.y_mm, 4.0)).collect();
            boxes.extend(own.cells.iter().map(|own| (own.at.x_mm, own.at.y_mm, 1.5)));
            boxes.push((code.x_mm, code.y_mm, ChartFrame::code_side_mm() / 2.0));
            boxes.extend(own.frame.marks.iter().map(|own| (own.middle().x_mm, own.middle().y_mm, 2.7)));
            for (place, one) in boxes.iter().enumerate() {
                for other in boxes.iter().skip(place + 1) {
                    let apart = (one.0 - other.0).abs().max((one.1 - other.1).abs());
                    assert!(apart > one.2 + other.2, "{size:?}: {one:?} {other:?}");
                }
                let inside = |at: f64, most: f64| at - one.2 > 0.0 && at + one.2 < most;
                assert!(inside(one.0, own.frame.width_mm) && inside(one.1, own.frame.height_mm), "{one:?}");
            }
        }
    }
}

#[test]
fn charts_fit_the_sheets_they_are_said_to_fit() {
    let fits = |size: ChartSize, wide: f64, high: f64| {
        let own = ChartFrame::of(size);
        own.width_mm <= wide && own.height_mm <= high
    };
    assert!(fits(ChartSize::Strip, 127.0, 101.6) && fits(ChartSize::Twelve, 127.0, 101.6));
    assert!(fits(ChartSize::TwentyFour, 177.8, 127.0) && fits(ChartSize::Forty, 177.8, 127.0));
    assert!(fits(ChartSize::NinetySix, 254.0, 203.2));
}

#[test]
fn two_of_one_level_lie_apart() {
    for size in ChartSize::ALL {
        let own = chart(size, 1);
        for (place, one) in own.patches.iter().enumerate() {
            for other in own.patches.iter().skip(place + 1).filter(|own| own.input == one.input) {
                let far = libm::hypot(one.at.x_mm - other.at.x_mm, one.at.y_mm - other.at.y_mm);
                assert!(far > 14.0, "{size:?}: {far}");
            }
        }
    }
}

#[test]
fn a_code_says_what_the_chart_is_and_nothing_else_is_one() {
    for size in ChartSize::ALL {
        for through_curve in [false, true] {
            let own =
                ChartCode { size, seed: u32::MAX, book: BookTag::of("Köln & Söhne 1901"), through_curve, ink: None };
            let text = own.to_string();
            assert!(text.len() <= 38, "{text}");
            assert_eq!(ChartCode::read(&text), Ok(own));
        }
    }
    assert_eq!(ChartCode::read("HANDCOAT 2/40/1//P"), Err(NoCode::Later(2)));
    for text in [
        "",
        "HANDCOAT",
        "HANDCOAT 1/41/1//P",
        "HANDCOAT 1/40/01//P",
        "HANDCOAT 1/40/1//X",
        "HANDCOAT 1/40/1/A B/P",
        "X",
    ] {
        assert_eq!(ChartCode::read(text), Err(NoCode::Foreign), "{text}");
    }
}

#[test]
fn a_code_says_the_ink_and_gives_up_letters_of_the_book_for_it() {
    let code = |seed, ink: [u16; 3]| ChartCode {
        size: ChartSize::Forty,
        seed,
        book: BookTag::of("Invented studio"),
        through_curve: false,
        ink: Some(ChartInk(ink)),
    };
    let (eight, sixteen) = ([0x20 * 257, 0x40 * 257, 0x60 * 257], [8224, 16448, 24673]);
    let cases = [
        (code(7, eight), "HANDCOAT 1/40/7/INVENTED/P204060", "#204060"),
        (code(4_294_967_295, eight), "HANDCOAT 1/40/4294967295/INVEN/P204060", "#204060"),
        (code(7, sixteen), "HANDCOAT 1/40/7/INVENTED/P202040406061", "8224,16448,24673"),
        (code(1_234_567, sixteen), "HANDCOAT 1/40/1234567/IN/P202040406061", "8224,16448,24673"),
    ];
    for (own, text, ink) in cases {
        let own = own.fitted().expect("room");
        assert_eq!(own.to_string(), text);
        assert!(text.len() <= 38);
        assert_eq!(own.ink.map(|own| own.to_string()).as_deref(), Some(ink));
        assert_eq!(ChartCode::read(text), Ok(own));
    }
    assert_eq!(code(4_294_967_295, sixteen).fitted(), None);
    for text in ["P20406", "P20406g", "P20406a", "P202020404060606", "P202020404040", "X204060", "Pé0406"] {
        let text = format!("HANDCOAT 1/40/1//{text}");
        let read = ChartCode::read(&text);
        assert!(read == Err(NoCode::Foreign) || read.as_ref().is_ok_and(|own| own.to_string() == text), "{text}");
    }
    assert_eq!(ChartCode::read("HANDCOAT 1/40/1//P20406a"), Err(NoCode::Foreign));
}

#[test]
fn a_drop_has_the_area_and_the_outline_geometry_gives() {
    // Known: a circle of radius r and the two tangents from a point at d: area r²(π − acos(r/d)) + r √(d² − r²); r 2.6, d 6.4.
    let angle = libm::acos(2.6 / 6.4);
    let leg = libm::sqrt(6.4 * 6.4 - 2.6 * 2.6);
    let (area, outline) = (
        2.6 * 2.6 * (std::f64::consts::PI - angle) + 2.6 * leg,
        2.0 * (std::f64::consts::PI - angle) * 2.6 + 2.0 * leg,
    );
    let (solid, hollow) = (DropShape::of(false), DropShape::of(true));
    assert!((solid.area_mm2 - area).abs() < 0.02, "{} {area}", solid.area_mm2);
    assert!((hollow.area_mm2 - (area - 3.4 * 1.2)).abs() < 0.02);
    assert!((solid.outline_mm - outline).abs() < 1e-9);
    assert!(solid.skew > 0.3 && solid.length > 1.3, "{solid:?}");
}

#[test]
fn a_projective_map_is_found_again() {
    // A map chosen by hand; nine places through it.
    let map = |x: f64, y: f64| {
        let w = 0.0004 * x - 0.0003 * y + 1.0;
        ((5.1 * x + 0.7 * y + 40.0) / w, (-0.6 * x + 4.9 * y + 300.0) / w)
    };
    let places = [(0.0, 0.0), (134.0, 0.0), (134.0, 104.0), (0.0, 104.0), (60.0, 20.0), (20.0, 90.0), (100.0, 50.0)];
    let pairs: Vec<_> = places.iter().map(|own| (*own, map(own.0, own.1))).collect();
    for pairs in [&pairs[..4], &pairs[..]] {
        let own = Homography::through(pairs).expect("a map");
        let back = own.inverse().expect("a way back");
        for (x, y) in [(10.0, 10.0), (67.0, 52.0), (120.0, 99.0)] {
            let (u, v) = own.map(x, y);
            let (a, b) = map(x, y);
            assert!((u - a).abs() < 1e-8 && (v - b).abs() < 1e-8, "{u} {a} {v} {b}");
            let (p, q) = back.map(u, v);
            assert!((p - x).abs() < 1e-9 && (q - y).abs() < 1e-9);
        }
        assert!(own.residual(pairs) < 1e-8);
    }
    assert!(Homography::through(&pairs[..3]).is_none());
    let line: Vec<_> = (0..5).map(|own| ((f64::from(own), f64::from(own)), (f64::from(own), 0.0))).collect();
    assert!(Homography::through(&line).is_none());
}

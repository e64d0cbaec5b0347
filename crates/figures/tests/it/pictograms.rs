//! Nine signs, each its own, in a frame that survives printing in black.

use handcoat_craft::source::Pictogram;
use handcoat_figures::{Theme, pictogram};

#[test]
fn each_is_its_own_and_says_what_it_is() {
    let drawings: Vec<String> = Pictogram::all().iter().map(|sign| pictogram(*sign, Theme::Paper)).collect();
    for (place, (sign, drawing)) in Pictogram::all().iter().zip(&drawings).enumerate() {
        assert!(drawing.contains(&format!("<title>{} {}</title>", sign.code(), sign.name())), "{drawing}");
        let symbol = |text: &str| text.split("</desc>").nth(1).map(str::to_owned);
        assert!(drawings[..place].iter().all(|other| symbol(other) != symbol(drawing)), "{sign} is drawn twice");
        assert!(!drawing.contains("INK") && !drawing.contains("GROUND"), "{sign}: a colour is missing");
    }
}

#[test]
fn the_red_of_the_frame_prints_dark() {
    let drawing = pictogram(Pictogram::Skull, Theme::Paper);
    let (_, after) = drawing.split_once("stroke=\"#").expect("a frame");
    let channel = |at: usize| f64::from(u8::from_str_radix(&after[at..at + 2], 16).expect("two hex digits"));
    // Luma of ITU-R BT.601, which printers' drivers use for grey (from memory).
    let grey = 0.299 * channel(0) + 0.587 * channel(2) + 0.114 * channel(4);
    assert!(grey < 0.3 * 255.0, "the frame prints at {grey:.0} of 255");
    assert!(channel(0) > 2.0 * channel(2) && channel(0) > 2.0 * channel(4), "the frame is red");
}

#[test]
fn on_a_page_all_colours_are_the_pages() {
    for sign in Pictogram::all() {
        let drawing = pictogram(sign, Theme::Page);
        assert!(!drawing.contains("#fff") && !drawing.contains("#000"), "{sign}: a literal colour lights up");
        assert!(drawing.contains("var(--ink)") && drawing.contains("var(--sheet)"), "{sign}");
    }
}

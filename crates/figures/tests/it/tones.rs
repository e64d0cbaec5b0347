//! Drawings of the station tone: what they say, where their words lie, and which readings they cross out.

use handcoat_craft::measure::{Length, Lightness, ToneInput};
use handcoat_craft::tone::{Correction, PatchReading, Place, Target, ToneFit, ToneLeft, fit};
use handcoat_figures::{PlotWidth, Theme, correction_plot, drift_map, left_plot, residual_plot, response_plot};

/// Twenty-one patches on a sheet that is lighter to the right; one is wrong by 9 L*.
fn chart(placed: bool) -> (Vec<PatchReading>, ToneFit, Correction) {
    let one = |patch: usize| {
        let level = (patch * 8) % 21;
        let x = level as f64 / 20.0;
        let across = 20.0 * (patch % 7) as f64;
        let wrong = if patch == 11 { -9.0 } else { 0.0 };
        let value = 22.0 + 70.0 / (1.0 + (-8.0 * (x - 0.45)).exp()) + 0.02 * across + wrong;
        let at = |own: f64| Length::millimetres(own).expect("a length");
        PatchReading {
            input: ToneInput::part(x).expect("an input"),
            lightness: Lightness::l_star(value).expect("a lightness"),
            place: placed.then(|| Place { across: at(across), down: at(20.0 * (patch / 7) as f64) }),
            spread: None,
        }
    };
    let readings: Vec<PatchReading> = (0..21).map(one).collect();
    let found = fit(&readings, None).expect("a fit");
    let correction = Correction::of(&found, Target::Lightness).expect("a correction");
    (readings, found, correction)
}

fn count(svg: &str, what: &str) -> usize {
    svg.matches(what).count()
}

#[test]
fn every_reading_is_there_and_says_how_far_it_is_off() {
    let (readings, found, correction) = chart(true);
    assert_eq!(found.outliers, [11]);
    for width in [PlotWidth::Phone, PlotWidth::Page] {
        for svg in [
            response_plot(&readings, &found, &correction, width, Theme::Page),
            residual_plot(&readings, &found, width, Theme::Page),
        ] {
            assert_eq!(count(&svg, "than the curve"), readings.len(), "{svg}");
            assert_eq!(count(&svg, "; left aside"), 1);
            assert_eq!(count(&svg, "<circle"), readings.len() - 1, "what is left aside is crossed out");
            assert!(svg.contains("darker than the curve; left aside"), "{svg}");
            assert!(!svg.contains("NaN") && !svg.contains("inf"));
        }
    }
}

#[test]
fn the_correction_says_what_is_sent_and_the_rest_what_was_off() {
    let (_, _, correction) = chart(true);
    let svg = correction_plot(&correction, PlotWidth::Page, Theme::Paper);
    let sent = format!("{:.3} for white", correction.white.sent.to_part());
    assert!(svg.contains(&sent), "{sent} in {svg}");
    let left: Vec<ToneLeft> = (0..=256)
        .map(|row| ToneLeft { tone: f64::from(row) / 256.0, off: if row == 64 { -3.25 } else { 0.1 }, standard: 0.2 })
        .collect();
    let svg = left_plot(&left, PlotWidth::Page, Theme::Page);
    assert!(svg.contains("Most at tone 0.25: 3.25 L* darker than wanted"), "{svg}");
    let nothing = left_plot(&[], PlotWidth::Phone, Theme::Page);
    assert!(!nothing.contains("NaN") && !nothing.contains("inf"));
}

#[test]
fn the_map_has_a_dot_for_each_place_and_none_without_places() {
    let (readings, found, _) = chart(true);
    let svg = drift_map(&readings, &found, Theme::Page).expect("a map");
    assert_eq!(count(&svg, "<circle"), readings.len());
    assert!(count(&svg, "L* darker") > 0 && count(&svg, "L* lighter") > 0, "{svg}");
    let (readings, found, _) = chart(false);
    assert_eq!(drift_map(&readings, &found, Theme::Page), None);
}

//! Corrections, targets, what a second print says, which patches come next, and when a response is doubted: by their properties.

use handcoat_craft::colour;
use handcoat_craft::measure::{Area, Length, Lightness, PrintDensity, ToneInput};
use handcoat_craft::numerics::Pchip;
use handcoat_craft::source::NOTHING_GAINED;
use handcoat_craft::tone::{
    CORRECTION_ROWS, Correction, Doubt, PatchReading, Place, RESPONSE_ROWS, Response, SetupPart, Since, Standing,
    Target, doubts, fit, next_patches, standing, verify,
};

use crate::bench::near;

fn input(part: f64) -> ToneInput {
    ToneInput::part(part).expect("an input")
}

fn light(l_star: f64) -> Lightness {
    Lightness::l_star(l_star).expect("a lightness")
}

fn response(of: impl Fn(f64) -> f64, standard: f64) -> Response {
    let rows = (0..RESPONSE_ROWS).map(|row| of(Response::input_of(row))).collect();
    Response::new(rows, vec![standard; RESPONSE_ROWS]).expect("a response")
}

/// A print that is steep in the middle and flat at its ends.
fn sigmoid(x: f64) -> f64 {
    let bent = |x: f64| 1.0 / (1.0 + libm::exp(-9.0 * (x - 0.4)));
    22.0 + 71.0 * (bent(x) - bent(0.0)) / (bent(1.0) - bent(0.0))
}

fn printed(of: impl Fn(f64) -> f64, inputs: &[f64]) -> Vec<PatchReading> {
    let one = |own: &f64| PatchReading { input: input(*own), lightness: light(of(*own)), place: None, spread: None };
    inputs.iter().map(one).collect()
}

fn even(count: usize) -> Vec<f64> {
    (0..count).map(|own| own as f64 / (count - 1) as f64).collect()
}

#[test]
fn a_paper_that_is_straight_needs_no_correction() {
    let straight = response(|x| 20.0 + 70.0 * x, 0.0);
    let own = Correction::of_response(&straight, Target::Lightness).expect("a correction");
    assert_eq!(own.inputs().len(), CORRECTION_ROWS);
    for (row, sent) in own.inputs().iter().enumerate() {
        near(*sent, Correction::tone_of(row), 0.01);
    }
    // Within half a step of L* of white nothing more is gained; what is sent is white all the same.
    near(own.white.at.best.to_part(), 1.0 - NOTHING_GAINED.value / 70.0, 1e-9);
    near(own.inputs()[CORRECTION_ROWS - 2], 255.0 / 256.0, 0.01);
}

#[test]
fn read_backwards_the_response_prints_what_is_wanted() {
    let curved = response(sigmoid, 0.3);
    for target in Target::ALL {
        let own = Correction::of_response(&curved, target).expect("a correction");
        assert!(own.inputs().is_sorted(), "{target:?}");
        for row in own.predicted() {
            // Where the paper stands still the margin is worth some tenths; elsewhere smoothing costs next to nothing.
            let most = if (0.02..=0.98).contains(&row.tone) { 0.1 } else { 0.6 };
            near(row.expected, row.wanted, most);
            near(row.expected, sigmoid(row.sent), 0.05);
        }
        let (black, white) = (light(curved.black()), light(curved.white()));
        near(target.wanted(input(0.0), black, white).to_l_star(), curved.black(), 1e-9);
        near(target.wanted(input(1.0), black, white).to_l_star(), curved.white(), 1e-9);
    }
}

#[test]
fn the_lookup_table_through_it_never_falls() {
    let own = Correction::of_response(&response(sigmoid, 0.3), Target::Lightness).expect("a correction");
    let tones: Vec<f64> = (0..CORRECTION_ROWS).map(Correction::tone_of).collect();
    let curve = Pchip::through(&tones, own.inputs()).expect("a curve");
    let mut last = 0.0;
    for code in 0..=65_535_u32 {
        let at = curve.at(f64::from(code) / 65_535.0).expect("inside");
        assert!(at >= last, "{code}: {at} after {last}");
        last = at;
    }
    near(own.send(input(0.5)).to_part(), curve.at(0.5).expect("inside"), 1e-15);
}

#[test]
fn of_inputs_that_print_the_same_end_the_one_that_just_reaches_it_is_sent() {
    let saturated = |x: f64| (20.0 + 90.0 * (x - 0.15)).clamp(20.0, 83.0);
    // White is there from 0.85 on, black up to 0.15.
    let sure = Correction::of_response(&response(saturated, 0.0), Target::Lightness).expect("a correction");
    let reached = 0.85 - NOTHING_GAINED.value / 90.0;
    near(sure.white.at.best.to_part(), reached, 1e-3);
    near(sure.white.at.standard(), 0.0, 1e-12);
    assert!(sure.inputs()[256] > 0.83 && sure.inputs()[256] < 0.86, "{}", sure.inputs()[256]);
    assert!(sure.inputs()[0] > 0.14 && sure.inputs()[0] < 0.17, "{}", sure.inputs()[0]);
    // The less is known, the further beyond.
    let unsure = Correction::of_response(&response(saturated, 0.8), Target::Lightness).expect("a correction");
    assert!(unsure.white.at.standard() > 0.002, "{:?}", unsure.white);
    assert!(unsure.inputs()[256] >= sure.inputs()[256]);
}

#[test]
fn a_response_that_stands_still_leaves_no_step_in_the_correction() {
    let stands = |x: f64| if x < 0.4 { 20.0 + 75.0 * x } else { (50.0 + 100.0 * (x - 0.6)).max(50.0) };
    let own = Correction::of_response(&response(stands, 0.2), Target::Lightness).expect("a correction");
    let steps: Vec<f64> = own.inputs().windows(2).map(|pair| pair[1] - pair[0]).collect();
    assert!(steps.iter().all(|own| (0.0..0.1).contains(own)), "{:?}", steps.iter().copied().fold(0.0, f64::max));
    assert!(Correction::of_response(&response(|x| 50.0 + 5.0 * x, 0.1), Target::Lightness).is_err());
}

#[test]
fn targets_are_spaced_as_they_say() {
    let (black, white) = (light(22.0), light(92.0));
    let at = |target: Target, tone: f64| target.wanted(input(tone), black, white).to_l_star();
    near(at(Target::Lightness, 0.5), 57.0, 1e-9);
    // Half way in density, by CIE 15's L* both ways.
    let dense = |own: Lightness| colour::density(own).expect("a density").to_density();
    let middle = PrintDensity::density((dense(black) + dense(white)) / 2.0).expect("a density");
    near(at(Target::Density, 0.5), colour::lightness(middle).to_l_star(), 1e-9);
    // Straight to 0.8, and half the contrast of the straight part where it arrives.
    let straight = (at(Target::SoftWhites, 0.6) - at(Target::SoftWhites, 0.5)) / 0.1;
    let arriving = (at(Target::SoftWhites, 1.0) - at(Target::SoftWhites, 0.999)) / 0.001;
    near(arriving / straight, 0.5, 0.005);
    near(at(Target::SoftWhites, 0.8) - at(Target::SoftWhites, 0.0), 0.8 * straight, 1e-9);
    for tone in [0.0, 0.1, 0.3, 0.9] {
        near(at(Target::SoftBlacks, tone) - 22.0, 92.0 - at(Target::SoftWhites, 1.0 - tone), 1e-9);
    }
    for target in Target::ALL {
        let all: Vec<f64> = even(101).into_iter().map(|own| at(target, own)).collect();
        assert!(all.is_sorted(), "{target:?}");
    }
}

#[test]
fn a_second_print_says_what_is_left() {
    let first = fit(&printed(sigmoid, &even(33)), None).expect("a fit");
    let own = Correction::of(&first, Target::Lightness).expect("a correction");
    let right = printed(|tone| sigmoid(own.send(input(tone)).to_part()), &even(33));
    let verified = verify(&right, &own, &first.memory).expect("verified");
    assert!(verified.rms < 0.5, "{}", verified.rms);
    // Printed without the curve, the paper shows itself.
    let without = verify(&printed(sigmoid, &even(33)), &own, &first.memory).expect("verified");
    assert!(
        without.rms > 5.0 && without.beside_noise > 5.0 && !without.within_noise(),
        "{} {} {}",
        without.rms,
        without.noise,
        without.beside_noise
    );
    assert!(without.worst().expect("a worst").off.abs() >= without.rms);
    assert!(without.beyond > 0.5);
    // A lighter sheet as a whole is no error of tone.
    let lighter: Vec<PatchReading> =
        right.iter().map(|own| PatchReading { lightness: light(own.lightness.to_l_star() + 1.5), ..*own }).collect();
    near(verify(&lighter, &own, &first.memory).expect("verified").rms, verified.rms, 0.2);
}

#[test]
fn the_next_patches_are_worth_their_paper() {
    let mut readings = printed(sigmoid, &even(21));
    for (k, own) in readings.iter_mut().enumerate() {
        // A scatter that no curve follows.
        let off = if k % 2 == 0 { 0.6 } else { -0.6 };
        own.lightness = light(own.lightness.to_l_star() + off);
        own.place = Some(Place {
            across: Length::millimetres(10.0 * k as f64).expect("a length"),
            down: Length::millimetres(10.0 * (k % 3) as f64).expect("a length"),
        });
    }
    let own = fit(&readings, None).expect("a fit");
    let area = Area::square_centimetres(1.5).expect("an area");
    let next = next_patches(&|inputs| own.expected_after(inputs), area, 8);
    assert!(!next.patches.is_empty() && next.patches.len() <= 8);
    assert!(next.after() < next.now);
    let mut before = next.now;
    for patch in &next.patches {
        near(patch.gain_per_cm2 * 1.5, before - patch.expected, 1e-12);
        assert!(patch.expected < before);
        before = patch.expected;
    }
    let spread: Vec<ToneInput> = even(next.patches.len()).into_iter().map(input).collect();
    assert!(next.after() <= own.expected_after(&spread) + 1e-9, "no better than evenly spaced");
    assert_eq!(next.levels().iter().map(|own| own.1).sum::<usize>(), next.patches.len());
    // Nothing to gain, nothing to print.
    assert!(next_patches(&|_| 0.3, area, 8).patches.is_empty());
}

#[test]
fn a_response_is_doubted_for_what_changed() {
    let fresh = Since { verified: true, lamp_hours: Some(10.0), days: Some(7), ..Since::default() };
    assert_eq!(standing(&doubts(&fresh)), Standing::Holds);
    let unknown = Since { verified: true, ..Since::default() };
    assert_eq!(doubts(&unknown), []);
    let old = Since { lamp_hours: Some(80.0), days: Some(200), ..Since::default() };
    let found = doubts(&old);
    assert_eq!(found, [Doubt::LampOlder(80.0), Doubt::Old(200), Doubt::NeverVerified]);
    assert_eq!(standing(&found), Standing::Check);
    let other = Since { changed: vec![SetupPart::Ink, SetupPart::Paper, SetupPart::Ink], verified: true, ..fresh };
    let found = doubts(&other);
    assert_eq!(found, [Doubt::Changed(SetupPart::Paper), Doubt::Changed(SetupPart::Ink)]);
    assert_eq!(standing(&found), Standing::Stale);
    assert_eq!(
        found.first().map(ToString::to_string).unwrap_or_default().split(' ').take(2).collect::<Vec<_>>(),
        ["the", "paper"]
    );
}

//! A proof: tint between what is known, tones through curve and response.

use handcoat_craft::colour::{Lab, Srgb8};
use handcoat_craft::measure::ToneInput;
use handcoat_craft::tone::{Proof, Tint};

fn part(own: f64) -> ToneInput {
    ToneInput::part(own).expect("an input")
}

fn lab(l_star: f64, a_star: f64, b_star: f64) -> Lab {
    Lab { l_star, a_star, b_star }
}

#[test]
fn tint_is_the_mean_of_copies_and_straight_between_levels() {
    let read = [(part(1.0), lab(90.0, 0.0, 4.0)), (part(0.0), lab(19.0, 2.0, 7.0)), (part(0.0), lab(21.0, 4.0, 9.0))];
    let tint = Tint::read(&read);
    assert_eq!(tint.known(), [lab(20.0, 3.0, 8.0), lab(90.0, 0.0, 4.0)]);
    assert_eq!(tint.at(55.0), lab(55.0, 1.5, 6.0));
    // Level beyond what was read.
    assert_eq!((tint.at(5.0), tint.at(99.0)), (lab(5.0, 3.0, 8.0), lab(99.0, 0.0, 4.0)));
    assert_eq!(Tint::default().at(40.0), lab(40.0, 0.0, 0.0));
    assert_eq!(Tint::even(1.0, -2.0).at(40.0), lab(40.0, 1.0, -2.0));
}

#[test]
fn a_proof_has_the_black_and_the_white_of_its_paper() {
    let of = |l_star: f64| Srgb8::of_lab(lab(l_star, 0.0, 0.0));
    let straight = Proof { lightness: vec![20.0, 50.0, 95.0], curve: Vec::new(), tint: Tint::default() };
    let colours = straight.colours().expect("colours");
    assert_eq!((colours[0], colours[65535]), (of(20.0), of(95.0)));
    assert_eq!(colours[16384], of(20.0 + 60.0 * 16384.0 / 65535.0));
    // What is sent for half the tone is a quarter: half way between the first two rows.
    let curve = vec![(part(0.0), part(0.0)), (part(0.5), part(0.25)), (part(1.0), part(1.0))];
    let curved = Proof { curve, ..straight.clone() }.colours().expect("colours");
    assert_eq!(curved[32768], of(35.0));
    // Points that are no curve, and no lightness at all.
    let point = vec![(part(0.5), part(0.5))];
    assert_eq!(Proof { curve: point, ..straight.clone() }.colours(), None);
    assert_eq!(Proof { lightness: Vec::new(), ..straight }.colours(), None);
    let wanted = Proof::wanted().colours().expect("colours");
    assert_eq!((wanted[0], wanted[65535]), (of(0.0), of(100.0)));
}

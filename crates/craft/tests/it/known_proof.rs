//! What a proof shows against what colour-science 0.4.7 makes of the same tones: L*a*b* to X, Y, Z by CIE 15:2018, 8.2.1, to the codes of IEC 61966-2-1:1999. The
//! table is `tests/known/proofs.csv`, made by the script beside it.

use handcoat_craft::tone::{Proof, Tint};

/// A code is rounded to the nearest; the constants of both agree to five digits.
const OFF: f64 = 0.52;

fn rows() -> Vec<[f64; 6]> {
    let table = include_str!("../../../../tests/known/proofs.csv");
    let row = |line: &str| {
        let cells: Vec<f64> = line.split(',').map(|own| own.parse().expect("a number")).collect();
        <[f64; 6]>::try_from(cells).expect("six cells")
    };
    table.lines().map(row).collect()
}

#[test]
fn a_proof_shows_what_a_library_makes_of_its_tones() {
    let mut tried = 0;
    for [l_star, a_star, b_star, red, green, blue] in rows() {
        // A print that has this one tone from 0 to 1, and one that has it between its black and its white.
        let even = Proof { lightness: vec![l_star, l_star], curve: Vec::new(), tint: Tint::even(a_star, b_star) };
        let between = Proof { lightness: vec![0.0, 2.0 * l_star], ..even.clone() };
        let (even, between) = (even.colours().expect("colours"), between.colours().expect("colours"));
        // Half of 65,535 lies between two codes, so a tone between is taken from the nearer and is off by less than its share.
        for (own, slack) in [(even[12_345], 0.0), (between[32_768], 0.01)] {
            let codes = [own.red, own.green, own.blue].into_iter().zip([red, green, blue]);
            for (own, known) in codes {
                let off = (f64::from(own) - known).abs();
                assert!(off <= OFF + slack, "{l_star} {a_star} {b_star}: {own} and {known}");
            }
        }
        tried += 1;
    }
    assert_eq!(tried, 164);
}

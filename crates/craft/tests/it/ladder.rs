//! The halving ladder: the same metal in fewer or more drops, enough of every rung, and what halving costs.

use handcoat_craft::measure::{Bounded, PercentByVolume, Volume};
use handcoat_craft::source::Citation;
use handcoat_craft::stock::{Balance, Ladder, Powder};
use proptest::{prop_assert, proptest};

use crate::bench::{g, ml, near, powder, q};
use crate::known_chemistry::{Known, computed};
use crate::known_montecarlo::{Pcg, mean_and_deviation};

const SALT: &str = "Na2PtCl6·6H2O";

fn halve(powder: &Powder, top: f64, keep: &str, rungs: u32, step: Option<&str>) -> Ladder {
    let top = PercentByVolume::grams_per_100_ml(top).expect("a percentage");
    let balance = step.and_then(|step| Balance::with_step(q(step)));
    Ladder::halve(powder, top, q(keep), rungs, balance).expect("a ladder")
}

#[test]
fn milligrams_of_platinum_on_each_rung() {
    // The trade's figures, as rounded there: each stands for half a unit of its last digit either way.
    const TRADE: Citation = computed("periodictable", "version 2.1.0, trade figures recomputed");
    const ANHYDROUS: [(f64, f64); 5] = [(86.0, 0.5), (43.0, 0.5), (21.5, 0.05), (10.7, 0.05), (5.4, 0.05)];
    const HEXAHYDRATE: [(f64, f64); 5] = [(69.0, 0.5), (35.0, 0.5), (17.0, 0.5), (8.7, 0.05), (4.3, 0.05)];
    for (what, figures) in [("Na2PtCl6", ANHYDROUS), (SALT, HEXAHYDRATE)] {
        let ladder = halve(&powder(what), 20.0, "10mL", 5, None);
        for (rung, (value, tolerance)) in ladder.rungs.iter().zip(figures) {
            Known { what, value, tolerance, cite: TRADE }.is(rung.metal.to_milligrams_per_millilitre());
        }
    }
}

#[test]
fn one_drop_is_two_of_the_next_rung() {
    // 1 drop of 20 % = 2 of 10 % = 4 of 5 % = 8 of 2.5 % = 16 of 1.25 %: same platinum, other water.
    let ladder = halve(&powder(SALT), 20.0, "10mL", 5, Some("0.01g"));
    let percents: Vec<f64> = ladder.rungs.iter().map(|rung| rung.percent.to_grams_per_100_ml()).collect();
    assert_eq!(percents, [20.0, 10.0, 5.0, 2.5, 1.25]);
    let of_one_drop = |place: usize| ladder.rungs[place].metal.to_milligrams_per_millilitre() * 0.05;
    for (place, drops) in [1.0, 2.0, 4.0, 8.0, 16.0].into_iter().enumerate() {
        near(drops * of_one_drop(place), of_one_drop(0), 1e-12);
        near(drops * ladder.rungs[place].molarity.in_unit(), ladder.rungs[0].molarity.in_unit(), 1e-12);
    }
}

#[test]
fn every_rung_has_enough_left() {
    // Exactly it would be 10 (1 + ½ + ¼ + ⅛ + 1/16); a cylinder reads tenths under 10 mL and halves above. From the last
    // rung up: 5 + 5; 7.5 + 7.5; 8.75, so 8.8 + 8.8; 9.4 + 9.4; 10 + 9.4, so 19.5, a fifth of it powder.
    let ladder = halve(&powder(SALT), 20.0, "10mL", 5, None);
    let made: Vec<f64> = ladder.rungs.iter().map(|rung| ml(rung.make)).collect();
    assert_eq!(made, [19.5, 18.8, 17.6, 15.0, 10.0]);
    near(g(ladder.powder), 3.9, 1e-9);
    for (above, below) in ladder.rungs.iter().zip(&ladder.rungs[1..]) {
        let left = ml(above.make) - ml(below.from_above.expect("every rung but the first is drawn"));
        assert!((10.0 - 1e-9..10.5).contains(&left), "{left}");
    }
    let first = &ladder.rungs[0];
    assert_eq!((first.from_above, first.water), (None, None));
}

#[test]
fn small_halves_are_equal_as_they_are_read() {
    for keep in ["1mL", "1.5mL", "2mL", "3.3mL", "7mL", "12.5mL", "60mL"] {
        let ladder = halve(&powder(SALT), 20.0, keep, 6, None);
        for rung in &ladder.rungs[1..] {
            let (half, made) = (ml(rung.from_above.expect("a half")), ml(rung.make));
            // In tenths, as the text shows them, two halves are the whole.
            near(half * 10.0, (half * 10.0).round(), 1e-9);
            near(made, 2.0 * half, 1e-9);
        }
    }
}

#[test]
fn a_ladder_says_what_its_jar_leaves_open() {
    let codes = |salt: &str| -> Vec<&str> {
        halve(&powder(salt), 20.0, "10mL", 3, None).warnings.iter().map(|warning| warning.code()).collect()
    };
    assert_eq!(codes("Na2PtCl6"), ["sealed_vial", "hydration_unstated", "purity_unstated"]);
    assert_eq!(codes(SALT), ["sealed_vial", "purity_unstated"]);
    assert_eq!(codes("K2PtCl4"), ["sealed_vial", "may_crystallise", "purity_unstated"]);
    // Palladium comes in a jar.
    assert_eq!(codes("K2PdCl4"), ["purity_unstated"]);
    assert_eq!(codes("Na2PdCl4"), ["hydration_unstated", "purity_unstated"]);
}

#[test]
fn powder_from_a_jar_is_rounded_to_the_scale_and_the_strength_with_it() {
    let ladder = halve(&powder("K2PdCl4"), 11.0, "7mL", 2, Some("0.1g"));
    // 7 + 3.5 mL, so 10.5; 1.155 g asked, 1.2 g weighed.
    near(g(ladder.powder), 1.2, 1e-9);
    near(ladder.rungs[0].percent.in_unit(), 1.2 / 10.5 * 100.0, 1e-9);
    near(ladder.rungs[1].percent.in_unit(), 1.2 / 21.0 * 100.0, 1e-9);
    // A vial is taken as it is.
    near(g(halve(&powder(SALT), 11.0, "7mL", 2, Some("0.1g")).powder), 1.155, 1e-9);
}

#[test]
fn half_is_the_rung_above_and_half_is_water() {
    for rung in &halve(&powder("Na2PtCl6"), 10.0, "15mL", 4, None).rungs[1..] {
        assert_eq!(rung.from_above, rung.water);
        near(ml(rung.from_above.expect("a half")) * 2.0, ml(rung.make), 1e-6);
    }
}

#[test]
fn uncertainty_grows_down_the_ladder() {
    let known = halve(&powder(SALT), 20.0, "10mL", 5, Some("0.01g"));
    let relative: Vec<f64> = known.rungs.iter().map(|rung| rung.relative.expect("a balance")).collect();
    assert!(relative.is_sorted_by(|above, below| above < below), "{relative:?}");
    // Without a balance nothing is said of any rung.
    let unknown = halve(&powder(SALT), 20.0, "10mL", 5, None);
    assert!(unknown.rungs.iter().all(|rung| rung.relative.is_none()));
    // A coarser balance is felt on every rung.
    let coarse = halve(&powder(SALT), 20.0, "10mL", 5, Some("0.1g"));
    for (coarse, fine) in coarse.rungs.iter().zip(&known.rungs) {
        assert!(coarse.relative > fine.relative);
    }
}

#[test]
fn a_halving_agrees_with_a_monte_carlo() {
    // 10 mL kept of two rungs: 5 mL and 5 mL, each read in a 5 mL cylinder, ±0.10 mL.
    let ladder = halve(&powder(SALT), 20.0, "10mL", 2, Some("0.01g"));
    let (first, second) = (ladder.rungs[0].relative.expect("u"), ladder.rungs[1].relative.expect("u"));
    let mut random = Pcg::seeded(2);
    let strengths: Vec<f64> = (0..100_000)
        .map(|_| {
            let (solution, water) = (random.rectangular(5.0, 0.10), random.rectangular(5.0, 0.10));
            solution / (solution + water)
        })
        .collect();
    let (mean, deviation) = mean_and_deviation(&strengths);
    let own = libm::sqrt(second * second - first * first);
    near(own / (deviation / mean), 1.0, 0.015);
}

#[test]
fn one_rung_is_a_bottle_and_no_ladder() {
    let ladder = halve(&powder("K2PtCl4"), 20.0, "50mL", 1, Some("0.1g"));
    let [only] = ladder.rungs.as_slice() else { panic!("{ladder:?}") };
    near(ml(only.make), 50.0, 0.0);
    near(only.molarity.in_unit(), 0.481834, 6e-7);
    near(g(ladder.powder), 10.0, 0.0);
}

proptest! {
    #[test]
    fn any_ladder_holds_its_metal(top in 0.01..60.0_f64, keep in 1.0..500.0_f64, rungs in 1..9_u32) {
        let top = PercentByVolume::grams_per_100_ml(top).expect("a percentage");
        let keep = Volume::millilitres(keep).expect("a volume");
        let weakest = top.in_unit() / f64::from(1 << (rungs - 1));
        let Ok(ladder) = Ladder::halve(&powder(SALT), top, keep, rungs, None) else {
            // Refused only where a rung is too weak to be one.
            prop_assert!(weakest < PercentByVolume::LEAST, "{weakest} %");
            return Ok(());
        };
        prop_assert!(ladder.rungs.len() == rungs as usize);
        let grams = |percent: PercentByVolume, ml: f64| percent.to_grams_per_100_ml() * ml / 100.0;
        // What is left of every rung is all the powder there was.
        let mut left = 0.0;
        for (place, rung) in ladder.rungs.iter().enumerate() {
            let drawn = ladder.rungs.get(place + 1).and_then(|below| below.from_above).map_or(0.0, ml);
            prop_assert!(ml(rung.make) - drawn >= ml(keep) - 1e-5);
            left += grams(rung.percent, ml(rung.make) - drawn);
        }
        prop_assert!((left - g(ladder.powder)).abs() < 1e-4, "{left} of {}", g(ladder.powder));
    }
}

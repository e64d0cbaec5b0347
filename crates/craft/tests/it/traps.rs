//! Traps a maker can fall into silently, each once met.

use handcoat_craft::measure::{MassFraction, PercentByVolume, Volume, read_price_per_mass};
use handcoat_craft::stock::{
    Formula, FormulaError, Goal, Hydrate, MetalSalt, Plan, Powder, Purity, PurityOf, Request, Strength, WaterIs, Way,
    molar_mass,
};
use proptest::{prop_assert, proptest};

use crate::bench::{Change, formula, into, powder, powder_of, q, request, usual, warns};
use crate::weighing::weighed;

#[test]
fn a_large_batch_is_planned_on_a_fine_scale_too() {
    let plan = usual(powder("PdCl2"), "1L").on_balance("0.01g").plan();
    assert!(plan.batch.chloride_to_metal.best.to_ratio() >= 2.0);
}

#[test]
fn a_purity_that_is_the_metal_content_is_asked_about() {
    assert!(warns(&usual(powder_of("PdCl2", 60.0), "60mL").plan(), "purity_may_be_assay"));
    assert!(warns(&usual(powder_of("PdCl2", 49.9), "60mL").plan(), "purity_may_be_assay"));
    assert!(!warns(&usual(powder_of("PdCl2", 99.0), "60mL").plan(), "purity_may_be_assay"));
}

#[test]
fn a_metal_assay_says_the_metal_whatever_the_water() {
    let fraction = MassFraction::ratio(0.598).expect("a purity");
    let salt = MetalSalt::recognise(formula("PdCl2")).expect("a salt");
    let powder =
        Powder::new(salt, Hydrate::AsWritten, Purity::Stated { fraction, of: PurityOf::Metal }).expect("a powder");
    assert!(!warns(&usual(powder, "60mL").plan(), "hydration_unstated"));
}

#[test]
fn a_tiny_batch_says_what_stays_in_the_beaker() {
    assert!(warns(&usual(powder("PdCl2"), "2mL").plan(), "stays_in_beaker"));
    assert!(!warns(&usual(powder("PdCl2"), "40mL").plan(), "stays_in_beaker"));
}

#[test]
fn a_coarse_scale_says_that_it_misses_the_strength() {
    assert!(warns(&usual(powder("PdCl2"), "60mL").on_balance("1g").plan(), "aim_missed"));
    assert!(!warns(&usual(powder("PdCl2"), "60mL").on_balance("0.01g").plan(), "aim_missed"));
}

#[test]
fn chloride_short_after_mixing_has_its_cure() {
    let plan = into(powder("PdCl2"), "5.5g", "60mL").on_balance("0.01g").plan();
    let now = weighed(&plan, None, Some("3.2g"), true);
    assert!(matches!(now.chloride_ways[0].way, Way::WeighMoreChloride(_)), "{:?}", now.chloride_ways);
    let over = weighed(&plan, None, Some("4.2g"), true);
    assert!(over.chloride_ways.iter().all(|way| !matches!(way.way, Way::PutBackChloride(_))));
}

#[test]
fn chloride_is_never_put_back_into_a_shortage() {
    let plan = into(powder("PdCl2"), "5.5g", "60mL").on_balance("0.01g").plan();
    let now = weighed(&plan, Some("6g"), Some("4.2g"), false);
    assert!(now.chloride_ways.iter().all(|way| !matches!(way.way, Way::PutBackChloride(_))));
}

#[test]
fn sparingly_soluble_hexachloroplatinates_make_no_stock() {
    for salt in ["(NH4)2PtCl6", "K2PtCl6", "Cs2PtCl6"] {
        assert!(MetalSalt::recognise(formula(salt)).is_err(), "{salt}");
    }
}

#[test]
fn a_price_with_three_decimals_is_a_thousand_misread() {
    let code = read_price_per_mass("1,200EUR/10g").map_err(|error| error.code());
    assert_eq!(code.err(), Some("number_grouped"));
}

#[test]
fn water_added_to_the_heaviest_formula_is_refused() {
    let heavy = formula("Pb482");
    assert!(molar_mass(&heavy).best.to_grams_per_mole() > 99_000.0);
    assert!(matches!(heavy.with_waters(24.0), Err(FormulaError::TooHeavy { .. })));
    assert!(heavy.with_waters(0.0).is_ok());
    // Water and electrons are weighed when a formula is read, too.
    assert!(matches!("Pb482·24H2O".parse::<Formula>(), Err(FormulaError::TooHeavy { .. })));
}

proptest! {
    #[test]
    fn a_bottle_holds_what_is_planned_for_it(
        bottle in 3.0_f64..900.0, percent in 1.0_f64..30.0, added: bool, salt in 0..4_usize,
    ) {
        let salt = ["PdCl2", "K2PtCl4", "Na2PtCl6·6H2O", "K2PdCl4"][salt];
        let bottle = Volume::millilitres(bottle).expect("a volume");
        let strength = Strength::ComplexPercent(PercentByVolume::grams_per_100_ml(percent).expect("a percentage"));
        let water_is = if added { WaterIs::Added } else { WaterIs::MadeUp };
        let answers = Request { bottle: Some(bottle), water_is, ..request(powder(salt), Goal::FillBottle(bottle, strength)) };
        let Ok(plan) = Plan::make(answers) else { return Ok(()) };
        prop_assert!(!warns(&plan, "bottle_too_small"), "{:?}", plan.warnings);
        let strengths = &plan.batch.strengths;
        prop_assert!((strengths.complex.best.to_grams_per_100_ml() / percent - 1.0).abs() < 2e-3);
        // And it is used: what stays empty is the dropper's room, the step, and the solids' uncertain room.
        prop_assert!(plan.batch.volume.best.to_millilitres() > bottle.to_millilitres() * 0.5);
    }
}

#[test]
fn a_chloride_that_is_not_used_is_said() {
    let named = |salt| Request { chloride_named: true, ..usual(powder(salt), "40mL") };
    assert!(warns(&named("K2PtCl4").plan(), "chloride_unused"));
    assert!(!warns(&named("PdCl2").plan(), "chloride_unused"));
    assert!(!warns(&usual(powder("K2PtCl4"), "40mL").plan(), "chloride_unused"));
    assert!(!warns(&named("K2PtCl4").with_chloride("KCl", "0.5g").plan(), "chloride_unused"));
}

#[test]
fn a_glass_is_bounded_and_needs_a_scale_to_matter() {
    let glass = |text: &str| Request { glass: Some(q(text)), ..usual(powder("PdCl2"), "40mL").on_balance("0.01g") };
    for text in ["0mL", "10.1mL", "500L"] {
        assert_eq!(Plan::make(glass(text)).expect_err(text).code(), "glass_out_of_bounds");
    }
    assert!(!warns(&glass("10mL").plan(), "glass_unused"));
    assert!(warns(&Request { balance: None, ..glass("0.5mL") }.plan(), "glass_unused"));
}

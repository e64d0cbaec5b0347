//! Weighings under ten steps of the scale: what is proposed instead reaches what was asked, with what is at hand.

use handcoat_craft::measure::Mass;
use handcoat_craft::stock::{Coarse, Dilution, Goal, Ladder, Plan, Strength, Warning};

use crate::bench::{Change, g, ml, near, powder, q, request};

fn coarse(plan: &Plan, place: usize) -> &Coarse {
    let all = plan.warnings.iter().filter_map(|own| match own {
        Warning::Coarse(own) => Some(own),
        _ => None,
    });
    all.clone().nth(place).expect("a coarse weighing")
}

fn made(volume: &str, percent: &str, step: &str) -> Plan {
    let goal = Goal::Make(q(volume), Strength::ComplexPercent(q(percent)));
    request(powder("PdCl2"), goal).on_balance(step).plan()
}

#[test]
fn a_stronger_solution_first_comes_to_the_strength_that_was_asked() {
    // 1 g per 100 mL of complex in 20 mL is 0.1205 g of PdCl2: rounded to 0.1 g it would be 17 % weaker.
    for (percent, asked) in [("1%", 1.0), ("2%", 2.0), ("3.3%", 3.3)] {
        let plan = made("20mL", percent, "0.1g");
        let own = coarse(&plan, 0);
        let Some(Dilution { weigh, with, make_up_to, take, up_to }) = &own.dilution else { panic!("{own:?}") };
        // By hand: moles of powder, through the part of it that is taken, into 20 mL; 177.326 and 294.211 g/mol (IUPAC 2021 weights).
        let moles = g(*weigh) / 177.32 * ml(*take) / ml(*make_up_to);
        near(moles * 294.2 / 20.0 * 100.0, asked, 2e-3 * asked);
        near(ml(*make_up_to), ml(*make_up_to).round(), 1e-9);
        near(ml(up_to.expect("the whole")), 20.0, 1e-9);
        // Powder without its chloride does not dissolve: two per metal, 58.44 g/mol.
        let chloride = with.as_ref().map_or(0.0, |own| g(own.1));
        assert!(chloride >= 2.0 * g(*weigh) / 177.32 * 58.44, "{chloride}");
        assert!(take <= make_up_to);
    }
}

#[test]
fn a_larger_volume_that_is_proposed_is_coarse_no_more() {
    for (volume, percent) in [("5mL", "15%"), ("20mL", "1%"), ("3mL", "9%"), ("11mL", "7.7%")] {
        let larger = coarse(&made(volume, percent, "0.1g"), 0).larger_volume.expect("a volume");
        let again = made(&format!("{}mL", ml(larger)), percent, "0.1g");
        assert!(again.batch.salt >= q("1g"), "{volume} of {percent}: {:?} in {larger:?}", again.batch.salt);
    }
}

#[test]
fn nothing_is_proposed_that_the_bottle_or_the_powder_does_not_allow() {
    let goal = Goal::Make(q("8mL"), Strength::ComplexPercent(q("15%")));
    let mut asked = request(powder("PdCl2"), goal).on_balance("0.1g");
    asked.bottle = Some(q("10mL"));
    assert_eq!(coarse(&asked.plan(), 0).larger_volume, None);
    let goal = Goal::Dissolve(q("0.5g"), Strength::ComplexPercent(q("15%")));
    let plan = request(powder("PdCl2"), goal).on_balance("0.1g").plan();
    assert_eq!(coarse(&plan, 0).larger_volume, None, "there is no more powder");
}

#[test]
fn powder_on_hand_is_never_rounded_up() {
    for (asked, planned) in [("4.86g", "4.8g"), ("4.9g", "4.9g"), ("0.19g", "0.1g")] {
        let goal = Goal::Dissolve(q(asked), Strength::ComplexPercent(q("15%")));
        let plan = request(powder("PdCl2"), goal).on_balance("0.1g").plan();
        assert_eq!(plan.batch.salt, q::<Mass>(planned));
        let said = plan.warnings.iter().any(|own| own.code() == "rounded_to_scale");
        assert_eq!(said, asked != planned, "{asked}");
    }
}

#[test]
fn a_vial_is_told_to_be_coarse_too_and_a_ladder_is_made_of_one() {
    let goal = Goal::Dissolve(q("0.5g"), Strength::SaltPer100Ml(q("20%")));
    let plan = request(powder("K2PtCl4"), goal).on_balance("0.1g").plan();
    let own = coarse(&plan, 0);
    assert!(own.larger_volume.is_none() && own.dilution.is_none(), "{own:?}");
    for (mass, rungs) in [("1g", 5), ("0.25g", 8), ("5.13g", 1), ("3g", 3)] {
        let ladder = Ladder::of(&powder("Na2PtCl6·6H2O"), q(mass), q("20%"), rungs, None).expect("a ladder");
        assert_eq!(ladder.rungs.len(), rungs as usize);
        assert_eq!(ladder.powder, q::<Mass>(mass));
        let first = &ladder.rungs[0];
        near(first.percent.to_grams_per_100_ml() * ml(first.make) / 100.0, g(ladder.powder), 1e-6);
        for pair in ladder.rungs.windows(2) {
            let drawn = pair[1].from_above.expect("a half");
            assert!(drawn < pair[0].make, "{mass}: {drawn:?} of {:?}", pair[0].make);
            near(pair[1].percent.to_grams_per_100_ml() * 2.0, pair[0].percent.to_grams_per_100_ml(), 1e-9);
        }
    }
}

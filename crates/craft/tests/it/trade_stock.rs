//! Facts of the trade about mixing palladium stock: common practice, no source; the arithmetic from molar
//! masses.

use handcoat_craft::measure::{Mass, percent};
use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::{Cause, Goal, WaterIs, Way};

use crate::bench::{Change, g, into, ml, near, powder, powder_of, q, request, warns};
use crate::weighing::weighed;

#[test]
fn a_little_over_two_grams_made_up_to_25_ml() {
    let plan = into(powder("PdCl2"), "2.3g", "25mL").with_chloride("NaCl", "2g").plan();
    let batch = &plan.batch;
    near(batch.amount.to_moles() * 1000.0, 12.97, 0.005);
    near(batch.strengths.molarity.best.to_moles_per_litre(), 0.5188, 0.00005);
    near(batch.strengths.metal.best.to_milligrams_per_millilitre(), 55.21, 0.005);
    near(batch.strengths.complex.best.to_grams_per_100_ml(), 15.26, 0.01);
    near(g(batch.chloride_needed), 1.516, 0.0005);
    near(batch.chloride_excess().expect("an excess"), 0.32, 0.005);
    assert_eq!(plan.complex.to_string(), "Na2PdCl4");
}

#[test]
fn at_99_percent_all_of_it_is_a_hundredth_less() {
    let plan = into(powder_of("PdCl2", 99.0), "2.3g", "25mL").with_chloride("NaCl", "2g").plan();
    let strengths = &plan.batch.strengths;
    near(strengths.molarity.best.to_moles_per_litre(), 0.5136, 0.00005);
    near(strengths.metal.best.to_milligrams_per_millilitre(), 54.66, 0.005);
    near(strengths.complex.best.to_grams_per_100_ml(), 15.11, 0.005);
}

#[test]
fn added_water_ends_above_its_own_volume_and_weaker() {
    let made_up = into(powder("PdCl2"), "2.3g", "25mL").with_chloride("NaCl", "2g");
    let added = handcoat_craft::stock::Request { water_is: WaterIs::Added, ..made_up.clone() };
    let (made_up, added) = (made_up.plan(), added.plan());
    let volume = added.batch.volume;
    // "About 26.1-26.5 mL": the limits themselves are the estimate's.
    let half_width = volume.standard() * 1.732_050_8;
    assert!(ml(volume.best) > 26.1 && ml(volume.best) < 26.5, "{}", ml(volume.best));
    assert!(half_width > 0.1 && half_width < 0.6, "{half_width}");
    let weaker = 1.0
        - added.batch.strengths.molarity.best.to_moles_per_litre()
            / made_up.batch.strengths.molarity.best.to_moles_per_litre();
    assert!((0.04..0.06).contains(&weaker), "{weaker}");
}

#[test]
fn making_up_dissolves_in_less_rinses_twice_and_goes_to_the_mark() {
    let plan = into(powder("PdCl2"), "2.3g", "25mL").with_chloride("NaCl", "2g").plan();
    let water = plan.water;
    assert_eq!(water.rinses, 2);
    let solids_most = 2.3 / 4.0 + 2.0 / 2.17;
    let before_the_mark = ml(water.dissolve) + 2.0 * ml(water.rinse) + solids_most;
    assert!(before_the_mark < 25.0, "{before_the_mark} mL before the mark");
    assert!(ml(water.dissolve) < 20.5);
    // Two small rinses leave (r/(r+v))^2 of what clung.
    let once = 0.5 / (0.5 + ml(water.rinse));
    let left = once * once;
    near(water.recovery.left_by_rinses, left, 1e-12);
    assert!(water.recovery.recovered() > 0.998);
}

#[test]
fn the_default_chloride_is_the_smallest_step_that_is_surely_enough() {
    let plan = into(powder("PdCl2"), "2.3g", "25mL").on_balance("0.1g").plan();
    near(g(plan.batch.chloride), 1.7, 1e-9);
    // One step less would not be sure: its ratio less 2u is under two.
    let less = into(powder("PdCl2"), "2.3g", "25mL").on_balance("0.1g").with_chloride("NaCl", "1.6g").plan();
    let ratio = less.batch.chloride_to_metal;
    assert!(ratio.best.to_ratio() > 2.0 && ratio.best.to_ratio() - 2.0 * ratio.standard() < 2.0);
}

#[test]
fn without_a_scale_nothing_is_rounded_and_the_chloride_is_the_bare_need() {
    let plan = into(powder("PdCl2"), "2.3456g", "25mL").plan();
    assert_eq!(plan.batch.salt, q::<Mass>("2.3456g"));
    assert_eq!(plan.batch.chloride, plan.batch.chloride_needed);
    assert_eq!(plan.batch.strengths.relative, None);
}

#[test]
fn a_tenth_gram_scale_knows_it_to_three_and_a_half_percent() {
    let plan = into(powder("PdCl2"), "2.3g", "25mL").on_balance("0.1g").plan();
    let balance = plan.request.balance.expect("a balance");
    let weighing = balance.weighing(q("2.3g"));
    near(weighing.expanded(), 0.08, 0.005);
    assert_eq!(percent(weighing.expanded() / 2.3), "3.5 %");
    let (cause, part) = plan.batch.dominant().expect("something dominates");
    assert_eq!(cause, Cause::SaltWeighing);
    assert!(part > 0.5);
}

#[test]
fn two_and_a_half_instead_of_two_point_three_is_stronger_and_dilutes() {
    let plan = into(powder("PdCl2"), "2.3g", "25mL").with_chloride("NaCl", "2g").on_balance("0.1g").plan();
    let now = weighed(&plan, Some("2.5g"), None, true);
    near(now.stronger, 0.087, 0.0005);
    let Way::Dilute { water, .. } = now.ways[0].way else { panic!("{:?}", now.ways) };
    near(ml(water), 2.17, 0.005);
    assert!(matches!(now.ways[1].way, Way::KeepAndRelabel));
}

#[test]
fn overshoot_has_three_ways_out() {
    let plan =
        into(powder("PdCl2"), "2.3g", "25mL").with_chloride("NaCl", "2g").on_balance("0.1g").in_bottle("30mL").plan();
    let now = weighed(&plan, Some("2.6g"), None, false);
    let [put_back, make_up, keep] = now.ways.as_slice() else { panic!("{:?}", now.ways) };
    let Way::PutBack(back) = put_back.way else { panic!("{put_back:?}") };
    near(g(back), 0.3, 1e-9);
    near(ml(now.make_up_to), 28.26, 0.005);
    near(g(now.batch.chloride_needed), 1.714, 0.0005);
    let Way::MakeUpTo { volume, chloride_to_add, chloride_must_add, bottle_holds } = make_up.way else {
        panic!("{make_up:?}")
    };
    assert_eq!(volume, now.make_up_to);
    assert_eq!(chloride_must_add, Mass::ZERO);
    near(g(chloride_to_add), 0.261, 0.0005);
    assert_eq!(bottle_holds, Some(true));
    assert!(matches!(keep.way, Way::KeepAndRelabel));
    // The way that makes more keeps the strength; the one that keeps the volume does not.
    let planned = plan.batch.strengths.molarity.best.to_moles_per_litre();
    near(make_up.batch.strengths.molarity.best.to_moles_per_litre() / planned, 1.0, 1e-6);
    near(keep.batch.strengths.molarity.best.to_moles_per_litre() / planned, 2.6 / 2.3, 1e-6);
}

#[test]
fn it_rests_a_day() {
    near(READY_AFTER.value, 24.0, 0.0);
}

#[test]
fn a_usual_bottle_of_nine_and_six_is_fifteen_percent() {
    // 9.0 g PdCl2 + 6.0 g NaCl to 100 mL: trade arithmetic, at the recipe's rounding.
    let plan = into(powder("PdCl2"), "9g", "100mL").with_chloride("NaCl", "6g").plan();
    near(plan.batch.strengths.complex.best.to_grams_per_100_ml(), 15.0, 0.1);
    assert!(!warns(&plan, "chloride_short"));
}

#[test]
fn a_fiftieth_short_warns_and_a_two_hundredth_does_not() {
    let short = into(powder("PdCl2"), "9g", "100mL").with_chloride("NaCl", "5.8g").plan();
    assert!(warns(&short, "chloride_short"), "{:?}", short.warnings);
    near(-short.batch.chloride_excess().expect("a need"), 0.022, 0.0005);
    let hardly = into(powder("PdCl2"), "3g", "25mL").with_chloride("NH4Cl", "1.8g").plan();
    assert!(!warns(&hardly, "chloride_short"), "{:?}", hardly.warnings);
    near(-hardly.batch.chloride_excess().expect("a need"), 0.0055, 0.00005);
    let over = into(powder("PdCl2"), "2.3g", "25mL").with_chloride("NaCl", "2.4g").plan();
    assert!(warns(&over, "chloride_excess"), "{:?}", over.warnings);
}

#[test]
fn every_direction_meets_the_others() {
    let usual = crate::bench::usual(powder("PdCl2"), "60mL").plan();
    let strength = handcoat_craft::stock::usual_strength(&powder("PdCl2"));
    let back = request(powder("PdCl2"), Goal::Dissolve(usual.batch.salt, strength)).plan();
    near(ml(back.batch.volume.best), 60.0, 1e-4);
    let bottle = request(powder("PdCl2"), Goal::FillBottle(q("64mL"), strength)).plan();
    near(ml(bottle.batch.volume.best), 60.0, 1e-9);
    let spend = request(powder("PdCl2"), Goal::Spend(q("100EUR"), strength)).at_price("48EUR/g").plan();
    near(g(spend.batch.salt), 100.0 / 48.0, 1e-6);
    assert_eq!(spend.cost.expect("a cost").to_minor(), 10_000);
}

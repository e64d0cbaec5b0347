//! As weighed: undershoot, chloride, vials, and what every way must hold.

use handcoat_craft::measure::Mass;
use handcoat_craft::stock::{AsWeighed, Balance, Off, Plan, Request, Way, Weighed};
use proptest::prelude::{Just, prop_oneof};
use proptest::{prop_assert, proptest};

use crate::bench::{Change, g, into, ml, near, powder, q, warns};

/// What was weighed, after a plan.
pub(crate) fn weighed(plan: &Plan, salt: Option<&str>, chloride: Option<&str>, mixed: bool) -> AsWeighed {
    let weighed = Weighed { salt: salt.map(q::<Mass>), chloride: chloride.map(q::<Mass>), mixed };
    AsWeighed::after(plan, weighed).expect("a comparison")
}

fn plan() -> Plan {
    into(powder("PdCl2"), "4g", "44mL").with_chloride("NaCl", "3g").on_balance("0.1g").at_price("50EUR/g").plan()
}

#[test]
fn undershoot_weighs_more_makes_less_or_relabels() {
    let now = weighed(&plan(), Some("3.6g"), None, false);
    assert_eq!(now.salt, Off::Under(q("0.4g")));
    assert!(matches!(now.ways[0].way, Way::WeighMore(mass) if mass == q("0.4g")));
    let Way::MakeUpTo { volume, chloride_to_add, .. } = now.ways[1].way else { panic!("{:?}", now.ways) };
    near(ml(volume), 39.6, 1e-6);
    assert_eq!(chloride_to_add, Mass::ZERO);
    assert!(matches!(now.ways[2].way, Way::KeepAndRelabel));
    assert_eq!(now.ways[1].extra_cost.expect("a cost").to_minor(), 0);
}

#[test]
fn as_planned_needs_no_way() {
    let now = weighed(&plan(), Some("4g"), Some("3g"), false);
    assert_eq!((now.salt, now.chloride), (Off::AsPlanned, Off::AsPlanned));
    assert!(now.ways.is_empty() && now.chloride_ways.is_empty());
}

#[test]
fn each_way_has_its_cost() {
    let now = weighed(&plan(), Some("4.4g"), None, false);
    let extra: Vec<i64> = now.ways.iter().map(|way| way.extra_cost.expect("a cost").to_minor()).collect();
    assert_eq!(extra, [0, 2000, 2000]);
    assert_eq!(now.cost.expect("a cost").to_minor(), 22_000);
}

#[test]
fn chloride_overshoot_has_its_own_ways() {
    let now = weighed(&plan(), None, Some("3.4g"), false);
    assert_eq!(now.chloride, Off::Over(q("0.4g")));
    assert!(matches!(now.chloride_ways[0].way, Way::PutBackChloride(mass) if mass == q("0.4g")));
    let Way::FollowChloride { salt, volume, .. } = now.chloride_ways[1].way else { panic!("{now:?}") };
    // 4.533 g as the scale shows it, and the volume that follows what is weighed.
    near(g(salt), 4.5, 1e-9);
    near(ml(volume), 44.0 * 4.5 / 4.0, 1e-6);
    assert!(matches!(now.chloride_ways[2].way, Way::KeepChloride));
    near(now.chloride_ways[2].batch.chloride_to_metal.best.to_ratio(), 2.0 * 3.4 / (4.0 * 0.659_145), 1e-4);
}

#[test]
fn chloride_undershoot_says_when_it_is_short() {
    let now = weighed(&plan(), None, Some("2.5g"), false);
    assert!(matches!(now.chloride_ways[0].way, Way::WeighMoreChloride(_)));
    let keep = now.chloride_ways.last().expect("a way");
    assert_eq!(keep.warning.as_ref().expect("a warning").code(), "chloride_short");
}

#[test]
fn an_overshoot_can_leave_the_chloride_short() {
    let plan = into(powder("PdCl2"), "4g", "44mL").with_chloride("NaCl", "2.7g").plan();
    let now = weighed(&plan, Some("4.4g"), None, false);
    let keep = now.ways.last().expect("a way");
    assert_eq!(keep.warning.as_ref().expect("a warning").code(), "chloride_short");
    let Way::MakeUpTo { chloride_must_add, chloride_to_add, .. } = now.ways[1].way else { panic!("{now:?}") };
    near(g(chloride_must_add), 4.4 * 0.659_145 - 2.7, 1e-5);
    assert!(chloride_to_add > chloride_must_add);
}

#[test]
fn a_vial_is_never_put_back_or_weighed_out() {
    for salt in ["K2PtCl4", "(NH4)2PtCl4", "Na2PtCl6·6H2O"] {
        let plan = into(powder(salt), "5g", "25mL").on_balance("0.01g").plan();
        assert!(warns(&plan, "sealed_vial"), "{salt}");
        for (content, volume) in [("5.2g", 26.0), ("4.9g", 24.5)] {
            let now = weighed(&plan, Some(content), None, false);
            let [only] = now.ways.as_slice() else { panic!("{salt}: {:?}", now.ways) };
            let Way::MakeUpTo { volume: to, .. } = only.way else { panic!("{salt}: {only:?}") };
            near(ml(to), volume, 1e-6);
        }
    }
}

#[test]
fn a_bottle_that_does_not_hold_it_is_said() {
    let plan = into(powder("PdCl2"), "4g", "44mL").with_chloride("NaCl", "3g").in_bottle("50mL").plan();
    assert!(!warns(&plan, "bottle_too_small"));
    let now = weighed(&plan, Some("4.6g"), None, false);
    let Way::MakeUpTo { bottle_holds, .. } = now.ways[1].way else { panic!("{now:?}") };
    assert_eq!(bottle_holds, Some(false));
}

proptest! {
    #[test]
    fn what_is_needed_at_least_is_never_rounded_down(
        over in 1_i64..3_000_000, chloride in 0_i64..2_600_000, step in prop_oneof![1_i64..200_000, Just(1000), Just(10_000)],
    ) {
        let mass = |count| Mass::micrograms(count).expect("a mass");
        let balance = Balance::with_step(mass(step));
        let plan = Request { balance, ..into(powder("PdCl2"), "4g", "44mL") }.plan();
        let salt = mass(plan.batch.salt.to_micrograms() + over);
        let weighed = Weighed { salt: Some(salt), chloride: Some(mass(chloride)), mixed: false };
        let now = AsWeighed::after(&plan, weighed).expect("a comparison");
        let reached = |must: Mass, missing: Mass| {
            let (must, missing) = (must.to_micrograms(), missing.to_micrograms());
            must % step == 0 && must >= missing && must < missing + step
        };
        for out in &now.ways {
            let cure = out.cure.unwrap_or_default();
            prop_assert!(out.cure.is_none() || reached(cure, out.batch.chloride_missing()), "{:?}", out);
            if let Way::MakeUpTo { chloride_must_add, .. } = out.way {
                prop_assert!(reached(chloride_must_add, now.batch.chloride_missing()), "{:?}", out);
            }
        }
    }
}

#[test]
fn a_volume_is_no_finer_than_its_glass() {
    let plan = into(powder("PdCl2"), "4g", "44mL").on_balance("0.01g").plan();
    // Class B: 0.1 and 0.2 mL up to 10 mL, 0.34 and 0.5 mL up to 50, 1 mL and more above.
    for (volume, decimals) in [("4mL", 1), ("9mL", 1), ("24mL", 1), ("44mL", 1), ("60mL", 0), ("240mL", 0), ("2L", 0)] {
        assert_eq!(plan.glass_decimals(q(volume)), decimals, "{volume}");
    }
    let flask = Request { glass: Some(q("0.05mL")), ..plan.request }.plan();
    assert_eq!(flask.glass_decimals(q("50mL")), 2);
}

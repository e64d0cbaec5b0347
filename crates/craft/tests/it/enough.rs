//! Chloride that is surely enough: found by halving, the same as trying one step of the scale after another.

use std::time::{Duration, Instant};

use handcoat_craft::measure::{Mass, Volume};
use handcoat_craft::source::{CHLORIDE_EXCESS, LEAST_CHLORIDE};
use handcoat_craft::stock::{Goal, Plan, Request, WaterIs};

use crate::bench::{Change, g, into, near, powder, powder_of, q, request, usual};

/// One step after another, each asked of a plan with just that chloride.
fn stepwise(salt: &str, mass: Mass, step: &str, with: &str) -> Mass {
    let step_mass: Mass = q(step);
    let big = Volume::millilitres(g(mass) * 40.0).expect("a volume");
    let ratio_at = |steps: i64| {
        let chloride = Mass::micrograms(steps * step_mass.to_micrograms()).expect("a mass");
        let answers = request(powder_of(salt, 99.0), Goal::Into(big, mass)).on_balance(step);
        let text = format!("{:.6}g", g(chloride));
        let plan = Plan::make(answers.with_chloride(with, &text)).expect("a plan");
        (plan.batch.chloride_to_metal, plan.batch.chloride_needed)
    };
    let (_, bare) = ratio_at(1);
    let mut steps = (bare.to_micrograms() / step_mass.to_micrograms()).max(1);
    loop {
        let (ratio, _) = ratio_at(steps);
        let best = ratio.best.to_ratio();
        let next_is_far_over = best * (steps + 1) as f64 / steps as f64 > CHLORIDE_EXCESS.value;
        if best - ratio.expanded() >= 2.0 || (best >= 2.0 && next_is_far_over) {
            return Mass::micrograms(steps * step_mass.to_micrograms()).expect("a mass");
        }
        steps += 1;
    }
}

#[test]
fn halving_finds_what_stepping_finds() {
    for salt in ["PdCl2", "PdCl2·2H2O"] {
        for with in ["NaCl", "KCl", "LiCl", "CsCl"] {
            for step in ["0.001g", "0.01g", "0.05g", "0.1g", "0.5g", "1g"] {
                for mass in ["0.1g", "0.3g", "0.5g", "1g", "2.3g", "5.4g", "9g", "31g", "120g"] {
                    let (mass, step_mass): (Mass, Mass) = (q(mass), q(step));
                    let Ok(mass) = mass.to_step(step_mass) else { continue };
                    if mass.is_zero() {
                        continue;
                    }
                    let big = Volume::millilitres(g(mass) * 40.0).expect("a volume");
                    let answers = request(powder_of(salt, 99.0), Goal::Into(big, mass)).on_balance(step);
                    let chloride = handcoat_craft::stock::AlkaliChloride::recognise(crate::bench::formula(with));
                    let plan = Request { chloride: chloride.expect("a chloride"), ..answers }.plan();
                    assert_eq!(plan.batch.chloride, stepwise(salt, mass, step, with), "{salt} {with} {mass:?} {step}");
                }
            }
        }
    }
}

#[test]
fn a_microgram_scale_and_a_barrel_do_not_take_for_ever() {
    let begun = Instant::now();
    let plan = usual(powder("PdCl2"), "500L").on_balance("0.000001g").plan();
    let ratio = plan.batch.chloride_to_metal;
    assert!(ratio.best.to_ratio() - ratio.expanded() >= LEAST_CHLORIDE.value);
    let added = Request { water_is: WaterIs::Added, ..usual(powder("PdCl2"), "500L").on_balance("0.000001g") }.plan();
    assert!(added.batch.chloride > plan.batch.chloride);
    // Generous: stepping took hours.
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}

#[test]
fn what_no_mass_can_hold_is_refused_and_not_sought_for_ever() {
    let answers = into(powder("PdCl2"), "99900g", "900L").on_balance("0.000001g");
    let caesium = handcoat_craft::stock::AlkaliChloride::recognise(crate::bench::formula("CsCl")).expect("a chloride");
    let refused = Plan::make(Request { chloride: caesium, ..answers }).expect_err("more than any mass");
    assert_eq!(refused.code(), "value_out_of_bounds");
}

#[test]
fn added_water_comes_to_the_strength_asked() {
    for volume in ["2mL", "25mL", "400mL"] {
        let answers = Request { water_is: WaterIs::Added, ..usual(powder("PdCl2"), volume) };
        let plan = answers.plan();
        near(plan.batch.strengths.complex.best.to_grams_per_100_ml(), 15.0, 1e-3);
    }
}

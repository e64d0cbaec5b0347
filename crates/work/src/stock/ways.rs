//! What was weighed and the ways on, in words: the same on the screen and on paper.

use handcoat_craft::measure::{Mass, Volume, fixed, percent, significant};
use handcoat_craft::stock::{AsWeighed, Balance, Plan, Warning, Way, WayOut};

use super::rows::{grams, millilitres};

/// A mass the scale can weigh: to its nearest step, to the milligram without one.
fn weighable(mass: Mass, balance: Option<Balance>) -> String {
    let rounded = balance.and_then(|balance| mass.to_step(balance.step()).ok());
    grams(rounded.unwrap_or(mass), balance)
}

/// A mass that must be reached: never rounded down.
pub(crate) fn at_least(mass: Mass, balance: Option<Balance>) -> String {
    let milligram = Mass::micrograms(1000).unwrap_or_default();
    let step = balance.map_or(milligram, Balance::step);
    grams(mass.up_to_step(step).unwrap_or(mass), balance)
}

/// A volume as finely as the glass can do.
pub(super) fn on_glass(plan: &Plan, volume: Volume) -> String {
    fixed(volume.to_millilitres(), plan.glass_decimals(volume))
}

/// What was weighed, what is taken as planned and what is still to be weighed, one thing a sentence.
#[must_use]
pub fn weighed_words(plan: &Plan, now: &AsWeighed) -> Vec<String> {
    let balance = plan.request.balance;
    let salt = plan.request.powder.salt();
    let (powder, chloride) = (salt.formula().subscripted(), plan.request.chloride.formula().subscripted());
    let planned = (grams(plan.batch.salt, balance), grams(plan.batch.chloride, balance));
    let place = if salt.is_chloroplatinate() { "In the vial" } else { "On the pan" };
    let mut words = Vec::new();
    match now.weighed.salt {
        Some(mass) => {
            words.push(format!("{place}: {} g of {powder}, planned {} g.", grams(mass, balance), planned.0));
        }
        None if now.weighed.mixed => words.push(format!("{powder} is taken as planned, {} g.", planned.0)),
        None if salt.is_chloroplatinate() => {
            words.push(format!("Still to be dissolved: one sealed vial of {powder}, {} g.", planned.0));
        }
        None => words.push(format!("Still to be weighed: {powder}, {} g planned.", planned.0)),
    }
    match now.weighed.chloride {
        Some(mass) => {
            words.push(format!("In the beaker: {} g of {chloride}, planned {} g.", grams(mass, balance), planned.1));
        }
        None if plan.batch.chloride.is_zero() => {}
        None => words.push(format!("{chloride} is taken as planned, {} g.", planned.1)),
    }
    words
}

/// How far the strength is off the plan: `8.8 % stronger`; none when it is not.
#[must_use]
pub fn strength_off(now: &AsWeighed) -> Option<String> {
    now.strength_off().map(|off| {
        let direction = if off > 0.0 { "stronger" } else { "weaker" };
        format!("{} {direction}", percent(off.abs()))
    })
}

/// A way on in words: a heading, and what to do.
#[must_use]
pub fn way_words(plan: &Plan, out: &WayOut) -> (&'static str, String) {
    let (heading, mut words) = way_itself(plan, out);
    if let Way::MakeUpTo { .. } | Way::FollowChloride { .. } = &out.way
        && let Some(less) = plan.water_to_leave_out(&out.batch)
    {
        words.push_str(&format!("; dissolve and rinse with {} mL less water than planned", millilitres(less)));
    }
    if let Some(cure) = out.cure {
        let formula = plan.request.chloride.formula().subscripted();
        let must = at_least(cure, plan.request.balance);
        words.push_str(&format!("; then add at least {must} g of {formula} and stir"));
    }
    (heading, words)
}

/// What to mind on a way: of a shortage, what happens without its cure.
#[must_use]
pub fn way_care(out: &WayOut) -> Option<String> {
    out.warning.as_ref().map(|warning| match warning {
        Warning::ChlorideShort(ratio) => format!(
            "without that, {} added chloride per metal, and powder may stay undissolved",
            significant(ratio.to_ratio(), 4)
        ),
        other => other.to_string(),
    })
}

fn way_itself(plan: &Plan, out: &WayOut) -> (&'static str, String) {
    let balance = plan.request.balance;
    let bottle = |holds: Option<bool>| match (holds, plan.request.bottle) {
        (Some(true), Some(bottle)) => format!("; the {} mL bottle holds it", millilitres(bottle)),
        (Some(false), Some(bottle)) => format!("; too much for the {} mL bottle", millilitres(bottle)),
        _ => String::new(),
    };
    let salt = plan.request.powder.salt().formula().subscripted();
    let chloride = plan.request.chloride.formula().subscripted();
    match &out.way {
        Way::PutBack(mass) => (
            "Put some back",
            format!(
                "return {} g of {salt} to the jar from the clean paper, if it has touched nothing else",
                grams(*mass, balance)
            ),
        ),
        Way::WeighMore(mass) => ("Weigh more", format!("add {} g of {salt}", grams(*mass, balance))),
        Way::MakeUpTo { volume, chloride_to_add, chloride_must_add, bottle_holds } => {
            let heading = if *volume > plan.batch.volume.best { "Make more" } else { "Make less" };
            let ratio = weighable(*chloride_to_add, balance);
            let must = if plan.request.powder.salt().chlorides_needed() == 0.0 {
                String::new()
            } else if !chloride_must_add.is_zero() {
                let must = at_least(*chloride_must_add, balance);
                format!("; add at least {must} g of {chloride}, {ratio} g keeps the ratio")
            } else if !chloride_to_add.is_zero() {
                format!("; no {chloride} need be added, {ratio} g keeps the ratio")
            } else {
                format!("; no {chloride} need be added")
            };
            (heading, format!("make up to {} mL{must}{}", on_glass(plan, *volume), bottle(*bottle_holds)))
        }
        Way::KeepAndRelabel => {
            let percent = significant(out.batch.strengths.complex.best.to_grams_per_100_ml(), 3);
            let complex = plan.complex.subscripted();
            ("Keep it and relabel", format!("the label will say {percent} % as {complex}"))
        }
        Way::Dilute { water, volume, bottle_holds } => (
            "Dilute to the label",
            // What it comes to is not measured: it is told as finely as the water, so that the sum is one.
            format!(
                "add {} mL of distilled water, {} mL in all{}",
                on_glass(plan, *water),
                fixed(volume.to_millilitres(), plan.glass_decimals(*water)),
                bottle(*bottle_holds)
            ),
        ),
        Way::PutBackChloride(mass) => (
            "Put some chloride back",
            format!("return {} g of {chloride} from the clean paper, while it is dry", weighable(*mass, balance)),
        ),
        Way::WeighMoreChloride(mass) => {
            ("Weigh more chloride", format!("add {} g of {chloride}", weighable(*mass, balance)))
        }
        Way::FollowChloride { salt: mass, volume, bottle_holds } => (
            "Follow the chloride",
            format!(
                "weigh {} g of {salt} in all and make up to {} mL{}",
                weighable(*mass, balance),
                on_glass(plan, *volume),
                bottle(*bottle_holds)
            ),
        ),
        Way::KeepChloride => {
            let ratio = significant(out.batch.chloride_to_metal.best.to_ratio(), 3);
            ("Keep the chloride", format!("{ratio} added chloride per metal"))
        }
    }
}

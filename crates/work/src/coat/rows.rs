//! A coat plan in words and numbers, the same on the screen and on paper.

use handcoat_craft::coat::{Cause, Coat, LessPoured, Plan, Pour, Role};
use handcoat_craft::measure::{Uncertain, digits, fixed, percent, significant, with_uncertainty};
use handcoat_craft::paper::{Margin, UptakeRule};
use handcoat_craft::source::IRON_PER_METAL;

use crate::stock::{Row, RowKind};

fn row(label: impl Into<String>, value: impl Into<String>, unit: &str) -> Row {
    Row { kind: RowKind::Result, label: label.into(), value: value.into(), unit: unit.into(), cas: None }
}

/// What is dropped: the count, and what of. In dropping order; of an agent its rung is named.
#[must_use]
pub fn drop_lines(coat: &Coat) -> Vec<(u32, String)> {
    let named = |pour: &Pour| match pour.rung {
        Some(rung) => format!("{}, {} %", pour.name, significant(rung.to_grams_per_100_ml(), 4)),
        None => pour.name.clone(),
    };
    coat.pours.iter().map(|pour| (pour.drops.to_drops(), named(pour))).collect()
}

/// With its ± where there is one, to three digits where not.
fn estimate<Q: handcoat_craft::measure::Bounded>(quantity: &Uncertain<Q>) -> String {
    if quantity.standard() > 0.0 { with_uncertainty(quantity).to_string() } else { digits(quantity.best.in_unit(), 3) }
}

/// The figures of a plan, for one sheet.
#[must_use]
pub fn fact_rows(plan: &Plan) -> Vec<Row> {
    let mut rows = vec![
        row("coated area", fixed(plan.need.coated.to_square_centimetres(), 1), "cm²"),
        row("sensitizer needed", digits(plan.sensitizer_ml(), 3), "mL"),
    ];
    if let UptakeRule::Measured { share, .. } = plan.request.uptake {
        let share = fixed(share.best.of_whole() * 100.0, 0);
        rows.push(row(format!("to pour, {share} % of it reaching the paper"), digits(plan.to_pour_ml(), 3), "mL"));
    }
    rows.push(row("poured in whole drops", estimate(&plan.poured), "mL"));
    for own in &plan.metals {
        let mass = Uncertain::new(own.mass.best, own.mass.standard());
        let mg = Milligrams::of(&mass);
        rows.push(row(own.element.weight().name, mg, "mg"));
        if !own.of_agent.is_zero() && own.of_agent < own.mass.best {
            rows.push(row("  of it in the contrast agent", digits(own.of_agent.to_grams() * 1000.0, 3), "mg"));
        }
    }
    let ratio = plan.iron_to_metal;
    let said = if ratio.form_known {
        digits(ratio.least, 3)
    } else {
        format!("{} to {}", digits(ratio.least, 3), digits(ratio.most, 3))
    };
    rows.push(row(format!("iron to metal ({} needed)", IRON_PER_METAL.value), said, "mol/mol"));
    if let Some(dose) = plan.dose {
        let of = plan.request.contrast.as_ref().map_or(String::new(), |own| format!(" ({})", own.dose_of()));
        rows.push(row(
            format!("contrast agent in the sensitizer{of}"),
            digits(dose.to_milligrams_per_millilitre(), 3),
            "mg/mL",
        ));
    }
    if let Some(cost) = plan.cost.sum {
        let written = cost.to_string();
        let (number, currency) = written.split_once(' ').unwrap_or((&written, ""));
        rows.push(row("cost", number, currency));
    }
    rows
}

/// A mass in milligrams with its ±.
struct Milligrams;

impl Milligrams {
    fn of(mass: &Uncertain<handcoat_craft::measure::Mass>) -> String {
        // A concentration has the number of milligrams in it; the rule of rounding is the same for both.
        let mg = handcoat_craft::measure::MassConcentration::milligrams_per_millilitre(mass.best.to_grams() * 1000.0);
        match mg {
            Ok(best) => estimate(&Uncertain::new(best, mass.standard() * 1000.0)),
            Err(_) => digits(mass.best.to_grams() * 1000.0, 3),
        }
    }
}

/// Where the volume comes from, in a sentence.
#[must_use]
pub fn uptake_words(plan: &Plan) -> String {
    let need = &plan.need;
    let uptake = significant(need.uptake.to_millilitres_per_100_cm2(), 3);
    match plan.request.uptake {
        UptakeRule::Habit { tool, .. } => {
            let of = if need.of_nominal { "the nominal size, margin included" } else { "coated area" };
            let cite = need.cite.map_or(String::new(), |cite| format!(" ({cite})"));
            format!("{}: {uptake} mL to 100 cm² of {of}{cite}; weigh a coat once to know your own", tool.name())
        }
        UptakeRule::Stated(_) => format!("{uptake} mL to 100 cm² of coated area, as stated"),
        UptakeRule::Measured { .. } => format!("{uptake} mL to 100 cm² on the paper, as measured"),
    }
}

/// The margin in words.
#[must_use]
pub fn margin_words(plan: &Plan) -> String {
    let cm = significant(plan.request.sheet.border().to_millimetres() / 10.0, 3);
    match plan.request.sheet.margin {
        Margin::Customary => format!("the customary margin of {cm} cm on each side"),
        Margin::Real(_) => format!("a margin of {cm} cm on each side"),
    }
}

/// The ratio that whole drops come to, in each unit.
#[must_use]
pub fn ratio_words(plan: &Plan) -> Option<String> {
    let (shown, (second, _)) = (plan.ratio?, plan.request.second.as_ref()?);
    let said = |part: f64| format!("{}:{}", fixed(part * 100.0, 1), fixed((1.0 - part) * 100.0, 1));
    Some(format!(
        "{} to {}: {} by volume, {} by moles, {} by weight",
        plan.request.metal.element,
        second.element,
        said(shown.volume),
        said(shown.moles),
        said(shown.weight)
    ))
}

/// What whole drops cost against the need.
#[must_use]
pub fn rounding_words(plan: &Plan) -> String {
    let part = plan.rounding_part();
    let side = if part < 0.0 { "less" } else { "more" };
    let mut out = format!("whole drops pour {} {side} than the need", percent(part.abs()));
    if plan.ratio_error() > 0.0 && plan.request.second.is_some() {
        out = format!("{out} and miss a wanted part by up to {}", percent(plan.ratio_error()));
    }
    out
}

/// One habit of pouring less, in a sentence.
#[must_use]
pub fn less_words(less: &LessPoured) -> String {
    let of_sensitizer: Vec<String> = less
        .pours
        .iter()
        .filter(|pour| pour.role != Role::Agent)
        .map(|pour| pour.drops.to_drops().to_string())
        .collect();
    let mut drops = format!("{} drops", of_sensitizer.join(" + "));
    // The agent may come from another of its solutions than above: drops without a strength would be another dose.
    for pour in less.pours.iter().filter(|pour| pour.role == Role::Agent) {
        let count = pour.drops.to_drops();
        let word = if count == 1 { "drop" } else { "drops" };
        let rung = pour.rung.map_or(String::new(), |own| format!(", {} %", significant(own.to_grams_per_100_ml(), 4)));
        drops = format!("{drops} and {count} {word} of {}{rung}", pour.name);
    }
    let saved: Vec<String> = less
        .saved
        .iter()
        .filter(|(_, mass)| !mass.is_zero())
        .map(|(element, mass)| format!("{} mg {element}", significant(mass.to_grams() * 1000.0, 2)))
        .collect();
    let money = less.saved_money.map_or(String::new(), |sum| format!(", {sum}"));
    format!("{}: {drops}, saves {}{money}; {}", less.less.what, saved.join(" and "), less.less.risk)
}

/// A cause of uncertainty in words.
#[must_use]
pub fn cause_words(plan: &Plan, cause: Cause) -> String {
    match cause {
        Cause::Dropper(place) => {
            let pours = plan.coats.iter().flat_map(|coat| &coat.pours);
            let mut of: Vec<&str> = pours.filter(|pour| pour.dropper == place).map(|pour| pour.name.as_str()).collect();
            of.dedup();
            match of.as_slice() {
                [one] => format!("the drops of {one}"),
                _ => "the size of the drops".into(),
            }
        }
        Cause::Strength(role) => match role {
            Role::Metal => format!("the strength of {}", plan.request.metal.bottle.name),
            Role::SecondMetal => {
                let name = plan.request.second.as_ref().map(|(stock, _)| stock.bottle.name.as_str());
                format!("the strength of {}", name.unwrap_or("the second metal"))
            }
            Role::Agent | Role::Iron | Role::ChlorateIron => "the strength of the contrast agent".into(),
        },
    }
}

/// The bottles of the shelf that a plan drops from, each as `BOTTLE=23` with the drops of all coats of one sheet, or as
/// `BOTTLE=1.15mL`, and the solutions that are no bottles of it.
#[must_use]
pub fn pours_of(plan: &Plan, by_volume: bool) -> (Vec<String>, Vec<String>) {
    let (mut pours, mut others): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for own in &plan.for_all {
        let of = || plan.coats.iter().flat_map(|coat| &coat.pours).filter(|pour| pour.role == own.role);
        let drops: u32 = of().map(|pour| pour.drops.to_drops()).sum();
        let ml: f64 = of().map(|pour| pour.ml).sum();
        match own.holds {
            Some(_) if by_volume => pours.push(format!("{}={}mL", own.name, significant(ml, 5))),
            Some(_) => pours.push(format!("{}={drops}", own.name)),
            None => others.push(own.name.clone()),
        }
    }
    (pours, others)
}

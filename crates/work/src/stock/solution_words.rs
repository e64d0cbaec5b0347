//! A planned solution as rows and words, the same on the screen and on paper.

use handcoat_craft::measure::{Bounded, capitalised, fixed, significant};
use handcoat_craft::source::{Class, Keeping, Role};
use handcoat_craft::stock::solution::{ComesAs, Dissolved, Ingredient, SolutionPlan, Strong};
use handcoat_craft::stock::{Formula, Hydration, Purity, classes, form_word, keeping_of, named, prepared};

use super::rows::{Row, RowKind, estimate, glass_words, grams, millilitres, row_of, substance};

/// Moles per litre as they may be said: one number, or a range.
#[derive(Clone, Debug, PartialEq)]
pub enum Moles {
    /// The form is known.
    One(String),
    /// It is not: from, to.
    Range(String, String),
}

impl Moles {
    /// Of a planned solute.
    #[must_use]
    pub fn of(own: &Dissolved) -> Option<Self> {
        if let Some(molarity) = own.molarity() {
            return Some(Self::One(estimate(&molarity, own.relative.is_some())));
        }
        let (least, most) = own.molarity_range()?;
        Some(Self::Range(significant(least.in_unit(), 2), significant(most.in_unit(), 2)))
    }
}

/// The plain name of a solute: as the trade says it, as the table of compounds has it, or its formula.
#[must_use]
pub fn solute_name(formula: &Formula) -> String {
    let plain = prepared(formula).and_then(|row| row.names.first());
    plain.map_or_else(
        || named(formula).map_or_else(|| formula.to_string(), |own| own.name.into()),
        |name| name.replace("edta", "EDTA"),
    )
}

/// What it is called: what is in it, and how much.
#[must_use]
pub fn solution_title(plan: &SolutionPlan) -> String {
    let names: Vec<String> = plan.formulas().map(solute_name).collect();
    let names = match names.as_slice() {
        [others @ .., last] if !others.is_empty() => format!("{} and {last}", others.join(", ")),
        names => names.concat(),
    };
    format!("{}, {} mL", capitalised(&names), millilitres(plan.volume.best))
}

/// Formula and form of a solute, with what is not known of it.
#[must_use]
pub fn form_words(own: &Ingredient) -> String {
    let formula = own.comes.formula().subscripted();
    match &own.comes {
        ComesAs::Liquid { strong, .. } => format!("{formula}: strong liquid, {}", strong_words(*strong)),
        ComesAs::Powder(solid) => {
            let form = match solid.hydration() {
                Hydration::Stated => form_word(solid.formula().waters()).unwrap_or("water as in the formula").into(),
                Hydration::AsWritten => String::from("as in the formula"),
                Hydration::Unstated(row) => {
                    let forms: Vec<&str> = row.waters.iter().filter_map(|&waters| form_word(waters)).collect();
                    format!("form not stated ({})", forms.join(", "))
                }
                Hydration::Unknown => String::from("water not known"),
            };
            let purity = match solid.purity() {
                Purity::Unstated => String::from("purity not stated"),
                Purity::Stated { fraction, .. } => format!("{} %", significant(fraction.to_ratio() * 100.0, 5)),
            };
            format!("{formula}: {form}; {purity}")
        }
    }
}

/// How strong a liquid is, as it is said.
fn strong_words(strong: Strong) -> String {
    match strong {
        Strong::ByVolume(percent) => format!("{} g per 100 mL", significant(percent.in_unit(), 4)),
        Strong::ByMass(percent, density) => {
            format!("{} % by mass, {} g/mL", significant(percent.in_unit(), 4), significant(density.in_unit(), 4))
        }
        Strong::Molar(molarity) => format!("{} mol/L", significant(molarity.in_unit(), 4)),
    }
}

/// What to weigh and measure.
#[must_use]
pub fn solution_weigh_rows(plan: &SolutionPlan) -> Vec<Row> {
    let mut rows = Vec::new();
    for (own, planned) in plan.request.ingredients.iter().zip(&plan.dissolved) {
        let (label, cas) = substance(own.comes.formula());
        if let Some(mass) = planned.weigh {
            rows.push(Row { cas, ..row_of(RowKind::Powder, label, grams(mass, plan.request.balance), "g") });
        } else if let Some(volume) = planned.measure {
            let label = format!("strong {label}, {}", strong_of(own));
            rows.push(Row { cas, ..row_of(RowKind::Powder, label, fixed_ml(volume.to_millilitres()), "mL") });
        }
    }
    rows.push(row_of(RowKind::Dissolve, "distilled water, to dissolve in", millilitres(plan.water.dissolve), "mL"));
    match plan.water.rinses {
        0 => {}
        1 => rows.push(row_of(RowKind::Rinse, "distilled water, one rinse of", millilitres(plan.water.rinse), "mL")),
        more => {
            let label = format!("distilled water, {more} rinses, each of");
            rows.push(row_of(RowKind::Rinse, label, millilitres(plan.water.rinse), "mL"));
        }
    }
    match plan.water_added {
        None => rows.push(row_of(RowKind::Mark, "make up to the mark", millilitres(plan.volume.best), "mL")),
        Some(all) => {
            rows.push(row_of(RowKind::Added, "all the water together", millilitres(all), "mL"));
            rows.push(row_of(RowKind::Added, "comes to about (an estimate)", estimate(&plan.volume, true), "mL"));
        }
    }
    rows
}

fn strong_of(own: &Ingredient) -> String {
    match own.comes {
        ComesAs::Liquid { strong, .. } => strong_words(strong),
        ComesAs::Powder(_) => String::new(),
    }
}

/// A measured volume to what a small cylinder or syringe shows.
fn fixed_ml(ml: f64) -> String {
    if ml < 10.0 { fixed(ml, 2) } else { fixed(ml, 1) }
}

/// What it will be.
#[must_use]
pub fn solution_result_rows(plan: &SolutionPlan) -> Vec<Row> {
    let row = |label: String, value: String, unit: &str| row_of(RowKind::Result, label, value, unit);
    let mut rows = Vec::new();
    for (own, planned) in plan.request.ingredients.iter().zip(&plan.dissolved) {
        let formula = own.comes.formula().subscripted();
        let name = solute_name(own.comes.formula());
        rows.push(row(name, estimate(&planned.percent, planned.relative.is_some()), "g per 100 mL"));
        match Moles::of(planned) {
            Some(Moles::One(moles)) => rows.push(row(format!("as {formula}"), moles, "mol/L")),
            Some(Moles::Range(least, most)) if least == most => {
                rows.push(row(format!("if it is {formula}, which is not known"), most, "mol/L"));
            }
            Some(Moles::Range(least, most)) => {
                let label = format!("as {formula}, its form not stated");
                rows.push(row(label, format!("{least} to {most}"), "mol/L"));
            }
            None => {}
        }
        if let Some(measured) = planned.measure {
            let rest = plan.volume.best.to_millilitres() - measured.to_millilitres();
            let parts = significant(rest / measured.to_millilitres(), 3);
            rows.push(row("one part of the strong liquid to parts of water".into(), parts, ""));
        }
    }
    rows.push(row("density of the finished solution".into(), "not known".into(), ""));
    if let Some(cost) = plan.cost {
        let written = cost.to_string();
        let number = written.split(' ').next().unwrap_or(&written).to_owned();
        rows.push(row("cost of the first powder".into(), number, cost.currency().letters()));
    }
    rows
}

/// What the uncertainty was reckoned from, and what is in no ±.
#[must_use]
pub fn solution_known_by(plan: &SolutionPlan) -> Vec<String> {
    let Some(balance) = plan.request.balance else { return Vec::new() };
    let step = significant(balance.step().to_grams(), 4);
    let measured = plan.water_added.unwrap_or(plan.volume.best);
    let mut words = vec![
        format!("scale reading {step} g, tare and load each ± half a step"),
        glass_words(plan.request.glass, measured),
    ];
    words.extend(not_in_it(plan).map(|open| format!("not in the ±: {open}")));
    words
}

fn not_in_it(plan: &SolutionPlan) -> Option<String> {
    let open: Vec<String> = plan
        .request
        .ingredients
        .iter()
        .filter_map(|own| own.comes.solid())
        .flat_map(|solid| {
            let name = solute_name(solid.formula());
            solid.left_open().into_iter().map(move |open| format!("{} ({name})", open.words()))
        })
        .collect();
    (!open.is_empty()).then(|| open.join(", "))
}

/// How it is kept: the row of the table, where there is one.
#[must_use]
pub fn keeping_words(plan: &SolutionPlan) -> Option<&'static Keeping> {
    let solids: Vec<Formula> = plan.formulas().cloned().collect();
    keeping_of(&solids, plan.dissolved.first().map(|own| own.percent.best))
}

/// Which bottle it goes into.
#[must_use]
pub fn bottle_words(plan: &SolutionPlan) -> &'static str {
    let holds = |class: Class| plan.formulas().any(|own| classes(own).contains(&class));
    if holds(Class::Chlorate) && holds(Class::Iron) {
        "a small bottle of brown glass with a vented cap"
    } else if holds(Class::Peroxide) {
        "a bottle with a vented cap, in the dark"
    } else if holds(Class::Iron) || holds(Class::Gold) || plan.role() == Some(Role::Contrast) {
        "a bottle of brown glass, in the dark"
    } else {
        "a bottle that no one drinks from, with its label on"
    }
}

//! The steps of making a solution, in the order of the bench. A caution stands before what it is about.

use handcoat_craft::source::{Class, TESTS};
use handcoat_craft::stock::solution::{ComesAs, Dissolved, Ingredient, SolutionPlan};
use handcoat_craft::stock::{classes, prepared};
use handcoat_sheets::SheetStep;

use super::rows::{RowKind, grams, millilitres};
use super::solution_words::{bottle_words, keeping_words, solute_name, solution_weigh_rows};
use super::steps::{Filled as _, step, target};

fn holds(own: &Ingredient, class: Class) -> bool {
    classes(own.comes.formula()).contains(&class)
}

/// In which order solutes go in: an acid helps what follows, an oxidiser comes last and by itself.
fn turn(own: &Ingredient) -> u8 {
    if holds(own, Class::Chlorate) || holds(own, Class::Chromate) { 2 } else { u8::from(!holds(own, Class::Acid)) }
}

/// All of them.
#[must_use]
pub fn solution_steps(plan: &SolutionPlan) -> Vec<SheetStep> {
    let rows = solution_weigh_rows(plan);
    let iron = plan.request.ingredients.iter().any(|own| holds(own, Class::Iron));
    let mut solutes: Vec<(&Ingredient, &Dissolved)> = plan.request.ingredients.iter().zip(&plan.dissolved).collect();
    solutes.sort_by_key(|(own, _)| turn(own));
    let mut steps = vec![
        step("Glasses and gloves on; a sheet of glass under everything")
            .minding("The suppliers' sheets, local rules and licensed practice go before these steps."),
        step(format!("Label the bottle: {}; weigh it empty with its cap", bottle_words(plan))).writing(&["g"]),
        step(if iron {
            "Distilled water, hand-warm, into the beaker; dim light from here on"
        } else {
            "Distilled water into the beaker"
        })
        .to(target(&rows, RowKind::Dissolve)),
    ];
    let alone = solutes.len() == 1;
    let (mut warmed, mut said) = (false, Vec::new());
    for (own, planned) in solutes {
        let last = !alone && turn(own) == 2;
        if last && iron && !warmed {
            steps.push(slow());
            steps.push(step("Let it cool to room temperature").minding("From here on it is never warmed."));
            warmed = true;
        }
        steps.push(solute_step(plan, own, planned, last, &mut said));
    }
    if iron && !warmed {
        steps.push(slow());
    } else if !iron {
        steps.push(step("Stir until clear"));
    }
    steps.extend(to_the_mark(plan, &rows));
    steps.push(
        step("Pour into the bottle, cap, turn over ten times; weigh it full: that less empty, over the volume, is its density")
            .writing(&["g"]),
    );
    steps.extend(rest(plan, iron));
    steps
}

fn slow() -> SheetStep {
    step("Stir now and then in a hand-warm water bath; it dissolves slowly, usually overnight, covered and in the dark")
        .minding("Warm, never hot: heat and light make iron(II), and that fogs.")
}

/// Weighing or measuring a solute and bringing it into the water; `said` holds the cautions that stand above already.
fn solute_step(
    plan: &SolutionPlan,
    own: &Ingredient,
    planned: &Dissolved,
    last: bool,
    said: &mut Vec<&'static str>,
) -> SheetStep {
    let formula = own.comes.formula();
    let name = format!("{} ({})", solute_name(formula), formula.subscripted());
    let care = prepared(formula).map_or("Read its sheet before the jar is opened; no dust.", |row| row.care);
    let care = if said.contains(&care) {
        "The same caution as above."
    } else {
        said.push(care);
        care
    };
    match &own.comes {
        ComesAs::Liquid { .. } => {
            let amount = planned.measure.map(|volume| format!("{} mL", millilitres(volume)));
            step(format!("Measure the strong {name} and pour it into the water, slowly, stirring; close its bottle"))
                .to(amount)
                .minding(care)
        }
        ComesAs::Powder(_) => {
            let amount = planned.weigh.map(|mass| format!("{} g", grams(mass, plan.request.balance)));
            let then = if last {
                "close the jar, dissolve it by itself in a little water kept back, then pour that in"
            } else {
                "close the jar, strew it into the water, stirring"
            };
            step(format!("New paper, tare; weigh the {name}; {then}"))
                .to(amount)
                .writing(&["tare", "load"])
                .minding(care)
        }
    }
}

fn to_the_mark(plan: &SolutionPlan, rows: &[super::Row]) -> [SheetStep; 2] {
    let pour = match plan.water.rinses {
        0 => step("Pour into the cylinder"),
        _ => step("Pour into the cylinder; rinse the beaker into it, each time with").to(target(rows, RowKind::Rinse)),
    };
    let fill = match plan.water_added {
        None => step("Distilled water to the mark of the cylinder").to(target(rows, RowKind::Mark)),
        Some(_) => step("Read what it came to: that is the true volume").writing(&["mL"]),
    };
    [pour, fill]
}

/// Rest, keeping, and the tests of an iron solution.
fn rest(plan: &SolutionPlan, iron: bool) -> Vec<SheetStep> {
    let mut steps = Vec::new();
    let hours = plan.rest_h();
    if hours > 0.0 {
        let unit = if hours == 1.0 { "hour" } else { "hours" };
        steps.push(
            step(format!("Ready after {hours} {unit}: look whether it is clear, without sediment")).writing(&["day"]),
        );
    }
    if iron {
        let ferrous = TESTS.iter().find(|test| test.name == "ferrous");
        steps.extend(ferrous.map(|test| step(format!("Test it before it is used: {}", test.how)).writing(&["passed"])));
    }
    steps.extend(keeping_words(plan).map(|row| step(format!("It keeps: {}", row.advice)).writing(&["mixed on"])));
    steps
}

//! The steps of mixing a stock, in the order of the bench.

use handcoat_craft::source::READY_AFTER;
use handcoat_sheets::SheetStep;

use super::Planned;
use super::rows::Row;

fn step(what: impl Into<String>) -> SheetStep {
    SheetStep { what: what.into(), target: None, write: Vec::new(), care: None }
}

/// Fills in a step, one thing at a time.
trait Filled {
    fn to(self, target: Option<String>) -> Self;
    fn writing(self, blanks: &[&str]) -> Self;
    fn minding(self, care: &str) -> Self;
}

impl Filled for SheetStep {
    fn to(self, target: Option<String>) -> Self {
        Self { target, ..self }
    }

    fn writing(self, blanks: &[&str]) -> Self {
        Self { write: blanks.iter().map(|blank| String::from(*blank)).collect(), ..self }
    }

    fn minding(self, care: &str) -> Self {
        Self { care: Some(care.into()), ..self }
    }
}

/// The steps. A caution stands in its step, before what is done.
pub(super) fn steps(planned: &Planned, rows: &[Row]) -> Vec<SheetStep> {
    let plan = &planned.plan;
    // Once something was weighed, the ways stand above with boxes of their own; what is done is not printed again.
    let vial = plan.request.powder.salt().is_chloroplatinate();
    let now = planned.as_weighed.as_ref().filter(|now| !vial && now.ways.len() + now.chloride_ways.len() > 0);
    if let Some(now) = now {
        return after_a_choice(now.mixed);
    }
    let target = |word: &str| {
        let found = rows.iter().find(|row: &&Row| row.label.contains(word));
        found.map(|row| format!("{} {}", row.value, row.unit))
    };
    let salt = plan.request.powder.salt().formula().subscripted();
    let chloride = plan.request.chloride.formula().subscripted();
    let mut steps = vec![
        step("Glasses and gloves on; a sheet of glass under everything"),
        step("Label the bottle; weigh it empty with its dropper").writing(&["g"]),
    ];
    if !plan.batch.chloride.is_zero() {
        steps.push(
            step(format!("New paper, tare; weigh the {chloride}")).to(target(&chloride)).writing(&["tare", "load"]),
        );
        steps.push(step("Dissolve it in the water till clear").to(target("to dissolve in")));
    }
    if vial {
        let care = "Closed until water goes in: never weigh out, tap or scrape this salt dry. Its dust can make you \
                    allergic for life.";
        let water = if plan.batch.chloride.is_zero() { target("to dissolve in") } else { None };
        steps.push(step("Weigh the sealed vial").writing(&["g"]).minding(care));
        steps.push(step("Dissolve all of it in its vial; pour, and rinse the vial into the beaker").to(water));
        steps.push(step("Dry the empty vial with its cap and weigh it; the difference was in it").writing(&["g"]));
    } else {
        let care = "It is dense and pours suddenly. No dust: glasses and gloves stay on.";
        steps.push(
            step(format!("New paper, tare; weigh the {salt}"))
                .to(target(&salt))
                .writing(&["tare", "load"])
                .minding(care),
        );
        steps.push(step(format!("Close the jar; add the {salt} to the solution")));
    }
    steps.push(stir());
    let pour = match plan.water.rinses {
        0 => String::from("Pour into the cylinder"),
        1 => String::from("Pour into the cylinder; rinse the beaker into it once, with"),
        times => format!("Pour into the cylinder; rinse the beaker into it {times} times, each with"),
    };
    steps.push(step(pour).to(target("rinse")));
    steps.push(match plan.water_added {
        None => step("Distilled water to the mark of the cylinder").to(target("to the mark")),
        Some(_) => step("Read what it came to: that is the true volume").writing(&["mL"]),
    });
    steps.extend(finish());
    steps
}

fn stir() -> SheetStep {
    step("Stir until clear, without sediment; let it cool to room temperature")
        .minding("In a warm water bath, not on a naked plate.")
}

/// From the cylinder to the shelf.
fn finish() -> [SheetStep; 3] {
    let rest = format!("Look again after {} hours: clear, deep colour, no powder", READY_AFTER.value);
    [
        step("Pour into the bottle, cap, turn over ten times"),
        step("Weigh full, wipe wet").writing(&["g"]),
        step(rest).writing(&["day"]),
    ]
}

/// After an overshoot: choose, then go on with the numbers of that way.
fn after_a_choice(mixed: bool) -> Vec<SheetStep> {
    let mut steps = vec![step("Tick one way above; its numbers replace the plan's")];
    if !mixed {
        steps.push(step("Close the jar; add the powder to the solution"));
        steps.push(stir());
        steps.push(step("Pour into the cylinder, rinse, and fill to the mark of the way chosen").writing(&["mL"]));
    }
    steps.push(step("Write the strength of the way chosen on the label").writing(&["%"]));
    steps.extend(finish());
    steps
}

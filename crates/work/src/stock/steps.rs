//! The steps of mixing a stock, in the order of the bench.

use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::Plan;
use handcoat_sheets::SheetStep;

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
pub(super) fn steps(plan: &Plan, rows: &[Row]) -> Vec<SheetStep> {
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
    if plan.request.powder.salt().is_chloroplatinate() {
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
        steps.push(step("Close the jar; add the salt to the solution"));
    }
    steps.push(step("Stir until clear, without sediment").minding("In a warm water bath, not on a naked plate."));
    steps.push(step("Pour; rinse the beaker into it, each time with").to(target("rinse")));
    steps.push(match plan.water_added {
        None => step("Distilled water to the mark").to(target("to the mark")),
        Some(_) => step("Read what it came to: that is the true volume").writing(&["mL"]),
    });
    steps.push(step("Cap, weigh full, wipe wet").writing(&["g"]));
    let rest = format!("Look again after {} hours: clear, deep colour, no powder", READY_AFTER.value);
    steps.push(step(rest).writing(&["day"]));
    steps
}
